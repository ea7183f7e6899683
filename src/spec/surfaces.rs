//! Colours, words and surfaces: what a job gives names to.

use super::fill;
use super::reader::{Reader, plain_number};
use super::seen::{self, ColourKeys, Viewed, ViewedKeys};
use super::sheet::Applied;
use crate::colour::Colour;
use crate::finding::{Place, quoted};
use crate::yaml::{Placed, Scalar, keys};
use std::collections::BTreeMap;

/// Names the job may not give to a colour: they mean something else already.
const NOT_COLOURS: [&str; 2] = ["clear", "none"];

keys! {
    /// What labels go on.
    #[schemars(extend("x-short" = "colour"))]
    pub(super) struct SurfaceKeys;

    /// What labels go on.
    pub struct Surface {
        /// Its colour.
        colour: Option<Scalar> => Colour,
        /// Its finish, in your words: matt, gloss, metallic.
        finish: Option<Scalar> => Option<String>,
        /// How labels get onto it.
        applied: Option<Scalar>,
        /// From where it is read: a distance, or a map.
        viewed_from: Option<ViewedKeys>,
        /// From where it is read.
        viewed => Option<Viewed>,
        /// Where it is asked for.
        place => Place,
    }
}

/// Reads `colours:` into the reader, after the two that are always there.
///
/// What comes back is what the printer is sent for a colour, where that is another.
pub(super) fn colours(
    all: BTreeMap<String, ColourKeys>,
    reader: &mut Reader,
) -> BTreeMap<Colour, Colour> {
    reader.colours.insert("black".into(), Colour::BLACK);
    reader.colours.insert("white".into(), Colour::WHITE);
    let (mut named, mut printed) = (BTreeMap::new(), BTreeMap::new());
    for (name, keys) in all {
        if NOT_COLOURS.contains(&name.as_str()) {
            let message = format!("a colour cannot be called {}", quoted(&name));
            let place = keys.place();
            reader.wrong("bad-colour", place, message, "give it another name");
        } else {
            // A colour that cannot be read is black from here on: its uses are not wrong.
            let (shown, print) = keys.colours(&name, reader);
            let shown = shown.unwrap_or(Colour::BLACK);
            if let Some(print) = print {
                sent(&name, shown, print, keys.print_place(), &mut printed, reader);
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
    shown: Colour,
    print: Colour,
    place: Place,
    printed: &mut BTreeMap<Colour, Colour>,
    reader: &mut Reader,
) {
    if print == Colour::WHITE && shown != Colour::WHITE {
        let message = format!("the colour {} would be printed white: nothing", quoted(name));
        let help = "give `print:` the colour of the patch you picked";
        reader.wrong("bad-colour", place, message, help);
    } else if printed.insert(shown, print).is_some_and(|known| known != print) {
        let message = format!("{shown} is printed in two ways; {} is the second", quoted(name));
        let help = "give both colours the same `print:`, or make them look different";
        reader.wrong("bad-colour", place, message, help);
    }
}

/// Reads `words:` into the reader. A word holds no other word.
pub(super) fn words(words: BTreeMap<String, Scalar>, reader: &mut Reader) {
    let mut all = BTreeMap::new();
    for (name, word) in words {
        let text = match fill::words(&word.text, |_| None) {
            Ok(text) => text,
            Err(fill::Unfilled::Unknown(inner)) => {
                let message =
                    format!("the word {} holds another, {}", quoted(&name), quoted(&inner));
                let help = "write it out here, or put both names into the label";
                reader.wrong("word-in-word", word.place, message, help);
                word.text
            }
            Err(unfilled) => {
                reader.unfilled(&word, &unfilled);
                word.text
            }
        };
        all.insert(name, text);
    }
    reader.words = all;
}

/// The model's scale, 87 for `1:87`.
pub(super) fn scale(scalar: &Option<Scalar>, reader: &mut Reader) -> Option<f64> {
    let scalar = scalar.as_ref()?;
    let text = scalar.trimmed();
    let ratio = match text.split_once([':', '/']) {
        Some((one, many)) => {
            plain_number(many.trim()).zip(plain_number(one.trim())).map(|(many, one)| many / one)
        }
        None => plain_number(text),
    };
    let ratio = ratio.filter(|ratio| (0.001..=100_000.0).contains(ratio));
    if ratio.is_none() {
        let message = format!("{} is not a scale", quoted(text));
        reader.wrong("bad-scale", scalar.place, message, "write it as 1:87");
    }
    ratio
}

/// The surfaces, and how labels get onto those that say so.
pub(super) fn surfaces(
    all: BTreeMap<String, Placed<SurfaceKeys>>,
    reader: &mut Reader,
) -> (BTreeMap<String, Surface>, BTreeMap<String, Applied>) {
    let (mut surfaces, mut applied) = (BTreeMap::new(), BTreeMap::new());
    for (name, Placed { place, value: keys }) in all {
        if keys.colour.is_none() {
            let message = format!("the surface {} has no colour", quoted(&name));
            reader.wrong("missing", place, message, "add `colour:` and how it looks: \"#aeb4b8\"");
        }
        // A surface that cannot be read still stands: its labels are not wrong.
        let colour = reader.colour(&keys.colour).unwrap_or(Colour::WHITE);
        if let Some(way) = reader.word(&keys.applied) {
            applied.insert(name.clone(), way);
        }
        let finish = keys.finish.map(|finish| finish.trimmed().to_owned());
        let viewed = seen::viewed(&keys.viewed_from, reader);
        surfaces.insert(name, Surface { colour, finish, viewed, place });
    }
    (surfaces, applied)
}
