//! Dials and straight scales: their track, their law, and every value on them as a share of the way.

mod look;
mod marks;
mod table;

use super::parts::Around;
use super::reader::{Least, Reader, plain_number, quoted};
use crate::finding::Place;
use crate::spec::dial::{Law, Scale, Track};
use crate::spec::dial_draft::ScaleDraft;
use crate::spec::typed::Typed;
use crate::spec::{Element, Part};

/// Sweep of a dial that does not say, degrees: that of most potentiometers' scales (270 to 300 is usual).
const USUAL_SWEEP: f64 = 270.0;

/// Share of a log potentiometer's track at half travel (from memory).
const USUAL_BEND: f64 = 0.15;

/// What a scale is drawn along.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
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
    fn typed(&self, typed: &Typed, reader: &mut Reader<'_, '_>) -> Option<f64> {
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

fn needed_value(typed: &Typed, reader: &mut Reader<'_, '_>) -> Option<f64> {
    let found = value(typed.text.trim());
    if found.is_none() {
        let message = format!("{} is not a value of the scale", quoted(&typed.text));
        reader.wrong("bad-number", typed.place, message, "write a number, or `inf`");
    }
    found
}

/// A dial or straight scale as a part.
pub(super) fn part(
    draft: &ScaleDraft,
    kind: Kind,
    (place, around): (Place, &Around<'_>),
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
        step: draft.step.as_ref().and_then(|typed| value(typed.text.trim())),
        sizes: manner.sizes,
        side: manner.side,
        numbers: manner.numbers,
        zones: look::zones(draft, &values, (manner.side, manner.sizes), reader),
        line: reader.length(draft.line.as_ref(), Least::Something),
        detents: marks::shares(draft.detent.as_ref(), &values, reader),
        detent_gap: reader
            .length(draft.detent_gap.as_ref(), Least::Something)
            .unwrap_or(manner.detent_gap),
        knob: reader.length(draft.knob.as_ref(), Least::Something),
        pointer_ring: reader.length(draft.pointer_ring.as_ref(), Least::Something),
        unit: manner.unit,
        paint: manner.paint,
        place,
    };
    let at = reader.at(draft.at.as_ref());
    let turned = reader.degrees(draft.turned.as_ref(), -360.0..=360.0).unwrap_or(0.0);
    Some(Part { at, turned, element: Element::Scale(Box::new(scale)), place })
}

/// Tells of keys that belong to the other kind of scale, or that a table or law leaves nothing to do.
fn without_effect(draft: &ScaleDraft, kind: Kind, reader: &mut Reader<'_, '_>) {
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
    draft: &ScaleDraft,
    kind: Kind,
    place: Place,
    reader: &mut Reader<'_, '_>,
) -> Option<Track> {
    let (typed, key) = match kind {
        Kind::Dial => (draft.radius.as_ref(), "radius"),
        Kind::Straight => (draft.length.as_ref(), "length"),
    };
    if typed.is_none() {
        let message = format!("a {} needs `{key}`", kind.word());
        reader.wrong("missing", place, message, format!("add it, for example `{key}: 18 mm`"));
    }
    let length = reader.length(typed, Least::Something);
    if kind == Kind::Straight {
        let ways = [("right", 0.0), ("left", 180.0), ("up", -90.0), ("down", 90.0)];
        let outside = reader.choice(draft.direction.as_ref(), &ways).unwrap_or(0.0);
        return Some(Track::Straight { length: length?, outside });
    }
    let ways = [("clockwise", 1.0), ("anticlockwise", -1.0)];
    let way = reader.choice(draft.direction.as_ref(), &ways).unwrap_or(1.0);
    let sweep = reader.degrees(draft.sweep.as_ref(), 1.0..=360.0).unwrap_or(USUAL_SWEEP) * way;
    let start = reader.degrees(draft.start.as_ref(), -360.0..=360.0).unwrap_or(-sweep / 2.0);
    Some(Track::Round { radius: length?, start, sweep })
}

fn values(draft: &ScaleDraft, place: Place, reader: &mut Reader<'_, '_>) -> Option<Values> {
    for (typed, key) in [(&draft.from, "from"), (&draft.to, "to")] {
        if typed.is_none() {
            let message = format!("a scale needs `{key}`, or a `table`");
            reader.wrong("missing", place, message, format!("add it, for example `{key}: 10`"));
        }
    }
    let bend = reader.number(draft.bend.as_ref(), 0.01..=0.99).unwrap_or(USUAL_BEND);
    let laws = [("linear", 0), ("log", 1), ("decibel", 2), ("pot", 3)];
    let law = match reader.choice(draft.law.as_ref(), &laws) {
        Some(1) => Law::Log,
        Some(2) => Law::Decibel,
        Some(3) => Law::Pot(bend),
        _ => Law::Linear,
    };
    let mut end = |typed: &Option<Typed>| {
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
fn sound_end(typed: &Typed, value: f64, law: &Law, reader: &mut Reader<'_, '_>) -> Option<f64> {
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
