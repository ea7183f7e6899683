//! A strip of the form that stays in one piece, and how strips fill pages.

use super::typeset::{DARK, Level, Line, QUIET};
use crate::colour::Colour;
use crate::design::{Mark, Plate, Role, Words};
use crate::finding::Place;
use crate::output::{Page, Placed};
use crate::shape::{self, Outline};
use kurbo::{Affine, Point, Rect, Vec2};
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
pub(crate) struct Running {
    /// What the rows belong to.
    pub(crate) title: String,
    /// Where the names of columns start, mm, and what they are; may be none.
    pub(crate) columns: Vec<(f64, &'static str)>,
}

/// Part of the form, across the whole width; its origin is its top left corner.
#[derive(Debug, Default)]
pub(crate) struct Strip {
    pub(crate) height: f64,
    /// Whether the next strip must stand on the same page.
    pub(crate) holds_next: bool,
    /// What its rows belong to, for a page that starts with it.
    pub(crate) running: Option<Rc<Running>>,
    pub(crate) placed: Vec<Placed>,
    pub(crate) marks: Vec<Mark>,
    pub(crate) words: Vec<Words>,
}

impl Strip {
    /// An empty strip of this height, mm.
    pub(crate) fn gap(height: f64) -> Strip {
        Strip { height, ..Strip::default() }
    }

    /// Writes lines down from the top of their first capitals; returns where the next line's would be.
    pub(crate) fn write(&mut self, lines: &[Line], level: Level, at: Point) -> f64 {
        let mut top = at.y;
        for line in lines {
            self.write_line(line, level, Point::new(at.x, top));
            top += level.pitch();
        }
        top
    }

    /// Writes one line from its left end and the top of its capitals.
    pub(crate) fn write_line(&mut self, line: &Line, level: Level, at: Point) {
        let cap = level.cap();
        for (x, design) in &line.words {
            let to = Vec2::new(at.x + x, at.y + cap / 2.0);
            self.placed.push(Placed { design: *design, transform: Affine::translate(to) });
        }
        self.words.push(Words {
            text: line.text.clone(),
            area: Rect::new(at.x, at.y, at.x + line.width, at.y + cap),
            turned_deg: 0.0,
            cap_height_mm: cap,
            reversed: false,
            part: crate::spec::PartId::default(),
            from: Place::default(),
        });
    }

    /// Writes one line upwards, from its left end and the left edge of its capitals.
    pub(crate) fn write_upwards(&mut self, line: &Line, level: Level, at: Point) {
        let cap = level.cap();
        let turned = Affine::new([0.0, -1.0, 1.0, 0.0, at.x + cap / 2.0, at.y]);
        for (x, design) in &line.words {
            let transform = turned * Affine::translate((*x, 0.0));
            self.placed.push(Placed { design: *design, transform });
        }
        let middle = Point::new(at.x + cap / 2.0, at.y - line.width / 2.0);
        self.words.push(Words {
            text: line.text.clone(),
            area: Rect::from_center_size(middle, (line.width, cap)),
            turned_deg: -90.0,
            cap_height_mm: cap,
            reversed: false,
            part: crate::spec::PartId::default(),
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
        self.marks.push(Mark {
            path,
            plate,
            role: Role::Line,
            part: crate::spec::PartId::default(),
            from: Place::default(),
        });
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
}

/// The outline of a box to tick, this wide and high, mm, its top left corner at the origin.
pub(crate) fn tick_box(side: f64) -> Outline {
    const LINE: f64 = 0.25;
    let outer = Rect::new(0.0, 0.0, side, side);
    shape::rounded(outer, 0.6).minus(&shape::rounded(outer.inflate(-LINE, -LINE), 0.6 - LINE))
}

/// The strips of one page after the other, never parting strips that hold the next.
#[derive(Debug, Default)]
pub(crate) struct Run {
    page: Vec<Strip>,
    /// Height of those, mm.
    used: f64,
    /// Strips that must stand on one page with what comes next.
    held: Vec<Strip>,
}

impl Run {
    /// Takes the next strip; gives the strips of a page when no more find room in its height.
    pub(crate) fn add(&mut self, strip: Strip, height: f64) -> Option<Vec<Strip>> {
        let holds_next = strip.holds_next;
        self.held.push(strip);
        if holds_next {
            return None;
        }
        let needed: f64 = self.held.iter().map(|strip| strip.height).sum();
        let mut full = None;
        if self.used + needed > height && !self.page.is_empty() {
            full = Some(std::mem::take(&mut self.page));
            self.used = 0.0;
            // White space that parted strips has no use at the top of a page.
            let is_white = |strip: &Strip| strip.placed.is_empty() && strip.marks.is_empty();
            let white = self.held.iter().take_while(|strip| is_white(strip)).count();
            self.held.drain(..white);
        }
        self.used += self.held.iter().map(|strip| strip.height).sum::<f64>();
        self.page.append(&mut self.held);
        full
    }

    /// The strips of the last page.
    pub(crate) fn rest(mut self) -> Vec<Strip> {
        self.page.append(&mut self.held);
        self.page
    }
}
