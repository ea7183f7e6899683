//! How well a sheet's film is used.

use super::Sheet;
use super::tile::{NARROWEST_OFFCUT_MM, NmRect, largest_free};
use crate::design::Design;
use crate::spec::Spec;
use kurbo::Size;

/// What of a sheet is used and what is left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Used {
    /// Area of the labels' trims as a share of the printable area, 0 to 1.
    pub share: f64,
    /// The largest free rectangle of the printable area, mm; zero when none is 5 mm wide and high.
    pub left: Size,
}

/// What of a sheet the labels use; marks in the waste do not count.
#[must_use]
pub(crate) fn used(spec: &Spec, sheet: &Sheet, designs: &[Design]) -> Used {
    let printable = spec.printable();
    let mut area = 0.0;
    let mut taken = Vec::with_capacity(sheet.placements.len());
    for placement in &sheet.placements {
        let Some(design) = designs.get(placement.design) else {
            debug_assert!(false, "what is placed is one of the designs");
            continue;
        };
        area += design.trim.area();
        let bleed = design.bleed_mm.max(0.0);
        taken.push(NmRect::of(placement.footprint(design).inflate(bleed, bleed)));
    }
    let left = largest_free(NmRect::of(printable), &taken, NARROWEST_OFFCUT_MM);
    Used {
        share: area / printable.area().max(f64::MIN_POSITIVE),
        left: left.map_or(Size::ZERO, |left| left.size().to_mm()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, laid, spec, stretching};
    use super::*;

    #[test]
    fn a_stretched_sheet_has_less_to_use() {
        // 190 x 277 mm on a printer that prints 97.3 and 99.1 mm for 100: 190 x 0.973 = 184.87 by 277 x 0.991 =
        // 274.507 mm, and half of it is 184.87 x 137.2535 mm.
        let mut spec = spec(1);
        spec.printer.profile = Some(stretching());
        let designs = [design(0, 184.87, 137.2535, 0.0)];
        let used = used(&spec, &laid(&spec, &designs).0[0], &designs);
        assert!((used.share - 0.5).abs() < 1e-9, "{used:?}");
        assert!((used.left.width - 184.87).abs() < 1e-5, "{used:?}");
        assert!((used.left.height - 137.2535).abs() < 1e-5, "{used:?}");
    }

    #[test]
    fn half_a_sheet_used_leaves_the_other_half() {
        // 190 x 138.5 of 190 x 277 mm is half; what is left below is 190 x 138.5 (A4 with 10 mm margins).
        let spec = spec(1);
        let designs = [design(0, 190.0, 138.5, 0.0)];
        let used = used(&spec, &laid(&spec, &designs).0[0], &designs);
        assert!((used.share - 0.5).abs() < 1e-9);
        assert!((used.left.width - 190.0).abs() < 1e-6);
        assert!((used.left.height - 138.5).abs() < 1e-6);
    }
}
