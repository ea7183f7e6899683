//! The largest disc that touches the edge at a point and holds nothing else of it.

use super::PARALLEL_DEG;
use super::edge::{Edge, SAME_MM, Wall};
use crate::known::item;
use kurbo::{Point, Rect, Vec2};
use std::ops::Range;

/// Samples stand a twelfth of the limit apart: facing curves are then measured within a micrometre.
const STEPS_TO_LIMIT: f64 = 12.0;

/// Walls longer than this many limits are sampled only where others are near.
const LONG: f64 = 4.0;

/// A corner of the edge that turns into the judged side by more than this is sampled in steps of as much, degrees.
const FAN_DEG: f64 = 6.0;

/// A point of the edge and the disc that touches it there.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sample {
    pub(super) at: Point,
    /// Into the judged side.
    pub(super) normal: Vec2,
    pub(super) wall: usize,
    /// Diameter of the disc, mm; the limit where it is not smaller.
    pub(super) width: f64,
    /// Where it touches the edge again, and on which wall.
    pub(super) touch: Option<(Point, usize)>,
    /// Whether the two touching points face each other.
    pub(super) facing: bool,
}

impl Sample {
    fn of(edge: &Edge, at: Point, normal: Vec2, wall: usize, disc: Option<TouchingDisc>) -> Sample {
        let Some(TouchingDisc { diameter, touch, wall: on }) = disc else {
            return Sample { at, normal, wall, width: edge.width, touch: None, facing: false };
        };
        let across = touch - at;
        // The sides there run at twice the angle between the line across and the normal.
        let least = libm::cos((PARALLEL_DEG / 2.0).to_radians());
        let facing = across.dot(normal) >= least * across.hypot();
        Sample { at, normal, wall, width: diameter, touch: Some((touch, on)), facing }
    }

    /// The middle of the disc.
    pub(super) fn middle(&self) -> Point {
        self.at + self.normal * (self.width / 2.0)
    }
}

/// A disc that touches the edge twice.
#[derive(Clone, Copy, Debug)]
pub(super) struct TouchingDisc {
    /// mm.
    pub(super) diameter: f64,
    /// Where it touches the edge again.
    touch: Point,
    /// The wall it touches there.
    wall: usize,
}

/// The samples taken along the edge.
#[derive(Debug, Default)]
pub(super) struct Samples {
    /// In the order of the walls.
    pub(super) list: Vec<Sample>,
    /// First sample of each wall, and one past its last.
    pub(super) of_wall: Vec<Range<usize>>,
    /// For each contour, whether part of it faces no wall within the limit, so that such a disc has room there.
    pub(super) open: Vec<bool>,
}

/// Samples the whole edge.
pub(super) fn sample_edge(edge: &Edge) -> Samples {
    let mut samples = Samples::default();
    let mut sampler = Sampler { edge, facing: Vec::new(), near: Vec::new() };
    for contour in &edge.contours {
        let walls = edge.walls.iter().enumerate();
        let mut is_open = false;
        for (at, wall) in walls.take(contour.walls.end).skip(contour.walls.start) {
            let first = samples.list.len();
            sampler.find_facing(wall, at);
            is_open |= !sampler.sample_wall(wall, at, &mut samples.list);
            sampler.sample_corner(wall, at, &mut samples.list);
            samples.of_wall.push(first..samples.list.len());
        }
        samples.open.push(is_open);
    }
    samples
}

/// Takes samples, and keeps its lists from wall to wall.
struct Sampler<'e> {
    edge: &'e Edge,
    /// The walls that face the one that is sampled.
    facing: Vec<usize>,
    /// The walls near one point of it.
    near: Vec<usize>,
}

/// A stretch of a wall that another wall faces.
struct Stretch {
    /// mm from the wall's start.
    from: f64,
    to: f64,
    /// From sample to sample, mm.
    step: f64,
}

