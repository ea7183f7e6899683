//! What every printed form of this room shares: paper, head, section heads, running heads and foot lines.

use super::Card;
use super::entry::issue;
use super::strip::{PageFiller, Rule, RunningHead, Strip};
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

/// Title, what the form is, issue, and a rule at the bottom.
pub(super) fn title_block(spec: &Spec, form: &str, setter: &mut Typesetter<'_>) -> Strip {
    let width = width(spec);
    let mut strip = Strip::held(0.0);
    let top = strip.set_first(setter, Level::Title, &spec.title, Point::ORIGIN, width, MOST_LINES);
    let issue = issue(spec);
    let under = if issue.is_empty() { form.to_owned() } else { format!("{form}, {issue}") };
    let at = Point::new(0.0, top - 0.5);
    let top = strip.set_first(setter, Level::Quiet, &under, at, width, MOST_LINES) + 0.6;
    strip.rule(Rule::Strong, top, 0.0, width);
    strip.height = top;
    strip
}

/// A section's title on the left, its totals on the right, and a rule under both.
pub(super) fn section_head(
    title: &str,
    totals: &str,
    width: f64,
    setter: &mut Typesetter<'_>,
) -> Strip {
    let mut strip = Strip::held(4.6);
    strip.set(setter, Level::Head, title, Point::ORIGIN, width / 2.0);
    write_right(&mut strip, totals, Point::new(width, 0.7), setter);
    strip.rule(Rule::Strong, 4.6, 0.0, width);
    strip
}

/// A section's head and a note under it, to stand above a table.
pub(super) fn section(
    title: &str,
    totals: &str,
    note: &str,
    width: f64,
    setter: &mut Typesetter<'_>,
) -> [Strip; 2] {
    let mut under = Strip::held(0.0);
    under.height = under.paragraph(setter, Level::Body, note, Point::new(0.0, 2.6), width);
    [section_head(title, totals, width, setter), under]
}

/// The strips on as many pages as they need, each with its running head; after pages that are made already.
/// All get a foot line.
pub(super) fn bind(
    spec: &Spec,
    front: Vec<Page<'static>>,
    strips: Vec<Strip>,
    mut setter: Typesetter<'_>,
) -> Card {
    let mut binder = Binder::new(spec, front);
    for strip in strips {
        binder.add(strip);
    }
    let pages = binder.bound(spec, &mut setter);
    Card { pages, drawings: setter.into_drawings() }
}

/// Fills pages with strips as they come, so that a form of thousands of rows is not in memory twice.
pub(super) struct Binder {
    size: Size,
    filler: PageFiller,
    /// Each page, and what the rows belong to that it starts amid.
    pages: Vec<(Page<'static>, Option<Rc<RunningHead>>)>,
}

impl Binder {
    /// A binder for this job's paper, with pages that are made already.
    pub(super) fn new(spec: &Spec, front: Vec<Page<'static>>) -> Binder {
        let pages = front.into_iter().map(|page| (page, None)).collect();
        Binder { size: paper(spec), filler: PageFiller::default(), pages }
    }

    /// Takes the next strip.
    pub(super) fn add(&mut self, strip: Strip) {
        let height = self.size.height - 2.0 * MARGIN.height - FOOT_MM;
        if let Some(full) = self.filler.add(strip, height) {
            self.lay(full);
        }
    }

    fn lay(&mut self, strips: Vec<Strip>) {
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

    /// All pages, each with its running head and foot line.
    pub(super) fn bound(mut self, spec: &Spec, setter: &mut Typesetter<'_>) -> Vec<Page<'static>> {
        let rest = std::mem::take(&mut self.filler).rest();
        self.lay(rest);
        let of = self.pages.len();
        // The running heads are set before the first foot line: drawings are numbered as they are first set.
        let headed: Vec<(Page<'static>, Strip)> = self
            .pages
            .into_iter()
            .map(|(page, running)| {
                let head = running.map(|running| running_head(&running, setter));
                (page, head.unwrap_or_default())
            })
            .collect();
        let numbered = headed.into_iter().zip(1..);
        numbered
            .map(|((page, head), number)| {
                let width = page.size.width - 2.0 * MARGIN.width;
                let foot = foot(spec, width, &format!("{number} of {of}"), setter);
                framed(page, head, foot)
            })
            .collect()
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
fn running_head(running: &RunningHead, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = Strip::default();
    let text = format!("{}, continued", running.title);
    let (title, columns) = RUNNING_COLUMNS_MM;
    let title = if running.columns.is_empty() { RUNNING_MM } else { title };
    strip.set_first(setter, Level::Quiet, &text, Point::new(0.0, title), 178.0, 1);
    strip.column_names(setter, &running.columns, columns);
    strip
}

/// Title on the left, `2 of 5` on the right.
fn foot(spec: &Spec, width: f64, number: &str, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = Strip::default();
    strip.rule(Rule::Thin, 0.0, 0.0, width);
    strip.set_first(setter, Level::Quiet, &spec.title, Point::new(0.0, 1.8), width * 0.75, 1);
    write_right(&mut strip, number, Point::new(width, 1.8), setter);
    strip
}

/// Writes one quiet line that ends at this point and is at most as long as the way to it.
pub(super) fn write_right(strip: &mut Strip, text: &str, end: Point, setter: &mut Typesetter<'_>) {
    for line in setter.lines(Level::Quiet, text, end.x) {
        strip.write_line(&line, Level::Quiet, Point::new(end.x - line.width, end.y));
    }
}
