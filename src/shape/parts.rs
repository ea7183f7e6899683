//! Which contour of an outline lies in which: what it falls into, and which way round each contour runs.

use super::{Elements, Outline, Verb};
use kurbo::{
    BezPath, ParamCurve as _, ParamCurveArea as _, ParamCurveExtrema, PathSeg, Point, Rect,
    Shape as _,
};
use std::sync::OnceLock;

/// Contours nearer to each other than this, mm, may touch.
const TOUCH_MM: f64 = 1e-6;

/// A contour of an outline, where it stands there.
#[derive(Clone, Copy)]
struct Contour<'o> {
    verbs: &'o [Verb],
    points: &'o [Point],
    bounds: Rect,
    /// In mm², below nought for a hole.
    area: f64,
}

impl<'o> Contour<'o> {
    fn of(verbs: &'o [Verb], points: &'o [Point]) -> Contour<'o> {
        let mut contour = Contour { verbs, points, bounds: Rect::ZERO, area: 0.0 };
        let first = points.first().copied().unwrap_or_default();
        let mut bounds = Rect::from_points(first, first);
        for side in contour.segments() {
            contour.area += side.signed_area();
            bounds = bounds.union_pt(side.end());
        }
        // A side whose controls lie within the corners' bounds stays in them: so do nearly all.
        if points.iter().any(|point| bounds.union_pt(*point) != bounds) {
            bounds = contour
                .segments()
                .fold(bounds, |all, side| all.union(ParamCurveExtrema::bounding_box(&side)));
        }
        contour.bounds = bounds;
        contour
    }

    fn elements(&self) -> Elements<'o> {
        Elements { verbs: self.verbs.iter(), points: self.points }
    }

    fn segments(&self) -> impl Iterator<Item = PathSeg> + 'o {
        kurbo::segments(self.elements())
    }

    /// Whether another may lie within it, by bounds and area.
    fn may_hold(&self, other: &Contour<'_>) -> bool {
        let (outer, inner) = (self.bounds.inflate(TOUCH_MM, TOUCH_MM), other.bounds);
        self.area.abs() > other.area.abs() && outer.union(inner) == outer
    }

    /// Whether another, which does not cross it, lies within it.
    ///
    /// The two may touch in single points, corners most of all, and what lies there says neither in nor out. So
    /// the middles of several sides are asked, and most of them must lie inside.
    fn holds(&self, other: &Contour<'_>) -> bool {
        let path: BezPath = self.elements().collect();
        let step = other.segments().count().div_ceil(MOST_SIDES).max(1);
        let middles = other.segments().step_by(step).map(|side| side.eval(0.5));
        let (inside, all) = middles
            .fold((0, 0), |(inside, all), at| (inside + u32::from(path.contains(at)), all + 1));
        2 * inside > all
    }
}

/// Most sides of a contour that are looked at to see what it lies in.
const MOST_SIDES: usize = 9;

/// See [`Outline::parts`].
pub(super) fn parts(outline: &Outline) -> Vec<Outline> {
    let contours = contours(outline);
    let mut owned: Vec<Vec<&Contour<'_>>> = contours.iter().map(|contour| vec![contour]).collect();
    for (hole, shell) in innermost(&contours, Known::Holes) {
        let shell = shell.filter(|at| contours.get(*at).is_some_and(|shell| shell.area > 0.0));
        match (contours.get(hole), shell.and_then(|at| owned.get_mut(at))) {
            (Some(hole), Some(owned)) => owned.push(hole),
            // Nothing may be parted when it cannot be told what a hole is taken out of.
            _ => return vec![outline.clone()],
        }
    }
    let shells = contours.iter().zip(owned).filter(|(contour, _)| contour.area > 0.0);
    shells.map(|(_, owned)| joined(&owned)).collect()
}

