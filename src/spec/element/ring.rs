//! Discs and rings.

use super::{AnyElement, Around, Element, Keys, Paint, Part, Stroke, needed, placed};
use crate::finding::Place;
use crate::spec::reader::Reader;
use crate::yaml::{OneOrList, Scalar};
use schemars::JsonSchema;
use serde::Deserialize;

/// A ring.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(in crate::spec) struct RingKeys {
    /// Outer diameter.
    outer: Option<Scalar>,
    /// Inner diameter.
    inner: Option<Scalar>,
    /// A colour, or `clear`.
    paint: Option<Scalar>,
    /// Where its middle is.
    at: Option<OneOrList>,
}

/// A disc.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(in crate::spec) struct DiscKeys {
    /// Its diameter.
    diameter: Option<Scalar>,
    /// A colour, or `clear`.
    paint: Option<Scalar>,
    /// Where its middle is.
    at: Option<OneOrList>,
}

/// A disc, or a ring when it has an inner diameter.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// Outer diameter, mm.
    pub outer: f64,
    /// Inner diameter, mm; 0 is a disc.
    pub inner: f64,
    /// Ink or clear.
    pub paint: Paint,
}

impl AnyElement for Ring {
    fn strokes(&self) -> Vec<Stroke> {
        let width = (self.outer - self.inner) / 2.0;
        let stroke = Stroke { width, paint: self.paint, word: "ring" };
        if self.inner > 0.0 { vec![stroke] } else { Vec::new() }
    }

    fn widen(&mut self, width: &dyn Fn(f64, Paint) -> f64) {
        if self.inner > 0.0 {
            // Wider towards the middle: its outer edge is what it is measured by.
            let wide = width((self.outer - self.inner) / 2.0, self.paint);
            self.inner = (self.outer - 2.0 * wide).max(0.0);
        }
    }

    fn paints(&self) -> Vec<Paint> {
        vec![self.paint]
    }

    fn line_words(&self) -> &'static str {
        "the ring"
    }
}

impl Keys for RingKeys {
    fn part(&self, place: Place, _: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        let outer = needed(&self.outer, "ring", "outer", place, reader);
        let inner = needed(&self.inner, "ring", "inner", place, reader);
        let paint = reader.paint_or_black(&self.paint);
        let (outer, inner) = (outer?, inner?);
        if inner >= outer {
            let place = self.inner.as_ref().map_or(place, |inner| inner.place);
            let message = "the ring's inner diameter is not less than its outer one".to_owned();
            reader.wrong("bad-ring", place, message, "make `inner` smaller than `outer`");
            return None;
        }
        let element = Element::Ring(Ring { outer, inner, paint });
        Some(placed(element, place, &self.at, &None, reader))
    }
}

impl Keys for DiscKeys {
    fn part(&self, place: Place, _: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        let outer = needed(&self.diameter, "disc", "diameter", place, reader);
        let paint = reader.paint_or_black(&self.paint);
        let element = Element::Ring(Ring { outer: outer?, inner: 0.0, paint });
        Some(placed(element, place, &self.at, &None, reader))
    }
}
