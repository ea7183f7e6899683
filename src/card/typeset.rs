//! Words set and measured once, however often they stand on the list.

use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role};
use crate::finding::{Findings, Place};
use crate::font::Faces;
use crate::shape::Outline;
use crate::spec::{self, Align, Paint, TextSize};
use crate::text;
use std::collections::BTreeMap;

/// Colour of what is read.
pub(super) const DARK: Colour = Colour { rgb: [28, 33, 38] };
/// Colour of what is looked up.
pub(super) const QUIET: Colour = Colour { rgb: [104, 113, 121] };

/// What a piece of type is on the page: decides face, height and colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Level {
    /// The job's title.
    Title,
    /// Head of a section.
    Head,
    /// Words to read aloud.
    Spoken,
    /// Names and first words.
    Strong,
    /// Running text.
    Body,
    /// Running text that stands back.
    Quiet,
}

impl Level {
    /// Height of a flat capital, mm.
    pub(super) fn cap(self) -> f64 {
        match self {
            Level::Title => 5.0,
            Level::Head | Level::Spoken => 2.6,
            Level::Strong | Level::Body | Level::Quiet => 1.9,
        }
    }

    /// From base line to base line, mm.
    pub(super) fn pitch(self) -> f64 {
        self.cap() * 1.85
    }

    fn face(self) -> &'static str {
        match self {
            Level::Title | Level::Head | Level::Strong => "label-reversed",
            Level::Spoken | Level::Body | Level::Quiet => "label",
        }
    }

    fn colour(self) -> Colour {
        if self == Level::Quiet { QUIET } else { DARK }
    }
}

/// Bytes of a word that is measured whole before it is broken; no longer one fits any column.
const LONGEST_WORD: usize = 400;

/// A word ready to place.
#[derive(Clone, Copy, Debug)]
struct Word {
    /// Its drawing; `None` when nothing is to be seen.
    design: Option<usize>,
    width: f64,
}

/// A line of words ready to place.
#[derive(Clone, Debug, Default)]
pub(super) struct Line {
    pub(super) text: String,
    pub(super) width: f64,
    /// Drawings and where they start, mm from the line's left end.
    pub(super) words: Vec<(f64, usize)>,
}

/// Sets words and keeps them.
pub(super) struct Typesetter<'a> {
    faces: &'a Faces,
    /// Index of the first drawing: how many designs the job has.
    first: usize,
    drawings: Vec<Design>,
    known: BTreeMap<Level, BTreeMap<String, Word>>,
}

impl<'a> Typesetter<'a> {
    pub(super) fn new(faces: &'a Faces, first: usize) -> Typesetter<'a> {
        Typesetter { faces, first, drawings: Vec::new(), known: BTreeMap::new() }
    }

    /// The words and swatches drawn, numbered from `first`.
    pub(super) fn into_drawings(self) -> Vec<Design> {
        self.drawings
    }

    /// Keeps a drawing; says its index.
    pub(super) fn keep(&mut self, name: &str, path: Outline, colour: Colour) -> usize {
        let mark =
            Mark { path, plate: Plate::Ink(colour), role: Role::Text, from: Place::default() };
        self.drawings.push(Design {
            name: name.to_owned(),
            label: usize::MAX,
            trim: Outline::default(),
            bleed_mm: 0.0,
            marks: vec![mark],
            words: Vec::new(),
            from: Place::default(),
        });
        self.first + self.drawings.len() - 1
    }

    /// The text broken into lines no wider than `width` mm; a word that is wider is broken as well.
    pub(super) fn lines(&mut self, level: Level, text: &str, width: f64) -> Vec<Line> {
        let space = self.space(level);
        let mut lines = Vec::new();
        let mut line = Line::default();
        for whole in words(text) {
            for (at, part) in self.broken(level, whole, width).into_iter().enumerate() {
                let word = self.word(level, &part);
                let gap = if line.text.is_empty() { 0.0 } else { space };
                if !line.text.is_empty() && (at > 0 || line.width + gap + word.width > width) {
                    lines.push(std::mem::take(&mut line));
                } else if !line.text.is_empty() {
                    line.text.push(' ');
                    line.width += gap;
                }
                line.words.extend(word.design.map(|design| (line.width, design)));
                line.text.push_str(&part.replace('\u{a0}', " "));
                line.width += word.width;
            }
        }
        if !line.text.is_empty() {
            lines.push(line);
        }
        lines
    }

    /// The word in parts that each fit the width: usually the word itself.
    fn broken(&mut self, level: Level, word: &str, width: f64) -> Vec<String> {
        if word.len() <= LONGEST_WORD && self.word(level, word).width <= width {
            return vec![word.to_owned()];
        }
        let mut parts = Vec::new();
        let mut part = String::new();
        let mut part_width = 0.0;
        for letter in word.chars() {
            let letter_width = self.word(level, letter.encode_utf8(&mut [0; 4])).width;
            // Kerning makes a part a little narrower than its letters; never mind.
            if part_width + letter_width > width && !part.is_empty() {
                parts.push(std::mem::take(&mut part));
                part_width = 0.0;
            }
            part.push(letter);
            part_width += letter_width;
        }
        parts.push(part);
        parts
    }

    /// The width of a word space, mm.
    fn space(&mut self, level: Level) -> f64 {
        self.word(level, "n n").width - self.word(level, "nn").width
    }

    fn word(&mut self, level: Level, text: &str) -> Word {
        if let Some(word) = self.known.get(&level).and_then(|words| words.get(text)) {
            return *word;
        }
        let (path, width) = self.set(level, text);
        let design =
            if path.is_empty() { None } else { Some(self.keep(text, path, level.colour())) };
        let word = Word { design, width };
        self.known.entry(level).or_default().insert(text.to_owned(), word);
        word
    }

    /// The outline from its left end and the middle of its capitals, and the width.
    fn set(&self, level: Level, text: &str) -> (Outline, f64) {
        let mut findings = Findings::default();
        let mut block = text::set(self.faces, &one_line(level, text), &mut findings);
        if findings.any_error() {
            // A sign no face has is told by the checks; the list still needs something in its place.
            let shown: String =
                text.chars().map(|c| if c.is_ascii_graphic() { c } else { '?' }).collect();
            block = text::set(self.faces, &one_line(level, &shown), &mut Findings::default());
        }
        let width = block.area().width();
        (block.outline, width)
    }
}

/// The text's words: parted by white space, but not by a space that must not break (U+00A0).
pub(super) fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| c.is_whitespace() && c != '\u{a0}').filter(|word| !word.is_empty())
}

fn one_line(level: Level, text: &str) -> spec::Text {
    spec::Text {
        lines: vec![text.replace('\u{a0}', " ")],
        font: level.face().to_owned(),
        size: TextSize::CapHeight(level.cap()),
        tracking: 0.0,
        line_pitch: 1.85,
        align: Align::Left,
        width: None,
        tabular: false,
        paint: Paint::Ink(level.colour()),
        place: Place::default(),
    }
}
