//! One sheet being filled: where a piece would lie best, and what is left free after it.

use super::cell::{Cell, carve};
use super::{Item, Spot};

/// Which free corner a piece is laid into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rule {
    /// Where the shorter of the two leftovers is least.
    ShortSide,
    /// Where the free rectangle is smallest.
    SmallestArea,
    /// As far up, then as far left, as it goes.
    TopLeft,
}

/// What becomes of the free rectangle a piece was laid into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Leaves {
    /// Every largest free rectangle (the maximal rectangles method, J. Jylänki 2010): free cuts.
    All,
    /// Two pieces of one straight cut, chosen so that the shorter leftover is cut off first.
    ShortOff,
    /// Two pieces of one straight cut, chosen so that one of them is as large as can be.
    LargestWhole,
}

/// A sheet with what is still free on it.
pub(super) struct Room {
    area: Cell,
    free: Vec<Cell>,
    least: (i64, i64),
}

/// A place for a piece.
struct Found {
    /// Index of the free rectangle.
    within: usize,
    cell: Cell,
    turned: bool,
}

impl Room {
    /// An empty sheet; free rectangles smaller than `least` in width or height are not kept.
    pub(super) fn new(area: Cell, least: (i64, i64)) -> Room {
        Room { area, free: vec![area], least }
    }

    /// Lays a piece by a rule, as given or in the better of the two ways; `None` when there is no room.
    pub(super) fn lay(&mut self, item: &Item, rule: Rule, leaves: Leaves) -> Option<Spot> {
        let upright = self.best(item, false, rule);
        let turned = if item.turns { self.best(item, true, rule) } else { None };
        let (_, found) = match (upright, turned) {
            (Some(a), Some(b)) => Some(if b.0 < a.0 { b } else { a }),
            (a, b) => a.or(b),
        }?;
        self.take(&found, leaves);
        Some(Spot { item: 0, x: found.cell.x0, y: found.cell.y0, turned: found.turned })
    }

    /// The best place, and how good it is: less is better.
    fn best(&self, item: &Item, turned: bool, rule: Rule) -> Option<((i128, i128, Cell), Found)> {
        let (width, height) =
            if turned { (item.height, item.width) } else { (item.width, item.height) };
        let mut best: Option<((i128, i128, Cell), Found)> = None;
        for (within, free) in self.free.iter().enumerate() {
            let x = free.x0.max(self.area.x0 + item.inset);
            let y = free.y0.max(self.area.y0 + item.inset);
            let across = free.x1.min(self.area.x1 - item.inset) - x - width;
            let down = free.y1.min(self.area.y1 - item.inset) - y - height;
            if across < 0 || down < 0 {
                continue;
            }
            let cell = Cell::at(x, y, width, height);
            let (short, long) = (across.min(down).into(), across.max(down).into());
            let score = match rule {
                Rule::ShortSide => (short, long, cell),
                Rule::SmallestArea => (free.area(), short, cell),
                Rule::TopLeft => (cell.y1.into(), x.into(), cell),
            };
            if best.as_ref().is_none_or(|(least, _)| score < *least) {
                best = Some((score, Found { within, cell, turned }));
            }
        }
        best
    }

    fn take(&mut self, found: &Found, leaves: Leaves) {
        if leaves == Leaves::All {
            carve(&mut self.free, found.cell, self.least);
            return;
        }
        if found.within >= self.free.len() {
            return;
        }
        let whole = self.free.swap_remove(found.within);
        let Cell { x1, y1, .. } = found.cell;
        let across = [Cell { y0: y1, ..whole }, Cell { x0: x1, y1, ..whole }];
        let down = [Cell { x0: x1, ..whole }, Cell { y0: y1, x1, ..whole }];
        let cut_across = match leaves {
            Leaves::All | Leaves::ShortOff => whole.x1 - x1 < whole.y1 - y1,
            Leaves::LargestWhole => {
                across.iter().map(Cell::area).max() >= down.iter().map(Cell::area).max()
            }
        };
        let parts = if cut_across { across } else { down };
        self.free.extend(
            parts
                .into_iter()
                .filter(|part| part.width() >= self.least.0 && part.height() >= self.least.1),
        );
    }
}
