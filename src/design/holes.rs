//! The holes under an overlay or a legend: windows without ink, the cut, centre marks.

use super::Role;
use super::drawing::{PaintedShape, PartDrawing, bounds};
use crate::shape::{self, Outline};
use crate::spec::Paint;
use crate::spec::panel::{Hole, HoleMark, Panel};
use kurbo::{BezPath, Point, Rect, Size, Vec2};

/// A centre mark's arms from tip to tip, mm, at most this share of the hole, and their width, mm
/// (common practice, no source).
const CROSS_MM: f64 = 3.0;
const CROSS_SHARE: f64 = 0.7;
const CROSS_LINE_MM: f64 = 0.25;

/// Takes the ink out of every window that a label lies over and marks middles where asked; returns what is
/// left of its trim.
///
/// `origin` is where the label's own origin lies, from the panel's middle, mm.
pub(super) fn apply(
    panel: &Panel,
    origin: Vec2,
    trim: &Outline,
    drawn: &mut PartDrawing,
) -> Outline {
    let (mut cut, mut windows, mut crosses) = (Vec::new(), Vec::new(), Vec::new());
    let reach = bounds(&drawn.shapes).union(trim.bounds());
    for hole in &panel.holes {
        let middle = hole.at - origin;
        let wide = hole.clear_mm.max(hole.diameter_mm);
        if !Rect::from_center_size(middle, (wide, wide)).overlaps(reach) {
            continue;
        }
        if hole.clear_mm > 0.0 {
            let window = shape::disc(middle, hole.clear_mm);
            windows.push(PaintedShape::plain(window, Paint::Clear, Role::Fill, panel.place));
        }
        match panel.mark {
            HoleMark::Cut => cut.push((middle, hole.diameter_mm)),
            HoleMark::Centre => crosses.push(cross(hole, middle)),
            HoleMark::Nothing => {}
        }
    }
    drawn.shapes.extend(windows);
    drawn.shapes.extend(crosses);
    trim.minus(&together(&cut))
}

/// Discs by middle and diameter as one outline: only those that meet are merged, in one sweep.
fn together(discs: &[(Point, f64)]) -> Outline {
    let (mut apart, mut meeting) = (Outline::default(), BezPath::new());
    for (at, (middle, wide)) in discs.iter().enumerate() {
        let disc = shape::disc(*middle, *wide);
        let mut others = discs.iter().enumerate().filter(|(other, _)| *other != at);
        if others.any(|(_, (next, next_wide))| middle.distance(*next) <= (wide + next_wide) / 2.0) {
            meeting.extend(disc.path().iter());
        } else {
            apart = apart.beside(&disc);
        }
    }
    if meeting.is_empty() { apart } else { apart.beside(&Outline::of(&meeting)) }
}

fn cross(hole: &Hole, middle: Point) -> PaintedShape {
    let arms = CROSS_MM.min(hole.diameter_mm * CROSS_SHARE);
    let bar =
        |width, height| shape::rectangle(Rect::from_center_size(middle, Size::new(width, height)));
    let outline = bar(arms, CROSS_LINE_MM).union(&bar(CROSS_LINE_MM, arms));
    PaintedShape::plain(outline, Paint::BLACK, Role::Line, hole.place)
}
