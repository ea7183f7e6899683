//! Which contour of an outline lies in which: what it falls into, and which way round each contour runs.

use super::{Elements, Outline, Verb};
use kurbo::{BezPath, ParamCurve as _, ParamCurveArea as _, Rect, Shape as _};

/// Contours nearer to each other than this, mm, may touch.
const TOUCH_MM: f64 = 1e-6;

/// Most sides of a contour that are looked at to see what it lies in.
const MOST_SIDES: usize = 9;

impl Outline {
    /// What it falls into: every outer contour with its holes, in drawing order.
    ///
    /// All of it stays one part where it cannot be told which contour a hole lies in.
    #[must_use]
    pub fn parts(&self) -> Vec<Outline> {
        let contours: Vec<Contour<'_>> = elements_by_contour(self).map(Contour::of).collect();
        let mut owned: Vec<Vec<Elements<'_>>> =
            contours.iter().map(|contour| vec![contour.elements]).collect();
        for (hole, outer) in innermost(&contours, Asked::Holes) {
            let outer = outer.filter(|at| contours.get(*at).is_some_and(|outer| outer.area > 0.0));
            match (contours.get(hole), outer.and_then(|at| owned.get_mut(at))) {
                (Some(hole), Some(owned)) => owned.push(hole.elements),
                _ => return vec![self.clone()],
            }
        }
        let outer = contours.iter().zip(owned).filter(|(contour, _)| contour.area > 0.0);
        outer.map(|(_, owned)| joined(&owned)).collect()
    }

    /// The separate contours, outer ones and holes, in drawing order.
    pub fn contours(&self) -> impl Iterator<Item = BezPath> + '_ {
        elements_by_contour(self).map(Elements::collect)
    }
}

/// The elements of each contour, in drawing order.
fn elements_by_contour(outline: &Outline) -> impl Iterator<Item = Elements<'_>> {
    let mut rest = outline.points.as_slice();
    outline.verbs.chunk_by(|_, next| *next != Verb::Move).map_while(move |verbs| {
        let count = verbs.iter().map(|verb| verb.points()).sum();
        let points = rest.split_off(..count)?;
        Some(Elements { verbs, points })
    })
}

fn joined(contours: &[Elements<'_>]) -> Outline {
    let verbs: Vec<&[Verb]> = contours.iter().map(|contour| contour.verbs).collect();
    let points: Vec<_> = contours.iter().map(|contour| contour.points).collect();
    Outline { verbs: verbs.concat(), points: points.concat(), ..Outline::default() }
}

/// A contour of an outline and what is known of it.
struct Contour<'o> {
    elements: Elements<'o>,
    bounds: Rect,
    /// In mm², below nought for a hole.
    area: f64,
}

impl<'o> Contour<'o> {
    fn of(elements: Elements<'o>) -> Contour<'o> {
        let area = elements.segments().map(|side| side.signed_area()).sum();
        Contour { elements, bounds: elements.bounds(), area }
    }

    /// Whether another may lie within it, by bounds and area.
    fn may_hold(&self, other: &Contour<'_>) -> bool {
        let (outer, inner) = (self.bounds.inflate(TOUCH_MM, TOUCH_MM), other.bounds);
        self.area.abs() > other.area.abs() && outer.union(inner) == outer
    }

    /// Whether another, which does not cross it, lies within it.
    ///
    /// The two may touch in single points, mostly corners, and such a point tells neither inside nor outside. So
    /// the middles of several sides are looked at, and most of them must lie inside.
    fn holds(&self, other: &Contour<'_>) -> bool {
        let path: BezPath = self.elements.collect();
        let step = other.elements.segments().count().div_ceil(MOST_SIDES).max(1);
        let middles = other.elements.segments().step_by(step).map(|side| side.eval(0.5));
        let (inside, all) = middles
            .fold((0, 0), |(inside, all), at| (inside + u32::from(path.contains(at)), all + 1));
        2 * inside > all
    }
}

/// The outline with every contour running the way it must: outer ones from +x to +y, what lies in one directly
/// the other way, and so on inwards. No two contours may cross.
///
/// Contours that come out of the sweep run any way, and where contours touch the sweep takes some outer ones for
/// holes.
pub(super) fn oriented(outline: Outline) -> Outline {
    let contours: Vec<Contour<'_>> = elements_by_contour(&outline).map(Contour::of).collect();
    let holders = innermost(&contours, Asked::All);
    let holder = |at: usize| holders.get(at).and_then(|(_, holder)| *holder);
    let is_outer = |at: usize| std::iter::successors(holder(at), |at| holder(*at)).count() % 2 == 0;
    let is_right = |(at, contour): (usize, &Contour<'_>)| (contour.area > 0.0) == is_outer(at);
    if contours.iter().enumerate().all(is_right) {
        return outline;
    }
    let mut path = BezPath::new();
    for (at, contour) in contours.iter().enumerate() {
        let own: BezPath = contour.elements.collect();
        path.extend(if is_right((at, contour)) { own } else { own.reverse_subpaths() });
    }
    Outline::trusted(&path)
}

/// Which contours are asked what they lie in.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Asked {
    /// Holes alone, known by the way they run.
    Holes,
    /// All, however they run.
    All,
}

/// The smallest contour round each that is asked about, by their numbers, in drawing order.
fn innermost(contours: &[Contour<'_>], asked: Asked) -> Vec<(usize, Option<usize>)> {
    let mut from_left: Vec<(usize, &Contour<'_>)> = contours.iter().enumerate().collect();
    from_left.sort_by(|(_, a), (_, b)| a.bounds.x0.total_cmp(&b.bounds.x0));
    let mut coming = from_left.iter().peekable();
    let mut open: Vec<(usize, &Contour<'_>)> = Vec::new();
    let mut found = Vec::new();
    let is_asked = |contour: &Contour<'_>| asked == Asked::All || contour.area < 0.0;
    for (at, contour) in from_left.iter().filter(|(_, contour)| is_asked(contour)) {
        let x = contour.bounds.x0;
        open.extend(std::iter::from_fn(|| {
            coming.next_if(|(_, next)| next.bounds.x0 <= x + TOUCH_MM).copied()
        }));
        open.retain(|(_, left)| left.bounds.x1 >= x);
        let mut near: Vec<(usize, &Contour<'_>)> =
            open.iter().filter(|(_, other)| other.may_hold(contour)).copied().collect();
        near.sort_by(|(_, a), (_, b)| a.area.abs().total_cmp(&b.area.abs()));
        let holder = match near.as_slice() {
            // A hole with only one contour round it can lie in no other.
            [only] if asked == Asked::Holes => Some(only),
            near => near.iter().find(|(_, other)| other.holds(contour)),
        };
        found.push((*at, holder.map(|(number, _)| *number)));
    }
    found.sort_by_key(|(at, _)| *at);
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::{disc, rectangle};
    use kurbo::Point;

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
