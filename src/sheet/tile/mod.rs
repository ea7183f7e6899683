//! Tiling: rectangles onto the fewest sheets, without knowing what they are.
//!
//! Several sound methods are tried over several orders; the fewest sheets win, then the largest
//! rectangle left on the last one. How many tries is counted, never timed: same input, same layout.

mod attempt;
mod cell;
mod room;
mod shelf;

pub(super) use cell::{Cell, free};

use crate::spec::Cuts;
use attempt::{Attempt, attempts};

/// A piece to lay: its cell, which is the piece with the half gap or the bleed round it, nanometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Item {
    /// Width as given.
    pub(super) width: i64,
    /// Height as given.
    pub(super) height: i64,
    /// How far the cell keeps from the edges of the area (its ink reaches further than others').
    pub(super) inset: i64,
    /// Whether it may be laid with a quarter turn.
    pub(super) turns: bool,
}

impl Item {
    /// Whether it can be laid into an empty area.
    pub(super) fn fits(&self, area: Cell) -> bool {
        let (width, height) = (area.width() - 2 * self.inset, area.height() - 2 * self.inset);
        (self.width <= width && self.height <= height)
            || (self.turns && self.height <= width && self.width <= height)
    }

    fn turned(&self) -> Item {
        Item { width: self.height, height: self.width, ..*self }
    }

    fn area(&self) -> i128 {
        i128::from(self.width) * i128::from(self.height)
    }
}

/// Where a piece lies: the top left of its cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Spot {
    /// Index of the item.
    pub(super) item: usize,
    pub(super) x: i64,
    pub(super) y: i64,
    /// Laid with a quarter turn.
    pub(super) turned: bool,
}

impl Spot {
    /// The cell it covers.
    pub(super) fn cell(&self, items: &[Item]) -> Cell {
        let item = items.get(self.item).copied();
        let item = item.map(|item| if self.turned { item.turned() } else { item });
        item.map_or(Cell::at(self.x, self.y, 0, 0), |item| {
            Cell::at(self.x, self.y, item.width, item.height)
        })
    }
}

/// Tries times pieces is held under this, so that a job of thousands takes no longer than a few
/// hundred pieces tried every way. Ten times more gains no sheet on random jobs.
const EFFORT: usize = 12_000;

/// Up to this many pieces the tries go on after the count cannot get better, for the offcut's sake.
const FEW: usize = 300;

/// Lays items, each of which fits the area, onto the fewest sheets found.
pub(super) fn tile(items: &[Item], area: Cell, cuts: Cuts) -> Vec<Vec<Spot>> {
    let all: Vec<usize> = (0..items.len()).collect();
    let bound = fewest(items, area);
    let tries = (EFFORT / items.len().max(1)).max(3);
    let mut best: Option<Tiling> = None;
    for attempt in attempts(items, cuts).into_iter().take(tries) {
        let sheets = attempt.run(items, &all, area);
        best = Some(better(best, Tiling::of(sheets, items, area)));
        let done = best.as_ref().is_some_and(|best| best.sheets.len() <= bound);
        if done && items.len() > FEW {
            break;
        }
    }
    let sheets = best.map(|best| best.sheets).unwrap_or_default();
    draw_up(sheets, items, area, cuts)
}

/// No tiling needs fewer sheets than the pieces' area does.
pub(super) fn fewest(items: &[Item], area: Cell) -> usize {
    let wanted: i128 = items.iter().map(Item::area).sum();
    usize::try_from((wanted + area.area() - 1) / area.area().max(1)).unwrap_or(usize::MAX)
}

/// Sheets, and the largest rectangle left on the last.
struct Tiling {
    sheets: Vec<Vec<Spot>>,
    offcut: i128,
}

impl Tiling {
    fn of(sheets: Vec<Vec<Spot>>, items: &[Item], area: Cell) -> Tiling {
        let offcut = sheets.last().map_or(0, |last| offcut(last, items, area));
        Tiling { sheets, offcut }
    }
}

fn better(best: Option<Tiling>, other: Tiling) -> Tiling {
    match best {
        Some(best)
            if (best.sheets.len(), std::cmp::Reverse(best.offcut))
                <= (other.sheets.len(), std::cmp::Reverse(other.offcut)) =>
        {
            best
        }
        _ => other,
    }
}

/// An offcut narrower than this, nm, is waste.
const NARROWEST_OFFCUT: i64 = 5_000_000;

fn offcut(spots: &[Spot], items: &[Item], area: Cell) -> i128 {
    let cells: Vec<Cell> = spots.iter().map(|spot| spot.cell(items)).collect();
    let left = free(area, &cells, (NARROWEST_OFFCUT, NARROWEST_OFFCUT));
    left.iter().map(Cell::area).max().unwrap_or(0)
}

/// Draws the last sheet's pieces up to its top: the lowest height they still fit into leaves the
/// largest strip over the full width.
fn draw_up(mut sheets: Vec<Vec<Spot>>, items: &[Item], area: Cell, cuts: Cuts) -> Vec<Vec<Spot>> {
    let Some(last) = sheets.pop() else { return sheets };
    if last.len() > FEW {
        sheets.push(last);
        return sheets;
    }
    let members: Vec<usize> = last.iter().map(|spot| spot.item).collect();
    let lowest = |height: i64| -> Option<Vec<Spot>> {
        let low = Cell { y1: area.y0 + height, ..area };
        let mut last = members.iter().filter_map(|index| items.get(*index));
        if !last.all(|item| item.fits(low)) {
            return None;
        }
        let fit = |attempt: &Attempt| {
            let mut sheets = attempt.run(items, &members, low);
            let all_in_one = sheets.len() == 1 && sheets.iter().flatten().count() == members.len();
            all_in_one.then(|| sheets.pop()).flatten()
        };
        attempts(items, cuts).iter().find_map(fit)
    };
    let (mut short, mut tall) = (0, area.height());
    let mut best = Tiling::of(vec![last], items, area);
    for _ in 0..10 {
        let middle = short + (tall - short) / 2;
        match lowest(middle) {
            Some(spots) => {
                tall = middle;
                best = better(Some(best), Tiling::of(vec![spots], items, area));
            }
            None => short = middle,
        }
    }
    sheets.extend(best.sheets);
    sheets
}

#[cfg(test)]
mod tests;
