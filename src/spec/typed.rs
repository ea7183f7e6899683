//! Scalars that keep what was typed and where, and values that come in a short and a long form.

use crate::finding::Place;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor, value};
use std::{borrow::Cow, fmt, marker::PhantomData};

/// A scalar: its characters as typed and where they stand.
///
/// In the canonical text that the drafts are read from, every scalar is `file,start,end:` and then the
/// characters as typed, so that nothing can take `NO` for a truth value.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Typed {
    pub(super) text: String,
    pub(super) place: Place,
}

/// A scalar or a list of scalars.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Many {
    pub(super) items: Vec<Typed>,
    /// Whether it was written as a list.
    pub(super) listed: bool,
}

/// The short form (a scalar or list) or the long form (a map) of one thing.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Shorthand<T> {
    Short(Many),
    Long(Box<T>),
}

impl Typed {
    /// The canonical form that [`Typed`] is read back from.
    pub(super) fn canonical(text: &str, place: Place) -> String {
        format!("{},{},{}:{text}", place.file, place.start, place.end)
    }

    fn from_canonical(text: &str) -> Option<Typed> {
        let (place, text) = text.split_once(':')?;
        let mut numbers = place.split(',').map(str::parse::<u32>);
        let mut next = || numbers.next()?.ok();
        let (file, start, end) = (next()?, next()?, next()?);
        let place = Place { file: u16::try_from(file).ok()?, start, end };
        Some(Typed { text: text.to_owned(), place })
    }
}

impl<'de> Deserialize<'de> for Typed {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Typed, D::Error> {
        let text = String::deserialize(deserializer)?;
        Typed::from_canonical(&text).ok_or_else(|| D::Error::custom("scalar without its place"))
    }
}

impl<'de> Deserialize<'de> for Many {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Many, D::Error> {
        struct ManyVisitor;
        impl<'de> Visitor<'de> for ManyVisitor {
            type Value = Many;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a value or a list of values")
            }

            fn visit_str<E: Error>(self, text: &str) -> Result<Many, E> {
                let item = Typed::from_canonical(text)
                    .ok_or_else(|| E::custom("scalar without its place"))?;
                Ok(Many { items: vec![item], listed: false })
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Many, A::Error> {
                let mut items = Vec::new();
                while let Some(item) = list.next_element()? {
                    items.push(item);
                }
                Ok(Many { items, listed: true })
            }
        }
        deserializer.deserialize_any(ManyVisitor)
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Shorthand<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Shorthand<T>, D::Error> {
        struct ShorthandVisitor<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for ShorthandVisitor<T> {
            type Value = Shorthand<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a value, a list of values or a map")
            }

            fn visit_str<E: Error>(self, text: &str) -> Result<Shorthand<T>, E> {
                Many::deserialize(value::StrDeserializer::new(text)).map(Shorthand::Short)
            }

            fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<Shorthand<T>, A::Error> {
                Many::deserialize(value::SeqAccessDeserializer::new(list)).map(Shorthand::Short)
            }

            fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Shorthand<T>, A::Error> {
                T::deserialize(value::MapAccessDeserializer::new(map))
                    .map(|map| Shorthand::Long(Box::new(map)))
            }
        }
        deserializer.deserialize_any(ShorthandVisitor(PhantomData))
    }
}

impl JsonSchema for Typed {
    fn schema_name() -> Cow<'static, str> {
        "Value".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": ["string", "number", "boolean"] })
    }
}

impl JsonSchema for Many {
    fn schema_name() -> Cow<'static, str> {
        "Values".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "anyOf": [
            { "type": ["string", "number", "boolean"] },
            { "type": "array", "items": { "type": ["string", "number", "boolean"] } },
        ]})
    }
}

impl<T: JsonSchema> JsonSchema for Shorthand<T> {
    fn schema_name() -> Cow<'static, str> {
        format!("{}OrShort", T::schema_name()).into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let long = generator.subschema_for::<T>();
        json_schema!({ "anyOf": [
            { "type": ["string", "number", "boolean"] },
            { "type": "array", "items": { "type": ["string", "number", "boolean"] } },
            long,
        ]})
    }
}
