//! Boxes, with their outline, fill and border decided.

use super::reader::{Least, Reader, quoted};
use crate::colour::Colour;
use crate::finding::Place;
use crate::spec::cascade;
use crate::spec::draft::{FrameDraft, FrameLineDraft};
use crate::spec::typed::{Shorthand, Typed};
use crate::spec::{Corners, Element, Frame, FrameLine, Paint, Part};
use kurbo::{Size, Vec2};

/// The word for an outline, before its measure is read.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Outline {
    Rounded,
    RoundEnded,
    Ellipse,
    Slanted,
    Pointed,
}

/// What a round-ended box was called: told for one release, so that old jobs are put right with ease.
const FORMER_ROUND_ENDED: &str = "pill";

/// How far a slanted box leans when it does not say, degrees: as italic letters of the bold kind do.
const USUAL_SLANT: f64 = 15.0;

/// The usual point of a pointed box, mm.
const USUAL_POINT: f64 = 2.0;

/// Width of a border that does not say, mm: what every class of printer can print.
const USUAL_LINE: f64 = 0.5;

/// A box as a part.
pub(super) fn part(draft: &FrameDraft, place: Place, reader: &mut Reader<'_, '_>) -> Part {
    let fill = match &draft.fill {
        Some(typed) if typed.text.trim() == "none" => None,
        fill => reader.paint(fill.as_ref()),
    };
    let pair = |many: Option<(f64, f64)>| many.unwrap_or_default();
    let size = reader.one_or_pair(draft.size.as_ref(), Least::Something);
    let padding = pair(reader.one_or_pair(draft.padding.as_ref(), Least::Nought));
    let least = pair(reader.one_or_pair(draft.least.as_ref(), Least::Nought));
    let frame = Frame {
        size: size.map(|(width, height)| Size::new(width, height)),
        padding: Vec2::new(padding.0, padding.1),
        least: Size::new(least.0, least.1),
        corners: corners(draft, reader),
        fill,
        line: draft.line.clone().and_then(|line| border(line, reader)),
    };
    let at = reader.at(draft.at.as_ref());
    let turned = reader.degrees(draft.turned.as_ref(), -360.0..=360.0).unwrap_or(0.0);
    Part { at, turned, element: Element::Box(frame), place }
}

/// The outline a box asks for; `None` when it does not say, or says what is none.
fn outline(asked: Option<&Typed>, reader: &mut Reader<'_, '_>) -> Option<Outline> {
    if let Some(old) = asked.filter(|asked| asked.text.trim() == FORMER_ROUND_ENDED) {
        let message = format!("the shape {} is now called `round-ended`", quoted(&old.text));
        reader.wrong("bad-value", old.place, message, "write `shape: round-ended`");
        return Some(Outline::RoundEnded);
    }
    let words = [
        ("rounded", Outline::Rounded),
        ("round-ended", Outline::RoundEnded),
        ("ellipse", Outline::Ellipse),
        ("slanted", Outline::Slanted),
        ("pointed", Outline::Pointed),
    ];
    reader.choice(asked, &words)
}

fn corners(draft: &FrameDraft, reader: &mut Reader<'_, '_>) -> Corners {
    let told = outline(draft.shape.as_ref(), reader);
    let outline = told.unwrap_or(match (&draft.slant, &draft.point) {
        (Some(_), _) => Outline::Slanted,
        (None, Some(_)) => Outline::Pointed,
        (None, None) => Outline::Rounded,
    });
    let radius = reader.length(draft.radius.as_ref(), Least::Nought);
    let slant = reader.degrees(draft.slant.as_ref(), -60.0..=60.0);
    let point = reader.length(draft.point.as_ref(), Least::Nought);
    for (typed, key, its) in [
        (&draft.radius, "radius", Outline::Rounded),
        (&draft.slant, "slant", Outline::Slanted),
        (&draft.point, "point", Outline::Pointed),
    ] {
        if outline != its {
            without_effect(typed.as_ref(), key, reader);
        }
    }
    match outline {
        Outline::Rounded => Corners::Radius(radius.unwrap_or(0.0)),
        Outline::RoundEnded => Corners::RoundEnded,
        Outline::Ellipse => Corners::Ellipse,
        Outline::Slanted => Corners::Slanted(slant.unwrap_or(USUAL_SLANT)),
        Outline::Pointed => Corners::Pointed(point.unwrap_or(USUAL_POINT)),
    }
}

fn without_effect(typed: Option<&Typed>, key: &str, reader: &mut Reader<'_, '_>) {
    let Some(typed) = typed else { return };
    let message = format!("`{key}` has no effect on a box of this shape");
    reader.wrong("no-effect", typed.place, message, "take it out, or choose the shape it is for");
}

fn border(line: Shorthand<FrameLineDraft>, reader: &mut Reader<'_, '_>) -> Option<FrameLine> {
    let draft = cascade::frame_line_long(line)?;
    Some(FrameLine {
        width: reader.length(draft.width.as_ref(), Least::Something).unwrap_or(USUAL_LINE),
        inset: reader.length(draft.inset.as_ref(), Least::Nought).unwrap_or(0.0),
        paint: reader.paint(draft.paint.as_ref()).unwrap_or(Paint::Ink(Colour::BLACK)),
    })
}
