//! Values that are names: colours, fonts and words, and the name that was meant by one nobody knows.

use super::reader::{Reader, quoted};
use crate::colour::Colour;
use crate::spec::typed::{Many, Typed};
use crate::spec::{Paint, fill};

/// The most names looked through for one that was meant, and the most times that is done: it takes time
/// for each pair of names.
const MOST_NAMES: usize = 500;
const MOST_SUGGESTED: usize = 200;

/// How like two names must be (Jaro-Winkler, 0 to 1) for one to be suggested for the other: lower
/// suggests what nobody meant, higher misses two swapped letters in a short name.
const LIKE: f64 = 0.75;

/// The longest name worth looking for another like it, bytes.
const LONGEST_NAME: usize = 64;

impl Reader<'_, '_> {
    /// The nearest of the names to one that is unknown, if any is near enough to be meant.
    pub(super) fn nearest<'n>(
        &self,
        name: &str,
        known: impl Iterator<Item = &'n str>,
    ) -> Option<&'n str> {
        self.suggested.set(self.suggested.get() + 1);
        if self.suggested.get() > MOST_SUGGESTED || name.len() > LONGEST_NAME {
            return None;
        }
        let lower = name.to_lowercase();
        known
            .filter(|other| other.len() <= LONGEST_NAME)
            .take(MOST_NAMES)
            .map(|other| (strsim::jaro_winkler(&lower, &other.to_lowercase()), other))
            .filter(|(likeness, _)| *likeness > LIKE)
            .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(a.1)))
            .map(|(_, other)| other)
    }

    /// A colour or `clear`.
    pub(super) fn paint(&mut self, typed: Option<&Typed>) -> Option<Paint> {
        let typed = typed?;
        match typed.text.trim() {
            "clear" => Some(Paint::Clear),
            _ => self.colour(Some(typed)).map(Paint::Ink),
        }
    }

    /// A colour by name or by value.
    pub(super) fn colour(&mut self, typed: Option<&Typed>) -> Option<Colour> {
        let typed = typed?;
        let text = typed.text.trim();
        if let Some(colour) = self.colours.get(text) {
            return Some(*colour);
        }
        if text.starts_with('#') {
            let colour = Colour::parse(text);
            if colour.is_none() {
                let message = format!("{} is not a colour", quoted(text));
                let help = "write # and three or six hexadecimal digits, quoted: \"#ad2b24\"";
                self.wrong("bad-colour", typed.place, message, help);
            }
            return colour;
        }
        let near = self.nearest(text, self.colours.keys().map(String::as_str).chain(["clear"]));
        let help = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => "add it under `colours:` or write its value, quoted: \"#ad2b24\"".into(),
        };
        self.wrong(
            "unknown-colour",
            typed.place,
            format!("no colour is called {}", quoted(text)),
            help,
        );
        None
    }

    /// Colours taken in turn; at least one.
    pub(super) fn paints(&mut self, many: Option<&Many>) -> Option<Vec<Paint>> {
        let many = many?;
        let paints: Vec<_> = many.items.iter().map(|item| self.paint(Some(item))).collect();
        paints.into_iter().collect::<Option<Vec<_>>>().filter(|paints| !paints.is_empty())
    }

    /// The name of a font that `Faces` knows; the plain label face when it does not.
    pub(super) fn font(&mut self, typed: &Typed) -> String {
        let name = typed.text.trim();
        let known = match self.fonts.get(name) {
            Some(known) => *known,
            None => {
                let known = self.desk.faces.find(name).is_some();
                self.fonts.insert(name.to_owned(), known);
                known
            }
        };
        if known {
            return name.to_owned();
        }
        let names = self.desk.faces.names();
        let help = match self.nearest(name, names.iter().map(String::as_str)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "name a bundled role such as `label`, or a file under `fonts:`".into(),
        };
        self.wrong(
            "unknown-font",
            typed.place,
            format!("no font is called {}", quoted(name)),
            help,
        );
        "label".into()
    }

    /// Tells of a text that is too long and cuts it, so that many labels do not carry it along.
    pub(super) fn cut_too_long(&mut self, typed: &mut Typed) {
        if typed.text.len() > fill::LONGEST {
            self.unfilled(typed, &fill::Unfilled::TooLong);
            typed.text.truncate(typed.text.floor_char_boundary(100));
        }
    }

    /// Fills the job's words into a scalar; leaves it as typed when that cannot be done.
    pub(super) fn fill_words(&mut self, typed: &mut Typed) {
        self.cut_too_long(typed);
        if !fill::has_braces(&typed.text) {
            return;
        }
        match fill::words(&typed.text, |name| self.words.get(name).map(String::as_str)) {
            Ok(filled) => typed.text = filled,
            Err(unfilled) => self.unfilled(typed, &unfilled),
        }
    }

    /// Tells why braces could not be filled in.
    pub(super) fn unfilled(&mut self, typed: &Typed, unfilled: &fill::Unfilled) {
        let (code, message, help) = match unfilled {
            fill::Unfilled::Unknown(name) => {
                let known = self.columns.iter().chain(self.words.keys());
                let near = self.nearest(name, known.map(String::as_str));
                let what = if self.columns.is_empty() { "word" } else { "column or word" };
                let help = match near {
                    Some(near) => format!("did you mean `{{{near}}}`?"),
                    None => "add it under `words:`, or write {{ and }} for braces".into(),
                };
                ("unknown-word", format!("no {what} is called {}", quoted(name)), help)
            }
            fill::Unfilled::LoneBrace(brace) => {
                let message = format!("`{brace}` stands alone");
                ("lone-brace", message, format!("write {brace}{brace} for a brace in the text"))
            }
            fill::Unfilled::TooLong => {
                let message = format!("the text is longer than {} bytes", fill::LONGEST);
                ("too-long", message, "make it shorter".to_owned())
            }
        };
        self.wrong(code, typed.place, message, help);
    }
}
