//! The largest disc that touches the edge at a point and holds nothing else of it.

use super::PARALLEL_DEG;
use super::edge::{Edge, Wall};
use kurbo::{Point, Rect, Vec2};

/// Samples stand a twelfth of the limit apart: facing curves are then measured within a micrometre.
const STEPS_TO_LIMIT: f64 = 12.0;

/// Walls longer than this many limits are sampled only where others are near.
const LONG: f64 = 4.0;

/// Less than this, in mm, and two points are one.
const SAME_MM: f64 = 1e-9;

/// A corner of the edge that turns into the judged side by more than this is sampled all round, degrees.
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
    pub(super) fn middle(&self) -> Point {
        self.at + self.normal * (self.width / 2.0)
    }
}

/// What the discs along the edge tell.
#[derive(Debug, Default)]
pub(super) struct Probed {
    /// In the order of the walls.
    pub(super) samples: Vec<Sample>,
    /// First sample of each wall, and one past its last.
    pub(super) of_wall: Vec<(usize, usize)>,
    /// Whether some part of a contour has room for a disc of the limit without looking closer.
    pub(super) open: Vec<bool>,
}

pub(super) fn probe(edge: &Edge) -> Probed {
    let mut probed = Probed { open: vec![false; edge.contours.len()], ..Probed::default() };
    let mut scratch = Scratch::default();
    for (contour, (from, to)) in edge.contours.iter().enumerate() {
        for at in *from..*to {
            let Some(wall) = edge.walls.get(at) else { continue };
            let first = probed.samples.len();
            scratch.look_round(edge, wall, at);
            let whole = scratch.places(edge, wall, &mut probed.samples, at);
            if !whole && let Some(open) = probed.open.get_mut(contour) {
                *open = true;
            }
            fan(edge, at, &mut scratch, &mut probed.samples);
            probed.of_wall.push((first, probed.samples.len()));
        }
    }
    probed
}

/// Lists that are used again and again.
#[derive(Default)]
struct Scratch {
    near: Vec<usize>,
    shares: Vec<f64>,
    stretches: Vec<(f64, f64, f64)>,
    own: Vec<usize>,
}

impl Scratch {
    /// Finds the walls a disc at this one may touch.
    fn look_round(&mut self, edge: &Edge, wall: &Wall, at: usize) {
        let reach = Rect::from_points(wall.from, wall.to).inflate(edge.width, edge.width);
        edge.near(reach, &mut self.near);
        self.near.retain(|other| {
            let Some(other) = edge.walls.get(*other).filter(|_| *other != at) else { return false };
            let ahead = |point: Point| {
                let height = (point - wall.from).dot(wall.normal);
                height > SAME_MM
            };
            other.normal.dot(wall.normal) < SIDEWAYS && (ahead(other.from) || ahead(other.to))
        });
    }

    /// Samples a wall where others are near; whether that is everywhere.
    fn places(
        &mut self,
        edge: &Edge,
        wall: &Wall,
        samples: &mut Vec<Sample>,
        number: usize,
    ) -> bool {
        let (step, reach) = (edge.width / STEPS_TO_LIMIT, edge.width / 2.0);
        self.stretches.clear();
        let direction = (wall.to - wall.from) / wall.length;
        let long = wall.length > LONG * edge.width;
        for other in self.near.iter().filter_map(|at| edge.walls.get(*at)) {
            let (a, b) =
                ((other.from - wall.from).dot(direction), (other.to - wall.from).dot(direction));
            let (from, to) = (a.min(b) - reach, a.max(b) + reach);
            if to > 0.0 && from < wall.length {
                let coarse = long && other.length > LONG * edge.width;
                let step = if coarse { edge.width / 2.0 } else { step };
                self.stretches.push((from.max(0.0), to.min(wall.length), step));
            }
        }
        self.stretches.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        let mut covered = 0.0;
        let mut whole = true;
        self.shares.clear();
        for (from, to, step) in &self.stretches {
            if *from > covered + SAME_MM {
                whole = false;
                covered = *from;
            }
            let from = if long { *from } else { covered };
            let steps = ((to - from) / step).ceil().max(1.0);
            if *to <= covered + SAME_MM && !long {
                continue;
            }
            let mut at = 0.5;
            while at < steps {
                self.shares.push((from + (to - from) * at / steps) / wall.length);
                at += 1.0;
            }
            covered = covered.max(*to);
        }
        whole &= covered >= wall.length - SAME_MM;
        self.shares.sort_by(f64::total_cmp);
        let apart = 0.6 * step / wall.length;
        self.shares.dedup_by(|next, kept| *next - *kept < apart);
        for share in &self.shares {
            let (at, normal) = (wall.at(*share), wall.normal_at(*share));
            let own = [number, number];
            let disc = if long {
                edge.near(disc_bounds(at, normal, edge.width), &mut self.own);
                disc(edge, &self.own, (at, normal), own)
            } else {
                disc(edge, &self.near, (at, normal), own)
            };
            samples.push(sample(edge, (at, normal), disc, number));
        }
        whole
    }
}

