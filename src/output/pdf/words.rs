//! The words on a page as text that is found and copied but never seen.
//!
//! Labels are printed as outlines, which no reader can search. So every line of words is laid over its
//! outlines once more, in fonts whose letters are empty (Type 3, ISO 32000-1 9.6.5) and which say what each
//! code means (ToUnicode, 9.10.3). One font has 256 codes; as many are made as the words need.

use super::Error;
use super::art::{put, wrapped};
use super::forms::Packing;
use super::outline::ART;
use crate::design::Words;
use crate::units::fixed;
use kurbo::Vec2;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// Letters a font holds: 256 codes without code 0, see [`font`].
const LETTERS_A_FONT: usize = 255;

/// Every letter's width in thousandths of the size; the true width is set line by line.
const LETTER_WIDTH: i64 = 500;

/// Width of an "m" whose letters are half as wide as high (common practice of readers, no source).
const M_WIDTH: i64 = 600;

/// A space's width in thousandths. Lines are often stretched to twice their natural width, and readers take
/// a gap near the size of the letters for the end of a column: a wide space would part a label's words.
const SPACE_WIDTH: i64 = 100;

/// The shortest line that is laid over, mm: a reader could not point at less.
const SHORTEST_MM: f64 = 0.01;

/// The characters a document's words use, sorted. Each font has [`LETTERS_A_FONT`] of them, from code 1 on.
#[derive(Clone, Debug, Default)]
pub(super) struct Alphabet {
    letters: Vec<char>,
}

/// Where a character is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct CodedLetter {
    font: usize,
    code: u8,
    /// In thousandths of the size.
    width: i64,
}

fn width_of(letter: char) -> i64 {
    if letter == ' ' { SPACE_WIDTH } else { LETTER_WIDTH }
}

impl Alphabet {
    /// The alphabet of the words of pages.
    pub(super) fn of(pages: impl Iterator<Item = Vec<Words>>) -> Alphabet {
        let mut letters = BTreeSet::new();
        for words in pages {
            letters.extend(words.iter().flat_map(|words| words.text.chars()).map(one_line));
        }
        Alphabet { letters: letters.into_iter().collect() }
    }

    fn find(&self, letter: char) -> Option<CodedLetter> {
        let at = self.letters.binary_search(&letter).ok()?;
        let code = code(at % LETTERS_A_FONT);
        Some(CodedLetter { font: at / LETTERS_A_FONT, code, width: width_of(letter) })
    }
}

/// The code of a font's letter: code 0 is not used, see [`font`].
fn code(at: usize) -> u8 {
    u8::try_from(at + 1).unwrap_or(u8::MAX)
}

/// A line has no breaks in it.
fn one_line(letter: char) -> char {
    if letter.is_whitespace() || letter.is_control() { ' ' } else { letter }
}

/// Adds the content that lays words over a page, on the art grid, y down.
pub(super) fn add_unseen(out: &mut Vec<u8>, words: &[Words], alphabet: &Alphabet) {
    for line in words {
        wrapped(out, format_args!("BT 3 Tr\n"), |out| lay_line(out, line, alphabet), "ET\n");
    }
}

/// One line, stretched over its area; adds nothing when there is nothing to lay or no room.
fn lay_line(out: &mut Vec<u8>, line: &Words, alphabet: &Alphabet) {
    let letters = line.text.chars().filter_map(|letter| alphabet.find(one_line(letter)));
    let letters: Vec<CodedLetter> = letters.collect();
    let (width, height) = (line.area.width(), line.area.height());
    if letters.is_empty() || !(width >= SHORTEST_MM && height >= SHORTEST_MM) {
        return;
    }
    let angle = line.turned_deg.to_radians();
    let (sin, cos) = libm::sincos(angle);
    let (along, down) = (Vec2::new(cos, sin), Vec2::new(-sin, cos));
    let start = line.area.center() - along * (width / 2.0) + down * (height / 2.0);
    let thousandths: i64 = letters.iter().map(|letter| letter.width).sum();
    #[allow(clippy::cast_precision_loss, reason = "a line of 2^40 letters does not exist")]
    let natural = height * thousandths as f64 / 1000.0;
    let [cos, sin, up] = [cos, sin, -cos].map(|value| fixed(value, 6));
    let (x, y) = (ART.units(start.x), ART.units(start.y));
    let stretch = fixed(100.0 * width / natural, 2);
    put(out, format_args!("{stretch} Tz {cos} {sin} {sin} {up} {x} {y} Tm\n"));
    let size = fixed(height * ART.per_mm, 2);
    for run in letters.chunk_by(|a, b| a.font == b.font) {
        let font = run.first().map_or(0, |first| first.font);
        put(out, format_args!("/{} {size} Tf <", font_name(font)));
        run.iter().for_each(|letter| out.extend_from_slice(&hexadecimal(letter.code)));
        out.extend_from_slice(b"> Tj\n");
    }
}

