//! Findings about the letters of a text: missing, borrowed from another face, easily confused.

use super::{
    coverage::{Coverage, FaceSource, is_of_word},
    line::PlacedLine,
};
use crate::{
    finding::{Finding, Findings},
    font::{Face, Faces},
    spec::Text,
};

/// Gathers remarks line by line.
pub(super) struct Remarks<'a> {
    faces: &'a Faces,
    face: &'a Face,
    text: &'a Text,
    missing: Vec<char>,
    mixed: Vec<String>,
    /// Letters from the fallback in a word that has letters of the asked face too.
    among: Vec<char>,
    /// Letters from the fallback in words of their own.
    words: Vec<char>,
    signs: Vec<char>,
}

impl<'a> Remarks<'a> {
    pub(super) fn new(faces: &'a Faces, face: &'a Face, text: &'a Text) -> Remarks<'a> {
        Remarks {
            faces,
            face,
            text,
            missing: Vec::new(),
            mixed: Vec::new(),
            among: Vec::new(),
            words: Vec::new(),
            signs: Vec::new(),
        }
    }

    /// Notes a line with letters of both directions.
    pub(super) fn mixed(&mut self, line: &str) {
        self.mixed.push(line.to_owned());
    }

    /// Notes what is missing from a line and what it borrows.
    pub(super) fn line(&mut self, coverage: &Coverage<'_>, placed: &PlacedLine<'_>) {
        for letter in coverage.missing.iter().chain(&placed.hollow) {
            once(&mut self.missing, *letter);
        }
        if coverage.runs.iter().all(|run| run.source == FaceSource::Asked) {
            return;
        }
        let letters: Vec<(char, FaceSource)> = coverage
            .runs
            .iter()
            .flat_map(|run| run.text.chars().map(move |letter| (letter, run.source)))
            .collect();
        for word in letters.chunk_by(|a, b| is_of_word(a.0) == is_of_word(b.0)) {
            let own = word.iter().any(|(_, source)| *source == FaceSource::Asked);
            for (letter, source) in word {
                if *source == FaceSource::Asked || letter.is_whitespace() {
                    continue;
                }
                let list = match (is_of_word(*letter), own) {
                    (false, _) => &mut self.signs,
                    (true, true) => &mut self.among,
                    (true, false) => &mut self.words,
                };
                once(list, *letter);
            }
        }
    }

    /// Reports all that was noted.
    pub(super) fn report(self, findings: &mut Findings) {
        let (words, face, place) = (in_quotes(self.text), self.face.name(), self.text.place);
        let mut report =
            |finding: Finding, help: String| findings.push(finding.at(place).help(help));
        if !self.missing.is_empty() {
            let message = format!("{words}: the face {face} has no {}", named(&self.missing));
            report(Finding::error("missing-glyph", message), self.who_has(&self.missing));
        }
        for line in &self.mixed {
            let message = format!(
                "\"{line}\" mixes letters that run right to left with letters or figures that do not"
            );
            let help = "put each direction on a line of its own".to_owned();
            report(Finding::error("mixed-direction", message), help);
        }
        let borrowed = |signs: &[char]| {
            format!("{words}: {}: taken from another face, as {face} lacks it", named(signs))
        };
        if !self.among.is_empty() {
            let finding = Finding::warning("fallback-letter", borrowed(&self.among));
            report(finding, self.who_has(&self.among));
        }
        if !self.words.is_empty() {
            let message =
                format!("{words}: words that {face} has no letters for are in another face");
            report(Finding::note("fallback-word", message), self.who_has(&self.words));
        }
        if !self.signs.is_empty() {
            let finding = Finding::note("fallback-symbol", borrowed(&self.signs));
            report(finding, "look at its weight in the proof".to_owned());
        }
        for (a, b) in self.confusable() {
            let message = format!("{words}: {a} and {b} look alike in the face {face}");
            let help = "use a face that tells them apart, such as wire or label".to_owned();
            report(Finding::warning("confusable-letters", message), help);
        }
    }

    /// Which bundled faces have all these characters.
    fn who_has(&self, letters: &[char]) -> String {
        let have = |face: &&Face| letters.iter().all(|letter| face.has(*letter));
        let faces = self.faces.roles().filter_map(|id| self.faces.face(id)).filter(have);
        let names: Vec<&str> = faces.map(Face::name).collect();
        match (names.as_slice(), letters.len()) {
            ([], _) => {
                "no bundled face has it; name a font file that does, or write it another way".into()
            }
            (names, 1) => format!("bundled faces that have it: {}", names.join(", ")),
            (names, _) => format!("bundled faces that have them all: {}", names.join(", ")),
        }
    }

    /// The pairs of letters and figures that look alike, in a text that mixes letters and figures.
    fn confusable(&self) -> Vec<(char, char)> {
        let letters = || self.text.lines.iter().flat_map(|line| line.chars());
        if self.face.alike().is_empty()
            || !letters().any(|letter| letter.is_ascii_digit())
            || !letters().any(char::is_alphabetic)
        {
            return Vec::new();
        }
        let has = |wanted: char| letters().any(|letter| letter == wanted);
        let pairs = self.face.alike().iter().copied();
        pairs.filter(|(a, b)| has(*a) && has(*b)).collect()
    }
}

/// The text as messages quote it.
pub(super) fn in_quotes(text: &Text) -> String {
    format!("\"{}\"", text.lines.join(" / "))
}

fn once(list: &mut Vec<char>, letter: char) {
    if !list.contains(&letter) {
        list.push(letter);
    }
}

/// `Ω (U+03A9), ż (U+017C)`; the first eight.
fn named(letters: &[char]) -> String {
    let shown = letters.iter().take(8);
    let mut names: Vec<String> =
        shown.map(|letter| format!("{letter} (U+{:04X})", u32::from(*letter))).collect();
    if letters.len() > 8 {
        names.push(format!("and {} more", letters.len() - 8));
    }
    names.join(", ")
}
