//! A tree against its schema: every slip of key or kind found in one go, and pruned, so that the rest can be read.
//!
//! The schema is what the keys' own structs yield; there is no second list of keys. Short forms come out as the
//! maps they stand for.

use super::schema::definition;
use super::slips::Slips;
use super::{Form, Key, Kind, Tree};
use crate::finding::{Finding, Place};
use crate::finding::{nearest, quoted};
use serde_json::{Map, Value};
use std::rc::Rc;

/// At most this many known keys are listed when none is near.
const LISTED: usize = 12;

/// What may stand at one spot.
#[derive(Default)]
struct Allowed<'a> {
    value: bool,
    /// What the items of a list must be.
    list: Option<&'a Value>,
    map: Option<&'a Map<String, Value>>,
    /// The key of the map that a value stands for.
    short: Option<&'a str>,
    /// Whether `none` takes a style's value away.
    none: bool,
    /// The message about a map that has more keys than one, where it has one alone.
    one: Option<&'a str>,
}

/// The tree less all that does not fit the form, which is reported; `None` when nothing is left.
pub(super) fn checked(root: &Rc<Tree>, form: &Form, slips: &mut Slips) -> Option<Rc<Tree>> {
    if let Kind::Text(_) | Kind::List(_) = root.kind {
        let Form { what, key, first, .. } = form;
        let message = format!("the {what} is {}; it needs keys such as `{key}`", root.kind.word());
        let finding = Finding::error("wrong-kind", message).at(first_byte(root.place));
        let help = format!("start with a key, a colon and a space, such as `{first}`");
        slips.push(finding.help(help));
        return None;
    }
    Walk { schema: &form.schema, slips }.node(root, &form.schema, None)
}

struct Walk<'s, 'p, 'f> {
    schema: &'s Value,
    slips: &'p mut Slips<'f>,
}

impl<'s> Walk<'s, '_, '_> {
    fn node(&mut self, tree: &Rc<Tree>, form: &'s Value, key: Option<&Key>) -> Option<Rc<Tree>> {
        let mut allowed = Allowed::default();
        self.gather(form, &mut allowed);
        match (&tree.kind, allowed.short) {
            (Kind::Missing, _) => return None,
            (Kind::Text(text), Some(_)) if allowed.none && text == "none" => {
                return Some(Rc::new(Tree { kind: Kind::Missing, place: tree.place }));
            }
            (Kind::Text(_) | Kind::List(_), Some(short)) => {
                let value = self.one_value(tree, &allowed);
                return self.map(&Tree::map([(short, Some(value))], tree.place), &allowed);
            }
            (Kind::Text(_), None) if allowed.value => return Some(Rc::clone(tree)),
            (Kind::List(items), None) => {
                if let Some(form) = allowed.list {
                    let kept = items.iter().filter_map(|item| self.node(item, form, None));
                    let kind = Kind::List(kept.collect());
                    return Some(Rc::new(Tree { kind, place: tree.place }));
                }
            }
            (Kind::Map(_), _) if allowed.map.is_some() => return self.map(tree, &allowed),
            (Kind::Text(_) | Kind::Map(_), _) => {}
        }
        self.wrong_kind(tree, &allowed, key);
        None
    }

    /// The keys of a map that fit.
    fn map(&mut self, tree: &Rc<Tree>, allowed: &Allowed<'s>) -> Option<Rc<Tree>> {
        let map = allowed.map?;
        let entries = tree.entries().iter().filter_map(|(key, value)| {
            let form = self.entry(map, key)?;
            Some((key.clone(), self.node(value, form, Some(key))?))
        });
        let kept: Vec<(Key, Rc<Tree>)> = entries.collect();
        if let Some(sentence) = allowed.one {
            if tree.entries().len() != 1 {
                self.not_one(tree, map, sentence);
                return None;
            }
            let (_, value) = kept.first()?;
            if let Kind::Missing = value.kind {
                return None;
            }
        }
        Some(Rc::new(Tree { kind: Kind::Map(kept), place: tree.place }))
    }

    /// The first value of a list where the short form is one value, the others reported.
    fn one_value(&mut self, tree: &Rc<Tree>, allowed: &Allowed<'_>) -> Rc<Tree> {
        let (Kind::List(items), None) = (&tree.kind, allowed.list) else { return Rc::clone(tree) };
        if let [_, second, ..] = items.as_slice() {
            let message = format!("{} values where one is needed", items.len());
            let finding = Finding::error("bad-value", message).at(second.place);
            self.slips.push(finding.help("keep one of them, or write a map"));
        }
        items.first().map_or_else(|| Rc::clone(tree), Rc::clone)
    }

