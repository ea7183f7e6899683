//! Symbols of the built-in set: strokes and fills as one outline.

use super::super::Role;
use super::super::drawing::{PaintedShape, PartDrawing};
use crate::finding::Place;
use crate::shape::{CURVE_ERROR_MM, Outline};
use crate::spec::{GRID, Sign, Symbol};
use kurbo::{Affine, Arc, BezPath, Cap, Circle, Join, Point, Rect, Shape as _, Size, Stroke};

pub(super) fn draw(symbol: &Symbol, place: Place) -> PartDrawing {
    let outline = outline(symbol.sign, symbol.size, symbol.stroke);
    let area = Rect::from_center_size(Point::ORIGIN, Size::new(symbol.size, symbol.size));
    let shapes = vec![PaintedShape::plain(outline, symbol.paint, Role::Text, place)];
    PartDrawing::taking_up(area, shapes)
}

/// The outline of a sign whose grid is `size_mm` on a side, its strokes `stroke_mm` wide.
fn outline(sign: &Sign, size_mm: f64, stroke_mm: f64) -> Outline {
    let scale = size_mm / GRID;
    let data = |data: &str| {
        let path = BezPath::from_svg(data);
        debug_assert!(path.is_ok(), "a test reads every row of the table");
        Affine::scale(scale) * path.unwrap_or_default()
    };
    let mut middles = data(sign.lines);
    let mut filled = data(sign.fills);
    for [x, y, radius, start, sweep] in sign.arcs {
        let middle = Point::new(x * scale, y * scale);
        middles.extend(arc(middle, radius * scale, start.to_radians(), sweep.to_radians()));
    }
    for [x, y, radius] in sign.discs {
        filled.extend(Circle::new((x * scale, y * scale), radius * scale).to_path(CURVE_ERROR_MM));
    }
    let stroke = Stroke::new(stroke_mm).with_caps(Cap::Butt).with_join(Join::Miter);
    let strokes = kurbo::stroke(middles, &stroke, &kurbo::StrokeOpts::default(), CURVE_ERROR_MM);
    Outline::of(&strokes).union(&Outline::of(&filled))
}

/// An arc as a stroke's middle line; a whole turn is closed.
fn arc(middle: Point, radius: f64, start: f64, sweep: f64) -> BezPath {
    if sweep.abs() >= std::f64::consts::TAU - 1e-9 {
        return Circle::new(middle, radius).to_path(CURVE_ERROR_MM);
    }
    Arc::new(middle, (radius, radius), start, sweep, 0.0).to_path(CURVE_ERROR_MM)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::SIGNS;

    fn sign(name: &str) -> &'static Sign {
        SIGNS.iter().find(|sign| sign.name == name).unwrap()
    }

    #[test]
    fn strokes_have_the_areas_of_geometry_at_any_size_and_width() {
        let pi = std::f64::consts::PI;
        for (size, stroke) in [(20.0, 2.0), (6.0, 0.6), (6.0, 0.3)] {
            let unit: f64 = size / 20.0;
            // A bar of 18 units; a ring of middle radius 8 units: 2 pi r w (Pappus).
            let bar = outline(sign("on"), size, stroke).area();
            assert!((bar - 18.0 * unit * stroke).abs() < 1e-3, "{bar}");
            let ring = outline(sign("off"), size, stroke).area();
            assert!((ring - 2.0 * pi * 8.0 * unit * stroke).abs() < 0.01, "{ring}");
        }
    }

    #[test]
    fn every_symbol_fills_its_grid_and_none_leaves_it() {
        for sign in &SIGNS {
            let bounds = outline(sign, 20.0, 2.0).bounds();
            let reach = bounds.x1.max(bounds.y1).max(-bounds.x0).max(-bounds.y0);
            assert!(reach <= 10.3, "{}: {bounds:?}", sign.name);
            assert!(bounds.width().max(bounds.height()) >= 15.5, "{}: {bounds:?}", sign.name);
            let middle = bounds.center();
            assert!(middle.x.abs() < 1.3 && middle.y.abs() < 1.3, "{}: {bounds:?}", sign.name);
        }
    }

    #[test]
    fn holes_stay_open_where_strokes_close_on_themselves() {
        for name in ["off", "class-ii", "warning", "fan", "protective-earth"] {
            let outline = outline(sign(name), 20.0, 2.0);
            let holes = outline.contours().filter(|contour| contour.area() < 0.0).count();
            assert!(holes >= 1, "{name}");
        }
    }
}
