//! A picture of each surface: its labels on the paint at true size, then enlarged with what was found on them.
//!
//! One unit is one millimetre. Everything is flat outlines, letters too, so that every program shows the same;
//! colours are worked out before and never blended.

mod ink;
mod rows;

use super::surfaces::{Shown, shown};
use super::{Job, pins, word};
use crate::card::typeset::{Level, Typesetter};
use crate::output::svg::MADE_BY;
use crate::units::fixed;
use ink::Ink;
use kurbo::Size;
use rows::Row;
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// A picture.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Picture {
    /// Part of its file's name: the surface's, and a number where it takes several.
    pub stem: String,
    /// The picture itself.
    pub svg: String,
}

/// White round a picture, mm.
const MARGIN_MM: f64 = 12.0;

/// Inside its margins a picture is at least this wide, mm: that of A4, to be printed.
const WIDTH_MM: f64 = 186.0;

/// From a ground's edge to its labels, mm.
const ROUND_MM: f64 = 6.0;

/// A picture is no higher than this, mm, unless one row is: much more, and viewers give up.
const MOST_MM: f64 = 1000.0;

/// The pictures of every surface, by name; the labels without one come last.
#[must_use]
pub(crate) fn pictures(job: Job<'_>) -> Vec<Picture> {
    let pins = pins::pins(job);
    let mut pictures = Vec::new();
    for shown in shown(job.spec, job.designs) {
        let designs: BTreeSet<usize> = shown.designs.iter().copied().collect();
        let on: Vec<pins::Pin> =
            pins.iter().filter(|pin| designs.contains(&pin.design)).copied().collect();
        pictures.extend(of_surface(job, &shown, &on));
    }
    pictures
}

fn of_surface(job: Job<'_>, shown: &Shown<'_>, pins: &[pins::Pin]) -> Vec<Picture> {
    let sizes = shown.designs.iter().filter_map(|index| job.designs.get(*index));
    let widest = sizes.map(|design| design.size().width()).fold(0.0, f64::max);
    let width = (widest + 2.0 * ROUND_MM).max(WIDTH_MM);
    let mut ink = Ink { setter: Typesetter::new(job.faces, 0), width };
    let rows = rows::rows(job, shown, pins, &mut ink);
    let letters = ink.setter.into_drawings();
    let letters: String =
        letters.iter().enumerate().map(|(index, letter)| ink::letter(index, letter)).collect();
    let drawn = ink::designs(job, shown);
    let pages = paginate(rows);
    let of = pages.len();
    pages
        .into_iter()
        .zip(1..)
        .map(|(rows, number)| {
            let stem = match number {
                1 => shown.stem.clone(),
                // No surface's own stem holds an underscore.
                more => format!("{}_{more}", shown.stem),
            };
            let part = if of > 1 { format!(", {number} of {of}") } else { String::new() };
            let title = format!("{} - {} as seen{part}", job.spec.title, shown.title());
            let placed: BTreeSet<usize> =
                rows.iter().flat_map(|row| row.labels.iter().copied()).collect();
            let placed = placed.iter().filter_map(|index| drawn.get(index));
            let placed: String = placed.map(String::as_str).collect();
            let defs = format!("<defs>\n{letters}{placed}</defs>\n");
            Picture { stem, svg: document(&title, width, &rows, &defs) }
        })
        .collect()
}

/// Rows on as many pages as they need.
fn paginate(rows: Vec<Row>) -> Vec<Vec<Row>> {
    let mut pages: Vec<Vec<Row>> = vec![Vec::new()];
    let mut height = 0.0;
    for row in rows {
        if height + row.height > MOST_MM && height > 0.0 {
            pages.push(Vec::new());
            height = 0.0;
        }
        height += row.height;
        if let Some(page) = pages.last_mut() {
            page.push(row);
        }
    }
    pages
}

fn document(title: &str, width: f64, rows: &[Row], defs: &str) -> String {
    let height = rows.iter().map(|row| row.height).sum::<f64>();
    let size = Size::new(width + 2.0 * MARGIN_MM, height + 2.0 * MARGIN_MM);
    let (across, down) = (fixed(size.width, 3), fixed(size.height, 3));
    let mut svg = format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{MADE_BY}\n");
    let _ = writeln!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"{across}mm\" \
         height=\"{down}mm\" viewBox=\"0 0 {across} {down}\">\n<title>{}</title>\n{defs}\
         <path fill=\"#ffffff\" d=\"M0 0h{across}v{down}h-{across}z\"/>",
        super::shield::escaped(title)
    );
    let mut top = MARGIN_MM;
    for row in rows {
        let (x, y) = (fixed(MARGIN_MM, 3), fixed(top, 3));
        let _ = writeln!(svg, "<g transform=\"translate({x} {y})\">{}</g>", row.body);
        top += row.height;
    }
    svg.push_str("</svg>\n");
    svg
}
