//! A picture of each surface: its labels on the paint at true size, then enlarged with what was found on them.
//!
//! One unit is one millimetre. Everything is flat outlines, letters too, so that every program shows the same;
//! colours are worked out before and never blended.

mod rows;
mod writer;

use super::Proofed;
use super::html_escape::escaped;
use super::pins::{Pin, pins};
use super::surfaces::{ShownSurface, shown_surfaces};
use crate::card::typeset::{Level, Typesetter};
use crate::output::svg::file_head;
use crate::units::fixed;
use kurbo::Size;
use rows::PictureRow;
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
const APRON_MM: f64 = 6.0;

/// A picture is no higher than this, mm, unless one row is: viewers fail to open much higher ones.
const MOST_MM: f64 = 1000.0;

/// The pictures of every surface, by name; the labels without one come last.
#[must_use]
pub(crate) fn pictures(job: Proofed<'_>) -> Vec<Picture> {
    let pins = pins(job);
    let mut pictures = Vec::new();
    for shown in &shown_surfaces(job.spec, job.designs) {
        let designs: BTreeSet<usize> = shown.designs.iter().copied().collect();
        let on_it = pins.iter().filter(|pin| designs.contains(&pin.design));
        pictures.extend(of_surface(job, shown, &on_it.copied().collect::<Vec<_>>()));
    }
    pictures
}

/// What the pictures of one surface are made from; they share their letters.
struct SurfacePicture<'a> {
    job: Proofed<'a>,
    shown: &'a ShownSurface<'a>,
    pins: &'a [Pin<'a>],
    typesetter: Typesetter<'a>,
    /// How wide a picture is inside its margins, mm.
    width: f64,
}

fn of_surface<'a>(job: Proofed<'a>, shown: &'a ShownSurface<'a>, pins: &'a [Pin]) -> Vec<Picture> {
    let designs = job.numbered(&shown.designs);
    let widest = designs.iter().map(|(_, design)| design.size().width()).fold(0.0, f64::max);
    let width = (widest + 2.0 * APRON_MM).max(WIDTH_MM);
    let typesetter = Typesetter::new(job.faces, 0);
    let mut picture = SurfacePicture { job, shown, pins, typesetter, width };
    let rows = picture.rows();
    let letters = picture.typesetter.into_drawings();
    let letters = letters.iter().enumerate().map(|(index, letter)| writer::letter(index, letter));
    let letters: String = letters.collect();
    let drawn = writer::designs(job, shown);
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
fn paginate(rows: Vec<PictureRow>) -> Vec<Vec<PictureRow>> {
    let mut pages: Vec<Vec<PictureRow>> = vec![Vec::new()];
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

fn document(title: &str, width: f64, rows: &[PictureRow], defs: &str) -> String {
    let height = rows.iter().map(|row| row.height).sum::<f64>();
    let size = Size::new(width + 2.0 * MARGIN_MM, height + 2.0 * MARGIN_MM);
    let (across, down) = (fixed(size.width, 3), fixed(size.height, 3));
    let mut svg = file_head();
    let _ = writeln!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"{across}mm\" \
         height=\"{down}mm\" viewBox=\"0 0 {across} {down}\">\n<title>{}</title>\n{defs}\
         <path fill=\"#ffffff\" d=\"M0 0h{across}v{down}h-{across}z\"/>",
        escaped(title)
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
