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
/// Kept as one byte an element and its points, a third to a half of what a path takes: a job of thousands
/// of labels holds millions of them.
#[derive(Clone, Debug, Default)]
pub struct Outline {
    verbs: Vec<Verb>,
    points: Vec<Point>,
    /// Once somebody asked: nearly everybody does, of every label.
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

/// The elements of an outline, in drawing order.
#[derive(Clone, Debug)]
struct Elements<'o> {
    verbs: std::slice::Iter<'o, Verb>,
    points: &'o [Point],
}

impl ExactSizeIterator for Elements<'_> {}

impl Iterator for Elements<'_> {
    type Item = PathEl;

    fn next(&mut self) -> Option<PathEl> {
        let verb = self.verbs.next()?;
        let (own, rest) = self.points.split_at_checked(verb.points())?;
        self.points = rest;
        match (verb, own) {
            (Verb::Move, [to]) => Some(PathEl::MoveTo(*to)),
            (Verb::Line, [to]) => Some(PathEl::LineTo(*to)),
            (Verb::Quad, [a, to]) => Some(PathEl::QuadTo(*a, *to)),
            (Verb::Curve, [a, b, to]) => Some(PathEl::CurveTo(*a, *b, *to)),
            _ => Some(PathEl::ClosePath),
        }
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        self.verbs.size_hint()
    }
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
    pub(crate) fn trusted(path: &BezPath) -> Outline {
        debug_assert!(
            path.elements().iter().all(is_finite),
            "an outline must not hold numbers that are not finite"
        );
        let count = path.elements().iter().map(|element| split(element).0.points()).sum();
        let mut outline = Outline {
            verbs: Vec::with_capacity(path.elements().len()),
            points: Vec::with_capacity(count),
            bounds: OnceLock::new(),
        };
        for element in path.elements() {
            let (verb, points) = split(element);
            outline.verbs.push(verb);
            outline.points.extend(points.into_iter().take(verb.points()));
        }
        outline
    }

    /// The contours, each closed, as a path.
    #[must_use]
    pub fn path(&self) -> BezPath {
        self.elements().collect()
    }

    /// The elements of the contours, in drawing order.
    pub fn elements(&self) -> impl ExactSizeIterator<Item = PathEl> + Clone + '_ {
        Elements { verbs: self.verbs.iter(), points: &self.points }
    }

    /// The sides of the contours, in drawing order.
    pub fn segments(&self) -> impl Iterator<Item = PathSeg> + '_ {
        kurbo::segments(self.elements())
    }

    /// Whether nothing is filled.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.verbs.is_empty()
    }

    /// Where its first contour starts; the origin when empty.
    pub(crate) fn start(&self) -> Point {
        self.points.first().copied().unwrap_or_default()
    }

    /// The smallest upright rectangle round it; a zero rectangle at the origin when empty.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        *self.bounds.get_or_init(|| self.measured())
    }

    fn measured(&self) -> Rect {
        let Some(first) = self.points.first() else { return Rect::ZERO };
        let mut all = Rect::from_points(*first, *first);
        for end in self.elements().filter_map(|element| element.end_point()) {
            all = all.union_pt(end);
        }
        // A curve whose controls lie in the box stays in it: so do nearly all letters.
        let inside = |all: Rect, point: Point| all.union_pt(point) == all;
        if self.points.iter().all(|point| inside(all, *point)) {
            return all;
        }
        for segment in self.segments() {
            let bulges = match segment {
                PathSeg::Line(_) => false,
                PathSeg::Quad(quad) => !inside(all, quad.p1),
                PathSeg::Cubic(cubic) => !(inside(all, cubic.p1) && inside(all, cubic.p2)),
            };
            if bulges {
                all = all.union(ParamCurveExtrema::bounding_box(&segment));
            }
        }
        all
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
    pub(crate) fn snug(mut self) -> Outline {
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
    /// Straight-sided within `CURVE_ERROR_MM` of the true curve.
    #[must_use]
    pub fn grown(&self, by_mm: f64) -> Outline {
        grow::grown(self, by_mm)
    }

    /// A line along the inside of its edge, this wide; all of it where it is narrower than two such lines.
    #[must_use]
    pub fn rim(&self, width_mm: f64) -> Outline {
        debug_assert!(width_mm > CURVE_ERROR_MM, "a line has a width");
        // The shrunk shape lies wholly inside, so its contours are taken out as they are.
        let inner = Outline::trusted(&self.grown(-width_mm).path().reverse_subpaths());
        self.clone().beside(&inner)
    }

    /// What it falls into: every outer contour with its holes, in drawing order.
    ///
    /// All of it stays one part where a hole cannot be told to lie in one of them.
    #[must_use]
    pub fn parts(&self) -> Vec<Outline> {
        parts::parts(self)
    }

    /// The separate contours, outer ones and holes, in drawing order.
    pub fn contours(&self) -> impl Iterator<Item = BezPath> + '_ {
        let mut rest = Elements { verbs: self.verbs.iter(), points: &self.points };
        std::iter::from_fn(move || {
            let first = rest.next()?;
            let more = rest.verbs.as_slice().iter().take_while(|verb| **verb != Verb::Move).count();
            let contour = std::iter::once(first).chain(rest.by_ref().take(more));
            Some(BezPath::from_vec(contour.collect()))
        })
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

fn is_finite(element: &PathEl) -> bool {
    match element {
        PathEl::MoveTo(a) | PathEl::LineTo(a) => a.is_finite(),
        PathEl::QuadTo(a, b) => a.is_finite() && b.is_finite(),
        PathEl::CurveTo(a, b, c) => a.is_finite() && b.is_finite() && c.is_finite(),
        PathEl::ClosePath => true,
    }
}
