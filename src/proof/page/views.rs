//! The drawings to look at: each surface with its labels as seen, each sheet as printed.

use super::super::seen;
use super::super::shelf::shelves;
use super::drawings::{is_cut, runs};
use super::{Bench, Shown, escaped, word};
use crate::design::Design;
use crate::output::layout::piece_names;
use crate::sheet::Sheet;
use crate::spec::Film;
use crate::units::fixed;
use kurbo::{Affine, Point, Size};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// From a surface's edge to its labels, and between them, mm.
const ROUND_MM: f64 = 10.0;
const GAP_MM: f64 = 6.0;

/// Under a label, for its name, mm.
const CAPTION_MM: f64 = 4.5;

/// Signs of a name under its label; the rest is read in the list.
const LONGEST_NAME: usize = 28;

pub(super) fn write(bench: &Bench<'_>) -> String {
    let mut out = String::new();
    for (index, shown) in bench.shown.iter().enumerate() {
        surface(&mut out, bench, (index, shown));
    }
    for (index, sheet) in bench.job.sheets.iter().enumerate() {
        self::sheet(&mut out, bench, (index, sheet));
    }
    out
}

fn surface(out: &mut String, bench: &Bench<'_>, (index, shown): (usize, &Shown<'_>)) {
    let designs: Vec<(usize, &Design)> = shown
        .designs
        .iter()
        .filter_map(|index| Some((*index, bench.job.designs.get(*index)?)))
        .collect();
    let cells: Vec<Size> = designs.iter().map(|(_, design)| cell(design)).collect();
    let area: f64 = cells.iter().map(|cell| (cell.width + GAP_MM) * (cell.height + GAP_MM)).sum();
    let widest = cells.iter().map(|cell| cell.width).fold(0.0, f64::max);
    // A little wider than high, as screens are.
    let width = widest.max((1.5 * area).sqrt());
    let shelves = shelves(&cells, width, GAP_MM);
    let (mut body, mut marks) = (String::new(), String::new());
    let mut top = ROUND_MM;
    for shelf in &shelves {
        for (number, x) in &shelf.boxes {
            let (Some((at, design)), Some(cell)) = (designs.get(*number), cells.get(*number))
            else {
                continue;
            };
            let size = design.size();
            let left = ROUND_MM + x + (cell.width - size.width()) / 2.0;
            let down = top + (shelf.height - CAPTION_MM - size.height()) / 2.0;
            let to_page = Affine::translate(Point::new(left, down) - size.origin());
            label(&mut body, bench, (*at, design), to_page);
            pins(&mut marks, bench, (*at, design), to_page);
            caption(
                &mut body,
                design,
                Point::new(left + size.width() / 2.0, top + shelf.height - 1.0),
            );
        }
        top += shelf.height + GAP_MM;
    }
    let across = shelves.iter().map(|shelf| shelf.width).fold(0.0, f64::max) + 2.0 * ROUND_MM;
    let size = Size::new(across, top - GAP_MM + ROUND_MM);
    let title = shown.title();
    let note = format!("{}, as seen", shown.look());
    let head = Head { kind: "surface", index, title, note: &note, count: designs.len() };
    let ground = format!(
        "<rect class=\"ground g{index}\" width=\"{}\" height=\"{}\" rx=\"2\" fill=\"{}\"/>",
        fixed(size.width, 3),
        fixed(size.height, 3),
        shown.ground()
    );
    page(out, &head, size, &format!("{ground}{body}{marks}"));
}

/// Room for a label and its name.
fn cell(design: &Design) -> Size {
    /// A letter of a name, mm.
    const LETTER_MM: f64 = 1.25;
    let letters = design.name.chars().count().min(LONGEST_NAME);
    let name = LETTER_MM * f64::from(u32::try_from(letters).unwrap_or(u32::MAX));
    Size::new(design.size().width().max(name), design.size().height() + CAPTION_MM)
}

/// A label as seen.
fn label(out: &mut String, bench: &Bench<'_>, (index, design): (usize, &Design), by: Affine) {
    open_label(out, bench, (index, design), &design.name, by);
    let look = bench.looks.class(design);
    let clip =
        if is_cut(design) { format!(" clip-path=\"url(#ct{index})\"") } else { String::new() };
    let _ = write!(out, "<g class=\"{look}\"{clip}>");
    let label = bench.job.label(design);
    if label.is_some_and(|label| !seen::is_clear(label.film)) {
        let _ = write!(out, "<use class=\"film\" href=\"#t{index}\"/>");
    }
    let _ = write!(out, "<use href=\"#d{index}\"/>");
    if !seen::white(bench.job, design).is_empty() {
        let _ = write!(
            out,
            "<g class=\"{look}w white\" clip-path=\"url(#cw{index})\"><use class=\"whites\" href=\"#w{index}\"/><use href=\"#d{index}\"/></g>"
        );
    }
    let _ = write!(out, "</g><use class=\"cut\" href=\"#t{index}\"/>");
    out.push_str("</g>\n");
}

/// A label's group with what it is called; `data-box` are the bounds of its trim.
fn open_label(
    out: &mut String,
    bench: &Bench<'_>,
    (index, design): (usize, &Design),
    name: &str,
    by: Affine,
) {
    let size = design.size();
    let [a, b, c, d, x, y] = by.as_coeffs();
    let turn = [a, b, c, d].map(|share| fixed(share, 6).to_string()).join(" ");
    let _ = write!(
        out,
        "<g class=\"label\" role=\"img\" aria-label=\"{}, {}\" data-design=\"{index}\" data-box=\"{} {} {} {}\" transform=\"matrix({turn} {} {})\">",
        escaped(name),
        bench.job.caption(design),
        fixed(size.x0, 3),
        fixed(size.y0, 3),
        fixed(size.width(), 3),
        fixed(size.height(), 3),
        fixed(x, 3),
        fixed(y, 3)
    );
}

