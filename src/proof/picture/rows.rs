//! A picture from top to bottom: head, the labels at true size, the labels enlarged, what was found.

use super::writer::{Writer, draw_label};
use super::{APRON_MM, Level, Proofed, ShownSurface};
use crate::design::Design;
use crate::proof::pins::Pin;
use crate::proof::shelf::shelves;
use crate::units::fixed;
use kurbo::{Point, Size};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// A row of a picture, as wide as the picture is inside its margins.
#[derive(Default)]
pub(super) struct PictureRow {
    /// mm.
    pub(super) height: f64,
    /// What is drawn, from its top left corner.
    pub(super) body: String,
    /// The designs on it.
    pub(super) labels: Vec<usize>,
}

impl PictureRow {
    /// Writes a text from `left` to the right edge, below what is written already.
    fn write(&mut self, level: Level, text: &str, left: f64, writer: &mut Writer<'_>) {
        let (at, width) = (Point::new(left, self.height), writer.width - left);
        self.height += writer.write(&mut self.body, level, text, at, width);
    }
}

/// Between labels at true size, mm.
const GAP_MM: f64 = 5.0;

/// Labels are shown enlarged this much where they fit.
const ENLARGED: f64 = 3.0;

/// An enlarged label is no higher than this, mm, unless it is so at true size.
const HIGHEST_MM: f64 = 150.0;

/// From an enlarged label to the edge of its ground, mm: room for numbers.
const ROOM_MM: f64 = 4.5;

/// The most labels shown enlarged, those first that something was found on: more would only make the picture
/// slow to open, and the page for a browser enlarges every one.
const MOST_ENLARGED: usize = 60;

/// The most findings listed; a longer list is read in the browser.
const MOST_LISTED: usize = 200;

/// All rows of a surface's pictures, from top to bottom.
pub(super) fn rows(
    job: Proofed<'_>,
    shown: &ShownSurface<'_>,
    pins: &[Pin],
    writer: &mut Writer<'_>,
) -> Vec<PictureRow> {
    let mut head = PictureRow { height: 2.5, ..PictureRow::default() };
    head.write(Level::Title, shown.title(), 0.0, writer);
    let under = format!("{}, as seen on {}", job.spec.title, shown.description());
    head.write(Level::Quiet, &under, 0.0, writer);
    head.height += 2.0;
    let mut rows = vec![head];
    rows.extend(true_size(job, shown, writer));
    rows.extend(enlarged(job, shown, pins, writer));
    rows.extend(found(job, pins, writer));
    rows
}

/// The head of a section.
fn section(title: &str, note: &str, writer: &mut Writer<'_>) -> PictureRow {
    let mut row = PictureRow { height: 6.0, ..PictureRow::default() };
    row.write(Level::Head, title, 0.0, writer);
    row.write(Level::Quiet, note, 0.0, writer);
    row
}

/// All labels on one stretch of the surface.
fn true_size(
    job: Proofed<'_>,
    shown: &ShownSurface<'_>,
    writer: &mut Writer<'_>,
) -> Vec<PictureRow> {
    let note = "Printed at 100 %, the picture is as large as the labels are.";
    let mut rows = vec![section("At true size", note, writer)];
    let designs = job.numbered(&shown.designs);
    let sizes: Vec<Size> = designs.iter().map(|(_, design)| design.size().size()).collect();
    let shelves = shelves(&sizes, writer.width - 2.0 * APRON_MM, GAP_MM);
    let last = shelves.len().saturating_sub(1);
    for (at, shelf) in shelves.iter().enumerate() {
        let above = if at == 0 { APRON_MM } else { GAP_MM / 2.0 };
        let below = if at == last { APRON_MM } else { GAP_MM / 2.0 };
        let height = above + shelf.height + below;
        // The ground of all rows but the last is a little higher than the row, so that no hairline opens above
        // the next one.
        let over = if at == last { 0.0 } else { 0.2 };
        let body = ground(shown, Size::new(writer.width, height + over));
        let mut row = PictureRow { height, body, labels: Vec::new() };
        for cell in &shelf.boxes {
            let Some((index, design)) = designs.get(cell.index) else { continue };
            let down = above + (shelf.height - design.size().height()) / 2.0;
            let corner = Point::new(APRON_MM + cell.left, down);
            draw_label(&mut row.body, *index, design, corner, 1.0);
            row.labels.push(*index);
        }
        rows.push(row);
    }
    rows
}

fn ground(shown: &ShownSurface<'_>, size: Size) -> String {
    let (width, height) = (fixed(size.width, 3), fixed(size.height, 3));
    let colour = shown.ground();
    // Where the labels are on paper, a line says where it ends.
    let line = if shown.surface.is_none() { " stroke=\"#c4c9cd\" stroke-width=\".2\"" } else { "" };
    format!(
        "<path class=\"ground\" fill=\"{colour}\"{line} d=\"M0 0h{width}v{height}h-{width}z\"/>"
    )
}

/// A label to be shown enlarged.
struct Enlarged<'a> {
    index: usize,
    design: &'a Design,
    scale: f64,
}

