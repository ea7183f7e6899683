//! What is left of the tree once slips are pruned, handed over to serde.
//!
//! The drafts are read from here and not from YAML text, so that no reader can take `NO` for a truth value, and
//! so that each text brings its place along.

use super::typed::Typed;
use crate::finding::Place;
use serde::de::value::{Error, MapDeserializer, SeqDeserializer};
use serde::de::{Deserializer, IntoDeserializer, Visitor};

/// A value that has the shape the job file asks for.
#[derive(Debug)]
pub(super) enum Sound<'a> {
    Text(&'a str, Place),
    List(Vec<Sound<'a>>),
    Map(Vec<(&'a str, Sound<'a>)>),
}

impl<'de> IntoDeserializer<'de, Error> for Sound<'_> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for Sound<'_> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self {
            Sound::Text(text, place) => visitor.visit_string(Typed::canonical(text, place)),
            Sound::List(items) => visitor.visit_seq(SeqDeserializer::new(items.into_iter())),
            Sound::Map(entries) => visitor.visit_map(MapDeserializer::new(entries.into_iter())),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        visitor.visit_some(self)
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct newtype_struct seq tuple tuple_struct map struct enum identifier ignored_any
    }
}
