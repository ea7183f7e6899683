//! A strip of the form that stays in one piece, and what is written into it.

use super::typeset::{DARK, Level, QUIET, SetLine, Typesetter};
use crate::colour::Colour;
use crate::design::{Mark, Plate, Role, Words};
use crate::finding::Place;
use crate::font::Faces;
use crate::output::{Page, Placed};
use crate::shape::{self, Outline};
use crate::spec::PartId;
use kurbo::{Affine, Point, Rect, Size, Vec2};
use std::rc::Rc;

/// Colour of thin rules.
pub(crate) const RULE: Colour = Colour { rgb: [188, 196, 202] };

/// How strong a rule is.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Rule {
    /// Between rows, 0.12 mm.
    Thin,
    /// Under a head, 0.3 mm.
    Strong,
}

/// The head of a page that starts amid rows.
#[derive(Debug)]
pub(crate) struct RunningHead {
    /// What the rows belong to.
    pub title: String,
    /// Where the names of columns start, mm, and what they are; may be none.
    pub columns: Vec<(f64, &'static str)>,
}

/// Part of the form, across the whole width; its origin is its top left corner.
#[derive(Debug, Default)]
pub(crate) struct Strip {
    pub height: f64,
    /// Whether the next strip must stand on the same page.
    pub holds_next: bool,
    /// What its rows belong to, for a page that starts with it.
    pub running: Option<Rc<RunningHead>>,
    pub placed: Vec<Placed>,
    pub marks: Vec<Mark>,
    pub words: Vec<Words>,
}

impl Strip {
    /// An empty strip of this height, mm.
    pub(crate) fn gap(height: f64) -> Strip {
        Strip { height, ..Strip::default() }
    }

    /// An empty strip of this height, mm, that must stand on one page with the next.
    pub(crate) fn held(height: f64) -> Strip {
        Strip { height, holds_next: true, ..Strip::default() }
    }

    /// Writes lines down from the top of their first capitals; returns where the next line's would be.
    pub(crate) fn write(&mut self, lines: &[SetLine], level: Level, at: Point) -> f64 {
        let mut top = at.y;
        for line in lines {
            self.write_line(line, level, Point::new(at.x, top));
            top += level.pitch();
        }
        top
    }

    /// Writes one line from its left end and the top of its capitals.
    pub(crate) fn write_line(&mut self, line: &SetLine, level: Level, at: Point) {
        let middle = Point::new(at.x, at.y + level.cap() / 2.0);
        let area = Rect::new(at.x, at.y, at.x + line.width, at.y + level.cap());
        self.place(line, level, Affine::translate(middle.to_vec2()), area, 0.0);
    }

    /// Writes one line upwards, from its left end and the left edge of its capitals.
    pub(crate) fn write_upwards(&mut self, line: &SetLine, level: Level, at: Point) {
        let x = at.x + level.cap() / 2.0;
        let middle = Point::new(x, at.y - line.width / 2.0);
        let area = Rect::from_center_size(middle, (line.width, level.cap()));
        self.place(line, level, Affine::new([0.0, -1.0, 1.0, 0.0, x, at.y]), area, -90.0);
    }

    /// Places a line's drawings from its left end and the middle of its capitals, and its words over them.
    fn place(&mut self, line: &SetLine, level: Level, there: Affine, area: Rect, turned_deg: f64) {
        self.placed.extend(line.drawn.iter().map(|(x, drawing)| Placed {
            design: *drawing,
            transform: there * Affine::translate((*x, 0.0)),
        }));
        self.words.push(Words {
            text: line.text.clone(),
            area,
            turned_deg,
            cap_height_mm: level.cap(),
            reversed: false,
            part: PartId::default(),
            from: Place::default(),
        });
    }

    /// Draws a level rule with its top at `y`, from `x0` to `x1`.
    pub(crate) fn rule(&mut self, rule: Rule, y: f64, x0: f64, x1: f64) {
        let (width, colour) = match rule {
            Rule::Thin => (0.12, RULE),
            Rule::Strong => (0.3, DARK),
        };
        self.fill(shape::rectangle(Rect::new(x0, y, x1, y + width)), colour);
    }

    /// Draws an upright rule at `x`.
    pub(crate) fn bar(&mut self, x: f64, y0: f64, y1: f64) {
        self.fill(shape::rectangle(Rect::new(x, y0, x + 0.5, y1)), QUIET);
    }