impl<'a> Enlarged<'a> {
    fn of(index: usize, design: &'a Design, width: f64) -> Enlarged<'a> {
        let size = design.size();
        let fits = ((width - 2.0 * ROOM_MM) / size.width()).min(HIGHEST_MM / size.height());
        // In halves: a scale to be named.
        let scale = ((ENLARGED.min(fits) * 2.0).floor() / 2.0).max(1.0);
        Enlarged { index, design, scale }
    }

    /// The ground it lies on.
    fn ground(&self) -> Size {
        self.design.size().size() * self.scale + Size::new(2.0 * ROOM_MM, 2.0 * ROOM_MM)
    }
}

fn enlarged(
    job: Proofed<'_>,
    shown: &ShownSurface<'_>,
    pins: &[Pin],
    writer: &mut Writer<'_>,
) -> Vec<PictureRow> {
    /// Names, sizes and scale, over a label.
    const CAPTION_MM: f64 = 8.0;
    /// The least width for a caption.
    const NARROWEST_MM: f64 = 56.0;
    let chosen = job.numbered(&to_enlarge(shown, pins)).into_iter();
    let chosen: Vec<Enlarged<'_>> =
        chosen.map(|(index, design)| Enlarged::of(index, design, writer.width)).collect();
    let note = match shown.designs.len() - chosen.len() {
        0 => "Numbers are those of the list below.".to_owned(),
        more => format!("{more} more labels are enlarged on the page for a browser."),
    };
    let mut rows = vec![section("Enlarged", &note, writer)];
    let size = |one: &Enlarged<'_>| Size {
        width: one.ground().width.max(NARROWEST_MM),
        height: one.ground().height,
    };
    let sizes: Vec<Size> = chosen.iter().map(size).collect();
    for shelf in shelves(&sizes, writer.width, GAP_MM) {
        let height = CAPTION_MM + shelf.height + GAP_MM;
        let mut row = PictureRow { height, ..PictureRow::default() };
        for cell in shelf.boxes {
            let Some(one) = chosen.get(cell.index) else { continue };
            row.labels.push(one.index);
            let out = &mut row.body;
            let _ = write!(out, "<g transform=\"translate({} 0)\">", fixed(cell.left, 3));
            writer.write_first_line(out, Level::Strong, &one.design.name, 2.0, cell.width);
            let caption = format!("{}, shown {} x", job.caption(one.design), fixed(one.scale, 1));
            writer.write_first_line(out, Level::Quiet, &caption, 5.4, cell.width);
            let _ = write!(out, "<g transform=\"translate(0 {})\">", fixed(CAPTION_MM, 3));
            out.push_str(&ground(shown, one.ground()));
            draw_label(out, one.index, one.design, Point::new(ROOM_MM, ROOM_MM), one.scale);
            draw_pins(out, job, one, pins, writer);
            out.push_str("</g></g>");
        }
        rows.push(row);
    }
    rows
}

/// The labels shown enlarged, in their order.
fn to_enlarge(shown: &ShownSurface<'_>, pins: &[Pin]) -> Vec<usize> {
    let found: BTreeSet<usize> = pins.iter().map(|pin| pin.design).collect();
    let (with, without): (Vec<usize>, Vec<usize>) =
        shown.designs.iter().partition(|index| found.contains(index));
    let mut chosen: Vec<usize> = with.into_iter().chain(without).take(MOST_ENLARGED).collect();
    chosen.sort_unstable();
    chosen
}

/// The numbered marks of what was found on a label; where several share a spot, side by side.
fn draw_pins(
    out: &mut String,
    job: Proofed<'_>,
    label: &Enlarged<'_>,
    pins: &[Pin],
    writer: &mut Writer<'_>,
) {
    let corner = label.design.size().origin();
    let mut beside: BTreeMap<(String, String), f64> = BTreeMap::new();
    for pin in pins.iter().filter(|pin| pin.design == label.index) {
        let Some(finding) = job.findings.list().get(pin.finding) else { continue };
        let spot = pin.at.map(|at| (at - corner) * label.scale);
        let at = Point::new(ROOM_MM, ROOM_MM) + spot.unwrap_or_default();
        let key = (fixed(at.x, 0).to_string(), fixed(at.y, 0).to_string());
        let along = beside.entry(key).or_insert(0.0);
        if spot.is_some() && *along == 0.0 {
            let (x, y) = (fixed(at.x, 3), fixed(at.y, 3));
            for (colour, line) in [("#ffffff", ".7"), ("#1c2126", ".25")] {
                let _ = write!(
                    out,
                    "<circle cx=\"{x}\" cy=\"{y}\" r=\"1.5\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{line}\"/>"
                );
            }
        }
        let off = if spot.is_some() { Point::new(at.x + 3.4 + *along, at.y - 3.0) } else { at };
        writer.draw_badge(out, finding.severity, pin.finding + 1, off);
        *along += 5.4;
    }
}

/// The findings on the labels shown: number, what it is and what to do.
fn found(job: Proofed<'_>, pins: &[Pin], writer: &mut Writer<'_>) -> Vec<PictureRow> {
    /// Where the words start, mm.
    const INDENT_MM: f64 = 9.0;
    if pins.is_empty() {
        return vec![section("Findings", "None on these labels.", writer)];
    }
    let note = match pins.len().saturating_sub(MOST_LISTED) {
        0 => "A round mark is a note, a triangle a warning, an octagon an error.".to_owned(),
        more => format!("The first {MOST_LISTED}; {more} more are in the page for a browser."),
    };
    let mut rows = vec![section("Findings", &note, writer)];
    for pin in pins.iter().take(MOST_LISTED) {
        let Some(finding) = job.findings.list().get(pin.finding) else { continue };
        let mut row = PictureRow { height: 2.6, ..PictureRow::default() };
        let middle = Point::new(3.5, 4.0);
        writer.draw_badge(&mut row.body, finding.severity, pin.finding + 1, middle);
        let (severity, code) = (finding.severity.word(), finding.code);
        let label = finding.label.as_deref().unwrap_or_default();
        let title = format!("{severity} {code} on {label}: {}", finding.message);
        row.write(Level::Body, &title, INDENT_MM, writer);
        row.write(Level::Quiet, &finding.help, INDENT_MM, writer);
        row.height = (row.height + 1.0).max(8.0);
        rows.push(row);
    }
    rows
}
