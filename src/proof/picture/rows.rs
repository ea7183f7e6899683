//! A picture from top to bottom: head, the labels at true size, the labels enlarged, what was found.

use super::ink::{Ink, label};
use super::{Job, Level, ROUND_MM, Shown, word};
use crate::design::Design;
use crate::proof::pins::Pin;
use crate::proof::shelf::{Shelf, shelves};
use crate::units::fixed;
use kurbo::{Point, Size};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// A strip of a picture.
pub(super) struct Row {
    /// mm.
    pub(super) height: f64,
    /// What is drawn, from its top left corner.
    pub(super) body: String,
    /// The designs on it.
    pub(super) labels: Vec<usize>,
}

/// Between labels at true size, mm.
const GAP_MM: f64 = 5.0;

/// Labels are shown enlarged this much where they fit.
const ENLARGED: f64 = 3.0;

/// An enlarged label is no higher than this, mm, unless it is so at true size.
const HIGHEST_MM: f64 = 150.0;

/// From an enlarged label to the edge of its ground, mm: room for numbers.
const APRON_MM: f64 = 4.5;

/// So many labels are shown enlarged, those first that something was found on: more would only make the
/// picture slow to open, and the page for a browser enlarges every one.
const MOST_ENLARGED: usize = 60;

/// More findings than this are counted: a list that long is read in the browser.
const MOST_LISTED: usize = 200;

pub(super) fn rows(job: Job<'_>, shown: &Shown<'_>, pins: &[Pin], ink: &mut Ink<'_>) -> Vec<Row> {
    let mut rows = vec![head(job, shown, ink)];
    rows.extend(true_size(job, shown, ink));
    rows.extend(enlarged(job, shown, pins, ink));
    rows.extend(found(job, pins, ink));
    rows
}

fn head(job: Job<'_>, shown: &Shown<'_>, ink: &mut Ink<'_>) -> Row {
    let mut body = String::new();
    let width = ink.width;
    let mut top = 2.5;
    top += ink.write(&mut body, (Level::Title, shown.title()), Point::new(0.0, top), width);
    let under = format!("{}, as seen on {}", job.spec.title, shown.look());
    top += ink.write(&mut body, (Level::Quiet, &under), Point::new(0.0, top), width);
    Row { height: top + 2.0, body, labels: Vec::new() }
}

fn section(title: &str, note: &str, ink: &mut Ink<'_>) -> Row {
    let mut body = String::new();
    let width = ink.width;
    let mut top = 6.0;
    top += ink.write(&mut body, (Level::Head, title), Point::new(0.0, top), width);
    top += ink.write(&mut body, (Level::Quiet, note), Point::new(0.0, top), width);
    Row { height: top, body, labels: Vec::new() }
}

/// All labels on one stretch of the surface.
fn true_size(job: Job<'_>, shown: &Shown<'_>, ink: &mut Ink<'_>) -> Vec<Row> {
    let note = "Printed at 100 %, the picture is as large as the labels are.";
    let mut rows = vec![section("At true size", note, ink)];
    let designs: Vec<(usize, &Design)> =
        shown.designs.iter().filter_map(|index| Some((*index, job.designs.get(*index)?))).collect();
    let sizes: Vec<Size> = designs.iter().map(|(_, design)| design.size().size()).collect();
    let shelves = shelves(&sizes, ink.width - 2.0 * ROUND_MM, GAP_MM);
    let last = shelves.len().saturating_sub(1);
    for (at, shelf) in shelves.iter().enumerate() {
        let above = if at == 0 { ROUND_MM } else { GAP_MM / 2.0 };
        let below = if at == last { ROUND_MM } else { GAP_MM / 2.0 };
        let height = above + shelf.height + below;
        // A little lower than its row: no hairline opens above the next one.
        let under = if at == last { 0.0 } else { 0.2 };
        let mut body = ground(shown, Size::new(ink.width, height + under));
        for (number, x) in &shelf.boxes {
            let Some((index, design)) = designs.get(*number) else { continue };
            let down = above + (shelf.height - design.size().height()) / 2.0;
            label(&mut body, *index, design, Point::new(ROUND_MM + x, down), 1.0);
        }
        let labels = shelf.boxes.iter().filter_map(|(at, _)| Some(designs.get(*at)?.0)).collect();
        rows.push(Row { height, body, labels });
    }
    rows
}

