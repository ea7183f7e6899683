//! Scalars that keep what was typed and where.

use super::Tree;
use crate::finding::Place;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use std::{borrow::Cow, marker::PhantomData, rc::Rc};

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

    /// A tree of this text alone.
    #[must_use]
    pub(crate) fn tree(&self) -> Rc<Tree> {
        Tree::text(self.text.clone(), self.place)
    }
}

impl OneOrList {
    /// The scalars of one that may not be given.
    #[must_use]
    pub(crate) fn all(given: &Option<OneOrList>) -> &[Scalar] {
        given.as_ref().map(|list| list.items.as_slice()).unwrap_or_default()
    }

    /// Where its first value stands.
    #[must_use]
    pub(crate) fn place(&self) -> Option<Place> {
        self.items.first().map(|item| item.place)
    }
}

impl<T> Default for AsTree<T> {
    fn default() -> AsTree<T> {
        AsTree(PhantomData)
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
