//! Filling sheets shelf by shelf: rows of pieces, each row as high as its tallest.
//!
//! The work grows in proportion to the pieces, so it serves thousands; rows can be cut apart edge to
//! edge, and their sheets are never more than a fixed multiple of the best (Coffman, Garey, Johnson and Tarjan
//! 1980 on level packing).

use super::attempts::WaitingItem;
use super::{Item, LaidItem, NmRect};
use std::cmp::Reverse;
use std::collections::VecDeque;

/// How many of the next pieces are looked at to end a shelf well. On 10,000 labels of 53 heights, 48 took a sheet
/// of 47 more, 1500 only more time.
const LOOK_AHEAD: usize = 300;

/// A row of pieces, not yet on a sheet.
#[derive(Default)]
struct Shelf {
    height: i64,
    inset: i64,
    /// `y` is within the shelf.
    laid: Vec<LaidItem>,
}

/// Sheets of shelves with the items in this order, by falling height.
pub(super) fn shelves(waiting: Vec<WaitingItem>, area: NmRect) -> Vec<Vec<LaidItem>> {
    let mut waiting = VecDeque::from(waiting);
    // Each sheet with the bottom of its last shelf.
    let mut sheets: Vec<(i64, Vec<LaidItem>)> = Vec::new();
    while !waiting.is_empty() {
        let shelf = next_shelf(&mut waiting, area);
        if shelf.laid.is_empty() {
            break;
        }
        let top = |used: i64| used.max(area.y0 + shelf.inset);
        let bottom = area.y1 - shelf.inset - shelf.height;
        let with_room = sheets.iter().position(|(used, _)| top(*used) <= bottom);
        let at = with_room.unwrap_or(sheets.len());
        if at == sheets.len() {
            sheets.push((area.y0, Vec::new()));
        }
        if let Some((used, laid)) = sheets.get_mut(at) {
            let y = top(*used);
            laid.extend(shelf.laid.iter().map(|one| LaidItem { y, ..*one }));
            *used = y + shelf.height;
        }
    }
    sheets.into_iter().map(|(_, laid)| laid).collect()
}

fn next_shelf(waiting: &mut VecDeque<WaitingItem>, area: NmRect) -> Shelf {
    let mut shelf = Shelf::default();
    let mut used = area.x0;
    loop {
        let left = |inset: i64| used.max(area.x0 + inset);
        let fits = |one: &WaitingItem| {
            let Item { size, inset, .. } = one.item;
            // As high as its tallest, the shelf keeps from the edges as far as any of its pieces must.
            let high = shelf.height.max(size.height) + 2 * shelf.inset.max(inset);
            left(inset) + size.width <= area.x1 - inset
                && high <= area.size().height
                && (shelf.laid.is_empty() || size.height <= shelf.height)
        };
        // The first that fits is next in order; a shelf's last place goes to the widest that fits.
        let next = if waiting.front().is_some_and(fits) {
            Some(0)
        } else {
            let near = waiting.iter().take(LOOK_AHEAD).enumerate().filter(|(_, one)| fits(one));
            near.max_by_key(|(at, one)| (one.item.size.width, Reverse(*at))).map(|(at, _)| at)
        };
        let Some(one) = next.and_then(|at| waiting.remove(at)) else { return shelf };
        let Item { size, inset, .. } = one.item;
        let x = left(inset);
        shelf.laid.push(LaidItem { item: one.index, x, y: 0, turned: one.turned });
        shelf.height = shelf.height.max(size.height);
        shelf.inset = shelf.inset.max(inset);
        used = x + size.width;
    }
}
