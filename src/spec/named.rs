//! Values that are names: colours, fonts and words, and the name that was meant by one nobody knows.

use super::reader::{Given, Reader};
use crate::colour::Colour;
use crate::finding::{self, Place, quoted};
use crate::spec::element::Paint;
use crate::spec::fill;
use crate::yaml::{OneOrList, Scalar, Tree};
use std::rc::Rc;

/// The most times a name that was meant is looked for: it takes time for each pair of names.
const MOST_SUGGESTED: usize = 200;

impl Reader<'_, '_> {
    /// The nearest of the names to one that is unknown, if any is near enough to be meant.
    pub(super) fn nearest<'n>(
        &self,
        name: &str,
        known: impl Iterator<Item = &'n str>,
    ) -> Option<&'n str> {
        self.suggested.set(self.suggested.get() + 1);
        (self.suggested.get() <= MOST_SUGGESTED).then(|| finding::nearest(name, known)).flatten()
    }

    /// What to do about a name that is unknown: take the nearest of the names, or else this.
    pub(super) fn did_you_mean<'n>(
        &self,
        name: &str,
        known: impl Iterator<Item = &'n str>,
        otherwise: impl Into<String>,
    ) -> String {
        match self.nearest(name, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => otherwise.into(),
        }
    }

    /// A colour or `clear`.
    pub(super) fn paint<'s>(&mut self, scalar: impl Given<'s>) -> Option<Paint> {
        let scalar = scalar.into()?;
        match scalar.trimmed() {
            "clear" => Some(Paint::Clear),
            _ => self.colour(scalar).map(Paint::Ink),
        }
    }

    /// A colour or `clear`; black where nothing is said, and where that is wrong.
    pub(super) fn paint_or_black(&mut self, scalar: &Option<Scalar>) -> Paint {
        self.paint(scalar).unwrap_or(Paint::BLACK)
    }

    /// A colour by name or by value.
    pub(super) fn colour<'s>(&mut self, scalar: impl Given<'s>) -> Option<Colour> {
        let scalar = scalar.into()?;
        let text = scalar.trimmed();
        if let Some(colour) = self.colours.get(text) {
            return Some(*colour);
        }
        if text.starts_with('#') {
            let colour = Colour::parse(text);
            if colour.is_none() {
                let message = format!("{} is not a colour", quoted(text));
                let help = "write # and three or six hexadecimal digits, quoted: \"#ad2b24\"";
                self.wrong("bad-colour", scalar.place, message, help);
            }
            return colour;
        }
        let known = self.colours.keys().map(String::as_str).chain(["clear"]);
        let otherwise = "add it under `colours:` or write its value, quoted: \"#ad2b24\"";
        let help = self.did_you_mean(text, known, otherwise);
        let message = format!("no colour is called {}", quoted(text));
        self.wrong("unknown-colour", scalar.place, message, help);
        None
    }

    /// Colours taken in turn, at least one; black where nothing is said, and where that is wrong.
    pub(super) fn paints(&mut self, list: &Option<OneOrList>) -> Vec<Paint> {
        let paints: Vec<_> = OneOrList::all(list).iter().map(|item| self.paint(item)).collect();
        let all = paints.into_iter().collect::<Option<Vec<_>>>();
        all.filter(|paints| !paints.is_empty()).unwrap_or_else(|| vec![Paint::BLACK])
    }

    /// The name of a font that is given, or the usual one.
    pub(super) fn font_or(&mut self, scalar: &Option<Scalar>, usual: &str) -> String {
        scalar.as_ref().map_or_else(|| usual.to_owned(), |scalar| self.font(scalar))
    }

    /// The name of a font that `Faces` knows; the plain label face when it does not.
    pub(super) fn font(&mut self, scalar: &Scalar) -> String {
        let name = scalar.trimmed();
        let known = self.fonts.get(name).copied();
        let known = known.unwrap_or_else(|| self.context.faces.find(name).is_some());
        self.fonts.insert(name.to_owned(), known);
        if known {
            return name.to_owned();
        }
        let names = self.context.faces.names();
        let otherwise = "name a bundled role such as `label`, or a file under `fonts:`";
        let help = self.did_you_mean(name, names.iter().map(String::as_str), otherwise);
        let message = format!("no font is called {}", quoted(name));
        self.wrong("unknown-font", scalar.place, message, help);
        "label".into()
    }

    /// A label or style with texts cut that are too long, which is reported, so that many labels do not carry them
    /// along.
    pub(super) fn cut_too_long(&mut self, tree: &Rc<Tree>) -> Rc<Tree> {
        Tree::mapped(tree, &mut |text, place| self.cut(text, place))
    }

    fn cut(&mut self, text: &str, place: Place) -> Option<Scalar> {
        (text.len() > fill::LONGEST).then(|| {
            let scalar = Scalar { text: text.to_owned(), place };
            self.unfilled(&scalar, &fill::Unfilled::TooLong);
            let short = text.get(..text.floor_char_boundary(100)).unwrap_or_default();
            Scalar { text: short.to_owned(), place }
        })
    }

    /// A label with the job's words filled in; texts in which that cannot be done stay as typed.
    pub(super) fn with_words(&mut self, tree: &Rc<Tree>) -> Rc<Tree> {
        Tree::mapped(tree, &mut |text, place| self.filled(text, place))
    }

    /// A text with the job's words filled in, where that changes it.
    pub(super) fn filled(&mut self, text: &str, place: Place) -> Option<Scalar> {
        let cut = self.cut(text, place);
        let text = cut.as_ref().map_or(text, |cut| cut.text.as_str());
        if !fill::has_braces(text) {
            return cut;
        }
        match fill::words(text, |name| self.words.get(name).map(String::as_str)) {
            Ok(filled) => Some(Scalar { text: filled, place }),
            Err(unfilled) => {
                self.unfilled(&Scalar { text: text.to_owned(), place }, &unfilled);
                cut
            }
        }
    }

    /// Reports why braces could not be filled in.
    pub(super) fn unfilled(&mut self, scalar: &Scalar, unfilled: &fill::Unfilled) {
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
        self.wrong(code, scalar.place, message, help);
    }
}
