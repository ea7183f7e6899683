//! How well a sheet's film is used.

use super::Sheet;
use super::lay::{millimetres, nanometres};
use super::tile::{Cell, free};
use crate::design::Design;
use crate::spec::Margins;
use kurbo::{Rect, Size};

/// What of a sheet is used and what is left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Used {
    /// Area of the labels' trims as a share of the printable area, 0 to 1.
    pub share: f64,
    /// The largest free rectangle inside the margins, mm; zero when none is 5 mm wide and high.
    pub left: Size,
}

/// Narrower than this is no offcut worth keeping, mm.
const NARROWEST_MM: f64 = 5.0;

/// What of a sheet with these margins the labels use; marks in the waste do not count.
#[must_use]
pub(crate) fn used(sheet: &Sheet, designs: &[Design], margins: Margins) -> Used {
    let printable = super::inside(sheet.paper.size, margins);
    let placed = || {
        sheet
            .placements
            .iter()
            .filter_map(|placement| Some((placement, designs.get(placement.design)?)))
    };
    let area: f64 = placed().map(|(_, design)| design.trim.area()).sum();
    let taken: Vec<Cell> = placed()
        .map(|(placement, design)| {
            let bleed = design.bleed_mm.max(0.0);
            cell(placement.footprint(design).inflate(bleed, bleed))
        })
        .collect();
    let least = nanometres(NARROWEST_MM);
    let left = free(cell(printable), &taken, (least, least))
        .into_iter()
        .max_by_key(Cell::area)
        .map_or(Size::ZERO, |left| {
            Size::new(millimetres(left.width()), millimetres(left.height()))
        });
    Used { share: area / printable.area().max(f64::MIN_POSITIVE), left }
}

/// A rectangle in whole nanometres.
pub(super) fn cell(rect: Rect) -> Cell {
    Cell {
        x0: nanometres(rect.x0),
        y0: nanometres(rect.y0),
        x1: nanometres(rect.x1),
        y1: nanometres(rect.y1),
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, spec};
    use super::*;
    use crate::finding::Findings;
    use crate::font::Faces;

    #[test]
    fn half_a_sheet_used_leaves_the_other_half() {
        // 190 x 138.5 of 190 x 277 mm is half; what is left below is 190 x 138.5 (A4 with 10 mm margins).
        let spec = spec(1);
        let designs = [design(0, 190.0, 138.5, 0.0)];
        let sheets =
            super::super::lay(&spec, &designs, &Faces::bundled(), &mut Findings::default());
        let used = used(&sheets[0], &designs, spec.sheet.margins);
        assert!((used.share - 0.5).abs() < 1e-9);
        assert!((used.left.width - 190.0).abs() < 1e-6);
        assert!((used.left.height - 138.5).abs() < 1e-6);
    }
}
