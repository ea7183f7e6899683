//! What is printed in the waste to help the hand: ticks, names, bars to measure, and words.
//!
//! A sheet is dressed in this order: a foot strip at the bottom (what the sheet is, and a bar across), a
//! bar down the right edge, one 50 mm square for the whole set, names under the labels, ticks. Each goes where no
//! label is; a strip at the foot and one at the right are kept free for them where that costs no sheet.

mod bars;
mod foot;
mod names;
mod pen;
mod registration;
mod taken;
mod ticks;

pub(crate) use bars::bar;

use super::lay::{millimetres, nanometres};
use super::tile::{Cell, free};
use super::used::cell;
use super::{Parting, Sheet};
use crate::design::{Design, Mark};
use crate::finding::{Finding, Findings};
use crate::font::Faces;
use crate::parallel::in_order_with;
use crate::spec::{Film, Spec};
use kurbo::Rect;
use pen::{Drawing, Pen};
use taken::Taken;

/// What sheets are made from.
#[derive(Debug)]
pub(super) struct Job<'a> {
    pub(super) spec: &'a Spec,
    pub(super) designs: &'a [Design],
    /// For each design how far its ink reaches past its trim, mm.
    pub(super) past: &'a [f64],
    pub(super) faces: &'a Faces,
}

impl Job<'_> {
    /// Whether white and colours go through the printer one after the other.
    pub(super) fn fed_twice(&self) -> bool {
        self.spec.printer.white_passes != Some(1)
    }
}

/// Widths of the strips kept free of labels inside the margins, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Strips {
    pub(super) foot: f64,
    pub(super) right: f64,
}

impl Strips {
    /// Everything for the labels.
    pub(super) const NONE: Strips = Strips { foot: 0.0, right: 0.0 };

    /// The same with room for the marks that bring two passes over each other.
    pub(super) fn with_registration(self) -> Strips {
        Strips { foot: self.foot + registration::SIDE, right: self.right.max(registration::SIDE) }
    }
}

/// The largest share of the printable height the foot may take from the labels.
const FOOT_SHARE: f64 = 0.15;

/// Narrower sheets, mm, give no strip to the bar down their side: about A5's printable width.
const WIDE_ENOUGH: f64 = 120.0;

/// A strip narrower than this, mm, is no offcut to care for.
const WORTH_KEEPING: f64 = 20.0;

/// The strips a film's sheets should keep free for marks.
pub(super) fn strips(job: &Job, film: Film, mirrored: bool) -> Strips {
    if !job.spec.sheet.guides {
        return Strips::NONE;
    }
    let printable = job.spec.printable();
    let mut pen = Pen::new(job);
    let foot = foot::Foot::most(&mut pen, job.spec, film, printable.width());
    let foot = foot.height() + if mirrored { foot::BACKWARDS_HEIGHT } else { 0.0 };
    let foot = if foot <= FOOT_SHARE * printable.height() { foot } else { 0.0 };
    let tall_enough = printable.height() - foot >= bars::LONG;
    let right =
        if printable.width() >= WIDE_ENOUGH && tall_enough { bars::SIDE_WIDTH } else { 0.0 };
    Strips { foot, right }
}

/// Adds the marks to all sheets of one film.
pub(super) fn add(job: &Job, sheets: &mut [Sheet], findings: &mut Findings) {
    if !job.spec.sheet.guides {
        return;
    }
    // Pre-cut stickers have no waste to print in.
    let with_waste = |sheet: &Sheet| sheet.parting != Parting::PreCut;
    let bare: Vec<&Sheet> = sheets.iter().filter(|sheet| with_waste(sheet)).collect();
    let Some((first, rest)) = bare.split_first() else { return };
    let mut dressed = vec![dress(job, first, &mut Pen::new(job), true)];
    // One square for the set, on the first sheet with room: nearly always the very first, or one of the last.
    let is_squareless = dressed.iter().all(|one| !one.has_square);
    let pen = || Pen::new(job);
    dressed.extend(in_order_with(rest, pen, |pen, sheet| dress(job, sheet, pen, is_squareless)));
    let with_square = dressed.iter_mut().zip(&bare).filter(|(one, _)| one.has_square);
    let mut squares = 0;
    for (one, sheet) in with_square {
        squares += 1;
        if squares > 1 {
            *one = dress(job, sheet, &mut Pen::new(job), false);
        }
    }
    let too_full = dressed.iter().filter(|one| !one.has_lines).count();
    let unregistered = dressed.iter().filter(|one| !one.is_registered).count();
    for (sheet, one) in sheets.iter_mut().filter(|sheet| with_waste(sheet)).zip(dressed) {
        sheet.registration = one.registration;
        one.drawing.onto(sheet);
    }
    let Some(sheet) = sheets.iter().find(|sheet| with_waste(sheet)) else { return };
    let film = sheet.film.name();
    if too_full > 0 {
        let message = format!(
            "{too_full} of {} sheets of {film} too full for the foot line and both bars",
            sheet.of
        );
        let help = "measure a label instead, or take a larger paper";
        let finding = Finding::note("no-room-for-marks", message).help(help);
        findings.push(finding.at(job.spec.sheet.place));
    }
    if unregistered > 0 {
        let message =
            format!("{unregistered} sheets of {film} have no room for all three register marks");
        let help = "take a larger paper, or print white and colours in one pass: white_passes: 1";
        let finding = Finding::warning("no-registration", message).help(help);
        findings.push(finding.at(job.spec.sheet.place));
    }
    if squares == 0 {
        let message = format!("no sheet of {film} has room for the 50 mm square");
        let help = "measure the bars both ways instead";
        let finding = Finding::note("no-room-for-square", message).help(help);
        findings.push(finding.at(job.spec.sheet.place));
    }
}

