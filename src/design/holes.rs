//! The holes of an overlay: windows without ink, the cut, centre marks.

use super::Role;
use super::piece::{Drawn, Piece};
use crate::colour::Colour;
use crate::shape::{self, Outline};
use crate::spec::Paint;
use crate::spec::panel::{Hole, HoleMark, Panel};
use kurbo::{Point, Rect, Size};

/// A centre mark's arms from tip to tip, mm, at most this share of the hole, and their width, mm
/// (common practice, no source).
const CROSS_MM: f64 = 3.0;
const CROSS_SHARE: f64 = 0.7;
const CROSS_LINE_MM: f64 = 0.25;

/// Takes the ink out of every window, marks middles where asked, and returns what the knife takes out.
pub(super) fn apply(panel: &Panel, drawn: &mut Drawn) -> Outline {
    let mut cut = Outline::default();
    let mut windows = Outline::default();
    let mut crosses = Vec::new();
    for hole in &panel.holes {
        windows = windows.union(&disc(hole.at, hole.clear_mm));
        match panel.mark {
            HoleMark::Cut => cut = cut.union(&disc(hole.at, hole.diameter_mm)),
            HoleMark::Centre => crosses.push(cross(hole)),
            HoleMark::Nothing => {}
        }
    }
    drawn.pieces.push(Piece::plain(windows, Paint::Clear, Role::Fill, panel.place));
    drawn.pieces.extend(crosses);
    cut
}

fn disc(middle: Point, diameter_mm: f64) -> Outline {
    shape::ellipse(Rect::from_center_size(middle, Size::new(diameter_mm, diameter_mm)))
}

fn cross(hole: &Hole) -> Piece {
    let arms = CROSS_MM.min(hole.diameter_mm * CROSS_SHARE);
    let bar =
        |width, height| shape::rectangle(Rect::from_center_size(hole.at, Size::new(width, height)));
    let outline = bar(arms, CROSS_LINE_MM).union(&bar(CROSS_LINE_MM, arms));
    Piece::plain(outline, Paint::Ink(Colour::BLACK), Role::Line, hole.place)
}
