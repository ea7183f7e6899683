//! What all test prints share: head, paragraphs, rows of advice, foot lines.

use super::Setting;
use crate::card::strip::{Rule, Strip};
use crate::card::typeset::{Level, Typesetter};
use crate::colour::Colour;
use crate::design::Design;
use crate::font::Faces;
use crate::output::Page;
use crate::shape::{self, Outline};
use crate::spec::{Paper, Profile};
use kurbo::{Point, Rect, Size, Vec2};

/// From the bottom edge to the foot's rule, mm.
const FOOT_MM: f64 = 20.0;

/// For two lines about a correction over the foot's rule, mm.
const CORRECTION_MM: f64 = 8.0;

/// Paper higher than this, mm, has room for a figure and words under it.
const TALL_MM: f64 = 250.0;

/// Pages on their way.
pub(super) struct Form<'a> {
    pub(super) setter: Typesetter<'a>,
    /// The page being filled; its origin is the paper's top left corner.
    pub(super) strip: Strip,
    pub(super) size: Size,
    pub(super) paper: &'a Paper,
    profile: Option<&'a Profile>,
    /// What the pages are, for the foot.
    title: String,
    done: Vec<Strip>,
}

impl<'a> Form<'a> {
    pub(super) fn new(setting: &Setting<'a>, faces: &'a Faces) -> Form<'a> {
        Form {
            setter: Typesetter::new(faces, 0),
            strip: Strip::default(),
            size: setting.paper.size,
            paper: setting.paper,
            profile: setting.profile,
            title: String::new(),
            done: Vec::new(),
        }
    }

    /// The area words and figures keep to, mm: inside the stairs at the edges, and above the foot.
    pub(super) fn area(&self) -> Rect {
        let side = if self.size.width > 180.0 { 20.0 } else { 18.0 };
        let foot = FOOT_MM + 3.0 + if self.is_corrected() { CORRECTION_MM } else { 0.0 };
        Rect::new(side, 22.0, self.size.width - side, self.size.height - foot)
    }

    /// Whether what is printed is corrected: it then says nothing about the printer itself.
    pub(super) fn is_corrected(&self) -> bool {
        self.profile.and_then(Profile::correction).is_some()
    }

    /// Whether words find room under a figure.
    pub(super) fn is_tall(&self) -> bool {
        self.size.height > TALL_MM
    }

    /// Writes the page's title and what to do with it; returns where the page goes on, mm.
    pub(super) fn head(&mut self, title: &str, intro: &str) -> f64 {
        if self.title.is_empty() {
            title.clone_into(&mut self.title);
        }
        let area = self.area();
        let lines = self.setter.lines(Level::Title, title, area.width());
        let top = self.strip.write(lines.get(..1).unwrap_or_default(), Level::Title, area.origin());
        // Short of the full measure, so that no line ends under the last word alone.
        self.paragraph(intro, Point::new(area.x0, top + 0.6), area.width() * 0.9) + 4.0
    }

    /// Writes a paragraph from the top of its first capitals; returns the bottom of its last line, mm.
    pub(super) fn paragraph(&mut self, text: &str, at: Point, width: f64) -> f64 {
        let lines = self.setter.lines(Level::Body, text, width);
        let next = self.strip.write(&lines, Level::Body, at);
        next - Level::Body.pitch() + Level::Body.cap()
    }

    /// Writes what to read off: rows of a key and what it means, under a rule and a head.
    pub(super) fn advice(&mut self, rows: &[(&str, String)], top: f64) {
        let area = self.area();
        self.strip.rule(Rule::Strong, top, area.x0, area.x1);
        let head = self.setter.phrase(Level::Head, "Read it off");
        self.strip.write_line(&head, Level::Head, Point::new(area.x0, top + 3.0));
        let mut y = top + 9.6;
        let keys = rows.iter().map(|(key, _)| self.setter.phrase(Level::Strong, key).width);
        let indent = keys.fold(0.0, f64::max) + 5.0;
        for (key, text) in rows {
            let key = self.setter.phrase(Level::Strong, key);
            self.strip.write_line(&key, Level::Strong, Point::new(area.x0, y));
            let at = Point::new(area.x0 + indent, y);
            y = self.paragraph(text, at, area.width() - indent) + 2.4;
        }
    }

    /// Writes words that start, stand or end at a point.
    pub(super) fn write(&mut self, level: Level, text: &str, at: Point, part: f64) {
        let line = self.setter.phrase(level, text);
        let x = at.x - part * line.width;
        self.strip.write_line(&line, level, Point::new(x, at.y));
    }

    /// Fills a rectangle.
    pub(super) fn block(&mut self, rect: Rect, colour: Colour) {
        self.strip.fill(shape::rectangle(rect), colour);
    }

    /// Goes on to a new page.
    pub(super) fn next_page(&mut self) {
        self.done.push(std::mem::take(&mut self.strip));
    }

    /// All pages with their feet, and what they place.
    pub(super) fn bind(mut self) -> (Vec<Page<'static>>, Vec<Design>) {
        self.next_page();
        let strips = std::mem::take(&mut self.done);
        let of = strips.len();
        let mut pages = Vec::with_capacity(of);
        for (strip, number) in strips.into_iter().zip(1..) {
            self.strip = strip;
            self.foot(&format!("{number} of {of}"));
            let strip = std::mem::take(&mut self.strip);
            let mut page = Page {
                size: self.size,
                placed: Vec::new(),
                marks: Vec::new().into(),
                words: Vec::new(),
                has_white: false,
            };
            strip.lay(&mut page, Vec2::ZERO);
            pages.push(page);
        }
        (pages, self.setter.into_drawings())
    }

    /// What the page is and how it is printed; over it, how it is corrected.
    fn foot(&mut self, number: &str) {
        let area = self.area();
        let y = self.size.height - FOOT_MM;
        self.strip.rule(Rule::Thin, y - 2.4, area.x0, area.x1);
        let words = format!("{} · {} · 100 %, no scaling", self.title, self.paper.name);
        self.write(Level::Quiet, &words, Point::new(area.x0, y - 0.6), 0.0);
        self.write(Level::Quiet, number, Point::new(area.x1, y - 0.6), 1.0);
        let corrected = self.profile.and_then(Profile::words);
        if let Some(words) = corrected {
            let lines = self.setter.lines(Level::Quiet, &words, area.width());
            self.strip.write(
                lines.get(..2).unwrap_or(&lines),
                Level::Quiet,
                Point::new(area.x0, area.y1 + 1.0),
            );
        }
    }
}

/// A straight stroke of this width, mm, with square ends.
pub(super) fn stroke(from: Point, to: Point, width: f64) -> Outline {
    let along = (to - from).normalize();
    let half = Vec2::new(-along.y, along.x) * (width / 2.0);
    shape::polygon(&[from - half, to - half, to + half, from + half])
}
