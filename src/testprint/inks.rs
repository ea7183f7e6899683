//! The ink page, and its underlay: how much an ink shows over black.
//!
//! The first page is printed on film, the second on white paper. With the film on the paper, the upper half of
//! every patch lies over black, the lower over white. What is still seen over black is what the ink reflects by
//! itself; a ladder of greys beside it says how much that is.

use super::form::Form;
use crate::card::typeset::Level;
use crate::colour::{Colour, Lab, seen};
use kurbo::{Point, Rect};

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
struct Grid {
    /// Left edge of the first patch and top of the first row, mm.
    from: Point,
    /// From patch to patch and from row to row, mm.
    pitch: (f64, f64),
    right: f64,
}

impl Grid {
    /// A patch, or a step of the ladder in the row after the last.
    fn patch(&self, row: u32, column: u32) -> Rect {
        let (across, down) = self.pitch;
        let (x, y) = (f64::from(column) * across, f64::from(row) * down);
        let height = 2.0 * ((down - 3.0) / 2.0);
        Rect::new(x, y, x + across - GAP_MM, y + height) + self.from.to_vec2()
    }
}

pub(super) fn fill(form: &mut Form<'_>) {
    let top = form.head(
        "Test print: inks",
        "Print page 1 on clear film, page 2 on white paper, both at 100 %, no scaling. Lay the dry film on the paper, \
         corner on corner: the upper half of each patch then lies over black.",
    );
    let area = form.area();
    let across = (area.width() - NAMES_MM + GAP_MM) / 10.0;
    let down = if form.is_tall() { 16.0 } else { 12.0 };
    let grid = Grid {
        from: Point::new(area.x0 + NAMES_MM, top + 6.6),
        pitch: (across, down),
        right: area.x1,
    };
    film(&grid, top, form);
    form.next_page();
    underlay(&grid, form);
}

/// The inks in tints from 10 to 100 %.
fn film(grid: &Grid, top: f64, form: &mut Form<'_>) {
    let left = form.area().x0;
    for (column, tint) in (0_u32..).zip((1..=10_u8).map(|tenth| tenth * 10)) {
        let x = grid.patch(0, column).x0;
        form.write(Level::Quiet, &format!("{tint} %"), Point::new(x, top + 1.4), 0.0);
    }
    for (row, (name, ink)) in (0_u32..).zip(INKS) {
        let middle = grid.patch(row, 0).center().y - Level::Strong.cap() / 2.0;
        form.write(Level::Strong, name, Point::new(left, middle), 0.0);
        for column in 0..10_u8 {
            let tint = Colour { rgb: ink.rgb.map(|channel| tinted(channel, column + 1)) };
            form.block(grid.patch(row, u32::from(column)), tint);
        }
    }
    let bottom = grid.patch(8, 0).y1;
    let rows = [(
        "opacity",
        "The step of the ladder that yellow at 100 % looks like where it lies over black, such as 8 %. Half close your \
         eyes; between two steps, take the middle."
            .to_owned(),
    )];
    form.advice(&rows, bottom + 4.0);
}

/// A tenth of full ink is a tenth of the way from white.
fn tinted(channel: u8, tenths: u8) -> u8 {
    let less = u16::from(255 - channel) * u16::from(tenths) / 10;
    255 - u8::try_from(less).unwrap_or(255)
}

/// Black under the upper halves, and the ladder.
fn underlay(grid: &Grid, form: &mut Form<'_>) {
    for row in 0..7 {
        let first = grid.patch(row, 0);
        let strip = Rect::new(first.x0, first.y0 - 1.0, grid.right, first.center().y);
        form.block(strip, Colour::BLACK);
    }
    let left = form.area().x0;
    for (column, percent) in (0_u32..).zip(LADDER) {
        let spot = grid.patch(7, column) + kurbo::Vec2::new(0.0, 3.0);
        form.block(Rect { y1: spot.y1 - 2.0, ..spot }, step(percent));
        let at = Point::new(spot.x0, spot.y1 - 0.4);
        form.write(Level::Quiet, &format!("{percent} %"), at, 0.0);
    }
    let middle = grid.patch(7, 0).center().y + 2.0 - Level::Quiet.cap() / 2.0;
    form.write(Level::Quiet, "opacity", Point::new(left, middle), 0.0);
    // Where the film has nothing: the two pages are read together.
    let area = form.area();
    let line = form.setter.phrase(Level::Quiet, "Underlay: print on white paper");
    let at = Point::new(area.x1 - line.width, area.y1 - 3.0);
    form.strip.write_line(&line, Level::Quiet, at);
}

/// The grey that reflects as much as yellow of this opacity over black.
fn step(percent: u32) -> Colour {
    let over = seen::over(YELLOW, f64::from(percent) / 100.0, Colour::BLACK);
    Lab { l: over.lab().l, a: 0.0, b: 0.0 }.colour().unwrap_or(Colour::BLACK)
}
