//! The ink page, and its underlay: how much an ink shows over black.
//!
//! The first page is printed on film, the second on white paper. With the film on the paper, the upper half of
//! every patch lies over black, the lower over white. What is still seen over black is what the ink reflects by
//! itself; a ladder of greys beside it says how much that is.

use super::page_writer::PageWriter;
use crate::card::typeset::Level;
use crate::colour::{Colour, Lab, seen};
use kurbo::{Point, Rect, Size, Vec2};

/// Process inks and their pairs, as a printer driver takes them.
const INKS: [(&str, Colour); 7] = [
    ("C", Colour { rgb: [0, 255, 255] }),
    ("M", Colour { rgb: [255, 0, 255] }),
    ("Y", YELLOW),
    ("R", Colour { rgb: [255, 0, 0] }),
    ("G", Colour { rgb: [0, 255, 0] }),
    ("B", Colour { rgb: [0, 0, 255] }),
    ("K", Colour::BLACK),
];

/// The lightest ink: over black it shows most, so that it is judged by.
const YELLOW: Colour = Colour { rgb: [255, 255, 0] };

/// The ladder of opacities, per cent: dye inks are at its left, toners further right.
const LADDER: [u32; 10] = [0, 2, 4, 6, 8, 10, 15, 20, 30, 50];

/// For the inks' names at the left, mm.
const NAMES_MM: f64 = 10.0;

/// Between patches, mm.
const GAP_MM: f64 = 1.0;

/// Where things are on both pages.
struct PatchGrid {
    /// Left edge of the first patch and top of the first row, mm.
    from: Point,
    /// From patch to patch and from row to row, mm.
    pitch: Size,
}

impl PatchGrid {
    /// A patch, or a step of the ladder in the row after the last.
    fn patch(&self, row: u8, column: u8) -> Rect {
        let (x, y) = (f64::from(column) * self.pitch.width, f64::from(row) * self.pitch.height);
        let height = 2.0 * ((self.pitch.height - 3.0) / 2.0);
        Rect::new(x, y, x + self.pitch.width - GAP_MM, y + height) + self.from.to_vec2()
    }
}

pub(super) fn fill(page: &mut PageWriter<'_>) {
    let top = page.head(
        "Test print: inks",
        "Print page 1 on clear film, page 2 on white paper, both at 100 %, no scaling. Lay the dry film on the paper, \
         corner on corner: the upper half of each patch then lies over black.",
    );
    let area = page.area();
    let across = (area.width() - NAMES_MM + GAP_MM) / 10.0;
    let down = if page.is_tall() { 16.0 } else { 12.0 };
    let from = Point::new(area.x0 + NAMES_MM, top + 6.6);
    let grid = PatchGrid { from, pitch: Size::new(across, down) };
    film(&grid, top, page);
    page.next_page();
    underlay(&grid, page);
}

/// The inks in tints from 10 to 100 %.
fn film(grid: &PatchGrid, top: f64, page: &mut PageWriter<'_>) {
    let left = page.area().x0;
    for column in 0..10 {
        let at = Point::new(grid.patch(0, column).x0, top + 1.4);
        page.write(Level::Quiet, &format!("{} %", 10 * (column + 1)), at, 0.0);
    }
    for (row, (name, ink)) in (0..).zip(INKS) {
        page.write_beside(Level::Strong, name, left, grid.patch(row, 0).center().y);
        for column in 0..10 {
            let tint = Colour { rgb: ink.rgb.map(|channel| tinted(channel, column + 1)) };
            page.block(grid.patch(row, column), tint);
        }
    }
    let what = "The step of the ladder that yellow at 100 % looks like where it lies over black, such as 8 %. Half \
                close your eyes; between two steps, take the middle.";
    page.advice(&[("opacity", what)], grid.patch(8, 0).y1 + 4.0);
}

/// A tenth of full ink is a tenth of the way from white.
fn tinted(channel: u8, tenths: u8) -> u8 {
    let less = u16::from(255 - channel) * u16::from(tenths) / 10;
    255 - u8::try_from(less).unwrap_or(255)
}

/// Black under the upper halves, and the ladder.
fn underlay(grid: &PatchGrid, page: &mut PageWriter<'_>) {
    let area = page.area();
    for row in 0..7 {
        let first = grid.patch(row, 0);
        let strip = Rect::new(first.x0, first.y0 - 1.0, area.x1, first.center().y);
        page.block(strip, Colour::BLACK);
    }
    for (column, percent) in (0..).zip(LADDER) {
        let patch = grid.patch(7, column) + Vec2::new(0.0, 3.0);
        page.block(Rect { y1: patch.y1 - 2.0, ..patch }, step(percent));
        let at = Point::new(patch.x0, patch.y1 - 0.4);
        page.write(Level::Quiet, &format!("{percent} %"), at, 0.0);
    }
    page.write_beside(Level::Quiet, "opacity", area.x0, grid.patch(7, 0).center().y + 2.0);
    // Where the film's page is empty: the two lie on each other.
    let at = Point::new(area.x1, area.y1 - 3.0);
    page.write(Level::Quiet, "Underlay: print on white paper", at, 1.0);
}

/// The grey that reflects as much as yellow of this opacity over black.
fn step(percent: u32) -> Colour {
    let over = seen::over(YELLOW, f64::from(percent) / 100.0, Colour::BLACK);
    Lab { l: over.lab().l, a: 0.0, b: 0.0 }.colour().unwrap_or(Colour::BLACK)
}
