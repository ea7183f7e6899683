//! What all test prints share: head, paragraphs, rows of advice, foot lines.

use super::Setting;
use crate::card::strip::{Rule, Strip, StripWriter};
use crate::card::typeset::Level;
use crate::colour::Colour;
use crate::design::Design;
use crate::font::Faces;
use crate::output::Page;
use crate::shape::{self, Outline};
use crate::spec::{Paper, Profile};
use kurbo::{Point, Rect};

/// From the bottom edge to the foot's rule, mm.
const FOOT_MM: f64 = 20.0;

/// For two lines about a correction over the foot's rule, mm.
const CORRECTION_MM: f64 = 8.0;

/// Paper higher than this, mm, has room for a figure and words under it.
const TALL_MM: f64 = 250.0;

/// Writes the pages of a test print one after the other.
pub(super) struct PageWriter<'a> {
    /// Writes the page at hand, whose origin is the paper's top left corner.
    pub(super) strips: StripWriter<'a>,
    pub(super) paper: &'a Paper,
    profile: Option<&'a Profile>,
    /// What the pages are, for the foot.
    title: String,
    done: Vec<Strip>,
}

impl<'a> PageWriter<'a> {
    pub(super) fn new(setting: &Setting<'a>, faces: &'a Faces) -> PageWriter<'a> {
        PageWriter {
            strips: StripWriter::new(faces, 0, setting.paper.size.width),
            paper: setting.paper,
            profile: setting.profile,
            title: String::new(),
            done: Vec::new(),
        }
    }

    /// The area words and figures keep to, mm: inside the stairs at the edges, and above the foot.
    pub(super) fn area(&self) -> Rect {
        let size = self.paper.size;
        let side = if size.width > 180.0 { 20.0 } else { 18.0 };
        let foot = FOOT_MM + 3.0 + if self.is_corrected() { CORRECTION_MM } else { 0.0 };
        Rect::new(side, 22.0, size.width - side, size.height - foot)
    }

    /// Whether what is printed is corrected: measuring it then tests the profile, not the printer.
    pub(super) fn is_corrected(&self) -> bool {
        self.profile.and_then(Profile::correction).is_some()
    }

    /// Whether words find room under a figure.
    pub(super) fn is_tall(&self) -> bool {
        self.paper.size.height > TALL_MM
    }

    /// Writes the page's title and what to do with it; returns where the page goes on, mm.
    pub(super) fn head(&mut self, title: &str, intro: &str) -> f64 {
        if self.title.is_empty() {
            title.clone_into(&mut self.title);
        }
        let area = self.area();
        let top = self.strips.set_first(1, Level::Title, title, area.origin(), area.width());
        // Short of the full measure, so that no line ends under the last word alone.
        let at = Point::new(area.x0, top + 0.6);
        self.strips.paragraph(Level::Body, intro, at, area.width() * 0.9) + 4.0
    }

    /// Writes what to read off: rows of a key and what it means, under a rule and a head.
    pub(super) fn advice(&mut self, rows: &[(&str, &str)], top: f64) {
        let area = self.area();
        self.strips.strip.rule(Rule::Strong, top, area.x0, area.x1);
        self.write(Level::Head, "Read it off", Point::new(area.x0, top + 3.0), 0.0);
        let mut y = top + 9.6;
        let keys = rows.iter().map(|(key, _)| self.strips.setter.phrase(Level::Strong, key).width);
        let indent = keys.fold(0.0, f64::max) + 5.0;
        for (key, text) in rows {
            self.write(Level::Strong, key, Point::new(area.x0, y), 0.0);
            let at = Point::new(area.x0 + indent, y);
            y = self.strips.paragraph(Level::Body, text, at, area.width() - indent) + 2.4;
        }
    }

    /// Writes words with `part` of their width, 0 to 1, left of a point.
    pub(super) fn write(&mut self, level: Level, text: &str, at: Point, part: f64) {
        self.strips.phrase(level, text, at, part);
    }

    /// Writes words half way up a row, from their left end.
    pub(super) fn write_beside(&mut self, level: Level, text: &str, x: f64, middle: f64) {
        self.write(level, text, Point::new(x, middle - level.cap() / 2.0), 0.0);
    }

    /// Paints an outline.
    pub(super) fn fill(&mut self, path: Outline, colour: Colour) {
        self.strips.strip.fill(path, colour);
    }

    /// Fills a rectangle.
    pub(super) fn block(&mut self, rect: Rect, colour: Colour) {
        self.fill(shape::rectangle(rect), colour);
    }

    /// Goes on to a new page.
    pub(super) fn next_page(&mut self) {
        self.done.push(self.strips.take());
    }

    /// All pages with their feet, and what they place.
    pub(super) fn bind(mut self) -> (Vec<Page<'static>>, Vec<Design>) {
        self.next_page();
        let strips = std::mem::take(&mut self.done);
        let of = strips.len();
        let mut pages = Vec::with_capacity(of);
        for (strip, number) in strips.into_iter().zip(1..) {
            self.strips.strip = strip;
            self.foot(&format!("{number} of {of}"));
            pages.push(self.strips.take().into_page(self.paper.size));
        }
        (pages, self.strips.setter.into_drawings())
    }

    /// What the page is and how it is printed; over it, how it is corrected.
    fn foot(&mut self, number: &str) {
        let area = self.area();
        let y = self.paper.size.height - FOOT_MM;
        self.strips.strip.rule(Rule::Thin, y - 2.4, area.x0, area.x1);
        let words = format!("{} · {} · 100 %, no scaling", self.title, self.paper.name);
        self.write(Level::Quiet, &words, Point::new(area.x0, y - 0.6), 0.0);
        self.write(Level::Quiet, number, Point::new(area.x1, y - 0.6), 1.0);
        if let Some(words) = self.profile.and_then(Profile::words) {
            let at = Point::new(area.x0, area.y1 + 1.0);
            self.strips.set_first(2, Level::Quiet, &words, at, area.width());
        }
    }
}
