//! The cascade, on trees: what a label does not say itself comes from its style, key by key.
//!
//! Which keys exclude each other is said in [`CHOICES`] alone: a map that sets one of them has made the choice,
//! and what lies under it no longer comes through; one map that sets two is a mistake.

use super::reader::Reader;
use crate::finding::Place;
use crate::yaml::{Key, Kind, Tree};
use std::rc::Rc;

/// Keys that stand for one choice.
struct Choice {
    /// The key whose map they are keys of; `None`: a label's own.
    of: Option<&'static str>,
    keys: &'static [&'static str],
    /// The code of two in one map, and what to do about it; `None` where another rule reports that.
    both: Option<(&'static str, &'static str)>,
}

const CHOICES: [Choice; 5] = [
    Choice {
        of: None,
        keys: &["bleed", "film_border"],
        both: Some((
            "bleed-and-border",
            "bleed carries ink past the trim, a film border keeps ink inside it: keep one",
        )),
    },
    Choice {
        of: None,
        keys: &["rows", "series"],
        both: Some((
            "rows-and-series",
            "put the numbers into a column of the table, or leave the table out",
        )),
    },
    Choice {
        of: None,
        keys: &["gap", "from_middle"],
        both: Some((
            "two-gaps",
            "a gap counts from what covers the panel, `from_middle` from the hole's middle: keep one",
        )),
    },
    Choice {
        of: Some("text"),
        keys: &SIZES,
        both: Some(("two-sizes", "each sets how tall the text is: keep one")),
    },
    Choice { of: Some("box"), keys: &["shape", "radius", "slant", "point"], both: None },
];

/// What sets how tall a text is; a panel's legend may give its `level` instead.
const SIZES: [&str; 3] = ["cap_height", "em", "fit"];

/// Maps that are filled up key by key; other maps are taken whole.
const FILLED_UP: [&str; 3] = ["text", "box", "line"];

/// Lists to which a label adds its own.
const ADDED: [&str; 1] = ["allow"];

/// What a text keeps to itself when others are set like it.
const OWN_TO_A_TEXT: [&str; 7] = ["text", "at", "turned", "width", "spread", "arc", "fit"];

/// A label or style with the style under it.
pub(super) fn over(own: &Tree, under: &Tree) -> Rc<Tree> {
    let sized = |label: &Tree| label.get("text").is_some_and(|text| has_any(text, &SIZES));
    let mut under = under.only(|key| key != "level" || !sized(own));
    if let (Some(_), Some(text)) = (own.get("level"), under.get("text")) {
        let text = text.only(|key| !SIZES.contains(&key));
        under = under.with("text", text);
    }
    filled_up(own, &under, None)
}

/// A map with what it leaves open from the one under it; `of` is the key they are values of.
fn filled_up(own: &Tree, under: &Tree, of: Option<&str>) -> Rc<Tree> {
    let mut entries: Vec<(Key, Rc<Tree>)> = own.entries().to_vec();
    for (key, below) in under.entries() {
        let word = &*key.text;
        let known = entries.iter_mut().find(|(known, _)| known.text == key.text);
        match known {
            Some((_, value)) if ADDED.contains(&word) => *value = added(value, below),
            Some((_, value)) if FILLED_UP.contains(&word) => {
                if let (Kind::Map(_), Kind::Map(_)) = (&value.kind, &below.kind) {
                    *value = filled_up(value, below, Some(word));
                }
            }
            Some(_) => {}
            None if is_settled(own, under, of, word) => {}
            None => entries.push((key.clone(), Rc::clone(below))),
        }
    }
    Rc::new(Tree { kind: Kind::Map(entries), place: own.place })
}

/// Whether a map has made the choice that a key stands for.
///
/// A box that names the very shape under it is still that box: its radius, slant or point come through.
fn is_settled(own: &Tree, under: &Tree, of: Option<&str>, key: &str) -> bool {
    let choice = CHOICES.iter().find(|choice| choice.of == of && choice.keys.contains(&key));
    let Some(choice) = choice.filter(|choice| has_any(own, choice.keys)) else { return false };
    let others: Vec<&str> = choice.keys.iter().copied().filter(|key| *key != "shape").collect();
    let word = |map: &Tree| map.scalar("shape").map(|shape| shape.text);
    let same_shape = word(own).is_some() && word(own) == word(under) && !has_any(own, &others);
    !same_shape
}