fn joined(contours: &[&Contour<'_>]) -> Outline {
    let mut outline = Outline {
        verbs: Vec::with_capacity(contours.iter().map(|contour| contour.verbs.len()).sum()),
        points: Vec::with_capacity(contours.iter().map(|contour| contour.points.len()).sum()),
        bounds: OnceLock::new(),
    };
    for contour in contours {
        outline.verbs.extend_from_slice(contour.verbs);
        outline.points.extend_from_slice(contour.points);
    }
    outline
}

/// The outline with every contour running the way it must: outer ones from +x to +y, what lies in one directly
/// the other way, and so on inwards. No two contours may cross.
///
/// What comes out of the sweep runs any way, and what it says of outer ones is wrong where contours touch.
pub(super) fn oriented(outline: Outline) -> Outline {
    let contours = contours(&outline);
    let mut inside: Vec<Option<usize>> = vec![None; contours.len()];
    for (at, holder) in innermost(&contours, Known::Nothing) {
        if let Some(inside) = inside.get_mut(at) {
            *inside = holder;
        }
    }
    let mut largest_first: Vec<(usize, &Contour<'_>)> = contours.iter().enumerate().collect();
    largest_first.sort_by(|(_, a), (_, b)| b.area.abs().total_cmp(&a.area.abs()));
    let mut is_outer = vec![true; contours.len()];
    for (at, _) in largest_first {
        let holder = inside.get(at).copied().flatten();
        let in_outer = holder.is_some_and(|holder| is_outer.get(holder) == Some(&true));
        if let Some(outer) = is_outer.get_mut(at) {
            *outer = !in_outer;
        }
    }
    if contours.iter().zip(&is_outer).all(|(contour, outer)| (contour.area > 0.0) == *outer) {
        return outline;
    }
    let mut path = BezPath::new();
    for (contour, outer) in contours.iter().zip(is_outer) {
        let own: BezPath = contour.elements().collect();
        path.extend(if (contour.area > 0.0) == outer { own } else { own.reverse_subpaths() });
    }
    Outline::trusted(&path)
}

/// What is known of contours that are asked about.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Known {
    /// Which are holes, by how they run: only those are asked about.
    Holes,
    /// Nothing: all are asked about.
    Nothing,
}

/// The smallest contour round each that is asked about, by their numbers.
fn innermost(contours: &[Contour<'_>], known: Known) -> Vec<(usize, Option<usize>)> {
    let mut from_left: Vec<(usize, &Contour<'_>)> = contours.iter().enumerate().collect();
    from_left.sort_by(|(_, a), (_, b)| a.bounds.x0.total_cmp(&b.bounds.x0));
    let mut coming = from_left.iter().peekable();
    let mut open: Vec<(usize, &Contour<'_>)> = Vec::new();
    let mut found = Vec::new();
    let asked = |contour: &Contour<'_>| known == Known::Nothing || contour.area < 0.0;
    for (at, contour) in from_left.iter().filter(|(_, contour)| asked(contour)) {
        let x = contour.bounds.x0;
        open.extend(std::iter::from_fn(|| {
            coming.next_if(|(_, next)| next.bounds.x0 <= x + TOUCH_MM).copied()
        }));
        open.retain(|(_, left)| left.bounds.x1 >= x);
        let mut near: Vec<(usize, &Contour<'_>)> =
            open.iter().filter(|(_, other)| other.may_hold(contour)).copied().collect();
        // A hole with only one contour round it can lie in no other.
        if let ([(only, _)], Known::Holes) = (near.as_slice(), known) {
            found.push((*at, Some(*only)));
            continue;
        }
        near.sort_by(|(_, a), (_, b)| a.area.abs().total_cmp(&b.area.abs()));
        let holder = near.iter().find(|(_, other)| other.holds(contour));
        found.push((*at, holder.map(|(number, _)| *number)));
    }
    // In drawing order: the sorting is ours.
    found.sort_by_key(|(at, _)| *at);
    found
}

fn contours(outline: &Outline) -> Vec<Contour<'_>> {
    let (mut verbs, mut points) = (outline.verbs.as_slice(), outline.points.as_slice());
    let mut all = Vec::new();
    while let Some((_, more)) = verbs.split_first() {
        let count = 1 + more.iter().take_while(|verb| **verb != Verb::Move).count();
        let (own, rest) = verbs.split_at(count);
        let taken = own.iter().map(|verb| verb.points()).sum::<usize>().min(points.len());
        let (corners, others) = points.split_at(taken);
        all.push(Contour::of(own, corners));
        (verbs, points) = (rest, others);
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::{disc, rectangle};

    #[test]
    fn a_hole_goes_with_the_smallest_contour_round_it() {
        // A ring with a ring in its hole, and a bar beside them.
        let at = Point::new(3.0, 2.0);
        let ring = |across: f64| disc(at, across).minus(&disc(at, across - 1.0));
        let bar = rectangle(Rect::new(10.0, 0.0, 11.0, 4.0));
        let whole = ring(4.0).beside(&ring(2.0)).beside(&bar);
        let mut parts = whole.parts();
        parts.sort_by(|a, b| a.area().total_cmp(&b.area()));
        let areas: Vec<String> = parts.iter().map(|part| format!("{:.2}", part.area())).collect();
        // pi / 4 (4 - 1), 4, pi / 4 (16 - 9).
        assert_eq!(areas, ["2.36", "4.00", "5.50"]);
        assert!(Outline::default().parts().is_empty());
    }

    #[test]
    fn a_hole_that_touches_its_contour_stays_with_it_however_it_is_turned() {
        // A frame, in it a diamond with a triangular hole whose tip touches the diamond's side.
        let path = |text: &str| BezPath::from_svg(text).unwrap();
        let whole = Outline::of_even_odd(&path(
            "M0 0H40V40H0Z M4 4H36V36H4Z M20 8L32 20L20 32L8 20Z M14 14L24 18L18 24Z",
        ));
        // The sweep alone gives the diamond the wrong way round.
        assert!((whole.area() - 822.0).abs() < 0.01, "{}", whole.area());
        // 40² - 32², and 288 less (10 · 10 - 4 · 4) / 2 (school geometry).
        let wanted = ["246.00", "576.00"];
        for degrees in [0.0, 37.0, 90.0, 180.0, 270.0] {
            let turned = whole.placed(kurbo::Affine::rotate(f64::to_radians(degrees)));
            let mut areas: Vec<String> =
                turned.parts().iter().map(|part| format!("{:.2}", part.area())).collect();
            areas.sort();
            assert_eq!(areas, wanted, "turned by {degrees}");
            let none = |part: &Outline| part.minus(&turned).area() < 0.01;
            assert!(turned.parts().iter().all(none), "a part is filled where the whole is not");
        }
    }

    #[test]
    fn what_touches_a_hook_from_within_its_bounds_is_no_hole() {
        // A diamond in the mouth of a C, its tip on the C's back: 2 · 24 + 2 · 8, and 8 · 7 / 2 (school geometry).
        let path = "M0 0H12V2H2V10H12V12H0Z M2 6L6 2.5L10 6L6 9.5Z";
        let whole = Outline::of(&BezPath::from_svg(path).unwrap());
        assert!((whole.area() - (64.0 + 28.0)).abs() < 0.01, "{}", whole.area());
    }

    #[test]
    fn nothing_is_lost_when_a_hole_has_no_contour_round_it() {
        let lost = Outline::trusted(&disc(Point::ORIGIN, 1.0).path().reverse_subpaths());
        let whole = disc(Point::new(5.0, 0.0), 2.0).beside(&lost);
        assert_eq!(whole.parts(), std::slice::from_ref(&whole));
    }
}
