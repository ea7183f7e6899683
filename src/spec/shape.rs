//! The shape pass: every slip of key or kind found in one go, and pruned, so that the sound rest can be read.
//!
//! It walks the tree against the schema that the drafts themselves yield; there is no second list of keys.

use super::draft::JobDraft;
use super::node::{Key, Kind, Node};
use super::profile_draft::ProfileDraft;
use super::slips::{Slips, quoted};
use super::sound::Sound;
use crate::finding::{Finding, Place};
use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::{Map, Value};
use std::sync::OnceLock;

/// At most this many known keys are listed when none is near.
const LISTED: usize = 12;

/// The schema of the job file: that of the drafts, less the `null`s that stand for "not given".
pub(super) fn form() -> &'static Value {
    static FORM: OnceLock<Value> = OnceLock::new();
    FORM.get_or_init(|| derived::<JobDraft>("decalwright job"))
}

/// The schema of a printer's profile.
pub(super) fn profile_form() -> &'static Value {
    static FORM: OnceLock<Value> = OnceLock::new();
    FORM.get_or_init(|| derived::<ProfileDraft>(PROFILE))
}

/// What the schema of a profile is called.
const PROFILE: &str = "decalwright profile";

fn derived<D: JsonSchema>(title: &str) -> Value {
    let drafts = SchemaSettings::draft07().into_generator().into_root_schema_for::<D>();
    let mut schema = drafts.to_value();
    tidy(&mut schema);
    take_any_scalar_for_text(&mut schema);
    if let Some(root) = schema.as_object_mut() {
        root.insert("title".to_owned(), title.into());
    }
    schema
}

