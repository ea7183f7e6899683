//! What was typed about dials, straight scales and arcs of text, with places; see [`super::draft`].

use super::typed::{Many, Typed};
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;

/// The arc a text stands on.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct ArcDraft {
    /// Radius of the base line.
    pub(super) radius: Option<Typed>,
    /// Where the middle of the text is: degrees clockwise from straight up.
    pub(super) centre: Option<Typed>,
    /// `outward` (feet to the centre, for the top) or `inward` (heads to the centre, for the bottom).
    pub(super) reads: Option<Typed>,
    /// Degrees the text is spaced out to fill; the letters keep their shape.
    pub(super) sweep: Option<Typed>,
}

/// A dial, or a straight scale.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct ScaleDraft {
    /// Dial: radius of the base line the marks start from.
    pub(super) radius: Option<Typed>,
    /// Dial: degrees from the first mark to the last.
    pub(super) sweep: Option<Typed>,
    /// Dial: where it starts, degrees clockwise from straight up; half the sweep to the left when not said.
    pub(super) start: Option<Typed>,
    /// Dial: `clockwise` or `anticlockwise`. Straight scale: it runs `right`, `left`, `up` or `down`.
    pub(super) direction: Option<Typed>,
    /// Straight scale: length from the first mark to the last.
    pub(super) length: Option<Typed>,
    /// Value at the start.
    pub(super) from: Option<Typed>,
    /// Value at the end.
    pub(super) to: Option<Typed>,
    /// `linear`, `log`, `decibel` (even in volts), or `pot` (the two straight pieces of a real log pot).
    pub(super) law: Option<Typed>,
    /// Pot: share of its track at half travel, 15 % when not said.
    pub(super) bend: Option<Typed>,
    /// Values or words, each with its degrees clockwise from straight up (straight scale: length from the
    /// start); instead of a law.
    pub(super) table: BTreeMap<String, Typed>,
    /// A long mark with its number at every multiple of this.
    pub(super) step: Option<Typed>,
    /// The numbers themselves, instead of a step.
    pub(super) values: Option<Many>,
    /// How many marks between neighbouring numbers; a list is taken in turn.
    pub(super) between: Option<Many>,
    /// Middle-sized marks: their step, or a list of values.
    pub(super) middle: Option<Many>,
    /// Short marks: their step, or a list of values.
    pub(super) minor: Option<Many>,
    /// Words in place of numbers: `{0: OFF, 10: MAX}`.
    pub(super) texts: BTreeMap<String, Typed>,
    /// Lengths of long, middle and short marks; one sets the others in proportion.
    pub(super) lengths: Option<Many>,
    /// Widths of long, middle and short marks; one is for all.
    pub(super) widths: Option<Many>,
    /// Side of the base line the marks are on: `outside`, `inside` or `both`.
    pub(super) marks: Option<Typed>,
    /// `outside`, `inside` or `none`.
    pub(super) numbers: Option<Typed>,
    /// `upright`, or `radial`: turned with the marks.
    pub(super) reads: Option<Typed>,
    /// Dial: radius of the numbers' middles. Straight scale: their distance from the base line.
    pub(super) number_radius: Option<Typed>,
    /// Clear space between numbers and marks.
    pub(super) number_gap: Option<Typed>,
    /// Cap height of the numbers.
    pub(super) cap_height: Option<Typed>,
    /// The distance it is read from: sets mark lengths, widths and the cap height where they are not said.
    pub(super) view: Option<Typed>,
    /// The numbers' font.
    pub(super) font: Option<Typed>,
    /// A colour, or `clear`, for marks and numbers.
    pub(super) paint: Option<Typed>,
    /// The unit, written once.
    pub(super) unit: Option<Typed>,
    /// Where the middle of the unit is: [right, down] from the dial's centre.
    pub(super) unit_at: Option<Many>,
    /// Cap height of the unit.
    pub(super) unit_height: Option<Typed>,
    /// Width of a line along the base line.
    pub(super) line: Option<Typed>,
    /// Values where the control clicks: the scale is broken there.
    pub(super) detent: Option<Many>,
    /// How wide the break is.
    pub(super) detent_gap: Option<Typed>,
    /// Coloured stretches.
    pub(super) zones: Vec<ZoneDraft>,
    /// Dial: diameter of the knob, to tell what it hides.
    pub(super) knob: Option<Typed>,
    /// Dial: outer diameter of a ring for the pointer to run in.
    pub(super) pointer_ring: Option<Typed>,
    /// Where its centre (straight scale: its middle) is.
    pub(super) at: Option<Many>,
    /// Degrees clockwise, numbers and all.
    pub(super) turned: Option<Typed>,
}

/// A coloured stretch of a scale.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct ZoneDraft {
    /// Value at one end.
    pub(super) from: Option<Typed>,
    /// Value at the other.
    pub(super) to: Option<Typed>,
    /// Width of the band.
    pub(super) width: Option<Typed>,
    /// Side of the base line it lies on: `outside` or `inside`; away from the marks when not said.
    pub(super) side: Option<Typed>,
    /// Clear space between the band and the base line.
    pub(super) gap: Option<Typed>,
    /// `solid` or `hatched`.
    pub(super) look: Option<Typed>,
    /// A colour, or `clear`.
    pub(super) paint: Option<Typed>,
}

impl ArcDraft {
    /// Its single values, in the order people read them.
    pub(super) fn singles(&mut self) -> [&mut Option<Typed>; 4] {
        [&mut self.radius, &mut self.centre, &mut self.reads, &mut self.sweep]
    }
}

impl ScaleDraft {
    /// Visits every scalar.
    pub(super) fn each(&mut self, visit: &mut dyn FnMut(&mut Typed)) {
        let singles = [
            &mut self.radius,
            &mut self.length,
            &mut self.sweep,
            &mut self.start,
            &mut self.direction,
            &mut self.from,
            &mut self.to,
            &mut self.law,
            &mut self.bend,
            &mut self.step,
            &mut self.marks,
            &mut self.numbers,
            &mut self.reads,
            &mut self.number_radius,
            &mut self.number_gap,
            &mut self.cap_height,
            &mut self.view,
            &mut self.font,
            &mut self.paint,
            &mut self.unit,
            &mut self.unit_height,
            &mut self.line,
            &mut self.detent_gap,
            &mut self.knob,
            &mut self.pointer_ring,
            &mut self.turned,
        ];
        singles.into_iter().flatten().for_each(&mut *visit);
        let lists = [
            &mut self.values,
            &mut self.between,
            &mut self.middle,
            &mut self.minor,
            &mut self.lengths,
            &mut self.widths,
            &mut self.unit_at,
            &mut self.detent,
            &mut self.at,
        ];
        lists.into_iter().flatten().flat_map(|list| &mut list.items).for_each(&mut *visit);
        self.table.values_mut().chain(self.texts.values_mut()).for_each(&mut *visit);
        for zone in &mut self.zones {
            zone.each(visit);
        }
    }
}

impl ZoneDraft {
    fn each(&mut self, visit: &mut dyn FnMut(&mut Typed)) {
        let singles = [
            &mut self.from,
            &mut self.to,
            &mut self.width,
            &mut self.side,
            &mut self.gap,
            &mut self.look,
            &mut self.paint,
        ];
        singles.into_iter().flatten().for_each(visit);
    }
}
