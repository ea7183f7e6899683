//! The colour page: a wanted colour and its neighbours, to be laid over the part and picked by eye.

use super::answers::quoted;
use super::form::Form;
use crate::card::strip::RULE;
use crate::card::typeset::{Level, QUIET};
use crate::colour::Colour;
use crate::colour::neighbours::{COLUMNS, code, neighbours};
use crate::shape::rounded;
use kurbo::{Point, Rect, Size};

/// What each row is.
const ROWS: [&str; 5] = ["L* +10", "L* +5", "L* 0", "L* −5", "L* −10"];

/// For the rows' names at the left, mm.
const NAMES_MM: f64 = 15.0;

/// Between patches, mm.
const GAP_MM: f64 = 2.4;

pub(super) fn fill(name: &str, wanted: Colour, form: &mut Form<'_>) {
    let shown: String = name.chars().take(40).collect();
    let top = form.head(
        &format!("Test print: colour {shown}"),
        "Print at 100 %, no scaling, on the film and with the settings the labels will have. Lay the film on the \
         painted part in daylight, or the page beside it, and pick the patch that looks as you want it.",
    );
    let area = form.area();
    let pitch = (area.width() - NAMES_MM + GAP_MM) / 5.0;
    let patch = Size::new(pitch - GAP_MM, if form.is_tall() { 20.0 } else { 13.0 });
    let row_pitch = patch.height + 7.4;
    let grid_top = top + 6.6;
    for (column, words) in (0_u32..).zip(COLUMNS) {
        let x = area.x0 + NAMES_MM + f64::from(column) * pitch;
        form.write(Level::Quiet, words, Point::new(x, top + 1.4), 0.0);
    }
    let grid = neighbours(wanted);
    for ((row, cells), words) in grid.iter().enumerate().zip(ROWS) {
        #[allow(clippy::cast_precision_loss, reason = "five rows and columns")]
        let y = grid_top + row as f64 * row_pitch;
        let middle = y + patch.height / 2.0 - Level::Quiet.cap() / 2.0;
        form.write(Level::Quiet, words, Point::new(area.x0, middle), 0.0);
        for (column, cell) in cells.iter().enumerate() {
            #[allow(clippy::cast_precision_loss, reason = "five rows and columns")]
            let x = area.x0 + NAMES_MM + column as f64 * pitch;
            let spot = Rect::from_origin_size(Point::new(x, y), patch);
            draw(*cell, &code(row, column), spot, form);
        }
    }
    let plain = name.starts_with(char::is_alphabetic)
        && name.chars().all(|c| c.is_alphanumeric() || c == '-');
    let key = if plain { name.to_owned() } else { quoted(name) };
    let how = format!("{key}: {{shown: \"{wanted}\", print: CODE}}, with the code of the patch.");
    let mut rows = vec![("colours", how)];
    if grid.iter().flatten().any(Option::is_none) {
        let why = "sRGB has no such colour, or nobody could tell it from another patch.";
        rows.push(("left out", why.to_owned()));
    }
    form.advice(&rows, grid_top + 5.0 * row_pitch + 1.0);
}

/// A patch with its code and value under it; an empty frame where there is none.
fn draw(cell: Option<Colour>, code: &str, spot: Rect, form: &mut Form<'_>) {
    let under = Point::new(spot.x0, spot.y1 + 1.5);
    let Some(colour) = cell else {
        let inner = rounded(spot.inset(-0.2), 0.8);
        form.strip.fill(rounded(spot, 1.0).minus(&inner), RULE);
        form.write(Level::Quiet, &format!("{code}  left out"), under, 0.0);
        return;
    };
    form.strip.fill(rounded(spot, 1.0), colour);
    // Nearly white patches need an edge to be seen.
    if colour.contrast(Colour::WHITE) < 1.2 {
        let inner = rounded(spot.inset(-0.12), 0.9);
        form.strip.fill(rounded(spot, 1.0).minus(&inner), QUIET);
    }
    form.write(Level::Strong, code, under, 0.0);
    form.write(Level::Quiet, &colour.to_string(), Point::new(spot.x1, under.y), 1.0);
}
