//! Film sheets: where each copy of each design lies, and the marks that help print and cut it.
//!
//! The sheet's frame starts at the paper's top left corner. [`Placement`] is the only bridge from a
//! design's frame to it.

mod lay;
mod marks;
mod rows;
#[cfg(test)]
mod testing;
mod tile;
mod too_large;
mod used;

pub(crate) use lay::lay;
pub(crate) use marks::{bar, one_line};
pub(crate) use used::{Used, used};

use crate::design::{Design, Mark, WhiteOrder, Words};
use crate::font::Faces;
use crate::spec::{Film, Paper, Spec};
use kurbo::{Affine, Point, Rect};

/// Whether a placed piece was asked for or is to spare.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CopyOrSpare {
    /// The n-th wanted copy, from 1.
    Copy(u32),
    /// The n-th spare, from 1.
    Spare(u32),
}

/// One copy of a design on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Which design: an index into the list the sheets were made from.
    pub design: usize,
    /// Copy or spare.
    pub piece: CopyOrSpare,
    /// Where the design's origin lies, mm from the paper's top left.
    pub at: Point,
    /// Turned clockwise by this many quarter turns (0 to 3).
    pub quarter_turns: u8,
    /// Flipped about the design's own vertical axis, before turning.
    pub mirrored: bool,
}

impl Placement {
    /// From the design's frame to the sheet's.
    #[must_use]
    pub fn transform(&self) -> Affine {
        // Exact sines and cosines: computed ones would tilt upright edges by 1e-17.
        let (cos, sin) = match self.quarter_turns % 4 {
            0 => (1.0, 0.0),
            1 => (0.0, 1.0),
            2 => (-1.0, 0.0),
            _ => (0.0, -1.0),
        };
        let flip = if self.mirrored { -1.0 } else { 1.0 };
        Affine::new([cos * flip, sin * flip, -sin, cos, self.at.x, self.at.y])
    }

    /// The trim's bounds on the sheet.
    #[must_use]
    pub fn footprint(&self, design: &Design) -> Rect {
        self.transform().transform_rect_bbox(design.size())
    }

    /// The same, moved as far as it takes from one point to another.
    fn moved(self, from: Point, to: Point) -> Placement {
        Placement { at: self.at + (to - from), ..self }
    }
}

/// How the pieces of a sheet come apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parting {
    /// Each on its own, or along straight cuts, as the job says.
    Apart,
    /// In rows whose neighbours share their cuts.
    Shared,
    /// They are cut already: stickers that peel off.
    PreCut,
}

/// One sheet of film.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// The film it is printed on.
    pub film: Film,
    /// The paper size.
    pub paper: Paper,
    /// Its number within its film, from 1.
    pub number: usize,
    /// How many sheets that film takes.
    pub of: usize,
    /// How its pieces come apart.
    pub parting: Parting,
    /// The labels on it, in reading order.
    pub placements: Vec<Placement>,
    /// Ticks, names, bars and words, in the sheet's frame; all on [`crate::design::Plate::Guide`].
    pub marks: Vec<Mark>,
    /// The words among `marks`, for searching.
    pub words: Vec<Words>,
    /// When white is printed on it, where any label has white under it.
    pub white: Option<WhiteOrder>,
    /// Whether the white is printed in a pass of its own.
    pub fed_twice: bool,
    /// Marks that bring its passes over each other, printed in each.
    pub registration: Vec<Mark>,
    /// Whether every label on it reads backwards (and so does the sheet's own word about it).
    pub reads_backwards: bool,
}

/// What sheets are made from.
#[derive(Debug)]
struct SheetContext<'a> {
    spec: &'a Spec,
    designs: &'a [Design],
    /// For each design how far its ink reaches past its trim, mm.
    past: Vec<f64>,
    faces: &'a Faces,
}

impl<'a> SheetContext<'a> {
    fn new(spec: &'a Spec, designs: &'a [Design], faces: &'a Faces) -> SheetContext<'a> {
        SheetContext { spec, designs, past: designs.iter().map(past_trim).collect(), faces }
    }

    /// Whether white and colours go through the printer one after the other.
    fn is_fed_twice(&self) -> bool {
        self.spec.printer.white_passes != Some(1)
    }

    /// The design of a placement.
    fn design(&self, placement: &Placement) -> Option<&'a Design> {
        let design = self.designs.get(placement.design);
        debug_assert!(design.is_some(), "what is placed is one of the designs");
        design
    }

    /// How far a placement's ink reaches past its trim, mm.
    fn past(&self, placement: &Placement) -> f64 {
        self.past.get(placement.design).copied().unwrap_or_default()
    }

    /// The bounds of each trim on a sheet, with its placement.
    fn trims<'b>(&'b self, sheet: &'b Sheet) -> impl Iterator<Item = (&'b Placement, Rect)> {
        let trim = |placement: &Placement| Some(placement.footprint(self.design(placement)?));
        sheet.placements.iter().filter_map(move |placement| Some((placement, trim(placement)?)))
    }
}

/// How far a design's ink may reach past its trim's bounds on any side, mm.
fn past_trim(design: &Design) -> f64 {
    let (trim, reach) = (design.size(), design.reach());
    [trim.x0 - reach.x0, trim.y0 - reach.y0, reach.x1 - trim.x1, reach.y1 - trim.y1]
        .into_iter()
        .fold(design.bleed_mm.max(0.0), f64::max)
}
