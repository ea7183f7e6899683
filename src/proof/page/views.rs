//! The drawings to look at: each surface with its labels as seen, each sheet as printed.

use super::super::pins::side_by_side;
use super::super::seen;
use super::super::shelf::shelves;
use super::drawings::{add_marks, is_cut};
use super::{PageContext, ShownSurface, escaped};
use crate::design::Design;
use crate::known::item;
use crate::output::layout::piece_names;
use crate::output::svg::matrix;
use crate::sheet::Sheet;
use crate::spec::Film;
use crate::units::counted;
use crate::units::fixed;
use kurbo::{Affine, Point, Size};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// From a surface's edge to its labels, mm.
const APRON_MM: f64 = 10.0;

/// Between labels, mm.
const GAP_MM: f64 = 6.0;

/// Under a label, for its name, mm.
const CAPTION_MM: f64 = 4.5;

/// The most characters of a name under its label; the rest is read in the list.
const LONGEST_NAME: usize = 28;

pub(super) fn write(context: &PageContext<'_>) -> String {
    let mut out = String::new();
    for (index, shown) in context.surfaces.iter().enumerate() {
        add_surface(&mut out, context, index, shown);
    }
    for (index, sheet) in context.job.sheets.iter().enumerate() {
        add_sheet(&mut out, context, index, sheet);
    }
    out
}

fn add_surface(
    out: &mut String,
    context: &PageContext<'_>,
    index: usize,
    shown: &ShownSurface<'_>,
) {
    let designs = context.job.numbered(&shown.designs);
    let cells: Vec<Size> = designs.iter().map(|(_, design)| cell(design)).collect();
    let area: f64 = cells.iter().map(|cell| (cell.width + GAP_MM) * (cell.height + GAP_MM)).sum();
    let widest = cells.iter().map(|cell| cell.width).fold(0.0, f64::max);
    // A little wider than high, as screens are.
    let width = widest.max((1.5 * area).sqrt());
    let shelves = shelves(designs.iter().zip(cells), width, GAP_MM);
    let (mut labels, mut marks) = (String::new(), String::new());
    let mut top = APRON_MM;
    for shelf in &shelves {
        for cell in &shelf.boxes {
            let (index, design) = *cell.item;
            let size = design.size();
            let middle = APRON_MM + cell.left + cell.width / 2.0;
            let down = top + (shelf.height - CAPTION_MM - size.height()) / 2.0;
            let corner = Point::new(middle - size.width() / 2.0, down);
            let by = Affine::translate(corner - size.origin());
            let label = PlacedLabel { context, index, design, by };
            label.add_seen(&mut labels);
            label.add_pins(&mut marks);
            add_caption(&mut labels, design, Point::new(middle, top + shelf.height - 1.0));
        }
        top += shelf.height + GAP_MM;
    }
    let across = shelves.iter().map(|shelf| shelf.width).fold(0.0, f64::max) + 2.0 * APRON_MM;
    let size = Size::new(across, top - GAP_MM + APRON_MM);
    let (width, height, colour) = (fixed(size.width, 3), fixed(size.height, 3), shown.ground());
    let figure = Figure {
        kind: "surface",
        index,
        title: shown.title(),
        note: &format!("{}, as seen", shown.description()),
        labels: designs.len(),
        size,
    };
    let ground = format!(
        "<rect class=\"ground g{index}\" width=\"{width}\" height=\"{height}\" rx=\"2\" fill=\"{colour}\"/>"
    );
    figure.add(out, &format!("{ground}{labels}{marks}"));
}

/// Room for a label and its name.
fn cell(design: &Design) -> Size {
    /// A letter of a name, mm.
    const LETTER_MM: f64 = 1.25;
    let letters = design.name.chars().count().min(LONGEST_NAME);
    let name = LETTER_MM * f64::from(u32::try_from(letters).unwrap_or(u32::MAX));
    Size::new(design.size().width().max(name), design.size().height() + CAPTION_MM)
}

fn add_caption(out: &mut String, design: &Design, at: Point) {
    let mut name: String = design.name.chars().take(LONGEST_NAME).collect();
    if name.len() < design.name.len() {
        name.push('…');
    }
    let (x, y, name) = (fixed(at.x, 3), fixed(at.y, 3), escaped(&name));
    let _ = writeln!(
        out,
        "<text class=\"caption\" aria-hidden=\"true\" x=\"{x}\" y=\"{y}\">{name}</text>"
    );
}

/// A label where it lies on a drawing.
struct PlacedLabel<'a> {
    context: &'a PageContext<'a>,
    /// Its design, and the number of that.
    index: usize,
    design: &'a Design,
    /// From the design's frame to the drawing's, in mm.
    by: Affine,
}

