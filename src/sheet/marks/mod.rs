//! What is printed in the waste to help the hand: ticks, names, bars to measure, and words.
//!
//! A sheet is dressed in this order: a foot strip at the bottom (what the sheet is, and a bar across), a
//! bar down the right edge, one 50 mm square for the whole set, names under the labels, ticks. Each goes where no
//! label is; a strip at the foot and one at the right are kept free for them where that costs no sheet.

mod bars;
mod foot;
mod lettering;
mod names;
mod registration;
mod taken_areas;
mod ticks;

pub(crate) use bars::bar;
pub(crate) use lettering::one_line;

use super::tile::{NmRect, NmSize, free, largest_free, nanometres};
use super::{Parting, Sheet, SheetContext};
use crate::design::Mark;
use crate::finding::{Finding, Findings};
use crate::parallel::in_order_with;
use crate::spec::Film;
use kurbo::Rect;
use lettering::{GuideDrawing, LetteringSetter};
use taken_areas::TakenAreas;

/// Widths of the strips kept free of labels inside the margins, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ReservedStrips {
    pub(super) foot: f64,
    pub(super) right: f64,
}

impl ReservedStrips {
    /// Everything for the labels.
    pub(super) const NONE: ReservedStrips = ReservedStrips { foot: 0.0, right: 0.0 };

    /// The same with room for the marks that bring two passes over each other.
    pub(super) fn with_registration(self) -> ReservedStrips {
        let side = registration::SIDE;
        ReservedStrips { foot: self.foot + side, right: self.right.max(side) }
    }
}

/// The largest share of the printable height the foot may take from the labels.
const FOOT_SHARE: f64 = 0.15;

/// Narrower sheets, mm, give no strip to the bar down their side: about A5's printable width.
const WIDE_ENOUGH: f64 = 120.0;

/// A strip narrower than this, mm, is no offcut to care for.
const WORTH_KEEPING: f64 = 20.0;

/// The strips a film's sheets should keep free for marks.
pub(super) fn strips(context: &SheetContext, film: Film, mirrored: bool) -> ReservedStrips {
    if !context.spec.sheet.guides {
        return ReservedStrips::NONE;
    }
    let printable = context.spec.printable();
    let mut setter = LetteringSetter::new(context);
    let foot = foot::Foot::most(&mut setter, context.spec, film, printable.width());
    let foot = foot.height() + if mirrored { foot::BACKWARDS_HEIGHT } else { 0.0 };
    let foot = if foot <= FOOT_SHARE * printable.height() { foot } else { 0.0 };
    let tall_enough = printable.height() - foot >= bars::LONG;
    let right =
        if printable.width() >= WIDE_ENOUGH && tall_enough { bars::SIDE_WIDTH } else { 0.0 };
    ReservedStrips { foot, right }
}

/// Adds the marks to all sheets of one film.
pub(super) fn add(context: &SheetContext, sheets: &mut [Sheet], findings: &mut Findings) {
    if !context.spec.sheet.guides {
        return;
    }
    // Pre-cut stickers have no waste to print in.
    let mut bare: Vec<&mut Sheet> =
        sheets.iter_mut().filter(|sheet| sheet.parting != Parting::PreCut).collect();
    let Some((first, rest)) = bare.split_first() else { return };
    let setter = || LetteringSetter::new(context);
    let mut dressed = vec![dress(context, first, &mut setter(), true)];
    // One square for the set, on the first sheet with room: nearly always the very first, or one of the last.
    let is_squareless = dressed.iter().all(|one| !one.has_square);
    dressed.extend(in_order_with(rest, setter, |setter, sheet| {
        dress(context, sheet, setter, is_squareless)
    }));
    let with_square = dressed.iter_mut().zip(&bare).filter(|(one, _)| one.has_square);
    for (one, sheet) in with_square.skip(1) {
        *one = dress(context, sheet, &mut setter(), false);
    }
    report(context, first, &dressed, findings);
    for (sheet, one) in bare.iter_mut().zip(dressed) {
        sheet.registration = one.registration;
        one.drawing.onto(sheet);
    }
}

