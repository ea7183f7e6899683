//! What is to be said about the letters of a text: missing, borrowed from another face, easily confused.

use super::{
    coverage::{Covered, Source, is_of_word},
    line::Row,
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
    pub(super) fn line(&mut self, covered: &Covered<'_>, row: &Row<'_>) {
        for letter in covered.missing.iter().chain(&row.hollow) {
            once(&mut self.missing, *letter);
        }
        if covered.runs.iter().all(|run| run.source == Source::Asked) {
            return;
        }
        let letters: Vec<(char, Source)> = covered
            .runs
            .iter()
            .flat_map(|run| run.text.chars().map(move |letter| (letter, run.source)))
            .collect();
        for word in letters.chunk_by(|a, b| is_of_word(a.0) == is_of_word(b.0)) {
            let own = word.iter().any(|(_, source)| *source == Source::Asked);
            for (letter, source) in word {
                if *source == Source::Asked || letter.is_whitespace() {
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

    /// Puts it all into words.
    pub(super) fn report(self, findings: &mut Findings) {
        let words = words(self.text);
        let face = self.face.name();
        if !self.missing.is_empty() {
            let signs = named(&self.missing);
            let message = format!("{words}: the face {face} has no {signs}");
            let finding =
                Finding::error("missing-glyph", message).help(self.who_has(&self.missing));
            findings.push(finding.at(self.text.place));
        }
        for line in &self.mixed {
            let message = format!(
                "\"{line}\" mixes letters that run right to left with letters or figures that do not"
            );
            let finding = Finding::error("mixed-direction", message);
            findings
                .push(finding.at(self.text.place).help("put each direction on a line of its own"));
        }
        if !self.among.is_empty() {
            let signs = named(&self.among);
            let message = format!("{words}: {signs}: taken from another face, as {face} lacks it");
            let finding = Finding::warning("fallback-letter", message);
            findings.push(finding.at(self.text.place).help(self.who_has(&self.among)));
        }
        if !self.words.is_empty() {
            let message =
                format!("{words}: words that {face} has no letters for are in another face");
            let finding = Finding::note("fallback-word", message);
            findings.push(finding.at(self.text.place).help(self.who_has(&self.words)));
        }
        if !self.signs.is_empty() {
            let signs = named(&self.signs);
            let message = format!("{words}: {signs}: taken from another face, as {face} lacks it");
            let finding = Finding::note("fallback-symbol", message);
            findings.push(finding.at(self.text.place).help("look at its weight in the proof"));
        }
        self.confusable(findings);
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

    /// Letters and figures that look alike, in a text that mixes them.
    fn confusable(&self, findings: &mut Findings) {
        let letters = || self.text.lines.iter().flat_map(|line| line.chars());
        if self.face.alike().is_empty()
            || !letters().any(|letter| letter.is_ascii_digit())
            || !letters().any(char::is_alphabetic)
        {
            return;
        }
        let both =
            |(a, b): &&(char, char)| letters().any(|l| l == *a) && letters().any(|l| l == *b);
        for (a, b) in self.face.alike().iter().filter(both) {
            let (words, face) = (words(self.text), self.face.name());
            let message = format!("{words}: {a} and {b} look alike in the face {face}");
            let help = "use a face that tells them apart, such as wire or label";
            findings.push(
                Finding::warning("confusable-letters", message).at(self.text.place).help(help),
            );
        }
    }
}

/// The text as messages quote it.
pub(super) fn words(text: &Text) -> String {
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
