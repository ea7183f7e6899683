//! Dials and straight scales: their track, their law, and every value on them as a share of the way.

mod law;
mod look;
mod marks;
mod table;

pub use law::{Law, Track};

use super::text::Text;
use super::{AnyElement, Around, Element, Keys, Paint, Part, Stroke, placed};
use crate::finding::Place;
use crate::spec::choice::choice;
use crate::spec::reader::{Least, Reader, plain_number, quoted};
use crate::yaml::{OneOrList, Scalar};
use kurbo::Vec2;
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;

/// Sweep of a dial that does not say, degrees: that of most potentiometers' scales (270 to 300 is usual).
const USUAL_SWEEP: f64 = 270.0;

/// Share of a log potentiometer's track at half travel (from memory).
const USUAL_BEND: f64 = 0.15;

/// A dial, or a straight scale.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(in crate::spec) struct ScaleKeys {
    /// Dial: radius of the base line the marks start from.
    radius: Option<Scalar>,
    /// Dial: degrees from the first mark to the last.
    sweep: Option<Scalar>,
    /// Dial: where it starts, degrees clockwise from straight up; half the sweep to the left when not said.
    start: Option<Scalar>,
    /// Dial: `clockwise` or `anticlockwise`. Straight scale: it runs `right`, `left`, `up` or `down`.
    direction: Option<Scalar>,
    /// Straight scale: length from the first mark to the last.
    length: Option<Scalar>,
    /// Value at the start.
    from: Option<Scalar>,
    /// Value at the end.
    to: Option<Scalar>,
    /// `linear`, `log`, `decibel` (even in volts), or `pot` (the two straight pieces of a real log pot).
    law: Option<Scalar>,
    /// Pot: share of its track at half travel, 15 % when not said.
    bend: Option<Scalar>,
    /// Values or words, each with its degrees clockwise from straight up (straight scale: length from the
    /// start); instead of a law.
    table: BTreeMap<String, Scalar>,
    /// A long mark with its number at every multiple of this.
    step: Option<Scalar>,
    /// The numbers themselves, instead of a step.
    values: Option<OneOrList>,
    /// How many marks between neighbouring numbers; a list is taken in turn.
    between: Option<OneOrList>,
    /// Middle-sized marks: their step, or a list of values.
    middle: Option<OneOrList>,
    /// Short marks: their step, or a list of values.
    minor: Option<OneOrList>,
    /// Words in place of numbers: `{0: OFF, 10: MAX}`.
    texts: BTreeMap<String, Scalar>,
    /// Lengths of long, middle and short marks; one sets the others in proportion.
    lengths: Option<OneOrList>,
    /// Widths of long, middle and short marks; one is for all.
    widths: Option<OneOrList>,
    /// Side of the base line the marks are on: `outside`, `inside` or `both`.
    marks: Option<Scalar>,
    /// `outside`, `inside` or `none`.
    numbers: Option<Scalar>,
    /// `upright`, or `radial`: turned with the marks.
    reads: Option<Scalar>,
    /// Dial: radius of the numbers' middles. Straight scale: their distance from the base line.
    number_radius: Option<Scalar>,
    /// Clear space between numbers and marks.
    number_gap: Option<Scalar>,
    /// Cap height of the numbers.
    cap_height: Option<Scalar>,
    /// The distance it is read from: sets mark lengths, widths and the cap height where they are not said.
    view: Option<Scalar>,
    /// The numbers' font.
    font: Option<Scalar>,
    /// A colour, or `clear`, for marks and numbers.
    paint: Option<Scalar>,
    /// The unit, written once.
    unit: Option<Scalar>,
    /// Where the middle of the unit is: [right, down] from the dial's centre.
    unit_at: Option<OneOrList>,
    /// Cap height of the unit.
    unit_height: Option<Scalar>,
    /// Width of a line along the base line.
    line: Option<Scalar>,
    /// Values where the control clicks: the scale is broken there.
    detent: Option<OneOrList>,
    /// How wide the break is.
    detent_gap: Option<Scalar>,
    /// Coloured stretches.
    zones: Vec<ZoneKeys>,
    /// Dial: diameter of the knob, to tell what it hides.
    knob: Option<Scalar>,
    /// Dial: outer diameter of a ring for the pointer to run in.
    pointer_ring: Option<Scalar>,
    /// Where its centre (straight scale: its middle) is.
    at: Option<OneOrList>,
    /// Degrees clockwise, numbers and all.
    turned: Option<Scalar>,
}

