//! Short lines beside the trim that show the knife where to go, and never touch ink.

use super::SheetDresser;
use super::taken_areas::TakenAreas;
use crate::shape::Outline;
use crate::sheet::tile::nanometres;
use crate::sheet::{Parting, Placement};
use crate::spec::Cuts;
use kurbo::{BezPath, Rect};

/// Width of a tick, mm.
const THIN: f64 = 0.15;

/// How far a tick keeps from ink and from the neighbour's cell, mm.
const AIR: f64 = 0.1;

/// A tick shorter than this, mm, would look like dust and is left out.
const SHORTEST: f64 = 0.25;

/// The longest tick at a corner, mm.
const LONGEST: f64 = 2.5;

/// Length of the ticks at both ends of a cut from edge to edge, mm.
const EDGE: f64 = 3.0;

/// Length of the ticks between rows of markers, mm: two of them and air fit between rows.
const ROW: f64 = 0.9;

impl SheetDresser<'_, '_> {
    /// Draws all ticks of a sheet; none touches a label's ink, a name or another tick.
    pub(super) fn ticks(&mut self, names: &[Rect]) {
        let printable = self.waste.printable;
        let mut lettered = TakenAreas::new(self.sheet.paper.size);
        for name in names {
            lettered.add(*name);
        }
        let trims: Vec<(&Placement, Rect)> = self.context.trims(self.sheet).collect();
        let shared = self.sheet.parting == Parting::Shared;
        let setup = &self.context.spec.sheet;
        // Cuts from edge to edge, and those between rows, are marked whole or not at all.
        let whole: Vec<Rect> = if shared {
            trims.iter().flat_map(|(_, trim)| row_ticks(*trim)).collect()
        } else if setup.cuts == Cuts::Straight {
            edge_ticks(&trims, printable)
        } else {
            Vec::new()
        };
        let mut path = BezPath::new();
        for tick in whole {
            let inside = tick.intersect(printable) == tick;
            if inside && !self.waste.taken.hits(tick) && !lettered.hits(tick) {
                lettered.add(tick);
                draw(&mut path, tick);
            }
        }
        for (placement, trim) in trims.into_iter().filter(|_| !shared) {
            for tick in corner_ticks(trim, self.context.past(placement), setup.gap) {
                let tick = tick.intersect(printable);
                let long = tick.width().max(tick.height());
                let is_thick = tick.width().min(tick.height()) > 0.9 * THIN;
                if is_thick && long >= SHORTEST && !lettered.hits(tick) {
                    draw(&mut path, tick);
                }
            }
        }
        self.drawing.ticks = Outline::trusted(&path);
    }
}

/// A tick's outline, from +x to +y as outlines run.
fn draw(path: &mut BezPath, tick: Rect) {
    path.move_to((tick.x0, tick.y0));
    path.line_to((tick.x1, tick.y0));
    path.line_to((tick.x1, tick.y1));
    path.line_to((tick.x0, tick.y1));
    path.close_path();
}

/// A level tick about a line of this height, and an upright one about a line of this x.
fn level(x0: f64, x1: f64, y: f64) -> Rect {
    Rect::new(x0, y - THIN / 2.0, x1, y + THIN / 2.0)
}

fn upright(x: f64, y0: f64, y1: f64) -> Rect {
    Rect::new(x - THIN / 2.0, y0, x + THIN / 2.0, y1)
}

/// Ticks in line with the upper and lower edge of a trim, so far left and right of it.
fn beside(trim: Rect, from: f64, to: f64) -> impl Iterator<Item = Rect> {
    let ends =
        move |y| [level(trim.x0 - to, trim.x0 - from, y), level(trim.x1 + from, trim.x1 + to, y)];
    [trim.y0, trim.y1].into_iter().flat_map(ends)
}

/// Ticks in line with the left and right edge of a trim, so far above and below it.
fn above_and_below(trim: Rect, from: f64, to: f64) -> impl Iterator<Item = Rect> {
    let ends = move |x| {
        [upright(x, trim.y0 - to, trim.y0 - from), upright(x, trim.y1 + from, trim.y1 + to)]
    };
    [trim.x0, trim.x1].into_iter().flat_map(ends)
}

/// Two ticks at each corner of the trim's bounds, within the label's own cell; none where they would be too short.
fn corner_ticks(trim: Rect, past: f64, gap: f64) -> impl Iterator<Item = Rect> {
    let from = past + AIR;
    let to = (past + LONGEST).min((gap / 2.0).max(past) - AIR);
    let ticks = beside(trim, from, to).chain(above_and_below(trim, from, to));
    ticks.filter(move |_| to - from >= SHORTEST)
}

/// Ticks at the corners of markers in rows, those in a neighbour's way included.
fn row_ticks(trim: Rect) -> impl Iterator<Item = Rect> {
    above_and_below(trim, AIR, AIR + ROW).chain(beside(trim, AIR, AIR + EDGE / 2.0))
}

/// Ticks at both ends of every line along a trim's edge that runs through no label.
fn edge_ticks(trims: &[(&Placement, Rect)], edge: Rect) -> Vec<Rect> {
    let rows = clear_lines(trims.iter().map(|(_, trim)| (trim.y0, trim.y1)).collect());
    let columns = clear_lines(trims.iter().map(|(_, trim)| (trim.x0, trim.x1)).collect());
    let across = rows
        .into_iter()
        .flat_map(|y| [level(edge.x0, edge.x0 + EDGE, y), level(edge.x1 - EDGE, edge.x1, y)]);
    let down = columns
        .into_iter()
        .flat_map(|x| [upright(x, edge.y0, edge.y0 + EDGE), upright(x, edge.y1 - EDGE, edge.y1)]);
    across.chain(down).collect()
}

/// The ends of spans that lie inside no span, each once, rising.
fn clear_lines(mut spans: Vec<(f64, f64)>) -> Vec<f64> {
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut lines = Vec::new();
    let mut reached = f64::NEG_INFINITY;
    for (at, (start, end)) in spans.iter().enumerate() {
        if *start > reached - 1e-6 {
            lines.push(*start);
        }
        reached = reached.max(*end);
        let next = spans.get(at + 1).map_or(f64::INFINITY, |next| next.0);
        if next > reached - 1e-6 {
            lines.push(reached);
        }
    }
    lines.dedup_by_key(|line| nanometres(*line));
    lines
}
