//! The printed form: head, a section a film, steps, and page numbers.

use super::Card;
use super::entry::{Section, counted, issue, title};
use super::row::{Columns, Rows};
use super::steps::{self, Step};
use super::strip::{Rule, Strip, paginate};
use super::typeset::{Level, Typesetter};
use crate::design::Design;
use crate::font::Faces;
use crate::output::Page;
use crate::spec::{Film, Process, Spec};
use kurbo::{Point, Size, Vec2};

/// White round the form, mm; every home printer can print inside it.
const MARGIN: Size = Size::new(16.0, 15.0);
/// Height kept for the foot line, mm.
const FOOT_MM: f64 = 8.0;

/// From the top edge to the running head, mm.
const RUNNING_MM: f64 = 10.5;
/// Most lines of a title or of what stands under it: enough for any honest one.
const MOST_LINES: usize = 6;

/// Fills the form.
pub(super) fn fill(
    spec: &Spec,
    designs: &[Design],
    sections: &[Section<'_>],
    faces: &Faces,
) -> Card {
    let size = paper(spec);
    let columns = Columns::of(size.width - 2.0 * MARGIN.width);
    let mut setter = Typesetter::new(faces, designs.len());
    let mut rows = Rows::new(columns, &mut setter);
    let mut strips = vec![head(spec, sections, columns.width, &mut setter)];
    for section in sections {
        strips.push(Strip::gap(7.0));
        strips.push(section_head(section, columns.width, &mut setter));
        for entry in &section.entries {
            if let Some(design) = designs.get(entry.design) {
                strips.extend(rows.row(entry, design, &mut setter));
            }
        }
        strips.push(Strip::gap(6.0));
        strips.push(steps_head(section, spec.printer.process, columns.width, &mut setter));
        let steps = steps::steps(section, spec.printer.process);
        for (at, step) in steps.iter().enumerate() {
            let mut strip = step_row(at + 1, step, columns.width, &mut setter);
            // The steps of one film stay together: they hang at the bench as one page.
            strip.holds_next = at + 1 < steps.len();
            strips.push(strip);
        }
    }
    let filled = paginate(strips, size.height - 2.0 * MARGIN.height - FOOT_MM);
    let of = filled.len();
    let mut pages = Vec::with_capacity(of);
    for (at, strips) in filled.into_iter().enumerate() {
        let mut page = Page { size, placed: Vec::new(), marks: Vec::new(), words: Vec::new() };
        if let Some(film) = strips.first().and_then(|strip| strip.film) {
            running_head(film, &mut setter).lay(&mut page, Vec2::new(MARGIN.width, RUNNING_MM));
        }
        let mut top = MARGIN.height;
        for strip in strips {
            let height = strip.height;
            strip.lay(&mut page, Vec2::new(MARGIN.width, top));
            top += height;
        }
        let foot = foot(spec, (at + 1, of), columns.width, &mut setter);
        foot.lay(&mut page, Vec2::new(MARGIN.width, size.height - MARGIN.height - 3.0));
        pages.push(page);
    }
    Card { pages, drawings: setter.into_drawings() }
}

/// A4 upright (ISO 216), or Letter where the job prints on Letter or Legal.
fn paper(spec: &Spec) -> Size {
    let name = spec.sheet.paper.name.to_ascii_lowercase();
    if name.starts_with("letter") || name.starts_with("legal") {
        Size::new(215.9, 279.4)
    } else {
        Size::new(210.0, 297.0)
    }
}

/// Title, issue, what to do with the list.
fn head(spec: &Spec, sections: &[Section<'_>], width: f64, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = Strip { holds_next: true, ..Strip::default() };
    let mut lines = setter.lines(Level::Title, &spec.title, width);
    lines.truncate(MOST_LINES);
    let top = strip.write(&lines, Level::Title, Point::ORIGIN);
    let issue = issue(spec);
    let under = if issue.is_empty() {
        "Placement list".to_owned()
    } else {
        format!("Placement list, {issue}")
    };
    let mut lines = setter.lines(Level::Quiet, &under, width);
    lines.truncate(MOST_LINES);
    let top = strip.write(&lines, Level::Quiet, Point::new(0.0, top - 0.5)) + 0.6;
    strip.rule(Rule::Strong, top, 0.0, width);
    let labels = sections.iter().map(|section| section.entries.len()).sum();
    let sheets = sections.iter().map(|section| section.sheets).sum();
    let intro = format!(
        "{} on {}, for printer {}. Before printing, read every row aloud against the part: name, words, \
         size, surface, count. At the bench, tick a row when its labels are on.",
        counted(labels, "label"),
        counted(sheets, "sheet"),
        spec.printer.name
    );
    let mut lines = setter.lines(Level::Body, &intro, width * 0.78);
    lines.truncate(MOST_LINES);
    strip.height = strip.write(&lines, Level::Body, Point::new(0.0, top + 3.4));
    strip
}

fn section_head(section: &Section<'_>, width: f64, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = Strip { holds_next: true, ..Strip::default() };
    let lines = setter.lines(Level::Head, title(section.film), width / 2.0);
    strip.write(&lines, Level::Head, Point::ORIGIN);
    write_right(&mut strip, &section.totals(), (width, 0.7), setter);
    strip.rule(Rule::Strong, 4.6, 0.0, width);
    strip.height = 4.6;
    strip
}

fn steps_head(
    section: &Section<'_>,
    process: Process,
    width: f64,
    setter: &mut Typesetter<'_>,
) -> Strip {
    let mut strip = Strip { holds_next: true, ..Strip::default() };
    let lines = setter.lines(Level::Head, &steps_title(section, process), width);
    let top = strip.write(&lines, Level::Head, Point::ORIGIN);
    let lines = setter.lines(Level::Quiet, steps::FIRST, width);
    let top = strip.write(&lines, Level::Quiet, Point::new(0.0, top - 0.2)) + 0.2;
    strip.rule(Rule::Strong, top, 0.0, width);
    strip.height = top;
    strip
}

/// `Steps: clear film, ink-jet printer`.
pub(super) fn steps_title(section: &Section<'_>, process: Process) -> String {
    let printer = match process {
        Process::Laser => "laser printer",
        Process::InkJet => "ink-jet printer",
    };
    format!("Steps: {}, {printer}", title(section.film).to_lowercase())
}

/// A step on the left, its caution on the right behind a bar.
fn step_row(number: usize, step: &Step, width: f64, setter: &mut Typesetter<'_>) -> Strip {
    const PADDING: f64 = 2.1;
    let (text_at, caution_at) = (8.5, width * 0.62);
    let mut strip = Strip::default();
    strip.rule(Rule::Thin, 0.0, 0.0, width);
    let number = setter.lines(Level::Strong, &number.to_string(), text_at);
    strip.write(&number, Level::Strong, Point::new(0.0, PADDING));
    let lines = setter.lines(Level::Body, step.what, caution_at - 6.0 - text_at);
    let mut bottom = strip.write(&lines, Level::Body, Point::new(text_at, PADDING));
    if let Some(caution) = step.caution {
        let first = setter.lines(Level::Strong, "Take care", width - caution_at);
        let top = strip.write(&first, Level::Strong, Point::new(caution_at, PADDING));
        let lines = setter.lines(Level::Body, caution, width - caution_at);
        let end = strip.write(&lines, Level::Body, Point::new(caution_at, top));
        strip.bar(caution_at - 2.6, PADDING, end - Level::Body.pitch() + Level::Body.cap());
        bottom = bottom.max(end);
    }
    strip.height = bottom - Level::Body.pitch() + Level::Body.cap() * 1.3 + PADDING;
    strip
}

/// `Clear film, continued`, where a page starts in the middle of a film's rows.
fn running_head(film: Film, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = Strip::default();
    let text = format!("{}, continued", title(film));
    strip.write(&setter.lines(Level::Quiet, &text, 100.0), Level::Quiet, Point::ORIGIN);
    strip
}

/// Title on the left, `2 of 5` on the right.
fn foot(spec: &Spec, page: (usize, usize), width: f64, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = Strip::default();
    strip.rule(Rule::Thin, 0.0, 0.0, width);
    let lines = setter.lines(Level::Quiet, &spec.title, width * 0.75);
    strip.write(lines.get(..1).unwrap_or_default(), Level::Quiet, Point::new(0.0, 1.8));
    write_right(&mut strip, &format!("{} of {}", page.0, page.1), (width, 1.8), setter);
    strip
}

/// Writes one quiet line that ends at this point.
fn write_right(strip: &mut Strip, text: &str, end: (f64, f64), setter: &mut Typesetter<'_>) {
    for line in setter.lines(Level::Quiet, text, end.0) {
        strip.write_line(&line, Level::Quiet, Point::new(end.0 - line.width, end.1));
    }
}