/// Reports which marks found no room on the sheets of a film, of which `sheet` is one.
fn report(
    context: &SheetContext,
    sheet: &Sheet,
    dressed: &[DressedSheet],
    findings: &mut Findings,
) {
    let film = sheet.film.name();
    let mut tell = |finding: Finding, help: &str| {
        findings.push(finding.help(help).at(context.spec.sheet.place));
    };
    let too_full = dressed.iter().filter(|one| !one.has_lines).count();
    if too_full > 0 {
        let of = sheet.of;
        let message =
            format!("{too_full} of {of} sheets of {film} too full for the foot line and both bars");
        let help = "measure a label instead, or take a larger paper";
        tell(Finding::note("no-room-for-marks", message), help);
    }
    let unregistered = dressed.iter().filter(|one| !one.is_registered).count();
    if unregistered > 0 {
        let message =
            format!("{unregistered} sheets of {film} have no room for all three register marks");
        let help = "take a larger paper, or print white and colours in one pass: white_passes: 1";
        tell(Finding::warning("no-registration", message), help);
    }
    if dressed.iter().all(|one| !one.has_square) {
        let message = format!("no sheet of {film} has room for the 50 mm square");
        let help = "measure the bars both ways instead";
        tell(Finding::note("no-room-for-square", message), help);
    }
}

/// What is put on a sheet, and whether all had room.
struct DressedSheet {
    drawing: GuideDrawing,
    registration: Vec<Mark>,
    is_registered: bool,
    /// The foot and both bars.
    has_lines: bool,
    has_square: bool,
}

fn dress<'a>(
    context: &SheetContext<'a>,
    sheet: &Sheet,
    setter: &mut LetteringSetter<'a>,
    square_wanted: bool,
) -> DressedSheet {
    let waste = Waste::of(context, sheet);
    let drawing = GuideDrawing::new(context.spec.sheet.place);
    let mut dresser = SheetDresser { context, sheet, setter, waste, drawing };
    let (registration, is_registered) =
        if sheet.fed_twice { dresser.registration() } else { (Vec::new(), true) };
    let footed = dresser.foot();
    let barred = dresser.side_bar();
    let has_square = square_wanted && dresser.square();
    let names = dresser.names();
    dresser.ticks(&names);
    let SheetDresser { drawing, .. } = dresser;
    DressedSheet { drawing, registration, is_registered, has_lines: footed && barred, has_square }
}

/// Puts the marks on one sheet: each kind of mark has its method in its own file.
struct SheetDresser<'a, 'b> {
    context: &'b SheetContext<'a>,
    sheet: &'b Sheet,
    setter: &'b mut LetteringSetter<'a>,
    waste: Waste,
    drawing: GuideDrawing,
}

/// The part of a sheet that holds no label, and shrinks as marks are put there.
struct Waste {
    printable: Rect,
    /// What is taken: found by its place for quick questions, and in nanometres to work out what is free.
    taken: TakenAreas,
    rects: Vec<NmRect>,
    /// Where the foot stands, mm from the top.
    base: f64,
}

impl Waste {
    fn of(context: &SheetContext, sheet: &Sheet) -> Waste {
        let printable = context.spec.printable();
        let taken = TakenAreas::new(sheet.paper.size);
        let mut waste = Waste { printable, taken, rects: Vec::new(), base: printable.y1 };
        for (placement, trim) in context.trims(sheet) {
            let past = context.past(placement);
            waste.take(trim.inflate(past, past));
        }
        waste
    }

    fn take(&mut self, rect: Rect) {
        self.taken.add(rect);
        self.rects.push(NmRect::of(rect));
    }

    /// Whether a rectangle is inside the margins and free.
    fn is_free(&self, rect: Rect) -> bool {
        NmRect::of(self.printable).holds(&NmRect::of(rect)) && !self.taken.hits(rect)
    }

    /// Area in nm² of the largest free rectangle once another is taken.
    fn largest_beside(&self, rect: Rect) -> i128 {
        let taken = [self.rects.as_slice(), &[NmRect::of(rect)]].concat();
        let largest = largest_free(NmRect::of(self.printable), &taken, WORTH_KEEPING);
        largest.map_or(0, |free| free.area())
    }

    /// The free rectangles at least this wide and high, mm, smallest first.
    fn free(&self, width: f64, height: f64) -> Vec<Rect> {
        let least = NmSize { width: nanometres(width), height: nanometres(height) };
        let mut free = free(NmRect::of(self.printable), &self.rects, least);
        free.sort_by_key(|rect| (rect.area(), *rect));
        let free = free.into_iter().map(NmRect::to_mm);
        free.filter(|rect| rect.width() >= width && rect.height() >= height).collect()
    }
}

#[cfg(test)]
mod tests;
