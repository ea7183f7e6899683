//! The two tracks a scale can run along, seen as one: a share of the way and a distance outwards.

use crate::design::piece::turn;
use crate::shape::Outline;
use crate::spec::scale::Track;
use kurbo::{Affine, Arc, BezPath, Point, Shape as _, Vec2};

/// Degrees clockwise from straight up of the direction "outwards" at a share.
pub(super) fn outwards_deg(track: &Track, share: f64) -> f64 {
    match *track {
        Track::Round { start, sweep, .. } => start + sweep * share,
        Track::Straight { outside, .. } => outside,
    }
}

/// The direction "outwards" at a share.
pub(super) fn outwards(track: &Track, share: f64) -> Vec2 {
    let turned = turn(outwards_deg(track, share));
    (turned * Point::new(0.0, -1.0)).to_vec2()
}

/// From a mark drawn upright on the origin, its foot on the base line, to its place.
pub(super) fn to(track: &Track, share: f64) -> Affine {
    let turned = turn(outwards_deg(track, share));
    match *track {
        Track::Round { radius, .. } => turned * Affine::translate((0.0, -radius)),
        Track::Straight { length, .. } => turned * Affine::translate(((share - 0.5) * length, 0.0)),
    }
}

/// The point at a share, `out` mm outwards from the base line.
pub(super) fn at(track: &Track, share: f64, out: f64) -> Point {
    to(track, share) * Point::new(0.0, -out)
}

/// How large a share of the track a length along the base line is.
pub(super) fn share_of(track: &Track, mm: f64) -> f64 {
    match *track {
        Track::Round { radius, sweep, .. } => mm / (radius * sweep.abs().to_radians()),
        Track::Straight { length, .. } => mm / length,
    }
}

/// The band between two shares and two distances outwards.
pub(super) fn band(track: &Track, shares: (f64, f64), across: (f64, f64)) -> Outline {
    let (from, to) = shares;
    let Track::Round { radius, start, sweep } = *track else {
        let corners = [(from, across.0), (from, across.1), (to, across.1), (to, across.0)];
        return crate::shape::polygon(&corners.map(|(share, out)| at(track, share, out)));
    };
    let (low, high) = ((radius + across.0).max(0.0), radius + across.1);
    let path = sector((low, high), (start + sweep * from, sweep * (to - from)));
    Outline::of(&path)
}

/// A ring sector: radii, and start and sweep in degrees clockwise from straight up.
fn sector((low, high): (f64, f64), (start, sweep): (f64, f64)) -> BezPath {
    // Angles of the geometry library run from the x axis towards y, which is clockwise as seen.
    let (from, by) = ((start - 90.0).to_radians(), sweep.to_radians());
    let arc =
        |radius: f64, from: f64, by: f64| Arc::new(Point::ORIGIN, (radius, radius), from, by, 0.0);
    let mut path = BezPath::new();
    path.extend(arc(high, from, by).path_elements(crate::shape::CURVE_ERROR_MM));
    if low > 0.0 {
        let back = arc(low, from + by, -by);
        let mut elements = back.path_elements(crate::shape::CURVE_ERROR_MM);
        if let Some(kurbo::PathEl::MoveTo(start)) = elements.next() {
            path.line_to(start);
        }
        path.extend(elements);
    } else {
        path.line_to(Point::ORIGIN);
    }
    path.close_path();
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_band_has_the_area_of_a_ring_sector() {
        // (R² - r²) a / 2, school geometry; 39 degrees of a band from 20 to 22 mm.
        let track = Track::Round { radius: 20.0, start: -135.0, sweep: 270.0 };
        let found = band(&track, (0.0, 39.0 / 270.0), (0.0, 2.0)).area();
        let formula = (22.0_f64.powi(2) - 20.0_f64.powi(2)) * 39.0_f64.to_radians() / 2.0;
        assert!((found - formula).abs() < 0.01, "{found} {formula}");
        // The other way round it is as large.
        let track = Track::Round { radius: 20.0, start: 135.0, sweep: -270.0 };
        assert!((band(&track, (0.0, 39.0 / 270.0), (0.0, 2.0)).area() - formula).abs() < 0.01);
        let straight = Track::Straight { length: 50.0, outside: 90.0 };
        assert!((band(&straight, (0.2, 0.6), (1.0, 3.0)).area() - 40.0).abs() < 1e-6);
    }

    #[test]
    fn angles_run_clockwise_from_straight_up() {
        let track = Track::Round { radius: 10.0, start: -90.0, sweep: 180.0 };
        for (share, x, y) in [(0.0, -10.0, 0.0), (0.5, 0.0, -10.0), (1.0, 10.0, 0.0)] {
            assert!(at(&track, share, 0.0).distance(Point::new(x, y)) < 1e-9);
        }
        // A straight scale that runs up has its outside on the left.
        let up = Track::Straight { length: 20.0, outside: -90.0 };
        assert!(at(&up, 0.0, 0.0).distance(Point::new(0.0, 10.0)) < 1e-9);
        assert!(at(&up, 1.0, 2.0).distance(Point::new(-2.0, -10.0)) < 1e-9);
    }
}
