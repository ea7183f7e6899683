//! The placement list as a printed form: head, a section a film, steps.

use super::Card;
use super::entry::{Section, counted, title};
use super::page::{self, MOST_LINES, section_head, title_block};
use super::row::{Columns, Rows};
use super::steps::{self, Step};
use super::strip::{Rule, Strip};
use super::typeset::{Level, Typesetter};
use crate::design::Design;
use crate::font::Faces;
use crate::spec::{Process, Spec};
use kurbo::Point;

/// Fills the form.
pub(super) fn fill(
    spec: &Spec,
    designs: &[Design],
    sections: &[Section<'_>],
    faces: &Faces,
) -> Card {
    let columns = Columns::of(page::width(spec));
    let mut setter = Typesetter::new(faces, designs.len());
    let mut rows = Rows::new(columns, &mut setter);
    let mut strips = vec![head(spec, sections, columns.width, &mut setter)];
    for section in sections {
        strips.push(Strip::gap(7.0));
        let totals = section.totals();
        strips.push(section_head(title(section.film), &totals, columns.width, &mut setter));
        for entry in &section.entries {
            if let Some(design) = designs.get(entry.design) {
                strips.extend(rows.row(entry, design, &mut setter));
            }
        }
        strips.push(Strip::gap(6.0));
        strips.push(steps_head(section, spec.printer.process, columns.width, &mut setter));
        let steps = steps::steps(section, &spec.printer);
        for (at, step) in steps.iter().enumerate() {
            let mut strip = step_row(at + 1, step, columns.width, &mut setter);
            // The steps of one film stay together: they hang at the bench as one page.
            strip.holds_next = at + 1 < steps.len();
            strips.push(strip);
        }
    }
    let pages = page::bind(spec, Vec::new(), strips, &mut setter);
    Card { pages, drawings: setter.into_drawings() }
}

/// Title, issue, what to do with the list.
fn head(spec: &Spec, sections: &[Section<'_>], width: f64, setter: &mut Typesetter<'_>) -> Strip {
    let (mut strip, top) = title_block(spec, "Placement list", setter);
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
