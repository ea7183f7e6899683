//! Letters set and measured once, however often they stand on the list, and words put together of them.
//!
//! A list of thousands then holds a few hundred drawings, and its PDF stays small. Kerning is the face's own,
//! measured a pair at a time.

use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role};
use crate::finding::{Findings, Place};
use crate::font::Faces;
use crate::shape::Outline;
use crate::sheet;
use crate::spec::{PartId, Text};
use crate::text;
use std::collections::BTreeMap;

/// Colour of what is read.
pub(crate) const DARK: Colour = Colour { rgb: [28, 33, 38] };
/// Colour of what is looked up.
pub(crate) const QUIET: Colour = Colour { rgb: [104, 113, 121] };

/// What a piece of type is on the page: decides face, height and colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Level {
    /// The job's title.
    Title,
    /// Head of a section.
    Head,
    /// Words to read aloud.
    Spoken,
    /// Names, counts and first words.
    Strong,
    /// Running text.
    Body,
    /// Running text that stands back.
    Quiet,
}

impl Level {
    /// Height of a flat capital, mm.
    pub(crate) fn cap(self) -> f64 {
        match self {
            Level::Title => 5.0,
            Level::Head | Level::Spoken => 2.6,
            Level::Strong | Level::Body | Level::Quiet => 1.9,
        }
    }

