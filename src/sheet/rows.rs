//! Wire markers in dense rows: neighbours share straight cuts, and a wire's markers lie side by side.
//!
//! Only strips of one height share a row, the highest first, so that a ruler parts row from row and then
//! marker from marker. Pre-cut stickers take one marker each instead.

use super::lay::NeededDesign;
use super::tile::{NmSize, nanometres};
use super::{Placement, SheetContext, marks};
use crate::finding::{Finding, Findings};
use crate::spec::Film;
use crate::spec::wiring::Grid;
use crate::units::fixed;
use kurbo::{Point, Rect, Size, Vec2};
use std::cmp::Reverse;

/// Between rows, mm: room for names and ticks.
const BETWEEN: f64 = 2.4;

/// More, mm, where rows of another height follow: their ticks stand elsewhere.
const BETWEEN_KINDS: f64 = 1.2;

/// Left of and above the first marker, mm: room for ticks.
const LEAD: Vec2 = Vec2::new(2.0, 1.4);

/// The placements of each sheet.
pub(super) fn rows(
    context: &SheetContext,
    film: Film,
    needed: &[NeededDesign],
) -> Vec<Vec<Placement>> {
    let strips = marks::strips(context, film, false);
    let all = context.spec.printable();
    let largest = needed.iter().map(size).reduce(Size::max).unwrap_or_default();
    // The room for ticks, foot and side bar is given to the markers where one would not fit otherwise.
    let beside = |needs: f64, has: f64, before: f64, after: f64| {
        if needs <= has - before - after { (before, after) } else { (0.0, 0.0) }
    };
    let (left, right) = beside(largest.width, all.width(), LEAD.x, strips.right);
    let (top, bottom) = beside(largest.height, all.height(), LEAD.y, strips.foot);
    let area = Rect::new(all.x0 + left, all.y0 + top, all.x1 - right, all.y1 - bottom);
    let wire_of = |one: &NeededDesign| one.label.marker_of().map(|marker| marker.wire);
    let mut wires: Vec<&[NeededDesign]> =
        needed.chunk_by(|one, next| wire_of(one) == wire_of(next)).collect();
    let height = |wire: &[NeededDesign]| wire.iter().map(|one| nanometres(size(one).height)).max();
    let width = |wire: &[NeededDesign]| wire.iter().map(|one| size(one).width).sum::<f64>();
    wires.sort_by_key(|wire| Reverse((height(wire), nanometres(width(wire)))));
    let mut filler = RowFiller { area, at: area.origin(), row: 0.0, sheets: vec![Vec::new()] };
    for wire in wires {
        // A wire's markers stay together unless no row could hold them.
        let together = Some(width(wire)).filter(|width| *width <= area.width()).unwrap_or(0.0);
        let first = wire.first().map(size).unwrap_or_default();
        filler.make_room(Size::new(together, first.height));
        for one in wire {
            filler.make_room(size(one));
            filler.put(one);
        }
    }
    filler.sheets.retain(|sheet| !sheet.is_empty());
    filler.sheets
}

fn size(needed: &NeededDesign) -> Size {
    needed.design.size().size()
}

/// Fills rows from the left, and sheets from the top.
struct RowFiller {
    area: Rect,
    /// Top left corner of the next marker.
    at: Point,
    /// Height of the row that is being filled, mm; zero before its first marker.
    row: f64,
    sheets: Vec<Vec<Placement>>,
}

impl RowFiller {
    /// Goes on to the next row, and to the next sheet, where something of this size needs it.
    fn make_room(&mut self, size: Size) {
        let started = self.row > 0.0;
        let same = nanometres(self.row) == nanometres(size.height);
        if started && (!same || nanometres(self.at.x + size.width) > nanometres(self.area.x1)) {
            let more = if same { 0.0 } else { BETWEEN_KINDS };
            self.at = Point::new(self.area.x0, self.at.y + self.row + BETWEEN + more);
            self.row = 0.0;
        }
        let full = nanometres(self.at.y + size.height) > nanometres(self.area.y1);
        if full && self.sheets.last().is_some_and(|sheet| !sheet.is_empty()) {
            self.at = self.area.origin();
            self.row = 0.0;
            self.sheets.push(Vec::new());
        }
    }

    fn put(&mut self, one: &NeededDesign) {
        let placement = one.placed(1);
        let corner = placement.footprint(one.design).origin();
        if let Some(sheet) = self.sheets.last_mut() {
            sheet.push(placement.moved(corner, self.at));
        }
        let size = size(one);
        self.at.x += size.width;
        self.row = self.row.max(size.height);
    }
}

/// One marker a sticker, in order, a quarter turned where it fits no other way.
///
/// Markers larger than a sticker are reported and left out.
pub(super) fn stickers(
    grid: &Grid,
    needed: &[NeededDesign],
    findings: &mut Findings,
) -> Vec<Vec<Placement>> {
    let (columns, rows) = grid.cells;
    let mut free = (1..).filter(|cell| !grid.used.contains(cell));
    let mut sheets: Vec<Vec<Placement>> = Vec::new();
    let mut too_large = Vec::new();
    for one in needed {
        let (marker, sticker) = (NmSize::of(size(one)), NmSize::of(grid.size));
        let is_turned = !marker.fits(sticker);
        if is_turned && !marker.turned().fits(sticker) {
            too_large.push(one);
            continue;
        }
        let Some(cell) = free.next() else {
            debug_assert!(false, "stickers are counted without end");
            break;
        };
        let (sheet, cell) = ((cell - 1) / (columns * rows), (cell - 1) % (columns * rows));
        let (column, row) = (f64::from(cell % columns), f64::from(cell / columns));
        let corner = grid.first + Vec2::new(column * grid.pitch.x, row * grid.pitch.y);
        let placement = Placement { quarter_turns: u8::from(is_turned), ..one.placed(1) };
        let middle = placement.footprint(one.design).center();
        while sheets.len() <= sheet as usize {
            sheets.push(Vec::new());
        }
        if let Some(sheet) = sheets.last_mut() {
            sheet.push(placement.moved(middle, corner + grid.size.to_vec2() / 2.0));
        }
    }
    report_too_large(grid, &too_large, findings);
    sheets.retain(|sheet| !sheet.is_empty());
    sheets
}

/// Reports markers that are larger than a sticker: the first by name, how many more.
fn report_too_large(grid: &Grid, too_large: &[&NeededDesign], findings: &mut Findings) {
    let Some((one, rest)) = too_large.split_first() else { return };
    let more = if rest.is_empty() { String::new() } else { format!(" and {} more", rest.len()) };
    let size = size(one);
    let message = format!(
        "{}{more}: {} x {} mm on stickers of {} x {} mm",
        one.design.name,
        fixed(size.width, 1),
        fixed(size.height, 1),
        fixed(grid.size.width, 1),
        fixed(grid.size.height, 1),
    );
    findings.push(
        Finding::error("too-large-for-sticker", message)
            .at(grid.place)
            .help("take larger stickers, shorter texts, or another kind of marker"),
    );
}

#[cfg(test)]
mod tests;