/// Takes out what only Rust needs: `null` for "not given", defaults, alternatives of one.
fn tidy(schema: &mut Value) {
    match schema {
        Value::Array(items) => items.iter_mut().for_each(tidy),
        Value::Object(object) => {
            object.remove("default");
            if let Some(Value::Array(kinds)) = object.get_mut("type") {
                kinds.retain(|kind| kind != "null");
            }
            if let Some(Value::Array(forms)) = object.get_mut("anyOf") {
                forms.retain(|form| form.get("type").is_none_or(|kind| kind != "null"));
                // Draft-07 ignores what stands beside a `$ref`, so that one stays in its list.
                if let [Value::Object(only)] = forms.as_slice()
                    && !only.contains_key("$ref")
                {
                    let only = only.clone();
                    object.remove("anyOf");
                    object.extend(only);
                }
            }
            object.values_mut().for_each(tidy);
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// Lets an editor take `text: ~` and `text: null`, which are read as typed like any other text.
fn take_any_scalar_for_text(schema: &mut Value) {
    match schema {
        Value::Array(items) => items.iter_mut().for_each(take_any_scalar_for_text),
        Value::Object(object) => {
            for (key, form) in object.iter_mut() {
                if matches!(key.as_str(), "text" | "labels" | "words") {
                    allow_null(form);
                } else {
                    take_any_scalar_for_text(form);
                }
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

fn allow_null(form: &mut Value) {
    match form {
        Value::Array(forms) => forms.iter_mut().for_each(allow_null),
        Value::Object(object) => {
            if let Some(Value::Array(kinds)) = object.get_mut("type") {
                kinds.push("null".into());
            }
            object.values_mut().for_each(allow_null);
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

/// What may stand at one spot.
#[derive(Default)]
struct Wanted<'a> {
    value: bool,
    /// What the items of a list must be.
    list: Option<&'a Value>,
    map: Option<&'a Map<String, Value>>,
}

/// The tree less all that does not fit `schema`, which is told; `None` when nothing is left.
pub(super) fn sound<'a>(
    root: &'a Node,
    schema: &Value,
    slips: &mut Slips<'_>,
) -> Option<Sound<'a>> {
    if let Kind::Text(_) | Kind::List(_) = root.kind {
        let is_profile = schema.get("title").is_some_and(|title| title == PROFILE);
        let (what, key, first) = if is_profile {
            ("profile", "bars:", "paper: A4")
        } else {
            ("job", "labels:", "title: Signal console")
        };
        let message = format!("the {what} is {}; it needs keys such as `{key}`", root.kind.word());
        let finding = Finding::error("wrong-kind", message).at(first_byte(root.place));
        let help = format!("start with a key, a colon and a space, such as `{first}`");
        slips.push(finding.help(help));
        return None;
    }
    Walk { schema, slips }.node(root, schema, None)
}

struct Walk<'s, 'p, 'f> {
    schema: &'s Value,
    slips: &'p mut Slips<'f>,
}

impl<'s> Walk<'s, '_, '_> {
    fn node<'a>(
        &mut self,
        node: &'a Node,
        form: &'s Value,
        key: Option<&Key>,
    ) -> Option<Sound<'a>> {
        let mut wanted = Wanted::default();
        self.gather(form, &mut wanted);
        match &node.kind {
            Kind::Missing => return None,
            Kind::Text(text) if wanted.value => return Some(Sound::Text(text, node.place)),
            Kind::List(items) => {
                if let Some(form) = wanted.list {
                    let items = items.iter().filter_map(|item| self.node(item, form, None));
                    return Some(Sound::List(items.collect()));
                }
            }
            Kind::Map(entries) => {
                if let Some(map) = wanted.map {
                    let entries = entries.iter().filter_map(|(key, value)| {
                        let form = self.entry(map, key)?;
                        let value = self.node(value, form, Some(key))?;
                        Some((key.text.as_str(), value))
                    });
                    return Some(Sound::Map(entries.collect()));
                }
            }
            Kind::Text(_) => {}
        }
        self.wrong_kind(node, &wanted, key);
        None
    }

    /// Adds what `form` allows to `wanted`, looking behind references and alternatives.
    fn gather(&self, form: &'s Value, wanted: &mut Wanted<'s>) {
        let Some(object) = form.as_object() else { return };
        if let Some(Value::String(target)) = object.get("$ref")
            && let Some(form) = target.strip_prefix('#').and_then(|at| self.schema.pointer(at))
        {
            self.gather(form, wanted);
        }
        for group in ["anyOf", "allOf"] {
            for form in object.get(group).and_then(Value::as_array).into_iter().flatten() {
                self.gather(form, wanted);
            }
        }
        let is = |kind: &str| match object.get("type") {
            Some(Value::String(only)) => only == kind,
            Some(Value::Array(kinds)) => kinds.iter().any(|one| one == kind),
            _ => false,
        };
        wanted.value |= is("string");
        if is("array") {
            wanted.list = object.get("items");
        }
        if is("object") {
            wanted.map = Some(object);
        }
    }

    /// The form of a key's value; an unknown key is told.
    fn entry(&mut self, map: &'s Map<String, Value>, key: &Key) -> Option<&'s Value> {
        let named = map.get("properties").and_then(Value::as_object);
        if let Some(form) = named.and_then(|named| named.get(&key.text)) {
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

    fn wrong_kind(&mut self, node: &Node, wanted: &Wanted<'_>, key: Option<&Key>) {
        if self.slips.full() {
            return;
        }
        let is = node.kind.word();
        let what = key.map_or_else(|| "this entry".to_owned(), |key| quoted(&key.text));
        let needs = needs(wanted);
        let message = format!("{what} is {is} here; it needs {needs}");
        let place = key.map_or_else(|| first_byte(node.place), |key| key.place);
        let finding = Finding::error("wrong-kind", message).at(place);
        self.slips.push(finding.help(example(key, wanted)));
    }
}

/// Lists and maps may run over many lines; messages point at where they start.
fn first_byte(place: Place) -> Place {
    Place { end: place.end.min(place.start + 1), ..place }
}

fn needs(wanted: &Wanted<'_>) -> String {
    let kinds = [
        wanted.value.then_some("a single value"),
        wanted.list.map(|_| "a list"),
        wanted.map.map(|_| "a map"),
    ];
    kinds.into_iter().flatten().collect::<Vec<_>>().join(" or ")
}

/// What the value would look like.
fn example(key: Option<&Key>, wanted: &Wanted<'_>) -> String {
    let known = wanted.map.and_then(|map| map.get("properties")).and_then(Value::as_object);
    if key.is_none() && wanted.value {
        return "write one value, without brackets".to_owned();
    }
    let form = match known.and_then(|known| known.keys().next()) {
        _ if wanted.value => "…".to_owned(),
        Some(first) => format!("{{{first}: …}}"),
        None if wanted.map.is_some() => "{name: …}".to_owned(),
        None => "[…, …]".to_owned(),
    };
    match key {
        Some(key) => format!("write `{}: {form}`", key.text),
        None => format!("write `{form}`"),
    }
}

/// The known key that was meant, or all of them if they are few.
fn advice(typed: &str, known: &[&str]) -> String {
    let near = |key: &&str| strsim::jaro_winkler(typed, key);
    let nearest = (typed.len() <= 40)
        .then(|| known.iter().copied().max_by(|a, b| near(a).total_cmp(&near(b))))
        .flatten()
        .filter(|key| near(key) > 0.8);
    match nearest {
        Some(key) => format!("did you mean {key}?"),
        None if known.len() <= LISTED => format!("known here: {}", known.join(", ")),
        None => "take it out; `decalwright schema` lists every key".to_owned(),
    }
}
