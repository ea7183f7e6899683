//! Places of an outline, or of the clear round it, that are thinner than a printer can make.
//!
//! **What is thin.** Think of the largest disc that fits into the ink and touches one point of its edge. Its
//! diameter is the width there. A place is thin where that disc is smaller than the limit and
//!
//! - its two touching points face each other: the sides there run within [`PARALLEL_DEG`] of parallel, over
//!   a length of at least half the limit (a *stroke*), or draw apart to both ends (a *neck*), or
//! - the piece it lies in has no room for a disc of the limit anywhere (a piece that *stands alone*: a dot,
//!   a small counter).
//!
//! A corner, a serif's tip and a notch are narrow too, but there the sides meet at an angle: the disc shrinks
//! to nothing and touches them at an angle, so they are not thin; nor are sides that close up to nothing more
//! bluntly than a stretch [`WEDGE_LENGTHS`] times the limit long. A printer rounds them off and nothing is lost.
//!
//! **How.** The discs at closely spaced points of the edge say what is thin and how wide it is, exactly. Gaps are
//! the same with ink and clear exchanged.

mod disc;
mod edge;
mod grid;
mod run;
#[cfg(test)]
mod tests;

use super::Outline;
use edge::{Edge, Side};
use kurbo::{Point, Rect, Vec2};

/// How far from parallel two sides may run and still be a stroke, degrees.
///
/// Larger would take sharp corners for strokes (a needle of 10 degrees is a corner); smaller would miss strokes
/// that swell.
const PARALLEL_DEG: f64 = 8.0;

/// How many limits long a stretch must be that closes up to nothing at one end, to be thin all the same.
///
/// Sides at [`PARALLEL_DEG`] take 1 / (2 tan 4°) = 7.15 limits from the limit to nothing.
const WEDGE_LENGTHS: f64 = 7.0;

/// A place thinner than asked.
#[derive(Clone, Debug, PartialEq)]
pub struct ThinPlace {
    /// The middle of its thinnest spot, in the outline's frame.
    pub at: Point,
    /// The two points of the edge that face each other there.
    pub sides: [Point; 2],
    /// How wide it is there, mm; within 0.01 mm.
    pub width_mm: f64,
    /// Whether the sides belong to different contours: two parts, not one that folds back on itself.
    pub between_parts: bool,
    /// How far it runs, mm.
    pub length_mm: f64,
    /// Bounds of the thin stretch.
    pub bounds: Rect,
}

impl ThinPlace {
    /// The same in a frame that lies elsewhere.
    #[must_use]
    pub fn moved(&self, by: Vec2) -> ThinPlace {
        ThinPlace {
            at: self.at + by,
            sides: self.sides.map(|side| side + by),
            bounds: self.bounds + by,
            ..*self
        }
    }
}

impl Outline {
    /// Where ink is thinner than `width_mm`, thinnest first.
    #[must_use]
    pub fn thin_places(&self, width_mm: f64) -> Vec<ThinPlace> {
        places(self, Side::Ink, width_mm)
    }

    /// Where the clear between and inside the contours is thinner than `width_mm`, thinnest first.
    #[must_use]
    pub fn thin_gaps(&self, width_mm: f64) -> Vec<ThinPlace> {
        places(self, Side::Clear, width_mm)
    }
}

fn places(outline: &Outline, side: Side, width_mm: f64) -> Vec<ThinPlace> {
    if outline.is_empty() || width_mm <= 0.0 {
        return Vec::new();
    }
    let edge = Edge::of(outline, side, width_mm);
    let samples = disc::sample_edge(&edge);
    let mut places = run::places(&edge, &samples);
    places.sort_by(|a, b| {
        let order = a.width_mm.total_cmp(&b.width_mm);
        order.then(a.at.x.total_cmp(&b.at.x)).then(a.at.y.total_cmp(&b.at.y))
    });
    places
}
