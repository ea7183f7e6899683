//! The same letter on ten thousand markers is judged once.
//!
//! Ink that does not touch is judged part by part, and clear between two parts pair by pair. Parts are known
//! again by their corners to a hundredth of a micrometre from their first one; what is judged is the rounded
//! part, so that it does not matter which of many was met first.

use super::{Kind, thin};
use crate::shape::{Outline, ThinPlace};
use crate::units::whole;
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Vec2};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Steps to a millimetre in which corners are compared.
const STEPS: f64 = 1e5;

/// A letter is judged with its two neighbours; when parts would be judged more often than this, all are judged
/// at once, though nothing is then known again.
const MOST_TIMES_JUDGED: usize = 8;

/// Two parts by their numbers and how far the second lies from the first, in steps.
type Pair = (usize, usize, i64, i64);

/// What has been judged.
pub(in crate::check) struct Memo {
    kind: Kind,
    width_mm: f64,
    parts: Mutex<BTreeMap<Vec<i64>, Arc<Part>>>,
    pairs: Mutex<BTreeMap<Pair, Arc<Vec<ThinPlace>>>>,
}

/// A part of an outline: an outer contour and its holes, its first corner at the origin.
struct Part {
    number: usize,
    outline: Outline,
    bounds: Rect,
    places: Vec<ThinPlace>,
}

impl Memo {
    pub(in crate::check) fn new(kind: Kind, width_mm: f64) -> Memo {
        Memo { kind, width_mm, parts: Mutex::default(), pairs: Mutex::default() }
    }

    /// The thin places of an outline.
    pub(in crate::check) fn thin(&self, outline: &Outline) -> Vec<ThinPlace> {
        let parts: Vec<(Vec2, Arc<Part>)> =
            outline.parts().iter().map(|part| self.part(part)).collect();
        let mut all: Vec<ThinPlace> = Vec::new();
        for (shift, part) in &parts {
            all.extend(part.places.iter().map(|place| place.moved(*shift)));
        }
        if self.kind == Kind::Ink {
            return all;
        }
        let pairs = self.near(&parts);
        let size = |at: &usize| parts.get(*at).map_or(0, |(_, part)| part.outline.elements().len());
        let work: usize = pairs.iter().map(|(one, other)| size(one) + size(other)).sum();
        if work > MOST_TIMES_JUDGED * outline.elements().len() {
            // A ring with a hundred numbers round it would be judged a hundred times.
            all.extend(
                thin(outline, self.kind, self.width_mm).into_iter().filter(|one| one.between_parts),
            );
            return all;
        }
        for (one, other) in pairs {
            let (Some((shift, part)), Some((other_shift, other))) =
                (parts.get(one), parts.get(other))
            else {
                continue;
            };
            let between = self.between(part, other, *other_shift - *shift);
            all.extend(between.iter().map(|place| place.moved(*shift)));
        }
        all
    }

    /// The pairs of parts that come near enough to leave a thin gap.
    fn near(&self, parts: &[(Vec2, Arc<Part>)]) -> Vec<(usize, usize)> {
        let mut pairs = Vec::new();
        for (at, (shift, part)) in parts.iter().enumerate() {
            let reach = (part.bounds + *shift).inflate(self.width_mm, self.width_mm);
            for (other, (other_shift, next)) in parts.iter().enumerate().skip(at + 1) {
                if reach.overlaps(next.bounds + *other_shift) {
                    pairs.push((at, other));
                }
            }
        }
        pairs
    }

    /// A part, and where its first corner lies.
    fn part(&self, part: &Outline) -> (Vec2, Arc<Part>) {
        let first = part.start().to_vec2();
        let key = corners(part, first);
        let known = self.parts.lock().unwrap_or_else(PoisonError::into_inner).get(&key).cloned();
        if let Some(known) = known {
            return (first, known);
        }
        let outline = Outline::trusted(&rounded(part, first));
        let places = thin(&outline, self.kind, self.width_mm);
        let bounds = outline.bounds();
        let mut parts = self.parts.lock().unwrap_or_else(PoisonError::into_inner);
        let number = parts.len();
        let part =
            parts.entry(key).or_insert_with(|| Arc::new(Part { number, outline, bounds, places }));
        (first, Arc::clone(part))
    }

