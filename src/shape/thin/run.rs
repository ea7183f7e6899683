//! From single discs to places: strokes, necks and pieces that stand alone.

use super::disc::{Probed, Sample, disc};
use super::edge::Edge;
use super::{ThinPlace, WEDGE_LENGTHS};
use kurbo::{Point, Rect};
use std::collections::{BTreeMap, BTreeSet};

/// Widths are told to 0.01 mm: what rounds to the limit is not thinner than it.
const ROUNDING_MM: f64 = 0.005;

/// A stretch whose thinnest spot is less than this share of its widest closes up to nothing.
const CLOSES_UP: f64 = 0.3;

/// Pieces smaller than this are dust that no printer shows, mm²: a dot at 600 dpi.
const DUST_MM2: f64 = 0.002;

/// Narrower than this, mm, and parts touch in a point or along a hairline of rounding: told as 0.00 mm, it would
/// be no help.
const HAIRLINE_MM: f64 = 0.005;

/// Samples of one contour that are further apart than this many limits have something open between them.
const APART: f64 = 0.7;

/// How much a neck must widen to both sides, as a share of its width.
const NECK_WIDENS: f64 = 1.15;

pub(super) fn places(edge: &Edge, probed: &Probed) -> Vec<ThinPlace> {
    let thin = |sample: &Sample| sample.facing && sample.width < edge.width - ROUNDING_MM;
    let mut places = Vec::new();
    let mut pieces = BTreeSet::new();
    if probed.samples.iter().any(thin) {
        let mut runs: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        let mut joined = joined(edge, probed, &thin);
        for (at, sample) in probed.samples.iter().enumerate() {
            if thin(sample) {
                runs.entry(joined.root(at)).or_default().push(at);
            }
        }
        for run in runs.values() {
            if let Some((place, piece)) = place(edge, probed, run) {
                places.push(place);
                pieces.insert(piece);
            }
        }
    }
    places.extend(alone(edge, probed, &pieces));
    places
}

/// Samples joined with their neighbours along the edge and across.
fn joined(edge: &Edge, probed: &Probed, thin: &impl Fn(&Sample) -> bool) -> Joined {
    let samples = &probed.samples;
    let mut joined = Joined { parents: (0..samples.len()).collect() };
    for (at, sample) in samples.iter().enumerate().filter(|(_, sample)| thin(sample)) {
        if let Some(next) = beside(edge, probed, at, Way::On)
            && samples.get(next).is_some_and(thin)
        {
            joined.join(at, next);
        }
        let Some((touch, wall)) = sample.touch else { continue };
        for across in near(edge, probed, wall, touch) {
            let close = samples.get(across).is_some_and(|other| {
                thin(other)
                    && other.at.distance(touch) < edge.width * APART
                    && other.middle().distance(sample.middle()) < edge.width * APART / 2.0
            });
            if close {
                joined.join(at, across);
            }
        }
    }
    joined
}

/// The samples of a wall near a point on it, and those next to its ends: they stand in order along it, and a long
/// wall has thousands.
fn near(
    edge: &Edge,
    probed: &Probed,
    wall: usize,
    point: Point,
) -> impl Iterator<Item = usize> + use<> {
    let (from, to) = probed.of_wall.get(wall).copied().unwrap_or_default();
    let (mut first, mut last) = (from, to);
    if let (Some(wall), Some(own)) = (edge.walls.get(wall), probed.samples.get(from..to)) {
        let along = |at: Point| (at - wall.from).dot(wall.to - wall.from) / wall.length;
        let (middle, reach) = (along(point), edge.width * APART);
        first = from + own.partition_point(|sample| along(sample.at) < middle - reach);
        last = from + own.partition_point(|sample| along(sample.at) <= middle + reach);
    }
    let before = from.saturating_sub(2)..from;
    let after = to..(to + 2).min(probed.samples.len()).max(to);
    before.chain(first..last).chain(after)
}

/// Which way along the edge.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    On,
    Back,
}

/// The next sample along the edge, if nothing open lies between.
fn beside(edge: &Edge, probed: &Probed, at: usize, way: Way) -> Option<usize> {
    let sample = probed.samples.get(at)?;
    let (first, last) = range(edge, probed, sample)?;
    let next = match way {
        Way::On if at + 1 < last => at + 1,
        Way::On => first,
        Way::Back if at > first => at - 1,
        Way::Back => last - 1,
    };
    let other = probed.samples.get(next)?;
    (other.at.distance(sample.at) < edge.width * APART).then_some(next)
}

/// The samples of a sample's contour.
fn range(edge: &Edge, probed: &Probed, sample: &Sample) -> Option<(usize, usize)> {
    let contour = edge.walls.get(sample.wall)?.contour;
    let (from, to) = edge.contours.get(contour)?;
    Some((probed.of_wall.get(*from)?.0, probed.of_wall.get(to.checked_sub(1)?)?.1))
}