/// A coloured stretch of a scale.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
struct ZoneKeys {
    /// Value at one end.
    from: Option<Scalar>,
    /// Value at the other.
    to: Option<Scalar>,
    /// Width of the band.
    width: Option<Scalar>,
    /// Side of the base line it lies on: `outside` or `inside`; away from the marks when not said.
    side: Option<Scalar>,
    /// Clear space between the band and the base line.
    gap: Option<Scalar>,
    /// `solid` or `hatched`.
    look: Option<Scalar>,
    /// A colour, or `clear`.
    paint: Option<Scalar>,
}

/// A dial: marks and numbers round a centre.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(transparent)]
pub(in crate::spec) struct DialKeys(ScaleKeys);

/// A straight scale.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(transparent)]
pub(in crate::spec) struct StraightKeys(ScaleKeys);

/// Sizes of marks; a scale has three at most (MIL-HDBK-759B).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MarkSize {
    /// The longest.
    Major,
    /// Between the two.
    Middle,
    /// The shortest.
    Minor,
}

/// One place along a scale.
#[derive(Clone, Debug, PartialEq)]
pub struct ScaleMark {
    /// Where: 0 at the scale's start, 1 at its end.
    pub share: f64,
    /// The mark there; `None` where there are only words.
    pub size: Option<MarkSize>,
    /// The number or word there.
    pub text: Option<String>,
}

choice! {
    /// Which side of the base line marks reach to.
    pub enum Side {
        /// Away from the centre (above a straight scale that runs to the right).
        Outside = "outside",
        /// Towards the centre.
        Inside = "inside",
        /// To both.
        Both = "both",
    }
}

/// How the numbers of a scale stand.
#[derive(Clone, Debug, PartialEq)]
pub struct Numbers {
    /// The side they are on; `None`: not drawn.
    pub side: Option<Side>,
    /// Whether each is turned with its mark, feet towards the base line, instead of upright.
    pub radial: bool,
    /// Where their middles are: radius, or distance from a straight base line, mm; `None`: each as near
    /// as the gap allows.
    pub at: Option<f64>,
    /// Clear space between a number and the marks, mm, where `at` does not say.
    pub gap: f64,
    /// How they are set; its lines are filled in for each.
    pub set: Text,
}

choice! {
    /// How a zone is filled, so that it can be told without colour.
    pub enum Look {
        /// Filled.
        Solid = "solid",
        /// Slanted bars between two edges.
        Hatched = "hatched",
    }
}

/// A coloured stretch of a scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    /// Where it starts and ends, as shares, rising.
    pub shares: (f64, f64),
    /// Its near and far edge from the base line, mm outwards, rising.
    pub across: (f64, f64),
    /// How it is filled.
    pub look: Look,
    /// Ink or clear.
    pub paint: Paint,
}

/// A dial or a straight scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Scale {
    /// What it runs along.
    pub track: Track,
    /// Its marks and numbers, in order of their shares.
    pub marks: Vec<ScaleMark>,
    /// The step from number to number, when the scale has even steps.
    pub step: Option<f64>,
    /// Length and width of major, middle and minor marks, mm.
    pub sizes: [(f64, f64); 3],
    /// Which side marks reach to.
    pub side: Side,
    /// How numbers stand.
    pub numbers: Numbers,
    /// Coloured stretches, painted under the marks.
    pub zones: Vec<Zone>,
    /// Width of the line along the base line, mm, if any.
    pub line: Option<f64>,
    /// Shares where the scale is broken by a detent.
    pub detents: Vec<f64>,
    /// How wide such a break is along the base line, mm.
    pub detent_gap: f64,
    /// Diameter of the knob over it, mm.
    pub knob: Option<f64>,
    /// Outer diameter of a ring for the pointer to run in, mm.
    pub pointer_ring: Option<f64>,
    /// The unit's word and where its middle is from the part's own point, mm.
    pub unit: Option<(Text, Vec2)>,
    /// Ink or clear, of marks, line and ring.
    pub paint: Paint,
    /// Where it is asked for.
    pub place: Place,
}

