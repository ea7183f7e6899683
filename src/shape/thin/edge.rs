//! The edge of an outline as straight walls.

use super::super::{CURVE_ERROR_MM, Outline};
use super::grid::WallGrid;
use crate::known::item;
use kurbo::{ParamCurve as _, ParamCurveDeriv as _, PathSeg, Point, Rect, Vec2};
use std::ops::Range;

/// Less than this, in mm, and two points are one.
pub(super) const SAME_MM: f64 = 1e-9;

/// Which side of the edge is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Ink,
    Clear,
}

/// A straight stretch of the edge; the judged side lies to its left (x right, y down: from +x to +y).
#[derive(Clone, Copy, Debug)]
pub(super) struct Wall {
    pub(super) from: Point,
    pub(super) to: Point,
    /// Unit vectors into the judged side at both ends; those of the curve the wall stands for.
    pub(super) normals: [Vec2; 2],
    /// The same, square to the wall.
    pub(super) normal: Vec2,
    pub(super) length: f64,
    /// The wall after it.
    pub(super) after: usize,
    pub(super) contour: usize,
}

impl Wall {
    pub(super) fn at(&self, share: f64) -> Point {
        self.from.lerp(self.to, share)
    }

    /// The direction into the judged side at a share of its length.
    pub(super) fn normal_at(&self, share: f64) -> Vec2 {
        self.normals[0].lerp(self.normals[1], share).normalize()
    }
}

/// A closed run of walls.
#[derive(Debug)]
pub(super) struct WallContour {
    /// Its first wall, and one past its last.
    pub(super) walls: Range<usize>,
    /// In mm², below nought where it bounds a hole of what is judged.
    pub(super) area: f64,
    pub(super) bounds: Rect,
    /// The piece it bounds, by the number of that piece's outer contour; `None` for the clear that reaches to
    /// infinity.
    pub(super) piece: Option<usize>,
}

/// The edge of what is judged.
#[derive(Debug)]
pub(super) struct Edge {
    pub(super) walls: Vec<Wall>,
    pub(super) contours: Vec<WallContour>,
    /// The limit, mm.
    pub(super) width: f64,
    grid: WallGrid,
}

impl Edge {
    pub(super) fn of(outline: &Outline, side: Side, width: f64) -> Edge {
        let (mut walls, mut contours) = (Vec::new(), Vec::new());
        for contour in outline.contours() {
            let start = walls.len();
            let mut corners = flattened(contour.segments());
            if side == Side::Clear {
                corners.reverse();
                for corner in &mut corners {
                    (corner.into, corner.out) = (-corner.out, -corner.into);
                }
            }
            add_walls(&corners, contours.len(), &mut walls);
            if let Some(own) = walls.get(start..).filter(|own| !own.is_empty()) {
                contours.push(WallContour::of(start..walls.len(), own));
            }
        }
        let grid = WallGrid::of(&walls, width);
        let mut edge = Edge { walls, contours, width, grid };
        let pieces: Vec<_> = (0..edge.contours.len()).map(|at| edge.piece_of(at)).collect();
        for (contour, piece) in edge.contours.iter_mut().zip(pieces) {
            contour.piece = piece;
        }
        edge
    }

    /// The walls that may reach into a rectangle, each once, into `found`.
    pub(super) fn near(&self, rect: Rect, found: &mut Vec<usize>) {
        self.grid.near(rect, found);
    }

    /// The contour of a wall.
    pub(super) fn contour_of(&self, wall: usize) -> Option<&WallContour> {
        item(&self.contours, item(&self.walls, wall)?.contour)
    }

    /// The piece a contour belongs to: an outer one its own, a hole that of the smallest outer one round it.
    fn piece_of(&self, at: usize) -> Option<usize> {
        let contour = item(&self.contours, at)?;
        if contour.area > 0.0 {
            return Some(at);
        }
        let start = item(&self.walls, contour.walls.start)?.from;
        let round = self.contours.iter().enumerate().filter(|(_, other)| {
            let may_hold = other.area > 0.0 && other.bounds.union(contour.bounds) == other.bounds;
            may_hold && self.walls.get(other.walls.clone()).is_some_and(|own| is_inside(own, start))
        });
        round.min_by(|a, b| a.1.area.total_cmp(&b.1.area)).map(|(other, _)| other)
    }
}

