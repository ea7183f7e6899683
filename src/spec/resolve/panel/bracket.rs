//! The bracket over a group of controls.

use super::super::parts::{Around, needed, set};
use super::super::reader::{Least, Reader};
use super::super::text;
use crate::colour::Colour;
use crate::finding::Place;
use crate::spec::panel_draft::BracketDraft;
use crate::spec::{Bracket, Element, Paint, Part, cascade};

/// Width of its line when not said, mm, and length of its bent ends (common practice, no source).
const USUAL_WIDTH_MM: f64 = 0.35;
const USUAL_ENDS_MM: f64 = 1.5;

pub(in super::super) fn part(
    draft: BracketDraft,
    place: Place,
    around: &Around<'_>,
    reader: &mut Reader<'_, '_>,
) -> Option<Part> {
    let length = needed(draft.length.as_ref(), ("bracket", "length"), place, reader);
    let width = reader.length(draft.width.as_ref(), Least::Something).unwrap_or(USUAL_WIDTH_MM);
    let ends = reader.length(draft.ends.as_ref(), Least::Nought).unwrap_or(USUAL_ENDS_MM);
    let up = reader.choice(draft.bent.as_ref(), &[("down", false), ("up", true)]);
    let paint = reader.paint(draft.paint.as_ref()).unwrap_or(Paint::Ink(Colour::BLACK));
    let title = draft.title.and_then(|title| {
        let mut long = cascade::text_long(title);
        cascade::set_like(&mut long, around.text);
        text::part(&long, place, reader)
    });
    let title = title.and_then(|part| match part.element {
        Element::Text(text) => Some(text),
        _ => None,
    });
    let ends_mm = if up == Some(true) { -ends } else { ends };
    let bracket = Bracket { length: length?, ends: ends_mm, width, paint, title };
    let element = (Element::Bracket(Box::new(bracket)), place);
    Some(set(draft.at.as_ref(), draft.turned.as_ref(), element, reader))
}
