//! Fields of square or oblong cells, some filled: drawn as their common outline, not cell by cell.

use super::{Outline, build::add_contour};
use kurbo::{BezPath, Point, Size};
use std::collections::BTreeMap;

/// A corner of a cell: column and row of the cell right below it.
type Corner = (usize, usize);

/// The direction a side runs in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Direction {
    Right,
    Down,
    Left,
    Up,
}

impl Direction {
    /// The directions to go on in, a right turn first: so cells that meet at a corner only stay apart.
    fn onwards(self) -> [Direction; 3] {
        match self {
            Direction::Right => [Direction::Down, Direction::Right, Direction::Up],
            Direction::Down => [Direction::Left, Direction::Down, Direction::Right],
            Direction::Left => [Direction::Up, Direction::Left, Direction::Down],
            Direction::Up => [Direction::Right, Direction::Up, Direction::Left],
        }
    }
}

/// The filled cells of a field of `columns` times `rows`, as one outline about the field's middle.
///
/// Neighbours are merged, so no seam can show between them.
#[must_use]
pub(crate) fn cells(
    columns: usize,
    rows: usize,
    cell: Size,
    filled: impl Fn(usize, usize) -> bool,
) -> Outline {
    let mut sides = sides(columns, rows, &filled);
    #[allow(clippy::cast_precision_loss, reason = "a field has some hundred cells a side")]
    let point = |(column, row): Corner| {
        Point::new(
            (column as f64 - columns as f64 / 2.0) * cell.width,
            (row as f64 - rows as f64 / 2.0) * cell.height,
        )
    };
    let mut path = BezPath::new();
    while let Some((&(start, direction), _)) = sides.first_key_value() {
        add_contour(&mut path, contour(start, direction, &mut sides).into_iter().map(point));
    }
    Outline::trusted(&path)
}

/// The sides between filled and open cells, by where they start and their direction (filled on the right), each
/// with its end.
type Sides = BTreeMap<(Corner, Direction), Corner>;

fn sides(columns: usize, rows: usize, filled: &impl Fn(usize, usize) -> bool) -> Sides {
    let mut sides = BTreeMap::new();
    for (column, row) in (0..rows).flat_map(|row| (0..columns).map(move |column| (column, row))) {
        if !filled(column, row) {
            continue;
        }
        let (right, below) = (column + 1, row + 1);
        if row == 0 || !filled(column, row - 1) {
            sides.insert(((column, row), Direction::Right), (right, row));
        }
        if right == columns || !filled(right, row) {
            sides.insert(((right, row), Direction::Down), (right, below));
        }
        if below == rows || !filled(column, below) {
            sides.insert(((right, below), Direction::Left), (column, below));
        }
        if column == 0 || !filled(column - 1, row) {
            sides.insert(((column, below), Direction::Up), (column, row));
        }
    }
    sides
}

/// The corners of one contour, whose sides are taken out of `sides`.
fn contour(start: Corner, first: Direction, sides: &mut Sides) -> Vec<Corner> {
    let (mut corners, mut at, mut direction) = (vec![start], start, first);
    while let Some(end) = sides.remove(&(at, direction)) {
        at = end;
        let Some(next) =
            direction.onwards().into_iter().find(|next| sides.contains_key(&(at, *next)))
        else {
            break;
        };
        if next != direction {
            corners.push(at);
        }
        direction = next;
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(rows: &[&str]) -> Outline {
        let dark = |column: usize, row: usize| rows[row].as_bytes()[column] == b'#';
        cells(rows[0].len(), rows.len(), Size::new(2.0, 3.0), dark)
    }

    #[test]
    fn neighbours_become_one_contour_and_holes_run_the_other_way() {
        // Counted: eight cells of 6 mm² in a ring, one outer contour and one hole of four corners each.
        let ring = drawn(&["###", "#.#", "###"]);
        assert!((ring.area() - 48.0).abs() < 1e-9);
        assert_eq!(ring.contours().count(), 2);
        assert_eq!(ring.elements().len(), 2 * 5);
        assert!(!ring.contains(Point::new(0.0, 0.0)) && ring.contains(Point::new(-2.0, -3.0)));
    }

    #[test]
    fn cells_that_meet_at_a_corner_are_never_wound_twice() {
        let drawn = drawn(&["#.#", ".#.", "#.#"]);
        assert_eq!(drawn.contours().count(), 5);
        assert!((drawn.area() - 30.0).abs() < 1e-9);
        assert!((Outline::of(&drawn.path()).area() - 30.0).abs() < 1e-3);
    }

    #[test]
    fn a_field_of_any_pattern_has_the_area_of_its_cells() {
        // A fixed pattern without order; area is the count of filled cells times 6 mm².
        let filled = |column: usize, row: usize| {
            (column * 7 + row * 11 + column * row * 5).is_multiple_of(3)
        };
        let count = (0..23).flat_map(|row| (0..17).map(move |column| (column, row)));
        let count = count.filter(|(column, row)| filled(*column, *row)).count();
        let field = cells(17, 23, Size::new(2.0, 3.0), filled);
        assert!((field.area() - count as f64 * 6.0).abs() < 1e-6);
    }
}
