//! The placement list as a printed form: head, a section a film, steps.

use super::Card;
use super::entry::{Section, sections, title, totals};
use super::page::{self, Binder, MOST_LINES, section_head, title_block};
use super::row::LabelRows;
use super::steps::{self, Step};
use super::strip::{Rule, Strip, StripWriter};
use super::typeset::Level;
use crate::design::Design;
use crate::font::Faces;
use crate::sheet::Sheet;
use crate::spec::{Process, Spec};
use kurbo::Point;

/// The placement list as pages of A4, or of Letter where the job's own paper is an American size.
///
/// Letters are drawn once and placed, so that a list of thousands stays small.
#[must_use]
pub(crate) fn pages(spec: &Spec, designs: &[Design], sheets: &[Sheet], faces: &Faces) -> Card {
    let sections = sections(spec, designs, sheets);
    let mut writer = StripWriter::new(faces, designs.len(), page::width(spec));
    let mut rows = LabelRows::new(&mut writer);
    let mut binder = Binder::new(spec, Vec::new());
    binder.add(head(spec, &sections, &mut writer));
    for section in &sections {
        binder.add(Strip::gap(7.0));
        binder.add(section_head(title(section.film), &section.totals(), &mut writer));
        for entry in &section.entries {
            rows.row(entry, &mut writer).into_iter().for_each(|strip| binder.add(strip));
        }
        binder.add(Strip::gap(6.0));
        binder.add(steps_head(section, spec.printer.process, &mut writer));
        let steps = steps::steps(section, &spec.printer);
        for (step, number) in steps.iter().zip(1..) {
            let mut strip = step_row(number, step, &mut writer);
            // The steps of one film stay on one page, to be hung at the bench.
            strip.holds_next = number < steps.len();
            binder.add(strip);
        }
    }
    binder.bound(spec, writer)
}

/// Title, issue, what to do with the list.
fn head(spec: &Spec, sections: &[Section<'_>], writer: &mut StripWriter<'_>) -> Strip {
    title_block(spec, "Placement list", writer);
    let intro = format!(
        "{}, for printer {}. Before printing, read every row aloud against the part: name, words, \
         size, surface, count. At the bench, tick a row when its labels are on.",
        totals(sections),
        spec.printer.name
    );
    let at = Point::new(0.0, writer.strip.height + 3.4);
    let width = writer.width * 0.78;
    writer.strip.height = writer.set_first(MOST_LINES, Level::Body, &intro, at, width);
    writer.take()
}

fn steps_head(section: &Section<'_>, process: Process, writer: &mut StripWriter<'_>) -> Strip {
    let width = writer.width;
    writer.strip = Strip::held(0.0);
    let top = writer.set(Level::Head, &steps_title(section, process), Point::ORIGIN, width);
    let at = Point::new(0.0, top - 0.2);
    writer.strip.height = writer.set(Level::Quiet, steps::FIRST, at, width) + 0.2;
    writer.strip.rule(Rule::Strong, writer.strip.height, 0.0, width);
    writer.take()
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
fn step_row(number: usize, step: &Step, writer: &mut StripWriter<'_>) -> Strip {
    const PADDING: f64 = 2.1;
    let width = writer.width;
    let (text_at, caution_at) = (Point::new(8.5, PADDING), Point::new(width * 0.62, PADDING));
    writer.strip.rule(Rule::Thin, 0.0, 0.0, width);
    writer.set(Level::Strong, &number.to_string(), Point::new(0.0, PADDING), text_at.x);
    let text_width = caution_at.x - 6.0 - text_at.x;
    let mut bottom = writer.paragraph(Level::Body, step.what, text_at, text_width);
    if let Some(caution) = step.caution {
        let width = width - caution_at.x;
        let top = writer.set(Level::Strong, "Take care", caution_at, width);
        let end = writer.paragraph(Level::Body, caution, Point::new(caution_at.x, top), width);
        writer.strip.bar(caution_at.x - 2.6, PADDING, end);
        bottom = bottom.max(end);
    }
    // Room for descenders.
    writer.strip.height = bottom + Level::Body.cap() * 0.3 + PADDING;
    writer.take()
}
