//! Dials and straight scales: their track, their law, and every value on them as a share of the way.

mod law;
mod look;
mod marks;
mod table;

pub use law::{Law, Track};

use super::text::Text;
use super::{AnyElement, Around, Element, Keys, Paint, Part, Stroke, placed};
use crate::finding::{Place, quoted};
use crate::spec::Mm;
use crate::spec::choice::choice;
use crate::spec::reader::{Least, Reader, plain_number};
use crate::yaml::{OneOrList, Scalar, keys};
use kurbo::Vec2;
use std::collections::BTreeMap;

/// Sweep of a dial that does not say, degrees: that of most potentiometers' scales (270 to 300 is usual).
const USUAL_SWEEP: f64 = 270.0;

/// Share of a log potentiometer's track at half travel (from memory).
const USUAL_BEND: f64 = 0.15;

keys! {
    /// A dial, or a straight scale.
    pub(in crate::spec) struct ScaleKeys;

    /// A dial or a straight scale.
    pub struct Scale {
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
        /// Values or words, each with its degrees clockwise from straight up (straight scale: length from the start); instead of a law.
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
        line: Option<Scalar> => Option<Mm>,
        /// Values where the control clicks: the scale is broken there.
        detent: Option<OneOrList>,
        /// How wide the break is.
        detent_gap: Option<Scalar> => Mm,
        /// Coloured stretches.
        zones: Vec<ZoneKeys> => Vec<Zone>,
        /// Dial: diameter of the knob, to tell what it hides.
        knob: Option<Scalar> => Option<Mm>,
        /// Dial: outer diameter of a ring for the pointer to run in.
        pointer_ring: Option<Scalar> => Option<Mm>,
        /// Where its centre (straight scale: its middle) is.
        at: Option<OneOrList>,
        /// Degrees clockwise, numbers and all.
        turned: Option<Scalar>,
        /// What it runs along.
        track => Track,
        /// Its marks and numbers, in order of their shares.
        marks => Vec<ScaleMark>,
        /// The step from number to number, when the scale has even steps.
        step => Option<f64>,
        /// Length and width of major, middle and minor marks, mm.
        sizes => [(f64, f64); 3],
        /// Which side marks reach to.
        side => Side,
        /// How numbers stand.
        numbers => Numbers,
        /// Shares where the scale is broken by a detent.
        detents => Vec<f64>,
        /// The unit's word and where its middle is from the part's own point, mm.
        unit => Option<(Text, Vec2)>,
        /// Ink or clear, of marks, line and ring.
        paint => Paint,
        /// Where it is asked for.
        place => Place,
    }
}

keys! {
    /// A coloured stretch of a scale.
    pub(in crate::spec) struct ZoneKeys {
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
}

keys! {
    /// A dial: marks and numbers round a centre.
    pub(in crate::spec) struct DialKeys(ScaleKeys);

    /// A straight scale.
    pub(in crate::spec) struct StraightKeys(ScaleKeys);
}

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
    /// How a zone is filled, so that it is known without its colour.
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

impl Scale {
    /// The widths of the lines and marks it has, mm, each once.
    #[must_use]
    pub fn widths(&self) -> Vec<f64> {
        each_once(self.mark_widths().chain(self.line))
    }

    fn mark_widths(&self) -> impl Iterator<Item = f64> {
        self.marks.iter().filter_map(|mark| Some(mark.size?.of(&self.sizes).1))
    }
}

fn each_once(widths: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut widths: Vec<f64> = widths.collect();
    widths.sort_by(f64::total_cmp);
    widths.dedup();
    widths
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
        each_once(self.mark_widths()).into_iter().map(mark).chain(line).collect()
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
            Kind::Dial => "a dial",
            Kind::Straight => "a scale",
        }
    }
}

impl Keys for DialKeys {
    fn part(&self, place: Place, around: &Around, reader: &mut Reader) -> Option<Part> {
        part(&self.0, Kind::Dial, place, around, reader)
    }
}

