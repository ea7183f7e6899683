//! What lies along a level line through a design: which ink is on top, and from where to where.

use crate::design::{Design, Mark, Role, Words};
use crate::shape::Outline;
use kurbo::{Affine, PathEl, Point, Rect};
use std::cell::OnceCell;

/// A design as a stack of marks over its white, with the bounds of each, worked out once.
#[derive(Debug)]
pub(super) struct Stack<'d> {
    design: &'d Design,
    bounds: Vec<Rect>,
    /// The sides of its white, and how much of each mark lies on it, worked out when they are asked for.
    white: OnceCell<Sides>,
    on_white: Vec<OnceCell<f64>>,
}

/// Share of a mark that must have white under it to look like ink on white: the core of a stroke is what is seen.
pub(super) const CORE: f64 = 1.0 / 3.0;

/// Level lines through a line of words: a dash is a seventh of a capital high.
const LINES: u32 = 15;

/// How exactly curves are followed, mm, and how many lines are laid, to count what has white under it.
const COUNTED_MM: f64 = 0.01;
const COUNTED_LINES: u32 = 25;

/// The marks of a design near a box, as straight sides in a frame of the caller's.
#[derive(Debug)]
pub(super) struct Across<'d> {
    marks: Vec<(&'d Mark, Sides)>,
    white: Sides,
}

/// A stretch of a level line along which one thing is on top.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run<'d> {
    /// Where it starts and ends, mm along the line.
    pub(super) from: f64,
    pub(super) to: f64,
    /// The ink on top, if any.
    pub(super) top: Option<&'d Mark>,
    /// Whether white is printed there.
    pub(super) white: bool,
}

impl Run<'_> {
    pub(super) fn length(&self) -> f64 {
        self.to - self.from
    }

    /// Whether a line of words has a letter here: its ink, or of clear letters what is left bare.
    pub(super) fn is_letter_of(&self, words: &Words) -> bool {
        self.top.map_or(words.reversed, |mark| {
            !words.reversed && mark.role == Role::Text && mark.part == words.part
        })
    }
}

/// The sides of an outline as straight lines.
type Sides = Vec<[Point; 2]>;

impl<'d> Stack<'d> {
    pub(super) fn of(design: &'d Design) -> Stack<'d> {
        let bounds: Vec<Rect> = design.marks.iter().map(|mark| mark.path.bounds()).collect();
        let on_white = vec![OnceCell::new(); bounds.len()];
        Stack { design, bounds, white: OnceCell::new(), on_white }
    }

    /// The marks with their bounds, in painting order.
    pub(super) fn marks(&self) -> impl Iterator<Item = (&'d Mark, Rect)> + '_ {
        self.design.marks.iter().zip(self.bounds.iter().copied())
    }

    /// Where there is white under the ink: its plate, or the piece of white film behind it.
    fn white_path(&self) -> Option<&'d Outline> {
        self.design.white.as_ref().map(|white| &white.path).or(self.design.backing.as_ref())
    }

    /// What is on top along level lines through a line of words, from base line to cap height, line by line.
    pub(super) fn through(&self, words: &Words, error_mm: f64) -> Vec<Vec<Run<'d>>> {
        let area = words.area;
        let level = Affine::rotate_about(-words.turned_deg.to_radians(), area.center());
        let across = self.across(level, area, error_mm);
        levels(area, LINES).map(|y| across.runs(y, area.x0, area.x1)).collect()
    }

    /// Whether there is white under the core of a mark.
    pub(super) fn lies_on_white(&self, mark: &Mark) -> bool {
        self.share_on_white(mark) >= CORE
    }

    /// Share of a mark's area that has white under it, counted along level lines: quicker than cutting outlines.
    pub(super) fn share_on_white(&self, mark: &Mark) -> f64 {
        if self.white_path().is_none() {
            return 0.0;
        }
        let at = self.design.marks.iter().position(|known| std::ptr::eq(known, mark));
        let cell = at.and_then(|at| self.on_white.get(at));
        cell.map_or_else(|| self.count(mark), |cell| *cell.get_or_init(|| self.count(mark)))
    }

    fn count(&self, mark: &Mark) -> f64 {
        let bounds = mark.path.bounds();
        let white = self.white.get_or_init(|| self.white_sides(Affine::IDENTITY, COUNTED_MM));
        let near = |[a, b]: &&[Point; 2]| a.y.min(b.y) <= bounds.y1 && a.y.max(b.y) >= bounds.y0;
        let white: Sides = white.iter().filter(near).copied().collect();
        let ink = sides(&mark.path, Affine::IDENTITY, COUNTED_MM);
        let (mut all, mut on_white) = (0.0, 0.0);
        for y in levels(bounds, COUNTED_LINES) {
            let white = crossed(&white, y);
            for pair in crossed(&ink, y).chunks_exact(2) {
                if let [from, to] = *pair {
                    all += to - from;
                    on_white += covered(&white, from, to);
                }
            }
        }
        if all > 0.0 { on_white / all } else { 0.0 }
    }

