//! What an opening loses and a closing fills, by exact offsetting.

use super::super::grow::{corners, straight_sided};
use super::super::{CURVE_ERROR_MM, Outline};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay as _;

/// Growing goes this much further than shrinking did, mm: what is left along curves is rounding, not residue.
const SLACK_MM: f64 = 3.0 * CURVE_ERROR_MM;

impl Outline {
    /// What of the ink is lost by shrinking and growing again by half of `width_mm`, piece by piece, tips of
    /// corners included.
    #[must_use]
    pub fn lost_by_opening(&self, width_mm: f64) -> Vec<Outline> {
        pieces(self, &self.grown(-width_mm / 2.0).grown(width_mm / 2.0 + SLACK_MM))
    }

    /// What of the clear fills up by growing and shrinking again by half of `width_mm`, piece by piece.
    #[must_use]
    pub fn filled_by_closing(&self, width_mm: f64) -> Vec<Outline> {
        pieces(&self.grown(width_mm / 2.0).grown(-width_mm / 2.0 - SLACK_MM), self)
    }
}

/// What is in the one but not in the other, each piece on its own.
fn pieces(whole: &Outline, less: &Outline) -> Vec<Outline> {
    let shapes = corners(whole).overlay(&corners(less), OverlayRule::Difference, FillRule::NonZero);
    shapes.iter().map(|shape| straight_sided(shape.iter())).collect()
}