impl Sampler<'_> {
    /// Finds the walls that a disc touching this one may touch too.
    fn find_facing(&mut self, wall: &Wall, at: usize) {
        let width = self.edge.width;
        let reach = Rect::from_points(wall.from, wall.to).inflate(width, width);
        self.edge.near(reach, &mut self.facing);
        self.facing.retain(|other| {
            let Some(other) = item(&self.edge.walls, *other).filter(|_| *other != at) else {
                return false;
            };
            let ahead = |point: Point| (point - wall.from).dot(wall.normal) > SAME_MM;
            other.normal.dot(wall.normal) < SIDEWAYS && (ahead(other.from) || ahead(other.to))
        });
    }

    /// The stretches of a wall that others face, by where they start.
    fn stretches(&self, wall: &Wall) -> Vec<Stretch> {
        let width = self.edge.width;
        let direction = (wall.to - wall.from) / wall.length;
        let mut stretches = Vec::new();
        for other in self.facing.iter().filter_map(|at| item(&self.edge.walls, *at)) {
            let along = |point: Point| (point - wall.from).dot(direction);
            let (a, b) = (along(other.from), along(other.to));
            let (from, to) = (a.min(b) - width / 2.0, a.max(b) + width / 2.0);
            if to > 0.0 && from < wall.length {
                let are_long = wall.length.min(other.length) > LONG * width;
                let step = if are_long { width / 2.0 } else { width / STEPS_TO_LIMIT };
                stretches.push(Stretch { from: from.max(0.0), to: to.min(wall.length), step });
            }
        }
        stretches.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.to.total_cmp(&b.to)));
        stretches
    }

    /// Samples a wall where others face it; returns whether that is everywhere.
    fn sample_wall(&mut self, wall: &Wall, number: usize, samples: &mut Vec<Sample>) -> bool {
        let edge = self.edge;
        let is_long = wall.length > LONG * edge.width;
        let (mut covered, mut whole) = (0.0, true);
        let mut shares: Vec<f64> = Vec::new();
        for Stretch { from, to, step } in self.stretches(wall) {
            if from > covered + SAME_MM {
                whole = false;
                covered = from;
            }
            let from = if is_long { from } else { covered };
            let steps = ((to - from) / step).ceil().max(1.0);
            if to <= covered + SAME_MM && !is_long {
                continue;
            }
            let mut at = 0.5;
            while at < steps {
                shares.push((from + (to - from) * at / steps) / wall.length);
                at += 1.0;
            }
            covered = covered.max(to);
        }
        whole &= covered >= wall.length - SAME_MM;
        shares.sort_by(f64::total_cmp);
        let apart = 0.6 * edge.width / STEPS_TO_LIMIT / wall.length;
        shares.dedup_by(|next, kept| *next - *kept < apart);
        for share in shares {
            let (at, normal) = (wall.at(share), wall.normal_at(share));
            let mut walls = &self.facing;
            if is_long {
                let middle = at + normal * (edge.width / 2.0);
                edge.near(square(middle, edge.width), &mut self.near);
                walls = &self.near;
            }
            let disc = disc(edge, walls, at, normal, [number, number]);
            samples.push(Sample::of(edge, at, normal, number, disc));
        }
        whole
    }

    /// Samples a wall's end where it turns into the judged side: once in each direction it faces.
    fn sample_corner(&mut self, wall: &Wall, number: usize, samples: &mut Vec<Sample>) {
        let edge = self.edge;
        let Some(next) = item(&edge.walls, wall.after) else { return };
        let (first, last) = (wall.normals[1], next.normals[0]);
        let turn = libm::atan2(first.cross(last), first.dot(last));
        if turn > -FAN_DEG.to_radians() {
            return;
        }
        let (corner, own) = (wall.to, [number, wall.after]);
        edge.near(square(corner, 2.0 * edge.width), &mut self.near);
        let steps = (-turn / FAN_DEG.to_radians()).ceil();
        let mut turns: Vec<f64> = Vec::new();
        let mut step = 0.0;
        while step <= steps {
            turns.push(turn * step / steps);
            step += 1.0;
        }
        // And straight at whatever is nearest: the narrowest spot at a corner is there.
        let others = self.near.iter().filter(|other| !own.contains(other));
        for other in others.filter_map(|other| item(&edge.walls, *other)) {
            let along = (corner - other.from).dot(other.to - other.from) / other.length.powi(2);
            let towards = other.at(along.clamp(0.0, 1.0)) - corner;
            if towards.hypot() > SAME_MM && towards.hypot() < edge.width {
                let angle = libm::atan2(first.cross(towards), first.dot(towards));
                if angle < 0.0 && angle > turn {
                    turns.push(angle);
                }
            }
        }
        turns.sort_by(|a, b| b.total_cmp(a));
        turns.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        for turn in turns {
            let (sin, cos) = (libm::sin(turn), libm::cos(turn));
            let normal = Vec2::new(first.x * cos - first.y * sin, first.x * sin + first.y * cos);
            let disc = disc(edge, &self.near, corner, normal, own);
            samples.push(Sample::of(edge, corner, normal, number, disc));
        }
    }
}

/// Walls that look more the same way than this (cosine of 25 degrees) are the same side going on in a curve.
const SIDEWAYS: f64 = 0.9;

fn square(middle: Point, side: f64) -> Rect {
    Rect::from_center_size(middle, (side, side))
}

/// The largest disc that touches the edge at a point and then again at one of `walls`, other than its `own`;
/// `None` when it is as large as the limit.
pub(super) fn disc(
    edge: &Edge,
    walls: &[usize],
    at: Point,
    normal: Vec2,
    own: [usize; 2],
) -> Option<TouchingDisc> {
    let mut best = None;
    let mut radius = edge.width / 2.0;
    let ends = own.map(|own| item(&edge.walls, own).map(|wall| [wall.from, wall.to]));
    let is_own = |point: Point| {
        ends.iter().flatten().flatten().any(|end| end.distance_squared(point) < SAME_MM * SAME_MM)
    };
    for number in walls.iter().filter(|number| !own.contains(number)) {
        let Some(wall) = item(&edge.walls, *number) else { continue };
        let alike = wall.normal.dot(normal);
        if alike > SIDEWAYS {
            continue;
        }
        // A disc of radius r touching at `at` touches the wall's line when its middle is r away from it.
        let height = (at - wall.from).dot(wall.normal);
        if height > SAME_MM {
            let touching = height / (1.0 - alike);
            let foot = at + (normal - wall.normal) * touching;
            let along = (foot - wall.from).dot(wall.to - wall.from);
            if touching < radius && along >= 0.0 && along <= wall.length * wall.length {
                radius = touching;
                best = Some(TouchingDisc { diameter: 2.0 * radius, touch: foot, wall: *number });
            }
        }
        for end in [wall.from, wall.to] {
            let across = end - at;
            let ahead = across.dot(normal);
            if ahead > 1e-7 * across.hypot()
                && across.hypot2() < 2.0 * ahead * radius
                && !is_own(end)
            {
                radius = across.hypot2() / (2.0 * ahead);
                best = Some(TouchingDisc { diameter: 2.0 * radius, touch: end, wall: *number });
            }
        }
    }
    best
}
