//! Letters set and measured once, however often they stand on the list, and words put together of them.
//!
//! A list of thousands then holds a few hundred drawings, and its PDF stays small. Kerning is the face's own,
//! measured a pair at a time.

use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role};
use crate::finding::{Findings, Place};
use crate::font::Faces;
use crate::shape::Outline;
use crate::spec::{self, Align, Paint, PartId, TextSize};
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
/// every name, more would place letters one by one that the list says in row after row.
const FREQUENT: u32 = 12;

/// A letter, or a word that cannot be taken apart, drawn once.
#[derive(Clone, Copy, Debug)]
struct Piece {
    /// Its drawing; `None` when nothing is to be seen.
    design: Option<usize>,
    width: f64,
}

/// A word ready to place.
#[derive(Debug, Default)]
struct Word {
    /// Drawings and where they start, mm from the word's left end.
    drawn: Vec<(f64, usize)>,
    width: f64,
}

/// A line of words ready to place.
#[derive(Clone, Debug, Default)]
pub(crate) struct Line {
    pub(crate) text: String,
    pub(crate) width: f64,
    /// Drawings and where they start, mm from the line's left end.
    pub(crate) words: Vec<(f64, usize)>,
}

/// Sets words and keeps them.
pub(crate) struct Typesetter<'a> {
    faces: &'a Faces,
    /// Index of the first drawing: how many designs the job has.
    first: usize,
    drawings: Vec<Design>,
    letters: BTreeMap<(Level, char), Piece>,
    /// Words of scripts whose letters change with their neighbours.
    wholes: BTreeMap<(Level, String), Piece>,
    /// How much closer two letters stand than their widths say, mm, rarely above nought.
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

    /// Keeps a drawing; says its index.
    pub(crate) fn keep(&mut self, name: &str, path: Outline, colour: Colour) -> usize {
        self.keep_all(name, vec![(path, colour)])
    }

    /// Keeps a drawing of several colours, painted in order; says its index.
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
    pub(crate) fn lines(&mut self, level: Level, text: &str, width: f64) -> Vec<Line> {
        let space = self.space(level);
        let mut lines = Vec::new();
        let mut line = Line::default();
        for whole in words(text) {
            for (at, (part, word)) in self.broken(level, whole, width).into_iter().enumerate() {
                let gap = if line.text.is_empty() { 0.0 } else { space };
                if !line.text.is_empty() && (at > 0 || line.width + gap + word.width > width) {
                    lines.push(std::mem::take(&mut line));
                } else if !line.text.is_empty() {
                    line.text.push(' ');
                    line.width += gap;
                }
                line.words.extend(word.drawn.iter().map(|(x, design)| (line.width + x, *design)));
                line.text.push_str(&part.replace('\u{a0}', " "));
                line.width += word.width;
            }
        }
        if !line.text.is_empty() {
            lines.push(line);
        }
        lines
    }

    /// Words that stand on the form again and again, drawn once as one piece and never broken.
    pub(crate) fn phrase(&mut self, level: Level, text: &str) -> Line {
        let Piece { design, width } = self.whole(level, text);
        let words = design.map(|design| (0.0, design)).into_iter().collect();
        Line { text: text.to_owned(), width, words }
    }

    /// The word in parts that each fit the width, ready to place: usually the word itself.
    fn broken(&mut self, level: Level, text: &str, width: f64) -> Vec<(String, Word)> {
        if text.len() <= LONGEST_WORD {
            let word = self.word(level, text);
            if word.width <= width {
                return vec![(text.to_owned(), word)];
            }
        }
        let mut parts = Vec::new();
        let mut part = String::new();
        let mut part_width = 0.0;
        for letter in text.chars() {
            let letter_width = self.letter(level, letter).width;
            // Kerning makes a part a little narrower than its letters; never mind.
            if part_width + letter_width > width && !part.is_empty() {
                let rest = part.split_off(end_of_line(&part, letter));
                parts.push(std::mem::replace(&mut part, rest));
                part_width = part.chars().map(|letter| self.letter(level, letter).width).sum();
            }
            part.push(letter);
            part_width += letter_width;
        }
        parts.push(part);
        parts.into_iter().map(|part| (part.clone(), self.word(level, &part))).collect()
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

    fn word(&mut self, level: Level, text: &str) -> Word {
        if !text.chars().all(stands_alone) || self.is_frequent(level, text) {
            let Piece { design, width } = self.whole(level, text);
            return Word { drawn: design.map(|design| (0.0, design)).into_iter().collect(), width };
        }
        let mut word = Word::default();
        let mut before = None;
        for letter in text.chars() {
            word.width += before.map_or(0.0, |before| self.kern(level, before, letter));
            let Piece { design, width } = self.letter(level, letter);
            word.drawn.extend(design.map(|design| (word.width, design)));
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

    fn letter(&mut self, level: Level, letter: char) -> Piece {
        if let Some(piece) = self.letters.get(&(level, letter)) {
            return *piece;
        }
        let piece = self.draw(level, letter.encode_utf8(&mut [0; 4]));
        self.letters.insert((level, letter), piece);
        piece
    }

    fn whole(&mut self, level: Level, text: &str) -> Piece {
        let key = (level, text.to_owned());
        if let Some(piece) = self.wholes.get(&key) {
            return *piece;
        }
        let piece = self.draw(level, text);
        self.wholes.insert(key, piece);
        piece
    }

    fn draw(&mut self, level: Level, text: &str) -> Piece {
        let (path, width) = self.set(level, text);
        let design =
            if path.is_empty() { None } else { Some(self.keep(text, path, level.colour())) };
        Piece { design, width }
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

fn one_line(level: Level, text: &str) -> spec::Text {
    spec::Text {
        lines: vec![text.replace('\u{a0}', " ")],
        font: level.face().to_owned(),
        size: TextSize::CapHeight(level.cap()),
        tracking: 0.0,
        line_pitch: 1.85,
        align: Align::Left,
        width: None,
        spread: None,
        arc: None,
        tabular: false,
        paint: Paint::Ink(level.colour()),
        place: Place::default(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_of_letters_is_the_word_set_whole() {
        // text::set on the whole word is the outside measure; AV, To and P. are kerned pairs.
        let faces = Faces::bundled();
        let mut setter = Typesetter::new(&faces, 0);
        for (level, text) in [
            (Level::Strong, "AVATAR"),
            (Level::Spoken, "To.P.7"),
            (Level::Spoken, "Überlauf"),
            (Level::Quiet, "1074"),
        ] {
            let (whole, width) = setter.set(level, text);
            let word = setter.word(level, text);
            assert_eq!(word.drawn.len(), text.chars().count());
            assert!((word.width - width).abs() < 1e-6, "{text}: {} {width}", word.width);
            let letters = word.drawn.iter().map(|(x, design)| {
                setter.drawings[*design].marks[0].path.bounds() + kurbo::Vec2::new(*x, 0.0)
            });
            let bounds = letters.reduce(|all, one| all.union(one)).unwrap();
            assert!((bounds.x0 - whole.bounds().x0).abs() < 1e-6, "{text}");
            assert!((bounds.x1 - whole.bounds().x1).abs() < 1e-6, "{text}");
        }
    }

    #[test]
    fn thousands_of_names_take_a_handful_of_drawings() {
        let faces = Faces::bundled();
        let mut setter = Typesetter::new(&faces, 7);
        for number in 0..3000 {
            setter.lines(Level::Strong, &format!("channel-{number}"), 60.0);
        }
        let drawings = setter.into_drawings();
        // c h a n e l - and ten figures.
        assert_eq!(drawings.len(), 17);
    }

    #[test]
    fn long_names_are_parted_before_their_signs() {
        let faces = Faces::bundled();
        let mut setter = Typesetter::new(&faces, 0);
        let mut parted = |text: &str| -> Vec<String> {
            let lines = setter.lines(Level::Body, text, 20.0);
            lines.into_iter().map(|line| line.text).collect()
        };
        assert_eq!(parted("=MOLE1+CAB2-K24:13"), ["=MOLE1+CAB2", "-K24:13"]);
        assert_eq!(parted("=MOLE1+CABIN2:13"), ["=MOLE1", "+CABIN2:13"]);
        assert_eq!(parted(&"-".repeat(60)).concat(), "-".repeat(60));
        assert_eq!(parted("X-MMMMMMMMMMMMMMMM").concat(), "X-MMMMMMMMMMMMMMMM");
    }

    #[test]
    fn a_frequent_word_becomes_one_piece_of_the_same_width() {
        let faces = Faces::bundled();
        let mut setter = Typesetter::new(&faces, 0);
        let words: Vec<Word> = (0..30).map(|_| setter.word(Level::Body, "ground")).collect();
        assert!(words.iter().all(|word| (word.width - words[0].width).abs() < 1e-6));
        let pieces: usize = words.iter().map(|word| word.drawn.len()).sum();
        assert_eq!(pieces, 12 * "ground".len() + 18);
    }

    #[test]
    fn lines_are_no_wider_than_asked() {
        let faces = Faces::bundled();
        let mut setter = Typesetter::new(&faces, 0);
        let text = "read every row aloud against the part Donaudampfschiffahrtsgesellschaft";
        for level in [Level::Body, Level::Spoken] {
            let lines = setter.lines(level, text, 20.0);
            assert!(lines.iter().all(|line| line.width <= 20.0 + 0.1), "{lines:?}");
            assert!(lines.len() > 4);
            let read: String = lines.iter().map(|line| line.text.as_str()).collect();
            assert_eq!(read.replace(' ', ""), text.replace(' ', ""));
        }
    }
}
