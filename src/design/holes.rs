//! The holes under an overlay or a legend: windows without ink, the cut, centre marks.

use super::Role;
use super::piece::{Drawn, Piece, bounds};
use crate::colour::Colour;
use crate::shape::{self, Outline};
use crate::spec::Paint;
use crate::spec::panel::{Hole, HoleMark, Panel};
use kurbo::{Point, Rect, Size, Vec2};

/// A centre mark's arms from tip to tip, mm, at most this share of the hole, and their width, mm
/// (common practice, no source).
const CROSS_MM: f64 = 3.0;
const CROSS_SHARE: f64 = 0.7;
const CROSS_LINE_MM: f64 = 0.25;

/// Takes the ink out of every window that a label lies over and marks middles where asked; returns what is
/// left of its trim.
///
/// `origin` is where the label's own origin lies, from the panel's middle, mm.
pub(super) fn apply(panel: &Panel, origin: Vec2, trim: &Outline, drawn: &mut Drawn) -> Outline {
    let mut cut = Outline::default();
    let mut windows = Outline::default();
    let mut crosses = Vec::new();
    let reach = bounds(&drawn.pieces).union(trim.bounds());
    for hole in &panel.holes {
        let middle = hole.at - origin;
        let wide = hole.clear_mm.max(hole.diameter_mm);
        if !Rect::from_center_size(middle, (wide, wide)).overlaps(reach) {
            continue;
        }
        windows = windows.union(&disc(middle, hole.clear_mm));
        match panel.mark {
            HoleMark::Cut => cut = cut.union(&disc(middle, hole.diameter_mm)),
            HoleMark::Centre => crosses.push(cross(hole, middle)),
            HoleMark::Nothing => {}
        }
    }
    drawn.pieces.push(Piece::plain(windows, Paint::Clear, Role::Fill, panel.place));
    drawn.pieces.extend(crosses);
    trim.minus(&cut)
}

fn disc(middle: Point, diameter_mm: f64) -> Outline {
    shape::ellipse(Rect::from_center_size(middle, Size::new(diameter_mm, diameter_mm)))
}

fn cross(hole: &Hole, middle: Point) -> Piece {
    let arms = CROSS_MM.min(hole.diameter_mm * CROSS_SHARE);
    let bar =
        |width, height| shape::rectangle(Rect::from_center_size(middle, Size::new(width, height)));
    let outline = bar(arms, CROSS_LINE_MM).union(&bar(CROSS_LINE_MM, arms));
    Piece::plain(outline, Paint::Ink(Colour::BLACK), Role::Line, hole.place)
}
