//! From single discs to places: strokes, necks and pieces that stand alone.

use super::disc::{Sample, Samples, disc};
use super::edge::Edge;
use super::{ThinPlace, WEDGE_LENGTHS};
use crate::known::item;
use kurbo::{Point, Rect};
use std::collections::{BTreeMap, BTreeSet};

/// Widths are reported to 0.01 mm: a width that rounds to the limit is not thinner than it.
const ROUNDING_MM: f64 = 0.005;

/// A stretch whose thinnest spot is less than this share of its widest closes up to nothing.
const CLOSES_UP: f64 = 0.3;

/// Pieces smaller than this, mm², are too small for any printer to show and are not reported: a dot at 600 dpi.
const DUST_MM2: f64 = 0.002;

/// Where parts are nearer than this, mm, they touch in a point or along a hairline of rounding. Such a place is not
/// reported: a width of 0.00 mm would tell the person nothing.
const HAIRLINE_MM: f64 = 0.005;

/// Samples of one contour that are further apart than this many limits have something open between them.
const APART: f64 = 0.7;

/// How much a neck must widen to both sides, as a share of its width.
const NECK_WIDENS: f64 = 1.15;

/// The places thinner than the limit.
pub(super) fn places(edge: &Edge, samples: &Samples) -> Vec<ThinPlace> {
    let walk = Walk { edge, samples };
    let mut places = Vec::new();
    let mut pieces = BTreeSet::new();
    for run in walk.runs() {
        if let Some((place, piece)) = walk.place(&run) {
            places.push(place);
            pieces.extend(piece);
        }
    }
    places.extend(walk.standing_alone(&pieces));
    places
}

/// The edge and its samples, to walk along.
struct Walk<'a> {
    edge: &'a Edge,
    samples: &'a Samples,
}

/// Which way to walk along the edge.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Heading {
    Onwards,
    Back,
}

