//! The edge of an outline as straight walls, with a grid to find those near a point.

use super::super::{CURVE_ERROR_MM, Outline};
use kurbo::{ParamCurve as _, ParamCurveDeriv as _, PathSeg, Point, Rect, Vec2};

/// What is judged.
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

/// The edge of what is judged.
#[derive(Debug)]
pub(super) struct Edge {
    pub(super) walls: Vec<Wall>,
    /// First wall of each contour, and one past the last.
    pub(super) contours: Vec<(usize, usize)>,
    /// The piece each contour bounds; `None` for the clear that reaches to infinity.
    pub(super) piece_of: Vec<Option<usize>>,
    /// The limit, mm.
    pub(super) width: f64,
    grid: Grid,
}

impl Edge {
    pub(super) fn of(outline: &Outline, side: Side, width: f64) -> Edge {
        let mut walls = Vec::new();
        let mut contours = Vec::new();
        for contour in outline.contours() {
            let start = walls.len();
            let mut points = flattened(contour.segments());
            if side == Side::Clear {
                points.reverse();
                for (_, tangents) in &mut points {
                    *tangents = [-tangents[1], -tangents[0]];
                }
            }
            add_walls(&points, contours.len(), &mut walls);
            if walls.len() > start {
                contours.push((start, walls.len()));
            }
        }
        let grid = Grid::of(&walls, width);
        let piece_of = pieces(&walls, &contours);
        Edge { walls, contours, piece_of, width, grid }
    }

    /// The walls that may reach into a rectangle, each once, into `found`.
    pub(super) fn near(&self, rect: Rect, found: &mut Vec<usize>) {
        self.grid.near(rect, found);
    }
}