impl WallContour {
    fn of(walls: Range<usize>, own: &[Wall]) -> WallContour {
        let crosses = own.iter().map(|wall| wall.from.to_vec2().cross(wall.to.to_vec2()));
        let area = crosses.sum::<f64>() / 2.0;
        WallContour { walls, area, bounds: bounds(own), piece: None }
    }
}

/// The bounds of where the walls start; a zero rectangle at the origin when there are none.
pub(super) fn bounds(walls: &[Wall]) -> Rect {
    let mut starts = walls.iter().map(|wall| wall.from);
    let first = starts.next().unwrap_or_default();
    starts.fold(Rect::from_points(first, first), |all, start| all.union_pt(start))
}

/// A corner of a contour.
struct Corner {
    at: Point,
    /// Directions of the edge as it comes in and as it goes out.
    into: Vec2,
    out: Vec2,
}

/// The corners of a contour, its curves taken as straight steps.
fn flattened(segments: impl Iterator<Item = PathSeg>) -> Vec<Corner> {
    let mut corners: Vec<Corner> = Vec::new();
    let mut push = |at: Point, direction: Vec2| match corners.last_mut() {
        // Where one side ends the next begins.
        Some(last) if last.at.distance(at) < SAME_MM => last.out = direction,
        _ => corners.push(Corner { at, into: direction, out: direction }),
    };
    for segment in segments {
        let (start, end) = (segment.start(), segment.end());
        let chord = (end - start).normalize();
        if !chord.is_finite() {
            continue;
        }
        let direction = |share: f64| {
            let along = match segment {
                PathSeg::Line(_) => chord,
                PathSeg::Quad(quad) => quad.deriv().eval(share).to_vec2(),
                PathSeg::Cubic(cubic) => cubic.deriv().eval(share).to_vec2(),
            };
            if along.hypot() > 1e-9 { along.normalize() } else { chord }
        };
        let steps = steps(segment);
        if steps <= 1.0 {
            push(start, chord);
            push(end, chord);
            continue;
        }
        let mut step = 0.0;
        while step <= steps {
            push(segment.eval(step / steps), direction(step / steps));
            step += 1.0;
        }
    }
    // The last corner of a closed contour is its first.
    if let [first, .., last] = corners.as_mut_slice()
        && first.at.distance(last.at) < SAME_MM
    {
        first.into = last.into;
        corners.pop();
    }
    corners
}

/// How many straight steps stay within the error of a curve: its second derivative over 8 bounds the error.
fn steps(segment: PathSeg) -> f64 {
    let bend = match segment {
        PathSeg::Line(_) => return 1.0,
        PathSeg::Quad(quad) => 2.0 * (quad.p0 - quad.p1 + (quad.p2 - quad.p1)).hypot(),
        PathSeg::Cubic(cubic) => {
            let first = (cubic.p0 - cubic.p1 + (cubic.p2 - cubic.p1)).hypot();
            let second = (cubic.p1 - cubic.p2 + (cubic.p3 - cubic.p2)).hypot();
            6.0 * first.max(second)
        }
    };
    (bend / 8.0 / CURVE_ERROR_MM).sqrt().ceil().clamp(1.0, 1000.0)
}

/// Adds the walls between the corners of a contour; none where they bound no area.
fn add_walls(corners: &[Corner], contour: usize, walls: &mut Vec<Wall>) {
    if corners.len() < 3 {
        return;
    }
    let (start, count) = (walls.len(), corners.len());
    let next = corners.iter().cycle().skip(1);
    for (at, (from, to)) in corners.iter().zip(next).enumerate() {
        let inwards = |along: Vec2| Vec2::new(-along.y, along.x);
        walls.push(Wall {
            from: from.at,
            to: to.at,
            normals: [inwards(from.out), inwards(to.into)],
            normal: inwards((to.at - from.at).normalize()),
            length: from.at.distance(to.at),
            after: start + (at + 1) % count,
            contour,
        });
    }
}

/// Whether a point lies inside a closed run of walls: a ray to the right crosses it an odd number of times.
fn is_inside(walls: &[Wall], point: Point) -> bool {
    let crossings = walls.iter().filter(|wall| {
        let (a, b) = (wall.from, wall.to);
        (a.y > point.y) != (b.y > point.y)
            && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossings.count() % 2 == 1
}
