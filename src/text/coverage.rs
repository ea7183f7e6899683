//! Which face shows which letter, so that no letter is ever dropped or shown as an empty box.

use crate::font::{Face, Faces};
use std::borrow::Cow;
use unicode_normalization::{UnicodeNormalization as _, char::is_combining_mark, is_nfc};
use unicode_segmentation::UnicodeSegmentation as _;

/// Where a letter comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum FaceSource {
    /// The face that was asked for.
    Asked,
    /// The bundled face that stands in for letters.
    Letters,
    /// The bundled face that stands in for signs.
    Signs,
}

/// Letters in a row that one face shows.
#[derive(Debug)]
pub(super) struct FaceRun<'f> {
    pub(super) face: &'f Face,
    pub(super) source: FaceSource,
    /// The letters as that face has them.
    pub(super) text: String,
}

/// A line's letters, each with the face that shows it.
#[derive(Debug, Default)]
pub(super) struct Coverage<'f> {
    /// In reading order.
    pub(super) runs: Vec<FaceRun<'f>>,
    /// Characters no face has, once each.
    pub(super) missing: Vec<char>,
}

/// Splits a line by the faces that have its letters: the one asked for, then the two that stand in.
///
/// The line is brought to composed form first (NFC, Unicode Annex 15), so that an É typed as one
/// character or as two looks the same.
pub(super) fn cover<'f>(faces: &'f Faces, asked: &'f Face, line: &str) -> Coverage<'f> {
    let line: Cow<'_, str> =
        if is_nfc(line) { line.into() } else { line.nfc().collect::<String>().into() };
    let mut coverage = Coverage::default();
    let stand_ins = [(FaceSource::Letters, faces.fallback()), (FaceSource::Signs, faces.symbols())];
    let show_with = |source, face, grapheme| Some((source, face, shown(face, grapheme)?));
    for grapheme in line.graphemes(true) {
        let mut stand_ins = stand_ins.into_iter();
        let found = show_with(FaceSource::Asked, asked, grapheme).or_else(|| {
            stand_ins.find_map(|(source, id)| show_with(source, faces.face(id)?, grapheme))
        });
        match found {
            Some((source, face, text)) => coverage.add(source, face, &text),
            None => coverage.miss(asked, grapheme),
        }
    }
    coverage
}

impl<'f> Coverage<'f> {
    fn add(&mut self, source: FaceSource, face: &'f Face, text: &str) {
        match self.runs.last_mut() {
            Some(run) if run.source == source => {
                run.text.push_str(text);
            }
            _ => self.runs.push(FaceRun { face, source, text: text.to_owned() }),
        }
    }

    fn miss(&mut self, asked: &Face, grapheme: &str) {
        for character in grapheme.chars() {
            if !is_shown(asked, character) && !self.missing.contains(&character) {
                self.missing.push(character);
            }
        }
    }
}

/// A letter as a face can show it, or `None`.
fn shown<'t>(face: &Face, grapheme: &'t str) -> Option<Cow<'t, str>> {
    let all = |text: &str| text.chars().all(|character| is_shown(face, character));
    if all(grapheme) {
        return Some(grapheme.into());
    }
    let twin: String =
        grapheme.chars().map(|character| twin(character).unwrap_or(character)).collect();
    if all(&twin) {
        return Some(twin.into());
    }
    // The shaper puts accents on letters, but only what is apart can be put on.
    let apart: String = grapheme.nfd().collect();
    all(&apart).then(|| apart.into())
}

/// Whether a character needs no outline or has one.
fn is_shown(face: &Face, character: char) -> bool {
    character.is_whitespace() || is_ignorable(character) || face.has(character)
}

/// Characters that Unicode encodes twice for the same sign.
///
/// Unicode Standard, UnicodeData.txt: U+00B5 decomposes to U+03BC, U+2126 to U+03A9, U+212B to U+00C5.
fn twin(character: char) -> Option<char> {
    match character {
        '\u{B5}' => Some('\u{3BC}'),
        '\u{3BC}' => Some('\u{B5}'),
        '\u{3A9}' => Some('\u{2126}'),
        '\u{2126}' => Some('\u{3A9}'),
        '\u{212B}' => Some('\u{C5}'),
        _ => None,
    }
}

/// Characters that are never drawn: joiners, marks of direction, variation selectors.
///
/// From Unicode's `Default_Ignorable_Code_Point`; from memory.
pub(super) fn is_ignorable(character: char) -> bool {
    matches!(character,
        '\u{AD}' | '\u{34F}' | '\u{61C}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}' | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}' | '\u{E0000}'..='\u{E0FFF}')
}

/// Whether a character belongs to a word.
pub(super) fn is_of_word(character: char) -> bool {
    character.is_alphanumeric() || is_combining_mark(character)
}
