//! Straight lines and stacks of stripes with plain, round, slanted or arrow ends.

use super::super::drawing::PartDrawing;
use super::in_turn;
use crate::finding::Place;
use crate::shape::{self, Outline};
use crate::spec::{Line, LineEnd};
use kurbo::{Point, Rect, Size};

/// How many times as wide as its stripe an arrow head is (common practice, no source).
///
/// Less is hardly seen on a thin stripe; more looks like a separate sign.
const HEAD_WIDTH: f64 = 3.0;

pub(super) fn draw(line: &Line, place: Place) -> PartDrawing {
    let middle = (f64::from(line.count) - 1.0) / 2.0;
    let stripes = (0..line.count).map(|stripe| {
        let y = (f64::from(stripe) - middle) * line.pitch;
        stripe_at(line, y)
    });
    in_turn(stripes, &line.paints, place)
}

/// One stripe, its middle line at height `y_mm` of the stack.
fn stripe_at(line: &Line, y_mm: f64) -> Outline {
    let (half_long, half_wide) = (line.length / 2.0, line.width / 2.0);
    let (top, bottom) = (y_mm - half_wide, y_mm + half_wide);
    let [left, right] = line.ends;
    let mut corners = end(left, &[bottom, top], y_mm, -1.0, half_long, line.width);
    corners.extend(end(right, &[top, bottom], y_mm, 1.0, half_long, line.width));
    let body = shape::polygon(&corners);
    let caps = [(left, -1.0), (right, 1.0)].into_iter().filter(|(end, _)| *end == LineEnd::Round);
    caps.fold(body, |stripe, (_, side)| {
        let middle = Point::new(side * (half_long - half_wide), y_mm);
        let cap = Rect::from_center_size(middle, Size::new(line.width, line.width));
        stripe.union(&shape::ellipse(cap))
    })
}

/// The corners of one end, from the first of `edges` (heights of the stripe's long sides) to the second.
fn end(
    end: LineEnd,
    edges: &[f64; 2],
    middle_mm: f64,
    side: f64,
    half_long: f64,
    width: f64,
) -> Vec<Point> {
    let [first, second] = *edges;
    match end {
        LineEnd::Square => {
            vec![Point::new(side * half_long, first), Point::new(side * half_long, second)]
        }
        LineEnd::Round => {
            let x = side * (half_long - width / 2.0);
            vec![Point::new(x, first), Point::new(x, second)]
        }
        LineEnd::Slant(degrees) => {
            // One slanted cut through the whole stack: leaning right means further right higher up.
            let lean = libm::tan(degrees.to_radians());
            [first, second].map(|y| Point::new(side * half_long - y * lean, y)).to_vec()
        }
        LineEnd::Arrow(ratio) => {
            let neck = side * (half_long - ratio * width);
            let spread = (HEAD_WIDTH - 1.0) / 2.0 * width;
            let outwards = |edge: f64| edge + spread * (edge - middle_mm).signum();
            vec![
                Point::new(neck, first),
                Point::new(neck, outwards(first)),
                Point::new(side * half_long, middle_mm),
                Point::new(neck, outwards(second)),
                Point::new(neck, second),
            ]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::Paint;

    fn line(count: u32, ends: [LineEnd; 2]) -> Line {
        let paints = vec![Paint::BLACK, Paint::Clear];
        Line { length: 100.0, width: 2.0, count, pitch: 5.0, ends, paints }
    }

    fn area(ends: [LineEnd; 2]) -> f64 {
        draw(&line(1, ends), Place::default()).shapes[0].outline.area()
    }

    #[test]
    fn ends_change_the_area_as_geometry_says() {
        let (square, pi) = (LineEnd::Square, std::f64::consts::PI);
        assert!((area([square, square]) - 200.0).abs() < 1e-6);
        // A round end turns a square of side w into a half disc: lose w²/2 - pi w²/8.
        assert!((area([square, LineEnd::Round]) - (200.0 - (2.0 - pi / 2.0))).abs() < 0.01);
        // A slant moves one end point out and the other in: the area stays.
        assert!((area([LineEnd::Slant(30.0), LineEnd::Slant(30.0)]) - 200.0).abs() < 1e-6);
        // A head three widths wide and three long: 2 * 94 + 6 * 6 / 2.
        assert!((area([square, LineEnd::Arrow(3.0)]) - (188.0 + 18.0)).abs() < 1e-6);
    }

    #[test]
    fn stripes_lie_at_their_pitch_and_take_their_paints_in_turn() {
        let drawn = draw(&line(3, [LineEnd::Square; 2]), Place::default());
        let middles: Vec<f64> =
            drawn.shapes.iter().map(|shape| shape.outline.bounds().center().y).collect();
        assert_eq!(middles, [-5.0, 0.0, 5.0]);
        assert_eq!(drawn.shapes[1].paint, Paint::Clear);
        assert_eq!(drawn.shapes[2].paint, Paint::BLACK);
    }
}
