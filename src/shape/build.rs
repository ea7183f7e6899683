//! The plain shapes everything else is made of.

use super::{CURVE_ERROR_MM, Outline};
use kurbo::{BezPath, Ellipse, PathEl, Point, Rect, RoundedRect, Shape as _};

/// An upright rectangle; empty when it has no width or height.
#[must_use]
pub(crate) fn rectangle(rect: Rect) -> Outline {
    let rect = rect.abs();
    if rect.is_zero_area() { Outline::default() } else { closed(rect.to_path(CURVE_ERROR_MM)) }
}

/// An upright rectangle with round corners; the radius is cut to half the shorter side.
#[must_use]
pub(crate) fn rounded(rect: Rect, radius_mm: f64) -> Outline {
    let rect = rect.abs();
    let radius = radius_mm.clamp(0.0, rect.width().min(rect.height()) / 2.0);
    if rect.is_zero_area() {
        Outline::default()
    } else if radius == 0.0 {
        rectangle(rect)
    } else {
        closed(RoundedRect::from_rect(rect, radius).to_path(CURVE_ERROR_MM))
    }
}

/// The ellipse that fills an upright rectangle.
#[must_use]
pub(crate) fn ellipse(rect: Rect) -> Outline {
    let rect = rect.abs();
    if rect.is_zero_area() {
        return Outline::default();
    }
    let radii = (rect.width() / 2.0, rect.height() / 2.0);
    closed(Ellipse::new(rect.center(), radii, 0.0).to_path(CURVE_ERROR_MM))
}

/// A disc; empty when it has no diameter.
#[must_use]
pub(crate) fn disc(middle: Point, diameter_mm: f64) -> Outline {
    ellipse(Rect::from_center_size(middle, (diameter_mm, diameter_mm)))
}

/// The region inside a closed run of corners, whichever way round and even if it crosses itself.
#[must_use]
pub(crate) fn polygon(corners: &[Point]) -> Outline {
    if corners.len() < 3 {
        return Outline::default();
    }
    let mut path = BezPath::new();
    add_contour(&mut path, corners.iter().copied());
    Outline::of(&path)
}

/// Adds a closed contour with these corners.
pub(super) fn add_contour(path: &mut BezPath, corners: impl IntoIterator<Item = Point>) {
    for (at, corner) in corners.into_iter().enumerate() {
        match at {
            0 => path.move_to(corner),
            _ => path.line_to(corner),
        }
    }
    path.close_path();
}

/// A single simple contour, turned to run from +x to +y and ending exactly where it starts.
fn closed(path: impl IntoIterator<Item = PathEl>) -> Outline {
    let mut elements: Vec<PathEl> =
        path.into_iter().filter(|element| *element != PathEl::ClosePath).collect();
    // Arcs end where sine and cosine take them, a few 1e-15 mm from where they began.
    if let [PathEl::MoveTo(start), .., PathEl::CurveTo(_, _, end)] = elements.as_mut_slice()
        && end.distance(*start) < 1e-9
    {
        *end = *start;
    }
    elements.push(PathEl::ClosePath);
    let path = BezPath::from_vec(elements);
    Outline::trusted(&if path.area() < 0.0 { path.reverse_subpaths() } else { path })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas_are_those_of_geometry() {
        let rect = Rect::new(0.0, 0.0, 50.0, 30.0);
        let pi = std::f64::consts::PI;
        assert!((rectangle(rect).area() - 1500.0).abs() < 1e-9);
        // Rectangle 50 x 30, corners 4: 50*30 - (4 - pi)*16 = 1486.265 (school geometry).
        assert!((rounded(rect, 4.0).area() - 1486.265).abs() < 0.01);
        assert!((ellipse(rect).area() - pi * 25.0 * 15.0).abs() < 0.1);
        assert!(
            polygon(&[Point::new(0.0, 0.0), Point::new(0.0, 4.0), Point::new(3.0, 0.0)]).area()
                > 5.99
        );
    }

    #[test]
    fn a_rim_is_the_ring_inside_the_edge() {
        // Disc of radius 10 less one of 9.5: pi (R² - r²), school geometry; a strip of 0.4 has no inside.
        let disc = ellipse(Rect::new(-10.0, -10.0, 10.0, 10.0));
        let ring = std::f64::consts::PI * (100.0 - 90.25);
        assert!((disc.rim(0.5).area() - ring).abs() < 0.05);
        assert!(!disc.rim(0.5).contains(Point::ORIGIN));
        let strip = rectangle(Rect::new(0.0, 0.0, 5.0, 0.4));
        assert!((strip.rim(0.3).area() - 2.0).abs() < 1e-9);
    }

    #[test]
    fn a_radius_too_large_becomes_half_the_side() {
        let rect = Rect::new(0.0, 0.0, 20.0, 10.0);
        assert_eq!(rounded(rect, 6.0), rounded(rect, 5.0));
    }

    #[test]
    fn large_circles_stay_within_a_micrometre() {
        let circle = ellipse(Rect::new(-100.0, -100.0, 100.0, 100.0));
        let worst = circle
            .segments()
            .flat_map(|segment| (0..=8).map(move |step| (segment, f64::from(step) / 8.0)))
            .map(|(segment, at)| {
                use kurbo::ParamCurve as _;
                (segment.eval(at).to_vec2().hypot() - 100.0).abs()
            })
            .fold(0.0, f64::max);
        assert!(worst <= CURVE_ERROR_MM, "{worst}");
    }
}
