//! Short lines beside the trim that show the knife where to go, and never touch ink.

use super::taken::Taken;
use super::{Job, Waste};
use crate::shape::Outline;
use crate::sheet::lay::nanometres;
use crate::sheet::{Parting, Placement, Sheet};
use crate::spec::Cuts;
use kurbo::{BezPath, Rect};

/// Width of a tick, mm.
const THIN: f64 = 0.15;

/// How far a tick keeps from ink and from the neighbour's cell, mm.
const AIR: f64 = 0.1;

/// A tick shorter than this, mm, is dust.
const SHORTEST: f64 = 0.25;

/// The longest tick at a corner, mm.
const LONGEST: f64 = 2.5;

/// Length of the ticks at both ends of a cut from edge to edge, mm.
const EDGE: f64 = 3.0;

/// Length of the ticks between rows of markers, mm: two of them and air fit between rows.
const ROW: f64 = 0.9;

/// All ticks of a sheet; none touches a label's ink, a name or another tick.
pub(super) fn ticks(job: &Job, sheet: &Sheet, waste: &Waste, names: &[Rect]) -> Outline {
    let mut lettered = Taken::new(sheet.paper.size);
    for name in names {
        lettered.add(*name);
    }
    let mut path = BezPath::new();
    if sheet.parting == Parting::Shared {
        for tick in row_ticks(job, sheet) {
            let inside = tick.intersect(waste.printable) == tick;
            if inside && !waste.taken.hits(tick) && !lettered.hits(tick) {
                lettered.add(tick);
                draw(&mut path, tick);
            }
        }
        return Outline::trusted(&path);
    }
    if job.spec.sheet.cuts == Cuts::Straight {
        for tick in edge_ticks(job, sheet, waste) {
            if !waste.taken.hits(tick) && !lettered.hits(tick) {
                lettered.add(tick);
                draw(&mut path, tick);
            }
        }
    }
    for placement in &sheet.placements {
        for tick in corner_ticks(job, placement).into_iter().flatten() {
            let tick = tick.intersect(waste.printable);
            let long = tick.width().max(tick.height());
            let whole = tick.width().min(tick.height()) > 0.9 * THIN;
            if whole && long >= SHORTEST && !lettered.hits(tick) {
                draw(&mut path, tick);
            }
        }
    }
    Outline::trusted(&path)
}

/// A tick's outline, from +x to +y as outlines run.
fn draw(path: &mut BezPath, tick: Rect) {
    path.move_to((tick.x0, tick.y0));
    path.line_to((tick.x1, tick.y0));
    path.line_to((tick.x1, tick.y1));
    path.line_to((tick.x0, tick.y1));
    path.close_path();
}

/// Two ticks at each corner of the trim's bounds, within the label's own cell.
fn corner_ticks(job: &Job, placement: &Placement) -> Option<[Rect; 8]> {
    let design = job.designs.get(placement.design)?;
    let past = job.past.get(placement.design)?;
    let trim = placement.footprint(design);
    let from = past + AIR;
    let to = (past + LONGEST).min((job.spec.sheet.gap / 2.0).max(*past) - AIR);
    if to - from < SHORTEST {
        return None;
    }
    let half = THIN / 2.0;
    let across = |y: f64| {
        [
            Rect::new(trim.x0 - to, y - half, trim.x0 - from, y + half),
            Rect::new(trim.x1 + from, y - half, trim.x1 + to, y + half),
        ]
    };
    let down = |x: f64| {
        [
            Rect::new(x - half, trim.y0 - to, x + half, trim.y0 - from),
            Rect::new(x - half, trim.y1 + from, x + half, trim.y1 + to),
        ]
    };
    let ([a, b], [c, d]) = (across(trim.y0), across(trim.y1));
    let ([e, f], [g, h]) = (down(trim.x0), down(trim.x1));
    Some([a, b, c, d, e, f, g, h])
}

/// Ticks at the corners of markers in rows, those in a neighbour's way included.
fn row_ticks(job: &Job, sheet: &Sheet) -> Vec<Rect> {
    let half = THIN / 2.0;
    let mut ticks = Vec::with_capacity(8 * sheet.placements.len());
    for placement in &sheet.placements {
        let Some(design) = job.designs.get(placement.design) else { continue };
        let trim = placement.footprint(design);
        for x in [trim.x0, trim.x1] {
            ticks.push(Rect::new(x - half, trim.y0 - AIR - ROW, x + half, trim.y0 - AIR));
            ticks.push(Rect::new(x - half, trim.y1 + AIR, x + half, trim.y1 + AIR + ROW));
        }
        for y in [trim.y0, trim.y1] {
            ticks.push(Rect::new(trim.x0 - AIR - EDGE / 2.0, y - half, trim.x0 - AIR, y + half));
            ticks.push(Rect::new(trim.x1 + AIR, y - half, trim.x1 + AIR + EDGE / 2.0, y + half));
        }
    }
    ticks
}

/// Ticks at both ends of every line along a trim's edge that runs through no label.
fn edge_ticks(job: &Job, sheet: &Sheet, waste: &Waste) -> Vec<Rect> {
    let trims: Vec<Rect> = sheet
        .placements
        .iter()
        .filter_map(|placement| Some(placement.footprint(job.designs.get(placement.design)?)))
        .collect();
    let edge = waste.printable;
    let half = THIN / 2.0;
    let mut ticks = Vec::new();
    for y in clear_lines(trims.iter().map(|trim| (trim.y0, trim.y1)).collect()) {
        ticks.push(Rect::new(edge.x0, y - half, edge.x0 + EDGE, y + half));
        ticks.push(Rect::new(edge.x1 - EDGE, y - half, edge.x1, y + half));
    }
    for x in clear_lines(trims.iter().map(|trim| (trim.x0, trim.x1)).collect()) {
        ticks.push(Rect::new(x - half, edge.y0, x + half, edge.y0 + EDGE));
        ticks.push(Rect::new(x - half, edge.y1 - EDGE, x + half, edge.y1));
    }
    ticks.retain(|tick| {
        tick.x0 >= edge.x0 && tick.x1 <= edge.x1 && tick.y0 >= edge.y0 && tick.y1 <= edge.y1
    });
    ticks
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