fn has_any(map: &Tree, keys: &[&str]) -> bool {
    keys.iter().any(|key| map.get(key).is_some())
}

/// Two values or lists as one list.
fn added(own: &Rc<Tree>, below: &Rc<Tree>) -> Rc<Tree> {
    let items = |tree: &Rc<Tree>| match &tree.kind {
        Kind::List(items) => items.clone(),
        Kind::Text(_) | Kind::Map(_) => vec![Rc::clone(tree)],
        Kind::Missing => Vec::new(),
    };
    let all = items(own).into_iter().chain(items(below)).collect();
    Rc::new(Tree { kind: Kind::List(all), place: own.place })
}

/// A label whose parts are set as its own text is, where they do not say so themselves: texts and titles but for
/// what each text keeps to itself, numbers of scales by font and paint, symbols by paint.
pub(super) fn parts_like_text(label: &Rc<Tree>) -> Rc<Tree> {
    match (label.get("text"), label.get("parts")) {
        (Some(text), Some(parts)) => label.with("parts", like(parts, text)),
        _ => Rc::clone(label),
    }
}

fn like(tree: &Rc<Tree>, text: &Tree) -> Rc<Tree> {
    let kind = match &tree.kind {
        Kind::List(items) => Kind::List(items.iter().map(|item| like(item, text)).collect()),
        Kind::Map(entries) => {
            let entry = |(key, value): &(Key, Rc<Tree>)| {
                let value = match (&*key.text, &value.kind) {
                    ("text" | "title", Kind::Map(_)) => {
                        let manner = text.only(|key| !OWN_TO_A_TEXT.contains(&key));
                        filled_up(value, &manner, Some("text"))
                    }
                    ("dial" | "scale", _) => {
                        filled_up(value, &text.only(|key| key == "font" || key == "paint"), None)
                    }
                    ("symbol", _) => filled_up(value, &text.only(|key| key == "paint"), None),
                    _ => like(value, text),
                };
                (key.clone(), value)
            };
            Kind::Map(entries.iter().map(entry).collect())
        }
        Kind::Text(_) | Kind::Missing => return Rc::clone(tree),
    };
    Rc::new(Tree { kind, place: tree.place })
}

/// Reports keys in one label or style that cannot both hold, in its parts too.
pub(super) fn check(label: &Tree, reader: &mut Reader<'_, '_>) {
    check_map(label, None, reader);
    if let Some(level) = label.get("level")
        && label.get("text").is_some_and(|text| has_any(text, &SIZES))
    {
        let message = "a level sets the cap height, and the text gives another size".to_owned();
        reader.wrong("two-sizes", level.place, message, "keep one of them");
    }
}

fn check_map(map: &Tree, of: Option<&str>, reader: &mut Reader<'_, '_>) {
    for choice in CHOICES.iter().filter(|choice| choice.of == of) {
        check_choice(map, choice, reader);
    }
    for (key, value) in map.entries() {
        match (&*key.text, &value.kind) {
            // A panel's legends are looked at one by one.
            ("panel", _) => {}
            ("title", _) => check_map(value, Some("text"), reader),
            (word, Kind::Map(_)) => check_map(value, Some(word), reader),
            (word, Kind::List(items)) => {
                items.iter().for_each(|item| check_map(item, Some(word), reader));
            }
            (_, Kind::Text(_) | Kind::Missing) => {}
        }
    }
}

fn check_choice(map: &Tree, choice: &Choice, reader: &mut Reader<'_, '_>) {
    let Some((code, help)) = choice.both else { return };
    let place = |key: &&'static str| Some((map.get(key)?.first_place()?, *key));
    let mut given: Vec<(Place, &str)> = choice.keys.iter().filter_map(place).collect();
    given.sort_unstable();
    let [(first, first_key), .., (last, last_key)] = given.as_slice() else { return };
    let line = reader.in_line(*first, *last);
    let message = format!("`{last_key}` here and `{first_key}`{line} cannot both hold");
    reader.wrong(code, *last, message, help);
}
