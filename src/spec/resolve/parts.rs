//! The elements of `parts:`, one map each.

use super::dial::{self, Kind};
use super::reader::{Least, Reader};
use super::{art, code, frame, panel, symbol, text};
use crate::colour::Colour;
use crate::finding::Place;
use crate::spec::draft::{
    ChevronDraft, DiscDraft, GroupDraft, LineDraft, PartDraft, RingDraft, TextDraft,
};
use crate::spec::typed::{Many, Typed};
use crate::spec::{
    Chevron, Direction, Element, Group, GroupAlign, Line, LineEnd, Paint, Part, Ring,
};
use crate::spec::{cascade, scalars};

/// The most stripes or chevrons in one part.
const MOST_IN_TURN: u32 = 1000;

/// Slant of a line's ends when it does not say, degrees from square.
const USUAL_SLANT: f64 = 45.0;

/// Length of an arrow head in stripe widths: common practice, no source.
const USUAL_HEAD: f64 = 3.0;

/// Angle between the arms of a chevron, degrees: common practice, no source.
const USUAL_ANGLE: f64 = 90.0;

/// What the parts of one label share.
pub(super) struct Around<'l> {
    /// How texts are set that do not say so themselves.
    pub(super) text: &'l TextDraft,
    /// Where the label stands, for parts without a single value.
    pub(super) label: Place,
}

/// All parts of a list that can be used.
pub(super) fn parts(
    drafts: Vec<PartDraft>,
    around: &Around<'_>,
    reader: &mut Reader<'_, '_>,
) -> Vec<Part> {
    drafts.into_iter().filter_map(|draft| part(draft, around, reader)).collect()
}

fn part(mut draft: PartDraft, around: &Around<'_>, reader: &mut Reader<'_, '_>) -> Option<Part> {
    let place = scalars::part_place(&mut draft).unwrap_or(around.label);
    if elements(&draft) != 1 {
        let message = format!("a part is one element; this map has {}", elements(&draft));
        let help = "start a new `- ` line for each: text, box, line, ring, disc, chevron, dial, scale, symbol, art, code, bracket, row, column";
        reader.wrong("one-element", place, message, help);
        return None;
    }
    let PartDraft {
        text: words,
        frame: shape,
        line: stripe,
        ring,
        disc,
        chevron,
        dial,
        scale,
        symbol,
        art,
        code,
        bracket,
        row,
        column,
    } = draft;
    if let Some(words) = words {
        let mut long = cascade::text_long(words);
        cascade::set_like(&mut long, around.text);
        return text::part(&long, place, reader);
    }
    if let Some(shape) = shape {
        return cascade::frame_long(shape).map(|shape| frame::part(&shape, place, reader));
    }
    stripe
        .and_then(|draft| line(&draft, place, reader))
        .or_else(|| ring.and_then(|draft| self::ring(&draft, place, reader)))
        .or_else(|| disc.and_then(|draft| self::disc(&draft, place, reader)))
        .or_else(|| chevron.and_then(|draft| self::chevron(&draft, place, reader)))
        .or_else(|| dial.and_then(|it| dial::part(&it, Kind::Dial, (place, around), reader)))
        .or_else(|| scale.and_then(|it| dial::part(&it, Kind::Straight, (place, around), reader)))
        .or_else(|| symbol.and_then(|draft| symbol::part(draft, place, around, reader)))
        .or_else(|| art.and_then(|draft| art::part(&draft, place, reader)))
        .or_else(|| code.and_then(|draft| code::part(&draft, place, reader)))
        .or_else(|| bracket.and_then(|it| panel::bracket(it, place, around, reader)))
        .or_else(|| row.and_then(|draft| group(draft, Direction::Row, (place, around), reader)))
        .or_else(|| {
            column.and_then(|draft| group(draft, Direction::Column, (place, around), reader))
        })
}

fn elements(draft: &PartDraft) -> usize {
    [
        draft.text.is_some(),
        draft.frame.is_some(),
        draft.line.is_some(),
        draft.ring.is_some(),
        draft.disc.is_some(),
        draft.chevron.is_some(),
        draft.dial.is_some(),
        draft.scale.is_some(),
        draft.symbol.is_some(),
        draft.art.is_some(),
        draft.code.is_some(),
        draft.bracket.is_some(),
        draft.row.is_some(),
        draft.column.is_some(),
    ]
    .into_iter()
    .filter(|there| *there)
    .count()
}

/// Where a part stands and how it is turned.
pub(super) fn set(
    at: Option<&Many>,
    turned: Option<&Typed>,
    (element, place): (Element, Place),
    reader: &mut Reader<'_, '_>,
) -> Part {
    let at = reader.at(at);
    let turned = reader.degrees(turned, -360.0..=360.0).unwrap_or(0.0);
    Part { at, turned, element, place }
}

/// A length the element cannot do without.
pub(super) fn needed(
    typed: Option<&Typed>,
    (element, key): (&str, &str),
    place: Place,
    reader: &mut Reader<'_, '_>,
) -> Option<f64> {
    if typed.is_none() {
        let message = format!("a {element} needs `{key}`");
        reader.wrong("missing", place, message, format!("add it, for example `{key}: 5 mm`"));
    }
    reader.length(typed, Least::Something)
}

fn black() -> Vec<Paint> {
    vec![Paint::Ink(Colour::BLACK)]
}