    /// The thin gaps between two parts, in the frame of the first.
    fn between(&self, one: &Part, other: &Part, away: Vec2) -> Arc<Vec<ThinPlace>> {
        let (x, y) = (steps(away.x), steps(away.y));
        let key = (one.number, other.number, x, y);
        let known = self.pairs.lock().unwrap_or_else(PoisonError::into_inner).get(&key).cloned();
        if let Some(known) = known {
            return known;
        }
        let shift = Vec2::new(length(x), length(y));
        let both = one.outline.clone().beside(&other.outline.placed(Affine::translate(shift)));
        let mut places = thin(&both, self.kind, self.width_mm);
        places.retain(|place| place.between_parts);
        let places = Arc::new(places);
        let mut pairs = self.pairs.lock().unwrap_or_else(PoisonError::into_inner);
        Arc::clone(pairs.entry(key).or_insert(places))
    }
}

/// What a part is known by: its corners from the first one, in steps.
fn corners(part: &Outline, first: Vec2) -> Vec<i64> {
    let mut key = Vec::with_capacity(part.elements().len() * 5);
    for element in part.elements() {
        let (verb, points) = match element {
            PathEl::MoveTo(to) => (0, [Some(to), None, None]),
            PathEl::LineTo(to) => (1, [Some(to), None, None]),
            PathEl::QuadTo(a, to) => (2, [Some(a), Some(to), None]),
            PathEl::CurveTo(a, b, to) => (3, [Some(a), Some(b), Some(to)]),
            PathEl::ClosePath => (4, [None; 3]),
        };
        key.push(verb);
        for point in points.into_iter().flatten() {
            key.extend([steps(point.x - first.x), steps(point.y - first.y)]);
        }
    }
    key
}

/// A part from its first corner, rounded to steps.
fn rounded(part: &Outline, first: Vec2) -> BezPath {
    let corner = |point: Point| {
        Point::new(length(steps(point.x - first.x)), length(steps(point.y - first.y)))
    };
    let rounded = part.elements().map(|element| match element {
        PathEl::MoveTo(to) => PathEl::MoveTo(corner(to)),
        PathEl::LineTo(to) => PathEl::LineTo(corner(to)),
        PathEl::QuadTo(a, to) => PathEl::QuadTo(corner(a), corner(to)),
        PathEl::CurveTo(a, b, to) => PathEl::CurveTo(corner(a), corner(b), corner(to)),
        PathEl::ClosePath => PathEl::ClosePath,
    });
    rounded.collect()
}

/// A length in whole steps.
fn steps(mm: f64) -> i64 {
    whole(mm * STEPS)
}

#[allow(clippy::cast_precision_loss, reason = "a metre is 1e8 steps")]
fn length(steps: i64) -> f64 {
    steps as f64 / STEPS
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::{disc, rectangle};

    #[test]
    fn parts_and_pairs_tell_the_same_as_the_whole() {
        let ring = |x: f64| disc(Point::new(x, 0.3), 3.0).minus(&disc(Point::new(x, 0.3), 2.7));
        let bar = |x: f64| rectangle(Rect::new(x, -1.0, x + 0.1, 1.0));
        let parts = [ring(0.0), ring(3.15), ring(10.0), ring(13.15), bar(5.0), bar(5.22)];
        let whole = parts.iter().fold(Outline::default(), |all, part| all.beside(part));
        for kind in [Kind::Ink, Kind::Clear] {
            let memo = Memo::new(kind, 0.2);
            let widths = |mut places: Vec<ThinPlace>| {
                places.sort_by(|a, b| a.at.x.total_cmp(&b.at.x).then(a.at.y.total_cmp(&b.at.y)));
                let text = places.iter().map(|place| format!("{:.3}", place.width_mm));
                text.collect::<Vec<_>>()
            };
            let mut direct = widths(thin(&whole, kind, 0.2));
            let mut found = widths(memo.thin(&whole));
            direct.sort();
            found.sort();
            assert!(!direct.is_empty());
            assert_eq!(found, direct);
            assert_eq!(widths(memo.thin(&whole)), widths(memo.thin(&whole)));
        }
    }
}
