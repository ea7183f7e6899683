//! Boxes of many sizes in rows, in their order, as a person reads.

use kurbo::Size;

/// A row of boxes.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Shelf {
    pub(super) boxes: Vec<ShelfBox>,
    /// Height of the highest, mm.
    pub(super) height: f64,
    /// From the left end of the first to the right end of the last, mm.
    pub(super) width: f64,
}

/// A box in its row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ShelfBox {
    /// Its number among all boxes.
    pub(super) index: usize,
    /// From the row's left end, mm.
    pub(super) left: f64,
    /// mm.
    pub(super) width: f64,
}

/// Boxes in rows no wider than `width` mm, this far apart; a wider box gets a row to itself.
pub(super) fn shelves(sizes: &[Size], width: f64, gap: f64) -> Vec<Shelf> {
    let mut shelves: Vec<Shelf> = Vec::new();
    let mut shelf = Shelf::default();
    for (index, size) in sizes.iter().enumerate() {
        let mut start = if shelf.boxes.is_empty() { 0.0 } else { shelf.width + gap };
        if start + size.width > width && !shelf.boxes.is_empty() {
            shelves.push(std::mem::take(&mut shelf));
            start = 0.0;
        }
        shelf.boxes.push(ShelfBox { index, left: start, width: size.width });
        shelf.width = start + size.width;
        shelf.height = shelf.height.max(size.height);
    }
    if !shelf.boxes.is_empty() {
        shelves.push(shelf);
    }
    shelves
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_stand_in_rows_in_their_order() {
        let sizes = [(10.0, 4.0), (10.0, 6.0), (30.0, 5.0), (2.0, 1.0)].map(Size::from).to_vec();
        let rows = shelves(&sizes, 24.0, 3.0);
        let place = |it: &ShelfBox| (it.index, it.left);
        let boxes: Vec<Vec<_>> =
            rows.iter().map(|row| row.boxes.iter().map(place).collect()).collect();
        assert_eq!(boxes, [vec![(0, 0.0), (1, 13.0)], vec![(2, 0.0)], vec![(3, 0.0)]]);
        let heights: Vec<f64> = rows.iter().map(|row| row.height).collect();
        assert_eq!(heights, [6.0, 5.0, 1.0]);
    }
}