fn ground(shown: &Shown<'_>, size: Size) -> String {
    let (width, height) = (fixed(size.width, 3), fixed(size.height, 3));
    let colour = shown.ground();
    // Where the labels are on paper, a line says where it ends.
    let line = if shown.surface.is_none() { " stroke=\"#c4c9cd\" stroke-width=\".2\"" } else { "" };
    format!(
        "<path class=\"ground\" fill=\"{colour}\"{line} d=\"M0 0h{width}v{height}h-{width}z\"/>"
    )
}

/// A label to be shown enlarged.
struct Cell<'a> {
    index: usize,
    design: &'a Design,
    scale: f64,
    /// Its name and what else stands over it.
    caption: String,
}

impl Cell<'_> {
    /// The ground it lies on.
    fn ground(&self) -> Size {
        self.design.size().size() * self.scale + Size::new(2.0 * APRON_MM, 2.0 * APRON_MM)
    }
}

fn enlarged(job: Job<'_>, shown: &Shown<'_>, pins: &[Pin], ink: &mut Ink<'_>) -> Vec<Row> {
    /// Names, sizes and scale, over a label.
    const CAPTION_MM: f64 = 8.0;
    /// A caption needs this much.
    const NARROWEST_MM: f64 = 56.0;
    let chosen = to_enlarge(shown, pins);
    let cells: Vec<Cell> = chosen.iter().filter_map(|index| cell(job, *index, ink.width)).collect();
    let note = match shown.designs.len() - chosen.len() {
        0 => "Numbers are those of the list below.".to_owned(),
        more => format!("{more} more labels are enlarged on the page for a browser."),
    };
    let note = note.as_str();
    let mut rows = vec![section("Enlarged", note, ink)];
    let sizes: Vec<Size> = cells
        .iter()
        .map(|cell| Size::new(cell.ground().width.max(NARROWEST_MM), cell.ground().height))
        .collect();
    for Shelf { boxes, height, .. } in shelves(&sizes, ink.width, GAP_MM) {
        let (mut body, mut labels) = (String::new(), Vec::new());
        for (number, x) in boxes {
            let (Some(cell), Some(size)) = (cells.get(number), sizes.get(number)) else { continue };
            labels.push(cell.index);
            let _ = write!(body, "<g transform=\"translate({} 0)\">", fixed(x, 3));
            let name = (Level::Strong, cell.design.name.as_str());
            one_line(&mut body, name, (2.0, size.width), ink);
            one_line(&mut body, (Level::Quiet, &cell.caption), (5.4, size.width), ink);
            let _ = write!(body, "<g transform=\"translate(0 {})\">", fixed(CAPTION_MM, 3));
            body.push_str(&ground(shown, cell.ground()));
            label(&mut body, cell.index, cell.design, Point::new(APRON_MM, APRON_MM), cell.scale);
            marks(job, cell, pins, (&mut body, ink));
            body.push_str("</g></g>");
        }
        rows.push(Row { height: CAPTION_MM + height + GAP_MM, body, labels });
    }
    rows
}

/// The labels shown enlarged, in their order.
fn to_enlarge(shown: &Shown<'_>, pins: &[Pin]) -> Vec<usize> {
    let found: BTreeSet<usize> = pins.iter().map(|pin| pin.design).collect();
    let with = shown.designs.iter().filter(|index| found.contains(index));
    let without = shown.designs.iter().filter(|index| !found.contains(index));
    let mut chosen: Vec<usize> = with.chain(without).copied().take(MOST_ENLARGED).collect();
    chosen.sort_unstable();
    chosen
}

