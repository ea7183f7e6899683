//! How long, how high and where: the measures of markers round a wire.
//!
//! All lengths are mm, all formulas plain geometry of a strip wound on a cylinder.

use std::f64::consts::PI;

/// Letters higher than this part of the turn cannot be read without turning the wire: 120 degrees
/// (common practice, no source).
pub(crate) const READABLE_DEG: f64 = 120.0;

/// The smallest character worth printing on a marker, mm: 0.05 in (published ordnance course).
pub(crate) const SMALLEST_MM: f64 = 1.27;

/// Least overlap of a plain wrap over itself, mm (common practice, no source).
const LEAST_OVERLAP_MM: f64 = 3.0;

/// One turn of a strip of this thickness: C = pi (D + t).
#[must_use]
pub(crate) fn turn_mm(diameter_mm: f64, thickness_mm: f64) -> f64 {
    PI * (diameter_mm + thickness_mm)
}

/// Length of a plain wrap: a turn, and over itself a quarter turn or 3 mm, whichever is more.
#[must_use]
pub(crate) fn wrap_mm(turn_mm: f64) -> f64 {
    turn_mm + LEAST_OVERLAP_MM.max(turn_mm / 4.0)
}

/// Length of a laminated wrap: a printed turn and a clear tail of so many turns.
#[must_use]
pub(crate) fn laminated_mm(turn_mm: f64, tail_turns: f64) -> f64 {
    turn_mm * (1.0 + tail_turns)
}

/// Length of a flag: two faces and the turn between them.
#[must_use]
pub(crate) fn flag_mm(face_mm: f64, turn_mm: f64) -> f64 {
    2.0 * face_mm + turn_mm
}

/// How much of the wire letters of this height cover, degrees.
#[must_use]
pub(crate) fn covered_deg(cap_mm: f64, diameter_mm: f64) -> f64 {
    (cap_mm / (diameter_mm / 2.0)).to_degrees()
}

/// The highest letters that can be read without turning a wire: a third of its girth.
#[must_use]
pub(crate) fn readable_cap_mm(diameter_mm: f64) -> f64 {
    PI * diameter_mm * READABLE_DEG / 360.0
}

/// A heat-shrink sleeve that shrinks to half its width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Sleeve {
    /// Inside diameter as it comes, mm.
    pub expanded_mm: f64,
    /// Inside diameter once shrunk freely, mm.
    pub recovered_mm: f64,
    /// Wall once shrunk freely, mm.
    pub wall_mm: f64,
}

const fn sleeve(expanded_mm: f64, recovered_mm: f64, wall_mm: f64) -> Sleeve {
    Sleeve { expanded_mm, recovered_mm, wall_mm }
}

/// Sizes of 2:1 sleeve (published, AMS-DTL-23053 class).
pub(crate) const SLEEVES: [Sleeve; 9] = [
    sleeve(1.6, 0.8, 0.40),
    sleeve(2.4, 1.2, 0.48),
    sleeve(3.2, 1.6, 0.48),
    sleeve(4.8, 2.4, 0.48),
    sleeve(6.4, 3.2, 0.56),
    sleeve(9.5, 4.8, 0.62),
    sleeve(12.7, 6.4, 0.62),
    sleeve(19.1, 9.5, 0.69),
    sleeve(25.4, 12.7, 0.89),
];

/// What is left of a sleeve's length once shrunk: it loses 5 to 15 % (published).
pub(crate) const LENGTH_KEPT: f64 = 0.9;

impl Sleeve {
    /// The smallest sleeve that slips over a wire and grips it: expanded above 1.1 of the wire's diameter,
    /// recovered below 0.9 (common practice, no source).
    #[must_use]
    pub(crate) fn for_wire(diameter_mm: f64) -> Option<Sleeve> {
        let fits = |sleeve: &&Sleeve| {
            sleeve.recovered_mm < 0.9 * diameter_mm && sleeve.expanded_mm > 1.1 * diameter_mm
        };
        SLEEVES.iter().find(fits).copied()
    }

