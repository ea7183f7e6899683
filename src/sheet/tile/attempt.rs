//! The ways a job is tried: an order of the pieces, how they may lie, and a method.

use super::cell::Cell;
use super::room::{Leaves, Room, Rule};
use super::shelf::shelves;
use super::{Item, Spot};
use crate::spec::Cuts;
use std::cmp::Reverse;

/// What the pieces are sorted by, largest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Order {
    Height,
    Width,
    Area,
    LongerSide,
}

/// How pieces may lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lie {
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
    Corners(Rule, Leaves),
}

/// One way to try.
#[derive(Clone, Copy, Debug)]
pub(super) struct Attempt {
    order: Order,
    lie: Lie,
    method: Method,
}

/// All ways worth trying, the most promising first.
pub(super) fn attempts(items: &[Item], cuts: Cuts) -> Vec<Attempt> {
    let turns = items.iter().any(|item| item.turns && item.width != item.height);
    let lies: &[Lie] =
        if turns { &[Lie::AsGiven, Lie::Across, Lie::Upright] } else { &[Lie::AsGiven] };
    let mut all: Vec<Attempt> = lies
        .iter()
        .map(|lie| Attempt { order: Order::Height, lie: *lie, method: Method::Shelves })
        .collect();
    let leaves: &[Leaves] = match cuts {
        Cuts::Free => &[Leaves::All],
        Cuts::Straight => &[Leaves::LargestWhole, Leaves::ShortOff],
    };
    let lies: &[Lie] = if turns { &[Lie::Either, Lie::AsGiven] } else { &[Lie::AsGiven] };
    for lie in lies {
        for rule in [Rule::ShortSide, Rule::TopLeft, Rule::SmallestArea] {
            for order in [Order::Height, Order::Area, Order::LongerSide, Order::Width] {
                all.extend(leaves.iter().map(|leaves| Attempt {
                    order,
                    lie: *lie,
                    method: Method::Corners(rule, *leaves),
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
    pub(super) fn run(&self, items: &[Item], which: &[usize], area: Cell) -> Vec<Vec<Spot>> {
        let lying: Vec<Item> = items.iter().map(|item| self.lying(item, area)).collect();
        let mut waiting = which.to_vec();
        waiting.sort_by_key(|index| (lying.get(*index).map(|item| self.rank(item)), *index));
        let mut sheets = match self.method {
            Method::Shelves => shelves(&lying, &waiting, area),
            Method::Corners(rule, leaves) => {
                let mut sheets = Vec::new();
                while !waiting.is_empty() {
                    let spots = fill(&lying, &mut waiting, area, (rule, leaves));
                    if spots.is_empty() {
                        break;
                    }
                    sheets.push(spots);
                }
                sheets
            }
        };
        for spot in sheets.iter_mut().flatten() {
            if lying.get(spot.item).map(|item| item.width)
                != items.get(spot.item).map(|item| item.width)
            {
                spot.turned = !spot.turned;
            }
        }
        sheets
    }

    /// Larger pieces first; equal sizes stay side by side.
    fn rank(&self, item: &Item) -> (Reverse<i128>, Reverse<i64>, Reverse<i64>, i64) {
        let first: i128 = match self.order {
            Order::Height => item.height.into(),
            Order::Width => item.width.into(),
            Order::Area => item.area(),
            Order::LongerSide => item.width.max(item.height).into(),
        };
        (Reverse(first), Reverse(item.height), Reverse(item.width), item.inset)
    }

    /// The item as this attempt lays it down first.
    fn lying(&self, item: &Item, area: Cell) -> Item {
        let fixed = |item: Item| Item { turns: false, ..item };
        let (given, turned) = (fixed(*item), fixed(item.turned()));
        let wanted = match self.lie {
            Lie::Either => return *item,
            Lie::AsGiven => given,
            Lie::Across if item.turns && item.width < item.height => turned,
            Lie::Upright if item.turns && item.width > item.height => turned,
            Lie::Across | Lie::Upright => given,
        };
        if wanted.fits(area) || !item.turns {
            wanted
        } else if wanted.width == given.width {
            turned
        } else {
            given
        }
    }
}

/// Fills one sheet with the first pieces in order that find room.
fn fill(
    items: &[Item],
    waiting: &mut Vec<usize>,
    area: Cell,
    (rule, leaves): (Rule, Leaves),
) -> Vec<Spot> {
    let window = waiting.iter().take(WINDOW).filter_map(|index| items.get(*index));
    let least = window.fold((i64::MAX, i64::MAX), |least, item| {
        let (width, height) = if item.turns {
            (item.width.min(item.height), item.width.min(item.height))
        } else {
            (item.width, item.height)
        };
        (least.0.min(width), least.1.min(height))
    });
    let mut room = Room::new(area, least);
    let mut spots = Vec::new();
    // What found no room once finds none later, nor does anything larger.
    let mut refused: Vec<Item> = Vec::new();
    let mut looked_at = 0;
    waiting.retain(|index| {
        looked_at += 1;
        let Some(item) = items.get(*index) else { return false };
        let hopeless = |known: &Item| {
            known.width <= item.width && known.height <= item.height && known.inset <= item.inset
        };
        if looked_at > WINDOW || refused.iter().any(hopeless) {
            return true;
        }
        match room.lay(item, rule, leaves) {
            Some(spot) => {
                spots.push(Spot { item: *index, ..spot });
                false
            }
            None => {
                refused.retain(|known| known.width < item.width || known.height < item.height);
                refused.push(*item);
                true
            }
        }
    });
    spots
}