    /// From base line to base line, mm.
    pub(crate) fn pitch(self) -> f64 {
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

/// Times a word is put together of letters before it is drawn as one piece: fewer would make a drawing of
/// every name, more would place words that stand in row after row letter by letter.
const FREQUENT: u32 = 12;

/// A letter, or a word that cannot be taken apart, drawn once.
#[derive(Clone, Copy, Debug)]
struct DrawnOnce {
    /// Its drawing; `None` when nothing is to be seen.
    drawing: Option<usize>,
    width: f64,
}

/// A word or a line of words, ready to place.
#[derive(Clone, Debug, Default)]
pub(crate) struct SetLine {
    pub text: String,
    pub width: f64,
    /// Drawings and where they start, mm from the left end.
    pub drawn: Vec<(f64, usize)>,
}

/// Sets words and keeps them.
pub(crate) struct Typesetter<'a> {
    faces: &'a Faces,
    /// Index of the first drawing: how many designs the job has.
    first: usize,
    drawings: Vec<Design>,
    letters: BTreeMap<(Level, char), DrawnOnce>,
    /// Words of scripts whose letters change with their neighbours.
    wholes: BTreeMap<(Level, String), DrawnOnce>,
    /// What is added to the widths of two letters that stand side by side, mm; rarely above zero.
    kerns: BTreeMap<(Level, char, char), f64>,
    spaces: BTreeMap<Level, f64>,
    /// How often each word was set.
    seen: BTreeMap<Level, BTreeMap<String, u32>>,
}

impl<'a> Typesetter<'a> {
    pub(crate) fn new(faces: &'a Faces, first: usize) -> Typesetter<'a> {
        Typesetter {
            faces,
            first,
            drawings: Vec::new(),
            letters: BTreeMap::new(),
            wholes: BTreeMap::new(),
            kerns: BTreeMap::new(),
            spaces: BTreeMap::new(),
            seen: BTreeMap::new(),
        }
    }

    /// The letters and swatches drawn, numbered from `first`.
    pub(crate) fn into_drawings(self) -> Vec<Design> {
        self.drawings
    }

    /// Keeps a drawing; returns its index.
    pub(crate) fn keep(&mut self, name: &str, path: Outline, colour: Colour) -> usize {
        self.keep_all(name, vec![(path, colour)])
    }

    /// Keeps a drawing of several colours, painted in order; returns its index.
    pub(crate) fn keep_all(&mut self, name: &str, paths: Vec<(Outline, Colour)>) -> usize {
        let mark = |(path, colour)| Mark {
            path,
            plate: Plate::Ink(colour),
            role: Role::Text,
            part: PartId::default(),
            from: Place::default(),
        };
        self.drawings.push(Design {
            name: name.to_owned(),
            label: usize::MAX,
            trim: Outline::default(),
            bleed_mm: 0.0,
            marks: paths.into_iter().map(mark).collect(),
            words: Vec::new(),
            white: None,
            backing: None,
            codes: Vec::new(),
            on_panel: None,
            from: Place::default(),
        });
        self.first + self.drawings.len() - 1
    }

    /// The text broken into lines no wider than `width` mm; a word that is wider is broken as well.
    pub(crate) fn lines(&mut self, level: Level, text: &str, width: f64) -> Vec<SetLine> {
        let space = self.space(level);
        let mut lines = Vec::new();
        let mut line = SetLine::default();
        for whole in words(text) {
            for (at, word) in self.broken(level, whole, width).into_iter().enumerate() {
                let gap = if line.text.is_empty() { 0.0 } else { space };
                if !line.text.is_empty() && (at > 0 || line.width + gap + word.width > width) {
                    lines.push(std::mem::take(&mut line));
                } else if !line.text.is_empty() {
                    line.text.push(' ');
                    line.width += gap;
                }
                line.drawn.extend(word.drawn.iter().map(|(x, drawing)| (line.width + x, *drawing)));
                line.text.push_str(&word.text.replace('\u{a0}', " "));
                line.width += word.width;
            }
        }
        if !line.text.is_empty() {
            lines.push(line);
        }
        lines
    }

    /// Words that stand on the form again and again, drawn once as one piece and never broken.
    pub(crate) fn phrase(&mut self, level: Level, text: &str) -> SetLine {
        let DrawnOnce { drawing, width } = self.whole(level, text);
        let drawn = drawing.map(|drawing| (0.0, drawing)).into_iter().collect();
        SetLine { text: text.to_owned(), width, drawn }
    }

    /// The word in parts that each fit the width, ready to place: usually the word itself.
    fn broken(&mut self, level: Level, text: &str, width: f64) -> Vec<SetLine> {
        if text.len() <= LONGEST_WORD {
            let word = self.word(level, text);
            if word.width <= width {
                return vec![word];
            }
        }
        let mut parts = Vec::new();
        let mut part = String::new();
        let mut part_width = 0.0;
        for letter in text.chars() {
            let letter_width = self.letter(level, letter).width;
            // Kerning makes a part a little narrower than the sum of its letters: that much room is left unused.
            if part_width + letter_width > width && !part.is_empty() {
                let rest = part.split_off(end_of_line(&part, letter));
                parts.push(std::mem::replace(&mut part, rest));
                part_width = part.chars().map(|letter| self.letter(level, letter).width).sum();
            }
            part.push(letter);
            part_width += letter_width;
        }
        parts.push(part);
        parts.iter().map(|part| self.word(level, part)).collect()
    }

    /// The width of a word space, mm.
    fn space(&mut self, level: Level) -> f64 {
        if let Some(space) = self.spaces.get(&level) {
            return *space;
        }
        let space = self.set(level, "n n").1 - self.set(level, "nn").1;
        self.spaces.insert(level, space);
        space
    }

    fn word(&mut self, level: Level, text: &str) -> SetLine {
        if !text.chars().all(stands_alone) || self.is_frequent(level, text) {
            return self.phrase(level, text);
        }
        let mut word = SetLine { text: text.to_owned(), ..SetLine::default() };
        let mut before = None;
        for letter in text.chars() {
            word.width += before.map_or(0.0, |before| self.kern(level, before, letter));
            let DrawnOnce { drawing, width } = self.letter(level, letter);
            word.drawn.extend(drawing.map(|drawing| (word.width, drawing)));
            word.width += width;
            before = Some(letter);
        }
        word
    }

    /// Whether the word was set often before; counts it.
    fn is_frequent(&mut self, level: Level, text: &str) -> bool {
        let seen = self.seen.entry(level).or_default();
        if let Some(times) = seen.get_mut(text) {
            *times += 1;
            return *times > FREQUENT;
        }
        seen.insert(text.to_owned(), 1);
        false
    }

    fn kern(&mut self, level: Level, a: char, b: char) -> f64 {
        if let Some(kern) = self.kerns.get(&(level, a, b)) {
            return *kern;
        }
        let apart = [a, b].map(|letter| self.letter(level, letter).width);
        let kern = self.set(level, &String::from_iter([a, b])).1 - apart.iter().sum::<f64>();
        self.kerns.insert((level, a, b), kern);
        kern
    }

    fn letter(&mut self, level: Level, letter: char) -> DrawnOnce {
        if let Some(drawn) = self.letters.get(&(level, letter)) {
            return *drawn;
        }
        let drawn = self.draw(level, letter.encode_utf8(&mut [0; 4]));
        self.letters.insert((level, letter), drawn);
        drawn
    }

    fn whole(&mut self, level: Level, text: &str) -> DrawnOnce {
        let key = (level, text.to_owned());
        if let Some(drawn) = self.wholes.get(&key) {
            return *drawn;
        }
        let drawn = self.draw(level, text);
        self.wholes.insert(key, drawn);
        drawn
    }

    fn draw(&mut self, level: Level, text: &str) -> DrawnOnce {
        let (path, width) = self.set(level, text);
        let drawing = (!path.is_empty()).then(|| self.keep(text, path, level.colour()));
        DrawnOnce { drawing, width }
    }

    /// The outline from its left end and the middle of its capitals, and the width.
    fn set(&self, level: Level, text: &str) -> (Outline, f64) {
        let mut findings = Findings::default();
        let mut block = text::set(self.faces, &one_line(level, text), &mut findings);
        if findings.any_error() {
            // A sign no face has is reported by the checks; the list still needs something in its place.
            let shown: String =
                text.chars().map(|c| if c.is_ascii_graphic() { c } else { '?' }).collect();
            block = text::set(self.faces, &one_line(level, &shown), &mut Findings::default());
        }
        let width = block.area().width();
        (block.outline, width)
    }
}

/// The text's words: parted by white space, but not by a space that must not break (U+00A0).
pub(crate) fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| c.is_whitespace() && c != '\u{a0}').filter(|word| !word.is_empty())
}

/// How much of a word's part stays on its line when `next` has no room: names of things are parted before
/// the signs that join them (`=A1+B2-K1:13`), anything else where the line ends.
fn end_of_line(part: &str, next: char) -> usize {
    const JOINS: [char; 6] = ['=', '+', '-', ':', '/', '_'];
    let sign = part.rfind(JOINS).filter(|at| *at > 0 && !JOINS.contains(&next));
    sign.unwrap_or(part.len())
}

/// Whether a sign looks the same beside any other: printable ASCII and Latin up to U+017F.
fn stands_alone(sign: char) -> bool {
    matches!(sign, '!'..='~' | '\u{a1}'..='\u{17f}')
}

fn one_line(level: Level, text: &str) -> Text {
    sheet::one_line(text.replace('\u{a0}', " "), level.face(), level.cap())
}

#[cfg(test)]
mod tests;
