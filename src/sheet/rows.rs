//! Wire markers in dense rows: neighbours share straight cuts, and a wire's markers lie side by side.
//!
//! Only strips of one height share a row, the highest first, so that a ruler parts row from row and then
//! marker from marker. Pre-cut stickers take one marker each instead.

use super::lay::{Wanted, nanometres};
use super::marks::{Job, Strips};
use super::{Piece, Placement, printable};
use crate::finding::{Finding, Findings};
use crate::spec::wiring::Grid;
use crate::units::fixed;
use kurbo::{Point, Rect, Size, Vec2};

/// Between rows, mm: room for names and ticks.
const BETWEEN: f64 = 2.4;

/// More, mm, where rows of another height follow: their ticks stand elsewhere.
const BETWEEN_KINDS: f64 = 1.2;

/// Left of and above the first marker, mm: room for ticks.
const LEAD: Vec2 = Vec2::new(2.0, 1.4);

/// The placements of each sheet.
pub(super) fn rows(job: &Job, wanted: &[Wanted], strips: Strips) -> Vec<Vec<Placement>> {
    let all = printable(job.spec);
    let largest = wanted.iter().map(size).reduce(Size::max).unwrap_or_default();
    // What is printed beside the markers is given up where a marker needs its room.
    let beside = |needs: f64, has: f64, before: f64, after: f64| {
        if needs <= has - before - after { (before, after) } else { (0.0, 0.0) }
    };
    let (left, right) = beside(largest.width, all.width(), LEAD.x, strips.right);
    let (top, bottom) = beside(largest.height, all.height(), LEAD.y, strips.foot);
    let area = Rect::new(all.x0 + left, all.y0 + top, all.x1 - right, all.y1 - bottom);
    let mut units: Vec<Vec<&Wanted>> = Vec::new();
    for one in wanted {
        match units.last_mut() {
            Some(unit) if wire(unit.first()) == wire(Some(&one)) => unit.push(one),
            _ => units.push(vec![one]),
        }
    }
    let height = |unit: &[&Wanted]| unit.iter().map(|one| nanometres(size(one).height)).max();
    let width = |unit: &[&Wanted]| nanometres(unit.iter().map(|one| size(one).width).sum());
    units.sort_by_key(|unit| std::cmp::Reverse((height(unit), width(unit))));
    let mut pen = Pen { area, at: area.origin(), row: 0.0, sheets: vec![Vec::new()] };
    for unit in &units {
        let whole: f64 = unit.iter().map(|one| size(one).width).sum();
        // A wire's markers stay together unless no row could hold them.
        let together = if whole <= area.width() { whole } else { 0.0 };
        pen.make_room(together, size_of(unit.first()).height);
        for one in unit {
            pen.make_room(size(one).width, size(one).height);
            pen.put(one);
        }
    }
    pen.sheets.retain(|sheet| !sheet.is_empty());
    pen.sheets
}

fn wire(one: Option<&&Wanted>) -> Option<usize> {
    one.and_then(|one| one.label.marker_of()).map(|marker| marker.wire)
}

fn size(wanted: &Wanted) -> Size {
    wanted.design.size().size()
}

fn size_of(wanted: Option<&&Wanted>) -> Size {
    wanted.map(|one| size(one)).unwrap_or_default()
}

/// Where the next marker goes.
struct Pen {
    area: Rect,
    at: Point,
    /// Height of the row that is being filled; nought before its first marker.
    row: f64,
    sheets: Vec<Vec<Placement>>,
}

impl Pen {
    /// Goes on to the next row, and to the next sheet, where something so wide and high needs it.
    fn make_room(&mut self, width: f64, height: f64) {
        let started = self.row > 0.0;
        let same = nanometres(self.row) == nanometres(height);
        if started && (!same || nanometres(self.at.x + width) > nanometres(self.area.x1)) {
            let more = if same { 0.0 } else { BETWEEN_KINDS };
            self.at = Point::new(self.area.x0, self.at.y + self.row + BETWEEN + more);
            self.row = 0.0;
        }
        let full = nanometres(self.at.y + height) > nanometres(self.area.y1);
        if full && self.sheets.last().is_some_and(|sheet| !sheet.is_empty()) {
            self.at = self.area.origin();
            self.row = 0.0;
            self.sheets.push(Vec::new());
        }
    }

    fn put(&mut self, one: &Wanted) {
        let size = size(one);
        if let Some(sheet) = self.sheets.last_mut() {
            sheet.push(placed(one, self.at));
        }
        self.at.x += size.width;
        self.row = self.row.max(size.height);
    }
}

/// The placement whose footprint's top left corner is here.
fn placed(one: &Wanted, corner: Point) -> Placement {
    let mut placement = Placement {
        design: one.index,
        piece: Piece::Copy(1),
        at: Point::ZERO,
        quarter_turns: 0,
        mirrored: false,
    };
    placement.at = (corner - placement.footprint(one.design).origin()).to_point();
    placement
}

/// One marker a sticker, in order, a quarter turned where it fits no other way.
///
/// Markers larger than a sticker are told and left out.
pub(super) fn stickers(
    grid: &Grid,
    wanted: &[Wanted],
    findings: &mut Findings,
) -> Vec<Vec<Placement>> {
    let (columns, rows) = grid.cells;
    let mut free = (1..).filter(|cell| !grid.used.contains(cell));
    let mut sheets: Vec<Vec<Placement>> = Vec::new();
    let (mut large, mut first) = (0_u32, None);
    for one in wanted {
        let mut placement = placed(one, Point::ZERO);
        let fits = |size: Size| {
            nanometres(size.width) <= nanometres(grid.size.width)
                && nanometres(size.height) <= nanometres(grid.size.height)
        };
        if !fits(size(one)) {
            placement.quarter_turns = 1;
            if !fits(Size::new(size(one).height, size(one).width)) {
                large += 1;
                first.get_or_insert(one);
                continue;
            }
        }
        let Some(cell) = free.next() else { break };
        let (sheet, cell) = ((cell - 1) / (columns * rows), (cell - 1) % (columns * rows));
        let corner = grid.first
            + Vec2::new(
                f64::from(cell % columns) * grid.pitch.x,
                f64::from(cell / columns) * grid.pitch.y,
            );
        placement.at = Point::ZERO;
        let middle = corner + grid.size.to_vec2() / 2.0;
        placement.at = (middle - placement.footprint(one.design).center()).to_point();
        while sheets.len() <= sheet as usize {
            sheets.push(Vec::new());
        }
        if let Some(sheet) = sheets.last_mut() {
            sheet.push(placement);
        }
    }
    if let Some(one) = first {
        findings.push(too_large(grid, one, large));
    }
    sheets.retain(|sheet| !sheet.is_empty());
    sheets
}

fn too_large(grid: &Grid, one: &Wanted, large: u32) -> Finding {
    let more = if large > 1 { format!(" and {} more", large - 1) } else { String::new() };
    let size = size(one);
    let message = format!(
        "{}{more}: {} x {} mm on stickers of {} x {} mm",
        one.design.name,
        fixed(size.width, 1),
        fixed(size.height, 1),
        fixed(grid.size.width, 1),
        fixed(grid.size.height, 1),
    );
    Finding::error("too-large-for-sticker", message)
        .at(grid.place)
        .help("take larger stickers, shorter texts, or another kind of marker")
}

#[cfg(test)]
mod tests;
