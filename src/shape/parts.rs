//! What an outline falls into: its outer contours, each with its holes.

use super::{Elements, Outline, Verb};
use kurbo::{ParamCurveArea as _, Point, Rect};
use std::sync::OnceLock;

/// A contour of an outline, where it stands there.
#[derive(Clone, Copy)]
struct Contour<'o> {
    verbs: &'o [Verb],
    points: &'o [Point],
    /// Round all its points, controls too.
    bounds: Rect,
}

impl Contour<'_> {
    fn elements(&self) -> Elements<'_> {
        Elements { verbs: self.verbs.iter(), points: self.points }
    }

    fn is_outer(&self) -> bool {
        let area: f64 = kurbo::segments(self.elements()).map(|segment| segment.signed_area()).sum();
        area > 0.0
    }

    fn outline(&self, holes: &[Contour<'_>]) -> Outline {
        let all = || std::iter::once(self).chain(holes);
        let mut outline = Outline {
            verbs: Vec::with_capacity(all().map(|contour| contour.verbs.len()).sum()),
            points: Vec::with_capacity(all().map(|contour| contour.points.len()).sum()),
            bounds: OnceLock::new(),
        };
        for contour in all() {
            outline.verbs.extend_from_slice(contour.verbs);
            outline.points.extend_from_slice(contour.points);
        }
        outline
    }
}

/// See [`Outline::parts`].
pub(super) fn parts(outline: &Outline) -> Vec<Outline> {
    let (shells, holes): (Vec<_>, Vec<_>) = contours(outline).partition(Contour::is_outer);
    let mut owned: Vec<Vec<Contour<'_>>> = vec![Vec::new(); shells.len()];
    for hole in holes {
        match owner(&hole, &shells).and_then(|at| owned.get_mut(at)) {
            Some(owned) => owned.push(hole),
            // A hole that only touches its shell: nothing may be parted.
            None => return vec![outline.clone()],
        }
    }
    shells.iter().zip(&owned).map(|(shell, holes)| shell.outline(holes)).collect()
}

fn contours(outline: &Outline) -> impl Iterator<Item = Contour<'_>> {
    let (mut verbs, mut points) = (outline.verbs.as_slice(), outline.points.as_slice());
    std::iter::from_fn(move || {
        let (_, more) = verbs.split_first()?;
        let count = 1 + more.iter().take_while(|verb| **verb != Verb::Move).count();
        let (own, rest) = verbs.split_at_checked(count)?;
        let (corners, others) =
            points.split_at_checked(own.iter().map(|verb| verb.points()).sum())?;
        (verbs, points) = (rest, others);
        let first = corners.first().copied().unwrap_or_default();
        let bounds = corners
            .iter()
            .fold(Rect::from_points(first, first), |bounds, point| bounds.union_pt(*point));
        Some(Contour { verbs: own, points: corners, bounds })
    })
}

/// The smallest outer contour round a hole.
fn owner(hole: &Contour<'_>, shells: &[Contour<'_>]) -> Option<usize> {
    let start = *hole.points.first()?;
    let near = || shells.iter().enumerate().filter(|(_, shell)| shell.bounds.contains(start));
    let (first, second) = (near().next()?, near().nth(1));
    if second.is_none() {
        return Some(first.0);
    }
    let holding = near().filter(|(_, shell)| shell.outline(&[]).contains(start));
    holding.min_by(|a, b| a.1.bounds.area().total_cmp(&b.1.bounds.area())).map(|(at, _)| at)
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
    fn nothing_is_lost_when_a_hole_has_no_contour_round_it() {
        let lost = Outline::trusted(&disc(Point::ORIGIN, 1.0).path().reverse_subpaths());
        let whole = disc(Point::new(5.0, 0.0), 2.0).beside(&lost);
        assert_eq!(whole.parts(), std::slice::from_ref(&whole));
    }
}
