//! Moving an edge outwards or inwards by a distance, and what is lost on the way there and back.

use super::{CURVE_ERROR_MM, Outline, build::add_contour};
use i_overlay::core::{fill_rule::FillRule, overlay_rule::OverlayRule};
use i_overlay::float::single::SingleFloatOverlay as _;
use i_overlay::mesh::float::outline::offset::OutlineOffset as _;
use i_overlay::mesh::float::style::{LineJoin, OutlineStyle};
use kurbo::{BezPath, PathEl, Point};

/// Growing again goes this much further than shrinking did, mm: what is left along curves is rounding, not residue.
const SLACK_MM: f64 = 3.0 * CURVE_ERROR_MM;

impl Outline {
    /// The shape with its edge moved outwards by `by_mm` (inwards when negative), corners rounded.
    ///
    /// Straight-sided within `CURVE_ERROR_MM` of the true curve.
    #[must_use]
    pub fn grown(&self, by_mm: f64) -> Outline {
        if by_mm == 0.0 || self.is_empty() {
            return self.clone();
        }
        // An arc of radius r flattened with angle a strays from the curve by r (1 - cos(a / 2)).
        let angle = 2.0 * libm::acos(1.0 - (CURVE_ERROR_MM / by_mm.abs()).min(0.5));
        let style = OutlineStyle::new(by_mm).line_join(LineJoin::Round(angle));
        straight_sided(corners(self).outline(&style).iter().flatten())
    }

    /// A line along the inside of its edge, this wide; all of it where it is narrower than two such lines.
    #[must_use]
    pub fn rim(&self, width_mm: f64) -> Outline {
        debug_assert!(width_mm > CURVE_ERROR_MM, "a line has a width");
        self.clone().with_hole(&self.grown(-width_mm))
    }

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

/// The outline whose contours have these corners.
fn straight_sided<'c>(contours: impl Iterator<Item = &'c Vec<[f64; 2]>>) -> Outline {
    let mut path = BezPath::new();
    for contour in contours {
        add_contour(&mut path, contour.iter().map(|[x, y]| Point::new(*x, *y)));
    }
    Outline::trusted(&path)
}

/// The outline's contours as corners, curves flattened.
fn corners(outline: &Outline) -> Vec<Vec<[f64; 2]>> {
    let mut contours: Vec<Vec<[f64; 2]>> = Vec::new();
    kurbo::flatten(outline.elements(), CURVE_ERROR_MM, |element| match element {
        PathEl::MoveTo(point) => contours.push(vec![[point.x, point.y]]),
        PathEl::LineTo(point) => {
            if let Some(contour) = contours.last_mut() {
                contour.push([point.x, point.y]);
            }
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {
            debug_assert!(false, "flattening leaves only lines");
        }
        PathEl::ClosePath => {}
    });
    contours
}

#[cfg(test)]
mod tests {
    use super::super::{ellipse, rectangle, rounded};
    use kurbo::Rect;

    #[test]
    fn a_grown_rectangle_has_the_area_of_steiners_formula() {
        // Area of a convex body grown by r: A + r L + pi r² (Steiner 1840).
        let grown = rectangle(Rect::new(0.0, 0.0, 10.0, 4.0)).grown(1.0);
        let expected = 40.0 + 28.0 + std::f64::consts::PI;
        assert!((grown.area() - expected).abs() < 0.01, "{}", grown.area());
    }

    #[test]
    fn growing_shrinks_holes_and_shrinking_widens_them() {
        let outer = rectangle(Rect::new(0.0, 0.0, 10.0, 10.0));
        let ring = outer.minus(&rectangle(Rect::new(3.0, 3.0, 7.0, 7.0)));
        let expected = 12.0 * 12.0 - (4.0 - std::f64::consts::PI) - 4.0;
        assert!((ring.grown(1.0).area() - expected).abs() < 0.01, "{}", ring.grown(1.0).area());
        let thin = 8.0 * 8.0 - (36.0 - (4.0 - std::f64::consts::PI));
        assert!((ring.grown(-1.0).area() - thin).abs() < 0.01, "{}", ring.grown(-1.0).area());
    }

    #[test]
    fn a_circle_stays_a_circle_and_vanishes_when_shrunk_away() {
        let disc = ellipse(Rect::new(-5.0, -5.0, 5.0, 5.0));
        let area = disc.grown(-2.0).area();
        assert!((area - std::f64::consts::PI * 9.0).abs() < 0.02, "{area}");
        assert!(disc.grown(-5.1).is_empty());
    }

    #[test]
    fn a_rounded_box_grows_like_its_formula() {
        let rect = Rect::new(0.0, 0.0, 20.0, 8.0);
        let grown = rounded(rect, 2.0).grown(0.5).area();
        let formula = rounded(rect.inflate(0.5, 0.5), 2.5).area();
        assert!((grown - formula).abs() < 0.01, "{grown} {formula}");
    }
}
