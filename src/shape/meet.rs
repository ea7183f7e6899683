//! Whether two outlines touch, without working out where.

use super::{Outline, controls};
use kurbo::{ParamCurve as _, PathSeg, Rect};

/// Curves are halved until their boxes are this small, in mm; closer than that counts as touching.
const NEAR_MM: f64 = 1e-4;

impl Outline {
    /// Whether the two share a point, or come within a tenth of a micrometre of it.
    #[must_use]
    pub fn touches(&self, other: &Outline) -> bool {
        if self.is_empty() || other.is_empty() {
            return false;
        }
        let bounds = near(other.bounds());
        let shared = near(self.bounds()).intersect(bounds);
        if shared.width() < 0.0 || shared.height() < 0.0 || !self.bounds().overlaps(bounds) {
            return false;
        }
        let edges_within = |outline: &Outline| -> Vec<(PathSeg, Rect)> {
            let boxed = outline.segments().map(|segment| (segment, hull(segment)));
            boxed.filter(|(_, hull)| hull.overlaps(shared)).collect()
        };
        let (own, others) = (edges_within(self), edges_within(other));
        let meets_any = |(edge, hull): &(PathSeg, Rect)| {
            others.iter().any(|(other, box_)| hull.overlaps(*box_) && edges_meet(*edge, *other))
        };
        own.iter().any(meets_any) || holds(self, other) || holds(other, self)
    }
}

/// Whether some contour of `inner` starts inside `outer`; with no edges crossing, all of it is inside then.
fn holds(outer: &Outline, inner: &Outline) -> bool {
    let bounds = outer.bounds();
    let mut starts = inner.contours().filter_map(|contour| contour.elements().first()?.end_point());
    starts.any(|start| bounds.contains(start) && outer.contains(start))
}

fn edges_meet(a: PathSeg, b: PathSeg) -> bool {
    let (box_a, box_b) = (hull(a), hull(b));
    if !box_a.overlaps(box_b) {
        return false;
    }
    let (size_a, size_b) = (extent(box_a), extent(box_b));
    if size_a.max(size_b) <= NEAR_MM {
        return true;
    }
    // Halve the longer one.
    if size_a >= size_b {
        edges_meet(a.subsegment(0.0..0.5), b) || edges_meet(a.subsegment(0.5..1.0), b)
    } else {
        edges_meet(a, b.subsegment(0.0..0.5)) || edges_meet(a, b.subsegment(0.5..1.0))
    }
}

/// A box round an edge's control points, which an edge never leaves.
fn hull(edge: PathSeg) -> Rect {
    let ends = Rect::from_points(edge.start(), edge.end());
    near(controls(edge).fold(ends, |all, control| all.union_pt(control)))
}

/// Grown by a little, so that boxes that only just miss count as meeting.
fn near(rect: Rect) -> Rect {
    rect.inflate(NEAR_MM / 10.0, NEAR_MM / 10.0)
}

fn extent(rect: Rect) -> f64 {
    rect.width().max(rect.height())
}

#[cfg(test)]
mod tests {
    use super::super::{ellipse, polygon, rectangle};
    use kurbo::{Point, Rect};

    #[test]
    fn outlines_touch_only_where_they_share_a_point() {
        // School geometry: unit circles touch when their centres are 2 apart.
        let disc = |x: f64, y: f64| ellipse(Rect::new(x - 1.0, y - 1.0, x + 1.0, y + 1.0));
        assert!(disc(0.0, 0.0).touches(&disc(1.999, 0.0)));
        assert!(!disc(0.0, 0.0).touches(&disc(2.001, 0.0)));
        // Their bounds overlap, but 1.5 x sqrt(2) = 2.12 is more than 2.
        assert!(!disc(0.0, 0.0).touches(&disc(1.5, 1.5)));
        assert!(disc(0.0, 0.0).touches(&disc(1.4, 1.4)));
    }

    #[test]
    fn one_inside_the_other_touches_but_not_in_its_hole() {
        let square = |half: f64| rectangle(Rect::new(-half, -half, half, half));
        assert!(square(5.0).touches(&square(1.0)) && square(1.0).touches(&square(5.0)));
        assert!(!square(5.0).minus(&square(3.0)).touches(&square(1.0)));
    }

    #[test]
    fn slanted_neighbours_stay_apart() {
        let leaning = |x: f64| {
            let corners = [(x, 4.0), (x + 1.0, 4.0), (x + 3.0, 0.0), (x + 2.0, 0.0)];
            polygon(&corners.map(Point::from))
        };
        assert!(!leaning(0.0).touches(&leaning(1.01)));
        assert!(leaning(0.0).touches(&leaning(0.99)));
    }
}
