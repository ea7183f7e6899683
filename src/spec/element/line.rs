//! Straight lines and stacks of stripes.

use super::{AnyElement, Around, Element, Keys, Paint, Part, Stroke, needed, placed};
use crate::finding::Place;
use crate::spec::reader::{Least, Reader};
use crate::yaml::{OneOrList, Scalar};
use schemars::JsonSchema;
use serde::Deserialize;

/// The most stripes or chevrons in one part.
pub(super) const MOST_IN_TURN: u32 = 1000;

/// Slant of a line's ends when it does not say, degrees from square.
const USUAL_SLANT: f64 = 45.0;

/// Length of an arrow head in stripe widths: common practice, no source.
const USUAL_HEAD: f64 = 3.0;

/// A straight line or a stack of stripes, level before it is turned.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(in crate::spec) struct LineKeys {
    /// From end to end.
    length: Option<Scalar>,
    /// Width of each stripe.
    width: Option<Scalar>,
    /// How many stripes, one under another.
    count: Option<Scalar>,
    /// From middle to middle of neighbouring stripes.
    pitch: Option<Scalar>,
    /// `square`, `round`, `arrow` or `slant`: one for both ends, or [left, right].
    ends: Option<OneOrList>,
    /// Slant of the ends, degrees from square, leaning right when positive.
    slant: Option<Scalar>,
    /// Length of an arrow head in stripe widths.
    head: Option<Scalar>,
    /// A colour or `clear`; a list is taken in turn by the stripes.
    paint: Option<OneOrList>,
    /// Where its middle is.
    at: Option<OneOrList>,
    /// Degrees clockwise.
    turned: Option<Scalar>,
}

/// A straight line or stripe, lying level before it is turned.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Length from end to end, mm.
    pub length: f64,
    /// Width of each stripe, mm.
    pub width: f64,
    /// How many stripes, one under another.
    pub count: u32,
    /// From middle to middle of neighbouring stripes, mm.
    pub pitch: f64,
    /// How the left and the right end look.
    pub ends: [LineEnd; 2],
    /// Ink or clear, of each stripe in turn.
    pub paints: Vec<Paint>,
}

/// How the end of a line looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LineEnd {
    /// Cut off square.
    Square,
    /// A half circle.
    Round,
    /// An arrow head, as long as its width times this.
    Arrow(f64),
    /// Cut off at a slant, degrees from square.
    Slant(f64),
}

impl Line {
    /// One stripe with square ends, mm.
    #[must_use]
    pub fn plain(length: f64, width: f64, paint: Paint) -> Line {
        let ends = [LineEnd::Square; 2];
        Line { length, width, count: 1, pitch: 2.0 * width, ends, paints: vec![paint] }
    }
}

impl AnyElement for Line {
    fn strokes(&self) -> Vec<Stroke> {
        let stroke = |paint: &Paint| Stroke { width: self.width, paint: *paint, word: "line" };
        self.paints.iter().map(stroke).collect()
    }

    fn widen(&mut self, width: &dyn Fn(f64, Paint) -> f64) {
        self.width = self.paints.iter().fold(self.width, |wide, paint| width(wide, *paint));
    }

    fn paints(&self) -> Vec<Paint> {
        self.paints.clone()
    }

    fn line_words(&self) -> &'static str {
        "the line"
    }
}

impl Keys for LineKeys {
    fn part(&self, place: Place, _: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        let length = needed(&self.length, "line", "length", place, reader);
        let width = needed(&self.width, "line", "width", place, reader);
        let count = reader.count(&self.count, 1..=MOST_IN_TURN).unwrap_or(1);
        let pitch = reader.length(&self.pitch, Least::Something);
        let paints = reader.paints(&self.paint);
        let ends = self.ends(reader);
        let width = width?;
        let pitch = pitch.unwrap_or(2.0 * width);
        let line = Line { length: length?, width, count, pitch, ends, paints };
        Some(placed(Element::Line(line), place, &self.at, &self.turned, reader))
    }
}

impl LineKeys {
    fn ends(&self, reader: &mut Reader<'_, '_>) -> [LineEnd; 2] {
        let slant = reader.degrees(&self.slant, -75.0..=75.0).unwrap_or(USUAL_SLANT);
        let head = reader.number(&self.head, 0.5..=100.0).unwrap_or(USUAL_HEAD);
        let words = [
            ("square", LineEnd::Square),
            ("round", LineEnd::Round),
            ("arrow", LineEnd::Arrow(head)),
            ("slant", LineEnd::Slant(slant)),
        ];
        let items = self.ends.as_ref().map(|list| list.items.as_slice()).unwrap_or_default();
        let mut end = |item: &Scalar| reader.choice(item, &words).unwrap_or(LineEnd::Square);
        match items {
            [] if self.slant.is_some() => [LineEnd::Slant(slant); 2],
            [] => [LineEnd::Square; 2],
            [both] => [end(both); 2],
            [left, right] => [end(left), end(right)],
            [_, _, more, ..] => {
                let message = format!("{} ends of a line", items.len());
                let help = "write one for both, or [left, right]";
                reader.wrong("bad-pair", more.place, message, help);
                [LineEnd::Square; 2]
            }
        }
    }
}