/// A byte in two figures: as `{:02x}` writes it, ten times as fast.
fn hexadecimal(byte: u8) -> [u8; 2] {
    [byte >> 4, byte & 0xf]
        .map(|figure| if figure < 10 { b'0' + figure } else { b'a' + figure - 10 })
}

fn font_name(font: usize) -> String {
    format!("Words{font}")
}

/// Adds the alphabet's fonts to a document, and returns their resource dictionary.
///
/// # Errors
/// [`Error::Write`] when packing fails.
pub(super) fn add_fonts(document: &mut Document, alphabet: &Alphabet) -> Result<Dictionary, Error> {
    let mut resources = Dictionary::new();
    if alphabet.letters.is_empty() {
        return Ok(resources);
    }
    // d1: the width, then the box the letter's (missing) ink lies in.
    let mut empty = |width: i64| {
        let content = format!("{width} 0 0 0 {width} 1000 d1").into_bytes();
        document.add_object(Stream::new(Dictionary::new(), content))
    };
    let (letter, space) = (empty(LETTER_WIDTH), empty(SPACE_WIDTH));
    let mut packing = Packing::new();
    for (at, letters) in alphabet.letters.chunks(LETTERS_A_FONT).enumerate() {
        let meaning = packing.packed(meaning(letters).as_bytes())?;
        let meaning = Stream::new(dictionary! { "Filter" => "FlateDecode" }, meaning);
        let meaning = document.add_object(meaning);
        let font = document.add_object(font(letters, letter, space, meaning));
        resources.set(font_name(at), Object::Reference(font));
    }
    Ok(resources)
}

/// A font of empty letters: `letter` is the shape of all but the space.
fn font(letters: &[char], letter: ObjectId, space: ObjectId, meaning: ObjectId) -> Dictionary {
    // Code 0 is not used for words. Readers that guess a Type 3 font's true size from its "m" find one there.
    let mut names = vec![0.into(), "m".into()];
    let mut shapes = dictionary! { "m" => letter };
    let mut widths = vec![M_WIDTH.into()];
    for character in letters {
        let name = format!("u{:04X}", u32::from(*character));
        let shape = if *character == ' ' { space } else { letter };
        shapes.set(name.clone(), Object::Reference(shape));
        names.push(Object::Name(name.into_bytes()));
        widths.push(width_of(*character).into());
    }
    dictionary! {
        "Type" => "Font",
        "Subtype" => "Type3",
        "FontBBox" => vec![0.into(), 0.into(), LETTER_WIDTH.into(), 1000.into()],
        "FontMatrix" => vec![
            Object::Real(0.001), 0.into(), 0.into(), Object::Real(0.001), 0.into(), 0.into(),
        ],
        "CharProcs" => shapes,
        "Encoding" => dictionary! { "Type" => "Encoding", "Differences" => names },
        "FirstChar" => 0,
        "LastChar" => i64::from(code(letters.len() - 1)),
        "Widths" => widths,
        "Resources" => Dictionary::new(),
        "ToUnicode" => meaning,
    }
}

/// The CMap that says which character a code is (ISO 32000-1 9.10.3): blocks of at most 100 lines.
fn meaning(letters: &[char]) -> String {
    let mut map = String::from(
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
         /CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n\
         /CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n\
         1 begincodespacerange\n<00> <ff>\nendcodespacerange\n",
    );
    let coded: Vec<(u8, &char)> = (0..).map(code).zip(letters).collect();
    for block in coded.chunks(100) {
        let mut lines = String::new();
        for (code, character) in block {
            let _ = write!(lines, "<{code:02x}> <");
            for unit in character.encode_utf16(&mut [0; 2]) {
                let _ = write!(lines, "{unit:04x}");
            }
            lines.push_str(">\n");
        }
        let _ = write!(map, "{} beginbfchar\n{lines}endbfchar\n", block.len());
    }
    map.push_str("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
    map
}
