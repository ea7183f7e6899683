//! From designs to sheets: what each film must hold, tiled, marked, in reading order.

use super::marks::{self, ReservedStrips};
use super::tile::{Item, LaidItem, NmRect, NmSize, fewest, millimetres, nanometres, tile};
use super::{CopyOrSpare, Parting, Placement, Sheet, SheetContext, rows, too_large};
use crate::design::{Design, WhiteOrder};
use crate::finding::Findings;
use crate::font::Faces;
use crate::spec::{Cuts, Film, Label, Spec};
use kurbo::{Point, Rect, Size};
use std::collections::BTreeMap;

/// The films in the order their sheets come.
const FILMS: [Film; 4] = [Film::Clear, Film::White, Film::Sticker, Film::Paper];

/// Lays every copy and spare of every design onto sheets of its label's film.
///
/// Designs too large for the sheet are reported in `findings` and left out; nothing else is refused.
#[must_use]
pub(crate) fn lay(
    spec: &Spec,
    designs: &[Design],
    faces: &Faces,
    findings: &mut Findings,
) -> Vec<Sheet> {
    let context = SheetContext::new(spec, designs, faces);
    let mut sheets = Vec::new();
    for film in FILMS {
        let mut fitting = needed(&context, film);
        fitting.retain(|one| {
            let too_large = too_large::found(spec, one.design, one.label, one.past);
            let fits = too_large.is_none();
            too_large.into_iter().for_each(|finding| findings.push(finding));
            fits
        });
        let (markers, labels): (Vec<_>, Vec<_>) =
            fitting.into_iter().partition(|one| one.label.marker_of().is_some());
        // White that is printed last and white that is printed first would need the sheet fed three times.
        let (last, first): (Vec<_>, Vec<_>) =
            labels.into_iter().partition(|one| one.is_white(WhiteOrder::Last));
        let mut of_film = of_labels(&context, film, &first);
        of_film.append(&mut of_labels(&context, film, &last));
        of_film.append(&mut of_markers(&context, film, &markers, findings));
        let of = of_film.len();
        for (sheet, number) in of_film.iter_mut().zip(1..) {
            (sheet.number, sheet.of) = (number, of);
        }
        marks::add(&context, &mut of_film, findings);
        sheets.append(&mut of_film);
    }
    sheets
}

/// A design and the label that says how many are needed.
#[derive(Clone, Copy)]
pub(super) struct NeededDesign<'a> {
    pub(super) index: usize,
    pub(super) design: &'a Design,
    pub(super) label: &'a Label,
    /// How far its ink reaches past the trim, mm.
    pub(super) past: f64,
}

impl NeededDesign<'_> {
    /// How wide its cell is round the trim, mm: half the gap, but never less than the ink needs.
    fn round(&self, gap: f64) -> f64 {
        (gap / 2.0).max(self.past)
    }

    /// Whether it has white that is printed then.
    fn is_white(&self, order: WhiteOrder) -> bool {
        self.design.white.as_ref().is_some_and(|white| white.order == order)
    }

    /// Its copy or spare of this number, from 1, with its origin still at the sheet's.
    pub(super) fn placed(&self, number: u32) -> Placement {
        let copies = self.label.copies;
        Placement {
            design: self.index,
            piece: if number <= copies {
                CopyOrSpare::Copy(number)
            } else {
                CopyOrSpare::Spare(number - copies)
            },
            at: Point::ZERO,
            quarter_turns: 0,
            mirrored: self.label.applied.mirrored(),
        }
    }
}

fn needed<'a>(context: &SheetContext<'a>, film: Film) -> Vec<NeededDesign<'a>> {
    let designs = context.designs.iter().zip(&context.past).enumerate();
    let needed = designs.filter_map(|(index, (design, past))| {
        let label = context.spec.labels.get(design.label)?;
        (label.film == film).then_some(NeededDesign { index, design, label, past: *past })
    });
    needed.collect()
}

/// The sheets of all labels of a film but wire markers.
fn of_labels(context: &SheetContext, film: Film, needed: &[NeededDesign]) -> Vec<Sheet> {
    if needed.is_empty() {
        return Vec::new();
    }
    let spec = context.spec;
    let mirrored = needed.iter().any(|one| one.label.applied.mirrored());
    let has_white = needed.iter().any(|one| one.design.white.is_some());
    let twice = has_white && context.is_fed_twice();
    let strips = marks::strips(context, film, mirrored);
    let strips = if twice { strips.with_registration() } else { strips };
    let frame = TilingFrame::of(spec, needed);
    let (items, owners) = frame.items(needed, spec.sheet.turn);
    // The foot must say that labels read backwards, and two passes need register marks: those strips are kept
    // even where that costs a sheet.
    let foot_given_up = if mirrored || twice { 0 } else { FEW_SHEETS };
    let right_given_up = if twice { 0 } else { FEW_SHEETS };
    let area = |strips, most_sheets| AreaToTry { area: frame.area(strips), most_sheets };
    let areas = [
        area(strips, usize::MAX),
        area(ReservedStrips { right: 0.0, ..strips }, right_given_up),
        area(ReservedStrips::NONE, foot_given_up),
    ];
    let tiled = tile_beside(&items, spec.sheet.cuts, areas);
    let mut laid: BTreeMap<usize, u32> = BTreeMap::new();
    let placed = |mut on_sheet: Vec<LaidItem>| {
        // Items of one row share their top, so this orders them row by row, each row from the left.
        on_sheet.sort_by_key(|one| (one.y, one.x));
        let placement = |one: &LaidItem| {
            let owner = owners.get(one.item)?;
            let number = laid.entry(owner.index).or_default();
            *number += 1;
            Some(frame.placement(owner, one, *number))
        };
        sheet(context, film, Parting::Apart, on_sheet.iter().filter_map(placement).collect())
    };
    tiled.into_iter().map(placed).collect()
}