    fn not_one(&mut self, tree: &Tree, map: &Map<String, Value>, sentence: &str) {
        let named = map.get("properties").and_then(Value::as_object);
        let keys: Vec<&str> = named.into_iter().flat_map(Map::keys).map(String::as_str).collect();
        let message = format!("{sentence}; this map has {}", tree.entries().len());
        let second = tree.entries().get(1).and_then(|(_, value)| value.first_place());
        let place = second.unwrap_or_else(|| first_byte(tree.place));
        let help = format!("start a new `- ` line for each: {}", keys.join(", "));
        self.slips.push(Finding::error("one-element", message).at(place).help(help));
    }

    /// Adds what `form` allows to `allowed`, looking behind references and alternatives.
    fn gather(&self, form: &'s Value, allowed: &mut Allowed<'s>) {
        let Some(object) = form.as_object() else { return };
        if let Some(Value::String(to)) = object.get("$ref")
            && let Some(form) = definition(to, self.schema)
        {
            self.gather(form, allowed);
        }
        for group in ["anyOf", "allOf"] {
            for form in object.get(group).and_then(Value::as_array).into_iter().flatten() {
                self.gather(form, allowed);
            }
        }
        let is = |kind: &str| match object.get("type") {
            Some(Value::String(only)) => only == kind,
            Some(Value::Array(kinds)) => kinds.iter().any(|one| one == kind),
            _ => false,
        };
        allowed.value |= is("string");
        if is("array") {
            allowed.list = object.get("items");
        }
        if is("object") {
            allowed.map = Some(object);
        }
        let word = |key: &str| object.get(key).and_then(Value::as_str);
        allowed.short = word("x-short").or(allowed.short);
        allowed.one = word("x-one").or(allowed.one);
        allowed.none |= object.contains_key("x-none");
    }

    /// The form of a key's value; an unknown key is reported.
    fn entry(&mut self, map: &'s Map<String, Value>, key: &Key) -> Option<&'s Value> {
        let named = map.get("properties").and_then(Value::as_object);
        if let Some(form) = named.and_then(|named| named.get(&*key.text)) {
            return Some(form);
        }
        if let Some(form @ Value::Object(_)) = map.get("additionalProperties") {
            return Some(form);
        }
        if !self.slips.full() {
            let known: Vec<&str> =
                named.into_iter().flat_map(Map::keys).map(String::as_str).collect();
            let message = format!("there is no {} here", quoted(&key.text));
            let finding = Finding::error("unknown-key", message).at(key.place);
            self.slips.push(finding.help(advice(&key.text, &known)));
        }
        None
    }

    fn wrong_kind(&mut self, tree: &Tree, allowed: &Allowed<'_>, key: Option<&Key>) {
        if self.slips.full() {
            return;
        }
        let is = tree.kind.word();
        let what = key.map_or_else(|| "this entry".to_owned(), |key| quoted(&key.text));
        let needs = needs(allowed);
        let message = format!("{what} is {is} here; it needs {needs}");
        let place = key.map_or_else(|| first_byte(tree.place), |key| key.place);
        let finding = Finding::error("wrong-kind", message).at(place);
        self.slips.push(finding.help(example(key, allowed)));
    }
}
/// Lists and maps may run over many lines; messages point at where they start.
fn first_byte(place: Place) -> Place {
    Place { end: place.end.min(place.start + 1), ..place }
}

fn needs(allowed: &Allowed<'_>) -> String {
    let kinds = [
        allowed.value.then_some("a single value"),
        allowed.list.map(|_| "a list"),
        allowed.map.map(|_| "a map"),
    ];
    kinds.into_iter().flatten().collect::<Vec<_>>().join(" or ")
}

/// What the value would look like.
fn example(key: Option<&Key>, allowed: &Allowed<'_>) -> String {
    let known = allowed.map.and_then(|map| map.get("properties")).and_then(Value::as_object);
    if key.is_none() && allowed.value {
        return "write one value, without brackets".to_owned();
    }
    let form = match known.and_then(|known| known.keys().next()) {
        _ if allowed.value => "…".to_owned(),
        Some(first) => format!("{{{first}: …}}"),
        None if allowed.map.is_some() => "{name: …}".to_owned(),
        None => "[…, …]".to_owned(),
    };
    match key {
        Some(key) => format!("write `{}: {form}`", key.text),
        None => format!("write `{form}`"),
    }
}

/// The known key that was meant, or all of them if they are few.
fn advice(typed: &str, known: &[&str]) -> String {
    match nearest(typed, known.iter().copied()) {
        Some(key) => format!("did you mean {key}?"),
        None if known.len() <= LISTED => format!("known here: {}", known.join(", ")),
        None => "take it out; `decalwright schema` lists every key".to_owned(),
    }
}
