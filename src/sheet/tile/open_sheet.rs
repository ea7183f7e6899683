//! One sheet being filled: where a piece would lie best, and what is left free after it.

use super::nm_rect::{NmRect, NmSize, carve};
use super::{Item, LaidItem};

/// Which free corner a piece is laid into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum CornerRule {
    /// Where the shorter of the two leftovers is least.
    ShortSide,
    /// Where the free rectangle is smallest.
    SmallestArea,
    /// As far up, then as far left, as it goes.
    TopLeft,
}

/// What becomes of the free rectangle a piece was laid into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum LeftoverRule {
    /// Every largest free rectangle (the maximal rectangles method, J. Jylänki 2010): free cuts.
    All,
    /// Two pieces of one straight cut, chosen so that the shorter leftover is cut off first.
    ShortOff,
    /// Two pieces of one straight cut, chosen so that one of them is as large as can be.
    LargestWhole,
}

/// A sheet with what is still free on it.
pub(super) struct OpenSheet {
    area: NmRect,
    free: Vec<NmRect>,
    least: NmSize,
}

/// A place for a piece.
struct FoundPlace {
    /// How good it is: less is better.
    score: (i128, i128, NmRect),
    /// Index of the free rectangle.
    within: usize,
    covers: NmRect,
    turned: bool,
}

impl OpenSheet {
    /// An empty sheet; free rectangles smaller than `least` in width or height are not kept.
    pub(super) fn new(area: NmRect, least: NmSize) -> OpenSheet {
        OpenSheet { area, free: vec![area], least }
    }

    /// Lays the item of this index by a rule, as given or turned, whichever is better; `None` when it finds no
    /// place.
    pub(super) fn lay(
        &mut self,
        index: usize,
        item: &Item,
        corner: CornerRule,
        leftover: LeftoverRule,
    ) -> Option<LaidItem> {
        let given = self.best(item, false, corner);
        let turned = if item.turns { self.best(item, true, corner) } else { None };
        // Of equally good places `min_by` takes the first: the item as given.
        let ways = given.into_iter().chain(turned);
        let found = ways.min_by(|one, other| one.score.cmp(&other.score))?;
        self.take(&found, leftover);
        let FoundPlace { covers, turned, .. } = found;
        Some(LaidItem { item: index, x: covers.x0, y: covers.y0, turned })
    }

    fn best(&self, item: &Item, turned: bool, corner: CornerRule) -> Option<FoundPlace> {
        let size = if turned { item.size.turned() } else { item.size };
        let mut best: Option<FoundPlace> = None;
        for (within, free) in self.free.iter().enumerate() {
            let x = free.x0.max(self.area.x0 + item.inset);
            let y = free.y0.max(self.area.y0 + item.inset);
            let across = free.x1.min(self.area.x1 - item.inset) - x - size.width;
            let down = free.y1.min(self.area.y1 - item.inset) - y - size.height;
            if across < 0 || down < 0 {
                continue;
            }
            let covers = NmRect::at(x, y, size);
            let (short, long) = (across.min(down).into(), across.max(down).into());
            let score = match corner {
                CornerRule::ShortSide => (short, long, covers),
                CornerRule::SmallestArea => (free.area(), short, covers),
                CornerRule::TopLeft => (covers.y1.into(), x.into(), covers),
            };
            if best.as_ref().is_none_or(|best| score < best.score) {
                best = Some(FoundPlace { score, within, covers, turned });
            }
        }
        best
    }

    fn take(&mut self, found: &FoundPlace, leftover: LeftoverRule) {
        if leftover == LeftoverRule::All {
            carve(&mut self.free, found.covers, self.least);
            return;
        }
        let whole = self.free.swap_remove(found.within);
        let NmRect { x1, y1, .. } = found.covers;
        let across = [NmRect { y0: y1, ..whole }, NmRect { x0: x1, y1, ..whole }];
        let down = [NmRect { x0: x1, ..whole }, NmRect { y0: y1, x1, ..whole }];
        let largest = |parts: &[NmRect; 2]| parts.iter().map(NmRect::area).max();
        let cut_across = match leftover {
            LeftoverRule::All | LeftoverRule::ShortOff => whole.x1 - x1 < whole.y1 - y1,
            LeftoverRule::LargestWhole => largest(&across) >= largest(&down),
        };
        let parts = if cut_across { across } else { down };
        self.free.extend(parts.into_iter().filter(|part| self.least.fits(part.size())));
    }
}