/// Walls that look more the same way than this (cosine of 25 degrees) are the same side going on in a curve.
const SIDEWAYS: f64 = 0.9;

fn disc_bounds(at: Point, normal: Vec2, width: f64) -> Rect {
    Rect::from_center_size(at + normal * (width / 2.0), (width, width))
}

/// Samples a corner that turns into the judged side: once in each direction it faces.
fn fan(edge: &Edge, at: usize, scratch: &mut Scratch, samples: &mut Vec<Sample>) {
    let Some(wall) = edge.walls.get(at) else { return };
    let Some(next) = edge.walls.get(wall.after) else { return };
    let (first, last) = (wall.normals[1], next.normals[0]);
    let turn = libm::atan2(first.cross(last), first.dot(last));
    if turn > -FAN_DEG.to_radians() {
        return;
    }
    let corner = wall.to;
    edge.near(
        Rect::from_center_size(corner, (2.0 * edge.width, 2.0 * edge.width)),
        &mut scratch.own,
    );
    let steps = (-turn / FAN_DEG.to_radians()).ceil();
    let mut turns: Vec<f64> = Vec::new();
    let mut step = 0.0;
    while step <= steps {
        turns.push(turn * step / steps);
        step += 1.0;
    }
    // And straight at whatever is nearest: the narrowest spot at a corner is there.
    for other in scratch.own.iter().filter(|other| **other != at && **other != wall.after) {
        let Some(other) = edge.walls.get(*other) else { continue };
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
        let disc = disc(edge, &scratch.own, (corner, normal), [at, wall.after]);
        samples.push(sample(edge, (corner, normal), disc, at));
    }
}

fn sample(
    edge: &Edge,
    (at, normal): (Point, Vec2),
    disc: Option<(f64, Point, usize)>,
    wall: usize,
) -> Sample {
    let (mut width, mut touch, mut facing) = (edge.width, None, false);
    if let Some((diameter, point, on)) = disc {
        let across = point - at;
        // The sides there run at twice the angle between the line across and the normal.
        let least = libm::cos((PARALLEL_DEG / 2.0).to_radians());
        facing = across.dot(normal) >= least * across.hypot();
        (width, touch) = (diameter, Some((point, on)));
    }
    Sample { at, normal, wall, width, touch, facing }
}

/// Diameter of the largest disc that touches the edge at `at`, where it touches it again, and on which wall;
/// `None` when it is as large as the limit.
pub(super) fn disc(
    edge: &Edge,
    walls: &[usize],
    (at, normal): (Point, Vec2),
    own: [usize; 2],
) -> Option<(f64, Point, usize)> {
    let mut best: Option<(f64, Point, usize)> = None;
    let mut radius = edge.width / 2.0;
    let ends = own.map(|own| edge.walls.get(own).map(|wall| [wall.from, wall.to]));
    let is_own = |point: Point| {
        ends.iter().flatten().flatten().any(|end| end.distance_squared(point) < SAME_MM * SAME_MM)
    };
    for number in walls.iter().filter(|number| !own.contains(number)) {
        let Some(wall) = edge.walls.get(*number) else { continue };
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
                best = Some((2.0 * radius, foot, *number));
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
                best = Some((2.0 * radius, end, *number));
            }
        }
    }
    best
}