impl Scale {
    /// The widths of the lines and marks it has, mm, each once.
    #[must_use]
    pub fn widths(&self) -> Vec<f64> {
        let sizes = self.marks.iter().filter_map(|mark| Some(mark.size?.of(&self.sizes).1));
        let mut widths: Vec<f64> = sizes.chain(self.line).collect();
        widths.sort_by(f64::total_cmp);
        widths.dedup();
        widths
    }
}

impl MarkSize {
    /// Length and width, mm, among a scale's sizes.
    #[must_use]
    pub fn of(self, sizes: &[(f64, f64); 3]) -> (f64, f64) {
        let [major, middle, minor] = *sizes;
        match self {
            MarkSize::Major => major,
            MarkSize::Middle => middle,
            MarkSize::Minor => minor,
        }
    }
}

impl AnyElement for Scale {
    fn strokes(&self) -> Vec<Stroke> {
        let mark = |width: f64| Stroke { width, paint: self.paint, word: "mark" };
        let line = self.line.map(|width| Stroke { width, paint: self.paint, word: "line" });
        let sizes = self.marks.iter().filter_map(|mark| mark.size);
        let mut widths: Vec<f64> = sizes.map(|size| size.of(&self.sizes).1).collect();
        widths.sort_by(f64::total_cmp);
        widths.dedup();
        widths.into_iter().map(mark).chain(line).collect()
    }

    fn widen(&mut self, width: &dyn Fn(f64, Paint) -> f64) {
        let widths = self.sizes.iter_mut().map(|(_, wide)| wide).chain(&mut self.line);
        widths.for_each(|wide| *wide = width(*wide, self.paint));
    }

    fn paints(&self) -> Vec<Paint> {
        self.zones.iter().map(|zone| zone.paint).chain([self.paint]).collect()
    }

    fn line_words(&self) -> &'static str {
        "the mark"
    }

    fn ink_words(&self) -> &'static str {
        "ink of the scale is"
    }

    fn gap_words(&self) -> &'static str {
        "the clear gap between marks is"
    }
}

/// What a scale is drawn along.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Dial,
    Straight,
}

impl Kind {
    fn word(self) -> &'static str {
        match self {
            Kind::Dial => "dial",
            Kind::Straight => "scale",
        }
    }
}

impl Keys for DialKeys {
    fn part(&self, place: Place, around: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        part(&self.0, Kind::Dial, place, around, reader)
    }
}

impl Keys for StraightKeys {
    fn part(&self, place: Place, around: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        part(&self.0, Kind::Straight, place, around, reader)
    }
}

/// The values of a scale: its law, its ends, and how to find a value's share.
pub(super) struct Values {
    law: Law,
    ends: (f64, f64),
    /// Rows of a table as they were written, with their shares.
    rows: Vec<(String, f64)>,
}

impl Values {
    /// Lowest and highest value.
    fn span(&self) -> (f64, f64) {
        (self.ends.0.min(self.ends.1), self.ends.0.max(self.ends.1))
    }

    /// The share of a value; outside the range it is told and `None`.
    fn share(&self, value: f64, place: Place, reader: &mut Reader<'_, '_>) -> Option<f64> {
        let (low, high) = self.span();
        // What adding steps up leaves of a value, relative to the range.
        let slack = if (high - low).is_finite() { (high - low) * 1e-9 } else { 1e-9 };
        if value < low - slack || value > high + slack {
            let message = format!(
                "{} is outside the scale, {} to {}",
                number(value),
                number(low),
                number(high)
            );
            reader.wrong("value-outside", place, message, "take it out, or widen `from` and `to`");
            return None;
        }
        let share = self.law.share(value.clamp(low, high), self.ends);
        if share.is_none() {
            let message = format!("{} has no place on this scale", number(value));
            reader.wrong("value-outside", place, message, "add it to the table, or take it out");
        }
        share
    }

