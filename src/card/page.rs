//! What every printed form of this room shares: paper, head, section heads, running heads and foot lines.

use super::entry::issue;
use super::strip::{Rule, Run, Running, Strip};
use super::typeset::{Level, Typesetter};
use crate::output::Page;
use crate::spec::Spec;
use kurbo::{Point, Size, Vec2};
use std::rc::Rc;

/// White round a form, mm; every home printer can print inside it.
const MARGIN: Size = Size::new(16.0, 15.0);
/// Height kept for the foot line, mm.
const FOOT_MM: f64 = 8.0;
/// From the top edge to the running head, mm.
pub(super) const RUNNING_MM: f64 = 10.5;
/// From the top edge to a running head that has names of columns under it, and to those, mm.
const RUNNING_COLUMNS_MM: (f64, f64) = (8.4, 12.1);
/// Most lines of a title or of what stands under it: enough for any honest one.
pub(super) const MOST_LINES: usize = 6;

/// The width of a form on this job's paper, mm.
pub(super) fn width(spec: &Spec) -> f64 {
    paper(spec).width - 2.0 * MARGIN.width
}

/// A4 upright (ISO 216), or Letter where the job prints on Letter or Legal.
pub(super) fn paper(spec: &Spec) -> Size {
    let name = spec.sheet.paper.name.to_ascii_lowercase();
    if name.starts_with("letter") || name.starts_with("legal") {
        Size::new(215.9, 279.4)
    } else {
        Size::new(210.0, 297.0)
    }
}

/// Title, what the form is, issue, and a rule; with the rule's top, mm from the strip's.
pub(super) fn title_block(spec: &Spec, form: &str, setter: &mut Typesetter<'_>) -> (Strip, f64) {
    let width = width(spec);
    let mut strip = Strip { holds_next: true, ..Strip::default() };
    let mut lines = setter.lines(Level::Title, &spec.title, width);
    lines.truncate(MOST_LINES);
    let top = strip.write(&lines, Level::Title, Point::ORIGIN);
    let issue = issue(spec);
    let under = if issue.is_empty() { form.to_owned() } else { format!("{form}, {issue}") };
    let mut lines = setter.lines(Level::Quiet, &under, width);
    lines.truncate(MOST_LINES);
    let top = strip.write(&lines, Level::Quiet, Point::new(0.0, top - 0.5)) + 0.6;
    strip.rule(Rule::Strong, top, 0.0, width);
    strip.height = top;
    (strip, top)
}

/// A section's title on the left, its totals on the right, and a rule under both.
pub(super) fn section_head(
    title: &str,
    totals: &str,
    width: f64,
    setter: &mut Typesetter<'_>,
) -> Strip {
    let mut strip = Strip { holds_next: true, ..Strip::default() };
    let lines = setter.lines(Level::Head, title, width / 2.0);
    strip.write(&lines, Level::Head, Point::ORIGIN);
    write_right(&mut strip, totals, (width, 0.7), setter);
    strip.rule(Rule::Strong, 4.6, 0.0, width);
    strip.height = 4.6;
    strip
}

/// A section's head and a note under it, to stand above a table.
pub(super) fn section(
    (title, totals): (&str, &str),
    note: &str,
    width: f64,
    setter: &mut Typesetter<'_>,
) -> Vec<Strip> {
    let mut under = Strip { holds_next: true, ..Strip::default() };
    let lines = setter.lines(Level::Body, note, width);
    let next = under.write(&lines, Level::Body, Point::new(0.0, 2.6));
    under.height = next - Level::Body.pitch() + Level::Body.cap();
    vec![section_head(title, totals, width, setter), under]
}

/// The strips on as many pages as they need, each with its running head; after pages that are made already.
/// All get a foot line.
pub(super) fn bind(
    spec: &Spec,
    front: Vec<Page<'static>>,
    strips: Vec<Strip>,
    setter: &mut Typesetter<'_>,
) -> Vec<Page<'static>> {
    let mut binder = Binder::new(spec, front);
    for strip in strips {
        binder.add(strip);
    }
    binder.bound(spec, setter)
}

/// Fills pages with strips as they come, so that a form of thousands of rows is not in memory twice.
pub(super) struct Binder {
    size: Size,
    run: Run,
    pages: Vec<Page<'static>>,
    /// For each page, what the rows belong to that it starts amid.
    running: Vec<Option<Rc<Running>>>,
}

