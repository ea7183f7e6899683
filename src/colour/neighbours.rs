//! Colours a little beside a wanted one, to be printed and picked by eye.

use super::{Colour, Lab};

/// Patches along each side of the grid.
pub(crate) const SIDE: usize = 5;

/// Lightness from row to row: a step the eye sees at once. Larger would jump over the right patch.
const LIGHTNESS: f64 = 5.0;

/// a* or b* from column to column.
const CHROMA: f64 = 7.0;

/// Patches closer than this (CIEDE2000) could not be told apart.
const APART: f64 = 1.0;

/// The columns: bluer, greener, as wanted, redder, yellower.
pub(crate) const COLUMNS: [&str; SIDE] = ["bluer", "greener", "as wanted", "redder", "yellower"];

/// The grid of neighbours: rows from lighter to darker, columns as [`COLUMNS`]; the middle is the colour itself.
///
/// Where sRGB ends, a neighbour of that lightness is as strong as sRGB shows it; where it could then not be told
/// from another patch, it comes nearer by quarters; where even that does not help, there is none.
#[must_use]
pub(crate) fn neighbours(wanted: Colour) -> [[Option<Colour>; SIDE]; SIDE] {
    let middle = SIDE / 2;
    let mut grid = [[None; SIDE]; SIDE];
    let mut taken = vec![wanted];
    let mut cells: Vec<(usize, usize, &mut Option<Colour>)> = Vec::new();
    for (row, of_row) in grid.iter_mut().enumerate() {
        cells.extend(of_row.iter_mut().enumerate().map(|(column, cell)| (row, column, cell)));
    }
    // The nearest first: they matter most.
    cells.sort_by_key(|(row, column, _)| row.abs_diff(middle) + column.abs_diff(middle));
    for (row, column, cell) in cells {
        let is_wanted = (row, column) == (middle, middle);
        *cell = if is_wanted { Some(wanted) } else { beside(wanted, row, column, &taken) };
        taken.extend(*cell);
    }
    grid
}

/// The neighbour of a cell that can be told from those there are already.
fn beside(wanted: Colour, row: usize, column: usize, taken: &[Colour]) -> Option<Colour> {
    const LIGHTER: [f64; SIDE] = [2.0, 1.0, 0.0, -1.0, -2.0];
    const REDDER: [f64; SIDE] = [0.0, -1.0, 0.0, 1.0, 0.0];
    const YELLOWER: [f64; SIDE] = [-1.0, 0.0, 0.0, 0.0, 1.0];
    let of = |steps: [f64; SIDE], at: usize| steps.get(at).copied().unwrap_or_default();
    let middle = wanted.lab();
    [1.0, 0.75, 0.5, 0.25].into_iter().find_map(|share| {
        let lab = Lab {
            l: middle.l + share * LIGHTNESS * of(LIGHTER, row),
            a: middle.a + share * CHROMA * of(REDDER, column),
            b: middle.b + share * CHROMA * of(YELLOWER, column),
        };
        let patch = shown(lab)?;
        let apart = |other: &Colour| patch.lab().difference(other.lab()) >= APART;
        taken.iter().all(apart).then_some(patch)
    })
}

/// A colour of this lightness and hue, as strong as it is, or as sRGB can show it; `None` where that is less
/// than a third of it.
fn shown(lab: Lab) -> Option<Colour> {
    let weaker = |share: f64| Lab { a: lab.a * share, b: lab.b * share, ..lab }.colour();
    if let Some(colour) = lab.colour() {
        return Some(colour);
    }
    let (mut within, mut beyond) = (1.0 / 3.0, 1.0);
    let mut found = weaker(within)?;
    // Halved ten times: a thousandth, finer than eight bits a channel.
    for _ in 0..10 {
        let share = f64::midpoint(within, beyond);
        match weaker(share) {
            Some(colour) => (within, found) = (share, colour),
            None => beyond = share,
        }
    }
    Some(found)
}

/// The code of a cell: columns are letters, rows figures, `C3` the middle.
#[must_use]
pub(crate) fn code(row: usize, column: usize) -> String {
    let letter = ('A'..='E').nth(column).unwrap_or('?');
    format!("{letter}{}", row + 1)
}

/// The neighbour a code means; `None` for no code, or a patch that was left out.
#[must_use]
pub(crate) fn by_code(wanted: Colour, typed: &str) -> Option<Colour> {
    let grid = neighbours(wanted);
    let cells = grid.iter().enumerate();
    let mut cells = cells.flat_map(|(row, cells)| {
        cells.iter().enumerate().map(move |(column, cell)| (code(row, column), *cell))
    });
    cells.find(|(known, _)| known.eq_ignore_ascii_case(typed.trim())).and_then(|(_, cell)| cell)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_patches_are_distinct_and_the_middle_is_the_colour() {
        // Worked with colour-science: all 25 neighbours of the first, brought within sRGB at their own lightness
        // and hue, are at least 1.48 apart (CIEDE2000).
        for (wanted, least) in [
            ("#ad2b24", 25),
            ("#2f6f73", 25),
            ("#808080", 25),
            ("#ffdd00", 16),
            ("#ffff00", 12),
            ("#0000ff", 12),
            ("#ffffff", 9),
            ("#000000", 9),
        ] {
            let wanted = Colour::parse(wanted).unwrap();
            let grid = neighbours(wanted);
            assert_eq!(grid[2][2], Some(wanted));
            let all: Vec<Colour> = grid.iter().flatten().flatten().copied().collect();
            assert!(all.len() >= least, "{wanted}: {}", all.len());
            for (at, one) in all.iter().enumerate() {
                for other in &all[at + 1..] {
                    assert!(one.lab().difference(other.lab()) >= 0.99, "{one} {other}");
                }
            }
        }
    }

    #[test]
    fn inside_the_gamut_steps_are_whole() {
        // A mid grey has all 25; C1 is ten L* lighter, D3 seven a* redder (8 bits a channel: half a step off).
        let grey = Colour { rgb: [128; 3] };
        let grid = neighbours(grey);
        assert_eq!(grid.iter().flatten().flatten().count(), 25);
        let (lighter, redder) = (grid[0][2].unwrap().lab(), grid[2][3].unwrap().lab());
        assert!((lighter.l - grey.lab().l - 10.0).abs() < 0.3);
        assert!((redder.a - 7.0).abs() < 0.6 && (redder.l - grey.lab().l).abs() < 0.3);
        assert_eq!(by_code(grey, "d3"), grid[2][3]);
        assert_eq!((by_code(grey, "F1"), by_code(grey, "D6")), (None, None));
    }
}