    /// The share of a value as it was typed, or of a table's word.
    fn typed(&self, typed: &Scalar, reader: &mut Reader<'_, '_>) -> Option<f64> {
        let text = typed.text.trim();
        if let Some((_, share)) = self.rows.iter().find(|(row, _)| row == text) {
            return Some(*share);
        }
        let value = needed_value(typed, reader)?;
        self.share(value, typed.place, reader)
    }
}

/// A value as messages write it.
fn number(value: f64) -> String {
    if value.is_finite() { format!("{value}") } else { "infinity".to_owned() }
}

/// A value as typed: a plain number or infinity.
fn value(text: &str) -> Option<f64> {
    match text {
        "inf" | "+inf" | "∞" => Some(f64::INFINITY),
        "-inf" | "-∞" | "−∞" => Some(f64::NEG_INFINITY),
        _ => plain_number(&text.replace('\u{2212}', "-")),
    }
}

fn needed_value(typed: &Scalar, reader: &mut Reader<'_, '_>) -> Option<f64> {
    let found = value(typed.text.trim());
    if found.is_none() {
        let message = format!("{} is not a value of the scale", quoted(&typed.text));
        reader.wrong("bad-number", typed.place, message, "write a number, or `inf`");
    }
    found
}

/// A dial or straight scale as a part.
fn part(
    draft: &ScaleKeys,
    kind: Kind,
    place: Place,
    around: &Around,
    reader: &mut Reader<'_, '_>,
) -> Option<Part> {
    without_effect(draft, kind, reader);
    let track = track(draft, kind, place, reader);
    let (track, values) = if draft.table.is_empty() {
        let values = values(draft, place, reader);
        (track?, values?)
    } else {
        table::read(draft, track?, reader)?
    };
    let marks = marks::marks(draft, &values, place, reader);
    let manner = look::manner(draft, &track, around, reader);
    let scale = Scale {
        track,
        marks,
        step: draft.step.as_ref().and_then(|typed| value(typed.trimmed())),
        sizes: manner.sizes,
        side: manner.side,
        numbers: manner.numbers,
        zones: look::zones(draft, &values, manner.side, manner.sizes, reader),
        line: reader.length(&draft.line, Least::Something),
        detents: marks::shares(&draft.detent, &values, reader),
        detent_gap: reader.length(&draft.detent_gap, Least::Something).unwrap_or(manner.detent_gap),
        knob: reader.length(&draft.knob, Least::Something),
        pointer_ring: reader.length(&draft.pointer_ring, Least::Something),
        unit: manner.unit,
        paint: manner.paint,
        place,
    };
    let element = Element::Scale(Box::new(scale));
    Some(placed(element, place, &draft.at, &draft.turned, reader))
}

/// Tells of keys that belong to the other kind of scale, or that a table or law leaves nothing to do.
fn without_effect(draft: &ScaleKeys, kind: Kind, reader: &mut Reader<'_, '_>) {
    let of_dials = [
        ("radius", &draft.radius),
        ("sweep", &draft.sweep),
        ("start", &draft.start),
        ("knob", &draft.knob),
        ("pointer_ring", &draft.pointer_ring),
    ];
    let of_straight = [("length", &draft.length)];
    let (others, whose) = match kind {
        Kind::Dial => (of_straight.as_slice(), "a straight scale"),
        Kind::Straight => (of_dials.as_slice(), "a dial"),
    };
    for (key, typed) in others {
        let Some(typed) = typed else { continue };
        let message = format!("`{key}` is for {whose}");
        reader.wrong("no-effect", typed.place, message, "take it out");
    }
    let of_laws = [
        ("sweep", &draft.sweep),
        ("start", &draft.start),
        ("direction", &draft.direction),
        ("from", &draft.from),
        ("to", &draft.to),
        ("law", &draft.law),
        ("step", &draft.step),
    ];
    for (key, typed) in of_laws.into_iter().filter(|_| !draft.table.is_empty()) {
        let Some(typed) = typed else { continue };
        if kind == Kind::Straight && key == "direction" {
            continue;
        }
        let message = format!("`{key}` has no effect beside a `table`");
        reader.wrong(
            "no-effect",
            typed.place,
            message,
            "take it out: the table says where values lie",
        );
    }
    let bends = draft.law.as_ref().is_some_and(|law| law.text.trim() == "pot");
    if let (Some(bend), false) = (&draft.bend, bends) {
        let message = "`bend` has no effect on this law".to_owned();
        reader.wrong("no-effect", bend.place, message, "take it out, or write `law: pot`");
    }
}

