//! Words on a label, with every choice about their setting made.

use super::reader::{Least, Reader};
use crate::colour::Colour;
use crate::finding::Place;
use crate::spec::dial::{Arc, Reads};
use crate::spec::dial_draft::ArcDraft;
use crate::spec::draft::TextDraft;
use crate::spec::typed::Many;
use crate::spec::{Align, Element, Paint, Part, Text, TextSize};

/// What stands in where a value was wrong; the values people get are those of the style `plain`.
const CAP_HEIGHT: f64 = 3.0;
const LINE_PITCH: f64 = 1.7;

/// A text as a part; `None` when it has no words.
pub(super) fn part(
    draft: &TextDraft,
    fallback: Place,
    reader: &mut Reader<'_, '_>,
) -> Option<Part> {
    let place = draft.text.as_ref().and_then(|many| many.items.first()).map(|item| item.place);
    let place = place.unwrap_or(fallback);
    let lines = lines(draft.text.as_ref(), place, reader);
    let at = reader.at(draft.at.as_ref());
    let turned = reader.degrees(draft.turned.as_ref(), -360.0..=360.0).unwrap_or(0.0);
    let text = setting(draft, lines, place, reader);
    if text.lines.is_empty() {
        return None;
    }
    Some(Part { at, turned, element: Element::Text(text), place })
}

/// The words line by line; empty, and told so, when there is nothing to read.
fn lines(words: Option<&Many>, place: Place, reader: &mut Reader<'_, '_>) -> Vec<String> {
    let items = words.map(|many| many.items.as_slice()).unwrap_or_default();
    let mut lines: Vec<String> = Vec::with_capacity(items.len());
    for item in items {
        match item.text.as_str() {
            "" => lines.push(String::new()),
            text => lines.extend(text.lines().map(str::to_owned)),
        }
    }
    if lines.iter().all(|line| line.trim().is_empty()) {
        let help = "write its words; quote them if they start with # or !";
        reader.wrong("empty-text", place, "the text has no words".into(), help);
        return Vec::new();
    }
    lines
}

fn setting(
    draft: &TextDraft,
    lines: Vec<String>,
    place: Place,
    reader: &mut Reader<'_, '_>,
) -> Text {
    let paint = reader.paint(draft.paint.as_ref()).unwrap_or(Paint::Ink(Colour::BLACK));
    let font = match &draft.font {
        Some(font) => reader.font(font),
        None if reversed(paint) => "label-reversed".into(),
        None => "label".into(),
    };
    let aligns = [("left", Align::Left), ("centre", Align::Centre), ("right", Align::Right)];
    let upper = reader.choice(draft.case.as_ref(), &[("as-typed", false), ("upper", true)]);
    let lines = match upper {
        Some(true) => lines.iter().map(|line| line.to_uppercase()).collect(),
        Some(false) | None => lines,
    };
    let arc = draft.arc.as_ref().and_then(|arc| self::arc(arc, draft, place, reader));
    Text {
        lines,
        font,
        size: size(draft, reader),
        tracking: reader.number(draft.tracking.as_ref(), -0.5..=5.0).unwrap_or(0.0),
        line_pitch: reader.number(draft.line_pitch.as_ref(), 0.1..=20.0).unwrap_or(LINE_PITCH),
        align: reader.choice(draft.align.as_ref(), &aligns).unwrap_or(Align::Centre),
        width: reader.length(draft.width.as_ref(), Least::Something),
        spread: spread(draft, arc, reader),
        arc,
        tabular: reader.yes(draft.tabular.as_ref()).unwrap_or(false),
        paint,
        place,
    }
}

/// The arc a text stands on.
fn arc(
    draft: &ArcDraft,
    text: &TextDraft,
    place: Place,
    reader: &mut Reader<'_, '_>,
) -> Option<Arc> {
    if draft.radius.is_none() {
        let help = "add the radius of its base line: `arc: {radius: 20 mm}`";
        reader.wrong("missing", place, "an arc needs `radius`".into(), help);
    }
    if let Some(fit) = text.fit.as_ref().and_then(|many| many.items.first()) {
        let help = "give `cap_height` instead";
        reader.wrong("no-effect", fit.place, "`fit` has no effect on an arc".into(), help);
    }
    let reads = [("outward", Reads::Outward), ("inward", Reads::Inward)];
    let centre = reader.degrees(draft.centre.as_ref(), -360.0..=360.0).unwrap_or(0.0);
    let reads = reader.choice(draft.reads.as_ref(), &reads).unwrap_or(Reads::Outward);
    Some(Arc { radius: reader.length(draft.radius.as_ref(), Least::Something)?, centre, reads })
}

/// How wide a text is spaced out to be, along its line or its arc.
fn spread(draft: &TextDraft, arc: Option<Arc>, reader: &mut Reader<'_, '_>) -> Option<f64> {
    let width = reader.length(draft.spread.as_ref(), Least::Something);
    let sweep = draft.arc.as_ref().and_then(|arc| arc.sweep.as_ref());
    let sweep = reader.degrees(sweep, 1.0..=360.0);
    width.or(sweep.zip(arc).map(|(sweep, arc)| sweep.to_radians() * arc.radius))
}

/// Clear or white letters in ink look thinner than they are: they get the bolder face.
fn reversed(paint: Paint) -> bool {
    paint == Paint::Clear || paint == Paint::Ink(Colour::WHITE)
}

fn size(draft: &TextDraft, reader: &mut Reader<'_, '_>) -> TextSize {
    let cap_height = reader.length(draft.cap_height.as_ref(), Least::Something);
    let em = reader.length(draft.em.as_ref(), Least::Something);
    let fit = reader.size(draft.fit.as_ref());
    cap_height
        .map(TextSize::CapHeight)
        .or(em.map(TextSize::Em))
        .or(fit.map(TextSize::Fit))
        .unwrap_or(TextSize::CapHeight(CAP_HEIGHT))
}
