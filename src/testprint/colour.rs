//! The colour page: a wanted colour and its neighbours, to be laid over the part and picked by eye.

use super::answers::double_quoted;
use super::page_writer::PageWriter;
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

pub(super) fn fill(name: &str, wanted: Colour, page: &mut PageWriter<'_>) {
    let shown: String = name.chars().take(40).collect();
    let top = page.head(
        &format!("Test print: colour {shown}"),
        "Print at 100 %, no scaling, on the film and with the settings the labels will have. Lay the film on the \
         painted part in daylight, or the page beside it, and pick the patch that looks as you want it.",
    );
    let area = page.area();
    let pitch = (area.width() - NAMES_MM + GAP_MM) / 5.0;
    let patch = Size::new(pitch - GAP_MM, if page.is_tall() { 20.0 } else { 13.0 });
    let row_pitch = patch.height + 7.4;
    let grid_top = top + 6.6;
    let columns: Vec<f64> =
        (0..5).map(|column| area.x0 + NAMES_MM + f64::from(column) * pitch).collect();
    for (x, words) in columns.iter().zip(COLUMNS) {
        page.write(Level::Quiet, words, Point::new(*x, top + 1.4), 0.0);
    }
    let grid = neighbours(wanted);
    let tops = (0..).map(|row| grid_top + f64::from(row) * row_pitch);
    for (row, ((cells, words), y)) in grid.iter().zip(ROWS).zip(tops).enumerate() {
        page.write_beside(Level::Quiet, words, area.x0, y + patch.height / 2.0);
        for (column, (cell, x)) in cells.iter().zip(&columns).enumerate() {
            let area = Rect::from_origin_size(Point::new(*x, y), patch);
            draw(*cell, &code(row, column), area, page);
        }
    }
    let plain = name.starts_with(char::is_alphabetic)
        && name.chars().all(|c| c.is_alphanumeric() || c == '-');
    let key = if plain { name.to_owned() } else { double_quoted(name) };
    let how = format!("{key}: {{shown: \"{wanted}\", print: CODE}}, with the code of the patch.");
    let mut rows = vec![("colours", how.as_str())];
    if grid.iter().flatten().any(Option::is_none) {
        let why = "sRGB has no such colour, or nobody could tell it from another patch.";
        rows.push(("left out", why));
    }
    page.advice(&rows, grid_top + 5.0 * row_pitch + 1.0);
}

/// A patch with its code and value under it; an empty frame where there is none.
fn draw(cell: Option<Colour>, code: &str, area: Rect, page: &mut PageWriter<'_>) {
    let under = Point::new(area.x0, area.y1 + 1.5);
    let frame =
        |width: f64, radius: f64| rounded(area, 1.0).minus(&rounded(area.inset(-width), radius));
    let Some(colour) = cell else {
        page.fill(frame(0.2, 0.8), RULE);
        page.write(Level::Quiet, &format!("{code}  left out"), under, 0.0);
        return;
    };
    page.fill(rounded(area, 1.0), colour);
    // Nearly white patches need an edge to be seen.
    if colour.contrast(Colour::WHITE) < 1.2 {
        page.fill(frame(0.12, 0.9), QUIET);
    }
    page.write(Level::Strong, code, under, 0.0);
    page.write(Level::Quiet, &colour.to_string(), Point::new(area.x1, under.y), 1.0);
}
