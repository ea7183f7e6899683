//! Upright rectangles in whole nanometres, and the free ones left between them.
//!
//! Whole numbers make an exact fit exact: 203.2 mm in 203.2 mm leaves nothing and needs no slack.

/// An upright rectangle, nanometres, y down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::sheet) struct Cell {
    pub(in crate::sheet) y0: i64,
    pub(in crate::sheet) x0: i64,
    pub(in crate::sheet) y1: i64,
    pub(in crate::sheet) x1: i64,
}

impl Cell {
    /// From its top left corner and size.
    pub(in crate::sheet) fn at(x: i64, y: i64, width: i64, height: i64) -> Cell {
        Cell { y0: y, x0: x, y1: y + height, x1: x + width }
    }

    pub(in crate::sheet) fn width(&self) -> i64 {
        self.x1 - self.x0
    }

    pub(in crate::sheet) fn height(&self) -> i64 {
        self.y1 - self.y0
    }

    /// Area in nm²: a sheet of 100 m a side is 1e22, more than 64 bits hold.
    pub(in crate::sheet) fn area(&self) -> i128 {
        i128::from(self.width()) * i128::from(self.height())
    }

    /// Whether the insides overlap; edges may touch.
    pub(in crate::sheet) fn meets(&self, other: &Cell) -> bool {
        self.x0 < other.x1 && other.x0 < self.x1 && self.y0 < other.y1 && other.y0 < self.y1
    }

    /// Whether all of the other lies in this one.
    pub(in crate::sheet) fn holds(&self, other: &Cell) -> bool {
        self.x0 <= other.x0 && self.y0 <= other.y0 && self.x1 >= other.x1 && self.y1 >= other.y1
    }

    /// Whether it is at least this wide and high.
    fn spans(&self, least: (i64, i64)) -> bool {
        self.width() > 0 && self.height() > 0 && self.width() >= least.0 && self.height() >= least.1
    }
}

/// All largest free rectangles of `area` (those that cannot grow any way) of at least this width and
/// height once `taken` are in place.
pub(in crate::sheet) fn free(area: Cell, taken: &[Cell], least: (i64, i64)) -> Vec<Cell> {
    let mut free = vec![area];
    for cell in taken {
        carve(&mut free, *cell, least);
    }
    free
}

/// Takes a cell out of a list of largest free rectangles; those that become smaller than `least` are dropped.
pub(in crate::sheet) fn carve(free: &mut Vec<Cell>, taken: Cell, least: (i64, i64)) {
    let mut parts = Vec::new();
    free.retain(|whole| {
        if !whole.meets(&taken) {
            return true;
        }
        parts.extend(
            [
                Cell { x1: taken.x0, ..*whole },
                Cell { x0: taken.x1, ..*whole },
                Cell { y1: taken.y0, ..*whole },
                Cell { y0: taken.y1, ..*whole },
            ]
            .into_iter()
            .filter(|part| part.spans(least)),
        );
        false
    });
    // Only the new ones can lie in others, and a large one never in a smaller one.
    parts.sort_by_key(|part| (std::cmp::Reverse(part.area()), *part));
    for part in parts {
        if !free.iter().any(|whole| whole.holds(&part)) {
            free.push(part);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hole_in_the_middle_leaves_four_strips() {
        // A 30 x 30 area with its middle 10 x 10 taken: two strips 10 x 30 and two 30 x 10 (by drawing).
        let mut strips = free(Cell::at(0, 0, 30, 30), &[Cell::at(10, 10, 10, 10)], (1, 1));
        strips.sort();
        assert_eq!(
            strips,
            [
                Cell::at(0, 0, 30, 10),
                Cell::at(0, 0, 10, 30),
                Cell::at(20, 0, 10, 30),
                Cell::at(0, 20, 30, 10)
            ]
        );
    }

    #[test]
    fn free_rectangles_meet_nothing_and_none_holds_another() {
        let taken: Vec<Cell> =
            (0..12).map(|n| Cell::at(n * 37 % 80, n * 53 % 80, 9 + n % 5, 7 + n % 7)).collect();
        let free = free(Cell::at(0, 0, 100, 100), &taken, (1, 1));
        assert!(free.len() > 4);
        for (at, one) in free.iter().enumerate() {
            assert!(!taken.iter().any(|cell| cell.meets(one)));
            for (to, other) in free.iter().enumerate() {
                assert!(at == to || !one.holds(other));
            }
        }
    }
}