/// The sheets of wire markers: pre-cut stickers where the job has them, else rows.
fn of_markers(
    context: &SheetContext,
    film: Film,
    needed: &[NeededDesign],
    findings: &mut Findings,
) -> Vec<Sheet> {
    let grid = context.spec.wiring.as_ref().and_then(|wiring| wiring.markers.grid.as_ref());
    let (parting, sheets) = match grid {
        Some(grid) => (Parting::PreCut, rows::stickers(grid, needed, findings)),
        None => (Parting::Shared, rows::rows(context, film, needed)),
    };
    sheets.into_iter().map(|placements| sheet(context, film, parting, placements)).collect()
}

/// A sheet without its number and marks.
fn sheet(
    context: &SheetContext,
    film: Film,
    parting: Parting,
    placements: Vec<Placement>,
) -> Sheet {
    let designs = placements.iter().filter_map(|placement| context.design(placement));
    let white = designs.filter_map(|design| design.white.as_ref()).map(|white| white.order).next();
    Sheet {
        film,
        paper: context.spec.sheet.paper.clone(),
        number: 0,
        of: 0,
        parting,
        reads_backwards: placements.iter().all(|placement| placement.mirrored),
        placements,
        marks: Vec::new(),
        words: Vec::new(),
        fed_twice: white.is_some() && context.is_fed_twice(),
        white,
        registration: Vec::new(),
    }
}

/// Up to this many sheets the strips for marks are given up where that saves one. Of many sheets one
/// saved is not worth all their bars and foot lines.
const FEW_SHEETS: usize = 3;

/// An area to tile into, and up to how many sheets it is worth trying where that saves one.
struct AreaToTry {
    area: NmRect,
    most_sheets: usize,
}

/// Tiles into the first of the areas, which leaves room for marks; into a larger one only where an item
/// fits no other way, or where that saves one of a few sheets.
fn tile_beside(items: &[Item], cuts: Cuts, areas: [AreaToTry; 3]) -> Vec<Vec<LaidItem>> {
    let bound = areas.last().map_or(0, |whole| fewest(items, whole.area));
    let mut best: Option<Vec<Vec<LaidItem>>> = None;
    for AreaToTry { area, most_sheets } in areas {
        let settled = |best: &Vec<_>| best.len() <= bound || best.len() > most_sheets;
        if best.as_ref().is_some_and(settled) || !items.iter().all(|item| item.fits(area)) {
            continue;
        }
        let tiled = tile(items, area, cuts);
        if best.as_ref().is_none_or(|best| tiled.len() < best.len()) {
            best = Some(tiled);
        }
    }
    best.unwrap_or_default()
}

/// The frame items are tiled in: the printable area, grown by the part of a cell that holds no ink.
struct TilingFrame {
    printable: Rect,
    gap: f64,
    /// How far a cell may lie outside the printable area, mm: the most any of them needs.
    over: f64,
}

impl TilingFrame {
    fn of(spec: &Spec, needed: &[NeededDesign]) -> TilingFrame {
        let gap = spec.sheet.gap.max(0.0);
        let over = needed.iter().map(|one| one.round(gap) - one.past).fold(0.0, f64::max);
        TilingFrame { printable: spec.printable(), gap, over }
    }

    fn area(&self, strips: ReservedStrips) -> NmRect {
        let width = self.printable.width() - strips.right + 2.0 * self.over;
        let height = self.printable.height() - strips.foot + 2.0 * self.over;
        NmRect::at(0, 0, NmSize::of(Size::new(width, height)))
    }

    /// An item for each copy and spare, and for each item whose it is.
    fn items<'a>(
        &self,
        needed: &[NeededDesign<'a>],
        turns: bool,
    ) -> (Vec<Item>, Vec<NeededDesign<'a>>) {
        let each = needed.iter().flat_map(|one| {
            let round = one.round(self.gap);
            let size = one.design.size().size() + Size::new(2.0 * round, 2.0 * round);
            let inset = nanometres(self.over - (round - one.past));
            let item = Item { size: NmSize::of(size), inset, turns };
            let count = one.label.copies as usize + one.label.spares as usize;
            std::iter::repeat_n((item, *one), count)
        });
        each.unzip()
    }

    /// Where a laid item is on the sheet; `number` counts the pieces of this design so far, this one included.
    fn placement(&self, owner: &NeededDesign, laid: &LaidItem, number: u32) -> Placement {
        let mut placement = owner.placed(number);
        placement.quarter_turns = u8::from(laid.turned);
        let round = owner.round(self.gap);
        let corner = Point::new(
            millimetres(laid.x) + self.printable.x0 - self.over + round,
            millimetres(laid.y) + self.printable.y0 - self.over + round,
        );
        placement.moved(placement.footprint(owner.design).origin(), corner)
    }
}

#[cfg(test)]
mod tests;
