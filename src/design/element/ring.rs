//! Discs and rings.

use super::super::Role;
use super::super::drawing::{PaintedShape, PartDrawing};
use crate::finding::Place;
use crate::shape;
use crate::spec::Ring;
use kurbo::Point;

pub(super) fn draw(ring: &Ring, place: Place) -> PartDrawing {
    let outer = shape::disc(Point::ORIGIN, ring.outer);
    let area = outer.bounds();
    let outline = outer.minus(&shape::disc(Point::ORIGIN, ring.inner));
    let role = if ring.inner > 0.0 { Role::Line } else { Role::Fill };
    let shapes = vec![PaintedShape::plain(outline, ring.paint, role, place)];
    PartDrawing::taking_up(area, shapes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::Paint;

    #[test]
    fn a_ring_has_the_area_between_two_circles() {
        let paint = Paint::BLACK;
        let ring = draw(&Ring { outer: 48.0, inner: 30.0, paint }, Place::default());
        // pi (R² - r²), school geometry.
        let expected = std::f64::consts::PI * (24.0 * 24.0 - 15.0 * 15.0);
        assert!((ring.shapes[0].outline.area() - expected).abs() < 0.1);
        assert!(!ring.shapes[0].outline.contains(Point::ORIGIN));
    }
}