impl Binder {
    /// A binder for this job's paper, with pages that are made already.
    pub(super) fn new(spec: &Spec, front: Vec<Page<'static>>) -> Binder {
        let running = vec![None; front.len()];
        Binder { size: paper(spec), run: Run::default(), pages: front, running }
    }

    /// Takes the next strip.
    pub(super) fn add(&mut self, strip: Strip) {
        let height = self.size.height - 2.0 * MARGIN.height - FOOT_MM;
        if let Some(full) = self.run.add(strip, height) {
            self.lay(full);
        }
    }

    fn lay(&mut self, strips: Vec<Strip>) {
        let mut page = Page {
            size: self.size,
            placed: Vec::with_capacity(strips.iter().map(|strip| strip.placed.len()).sum()),
            marks: Vec::new().into(),
            words: Vec::with_capacity(strips.iter().map(|strip| strip.words.len()).sum()),
            has_white: false,
        };
        self.running.push(strips.first().and_then(|strip| strip.running.clone()));
        let mut top = MARGIN.height;
        for strip in strips {
            let height = strip.height;
            strip.lay(&mut page, Vec2::new(MARGIN.width, top));
            top += height;
        }
        self.pages.push(page);
    }

    /// All pages, each with its running head and foot line.
    pub(super) fn bound(mut self, spec: &Spec, setter: &mut Typesetter<'_>) -> Vec<Page<'static>> {
        let rest = std::mem::take(&mut self.run).rest();
        self.lay(rest);
        let heads: Vec<Option<Strip>> = self
            .running
            .iter()
            .map(|running| running.as_deref().map(|running| running_head(running, setter)))
            .collect();
        let of = self.pages.len();
        let numbered = self.pages.into_iter().zip(1..);
        let pages = numbered.zip(heads).map(|((page, number), head)| {
            let size = page.size;
            let foot = foot(spec, (size.width - 2.0 * MARGIN.width, number, of), setter);
            framed(page, head.unwrap_or_default(), foot)
        });
        pages.collect()
    }
}

/// A page between its running head, which comes first, and its foot line.
fn framed(page: Page<'static>, head: Strip, foot: Strip) -> Page<'static> {
    let placed = head.placed.len() + page.placed.len() + foot.placed.len();
    let words = head.words.len() + page.words.len() + foot.words.len();
    let mut whole = Page {
        size: page.size,
        placed: Vec::with_capacity(placed),
        marks: Vec::new().into(),
        words: Vec::with_capacity(words),
        has_white: false,
    };
    head.lay(&mut whole, Vec2::new(MARGIN.width, 0.0));
    whole.placed.extend(page.placed);
    whole.marks.to_mut().extend(page.marks.into_owned());
    whole.words.extend(page.words);
    foot.lay(&mut whole, Vec2::new(MARGIN.width, page.size.height - MARGIN.height - 3.0));
    whole
}

/// `Clear film, continued`, and the columns' names once more, where a page starts amid rows.
fn running_head(running: &Running, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = Strip::default();
    let text = format!("{}, continued", running.title);
    let lines = setter.lines(Level::Quiet, &text, 178.0);
    let first = lines.get(..1).unwrap_or_default();
    if running.columns.is_empty() {
        strip.write(first, Level::Quiet, Point::new(0.0, RUNNING_MM));
        return strip;
    }
    let (title, columns) = RUNNING_COLUMNS_MM;
    strip.write(first, Level::Quiet, Point::new(0.0, title));
    for (x, name) in &running.columns {
        let line = setter.phrase(Level::Quiet, name);
        strip.write_line(&line, Level::Quiet, Point::new(*x, columns));
    }
    strip
}

/// Title on the left, `2 of 5` on the right.
fn foot(
    spec: &Spec,
    (width, number, of): (f64, usize, usize),
    setter: &mut Typesetter<'_>,
) -> Strip {
    let mut strip = Strip::default();
    strip.rule(Rule::Thin, 0.0, 0.0, width);
    let lines = setter.lines(Level::Quiet, &spec.title, width * 0.75);
    strip.write(lines.get(..1).unwrap_or_default(), Level::Quiet, Point::new(0.0, 1.8));
    write_right(&mut strip, &format!("{number} of {of}"), (width, 1.8), setter);
    strip
}

/// Writes one quiet line that ends at this point.
pub(super) fn write_right(
    strip: &mut Strip,
    text: &str,
    end: (f64, f64),
    setter: &mut Typesetter<'_>,
) {
    for line in setter.lines(Level::Quiet, text, end.0) {
        strip.write_line(&line, Level::Quiet, Point::new(end.0 - line.width, end.1));
    }
}
