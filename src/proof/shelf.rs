//! Boxes of many sizes in rows, in their order, as a person reads.

use kurbo::Size;

/// A row of boxes.
#[derive(Debug)]
pub(super) struct Shelf<T> {
    pub(super) boxes: Vec<ShelfBox<T>>,
    /// Height of the highest, mm.
    pub(super) height: f64,
    /// From the left end of the first to the right end of the last, mm.
    pub(super) width: f64,
}

/// A box in its row.
#[derive(Debug)]
pub(super) struct ShelfBox<T> {
    pub(super) item: T,
    /// From the row's left end, mm.
    pub(super) left: f64,
    /// mm.
    pub(super) width: f64,
}

/// Items with the sizes of their boxes in rows no wider than `width` mm, `gap` mm apart; a wider box gets a row to
/// itself.
pub(super) fn shelves<T>(
    items: impl IntoIterator<Item = (T, Size)>,
    width: f64,
    gap: f64,
) -> Vec<Shelf<T>> {
    let mut shelves: Vec<Shelf<T>> = Vec::new();
    for (item, size) in items {
        let has_room = |shelf: &&mut Shelf<T>| shelf.width + gap + size.width <= width;
        if let Some(shelf) = shelves.last_mut().filter(has_room) {
            let left = shelf.width + gap;
            shelf.boxes.push(ShelfBox { item, left, width: size.width });
            shelf.width = left + size.width;
            shelf.height = shelf.height.max(size.height);
        } else {
            let boxes = vec![ShelfBox { item, left: 0.0, width: size.width }];
            shelves.push(Shelf { boxes, height: size.height, width: size.width });
        }
    }
    shelves
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_stand_in_rows_in_their_order() {
        let sizes = [(10.0, 4.0), (10.0, 6.0), (30.0, 5.0), (2.0, 1.0)].map(Size::from);
        let rows = shelves(sizes.into_iter().enumerate(), 24.0, 3.0);
        let boxes: Vec<Vec<_>> = rows
            .iter()
            .map(|row| row.boxes.iter().map(|it| (it.item, it.left)).collect())
            .collect();
        assert_eq!(boxes, [vec![(0, 0.0), (1, 13.0)], vec![(2, 0.0)], vec![(3, 0.0)]]);
        let heights: Vec<f64> = rows.iter().map(|row| row.height).collect();
        assert_eq!(heights, [6.0, 5.0, 1.0]);
    }
}