impl PlacedLabel<'_> {
    /// Adds the label as seen.
    fn add_seen(&self, out: &mut String) {
        let PlacedLabel { context, index, design, .. } = self;
        self.open(out, &design.name);
        let class = context.appearances.class(design);
        let clip =
            if is_cut(design) { format!(" clip-path=\"url(#ct{index})\"") } else { String::new() };
        let _ = write!(out, "<g class=\"{class}\"{clip}>");
        if context.job.label(design).is_some_and(|label| label.film != Film::Clear) {
            let _ = write!(out, "<use class=\"film\" href=\"#t{index}\"/>");
        }
        let _ = write!(out, "<use href=\"#d{index}\"/>");
        if !seen::white(context.job, design).is_empty() {
            let _ = write!(
                out,
                "<g class=\"{class}w white\" clip-path=\"url(#cw{index})\"><use class=\"whites\" href=\"#w{index}\"/><use href=\"#d{index}\"/></g>"
            );
        }
        let _ = writeln!(out, "</g><use class=\"cut\" href=\"#t{index}\"/></g>");
    }

    /// Adds the label as printed, under the name of its piece.
    fn add_printed(&self, out: &mut String, name: &str) {
        let PlacedLabel { index, design, .. } = self;
        self.open(out, name);
        if design.white.is_some() {
            let _ = write!(out, "<use class=\"white whites\" href=\"#w{index}\"/>");
        }
        let _ =
            writeln!(out, "<use href=\"#d{index}\"/><use class=\"cut\" href=\"#t{index}\"/></g>");
    }

    /// Opens the label's group, with what it is called; `data-box` are the bounds of its trim.
    fn open(&self, out: &mut String, name: &str) {
        let PlacedLabel { context, index, design, by } = self;
        let trim = design.size();
        let [x, y, w, h] =
            [trim.x0, trim.y0, trim.width(), trim.height()].map(|length| fixed(length, 3));
        let (name, caption, by) = (escaped(name), context.job.caption(design), matrix(*by));
        let _ = write!(
            out,
            "<g class=\"label\" role=\"img\" aria-label=\"{name}, {caption}\" data-design=\"{index}\" data-box=\"{x} {y} {w} {h}\" transform=\"{by}\">"
        );
    }

    /// Adds the marks of what was found on it; the list says the same in words, so they are hidden from readers.
    ///
    /// They lie over all labels, upright however the label is turned.
    fn add_pins(&self, out: &mut String) {
        let corner = self.design.size().origin();
        let pins = self.context.pins_on.get(&self.index).into_iter().flatten();
        for (pin, at, before) in side_by_side(pins, |pin| self.by * pin.at.unwrap_or(corner), 1) {
            let spot = match pin.at {
                Some(_) if before == 0 => {
                    "<circle class=\"spot under\" r=\"9\"/><circle class=\"spot\" r=\"9\"/>"
                }
                _ => "",
            };
            let at_spot = if pin.at.is_some() { " data-spot=\"\"" } else { "" };
            let (severity, x, y) = (pin.finding.severity.word(), fixed(at.x, 3), fixed(at.y, 3));
            let (index, number, along) = (pin.index, pin.index + 1, before * 24);
            let _ = writeln!(
                out,
                "<g class=\"pin {severity}\" aria-hidden=\"true\" data-finding=\"{index}\"{at_spot} transform=\"translate({x} {y})\"><g class=\"pin-body\">{spot}<g transform=\"translate({along} 0)\"><g class=\"badge\"><use href=\"#shape-{severity}\"/><text>{number}</text></g></g></g></g>"
            );
        }
    }
}

fn add_sheet(out: &mut String, context: &PageContext<'_>, index: usize, sheet: &Sheet) {
    let job = context.job;
    let names = piece_names(job.spec, job.designs, sheet);
    let (mut labels, mut found) = (String::new(), String::new());
    let mut marked = BTreeSet::new();
    for (placement, name) in sheet.placements.iter().zip(&names) {
        let (index, by) = (placement.design, placement.transform());
        let Some(design) = item(job.designs, index) else { continue };
        let label = PlacedLabel { context, index, design, by };
        label.add_printed(&mut labels, name);
        // Copies share their findings: one of them is marked.
        if marked.insert(index) {
            label.add_pins(&mut found);
        }
    }
    let mut guides = String::new();
    add_marks(&mut guides, &sheet.marks, &context.inks);
    add_marks(&mut guides, &sheet.registration, &context.inks);
    let size = sheet.paper.size;
    let (width, height) = (fixed(size.width, 3), fixed(size.height, 3));
    let stock = if sheet.film == Film::Clear { "clear" } else { "opaque" };
    let backwards = if sheet.reads_backwards { ", printed reading backwards" } else { "" };
    let figure = Figure {
        kind: "sheet",
        index,
        title: &format!("{}, sheet {} of {}", sheet.film.name(), sheet.number, sheet.of),
        note: &format!("{}, as printed{backwards}", sheet.paper.name),
        labels: sheet.placements.len(),
        size,
    };
    let body = format!(
        "<rect class=\"stock {stock}\" width=\"{width}\" height=\"{height}\"/>\n{labels}<g class=\"guides\" aria-hidden=\"true\">{guides}</g>\n{found}"
    );
    figure.add(out, &body);
}

/// A drawing to look at.
struct Figure<'a> {
    /// `surface` or `sheet`.
    kind: &'static str,
    index: usize,
    title: &'a str,
    note: &'a str,
    /// How many labels are on it.
    labels: usize,
    /// mm.
    size: Size,
}

impl Figure<'_> {
    fn add(&self, out: &mut String, body: &str) {
        let Figure { kind, index, .. } = self;
        let (title, note) = (escaped(self.title), escaped(self.note));
        let (width, height) = (fixed(self.size.width, 3), fixed(self.size.height, 3));
        let labels = counted(self.labels, "label");
        let _ = writeln!(
            out,
            "<figure class=\"view\" id=\"{kind}-{index}\" data-kind=\"{kind}\" data-index=\"{index}\">\n<figcaption><bdi>{title}</bdi> <span>{note}, {labels}</span></figcaption>\n<svg class=\"drawing\" role=\"group\" aria-label=\"{title}, {note}, {labels}\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" data-size=\"{width} {height}\">\n{body}\n</svg>\n</figure>"
        );
    }
}
