//! The white under a label's ink.

use super::drawing::PaintedShape;
use super::{Mark, Plate, WhiteOrder, WhitePlate};
use crate::shape::Outline;
use crate::spec::{Film, Label, Paint, UnderPrint, White, WhiteArea};

/// Gaps this narrow are closed before the edge is drawn in, mm: far below what a printer can leave open, far
/// above what working out a union may leave.
const HAIRLINE_MM: f64 = 0.005;

/// The plate of white a label asks for; `None` when nothing of it would be left.
///
/// `painted` is what [`painted`] found.
///
/// Its edge stays inside the ink's by the choke, at clear parts too. What is white and nothing else keeps
/// its full shape: there is no ink to hide a smaller one under.
pub(super) fn plate(
    label: &Label,
    painted: &Outline,
    marks: &[Mark],
    trim: &Outline,
) -> Option<WhitePlate> {
    let White::Under(under) = &label.white else { return None };
    if label.film != Film::Clear {
        return None;
    }
    // Ink and white that share an edge would leave a hairline there, and shrinking would open it.
    let whole = beneath(under, marks, trim).union(painted).grown(HAIRLINE_MM);
    let path = whole.grown(-under.choke_mm - HAIRLINE_MM).union(painted);
    let order = if label.applied.mirrored() { WhiteOrder::Last } else { WhiteOrder::First };
    (!path.is_empty()).then(|| WhitePlate { path: path.snug(), tint: under.tint, order })
}

/// What has white under it, before its edge is drawn in.
fn beneath(under: &UnderPrint, marks: &[Mark], trim: &Outline) -> Outline {
    let wanted = |mark: &&Mark| match (&under.area, mark.plate) {
        (WhiteArea::Of(colours), Plate::Ink(colour)) => colours.contains(&colour),
        (WhiteArea::Ink | WhiteArea::Label, Plate::Ink(_)) => true,
        (_, Plate::Cut | Plate::Guide) => false,
    };
    let ink: Vec<&Outline> = marks.iter().filter(wanted).map(|mark| &mark.path).collect();
    let ink = all(&ink);
    match under.area {
        // Ink that bleeds past the trim takes its white along.
        WhiteArea::Label => ink.union(trim),
        WhiteArea::Ink | WhiteArea::Of(_) => ink,
    }
}

/// Where parts are painted white and stay so; nothing on a label without white under it.
pub(super) fn painted(label: &Label, shapes: &[PaintedShape]) -> Outline {
    let mut white = Outline::default();
    if label.white == White::None {
        return white;
    }
    for shape in shapes {
        match shape.paint {
            Paint::Ink(_) if !shape.inks() => white = white.union(&shape.outline),
            Paint::Ink(_) | Paint::Clear => white = white.minus(&shape.outline),
        }
    }
    white
}

/// All in one go: many unions one after another take their time squared.
fn all(outlines: &[&Outline]) -> Outline {
    match outlines {
        [] => Outline::default(),
        [one] => (*one).clone(),
        many => Outline::of(&many.iter().flat_map(|one| one.elements()).collect()),
    }
}
