//! Colours, words and surfaces: what a job gives names to.

use super::choices;
use super::reader::{Reader, plain_number, quoted};
use super::seen;
use super::sheet::APPLIED;
use crate::colour::Colour;
use crate::finding::Place;
use crate::spec::draft::SurfaceDraft;
use crate::spec::seen_draft::ColourDraft;
use crate::spec::typed::{Shorthand, Typed};
use crate::spec::{Applied, Surface, fill};
use std::collections::BTreeMap;

/// Names the job may not give to a colour: they mean something else already.
const NOT_COLOURS: [&str; 2] = ["clear", "none"];

/// Reads `colours:` into the reader, after the two that are always there.
///
/// What comes back is what the printer is sent for a colour, where that is another.
pub(super) fn colours(
    drafts: BTreeMap<String, Shorthand<ColourDraft>>,
    reader: &mut Reader<'_, '_>,
) -> BTreeMap<Colour, Colour> {
    reader.colours.insert("black".into(), Colour::BLACK);
    reader.colours.insert("white".into(), Colour::WHITE);
    let (mut named, mut printed) = (BTreeMap::new(), BTreeMap::new());
    for (name, draft) in drafts {
        if NOT_COLOURS.contains(&name.as_str()) {
            let message = format!("a colour cannot be called {}", quoted(&name));
            let place = seen::colour_place(&draft);
            reader.wrong("bad-colour", place, message, "give it another name");
        } else {
            // A colour that cannot be read is black from here on: its uses are not wrong.
            let (shown, print) = seen::colour(&draft, &name, reader);
            let shown = shown.unwrap_or(Colour::BLACK);
            if let Some(print) = print {
                let place = seen::print_place(&draft);
                sent(&name, (shown, print), place, &mut printed, reader);
            }
            named.insert(name, shown);
        }
    }
    reader.colours.append(&mut named);
    printed
}

/// Keeps what the printer is sent for a colour, unless nothing would print or two names want two things.
fn sent(
    name: &str,
    (shown, print): (Colour, Colour),
    place: Place,
    printed: &mut BTreeMap<Colour, Colour>,
    reader: &mut Reader<'_, '_>,
) {
    if print == Colour::WHITE && shown != Colour::WHITE {
        let message = format!("the colour {} would be printed white: nothing", quoted(name));
        reader.wrong(
            "bad-colour",
            place,
            message,
            "give `print:` the colour of the patch you picked",
        );
    } else if printed.insert(shown, print).is_some_and(|known| known != print) {
        let message = format!("{shown} is printed in two ways; {} is the second", quoted(name));
        let help = "give both colours the same `print:`, or make them look different";
        reader.wrong("bad-colour", place, message, help);
    }
}

/// Reads `words:` into the reader. A word holds no other word.
pub(super) fn words(drafts: BTreeMap<String, Typed>, reader: &mut Reader<'_, '_>) {
    let mut all = BTreeMap::new();
    for (name, typed) in drafts {
        let word = match fill::words(&typed.text, |_| None) {
            Ok(word) => word,
            Err(fill::Unfilled::Unknown(inner)) => {
                let message =
                    format!("the word {} holds another, {}", quoted(&name), quoted(&inner));
                let help = "write it out here, or put both names into the label";
                reader.wrong("word-in-word", typed.place, message, help);
                typed.text
            }
            Err(unfilled) => {
                reader.unfilled(&typed, &unfilled);
                typed.text
            }
        };
        all.insert(name, word);
    }
    reader.words = all;
}

/// The model's scale, 87 for `1:87`.
pub(super) fn scale(typed: Option<&Typed>, reader: &mut Reader<'_, '_>) -> Option<f64> {
    let typed = typed?;
    let text = typed.text.trim();
    let ratio = match text.split_once([':', '/']) {
        Some((one, many)) => {
            plain_number(many.trim()).zip(plain_number(one.trim())).map(|(many, one)| many / one)
        }
        None => plain_number(text),
    };
    let ratio = ratio.filter(|ratio| (0.001..=100_000.0).contains(ratio));
    if ratio.is_none() {
        let message = format!("{} is not a scale", quoted(text));
        reader.wrong("bad-scale", typed.place, message, "write it as 1:87");
    }
    ratio
}

/// The surfaces, and how labels get onto those that say so.
pub(super) fn surfaces(
    drafts: BTreeMap<String, Shorthand<SurfaceDraft>>,
    reader: &mut Reader<'_, '_>,
) -> (BTreeMap<String, Surface>, BTreeMap<String, Applied>) {
    let (mut surfaces, mut applied) = (BTreeMap::new(), BTreeMap::new());
    for (name, draft) in drafts {
        choices::one_value(&draft, reader);
        let draft = match draft {
            Shorthand::Short(colour) => {
                SurfaceDraft { colour: colour.items.into_iter().next(), ..Default::default() }
            }
            Shorthand::Long(map) => *map,
        };
        let scalars = [&draft.colour, &draft.finish, &draft.applied];
        let place = scalars.into_iter().flatten().map(|typed| typed.place).next();
        let place = place.unwrap_or_default();
        if draft.colour.is_none() {
            let message = format!("the surface {} has no colour", quoted(&name));
            reader.wrong("missing", place, message, "add `colour:` and how it looks: \"#aeb4b8\"");
        }
        // A surface that cannot be read still stands: its labels are not wrong.
        let colour = reader.colour(draft.colour.as_ref()).unwrap_or(Colour::WHITE);
        if let Some(way) = reader.choice(draft.applied.as_ref(), &APPLIED) {
            applied.insert(name.clone(), way);
        }
        let finish = draft.finish.map(|finish| finish.text.trim().to_owned());
        let viewed = seen::viewed(draft.viewed_from.as_ref(), reader);
        surfaces.insert(name, Surface { colour, finish, viewed, place });
    }
    (surfaces, applied)
}
