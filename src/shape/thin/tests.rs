//! Shapes whose thin places follow from how they are made.

use super::super::{Outline, disc, ellipse, polygon, rectangle};
use super::ThinPlace;
use kurbo::{Affine, Point, Rect};

fn shape(corners: &[(f64, f64)]) -> Outline {
    let corners: Vec<Point> = corners.iter().map(|corner| Point::from(*corner)).collect();
    polygon(&corners)
}

fn widths(places: &[ThinPlace]) -> Vec<f64> {
    places.iter().map(|place| (place.width_mm * 1000.0).round() / 1000.0).collect()
}

#[test]
fn a_strip_is_as_thin_as_it_is_and_no_thinner_than_the_limit_it_meets() {
    for turned in [0.0, 0.3, 1.0, 2.5] {
        let strip = rectangle(Rect::new(0.0, 0.0, 8.0, 0.2)).placed(Affine::rotate(turned));
        let found = strip.thin_places(0.25);
        assert_eq!(widths(&found), [0.2], "{found:?}");
        assert!((found[0].length_mm - 7.8).abs() < 0.1, "{found:?}");
        assert!(strip.thin_places(0.2).is_empty() && strip.thin_places(0.15).is_empty());
    }
}

#[test]
fn a_ring_is_thin_all_round_and_its_hole_is_not() {
    let ring = disc(Point::ORIGIN, 6.0).minus(&disc(Point::ORIGIN, 5.7));
    let found = ring.thin_places(0.2);
    assert_eq!(found.len(), 1);
    assert!((found[0].width_mm - 0.15).abs() < 0.002, "{found:?}");
    // Along its longer side: pi 6.
    assert!((found[0].length_mm - 18.85).abs() < 0.1, "{found:?}");
    assert!(ring.thin_gaps(0.5).is_empty());
}

#[test]
fn sharp_corners_and_points_of_stars_are_not_thin() {
    for degrees in [10.0_f64, 15.0, 25.0, 40.0, 60.0, 90.0, 120.0] {
        let half = 4.0 * libm::tan(degrees.to_radians() / 2.0);
        let spike = shape(&[(0.0, 0.0), (4.0, -half), (4.0, half)]);
        assert_eq!(spike.thin_places(0.3), [], "{degrees}");
        let notched = rectangle(Rect::new(-2.0, -6.0, 3.9, 6.0)).minus(&spike);
        assert_eq!(notched.thin_gaps(0.3), [], "{degrees}");
        assert_eq!(notched.thin_places(0.3), [], "{degrees}");
    }
}

#[test]
fn a_blunt_corner_is_not_thin_but_a_stub_of_that_width_is() {
    // A point of 30 degrees cut off where it is 0.1 wide.
    let blunt = shape(&[(0.0, -0.05), (0.0, 0.05), (4.0, 1.122), (4.0, -1.122)]);
    assert_eq!(blunt.thin_places(0.3), []);
    let body = rectangle(Rect::new(0.0, 0.0, 3.0, 3.0));
    let stub = |length: f64| body.union(&rectangle(Rect::new(2.9, 1.0, 3.0 + length, 1.1)));
    assert_eq!(widths(&stub(0.6).thin_places(0.3)), [0.1]);
    // Lost, and never missed: shorter than half the limit.
    assert_eq!(stub(0.1).thin_places(0.3), []);
}

#[test]
fn a_slab_serif_is_thin_only_when_its_ends_are() {
    let serif = |thick: f64| {
        rectangle(Rect::new(-0.4, 0.0, 0.4, 3.0)).union(&rectangle(Rect::new(
            -1.0,
            3.0 - thick,
            1.0,
            3.0,
        )))
    };
    assert_eq!(serif(0.3).thin_places(0.25), []);
    assert_eq!(widths(&serif(0.2).thin_places(0.25)), [0.2, 0.2]);
}

#[test]
fn a_neck_between_two_discs_is_found_and_measured() {
    // Discs of radius 2 whose middles are 2 d apart share a chord of 2 sqrt(4 - d²): school geometry.
    for neck in [0.05_f64, 0.12, 0.2] {
        let apart = (4.0 - neck * neck / 4.0).sqrt();
        let shape = disc(Point::new(-apart, 0.0), 4.0).union(&disc(Point::new(apart, 0.0), 4.0));
        let found = shape.thin_places(0.25);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!((found[0].width_mm - neck).abs() < 0.003, "{neck} {found:?}");
        assert!(found[0].at.to_vec2().hypot() < 0.01);
    }
}

#[test]
fn gaps_between_parts_are_measured_where_they_are_narrowest() {
    let pair = disc(Point::new(-2.1, 0.0), 4.0).beside(&disc(Point::new(2.05, 0.0), 4.0));
    let found = pair.thin_gaps(0.25);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!((found[0].width_mm - 0.15).abs() < 0.002, "{found:?}");
    let corner = shape(&[(0.1, 0.0), (3.0, 2.0), (3.0, -2.0)]);
    let pointed = rectangle(Rect::new(-3.0, -3.0, 0.0, 3.0)).beside(&corner);
    assert_eq!(widths(&pointed.thin_gaps(0.25)), [0.1]);
    assert_eq!(pointed.thin_gaps(0.1), []);
}

#[test]
fn dots_and_counters_too_small_are_as_wide_as_their_largest_disc() {
    // The incircle of a right triangle with legs 0.3 and 0.4 has diameter 0.3 + 0.4 - 0.5.
    let triangle = shape(&[(0.0, 0.0), (0.3, 0.0), (0.0, 0.4)]);
    assert_eq!(widths(&triangle.thin_places(0.25)), [0.2]);
    assert_eq!(triangle.thin_places(0.2), []);
    let counter = ellipse(Rect::new(-2.0, -2.0, 2.0, 2.0)).minus(&triangle);
    assert_eq!(widths(&counter.thin_gaps(0.25)), [0.2]);
    assert_eq!(counter.thin_places(0.25), []);
}
