//! Filled outlines in millimetres, y down, and what can be done with them.
//!
//! An [`Outline`] is *normalised*: no point has a winding number other than 0 or 1, outer contours run
//! from +x to +y (positive area), holes the other way, every contour is closed. That makes taking a clear
//! text out of a box exact and quick: its contours are appended the other way round.

mod build;
mod cells;
mod combine;
mod grow;
mod meet;

pub use build::{ellipse, polygon, rectangle, rounded};
pub use cells::cells;

use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape as _};

/// Greatest distance, in mm, between a true circle and the curves drawn for it.
///
/// A micrometre: 1/40 of a dot at 600 dpi. Larger would show in cut files; smaller only adds segments.
pub const CURVE_ERROR_MM: f64 = 0.001;

/// A filled shape in millimetres. See the module for what always holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    path: BezPath,
}

impl Outline {
    /// The filled region of any path under the non-zero rule: open contours closed, overlaps merged.
    #[must_use]
    pub fn of(path: &BezPath) -> Outline {
        combine::normalise(path)
    }

    /// The filled region of any path under the even-odd rule.
    #[must_use]
    pub fn of_even_odd(path: &BezPath) -> Outline {
        combine::normalise_even_odd(path)
    }

    /// Takes a path that is normalised already.
    pub(crate) fn trusted(path: BezPath) -> Outline {
        debug_assert!(
            path.elements().iter().all(is_finite),
            "an outline must not hold numbers that are not finite"
        );
        Outline { path }
    }

    /// The contours, each closed.
    #[must_use]
    pub fn path(&self) -> &BezPath {
        &self.path
    }

    /// Whether nothing is filled.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.path.elements().is_empty()
    }

    /// The smallest upright rectangle round it; a zero rectangle at the origin when empty.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        if self.is_empty() { Rect::ZERO } else { self.path.bounding_box() }
    }

    /// Filled area in mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.path.area()
    }

    /// Whether a point is inside.
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        self.path.contains(point)
    }

    /// The outline moved, turned, flipped or scaled; a flip keeps it normalised.
    #[must_use]
    pub fn placed(&self, by: Affine) -> Outline {
        let path = by * &self.path;
        if by.determinant() < 0.0 {
            Outline { path: path.reverse_subpaths() }
        } else {
            Outline { path }
        }
    }

    /// The same, in no more memory than it needs.
    #[must_use]
    pub(crate) fn snug(self) -> Outline {
        Outline { path: BezPath::from_vec(self.path.elements().to_vec()) }
    }

    /// Both shapes where they are known not to overlap; cheaper than [`Outline::union`].
    #[must_use]
    pub fn beside(mut self, other: &Outline) -> Outline {
        self.path.extend(other.path.elements().iter().copied());
        self
    }

    /// Whether the two share a point, to a tenth of a micrometre.
    #[must_use]
    pub fn touches(&self, other: &Outline) -> bool {
        meet::touch(self, other)
    }

    /// What is in either.
    #[must_use]
    pub fn union(&self, other: &Outline) -> Outline {
        combine::union(self, other)
    }

    /// What is in this but not in the other.
    #[must_use]
    pub fn minus(&self, other: &Outline) -> Outline {
        combine::minus(self, other)
    }

    /// What is in both.
    #[must_use]
    pub fn common(&self, other: &Outline) -> Outline {
        combine::common(self, other)
    }

    /// The shape with its edge moved outwards by `by_mm` (inwards when negative), corners rounded.
    ///
    /// Straight-sided within [`CURVE_ERROR_MM`] of the true curve.
    #[must_use]
    pub fn grown(&self, by_mm: f64) -> Outline {
        grow::grown(self, by_mm)
    }

    /// The separate contours, outer ones and holes, in drawing order.
    pub fn contours(&self) -> impl Iterator<Item = BezPath> + '_ {
        let mut rest = self.path.elements();
        std::iter::from_fn(move || {
            let (first, after) = rest.split_first()?;
            let end = after
                .iter()
                .position(|element| matches!(element, PathEl::MoveTo(_)))
                .unwrap_or(after.len());
            let (contour, next) = after.split_at(end);
            rest = next;
            Some(std::iter::once(*first).chain(contour.iter().copied()).collect())
        })
    }
}

fn is_finite(element: &PathEl) -> bool {
    match element {
        PathEl::MoveTo(a) | PathEl::LineTo(a) => a.is_finite(),
        PathEl::QuadTo(a, b) => a.is_finite() && b.is_finite(),
        PathEl::CurveTo(a, b, c) => a.is_finite() && b.is_finite() && c.is_finite(),
        PathEl::ClosePath => true,
    }
}
