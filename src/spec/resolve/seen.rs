//! How labels are seen: viewing distances, colours as shown and printed, white under the ink.

use super::choices;
use super::reader::{Least, Reader, quoted};
use crate::colour::Colour;
use crate::finding::Place;
use crate::spec::seen_draft::{ColourDraft, ViewedDraft, WhiteDraft};
use crate::spec::typed::{Shorthand, Typed};
use crate::spec::{Printer, Reading, UnderPrint, Viewed, White, WhiteArea, usual_choke_mm};

/// How far a backing of white film stays inside the ink, mm: a hand lays it less exactly than a printer feeds.
/// Common practice, no source.
const BACKING_CHOKE_MM: f64 = 0.30;

/// From where something is read; `None` when not given or wrong.
pub(super) fn viewed(
    draft: Option<&Shorthand<ViewedDraft>>,
    reader: &mut Reader<'_, '_>,
) -> Option<Viewed> {
    let (distance, reading) = match draft? {
        short @ Shorthand::Short(many) => {
            choices::one_value(short, reader);
            (many.items.first(), None)
        }
        Shorthand::Long(map) => (map.distance.as_ref(), map.reading.as_ref()),
    };
    let words =
        [("panel", Reading::Panel), ("sign", Reading::Sign), ("poor-light", Reading::PoorLight)];
    let reading_as = reader.choice(reading, &words).unwrap_or(Reading::Panel);
    if distance.is_none() {
        let place = reading.map(|typed| typed.place).unwrap_or_default();
        let message = "no distance is given".to_owned();
        reader.wrong("missing", place, message, "add `distance: 700 mm`");
    }
    let distance_mm = reader.far(distance)?;
    Some(Viewed { distance_mm, reading: reading_as })
}

/// A colour as it should look, and what is sent to the printer for it where that is another.
pub(super) fn colour(
    draft: &Shorthand<ColourDraft>,
    name: &str,
    reader: &mut Reader<'_, '_>,
) -> (Option<Colour>, Option<Colour>) {
    choices::one_value(draft, reader);
    match draft {
        Shorthand::Short(many) => (reader.colour(many.items.first()), None),
        Shorthand::Long(map) => {
            if map.shown.is_none() {
                let place = map.print.as_ref().map(|typed| typed.place).unwrap_or_default();
                let message = format!("the colour {} does not say how it looks", quoted(name));
                reader.wrong("missing", place, message, "add `shown: \"#ad2b24\"`");
            }
            (reader.colour(map.shown.as_ref()), reader.colour(map.print.as_ref()))
        }
    }
}

/// Where a colour's name or value stands.
pub(super) fn colour_place(draft: &Shorthand<ColourDraft>) -> Place {
    let typed = match draft {
        Shorthand::Short(many) => many.items.first(),
        Shorthand::Long(map) => map.shown.as_ref().or(map.print.as_ref()),
    };
    typed.map(|typed| typed.place).unwrap_or_default()
}

/// Where it says what is printed for a colour.
pub(super) fn print_place(draft: &Shorthand<ColourDraft>) -> Place {
    let typed = match draft {
        Shorthand::Short(_) => None,
        Shorthand::Long(map) => map.print.as_ref(),
    };
    typed.map(|typed| typed.place).unwrap_or_default()
}

/// The ways white can lie under a label.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    None,
    Under,
    Backing,
}

const WAYS: [(&str, Way); 3] =
    [("under", Way::Under), ("backing", Way::Backing), ("none", Way::None)];

/// White under a label's ink.
pub(super) fn white(
    draft: Option<&Shorthand<WhiteDraft>>,
    printer: &Printer,
    reader: &mut Reader<'_, '_>,
) -> White {
    let plain = WhiteDraft::default();
    let (way, map): (Option<&Typed>, &WhiteDraft) = match draft {
        None => return White::None,
        Some(short @ Shorthand::Short(many)) => {
            choices::one_value(short, reader);
            (many.items.first(), &plain)
        }
        Some(Shorthand::Long(map)) => (map.way.as_ref(), map),
    };
    let way = reader.choice(way, &WAYS).unwrap_or(Way::Under);
    let choke = reader.length(map.choke.as_ref(), Least::Nought);
    match way {
        Way::None => White::None,
        Way::Backing => {
            only_under(map, reader);
            White::Backing { choke_mm: choke.unwrap_or(BACKING_CHOKE_MM) }
        }
        Way::Under => {
            let tint = reader.number(map.tint.as_ref(), 0.05..=1.0).unwrap_or(1.0);
            White::Under(UnderPrint {
                area: area(map, reader),
                tint,
                choke_mm: choke.unwrap_or(usual_choke_mm(printer)),
            })
        }
    }
}

fn area(map: &WhiteDraft, reader: &mut Reader<'_, '_>) -> WhiteArea {
    let words = [("ink", false), ("label", true)];
    let whole = reader.choice(map.area.as_ref(), &words);
    let Some(of) = &map.of else {
        return if whole == Some(true) { WhiteArea::Label } else { WhiteArea::Ink };
    };
    if let Some(area) = &map.area {
        let message = "`area` and `of` both say where white is printed".to_owned();
        reader.wrong("two-areas", area.place, message, "keep one of them");
    }
    WhiteArea::Of(of.items.iter().filter_map(|item| reader.colour(Some(item))).collect())
}

/// Tells of keys that mean nothing for a backing.
fn only_under(map: &WhiteDraft, reader: &mut Reader<'_, '_>) {
    let of = map.of.as_ref().and_then(|many| many.items.first());
    for (key, typed) in [("area", map.area.as_ref()), ("of", of), ("tint", map.tint.as_ref())] {
        if let Some(typed) = typed {
            let message = format!("`{key}` says what is printed; a backing is cut from white film");
            reader.wrong("bad-value", typed.place, message, "take it away, or write `as: under`");
        }
    }
}
