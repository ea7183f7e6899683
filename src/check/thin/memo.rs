//! Remembers the thin places of outlines: the same letter may stand on ten thousand markers.
//!
//! Ink that does not touch is judged part by part, and clear between two parts pair by pair. Parts are known
//! again by their corners to a hundredth of a micrometre from their first one; what is judged is the rounded
//! part, so that it does not matter which of many was met first.

use super::{Kind, thin};
use crate::shape::{Outline, ThinPlace};
use crate::units::whole;
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Vec2};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
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
    numbered: AtomicUsize,
}

/// A part of an outline: an outer contour and its holes, its first corner at the origin.
struct Part {
    number: usize,
    outline: Outline,
    bounds: Rect,
    places: Vec<ThinPlace>,
}

impl Part {
    fn elements(&self) -> usize {
        self.outline.elements().len()
    }
}

/// A part, and where its first corner lies.
type Placed = (Vec2, Arc<Part>);

impl Memo {
    pub(in crate::check) fn new(kind: Kind, width_mm: f64) -> Memo {
        let (parts, pairs, numbered) = Default::default();
        Memo { kind, width_mm, parts, pairs, numbered }
    }

    /// The thin places of an outline.
    pub(in crate::check) fn thin(&self, outline: &Outline) -> Vec<ThinPlace> {
        let parts: Vec<Placed> = outline.parts().iter().map(|part| self.part(part)).collect();
        let mut all: Vec<ThinPlace> = Vec::new();
        for (shift, part) in &parts {
            all.extend(part.places.iter().map(|place| place.moved(*shift)));
        }
        if self.kind == Kind::Ink {
            return all;
        }
        let pairs = self.near(&parts);
        let work = pairs.iter().map(|((_, one), (_, other))| one.elements() + other.elements());
        if work.sum::<usize>() > MOST_TIMES_JUDGED * outline.elements().len() {
            // A ring with a hundred numbers round it would be judged a hundred times.
            let places = thin(outline, self.kind, self.width_mm).into_iter();
            all.extend(places.filter(|one| one.between_parts));
            return all;
        }
        for ((shift, one), (other_shift, other)) in pairs {
            let between = self.between(one, other, *other_shift - *shift);
            all.extend(between.iter().map(|place| place.moved(*shift)));
        }
        all
    }

    /// The pairs of parts that come near enough to leave a thin gap.
    fn near<'p>(&self, parts: &'p [Placed]) -> Vec<(&'p Placed, &'p Placed)> {
        let mut pairs = Vec::new();
        for (at, one) in parts.iter().enumerate() {
            let reach = (one.1.bounds + one.0).inflate(self.width_mm, self.width_mm);
            let others = parts.iter().skip(at + 1);
            let near = others.filter(|(shift, next)| reach.overlaps(next.bounds + *shift));
            pairs.extend(near.map(|other| (one, other)));
        }
        pairs
    }

    fn part(&self, part: &Outline) -> Placed {
        let first = part.start().to_vec2();
        let judged = once(&self.parts, corners(part, first), || {
            let outline = Outline::trusted(&rounded(part, first));
            let places = thin(&outline, self.kind, self.width_mm);
            let number = self.numbered.fetch_add(1, Ordering::Relaxed);
            Arc::new(Part { number, bounds: outline.bounds(), outline, places })
        });
        (first, judged)
    }

    /// The thin gaps between two parts, in the frame of the first.
    fn between(&self, one: &Part, other: &Part, away: Vec2) -> Arc<Vec<ThinPlace>> {
        let (x, y) = (steps(away.x), steps(away.y));
        once(&self.pairs, (one.number, other.number, x, y), || {
            let shift = Affine::translate((length(x), length(y)));
            let both = one.outline.clone().beside(&other.outline.placed(shift));
            let mut places = thin(&both, self.kind, self.width_mm);
            places.retain(|place| place.between_parts);
            Arc::new(places)
        })
    }
}

/// What is known by a key, made when it is asked for first; two cores may make it at the same time.
fn once<K: Ord, V: Clone>(known: &Mutex<BTreeMap<K, V>>, key: K, make: impl FnOnce() -> V) -> V {
    let held = || known.lock().unwrap_or_else(PoisonError::into_inner);
    let found = held().get(&key).cloned();
    found.unwrap_or_else(|| {
        let made = make();
        held().entry(key).or_insert(made).clone()
    })
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
