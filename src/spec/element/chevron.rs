//! Chevrons pointing right, one behind another.

use super::line::MOST_IN_TURN;
use super::{AnyElement, Around, Element, Keys, Paint, Part, Stroke, needed, placed};
use crate::finding::Place;
use crate::spec::Mm;
use crate::spec::reader::{Least, Reader};
use crate::yaml::{OneOrList, Scalar, keys};

/// Angle between the arms of a chevron, degrees: common practice, no source.
const USUAL_ANGLE: f64 = 90.0;

keys! {
    /// Chevrons pointing right, one behind another.
    pub(in crate::spec) struct ChevronKeys;

    /// Chevrons pointing right, one behind another.
    pub struct Chevron {
        /// How many.
        count: Option<Scalar> => u32,
        /// Width of each band along its direction.
        width: Option<Scalar> => Mm,
        /// Between bands, along the direction.
        gap: Option<Scalar> => Mm,
        /// Overall height.
        height: Option<Scalar> => Mm,
        /// Angle between the two arms, degrees.
        angle: Option<Scalar> => f64,
        /// A colour or `clear`; a list is taken in turn by the bands.
        paint: Option<OneOrList>,
        /// Where the middle of all is.
        at: Option<OneOrList>,
        /// Degrees clockwise.
        turned: Option<Scalar>,
        /// Ink or clear, of each band in turn.
        paints => Vec<Paint>,
    }
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
    fn part(&self, place: Place, _: &Around, reader: &mut Reader) -> Option<Part> {
        let width = needed(&self.width, "a chevron", "width", place, reader);
        let height = needed(&self.height, "a chevron", "height", place, reader);
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