impl Walk<'_> {
    fn sample(&self, at: usize) -> Option<&Sample> {
        item(&self.samples.list, at)
    }

    fn is_thin(&self, sample: &Sample) -> bool {
        sample.facing && sample.width < self.edge.width - ROUNDING_MM
    }

    /// The thin samples, those that belong together in one list, in the order of the edge.
    fn runs(&self) -> Vec<Vec<usize>> {
        let thin = self.samples.list.iter().enumerate().filter(|(_, sample)| self.is_thin(sample));
        let mut sets = Sets { parents: (0..self.samples.list.len()).collect() };
        for (at, sample) in thin.clone() {
            for other in self.belonging(at, sample) {
                sets.join(at, other);
            }
        }
        let mut runs: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (at, _) in thin {
            runs.entry(sets.root(at)).or_default().push(at);
        }
        runs.into_values().collect()
    }

    /// The thin samples that belong to the same place as this one: the next along the edge and those across.
    fn belonging(&self, at: usize, sample: &Sample) -> Vec<usize> {
        let is_thin = |at: &usize| self.sample(*at).is_some_and(|other| self.is_thin(other));
        let mut found: Vec<usize> =
            self.beside(at, Heading::Onwards).filter(is_thin).into_iter().collect();
        if let Some((touch, wall)) = sample.touch {
            let reach = self.edge.width * APART;
            found.extend(self.near(wall, touch).filter(is_thin).filter(|across| {
                self.sample(*across).is_some_and(|other| {
                    other.at.distance(touch) < reach
                        && other.middle().distance(sample.middle()) < reach / 2.0
                })
            }));
        }
        found
    }

    /// The samples of a wall near a point on it, and those next to its ends. They are found by halving, as they
    /// stand in order along the wall and a long one has thousands.
    fn near(&self, wall: usize, point: Point) -> impl Iterator<Item = usize> + use<> {
        let own = self.samples.of_wall.get(wall).cloned().unwrap_or_default();
        let mut inner = own.clone();
        if let (Some(wall), Some(samples)) =
            (self.edge.walls.get(wall), self.samples.list.get(own.clone()))
        {
            let along = |at: Point| (at - wall.from).dot(wall.to - wall.from) / wall.length;
            let (middle, reach) = (along(point), self.edge.width * APART);
            let first = samples.partition_point(|sample| along(sample.at) < middle - reach);
            let last = samples.partition_point(|sample| along(sample.at) <= middle + reach);
            inner = own.start + first..own.start + last;
        }
        let before = own.start.saturating_sub(2)..own.start;
        let after = own.end..(own.end + 2).min(self.samples.list.len()).max(own.end);
        before.chain(inner).chain(after)
    }

    /// The next sample along the edge, if nothing open lies between.
    fn beside(&self, at: usize, heading: Heading) -> Option<usize> {
        let sample = self.sample(at)?;
        let walls = &self.edge.contour_of(sample.wall)?.walls;
        let first = self.samples.of_wall.get(walls.start)?.start;
        let last = self.samples.of_wall.get(walls.end.checked_sub(1)?)?.end;
        let next = match heading {
            Heading::Onwards if at + 1 < last => at + 1,
            Heading::Onwards => first,
            Heading::Back if at > first => at - 1,
            Heading::Back => last - 1,
        };
        let apart = self.sample(next)?.at.distance(sample.at);
        (apart < self.edge.width * APART).then_some(next)
    }

    /// The place a run of samples makes, and the piece it lies in; `None` when it is no place to report.
    fn place(&self, run: &[usize]) -> Option<(ThinPlace, Option<usize>)> {
        let of_run = || run.iter().filter_map(|at| Some((*at, self.sample(*at)?)));
        let (at, thinnest) =
            of_run().min_by(|a, b| a.1.width.total_cmp(&b.1.width).then(a.0.cmp(&b.0)))?;
        let widest = of_run().map(|(_, sample)| sample.width).fold(0.0, f64::max);
        let length_mm = self.length(run);
        let is_neck = self.widens(at, Heading::Onwards) && self.widens(at, Heading::Back);
        let least = if thinnest.width < CLOSES_UP * widest { WEDGE_LENGTHS } else { 0.5 };
        if thinnest.width < HAIRLINE_MM || (!is_neck && length_mm < least * self.edge.width) {
            return None;
        }
        let (touch, across) = thinnest.touch?;
        let start = Rect::from_points(thinnest.at, touch);
        let bounds = of_run().fold(start, |all, (_, sample)| {
            let all = all.union_pt(sample.at);
            sample.touch.map_or(all, |(touch, _)| all.union_pt(touch))
        });
        let contour = item(&self.edge.walls, thinnest.wall)?.contour;
        let place = ThinPlace {
            between_parts: item(&self.edge.walls, across)?.contour != contour,
            at: thinnest.at.midpoint(touch),
            sides: [thinnest.at, touch],
            width_mm: thinnest.width,
            length_mm,
            bounds,
        };
        Some((place, item(&self.edge.contours, contour)?.piece))
    }

    /// How long a run is: half of its edges, or its longer side where the other is a corner.
    fn length(&self, run: &[usize]) -> f64 {
        let members: BTreeSet<usize> = run.iter().copied().collect();
        let (mut total, mut longest, mut current) = (0.0, 0.0_f64, 0.0);
        for at in run {
            let next = self.beside(*at, Heading::Onwards).filter(|next| members.contains(next));
            let ends = next.and_then(|next| self.sample(next)).zip(self.sample(*at));
            let Some((next, sample)) = ends else {
                current = 0.0;
                continue;
            };
            let step = next.at.distance(sample.at);
            total += step;
            current += step;
            longest = longest.max(current);
            if next.wall < sample.wall {
                current = 0.0;
            }
        }
        longest.max(total / 2.0)
    }

    /// Whether the place gets wider from its thinnest spot on, this way along the edge.
    fn widens(&self, start: usize, heading: Heading) -> bool {
        let Some(sample) = self.sample(start) else { return false };
        let Some((touch, _)) = sample.touch else { return false };
        let wider = (sample.width * NECK_WIDENS).min(self.edge.width - ROUNDING_MM);
        let (mut at, mut here, mut walked) = (start, sample, 0.0);
        while walked < 3.0 * self.edge.width {
            let next = self.beside(at, heading).and_then(|next| Some((next, self.sample(next)?)));
            let Some((next, there)) = next else { return true };
            walked += here.at.distance(there.at);
            if there.width >= wider {
                return true;
            }
            // Round the end of a stroke or through the tip of a corner to the other side.
            let round = there.at.distance(touch) < sample.width / 2.0;
            if there.width < sample.width * 0.9 || round {
                return false;
            }
            (at, here) = (next, there);
        }
        false
    }

    /// The pieces without room for a disc of the limit, except those `known` to have a thin place.
    fn standing_alone(&self, known: &BTreeSet<usize>) -> Vec<ThinPlace> {
        let contours = &self.edge.contours;
        let mut widest: BTreeMap<usize, Option<&Sample>> =
            contours.iter().filter_map(|contour| Some((contour.piece?, None))).collect();
        for sample in &self.samples.list {
            let piece = self.edge.contour_of(sample.wall).and_then(|contour| contour.piece);
            let Some(best) = piece.and_then(|piece| widest.get_mut(&piece)) else { continue };
            if best.is_none_or(|best| best.width < sample.width) {
                *best = Some(sample);
            }
        }
        for (contour, is_open) in contours.iter().zip(&self.samples.open) {
            if let (Some(piece), true) = (contour.piece, is_open) {
                widest.remove(&piece);
            }
        }
        widest
            .into_iter()
            .filter(|(piece, _)| !known.contains(piece))
            .filter_map(|(piece, sample)| self.lone_place(piece, sample?))
            .collect()
    }

    fn lone_place(&self, piece: usize, widest: &Sample) -> Option<ThinPlace> {
        let contour = item(&self.edge.contours, piece)?;
        let limit = self.edge.width - ROUNDING_MM;
        if widest.width >= limit || contour.area < DUST_MM2 {
            return None;
        }
        let sample = self.largest_near(widest);
        if sample.width >= limit {
            return None;
        }
        let (middle, bounds) = (sample.middle(), contour.bounds);
        let half = sample.normal * (sample.width / 2.0);
        Some(ThinPlace {
            at: middle,
            between_parts: false,
            sides: [middle - half, middle + half],
            width_mm: sample.width,
            length_mm: bounds.width().max(bounds.height()),
            bounds,
        })
    }

    /// The largest disc near a sample, found by stepping along its wall.
    fn largest_near(&self, sample: &Sample) -> Sample {
        let (edge, mut best) = (self.edge, *sample);
        let Some(wall) = item(&edge.walls, sample.wall) else { return best };
        let reach = Rect::from_center_size(sample.at, (4.0 * edge.width, 4.0 * edge.width));
        let mut near = Vec::new();
        edge.near(reach, &mut near);
        let share_of = |at: Point| (at - wall.from).dot(wall.to - wall.from) / wall.length.powi(2);
        let mut step = edge.width / 12.0 / wall.length;
        for _ in 0..24 {
            let share = share_of(best.at);
            let mut better = false;
            for share in [share - step, share + step] {
                let share = share.clamp(0.0, 1.0);
                let (at, normal) = (wall.at(share), wall.normal_at(share));
                let disc = disc(edge, &near, at, normal, [sample.wall; 2]);
                let width = disc.map_or(edge.width, |disc| disc.diameter);
                if width > best.width {
                    best = Sample { at, normal, width, ..best };
                    better = true;
                }
            }
            if !better {
                step /= 2.0;
            }
        }
        best
    }
}

/// Samples in sets that can be joined: each points to another of its set, the first of all to itself.
struct Sets {
    parents: Vec<usize>,
}

impl Sets {
    /// The first sample of a sample's set.
    fn root(&mut self, at: usize) -> usize {
        let mut root = at;
        while let Some(parent) = self.parents.get(root).copied().filter(|parent| *parent != root) {
            root = parent;
        }
        // All on the way point there directly from now on.
        let mut at = at;
        while let Some(parent) = self.parents.get_mut(at).filter(|parent| **parent != root) {
            at = std::mem::replace(parent, root);
        }
        root
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.root(a), self.root(b));
        if let Some(parent) = self.parents.get_mut(a.max(b)) {
            *parent = a.min(b);
        }
    }
}
