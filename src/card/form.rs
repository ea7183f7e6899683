//! The placement list as a printed form: head, a section a film, steps.

use super::Card;
use super::entry::{Section, title, totals};
use super::page::{self, MOST_LINES, section_head, title_block};
use super::row::{Columns, LabelRows};
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
    let mut rows = LabelRows::new(columns, &mut setter);
    let mut strips = vec![head(spec, sections, columns.width, &mut setter)];
    for section in sections {
        strips.push(Strip::gap(7.0));
        let totals = section.totals();
        strips.push(section_head(title(section.film), &totals, columns.width, &mut setter));
        for entry in &section.entries {
            strips.extend(rows.row(entry, &mut setter));
        }
        strips.push(Strip::gap(6.0));
        strips.push(steps_head(section, spec.printer.process, columns.width, &mut setter));
        let steps = steps::steps(section, &spec.printer);
        for (step, number) in steps.iter().zip(1..) {
            let mut strip = step_row(number, step, columns.width, &mut setter);
            // The steps of one film stay on one page, to be hung at the bench.
            strip.holds_next = number < steps.len();
            strips.push(strip);
        }
    }
    page::bind(spec, Vec::new(), strips, setter)
}

/// Title, issue, what to do with the list.
fn head(spec: &Spec, sections: &[Section<'_>], width: f64, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = title_block(spec, "Placement list", setter);
    let intro = format!(
        "{}, for printer {}. Before printing, read every row aloud against the part: name, words, \
         size, surface, count. At the bench, tick a row when its labels are on.",
        totals(sections),
        spec.printer.name
    );
    let at = Point::new(0.0, strip.height + 3.4);
    strip.height = strip.set_first(setter, Level::Body, &intro, at, width * 0.78, MOST_LINES);
    strip
}

fn steps_head(
    section: &Section<'_>,
    process: Process,
    width: f64,
    setter: &mut Typesetter<'_>,
) -> Strip {
    let mut strip = Strip::held(0.0);
    let title = steps_title(section, process);
    let top = strip.set(setter, Level::Head, &title, Point::ORIGIN, width);
    let at = Point::new(0.0, top - 0.2);
    strip.height = strip.set(setter, Level::Quiet, steps::FIRST, at, width) + 0.2;
    strip.rule(Rule::Strong, strip.height, 0.0, width);
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
    let (text_at, caution_at) = (Point::new(8.5, PADDING), Point::new(width * 0.62, PADDING));
    let mut strip = Strip::default();
    strip.rule(Rule::Thin, 0.0, 0.0, width);
    let number_at = Point::new(0.0, PADDING);
    strip.set(setter, Level::Strong, &number.to_string(), number_at, text_at.x);
    let text_width = caution_at.x - 6.0 - text_at.x;
    let mut bottom = strip.paragraph(setter, Level::Body, step.what, text_at, text_width);
    if let Some(caution) = step.caution {
        let width = width - caution_at.x;
        let top = strip.set(setter, Level::Strong, "Take care", caution_at, width);
        let at = Point::new(caution_at.x, top);
        let end = strip.paragraph(setter, Level::Body, caution, at, width);
        strip.bar(caution_at.x - 2.6, PADDING, end);
        bottom = bottom.max(end);
    }
    // Room for descenders.
    strip.height = bottom + Level::Body.cap() * 0.3 + PADDING;
    strip
}
