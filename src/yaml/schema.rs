//! The schema of a file: what its keys' structs yield, made fit for people's editors and for [`super::check`].
//!
//! Three words of our own stand in it and are taken out when it is printed: `x-short`, the key that a single
//! value stands for where a map may stand (`box: black` is `box: {fill: black}`); `x-none`, that the word `none`
//! takes a style's value away; `x-one`, the sentence that says that a map has one key alone.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::{Map, Value, json};

/// What files of one kind hold.
#[derive(Debug)]
pub(crate) struct Form {
    /// What such a file is: `job`.
    pub(super) what: &'static str,
    /// A key it needs, and a first line it may have, for messages.
    pub(super) key: &'static str,
    pub(super) first: &'static str,
    pub(super) schema: Value,
}

impl Form {
    /// The form of a file whose keys are those of `T`; `key` and `first` are examples for messages.
    #[must_use]
    pub(crate) fn of<T: JsonSchema>(
        what: &'static str,
        key: &'static str,
        first: &'static str,
    ) -> Form {
        let structs = SchemaSettings::draft07().into_generator().into_root_schema_for::<T>();
        let mut schema = structs.to_value();
        tidy(&mut schema);
        let plain = schema.clone();
        take_short(&mut schema, &plain);
        take_any_scalar_for_text(&mut schema);
        if let Some(root) = schema.as_object_mut() {
            root.insert("title".to_owned(), format!("decalwright {what}").into());
        }
        Form { what, key, first, schema }
    }

    /// The JSON Schema, draft-07, for editors.
    #[must_use]
    pub(crate) fn json(&self) -> String {
        let mut schema = self.schema.clone();
        without_own_words(&mut schema);
        serde_json::to_string_pretty(&schema).unwrap_or_default()
    }
}

/// Calls `change` on every object in a schema, the innermost first.
fn each_object(schema: &mut Value, change: &mut dyn FnMut(&mut Map<String, Value>)) {
    match schema {
        Value::Array(items) => items.iter_mut().for_each(|item| each_object(item, change)),
        Value::Object(object) => {
            object.values_mut().for_each(|value| each_object(value, change));
            change(object);
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

fn without_own_words(schema: &mut Value) {
    each_object(schema, &mut |object| object.retain(|key, _| !key.starts_with("x-")));
}

/// Takes out what only Rust needs: `null` for "not given", defaults, alternatives of one, maps of one key each.
fn tidy(schema: &mut Value) {
    each_object(schema, &mut |object| {
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
        if let Some(Value::Array(variants)) = object.remove("oneOf") {
            object.extend(of_one_key(variants));
        }
    });
}

/// The variants of an enum, each a map of one key, as one map of which one key is given.
fn of_one_key(variants: Vec<Value>) -> Map<String, Value> {
    let mut properties = Map::new();
    for mut variant in variants {
        let description = variant.get("description").cloned();
        let Some(Value::Object(keys)) = variant.get_mut("properties") else { continue };
        for (key, form) in std::mem::take(keys) {
            let mut form = json!({ "anyOf": [form] });
            if let (Some(words), Some(object)) = (&description, form.as_object_mut()) {
                object.insert("description".to_owned(), words.clone());
            }
            properties.insert(key, form);
        }
    }
    let map = json!({
        "type": "object", "properties": properties, "additionalProperties": false,
        "minProperties": 1, "maxProperties": 1,
    });
    map.as_object().cloned().unwrap_or_default()
}

/// Lets a value stand where a map with a short form may.
fn take_short(schema: &mut Value, plain: &Value) {
    each_object(schema, &mut |object| {
        // Alternatives among alternatives are alternatives.
        if let Some(Value::Array(forms)) = object.get_mut("anyOf") {
            let flat = |form: Value| match form.get("anyOf") {
                Some(Value::Array(inner)) => inner.clone(),
                _ => vec![form],
            };
            *forms = std::mem::take(forms).into_iter().flat_map(flat).collect();
        } else if let Some(short) = object.get("$ref").and_then(|to| short_forms(to, plain)) {
            let to = object.remove("$ref");
            let forms: Vec<Value> = short.into_iter().chain([json!({ "$ref": to })]).collect();
            object.insert("anyOf".to_owned(), forms.into());
        }
    });
}

/// What may stand for the map that a reference leads to: what its short key takes.
fn short_forms(to: &Value, plain: &Value) -> Option<Vec<Value>> {
    let map = definition(to.as_str()?, plain)?;
    let key = map.get("x-short")?.as_str()?;
    let form = property(map, key, plain)?;
    let Some(Value::Array(forms)) = form.get("anyOf") else {
        return Some(vec![json!({ "type": form.get("type")? })]);
    };
    // What is short for a map that has a short form itself takes that.
    let of = |form: &Value| match form.get("$ref") {
        Some(to) => short_forms(to, plain).unwrap_or_default(),
        None => vec![form.clone()],
    };
    Some(forms.iter().flat_map(of).collect())
}

/// What a reference leads to.
pub(super) fn definition<'s>(to: &str, schema: &'s Value) -> Option<&'s Value> {
    to.strip_prefix('#').and_then(|at| schema.pointer(at))
}

/// The form of a key of a map, looked for behind references.
fn property<'s>(map: &'s Value, key: &str, plain: &'s Value) -> Option<&'s Value> {
    if let Some(form) = map.get("properties").and_then(|all| all.get(key)) {
        return Some(form);
    }
    if let Some(values) = map.get("additionalProperties").filter(|form| form.is_object()) {
        return Some(values);
    }
    let all_of = map.get("allOf").and_then(Value::as_array).into_iter().flatten();
    let mut behind = all_of.chain([map]).filter_map(|form| form.get("$ref")?.as_str());
    behind.find_map(|to| property(definition(to, plain)?, key, plain))
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
    each_object(form, &mut |object| {
        if let Some(Value::Array(kinds)) = object.get_mut("type") {
            kinds.push("null".into());
        }
    });
}