    /// Paints an outline.
    pub(crate) fn fill(&mut self, path: Outline, colour: Colour) {
        let plate = Plate::Ink(colour);
        let (part, from) = (PartId::default(), Place::default());
        self.marks.push(Mark { path, plate, role: Role::Line, part, from });
    }

    /// Puts the strip on a page with its origin here.
    pub(crate) fn lay(self, page: &mut Page<'_>, at: Vec2) {
        let by = Affine::translate(at);
        page.placed.extend(
            self.placed.iter().map(|placed| Placed { transform: by * placed.transform, ..*placed }),
        );
        page.marks
            .to_mut()
            .extend(self.marks.into_iter().map(|mark| Mark { path: mark.path.placed(by), ..mark }));
        page.words
            .extend(self.words.into_iter().map(|words| Words { area: words.area + at, ..words }));
    }

    /// The page that holds this strip alone, its origin in the page's corner.
    pub(crate) fn into_page(self, size: Size) -> Page<'static> {
        let Strip { placed, marks, words, .. } = self;
        Page { size, placed, marks: marks.into(), words, has_white: false }
    }
}

/// Sets words and writes them into the strip at hand.
pub(crate) struct StripWriter<'a> {
    pub setter: Typesetter<'a>,
    pub strip: Strip,
    /// Width of the form, mm.
    pub width: f64,
}

impl<'a> StripWriter<'a> {
    /// A writer whose drawings are numbered from `first`.
    pub(crate) fn new(faces: &'a Faces, first: usize, width: f64) -> StripWriter<'a> {
        StripWriter { setter: Typesetter::new(faces, first), strip: Strip::default(), width }
    }

    /// The strip at hand; the next one is empty.
    pub(crate) fn take(&mut self) -> Strip {
        std::mem::take(&mut self.strip)
    }

    /// Writes a text in lines of at most this width; returns where the next line's top would be.
    pub(crate) fn set(&mut self, level: Level, text: &str, at: Point, width: f64) -> f64 {
        self.set_first(usize::MAX, level, text, at, width)
    }

    /// The same with no more than the first lines.
    pub(crate) fn set_first(
        &mut self,
        most: usize,
        level: Level,
        text: &str,
        at: Point,
        width: f64,
    ) -> f64 {
        let mut lines = self.setter.lines(level, text, width);
        lines.truncate(most);
        self.strip.write(&lines, level, at)
    }

    /// The same with all lines; returns the base line of the last.
    pub(crate) fn paragraph(&mut self, level: Level, text: &str, at: Point, width: f64) -> f64 {
        self.set(level, text, at, width) - level.pitch() + level.cap()
    }

    /// Writes a phrase in one line with `part` of its width, 0 to 1, left of a point.
    pub(crate) fn phrase(&mut self, level: Level, text: &str, at: Point, part: f64) {
        let line = self.setter.phrase(level, text);
        self.strip.write_line(&line, level, Point::new(at.x - part * line.width, at.y));
    }

    /// Names the columns of a table.
    pub(crate) fn column_names(&mut self, columns: &[(f64, &'static str)], y: f64) {
        for (x, name) in columns {
            self.phrase(Level::Quiet, name, Point::new(*x, y), 0.0);
        }
    }

    /// Writes quiet words that end at the right edge of the form.
    pub(crate) fn write_right(&mut self, text: &str, y: f64) {
        for line in self.setter.lines(Level::Quiet, text, self.width) {
            self.strip.write_line(&line, Level::Quiet, Point::new(self.width - line.width, y));
        }
    }
}

/// A straight stroke of this width, mm, with square ends.
pub(crate) fn stroke(from: Point, to: Point, width: f64) -> Outline {
    let along = (to - from).normalize();
    let half = Vec2::new(-along.y, along.x) * (width / 2.0);
    shape::polygon(&[from - half, to - half, to + half, from + half])
}

/// The outline of a box to tick, this wide and high, mm, its top left corner at the origin.
pub(crate) fn tick_box(side: f64) -> Outline {
    const LINE: f64 = 0.25;
    let outer = Rect::new(0.0, 0.0, side, side);
    shape::rounded(outer, 0.6).minus(&shape::rounded(outer.inflate(-LINE, -LINE), 0.6 - LINE))
}