impl Keys for StraightKeys {
    fn part(&self, place: Place, around: &Around, reader: &mut Reader) -> Option<Part> {
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

    /// The share of a value; `None`, and reported, outside the range.
    fn share(&self, value: f64, place: Place, reader: &mut Reader) -> Option<f64> {
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
    fn typed(&self, typed: &Scalar, reader: &mut Reader) -> Option<f64> {
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

fn needed_value(typed: &Scalar, reader: &mut Reader) -> Option<f64> {
    let found = value(typed.text.trim());
    if found.is_none() {
        let message = format!("{} is not a value of the scale", quoted(&typed.text));
        reader.wrong("bad-number", typed.place, message, "write a number, or `inf`");
    }
    found
}

/// A dial or straight scale as a part.
fn part(
    keys: &ScaleKeys,
    kind: Kind,
    place: Place,
    around: &Around,
    reader: &mut Reader,
) -> Option<Part> {
    without_effect(keys, kind, reader);
    let track = track(keys, kind, place, reader);
    let (track, values) = if keys.table.is_empty() {
        let values = values(keys, place, reader);
        (track?, values?)
    } else {
        table::read(keys, track?, reader)?
    };
    let marks = marks::marks(keys, &values, place, reader);
    let style = look::style(keys, &track, around, reader);
    let zones = keys.zones.iter();
    let zones = zones.filter_map(|zone| look::zone(zone, &values, &style, reader)).collect();
    let scale = Scale {
        track,
        marks,
        step: keys.step.as_ref().and_then(|typed| value(typed.trimmed())),
        sizes: style.sizes,
        side: style.side,
        numbers: style.numbers,
        zones,
        line: reader.length(&keys.line, Least::Something),
        detents: marks::shares(&keys.detent, &values, reader),
        detent_gap: reader.length(&keys.detent_gap, Least::Something).unwrap_or(style.detent_gap),
        knob: reader.length(&keys.knob, Least::Something),
        pointer_ring: reader.length(&keys.pointer_ring, Least::Something),
        unit: style.unit,
        paint: style.paint,
        place,
    };
    let element = Element::Scale(Box::new(scale));
    Some(placed(element, place, &keys.at, &keys.turned, reader))
}

/// Reports keys that belong to the other kind of scale, or that a table or law leaves nothing to do.
fn without_effect(keys: &ScaleKeys, kind: Kind, reader: &mut Reader) {
    let of_dials = [
        ("radius", &keys.radius),
        ("sweep", &keys.sweep),
        ("start", &keys.start),
        ("knob", &keys.knob),
        ("pointer_ring", &keys.pointer_ring),
    ];
    let of_straight = [("length", &keys.length)];
    let (others, whose) = match kind {
        Kind::Dial => (of_straight.as_slice(), "a straight scale"),
        Kind::Straight => (of_dials.as_slice(), "a dial"),
    };
    for (key, typed) in others {
        reader.no_effect(typed, format!("`{key}` is for {whose}"), "take it out");
    }
    let of_laws = [
        ("sweep", &keys.sweep),
        ("start", &keys.start),
        ("direction", &keys.direction),
        ("from", &keys.from),
        ("to", &keys.to),
        ("law", &keys.law),
        ("step", &keys.step),
    ];
    let has_effect = |key: &str| kind == Kind::Straight && key == "direction";
    for (key, typed) in of_laws {
        if !keys.table.is_empty() && !has_effect(key) {
            let message = format!("`{key}` has no effect beside a `table`");
            reader.no_effect(typed, message, "take it out: the table says where values lie");
        }
    }
    if keys.law.as_ref().is_none_or(|law| law.trimmed() != "pot") {
        let message = "`bend` has no effect on this law";
        reader.no_effect(&keys.bend, message, "take it out, or write `law: pot`");
    }
}

fn track(keys: &ScaleKeys, kind: Kind, place: Place, reader: &mut Reader) -> Option<Track> {
    let (typed, key) = match kind {
        Kind::Dial => (&keys.radius, "radius"),
        Kind::Straight => (&keys.length, "length"),
    };
    reader.needed(typed, kind.word(), (key, "18 mm"), place);
    let length = reader.length(typed, Least::Something);
    if kind == Kind::Straight {
        let ways = [("right", 0.0), ("left", 180.0), ("up", -90.0), ("down", 90.0)];
        let outside = reader.choice(&keys.direction, &ways).unwrap_or(0.0);
        return Some(Track::Straight { length: length?, outside });
    }
    let ways = [("clockwise", 1.0), ("anticlockwise", -1.0)];
    let way = reader.choice(&keys.direction, &ways).unwrap_or(1.0);
    let sweep = reader.degrees(&keys.sweep, 1.0..=360.0).unwrap_or(USUAL_SWEEP) * way;
    let start = reader.degrees(&keys.start, -360.0..=360.0).unwrap_or(-sweep / 2.0);
    Some(Track::Round { radius: length?, start, sweep })
}

fn values(keys: &ScaleKeys, place: Place, reader: &mut Reader) -> Option<Values> {
    for (typed, key) in [(&keys.from, "from"), (&keys.to, "to")] {
        if typed.is_none() {
            let message = format!("a scale needs `{key}`, or a `table`");
            reader.wrong("missing", place, message, format!("add it, for example `{key}: 10`"));
        }
    }
    let bend = reader.number(&keys.bend, 0.01..=0.99).unwrap_or(USUAL_BEND);
    let laws = [
        ("linear", &Law::Linear),
        ("log", &Law::Log),
        ("decibel", &Law::Decibel),
        ("pot", &Law::Pot(bend)),
    ];
    let law = reader.choice(&keys.law, &laws).unwrap_or(&Law::Linear).clone();
    let mut end = |typed: &Option<Scalar>| {
        let typed = typed.as_ref()?;
        let value = needed_value(typed, reader)?;
        sound_end(typed, value, &law, reader)
    };
    let (from, to) = (end(&keys.from), end(&keys.to));
    let ends = (from?, to?);
    if ends.0.total_cmp(&ends.1).is_eq() {
        let message = format!("the scale runs from {} to itself", number(ends.0));
        let place = keys.to.as_ref().map_or(place, |typed| typed.place);
        reader.wrong("bad-range", place, message, "give `from` and `to` different values");
        return None;
    }
    Some(Values { law, ends, rows: Vec::new() })
}

/// An end the law has a place for.
fn sound_end(typed: &Scalar, value: f64, law: &Law, reader: &mut Reader) -> Option<f64> {
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
