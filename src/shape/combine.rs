//! Union, difference and intersection that keep curves.
//!
//! Most pairs in a label do not touch, or one lies well inside the other (a word in its box); those are
//! answered exactly by bounds alone. The rest goes through a sweep line.

use super::{Outline, parts};
use kurbo::{BezPath, PathEl, Shape as _};
use linesweeper::{BinaryOp, FillRule, binary_op_with_eps, topology::Contours};

/// How far, in mm, an edge may move in the sweep: 10 nm.
///
/// Smaller costs time and gains nothing that can be printed; larger could open hairlines.
const SWEEP_ERROR_MM: f64 = 1e-5;

impl Outline {
    /// The filled region of any path under the non-zero rule: open contours closed, overlaps merged.
    #[must_use]
    pub fn of(path: &BezPath) -> Outline {
        sweep(&closed(path), &BezPath::new(), FillRule::NonZero, BinaryOp::Union)
    }

    /// The filled region of any path under the even-odd rule.
    #[must_use]
    pub fn of_even_odd(path: &BezPath) -> Outline {
        sweep(&closed(path), &BezPath::new(), FillRule::EvenOdd, BinaryOp::Union)
    }

    /// What is in either.
    #[must_use]
    pub fn union(&self, other: &Outline) -> Outline {
        match (relation(other, self), relation(self, other)) {
            (Relation::Inside, _) => self.clone(),
            (_, Relation::Inside) => other.clone(),
            (Relation::Outside, Relation::Outside) => self.clone().beside(other),
            _ => self.combined(other, BinaryOp::Union),
        }
    }

    /// What is in this but not in the other.
    #[must_use]
    pub fn minus(&self, other: &Outline) -> Outline {
        match (relation(other, self), relation(self, other)) {
            (_, Relation::Inside) => Outline::default(),
            (Relation::Inside, _) => self.clone().with_hole(other),
            (Relation::Outside, Relation::Outside) => self.clone(),
            _ => self.combined(other, BinaryOp::Difference),
        }
    }

    /// What is in both.
    #[must_use]
    pub fn common(&self, other: &Outline) -> Outline {
        match (relation(other, self), relation(self, other)) {
            (Relation::Inside, _) => other.clone(),
            (_, Relation::Inside) => self.clone(),
            (Relation::Outside, Relation::Outside) => Outline::default(),
            _ => self.combined(other, BinaryOp::Intersection),
        }
    }

    fn combined(&self, other: &Outline, op: BinaryOp) -> Outline {
        sweep(&self.path(), &other.path(), FillRule::NonZero, op)
    }

    /// This shape less another that lies wholly inside it: its contours are added the other way round.
    pub(super) fn with_hole(self, inner: &Outline) -> Outline {
        self.beside(&Outline::trusted(&inner.path().reverse_subpaths()))
    }
}

/// How the bounds of one outline lie to another outline.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Relation {
    Outside,
    Inside,
    /// Bounds alone cannot tell.
    Unknown,
}

/// How all of `what` lies to `to`, as far as the bounds of `what` can tell.
fn relation(what: &Outline, to: &Outline) -> Relation {
    if what.is_empty() || to.is_empty() {
        return Relation::Outside;
    }
    let bounds = what.bounds().inflate(SWEEP_ERROR_MM, SWEEP_ERROR_MM);
    if !bounds.overlaps(to.bounds()) {
        return Relation::Outside;
    }
    if to.segments().any(|segment| bounds.overlaps(segment.bounding_box())) {
        return Relation::Unknown;
    }
    // No edge of `to` enters the bounds, so all of them lie on one side.
    if to.contains(bounds.center()) { Relation::Inside } else { Relation::Outside }
}

fn sweep(a: &BezPath, b: &BezPath, rule: FillRule, op: BinaryOp) -> Outline {
    match binary_op_with_eps(a, b, rule, op, SWEEP_ERROR_MM) {
        Ok(contours) => without_dust(&contours),
        Err(error) => {
            debug_assert!(false, "outlines are closed and finite, yet: {error}");
            Outline::default()
        }
    }
}

/// Contours smaller than this, in mm², are left over from rounding in the sweep and are dropped: a thousandth of
/// a dot at 600 dpi.
const DUST_MM2: f64 = 2e-6;

/// What the sweep found, without dust, every contour running the way it must.
fn without_dust(contours: &Contours) -> Outline {
    let large = contours.contours().filter(|contour| contour.path.area().abs() >= DUST_MM2);
    let path = large.flat_map(|contour| contour.path.elements().iter().copied()).collect();
    parts::oriented(Outline::trusted(&path))
}

/// The path with every contour closed.
fn closed(path: &BezPath) -> BezPath {
    let mut out = BezPath::new();
    let mut is_open = false;
    for element in path.elements() {
        let starts = matches!(element, PathEl::MoveTo(_));
        if is_open && (starts || *element == PathEl::ClosePath) {
            out.close_path();
            is_open = false;
        }
        if *element != PathEl::ClosePath {
            out.push(*element);
            is_open |= starts;
        }
    }
    if is_open {
        out.close_path();
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::{ellipse, rectangle, rounded};
    use super::*;
    use kurbo::{Point, Rect};

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