/// What is put on a sheet, and whether all had room.
struct Dressed {
    drawing: Drawing,
    registration: Vec<Mark>,
    is_registered: bool,
    /// The foot and both bars.
    has_lines: bool,
    has_square: bool,
}

fn dress(job: &Job, sheet: &Sheet, pen: &mut Pen, square_wanted: bool) -> Dressed {
    let mut waste = Waste::of(job, sheet);
    let mut drawing = Drawing::new(job.spec.sheet.place);
    let (mut registration, mut is_registered) = (Vec::new(), true);
    if sheet.fed_twice {
        (registration, is_registered) = registration::draw(&mut waste, job.spec.sheet.place);
        waste.base -= registration::SIDE;
    }
    let footed = foot::draw(job, sheet, pen, &mut waste, &mut drawing);
    let barred = bars::side(pen, &mut waste, &mut drawing);
    let has_square = square_wanted && bars::square(pen, &mut waste, &mut drawing);
    let names = names::draw(job, sheet, pen, &mut waste, &mut drawing);
    drawing.ticks = ticks::ticks(job, sheet, &waste, &names);
    Dressed { drawing, registration, is_registered, has_lines: footed && barred, has_square }
}

/// The part of a sheet that holds no label, and shrinks as marks are put there.
struct Waste {
    printable: Rect,
    taken: Taken,
    cells: Vec<Cell>,
    /// Where the foot stands, mm from the top.
    base: f64,
}

impl Waste {
    fn of(job: &Job, sheet: &Sheet) -> Waste {
        let printable = job.spec.printable();
        let mut waste = Waste {
            printable,
            taken: Taken::new(sheet.paper.size),
            cells: Vec::new(),
            base: printable.y1,
        };
        for placement in &sheet.placements {
            let Some(design) = job.designs.get(placement.design) else { continue };
            let past = job.past.get(placement.design).copied().unwrap_or_default();
            waste.take(placement.footprint(design).inflate(past, past));
        }
        waste
    }

    fn take(&mut self, rect: Rect) {
        self.taken.add(rect);
        self.cells.push(cell(rect));
    }

    /// Whether a rectangle is inside the margins and free.
    fn is_free(&self, rect: Rect) -> bool {
        cell(self.printable).holds(&cell(rect)) && !self.taken.hits(rect)
    }

    /// Area in nm² of the largest free rectangle once another is taken.
    fn largest_beside(&self, rect: Rect) -> i128 {
        let least = nanometres(WORTH_KEEPING);
        let cells: Vec<Cell> = self.cells.iter().copied().chain([cell(rect)]).collect();
        let free = free(cell(self.printable), &cells, (least, least));
        free.iter().map(Cell::area).max().unwrap_or(0)
    }

    /// The free rectangles at least this wide and high, smallest first.
    fn free(&self, width: f64, height: f64) -> Vec<Rect> {
        let least = (nanometres(width), nanometres(height));
        let mut free = free(cell(self.printable), &self.cells, least);
        free.sort_by_key(|cell| (cell.area(), *cell));
        free.into_iter()
            .map(|cell| {
                Rect::new(
                    millimetres(cell.x0),
                    millimetres(cell.y0),
                    millimetres(cell.x1),
                    millimetres(cell.y1),
                )
            })
            .filter(|rect| rect.width() >= width && rect.height() >= height)
            .collect()
    }
}

#[cfg(test)]
mod tests;
