//! From a checked tree to the structs of its keys, by serde.
//!
//! They are read from the tree and not from YAML text, so that no reader can take `NO` for a truth value, and so
//! that each [`Scalar`] brings its place along.

use super::scalar::{ONE_OR_LIST, PLACED};
use super::{Key, Kind, Scalar, Tree};
use crate::finding::Place;
use serde::de::value::{
    Error, MapAccessDeserializer, MapDeserializer, SeqAccessDeserializer, SeqDeserializer,
};
use serde::de::{
    DeserializeOwned, DeserializeSeed, Deserializer, IntoDeserializer, SeqAccess, Visitor,
};
use std::rc::Rc;

/// What a tree holds; `None` where it is not of that shape, which the check against the schema rules out.
#[must_use]
pub(crate) fn read<T: DeserializeOwned>(tree: &Tree) -> Option<T> {
    let read = T::deserialize(Reading(tree));
    debug_assert!(read.is_ok(), "the schema let through what its structs refuse: {:?}", read.err());
    read.ok()
}

/// A value of a tree, as serde takes it.
#[derive(Clone, Copy)]
struct Reading<'t>(&'t Tree);

impl<'t> Reading<'t> {
    /// The entries of a map that hold anything.
    fn map(entries: &'t [(Key, Rc<Tree>)]) -> impl Iterator<Item = (&'t str, Reading<'t>)> {
        let held = entries.iter().filter(|(_, value)| !matches!(value.kind, Kind::Missing));
        held.map(|(key, value)| (&*key.text, Reading(value)))
    }
}

impl<'de> IntoDeserializer<'de, Error> for Reading<'_> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for Reading<'_> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match &self.0.kind {
            Kind::Text(text) => {
                let numbers = numbers(self.0.place);
                visitor.visit_seq(ScalarParts { text: Some(text), numbers })
            }
            Kind::List(items) => {
                let held = items.iter().filter(|item| !matches!(item.kind, Kind::Missing));
                visitor.visit_seq(SeqDeserializer::new(held.map(|item| Reading(item))))
            }
            Kind::Map(entries) => visitor.visit_map(MapDeserializer::new(Reading::map(entries))),
            Kind::Missing => visitor.visit_none(),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.0.kind {
            Kind::Missing => visitor.visit_none(),
            Kind::Text(_) | Kind::List(_) | Kind::Map(_) => visitor.visit_some(self),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        match self.0.kind {
            Kind::List(_) if name == ONE_OR_LIST => self.deserialize_any(visitor),
            _ => visitor.visit_newtype_struct(self),
        }
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Error> {
        debug_assert_eq!(name, PLACED, "no other tuple is read from a file");
        let Place { file, start, .. } = self.0.place;
        let itself = Place { file, start, end: start + 1 };
        let place = self.0.first_place().unwrap_or(itself);
        visitor.visit_seq(PlacedParts { place: Some(place), value: Some(self) })
    }

    /// A map of one key is the variant of that name.
    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        let map = MapDeserializer::new(Reading::map(self.0.entries()));
        visitor.visit_enum(MapAccessDeserializer::new(map))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct seq tuple map struct identifier ignored_any
    }
}

/// A [`super::Placed`] on its way: its place, then its value.
struct PlacedParts<'t> {
    place: Option<Place>,
    value: Option<Reading<'t>>,
}

impl<'de> SeqAccess<'de> for PlacedParts<'_> {
    type Error = Error;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Error> {
        if let Some(place) = self.place.take() {
            let parts = ScalarParts { text: None, numbers: numbers(place) };
            return seed.deserialize(SeqAccessDeserializer::new(parts)).map(Some);
        }
        self.value.take().map(|value| seed.deserialize(value)).transpose()
    }
}

/// A place as it is handed over: file, start and end.
fn numbers(place: Place) -> std::array::IntoIter<u32, 3> {
    [place.file.into(), place.start, place.end].into_iter()
}

/// A [`Scalar`] on its way: its text, then file, start and end of its place.
struct ScalarParts<'t> {
    text: Option<&'t str>,
    numbers: std::array::IntoIter<u32, 3>,
}

impl<'de> SeqAccess<'de> for ScalarParts<'_> {
    type Error = Error;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Error> {
        if let Some(text) = self.text.take() {
            return seed.deserialize(text.into_deserializer()).map(Some);
        }
        self.numbers.next().map(|number| seed.deserialize(number.into_deserializer())).transpose()
    }
}

impl Scalar {
    /// A tree of this text alone.
    #[must_use]
    pub(crate) fn tree(&self) -> Rc<Tree> {
        Tree::text(self.text.clone(), self.place)
    }
}
