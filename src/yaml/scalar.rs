//! Scalars that keep what was typed and where.

use crate::finding::Place;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserialize, Deserializer, Error, IgnoredAny, SeqAccess, Visitor};
use std::{borrow::Cow, fmt, marker::PhantomData};

/// A single value: its characters as typed and where they stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Scalar {
    /// The characters, quotes taken off.
    pub text: String,
    /// Where they stand.
    pub place: Place,
}

/// A scalar, or a list of scalars.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct OneOrList {
    /// The scalars, in order.
    pub items: Vec<Scalar>,
    /// Whether it was written as a list.
    pub listed: bool,
}

/// A value, and where the first text in it stands.
#[derive(Clone, Debug)]
pub(crate) struct Placed<T> {
    /// Where; where there is no text in it, where the value itself starts.
    pub place: Place,
    /// The value.
    pub value: T,
}

/// A value that is not read into a struct but worked on as a tree; its schema is that of `T`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct AsTree<T>(PhantomData<T>);

impl Scalar {
    /// The text without white space at its ends.
    #[must_use]
    pub(crate) fn trimmed(&self) -> &str {
        self.text.trim()
    }
}

impl OneOrList {
    /// A single value.
    #[must_use]
    pub(crate) fn one(scalar: Scalar) -> OneOrList {
        OneOrList { items: vec![scalar], listed: false }
    }

    /// Where its first value stands.
    #[must_use]
    pub(crate) fn place(&self) -> Option<Place> {
        self.items.first().map(|item| item.place)
    }
}

/// The names under which [`super::reading`] knows a [`OneOrList`] and a [`Placed`].
pub(super) const ONE_OR_LIST: &str = "OneOrList";
pub(super) const PLACED: &str = "Placed";

impl<'de> Deserialize<'de> for Scalar {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Scalar, D::Error> {
        // As `reading` hands it over: the text, then file, start and end of its place.
        let (text, file, start, end) = <(String, u16, u32, u32)>::deserialize(deserializer)?;
        Ok(Scalar { text, place: Place { file, start, end } })
    }
}

impl<'de> Deserialize<'de> for OneOrList {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<OneOrList, D::Error> {
        struct OneOrListVisitor;
        impl<'de> Visitor<'de> for OneOrListVisitor {
            type Value = OneOrList;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a value or a list of values")
            }

            fn visit_newtype_struct<D: Deserializer<'de>>(
                self,
                one: D,
            ) -> Result<OneOrList, D::Error> {
                Scalar::deserialize(one).map(OneOrList::one)
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<OneOrList, A::Error> {
                let mut items = Vec::with_capacity(list.size_hint().unwrap_or(0));
                while let Some(item) = list.next_element()? {
                    items.push(item);
                }
                Ok(OneOrList { items, listed: true })
            }
        }
        deserializer.deserialize_newtype_struct(ONE_OR_LIST, OneOrListVisitor)
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Placed<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Placed<T>, D::Error> {
        struct PlacedVisitor<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for PlacedVisitor<T> {
            type Value = Placed<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a value with its place")
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut parts: A) -> Result<Placed<T>, A::Error> {
                let missing = || A::Error::custom("a value comes with its place");
                let (file, start, end) = parts.next_element()?.ok_or_else(missing)?;
                let value = parts.next_element()?.ok_or_else(missing)?;
                Ok(Placed { place: Place { file, start, end }, value })
            }
        }
        deserializer.deserialize_tuple_struct(PLACED, 2, PlacedVisitor(PhantomData))
    }
}

impl<T> Default for AsTree<T> {
    fn default() -> AsTree<T> {
        AsTree(PhantomData)
    }
}

impl<'de, T> Deserialize<'de> for AsTree<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<AsTree<T>, D::Error> {
        IgnoredAny::deserialize(deserializer).map(|_| AsTree::default())
    }
}

/// Gives a type around another the other's schema.
macro_rules! schema_of_inner {
    ($($outer:ident),*) => {$(
        impl<T: JsonSchema> JsonSchema for $outer<T> {
            fn schema_name() -> Cow<'static, str> {
                T::schema_name()
            }

            fn inline_schema() -> bool {
                T::inline_schema()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                T::json_schema(generator)
            }
        }
    )*};
}

schema_of_inner!(Placed, AsTree);

impl JsonSchema for Scalar {
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

impl JsonSchema for OneOrList {
    fn schema_name() -> Cow<'static, str> {
        "Values".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let one = Scalar::json_schema(generator);
        json_schema!({ "anyOf": [one, { "type": "array", "items": one }] })
    }
}
