//! Union, difference and intersection that keep curves.
//!
//! Most pairs in a label do not touch, or one lies well inside the other (a word in its box); those are
//! answered exactly by bounds alone. The rest goes through a sweep line.

use super::{Outline, parts};
use kurbo::{BezPath, PathEl, Point, Shape as _};
use linesweeper::{BinaryOp, FillRule, binary_op_with_eps, topology::Contours};

/// How far, in mm, an edge may move in the sweep: 10 nm.
///
/// Smaller costs time and gains nothing that can be printed; larger could open hairlines.
const SWEEP_ERROR_MM: f64 = 1e-5;

/// How one outline's bounds lie to another outline.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Lies {
    Outside,
    Inside,
    Across,
}

pub(super) fn normalise(path: &BezPath) -> Outline {
    sweep(&closed(path), &BezPath::new(), BinaryOp::Union)
}

pub(super) fn normalise_even_odd(path: &BezPath) -> Outline {
    swept(&closed(path), &BezPath::new(), FillRule::EvenOdd, BinaryOp::Union)
}

pub(super) fn union(a: &Outline, b: &Outline) -> Outline {
    match (lies(b, a), lies(a, b)) {
        (Lies::Inside, _) => a.clone(),
        (_, Lies::Inside) => b.clone(),
        (Lies::Outside, Lies::Outside) => a.clone().beside(b),
        _ => sweep(&a.path(), &b.path(), BinaryOp::Union),
    }
}

pub(super) fn minus(a: &Outline, b: &Outline) -> Outline {
    match (lies(b, a), lies(a, b)) {
        (_, Lies::Inside) => Outline::default(),
        (Lies::Inside, _) => {
            let hole = Outline::trusted(&b.path().reverse_subpaths());
            a.clone().beside(&hole)
        }
        (Lies::Outside, Lies::Outside) => a.clone(),
        _ => sweep(&a.path(), &b.path(), BinaryOp::Difference),
    }
}

pub(super) fn common(a: &Outline, b: &Outline) -> Outline {
    match (lies(b, a), lies(a, b)) {
        (Lies::Inside, _) => b.clone(),
        (_, Lies::Inside) => a.clone(),
        (Lies::Outside, Lies::Outside) => Outline::default(),
        _ => sweep(&a.path(), &b.path(), BinaryOp::Intersection),
    }
}

/// Where all of `what` lies to `to`, by its bounds: `Across` when bounds alone cannot tell.
fn lies(what: &Outline, to: &Outline) -> Lies {
    if what.is_empty() || to.is_empty() {
        return Lies::Outside;
    }
    let bounds = what.bounds().inflate(SWEEP_ERROR_MM, SWEEP_ERROR_MM);
    if !bounds.overlaps(to.bounds()) {
        return Lies::Outside;
    }
    if to.segments().any(|segment| bounds.overlaps(segment.bounding_box())) {
        return Lies::Across;
    }
    // No edge of `to` enters the bounds, so all of them lie on one side.
    if to.contains(bounds.center()) { Lies::Inside } else { Lies::Outside }
}

fn sweep(a: &BezPath, b: &BezPath, op: BinaryOp) -> Outline {
    swept(a, b, FillRule::NonZero, op)
}

fn swept(a: &BezPath, b: &BezPath, rule: FillRule, op: BinaryOp) -> Outline {
    match binary_op_with_eps(a, b, rule, op, SWEEP_ERROR_MM) {
        Ok(contours) => collect(&contours),
        Err(error) => {
            debug_assert!(false, "outlines are closed and finite, yet: {error}");
            Outline::default()
        }
    }
}

/// Contours smaller than this, in mm², are dust of the sweep and dropped: a thousandth of a 600 dpi dot.
const DUST_MM2: f64 = 2e-6;

fn collect(contours: &Contours) -> Outline {
    let mut path = BezPath::new();
    for contour in contours.contours() {
        if contour.path.area().abs() < DUST_MM2 {
            continue;
        }
        path.extend(contour.path.elements().iter().copied());
    }
    parts::oriented(Outline::trusted(&path))
}

/// The path with every contour closed and contours without extent dropped.
fn closed(path: &BezPath) -> BezPath {
    let mut out = BezPath::new();
    let mut start: Option<Point> = None;
    for element in path.elements() {
        match element {
            PathEl::MoveTo(_) | PathEl::ClosePath => {
                if start.take().is_some() {
                    out.close_path();
                }
                if let PathEl::MoveTo(point) = element {
                    out.move_to(*point);
                    start = Some(*point);
                }
            }
            other => out.push(*other),
        }
    }
    if start.is_some() {
        out.close_path();
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::{ellipse, rectangle, rounded};
    use super::*;
    use kurbo::Rect;

    fn square(x: f64, y: f64, side: f64) -> Outline {
        rectangle(Rect::new(x, y, x + side, y + side))
    }

    #[test]
    fn areas_add_up_however_two_shapes_lie() {
        // |A ∪ B| = |A| + |B| − |A ∩ B| and |A − B| = |A| − |A ∩ B| (set algebra).
        let big = rounded(Rect::new(0.0, 0.0, 20.0, 10.0), 2.0);
        for other in [
            square(30.0, 0.0, 5.0),
            square(4.0, 3.0, 3.0),
            square(15.0, 5.0, 10.0),
            square(-5.0, -5.0, 50.0),
            ellipse(Rect::new(-3.0, 2.0, 8.0, 14.0)),
            square(20.0, 2.0, 4.0),
        ] {
            let shared = big.common(&other).area();
            assert!((big.union(&other).area() - (big.area() + other.area() - shared)).abs() < 1e-3);
            assert!((big.minus(&other).area() - (big.area() - shared)).abs() < 1e-3);
        }
    }

    #[test]
    fn a_hole_filled_again_leaves_no_trace() {
        let ring = square(0.0, 0.0, 10.0).minus(&square(3.0, 3.0, 4.0));
        assert!(!ring.contains(Point::new(5.0, 5.0)));
        let full = ring.union(&square(3.0, 3.0, 4.0));
        assert!((full.area() - 100.0).abs() < 1e-6);
        assert!(full.contains(Point::new(5.0, 5.0)));
    }

    #[test]
    fn overlapping_contours_become_one() {
        let mut path = square(0.0, 0.0, 4.0).path();
        path.extend(square(2.0, 2.0, 4.0).elements());
        let merged = Outline::of(&path);
        assert!((merged.area() - 28.0).abs() < 1e-6);
        assert_eq!(merged.contours().count(), 1);
    }

    #[test]
    fn a_flip_keeps_the_area_positive() {
        let flipped = square(1.0, 1.0, 3.0).placed(kurbo::Affine::FLIP_X);
        assert!((flipped.area() - 9.0).abs() < 1e-9);
        assert!((flipped.bounds().x0 + 4.0).abs() < 1e-9);
    }
}
