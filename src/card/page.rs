//! What every printed form of this room shares: paper, head, section heads, running heads and foot lines.

use super::Card;
use super::entry::issue;
use super::strip::{Rule, RunningHead, Strip, StripWriter};
use super::typeset::Level;
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

/// Title, what the form is, issue, and a rule; what is written next comes under it.
pub(super) fn title_block(spec: &Spec, form: &str, writer: &mut StripWriter<'_>) {
    let width = writer.width;
    writer.strip = Strip::held(0.0);
    let top = writer.set_first(MOST_LINES, Level::Title, &spec.title, Point::ORIGIN, width);
    let issue = issue(spec);
    let under = if issue.is_empty() { form.to_owned() } else { format!("{form}, {issue}") };
    let at = Point::new(0.0, top - 0.5);
    writer.strip.height = writer.set_first(MOST_LINES, Level::Quiet, &under, at, width) + 0.6;
    writer.strip.rule(Rule::Strong, writer.strip.height, 0.0, width);
}

/// A section's title on the left, its totals on the right, and a rule under both.
pub(super) fn section_head(title: &str, totals: &str, writer: &mut StripWriter<'_>) -> Strip {
    writer.strip = Strip::held(4.6);
    writer.set(Level::Head, title, Point::ORIGIN, writer.width / 2.0);
    writer.write_right(totals, 0.7);
    writer.strip.rule(Rule::Strong, 4.6, 0.0, writer.width);
    writer.take()
}

/// A section's head and a note under it, to stand above a table.
pub(super) fn section(
    title: &str,
    totals: &str,
    note: &str,
    writer: &mut StripWriter<'_>,
) -> [Strip; 2] {
    writer.strip = Strip::held(0.0);
    let at = Point::new(0.0, 2.6);
    writer.strip.height = writer.paragraph(Level::Body, note, at, writer.width);
    let under = writer.take();
    [section_head(title, totals, writer), under]
}

/// Fills pages with strips as they come, so that a form of thousands of rows is not in memory twice.
pub(super) struct Binder {
    size: Size,
    /// The strips of the page that is being filled, and their height, mm.
    strips: Vec<Strip>,
    used: f64,
    /// Strips that must stand on one page with what comes next.
    held: Vec<Strip>,
    /// Each page, and what the rows belong to that it starts amid.
    pages: Vec<(Page<'static>, Option<Rc<RunningHead>>)>,
}

impl Binder {
    /// A binder for this job's paper, with pages that are made already.
    pub(super) fn new(spec: &Spec, front: Vec<Page<'static>>) -> Binder {
        let pages = front.into_iter().map(|page| (page, None)).collect();
        Binder { size: paper(spec), strips: Vec::new(), used: 0.0, held: Vec::new(), pages }
    }

    /// Takes the next strip; strips that hold the next are never parted from it.
    pub(super) fn add(&mut self, strip: Strip) {
        let holds_next = strip.holds_next;
        self.held.push(strip);
        if holds_next {
            return;
        }
        let high = |strips: &[Strip]| strips.iter().map(|strip| strip.height).sum::<f64>();
        let room = self.size.height - 2.0 * MARGIN.height - FOOT_MM;
        if self.used + high(&self.held) > room && !self.strips.is_empty() {
            self.end_page();
            // White space between strips is not needed at the top of a page.
            let is_white = |strip: &Strip| strip.placed.is_empty() && strip.marks.is_empty();
            let white = self.held.iter().take_while(|strip| is_white(strip)).count();
            self.held.drain(..white);
        }
        self.used += high(&self.held);
        self.strips.append(&mut self.held);
    }

    fn end_page(&mut self) {
        self.used = 0.0;
        let strips = std::mem::take(&mut self.strips);
        let running = strips.first().and_then(|strip| strip.running.clone());
        let mut page = Page {
            size: self.size,
            placed: Vec::with_capacity(strips.iter().map(|strip| strip.placed.len()).sum()),
            marks: Vec::new().into(),
            words: Vec::with_capacity(strips.iter().map(|strip| strip.words.len()).sum()),
            has_white: false,
        };
        let mut top = MARGIN.height;
        for strip in strips {
            let height = strip.height;
            strip.lay(&mut page, Vec2::new(MARGIN.width, top));
            top += height;
        }
        self.pages.push((page, running));
    }

    /// All pages, each with its running head and foot line, and what they place.
    pub(super) fn bound(mut self, spec: &Spec, mut writer: StripWriter<'_>) -> Card {
        self.strips.append(&mut self.held);
        self.end_page();
        let of = self.pages.len();
        // All running heads are set before the first foot line: drawings are numbered as they are first set.
        let headed = self.pages.into_iter().map(|(page, running)| {
            let head = running.map(|running| running_head(&running, &mut writer));
            (page, head.unwrap_or_default())
        });
        let headed: Vec<(Page<'static>, Strip)> = headed.collect();
        let framed = headed.into_iter().zip(1..).map(|((page, head), number)| {
            writer.width = page.size.width - 2.0 * MARGIN.width;
            let foot = foot(spec, &format!("{number} of {of}"), &mut writer);
            framed(page, head, foot)
        });
        Card { pages: framed.collect(), drawings: writer.setter.into_drawings() }
    }
}

/// A page between its running head, which comes first, and its foot line.
fn framed(mut page: Page<'static>, head: Strip, foot: Strip) -> Page<'static> {
    page.placed.reserve_exact(head.placed.len() + foot.placed.len());
    page.words.reserve_exact(head.words.len() + foot.words.len());
    let mut front = Strip::default().into_page(page.size);
    head.lay(&mut front, Vec2::new(MARGIN.width, 0.0));
    page.placed.splice(..0, front.placed);
    page.words.splice(..0, front.words);
    let foot_top = page.size.height - MARGIN.height - 3.0;
    foot.lay(&mut page, Vec2::new(MARGIN.width, foot_top));
    page
}

/// `Clear film, continued`, and the columns' names once more, where a page starts amid rows.
fn running_head(running: &RunningHead, writer: &mut StripWriter<'_>) -> Strip {
    let text = format!("{}, continued", running.title);
    let (title, columns) = RUNNING_COLUMNS_MM;
    let title = if running.columns.is_empty() { RUNNING_MM } else { title };
    writer.set_first(1, Level::Quiet, &text, Point::new(0.0, title), 178.0);
    writer.column_names(&running.columns, columns);
    writer.take()
}

/// Title on the left, `2 of 5` on the right.
fn foot(spec: &Spec, number: &str, writer: &mut StripWriter<'_>) -> Strip {
    writer.strip.rule(Rule::Thin, 0.0, 0.0, writer.width);
    let at = Point::new(0.0, 1.8);
    writer.set_first(1, Level::Quiet, &spec.title, at, writer.width * 0.75);
    writer.write_right(number, 1.8);
    writer.take()
}