fn caption(out: &mut String, design: &Design, at: Point) {
    let mut name: String = design.name.chars().take(LONGEST_NAME).collect();
    if name.len() < design.name.len() {
        name.push('…');
    }
    let (x, y) = (fixed(at.x, 3), fixed(at.y, 3));
    let name = escaped(&name);
    let _ = writeln!(
        out,
        "<text class=\"caption\" aria-hidden=\"true\" x=\"{x}\" y=\"{y}\">{name}</text>"
    );
}

/// The marks of what was found on a design; the list says the same in words, so they are hidden from readers.
///
/// They lie over all labels, upright however the label is turned.
fn pins(out: &mut String, bench: &Bench<'_>, (index, design): (usize, &Design), by: Affine) {
    let pins = bench.pins_on.get(&index).into_iter().flatten();
    // Those that share a spot, or have none, stand side by side.
    let mut beside: BTreeMap<(String, String), u32> = BTreeMap::new();
    for pin in pins {
        let Some(finding) = bench.job.findings.list().get(pin.finding) else { continue };
        let at = by * pin.at.unwrap_or_else(|| design.size().origin());
        let severity = word(finding.severity);
        let taken =
            beside.entry((fixed(at.x, 1).to_string(), fixed(at.y, 1).to_string())).or_insert(0);
        let spot = match pin.at {
            Some(_) if *taken == 0 => {
                "<circle class=\"spot under\" r=\"9\"/><circle class=\"spot\" r=\"9\"/>"
            }
            _ => "",
        };
        let at_spot = if pin.at.is_some() { " data-spot=\"\"" } else { "" };
        let along = *taken * 24;
        *taken += 1;
        let _ = writeln!(
            out,
            "<g class=\"pin {severity}\" aria-hidden=\"true\" data-finding=\"{}\"{at_spot} transform=\"translate({} {})\"><g class=\"pin-body\">{spot}<g transform=\"translate({along} 0)\"><g class=\"badge\"><use href=\"#shape-{severity}\"/><text>{}</text></g></g></g></g>",
            pin.finding,
            fixed(at.x, 3),
            fixed(at.y, 3),
            pin.finding + 1
        );
    }
}

fn sheet(out: &mut String, bench: &Bench<'_>, (index, sheet): (usize, &Sheet)) {
    let names = piece_names(bench.job.spec, bench.job.designs, sheet);
    let (mut body, mut found) = (String::new(), String::new());
    let mut marked = BTreeSet::new();
    let (width, height) = (fixed(sheet.paper.size.width, 3), fixed(sheet.paper.size.height, 3));
    let stock = match sheet.film {
        Film::Clear => "clear",
        Film::White | Film::Sticker | Film::Paper => "opaque",
    };
    let _ = writeln!(body, "<rect class=\"stock {stock}\" width=\"{width}\" height=\"{height}\"/>");
    for (placement, name) in sheet.placements.iter().zip(&names) {
        let at = placement.design;
        let Some(design) = bench.job.designs.get(at) else { continue };
        open_label(&mut body, bench, (at, design), name, placement.transform());
        if design.white.is_some() {
            let _ = write!(body, "<use class=\"white whites\" href=\"#w{at}\"/>");
        }
        let _ = write!(body, "<use href=\"#d{at}\"/><use class=\"cut\" href=\"#t{at}\"/>");
        // Copies share their findings: one of them is marked.
        if marked.insert(at) {
            pins(&mut found, bench, (at, design), placement.transform());
        }
        body.push_str("</g>\n");
    }
    body.push_str("<g class=\"guides\" aria-hidden=\"true\">");
    runs(&mut body, &sheet.marks, &bench.inks);
    runs(&mut body, &sheet.registration, &bench.inks);
    body.push_str("</g>\n");
    body.push_str(&found);
    let title = format!("{}, sheet {} of {}", sheet.film.name(), sheet.number, sheet.of);
    let backwards = if sheet.reads_backwards { ", printed reading backwards" } else { "" };
    let note = format!("{}, as printed{backwards}", sheet.paper.name);
    let count = sheet.placements.len();
    let head = Head { kind: "sheet", index, title: &title, note: &note, count };
    page(out, &head, sheet.paper.size, &body);
}

/// What a drawing is called.
struct Head<'a> {
    kind: &'static str,
    index: usize,
    title: &'a str,
    note: &'a str,
    count: usize,
}

fn page(out: &mut String, head: &Head<'_>, size: Size, body: &str) {
    let Head { kind, index, title, note, count } = head;
    let (title, note) = (escaped(title), escaped(note));
    let (width, height) = (fixed(size.width, 3), fixed(size.height, 3));
    let pieces = if *count == 1 { "1 label".to_owned() } else { format!("{count} labels") };
    let _ = writeln!(
        out,
        "<figure class=\"view\" id=\"{kind}-{index}\" data-kind=\"{kind}\" data-index=\"{index}\">\n<figcaption><bdi>{title}</bdi> <span>{note}, {pieces}</span></figcaption>\n<svg class=\"drawing\" role=\"group\" aria-label=\"{title}, {note}, {pieces}\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\" data-size=\"{width} {height}\">\n{body}\n</svg>\n</figure>"
    );
}
