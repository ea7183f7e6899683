//! Tiling: rectangles onto the fewest sheets, without knowing what they are.
//!
//! Several sound methods are tried over several orders; the fewest sheets win, then the largest
//! rectangle left on the last one. How many tries is counted, never timed: same input, same layout.

mod attempts;
mod nm_rect;
mod open_sheet;
mod shelves;

pub(super) use nm_rect::{NmRect, NmSize, free, largest_free, millimetres, nanometres};

use crate::spec::Cuts;
use attempts::attempts;
use std::cmp::Reverse;

/// A piece to lay, with the half gap or the bleed round it, nanometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Item {
    /// Width and height as given.
    pub(super) size: NmSize,
    /// How far it keeps from the edges of the area (its ink reaches further than others').
    pub(super) inset: i64,
    /// Whether it may be laid with a quarter turn.
    pub(super) turns: bool,
}

impl Item {
    /// Whether it can be laid into an empty area.
    pub(super) fn fits(&self, area: NmRect) -> bool {
        let NmSize { width, height } = area.size();
        let room = NmSize { width: width - 2 * self.inset, height: height - 2 * self.inset };
        self.size.fits(room) || (self.turns && self.size.turned().fits(room))
    }
}

/// Where an item lies, by its top left corner, nanometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct LaidItem {
    /// Index of the item.
    pub(super) item: usize,
    pub(super) x: i64,
    pub(super) y: i64,
    /// Laid with a quarter turn.
    pub(super) turned: bool,
}

impl LaidItem {
    /// The rectangle it covers.
    pub(super) fn covers(&self, items: &[Item]) -> NmRect {
        debug_assert!(self.item < items.len(), "what is laid is one of the items");
        let size = items.get(self.item).map_or(NmSize::square(0), |item| item.size);
        NmRect::at(self.x, self.y, if self.turned { size.turned() } else { size })
    }
}

/// Tries times pieces is held under this, so that a job of thousands takes no longer than a few
/// hundred pieces tried every way. Ten times more gains no sheet on random jobs.
const EFFORT: usize = 12_000;

/// Up to this many pieces the tries go on after the count cannot get better, for the offcut's sake.
const FEW: usize = 300;

/// Lays items, each of which fits the area, onto the fewest sheets found.
pub(super) fn tile(items: &[Item], area: NmRect, cuts: Cuts) -> Vec<Vec<LaidItem>> {
    let all: Vec<usize> = (0..items.len()).collect();
    let bound = fewest(items, area);
    let tries = (EFFORT / items.len().max(1)).max(3);
    let mut best: Option<Tiling> = None;
    for attempt in attempts(items, cuts).into_iter().take(tries) {
        let tiling = Tiling::of(attempt.run(items, &all, area), items, area);
        let better = match best {
            Some(best) => best.or_better(tiling),
            None => tiling,
        };
        let done = better.sheets.len() <= bound;
        best = Some(better);
        if done && items.len() > FEW {
            break;
        }
    }
    let sheets = best.map(|best| best.sheets).unwrap_or_default();
    draw_up(sheets, items, area, cuts)
}

/// No tiling needs fewer sheets than the pieces' area does.
pub(super) fn fewest(items: &[Item], area: NmRect) -> usize {
    let wanted: i128 = items.iter().map(|item| item.size.area()).sum();
    usize::try_from((wanted + area.area() - 1) / area.area().max(1)).unwrap_or(usize::MAX)
}

/// Sheets, and the area of the largest rectangle left on the last, nm².
struct Tiling {
    sheets: Vec<Vec<LaidItem>>,
    offcut: i128,
}

impl Tiling {
    fn of(sheets: Vec<Vec<LaidItem>>, items: &[Item], area: NmRect) -> Tiling {
        let offcut = sheets.last().map_or(0, |last| offcut(last, items, area));
        Tiling { sheets, offcut }
    }

    /// Of two tilings the one with fewer sheets, then with the larger offcut; this one when they are equal.
    fn or_better(self, other: Tiling) -> Tiling {
        let rank = |one: &Tiling| (one.sheets.len(), Reverse(one.offcut));
        if rank(&self) <= rank(&other) { self } else { other }
    }
}

/// Narrower than this is no offcut worth keeping, mm.
pub(super) const NARROWEST_OFFCUT_MM: f64 = 5.0;

fn offcut(laid: &[LaidItem], items: &[Item], area: NmRect) -> i128 {
    let taken: Vec<NmRect> = laid.iter().map(|one| one.covers(items)).collect();
    largest_free(area, &taken, NARROWEST_OFFCUT_MM).map_or(0, |left| left.area())
}

/// Draws the last sheet's pieces up to its top: the lowest height they still fit into leaves the
/// largest strip over the full width.
fn draw_up(
    mut sheets: Vec<Vec<LaidItem>>,
    items: &[Item],
    area: NmRect,
    cuts: Cuts,
) -> Vec<Vec<LaidItem>> {
    let Some(last) = sheets.pop_if(|last| last.len() <= FEW) else { return sheets };
    let members: Vec<usize> = last.iter().map(|laid| laid.item).collect();
    let lowest = |height: i64| -> Option<Vec<LaidItem>> {
        let low = NmRect { y1: area.y0 + height, ..area };
        let mut last = members.iter().filter_map(|index| items.get(*index));
        if !last.all(|item| item.fits(low)) {
            return None;
        }
        attempts(items, cuts).iter().find_map(|attempt| {
            let mut sheets = attempt.run(items, &members, low);
            let all_in_one = sheets.len() == 1 && sheets.iter().flatten().count() == members.len();
            all_in_one.then(|| sheets.pop()).flatten()
        })
    };
    let (mut short, mut tall) = (0, area.size().height);
    let mut best = Tiling::of(vec![last], items, area);
    for _ in 0..10 {
        let middle = short + (tall - short) / 2;
        match lowest(middle) {
            Some(laid) => {
                tall = middle;
                best = best.or_better(Tiling::of(vec![laid], items, area));
            }
            None => short = middle,
        }
    }
    sheets.extend(best.sheets);
    sheets
}

#[cfg(test)]
mod tests;