/// What of a caption fits on one line.
fn one_line(
    body: &mut String,
    (level, text): (Level, &str),
    (top, width): (f64, f64),
    ink: &mut Ink<'_>,
) {
    let first = ink.setter.lines(level, text, width).into_iter().next();
    let text = first.map(|line| line.text).unwrap_or_default();
    ink.write(body, (level, &text), Point::new(0.0, top), f64::INFINITY);
}

fn cell<'a>(job: Job<'a>, index: usize, width: f64) -> Option<Cell<'a>> {
    let design = job.designs.get(index)?;
    let size = design.size();
    let fits = ((width - 2.0 * APRON_MM) / size.width()).min(HIGHEST_MM / size.height());
    // In halves: a scale to be named.
    let scale = ((ENLARGED.min(fits) * 2.0).floor() / 2.0).max(1.0);
    let caption = format!("{}, shown {} x", job.caption(design), fixed(scale, 1));
    Some(Cell { index, design, scale, caption })
}

/// The numbered marks of what was found on a label; where several share a spot, side by side.
fn marks(job: Job<'_>, cell: &Cell<'_>, pins: &[Pin], (body, ink): (&mut String, &mut Ink<'_>)) {
    let corner = cell.design.size().origin();
    let mut beside: BTreeMap<(String, String), f64> = BTreeMap::new();
    for pin in pins.iter().filter(|pin| pin.design == cell.index) {
        let Some(finding) = job.findings.list().get(pin.finding) else { continue };
        let spot = pin.at.map(|at| (at - corner) * cell.scale);
        let at = Point::new(APRON_MM, APRON_MM) + spot.unwrap_or_default();
        let key = (fixed(at.x, 0).to_string(), fixed(at.y, 0).to_string());
        let along = beside.entry(key).or_insert(0.0);
        if spot.is_some() && *along == 0.0 {
            let (x, y) = (fixed(at.x, 3), fixed(at.y, 3));
            for (colour, line) in [("#ffffff", ".7"), ("#1c2126", ".25")] {
                let _ = write!(
                    body,
                    "<circle cx=\"{x}\" cy=\"{y}\" r=\"1.5\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{line}\"/>"
                );
            }
        }
        let off = if spot.is_some() { Point::new(at.x + 3.4 + *along, at.y - 3.0) } else { at };
        ink.badge(body, finding.severity, pin.finding + 1, off);
        *along += 5.4;
    }
}

/// The findings on the labels shown: number, what it is and what to do.
fn found(job: Job<'_>, pins: &[Pin], ink: &mut Ink<'_>) -> Vec<Row> {
    /// Where the words start, mm.
    const INDENT_MM: f64 = 9.0;
    if pins.is_empty() {
        return vec![section("Findings", "None on these labels.", ink)];
    }
    let note = match pins.len().saturating_sub(MOST_LISTED) {
        0 => "A round mark is a note, a triangle a warning, an octagon an error.".to_owned(),
        more => format!("The first {MOST_LISTED}; {more} more are in the page for a browser."),
    };
    let mut rows = vec![section("Findings", &note, ink)];
    for pin in pins.iter().take(MOST_LISTED) {
        let Some(finding) = job.findings.list().get(pin.finding) else { continue };
        let mut body = String::new();
        ink.badge(&mut body, finding.severity, pin.finding + 1, Point::new(3.5, 4.0));
        let label = finding.label.as_deref().unwrap_or_default();
        let title =
            format!("{} {} on {label}: {}", word(finding.severity), finding.code, finding.message);
        let width = ink.width - INDENT_MM;
        let mut top = 2.6;
        top += ink.write(&mut body, (Level::Body, &title), Point::new(INDENT_MM, top), width);
        top +=
            ink.write(&mut body, (Level::Quiet, &finding.help), Point::new(INDENT_MM, top), width);
        rows.push(Row { height: (top + 1.0).max(8.0), body, labels: Vec::new() });
    }
    rows
}