fn place(edge: &Edge, probed: &Probed, run: &[usize]) -> Option<(ThinPlace, Option<usize>)> {
    let of = |at: &usize| probed.samples.get(*at).map(|sample| (*at, sample));
    let (at, thinnest) = run
        .iter()
        .filter_map(of)
        .min_by(|a, b| a.1.width.total_cmp(&b.1.width).then(a.0.cmp(&b.0)))?;
    let widest = run.iter().filter_map(of).map(|(_, sample)| sample.width).fold(0.0, f64::max);
    let length_mm = length(edge, probed, run);
    let is_neck = [Way::On, Way::Back].iter().all(|way| widens(edge, probed, at, *way));
    let least = if thinnest.width < CLOSES_UP * widest { WEDGE_LENGTHS } else { 0.5 };
    if thinnest.width < HAIRLINE_MM || (!is_neck && length_mm < least * edge.width) {
        return None;
    }
    let (touch, across) = thinnest.touch?;
    let start = Rect::from_points(thinnest.at, touch);
    let bounds = run.iter().filter_map(of).fold(start, |all, (_, sample)| {
        let all = all.union_pt(sample.at);
        sample.touch.map_or(all, |(touch, _)| all.union_pt(touch))
    });
    let contour = edge.walls.get(thinnest.wall)?.contour;
    let piece = edge.piece_of.get(contour);
    let place = ThinPlace {
        between_parts: edge.walls.get(across)?.contour != contour,
        at: thinnest.at.midpoint(touch),
        sides: [thinnest.at, touch],
        width_mm: thinnest.width,
        length_mm,
        bounds,
    };
    Some((place, piece.copied().flatten()))
}

/// How long a run is: half of its edges, or its longer side where the other is a corner.
fn length(edge: &Edge, probed: &Probed, run: &[usize]) -> f64 {
    let members: BTreeSet<usize> = run.iter().copied().collect();
    let (mut total, mut longest, mut current) = (0.0, 0.0_f64, 0.0);
    for at in run {
        let next = beside(edge, probed, *at, Way::On).filter(|next| members.contains(next));
        let ends = next.and_then(|next| probed.samples.get(next)).zip(probed.samples.get(*at));
        match ends {
            Some((next, sample)) => {
                let step = next.at.distance(sample.at);
                total += step;
                current += step;
                longest = longest.max(current);
                if next.wall < sample.wall {
                    current = 0.0;
                }
            }
            None => current = 0.0,
        }
    }
    longest.max(total / 2.0)
}

/// Whether the place gets wider from its thinnest spot on, this way along the edge.
fn widens(edge: &Edge, probed: &Probed, start: usize, way: Way) -> bool {
    let Some(sample) = probed.samples.get(start) else { return false };
    let Some((touch, _)) = sample.touch else { return false };
    let wider = (sample.width * NECK_WIDENS).min(edge.width - ROUNDING_MM);
    let (mut at, mut walked) = (start, 0.0);
    while walked < 3.0 * edge.width {
        let Some(next) = beside(edge, probed, at, way) else { return true };
        let (Some(here), Some(there)) = (probed.samples.get(at), probed.samples.get(next)) else {
            return false;
        };
        walked += here.at.distance(there.at);
        if there.width >= wider {
            return true;
        }
        // Round the end of a stroke or through the tip of a corner to the other side.
        let round = there.at.distance(touch) < sample.width / 2.0;
        if there.width < sample.width * 0.9 || round {
            return false;
        }
        at = next;
    }
    false
}

/// Pieces without room for a disc of the limit, but for those of `known` places.
fn alone(edge: &Edge, probed: &Probed, known: &BTreeSet<Option<usize>>) -> Vec<ThinPlace> {
    let all = edge.piece_of.iter().flatten();
    let mut widest: BTreeMap<usize, Option<Sample>> = all.map(|piece| (*piece, None)).collect();
    let mut open: BTreeSet<usize> = BTreeSet::new();
    for (open_here, piece) in probed.open.iter().zip(&edge.piece_of) {
        if let (true, Some(piece)) = (open_here, piece) {
            open.insert(*piece);
        }
    }
    for sample in &probed.samples {
        let contour = edge.walls.get(sample.wall).map(|wall| wall.contour);
        let piece = contour.and_then(|contour| edge.piece_of.get(contour)).copied().flatten();
        let Some(best) = piece.and_then(|piece| widest.get_mut(&piece)) else { continue };
        if best.is_none_or(|best| best.width < sample.width) {
            *best = Some(*sample);
        }
    }
    widest
        .into_iter()
        .filter(|(piece, _)| !open.contains(piece) && !known.contains(&Some(*piece)))
        .filter_map(|(piece, sample)| lone_place(edge, piece, &sample?))
        .collect()
}

fn lone_place(edge: &Edge, piece: usize, widest: &Sample) -> Option<ThinPlace> {
    let (from, to) = edge.contours.get(piece)?;
    let walls = edge.walls.get(*from..*to)?;
    let area =
        walls.iter().map(|wall| wall.from.to_vec2().cross(wall.to.to_vec2())).sum::<f64>() / 2.0;
    if widest.width >= edge.width - ROUNDING_MM || area < DUST_MM2 {
        return None;
    }
    let sample = grown_most(edge, widest);
    if sample.width >= edge.width - ROUNDING_MM {
        return None;
    }
    let start = Rect::from_points(widest.at, widest.at);
    let bounds = walls.iter().fold(start, |all, wall| all.union_pt(wall.from));
    let middle = sample.middle();
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
fn grown_most(edge: &Edge, sample: &Sample) -> Sample {
    let mut best = *sample;
    let Some(wall) = edge.walls.get(sample.wall) else { return best };
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
            let width = disc(edge, &near, (at, normal), [sample.wall; 2])
                .map_or(edge.width, |found| found.0);
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

/// Sets of samples.
struct Joined {
    parents: Vec<usize>,
}

impl Joined {
    fn root(&mut self, at: usize) -> usize {
        let mut root = at;
        while let Some(parent) = self.parents.get(root).copied().filter(|parent| *parent != root) {
            root = parent;
        }
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