    /// Wall as it comes, mm: the plastic stays the same, so pi (d + w) w does.
    #[must_use]
    pub(crate) fn expanded_wall_mm(&self) -> f64 {
        self.wall_at(self.expanded_mm)
    }

    /// Wall where its inside diameter is this, mm.
    fn wall_at(&self, inside_mm: f64) -> f64 {
        let plastic = (self.recovered_mm + self.wall_mm) * self.wall_mm;
        (-inside_mm + (inside_mm * inside_mm + 4.0 * plastic).sqrt()) / 2.0
    }

    /// Width pressed flat as it comes, mm, over the outside: half the inside girth and two walls.
    #[must_use]
    pub(crate) fn flat_mm(&self) -> f64 {
        PI * self.expanded_mm / 2.0 + 2.0 * self.expanded_wall_mm()
    }

    /// Outside diameter once shrunk onto a wire, mm.
    #[must_use]
    pub(crate) fn outside_on_mm(&self, diameter_mm: f64) -> f64 {
        diameter_mm + 2.0 * self.wall_at(diameter_mm)
    }

    /// How much larger art must be before shrinking onto a wire: along the wire, round it.
    #[must_use]
    pub(crate) fn stretch(&self, diameter_mm: f64) -> (f64, f64) {
        let before = self.expanded_mm + 2.0 * self.expanded_wall_mm();
        (1.0 / LENGTH_KEPT, before / self.outside_on_mm(diameter_mm))
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    pub(in crate::wire) fn near(found: f64, wanted: f64, slack: f64) {
        assert!((found - wanted).abs() <= slack, "{found} is not {wanted}");
    }

    #[test]
    fn wraps_and_flags_are_as_long_as_worked_by_hand() {
        // Plain geometry, worked by hand: D 1.52 and 5.00, t neglected, faces of 20.
        near(turn_mm(1.52, 0.0), 4.78, 0.005);
        near(wrap_mm(turn_mm(1.52, 0.0)), 7.8, 0.03);
        near(flag_mm(20.0, turn_mm(1.52, 0.0)), 44.8, 0.03);
        near(turn_mm(5.0, 0.0), 15.71, 0.005);
        near(wrap_mm(turn_mm(5.0, 0.0)), 19.6, 0.04);
        near(flag_mm(20.0, turn_mm(5.0, 0.0)), 55.7, 0.01);
    }

    #[test]
    fn letters_that_cover_a_third_of_the_girth_are_the_limit() {
        // 1.27 mm needs D >= 1.21 mm (h = pi D / 3).
        near(readable_cap_mm(1.2128), SMALLEST_MM, 0.001);
        near(covered_deg(1.6, 1.52), 120.6, 0.05);
    }

    #[test]
    fn sleeves_lie_as_flat_as_their_plastic_allows() {
        // Worked from the published table with the same plastic before and after.
        let flat = [3.03, 4.37, 5.60, 8.08, 10.68, 15.61, 20.62, 30.72, 40.83];
        for (sleeve, flat) in SLEEVES.iter().zip(flat) {
            near(sleeve.flat_mm(), flat, 0.012);
        }
    }

    #[test]
    fn a_sleeve_slips_on_and_grips() {
        near(Sleeve::for_wire(1.52).unwrap().expanded_mm, 2.4, 1e-9);
        near(Sleeve::for_wire(2.4).unwrap().expanded_mm, 3.2, 1e-9);
        assert_eq!(Sleeve::for_wire(0.51), None);
        let sleeve = Sleeve::for_wire(1.52).unwrap();
        let (along, round) = sleeve.stretch(1.52);
        near(along, 1.0 / 0.9, 1e-9);
        // Once shrunk the art round the wire is as wide as its girth, whatever the sleeve.
        let before = PI * (sleeve.expanded_mm + 2.0 * sleeve.expanded_wall_mm());
        near(before / round, PI * sleeve.outside_on_mm(1.52), 1e-9);
    }
}