fn line(draft: &LineDraft, place: Place, reader: &mut Reader<'_, '_>) -> Option<Part> {
    let length = needed(draft.length.as_ref(), ("line", "length"), place, reader);
    let width = needed(draft.width.as_ref(), ("line", "width"), place, reader);
    let count = reader.count(draft.count.as_ref(), 1..=MOST_IN_TURN).unwrap_or(1);
    let pitch = reader.length(draft.pitch.as_ref(), Least::Something);
    let paints = reader.paints(draft.paint.as_ref()).unwrap_or_else(black);
    let ends = ends(draft, reader);
    let width = width?;
    let pitch = pitch.unwrap_or(2.0 * width);
    let line = Line { length: length?, width, count, pitch, ends, paints };
    let element = (Element::Line(line), place);
    Some(set(draft.at.as_ref(), draft.turned.as_ref(), element, reader))
}

fn ends(draft: &LineDraft, reader: &mut Reader<'_, '_>) -> [LineEnd; 2] {
    let slant = reader.degrees(draft.slant.as_ref(), -75.0..=75.0).unwrap_or(USUAL_SLANT);
    let head = reader.number(draft.head.as_ref(), 0.5..=100.0).unwrap_or(USUAL_HEAD);
    let words = [
        ("square", LineEnd::Square),
        ("round", LineEnd::Round),
        ("arrow", LineEnd::Arrow(head)),
        ("slant", LineEnd::Slant(slant)),
    ];
    let items = draft.ends.as_ref().map(|many| many.items.as_slice()).unwrap_or_default();
    let mut end = |typed| reader.choice(Some(typed), &words).unwrap_or(LineEnd::Square);
    match items {
        [] if draft.slant.is_some() => [LineEnd::Slant(slant); 2],
        [] => [LineEnd::Square; 2],
        [both] => [end(both); 2],
        [left, right] => [end(left), end(right)],
        [_, _, more, ..] => {
            let message = format!("{} ends of a line", items.len());
            reader.wrong("bad-pair", more.place, message, "write one for both, or [left, right]");
            [LineEnd::Square; 2]
        }
    }
}

fn ring(draft: &RingDraft, place: Place, reader: &mut Reader<'_, '_>) -> Option<Part> {
    let outer = needed(draft.outer.as_ref(), ("ring", "outer"), place, reader);
    let inner = needed(draft.inner.as_ref(), ("ring", "inner"), place, reader);
    let paint = reader.paint(draft.paint.as_ref()).unwrap_or(Paint::Ink(Colour::BLACK));
    let (outer, inner) = (outer?, inner?);
    if inner >= outer {
        let place = draft.inner.as_ref().map_or(place, |typed| typed.place);
        let message = "the ring's inner diameter is not less than its outer one".to_owned();
        reader.wrong("bad-ring", place, message, "make `inner` smaller than `outer`");
        return None;
    }
    let element = (Element::Ring(Ring { outer, inner, paint }), place);
    Some(set(draft.at.as_ref(), None, element, reader))
}

fn disc(draft: &DiscDraft, place: Place, reader: &mut Reader<'_, '_>) -> Option<Part> {
    let outer = needed(draft.diameter.as_ref(), ("disc", "diameter"), place, reader);
    let paint = reader.paint(draft.paint.as_ref()).unwrap_or(Paint::Ink(Colour::BLACK));
    let element = (Element::Ring(Ring { outer: outer?, inner: 0.0, paint }), place);
    Some(set(draft.at.as_ref(), None, element, reader))
}

fn chevron(draft: &ChevronDraft, place: Place, reader: &mut Reader<'_, '_>) -> Option<Part> {
    let width = needed(draft.width.as_ref(), ("chevron", "width"), place, reader);
    let height = needed(draft.height.as_ref(), ("chevron", "height"), place, reader);
    let gap = reader.length(draft.gap.as_ref(), Least::Nought);
    let count = reader.count(draft.count.as_ref(), 1..=MOST_IN_TURN).unwrap_or(1);
    let angle = reader.degrees(draft.angle.as_ref(), 10.0..=170.0).unwrap_or(USUAL_ANGLE);
    let paints = reader.paints(draft.paint.as_ref()).unwrap_or_else(black);
    let width = width?;
    let gap = gap.unwrap_or(width);
    let chevron = Chevron { count, width, gap, height: height?, angle, paints };
    let element = (Element::Chevron(chevron), place);
    Some(set(draft.at.as_ref(), draft.turned.as_ref(), element, reader))
}

fn group(
    draft: GroupDraft,
    direction: Direction,
    (place, around): (Place, &Around<'_>),
    reader: &mut Reader<'_, '_>,
) -> Option<Part> {
    let mut words = vec![
        ("start", GroupAlign::Start),
        ("centre", GroupAlign::Centre),
        ("end", GroupAlign::End),
    ];
    if direction == Direction::Row {
        words.push(("base-line", GroupAlign::BaseLine));
    }
    let align = reader.choice(draft.align.as_ref(), &words).unwrap_or(GroupAlign::Centre);
    let gap = reader.length(draft.gap.as_ref(), Least::Any).unwrap_or(1.0);
    if draft.parts.is_empty() {
        let message = "a row or column needs `parts`".to_owned();
        reader.wrong("missing", place, message, "list them under `parts:`");
    }
    let members = parts(draft.parts, around, reader);
    if members.is_empty() {
        return None;
    }
    let element = (Element::Group(Group { direction, gap, align, parts: members }), place);
    Some(set(draft.at.as_ref(), draft.turned.as_ref(), element, reader))
}