    /// Everything that meets `near`, a box in the frame that `to_frame` leads to from the design's own; curves
    /// are flattened to within `error_mm`.
    pub(super) fn across(&self, to_frame: Affine, near: Rect, error_mm: f64) -> Across<'d> {
        let in_design = to_frame.inverse().transform_rect_bbox(near);
        let marks = self.marks().filter(|(_, bounds)| in_design.overlaps(*bounds));
        Across {
            marks: marks.map(|(mark, _)| (mark, sides(&mark.path, to_frame, error_mm))).collect(),
            white: self.white_sides(to_frame, error_mm),
        }
    }

    fn white_sides(&self, to_frame: Affine, error_mm: f64) -> Sides {
        self.white_path().map(|white| sides(white, to_frame, error_mm)).unwrap_or_default()
    }
}

impl<'d> Across<'d> {
    /// What is on top along the level line at `y` from `from` to `to`, in order.
    pub(super) fn runs(&self, y: f64, from: f64, to: f64) -> Vec<Run<'d>> {
        let crossings: Vec<(&'d Mark, Vec<f64>)> =
            self.marks.iter().map(|(mark, sides)| (*mark, crossed(sides, y))).collect();
        let white = crossed(&self.white, y);
        let mut ends: Vec<f64> =
            crossings.iter().flat_map(|(_, at)| at).chain(&white).copied().collect();
        ends.retain(|at| (from..=to).contains(at));
        ends.extend([from, to]);
        ends.sort_by(f64::total_cmp);
        let pairs = ends.iter().zip(ends.iter().skip(1)).filter(|(start, end)| end > start);
        let mut runs: Vec<Run<'d>> = Vec::new();
        for (start, end) in pairs {
            let middle = f64::midpoint(*start, *end);
            let top =
                crossings.iter().rev().find(|(_, at)| inside(at, middle)).map(|(mark, _)| *mark);
            let run = Run { from: *start, to: *end, top, white: inside(&white, middle) };
            match runs.last_mut() {
                Some(last) if same(last, &run) => last.to = run.to,
                _ => runs.push(run),
            }
        }
        runs
    }

    /// The mark on top at a point of the frame, and whether white is printed there.
    pub(super) fn at(&self, point: Point) -> (Option<&'d Mark>, bool) {
        let covers = |sides: &Sides| inside(&crossed(sides, point.y), point.x);
        let top = self.marks.iter().rev().find(|(_, sides)| covers(sides));
        (top.map(|(mark, _)| *mark), covers(&self.white))
    }
}

/// The heights of so many level lines, evenly through a box.
fn levels(area: Rect, count: u32) -> impl Iterator<Item = f64> {
    let share = move |line: u32| (f64::from(line) + 0.5) / f64::from(count);
    (0..count).map(move |line| area.y0 + area.height() * share(line))
}

/// How much of a stretch lies between crossings that go in and those that go out again.
fn covered(crossings: &[f64], from: f64, to: f64) -> f64 {
    let within = |pair: &[f64]| match *pair {
        [start, end] => (end.min(to) - start.max(from)).max(0.0),
        _ => 0.0,
    };
    crossings.chunks_exact(2).map(within).sum()
}

/// Whether the same mark, or nothing, is on top in both, on white or not.
fn same(one: &Run<'_>, other: &Run<'_>) -> bool {
    one.top.map(std::ptr::from_ref) == other.top.map(std::ptr::from_ref) && one.white == other.white
}

/// Whether `x` is inside: outlines are wound once or not at all, so crossings take turns going in and out.
fn inside(crossings: &[f64], x: f64) -> bool {
    crossings.iter().take_while(|at| **at < x).count() % 2 == 1
}

/// The sides of an outline as straight lines in another frame.
fn sides(outline: &Outline, to_frame: Affine, error_mm: f64) -> Sides {
    let path = outline.placed(to_frame);
    let (mut sides, mut start, mut at) = (Vec::new(), Point::ORIGIN, Point::ORIGIN);
    kurbo::flatten(path.elements(), error_mm, |element| match element {
        PathEl::MoveTo(to) => (start, at) = (to, to),
        PathEl::LineTo(to) | PathEl::QuadTo(_, to) | PathEl::CurveTo(_, _, to) => {
            sides.push([at, to]);
            at = to;
        }
        PathEl::ClosePath => {
            sides.push([at, start]);
            at = start;
        }
    });
    sides
}

/// Where sides cross a level line, from left to right.
fn crossed(sides: &[[Point; 2]], y: f64) -> Vec<f64> {
    let mut at: Vec<f64> = sides
        .iter()
        .filter(|[a, b]| (a.y <= y) != (b.y <= y))
        .map(|[a, b]| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
        .collect();
    at.sort_by(f64::total_cmp);
    at
}
