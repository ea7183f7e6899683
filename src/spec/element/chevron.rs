//! Chevrons pointing right, one behind another.

use super::line::MOST_IN_TURN;
use super::{AnyElement, Around, Element, Keys, Paint, Part, Stroke, needed, placed};
use crate::finding::Place;
use crate::spec::reader::{Least, Reader};
use crate::yaml::{OneOrList, Scalar};
use schemars::JsonSchema;
use serde::Deserialize;

/// Angle between the arms of a chevron, degrees: common practice, no source.
const USUAL_ANGLE: f64 = 90.0;

/// Chevrons pointing right, one behind another.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(in crate::spec) struct ChevronKeys {
    /// How many.
    count: Option<Scalar>,
    /// Width of each band along its direction.
    width: Option<Scalar>,
    /// Between bands, along the direction.
    gap: Option<Scalar>,
    /// Overall height.
    height: Option<Scalar>,
    /// Angle between the two arms, degrees.
    angle: Option<Scalar>,
    /// A colour or `clear`; a list is taken in turn by the bands.
    paint: Option<OneOrList>,
    /// Where the middle of all is.
    at: Option<OneOrList>,
    /// Degrees clockwise.
    turned: Option<Scalar>,
}

/// Chevrons pointing right, one behind another.
#[derive(Clone, Debug, PartialEq)]
pub struct Chevron {
    /// How many.
    pub count: u32,
    /// Width of each band measured along its direction, mm.
    pub width: f64,
    /// Clear space between bands along the direction, mm.
    pub gap: f64,
    /// Overall height across the direction, mm.
    pub height: f64,
    /// Angle between the two arms, degrees: 180 would be straight.
    pub angle: f64,
    /// Ink or clear, of each band in turn.
    pub paints: Vec<Paint>,
}

impl AnyElement for Chevron {
    fn strokes(&self) -> Vec<Stroke> {
        let stroke = |paint: &Paint| Stroke { width: self.width, paint: *paint, word: "chevron" };
        self.paints.iter().map(stroke).collect()
    }

    fn widen(&mut self, width: &dyn Fn(f64, Paint) -> f64) {
        self.width = self.paints.iter().fold(self.width, |wide, paint| width(wide, *paint));
    }

    fn paints(&self) -> Vec<Paint> {
        self.paints.clone()
    }

    fn line_words(&self) -> &'static str {
        "the chevron"
    }
}

impl Keys for ChevronKeys {
    fn part(&self, place: Place, _: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        let width = needed(&self.width, "chevron", "width", place, reader);
        let height = needed(&self.height, "chevron", "height", place, reader);
        let gap = reader.length(&self.gap, Least::Nought);
        let count = reader.count(&self.count, 1..=MOST_IN_TURN).unwrap_or(1);
        let angle = reader.degrees(&self.angle, 10.0..=170.0).unwrap_or(USUAL_ANGLE);
        let paints = reader.paints(&self.paint);
        let width = width?;
        let gap = gap.unwrap_or(width);
        let chevron = Chevron { count, width, gap, height: height?, angle, paints };
        Some(placed(Element::Chevron(chevron), place, &self.at, &self.turned, reader))
    }
}