/// The corners of a contour, each with the directions of the edge as it comes in and goes out.
fn flattened(segments: impl Iterator<Item = PathSeg>) -> Vec<(Point, [Vec2; 2])> {
    let mut points: Vec<(Point, [Vec2; 2])> = Vec::new();
    let mut push = |at: Point, into: Vec2, out: Vec2| match points.last_mut() {
        // Where one side ends the next begins.
        Some((last, tangents)) if last.distance(at) < 1e-9 => tangents[1] = out,
        _ => points.push((at, [into, out])),
    };
    for segment in segments {
        let (start, end) = (segment.start(), segment.end());
        let chord = (end - start).normalize();
        if !chord.is_finite() {
            continue;
        }
        let steps = steps(segment);
        if steps <= 1.0 {
            push(start, chord, chord);
            push(end, chord, chord);
            continue;
        }
        let tangent = |share: f64| {
            let direction = match segment {
                PathSeg::Line(_) => chord,
                PathSeg::Quad(quad) => quad.deriv().eval(share).to_vec2(),
                PathSeg::Cubic(cubic) => cubic.deriv().eval(share).to_vec2(),
            };
            if direction.hypot() > 1e-9 { direction.normalize() } else { chord }
        };
        let mut step = 0.0;
        while step <= steps {
            let direction = tangent(step / steps);
            push(segment.eval(step / steps), direction, direction);
            step += 1.0;
        }
    }
    let ends = points.first().zip(points.last());
    if let Some((first, last)) = ends
        && points.len() > 1
        && first.0.distance(last.0) < 1e-9
    {
        let into = last.1[0];
        points.pop();
        if let Some(first) = points.first_mut() {
            first.1[0] = into;
        }
    }
    points
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

fn add_walls(points: &[(Point, [Vec2; 2])], contour: usize, walls: &mut Vec<Wall>) {
    if points.len() < 3 {
        return;
    }
    let (start, count) = (walls.len(), points.len());
    let next = points.iter().cycle().skip(1);
    for (at, ((from, out), (to, into))) in points.iter().zip(next).enumerate() {
        let inwards = |along: Vec2| Vec2::new(-along.y, along.x);
        let along = (*to - *from).normalize();
        walls.push(Wall {
            from: *from,
            to: *to,
            normals: [inwards(out[1]), inwards(into[0])],
            normal: inwards(along),
            length: from.distance(*to),
            after: start + (at + 1) % count,
            contour,
        });
    }
}

/// The piece each contour belongs to: an outer one its own, a hole that of the smallest outer one round it.
fn pieces(walls: &[Wall], contours: &[(usize, usize)]) -> Vec<Option<usize>> {
    let of = |range: &(usize, usize)| walls.get(range.0..range.1).unwrap_or_default();
    let measured: Vec<(f64, Rect)> = contours
        .iter()
        .map(|range| {
            let area = of(range).iter().map(|wall| wall.from.to_vec2().cross(wall.to.to_vec2()));
            let mut points = of(range).iter().map(|wall| wall.from);
            let first = points.next().unwrap_or_default();
            let start = Rect::from_points(first, first);
            (area.sum::<f64>() / 2.0, points.fold(start, |all, point| all.union_pt(point)))
        })
        .collect();
    let owner = |at: usize, (area, bounds): &(f64, Rect)| {
        if *area > 0.0 {
            return Some(at);
        }
        let start = contours.get(at).and_then(|range| walls.get(range.0))?.from;
        let round = measured.iter().enumerate().filter(|(other, (area, reach))| {
            let holds = *area > 0.0 && reach.union(*bounds) == *reach;
            holds && contours.get(*other).is_some_and(|range| inside(of(range), start))
        });
        round.min_by(|a, b| a.1.0.total_cmp(&b.1.0)).map(|(other, _)| other)
    };
    measured.iter().enumerate().map(|(at, one)| owner(at, one)).collect()
}

/// Whether a point lies inside a closed run of walls: a ray to the right crosses it an odd number of times.
fn inside(walls: &[Wall], point: Point) -> bool {
    let crossings = walls.iter().filter(|wall| {
        let (a, b) = (wall.from, wall.to);
        (a.y > point.y) != (b.y > point.y)
            && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossings.count() % 2 == 1
}

/// Walls by the square cells they run through.
#[derive(Debug)]
struct Grid {
    corner: Point,
    cell: f64,
    columns: usize,
    rows: usize,
    /// Where each cell's walls start in `walls`; one more than there are cells.
    starts: Vec<u32>,
    walls: Vec<u32>,
}

/// More cells than this cost more to lay out than they save.
const MOST_CELLS: f64 = 100_000.0;

impl Grid {
    fn of(walls: &[Wall], width: f64) -> Grid {
        let first = walls.first().map(|wall| wall.from).unwrap_or_default();
        let start = Rect::from_points(first, first);
        let bounds = walls.iter().fold(start, |all, wall| all.union_pt(wall.from));
        let cell = width.max((bounds.area() / MOST_CELLS).sqrt());
        let mut grid = Grid {
            corner: bounds.origin(),
            cell,
            columns: count(bounds.width() / cell) + 1,
            rows: count(bounds.height() / cell) + 1,
            starts: Vec::new(),
            walls: Vec::new(),
        };
        let mut entries: Vec<(u32, u32)> = Vec::with_capacity(walls.len() * 2);
        for (number, wall) in (0..).zip(walls) {
            // Every point of the wall is within a quarter of a cell of a step.
            let steps = count(wall.length / cell * 2.0) + 1;
            let mut last = None;
            for step in 0..=steps {
                #[allow(clippy::cast_precision_loss, reason = "some thousand steps")]
                let at = grid.cell_at(wall.at(step as f64 / steps as f64));
                if last != Some(at) {
                    entries.push((at, number));
                    last = Some(at);
                }
            }
        }
        entries.sort_unstable();
        let cells = grid.columns * grid.rows;
        grid.starts = vec![0; cells + 1];
        for (cell, _) in &entries {
            if let Some(count) = grid.starts.get_mut(*cell as usize + 1) {
                *count += 1;
            }
        }
        let mut sum = 0;
        for start in &mut grid.starts {
            sum += *start;
            *start = sum;
        }
        grid.walls = entries.into_iter().map(|(_, wall)| wall).collect();
        grid
    }

    fn column(&self, x: f64) -> usize {
        count((x - self.corner.x) / self.cell).min(self.columns - 1)
    }

    fn row(&self, y: f64) -> usize {
        count((y - self.corner.y) / self.cell).min(self.rows - 1)
    }

    fn cell_at(&self, point: Point) -> u32 {
        let at = self.row(point.y) * self.columns + self.column(point.x);
        u32::try_from(at).unwrap_or(u32::MAX)
    }

    fn near(&self, rect: Rect, found: &mut Vec<usize>) {
        found.clear();
        let reach = rect.inflate(self.cell / 4.0, self.cell / 4.0);
        for row in self.row(reach.y0)..=self.row(reach.y1) {
            let first = row * self.columns + self.column(reach.x0);
            let last = row * self.columns + self.column(reach.x1);
            let range = self.starts.get(first).zip(self.starts.get(last + 1));
            let Some((from, to)) = range else { continue };
            let walls = self.walls.get(*from as usize..*to as usize).unwrap_or_default();
            found.extend(walls.iter().map(|wall| *wall as usize));
        }
        found.sort_unstable();
        found.dedup();
    }
}

/// A length in cells, cut to whole ones.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped just here")]
fn count(cells: f64) -> usize {
    cells.clamp(0.0, 1e6) as usize
}