fn track(
    draft: &ScaleKeys,
    kind: Kind,
    place: Place,
    reader: &mut Reader<'_, '_>,
) -> Option<Track> {
    let (typed, key) = match kind {
        Kind::Dial => (&draft.radius, "radius"),
        Kind::Straight => (&draft.length, "length"),
    };
    if typed.is_none() {
        let message = format!("a {} needs `{key}`", kind.word());
        reader.wrong("missing", place, message, format!("add it, for example `{key}: 18 mm`"));
    }
    let length = reader.length(typed, Least::Something);
    if kind == Kind::Straight {
        let ways = [("right", 0.0), ("left", 180.0), ("up", -90.0), ("down", 90.0)];
        let outside = reader.choice(&draft.direction, &ways).unwrap_or(0.0);
        return Some(Track::Straight { length: length?, outside });
    }
    let ways = [("clockwise", 1.0), ("anticlockwise", -1.0)];
    let way = reader.choice(&draft.direction, &ways).unwrap_or(1.0);
    let sweep = reader.degrees(&draft.sweep, 1.0..=360.0).unwrap_or(USUAL_SWEEP) * way;
    let start = reader.degrees(&draft.start, -360.0..=360.0).unwrap_or(-sweep / 2.0);
    Some(Track::Round { radius: length?, start, sweep })
}

fn values(draft: &ScaleKeys, place: Place, reader: &mut Reader<'_, '_>) -> Option<Values> {
    for (typed, key) in [(&draft.from, "from"), (&draft.to, "to")] {
        if typed.is_none() {
            let message = format!("a scale needs `{key}`, or a `table`");
            reader.wrong("missing", place, message, format!("add it, for example `{key}: 10`"));
        }
    }
    let bend = reader.number(&draft.bend, 0.01..=0.99).unwrap_or(USUAL_BEND);
    let laws = [
        ("linear", &Law::Linear),
        ("log", &Law::Log),
        ("decibel", &Law::Decibel),
        ("pot", &Law::Pot(bend)),
    ];
    let law = reader.choice(&draft.law, &laws).unwrap_or(&Law::Linear).clone();
    let mut end = |typed: &Option<Scalar>| {
        let typed = typed.as_ref()?;
        let value = needed_value(typed, reader)?;
        sound_end(typed, value, &law, reader)
    };
    let (from, to) = (end(&draft.from), end(&draft.to));
    let ends = (from?, to?);
    if ends.0.total_cmp(&ends.1).is_eq() {
        let message = format!("the scale runs from {} to itself", number(ends.0));
        let place = draft.to.as_ref().map_or(place, |typed| typed.place);
        reader.wrong("bad-range", place, message, "give `from` and `to` different values");
        return None;
    }
    Some(Values { law, ends, rows: Vec::new() })
}

/// An end the law has a place for.
fn sound_end(typed: &Scalar, value: f64, law: &Law, reader: &mut Reader<'_, '_>) -> Option<f64> {
    if *law == Law::Log && value <= 0.0 {
        let message = format!("{} has no logarithm", quoted(&typed.text));
        let help = "a log scale starts above nought: 0.1, 1 or 10, for example";
        reader.wrong("log-of-nought", typed.place, message, help);
        return None;
    }
    let silence = *law == Law::Decibel && value < 0.0;
    if value.is_finite() && value.abs() <= LARGEST || value.is_infinite() && silence {
        return Some(value);
    }
    let message = format!("{} is no end for this scale", quoted(&typed.text));
    let help = "only a decibel scale can start at -inf; other ends are at most 1,000,000,000";
    reader.wrong("bad-number", typed.place, message, help);
    None
}

/// The largest value of a scale; more is a slip, and numbers are no longer written exactly.
const LARGEST: f64 = 1e9;
