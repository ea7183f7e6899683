//! Chevrons: bent bands, all pointing right.

use super::super::drawing::PartDrawing;
use super::in_turn;
use crate::finding::Place;
use crate::shape;
use crate::spec::Chevron;
use kurbo::Point;

pub(super) fn draw(chevron: &Chevron, place: Place) -> PartDrawing {
    let half = chevron.height / 2.0;
    // An arm runs from the middle line back by half / tan(angle / 2).
    let reach = half / libm::tan((chevron.angle / 2.0).to_radians());
    let pitch = chevron.width + chevron.gap;
    let count = f64::from(chevron.count);
    let long = (count - 1.0) * pitch + chevron.width + reach;
    let bands = (0..chevron.count).map(|band| {
        let back = -long / 2.0 + f64::from(band) * pitch;
        let front = back + chevron.width;
        shape::polygon(&[
            Point::new(back, -half),
            Point::new(front, -half),
            Point::new(front + reach, 0.0),
            Point::new(front, half),
            Point::new(back, half),
            Point::new(back + reach, 0.0),
        ])
    });
    in_turn(bands, &chevron.paints, place)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::Paint;

    #[test]
    fn bands_have_the_area_of_sheared_rectangles_and_the_angle_asked_for() {
        let paints = vec![Paint::BLACK];
        let asked = Chevron { count: 3, width: 6.25, gap: 2.0, height: 20.0, angle: 60.0, paints };
        let drawn = draw(&asked, Place::default());
        assert_eq!(drawn.shapes.len(), 3);
        for shape in &drawn.shapes {
            // A parallelogram's area is base times height; a band is two of them.
            assert!((shape.outline.area() - 6.25 * 20.0).abs() < 1e-6);
        }
        // tan 30° = 0.577350 (table of trigonometric functions): the tip lies 10 / 0.577350 ahead.
        let long = 2.0 * 8.25 + 6.25 + 10.0 / 0.577_350_27;
        assert!((drawn.area.width() - long).abs() < 1e-6);
        assert!((drawn.area.center().x).abs() < 1e-9);
    }
}
