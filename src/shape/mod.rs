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
mod parts;
mod thin;

pub(crate) use build::{disc, ellipse, polygon, rectangle, rounded};
pub(crate) use cells::cells;
pub use thin::ThinPlace;

use kurbo::{
    Affine, BezPath, ParamCurveArea as _, ParamCurveExtrema, PathEl, PathSeg, Point, Rect,
    Shape as _,
};
use std::sync::OnceLock;

/// Greatest distance, in mm, between a true circle and the curves drawn for it.
///
/// A micrometre: 1/40 of a dot at 600 dpi. Larger would show in cut files; smaller only adds segments.
pub(crate) const CURVE_ERROR_MM: f64 = 0.001;

/// A filled shape in millimetres. See the module for what always holds.
///
/// It is kept as one byte an element and the points in a list of their own, a third to a half of the memory
/// of a path: a job of thousands of labels holds millions of elements.
#[derive(Clone, Debug, Default)]
pub struct Outline {
    verbs: Vec<Verb>,
    points: Vec<Point>,
    /// Its bounds, once they have been asked for: they are asked for often.
    bounds: OnceLock<Rect>,
}

impl PartialEq for Outline {
    fn eq(&self, other: &Outline) -> bool {
        (&self.verbs, &self.points) == (&other.verbs, &other.points)
    }
}

/// What an element of an outline does with its points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Verb {
    Move,
    Line,
    Quad,
    Curve,
    Close,
}

impl Verb {
    /// How many points it takes.
    fn points(self) -> usize {
        match self {
            Verb::Move | Verb::Line => 1,
            Verb::Quad => 2,
            Verb::Curve => 3,
            Verb::Close => 0,
        }
    }
}

/// The elements of an outline, or of one of its contours, in drawing order.
#[derive(Clone, Copy, Debug)]
struct Elements<'o> {
    verbs: &'o [Verb],
    points: &'o [Point],
}

impl<'o> Elements<'o> {
    fn segments(self) -> impl Iterator<Item = PathSeg> + 'o {
        kurbo::segments(self)
    }

    /// The smallest upright rectangle round them; a zero rectangle at the origin when there are none.
    fn bounds(self) -> Rect {
        let Some(first) = self.points.first() else { return Rect::ZERO };
        let ends = self.filter_map(|element| element.end_point());
        let all = ends.fold(Rect::from_points(*first, *first), |all, end| all.union_pt(end));
        let is_inside = |point: &Point| all.union_pt(*point) == all;
        // A curve whose controls lie in the box stays in it: so do nearly all letters.
        if self.points.iter().all(is_inside) {
            return all;
        }
        let bulging =
            self.segments().filter(|side| !controls(*side).all(|point| is_inside(&point)));
        bulging.fold(all, |all, side| all.union(ParamCurveExtrema::bounding_box(&side)))
    }
}

impl ExactSizeIterator for Elements<'_> {}

impl Iterator for Elements<'_> {
    type Item = PathEl;

    fn next(&mut self) -> Option<PathEl> {
        let (verb, verbs) = self.verbs.split_first()?;
        let (own, points) = self.points.split_at_checked(verb.points())?;
        *self = Elements { verbs, points };
        match (verb, own) {
            (Verb::Move, [to]) => Some(PathEl::MoveTo(*to)),
            (Verb::Line, [to]) => Some(PathEl::LineTo(*to)),
            (Verb::Quad, [a, to]) => Some(PathEl::QuadTo(*a, *to)),
            (Verb::Curve, [a, b, to]) => Some(PathEl::CurveTo(*a, *b, *to)),
            _ => Some(PathEl::ClosePath),
        }
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        (self.verbs.len(), Some(self.verbs.len()))
    }
}

/// The control points of a side between its ends.
fn controls(side: PathSeg) -> impl Iterator<Item = Point> {
    let points = match side {
        PathSeg::Line(_) => [None; 2],
        PathSeg::Quad(quad) => [Some(quad.p1), None],
        PathSeg::Cubic(cubic) => [Some(cubic.p1), Some(cubic.p2)],
    };
    points.into_iter().flatten()
}

impl Outline {
    /// Takes a path that is normalised already.
    pub fn trusted(path: &BezPath) -> Outline {
        debug_assert!(path.is_finite(), "an outline must not hold numbers that are not finite");
        let count = path.elements().iter().map(|element| split(element).0.points()).sum();
        let mut verbs = Vec::with_capacity(path.elements().len());
        let mut points = Vec::with_capacity(count);
        for (verb, own) in path.elements().iter().map(split) {
            verbs.push(verb);
            points.extend(own.into_iter().take(verb.points()));
        }
        Outline { verbs, points, bounds: OnceLock::new() }
    }

    /// The contours, each closed, as a path.
    #[must_use]
    pub fn path(&self) -> BezPath {
        self.elements().collect()
    }

    /// The elements of the contours, in drawing order.
    pub fn elements(&self) -> impl ExactSizeIterator<Item = PathEl> + Clone + '_ {
        self.all_elements()
    }

    fn all_elements(&self) -> Elements<'_> {
        Elements { verbs: &self.verbs, points: &self.points }
    }

    /// The sides of the contours, in drawing order.
    pub fn segments(&self) -> impl Iterator<Item = PathSeg> + '_ {
        self.all_elements().segments()
    }

    /// Whether nothing is filled.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.verbs.is_empty()
    }

    /// The point its first contour starts at; the origin when empty.
    pub fn start(&self) -> Point {
        self.points.first().copied().unwrap_or_default()
    }

    /// The smallest upright rectangle round it; a zero rectangle at the origin when empty.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        *self.bounds.get_or_init(|| self.all_elements().bounds())
    }

    /// Filled area in mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.segments().map(|segment| segment.signed_area()).sum()
    }

    /// Whether a point is inside.
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        self.path().contains(point)
    }

    /// The outline moved, turned, flipped or scaled; a flip keeps it normalised.
    #[must_use]
    pub fn placed(&self, by: Affine) -> Outline {
        if by.determinant() < 0.0 {
            return Outline::trusted(&(by * self.path()).reverse_subpaths());
        }
        let points = self.points.iter().map(|point| by * *point).collect();
        Outline { verbs: self.verbs.clone(), points, bounds: OnceLock::new() }
    }

    /// The same, in no more memory than it needs.
    #[must_use]
    pub fn snug(mut self) -> Outline {
        self.verbs.shrink_to_fit();
        self.points.shrink_to_fit();
        self
    }

    /// Both shapes where they are known not to overlap; cheaper than [`Outline::union`].
    #[must_use]
    pub fn beside(mut self, other: &Outline) -> Outline {
        self.verbs.extend_from_slice(&other.verbs);
        self.points.extend_from_slice(&other.points);
        self.bounds = OnceLock::new();
        self
    }
}

/// An element's verb and its points; those beyond what the verb takes mean nothing.
fn split(element: &PathEl) -> (Verb, [Point; 3]) {
    let none = Point::ZERO;
    match *element {
        PathEl::MoveTo(to) => (Verb::Move, [to, none, none]),
        PathEl::LineTo(to) => (Verb::Line, [to, none, none]),
        PathEl::QuadTo(a, to) => (Verb::Quad, [a, to, none]),
        PathEl::CurveTo(a, b, to) => (Verb::Curve, [a, b, to]),
        PathEl::ClosePath => (Verb::Close, [none; 3]),
    }
}
