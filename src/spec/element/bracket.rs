//! The bracket over a group of controls.

use super::text::{Text, TextKeys};
use super::{AnyElement, Around, Element, Keys, Paint, Part, Stroke, needed, placed};
use crate::finding::Place;
use crate::spec::reader::{Least, Reader};
use crate::yaml::{OneOrList, Scalar};
use schemars::JsonSchema;
use serde::Deserialize;

/// Width of its line when not said, mm, and length of its bent ends (common practice, no source).
pub(in crate::spec) const USUAL_WIDTH_MM: f64 = 0.35;
const USUAL_ENDS_MM: f64 = 1.5;

/// A bracket: a line with both ends bent, its title in the middle.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(in crate::spec) struct BracketKeys {
    /// From end to end.
    length: Option<Scalar>,
    /// Length of the bent ends.
    ends: Option<Scalar>,
    /// `down` or `up`: which way the ends are bent.
    bent: Option<Scalar>,
    /// Width of the line.
    width: Option<Scalar>,
    /// A colour, or `clear`.
    paint: Option<Scalar>,
    /// The title that interrupts the line.
    title: Option<TextKeys>,
    /// Where the middle of the line is.
    at: Option<OneOrList>,
    /// Degrees clockwise.
    turned: Option<Scalar>,
}

/// A level line with both ends bent, its title in the middle of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Bracket {
    /// From end to end, mm.
    pub length: f64,
    /// Length of the bent ends, mm: down when positive, up when negative.
    pub ends: f64,
    /// Width of the line, mm.
    pub width: f64,
    /// Ink or clear, of the line.
    pub paint: Paint,
    /// What interrupts the line.
    pub title: Option<Text>,
}

impl AnyElement for Bracket {
    fn strokes(&self) -> Vec<Stroke> {
        vec![Stroke { width: self.width, paint: self.paint, word: "bracket" }]
    }

    fn widen(&mut self, width: &dyn Fn(f64, Paint) -> f64) {
        self.width = width(self.width, self.paint);
    }

    fn paints(&self) -> Vec<Paint> {
        let title = self.title.as_ref().map(|title| title.paint);
        [self.paint].into_iter().chain(title).collect()
    }

    fn line_words(&self) -> &'static str {
        "the bracket"
    }
}

impl Keys for BracketKeys {
    fn part(&self, place: Place, around: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        let length = needed(&self.length, "bracket", "length", place, reader);
        let width = reader.length(&self.width, Least::Something).unwrap_or(USUAL_WIDTH_MM);
        let ends = reader.length(&self.ends, Least::Nought).unwrap_or(USUAL_ENDS_MM);
        let up = reader.choice(&self.bent, &[("down", false), ("up", true)]);
        let paint = reader.paint_or_black(&self.paint);
        let title = self.title.as_ref().and_then(|title| title.part(place, around, reader));
        let title = title.and_then(|part| match part.element {
            Element::Text(text) => Some(text),
            _ => None,
        });
        let ends = if up == Some(true) { -ends } else { ends };
        let bracket = Bracket { length: length?, ends, width, paint, title };
        let element = Element::Bracket(Box::new(bracket));
        Some(placed(element, place, &self.at, &self.turned, reader))
    }
}
