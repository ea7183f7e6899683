//! The ways a job is tried: an order of the pieces, how they may lie, and a method.

use super::open_sheet::{CornerRule, LeftoverRule, OpenSheet};
use super::shelves::shelves;
use super::{Item, LaidItem, NmRect, NmSize};
use crate::spec::Cuts;
use std::cmp::Reverse;

/// What the pieces are sorted by, largest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum SortedBy {
    Height,
    Width,
    Area,
    LongerSide,
}

/// How pieces may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Orientation {
    /// All as given.
    AsGiven,
    /// All with the longer side across.
    Across,
    /// All with the longer side down.
    Upright,
    /// Each as it fits best where it is laid.
    Either,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Method {
    Shelves,
    Corners(CornerRule, LeftoverRule),
}

/// One way to try.
#[derive(Clone, Copy, Debug)]
pub(super) struct Attempt {
    sorted_by: SortedBy,
    orientation: Orientation,
    method: Method,
}

/// An item that is not laid yet.
#[derive(Clone, Copy, Debug)]
pub(super) struct WaitingItem {
    pub(super) index: usize,
    /// As this attempt lays it down first.
    pub(super) item: Item,
    /// Whether that is with a quarter turn.
    pub(super) turned: bool,
}

/// All ways worth trying, the most promising first.
pub(super) fn attempts(items: &[Item], cuts: Cuts) -> Vec<Attempt> {
    use {CornerRule as Corner, Orientation as Lying, SortedBy as By};
    let turns = items.iter().any(|item| item.turns && item.size.width != item.size.height);
    let (on_shelves, in_corners): (&[Lying], &[Lying]) = if turns {
        (&[Lying::AsGiven, Lying::Across, Lying::Upright], &[Lying::Either, Lying::AsGiven])
    } else {
        (&[Lying::AsGiven], &[Lying::AsGiven])
    };
    let leftovers: &[LeftoverRule] = match cuts {
        Cuts::Free => &[LeftoverRule::All],
        Cuts::Straight => &[LeftoverRule::LargestWhole, LeftoverRule::ShortOff],
    };
    let shelf =
        |orientation| Attempt { sorted_by: By::Height, orientation, method: Method::Shelves };
    let mut all: Vec<Attempt> = on_shelves.iter().copied().map(shelf).collect();
    for &orientation in in_corners {
        for corner in [Corner::ShortSide, Corner::TopLeft, Corner::SmallestArea] {
            for sorted_by in [By::Height, By::Area, By::LongerSide, By::Width] {
                all.extend(leftovers.iter().map(|leftover| {
                    let method = Method::Corners(corner, *leftover);
                    Attempt { sorted_by, orientation, method }
                }));
            }
        }
    }
    all
}

/// How many waiting pieces are looked at to fill one sheet. Ten times a full sheet of small labels; it
/// keeps the work for thousands in proportion.
const WINDOW: usize = 1500;

impl Attempt {
    /// Lays the items of these indices; every one of them fits the area.
    pub(super) fn run(&self, items: &[Item], which: &[usize], area: NmRect) -> Vec<Vec<LaidItem>> {
        let waiting = which.iter().filter_map(|index| {
            let given = items.get(*index)?;
            let item = self.lying(given, area);
            let turned = item.size.width != given.size.width;
            Some(WaitingItem { index: *index, item, turned })
        });
        let mut waiting: Vec<WaitingItem> = waiting.collect();
        waiting.sort_by_key(|one| (self.rank(&one.item), one.index));
        match self.method {
            Method::Shelves => shelves(waiting, area),
            Method::Corners(corner, leftover) => {
                let mut sheets = Vec::new();
                while !waiting.is_empty() {
                    let laid = fill(&mut waiting, area, corner, leftover);
                    if laid.is_empty() {
                        break;
                    }
                    sheets.push(laid);
                }
                sheets
            }
        }
    }

    /// Larger pieces first; equal sizes stay side by side.
    fn rank(&self, item: &Item) -> (Reverse<i128>, Reverse<i64>, Reverse<i64>, i64) {
        let NmSize { width, height } = item.size;
        let first: i128 = match self.sorted_by {
            SortedBy::Height => height.into(),
            SortedBy::Width => width.into(),
            SortedBy::Area => item.size.area(),
            SortedBy::LongerSide => width.max(height).into(),
        };
        (Reverse(first), Reverse(height), Reverse(width), item.inset)
    }

    /// The item as this attempt lays it down first.
    fn lying(&self, item: &Item, area: NmRect) -> Item {
        let NmSize { width, height } = item.size;
        let wants_turn = match self.orientation {
            Orientation::Either => return *item,
            Orientation::AsGiven => false,
            Orientation::Across => width < height,
            Orientation::Upright => width > height,
        };
        let given = Item { turns: false, ..*item };
        let turned = Item { size: item.size.turned(), ..given };
        let (wanted, other) = if wants_turn { (turned, given) } else { (given, turned) };
        if !item.turns {
            given
        } else if wanted.fits(area) {
            wanted
        } else {
            other
        }
    }
}

/// Fills one sheet with the first pieces in order that find room.
fn fill(
    waiting: &mut Vec<WaitingItem>,
    area: NmRect,
    corner: CornerRule,
    leftover: LeftoverRule,
) -> Vec<LaidItem> {
    // Free rectangles narrower or lower than every waiting piece are not kept.
    let mut least = NmSize { width: i64::MAX, height: i64::MAX };
    for WaitingItem { item, .. } in waiting.iter().take(WINDOW) {
        let shorter = item.size.width.min(item.size.height);
        let size = if item.turns { NmSize::square(shorter) } else { item.size };
        least.width = least.width.min(size.width);
        least.height = least.height.min(size.height);
    }
    let mut sheet = OpenSheet::new(area, least);
    let mut laid = Vec::new();
    // What found no room once finds none later, nor does anything larger.
    let mut refused: Vec<Item> = Vec::new();
    let mut looked_at = 0;
    waiting.retain(|WaitingItem { index, item, turned }| {
        looked_at += 1;
        let hopeless = |known: &Item| known.size.fits(item.size) && known.inset <= item.inset;
        if looked_at > WINDOW || refused.iter().any(hopeless) {
            return true;
        }
        match sheet.lay(*index, item, corner, leftover) {
            Some(one) => {
                laid.push(LaidItem { turned: one.turned != *turned, ..one });
                false
            }
            None => {
                refused.retain(|known| {
                    known.size.width < item.size.width || known.size.height < item.size.height
                });
                refused.push(*item);
                true
            }
        }
    });
    laid
}
