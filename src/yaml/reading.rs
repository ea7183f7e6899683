//! From a checked tree to the structs of its keys.

use super::{AsTree, Kind, OneOrList, Placed, Scalar, Tree};
use crate::finding::Place;
use std::collections::BTreeMap;

/// A value that can be read from a tree.
pub(crate) trait FromTree: Sized {
    /// The value; `None` where the tree has another shape.
    fn from_tree(tree: &Tree) -> Option<Self>;
}

/// What a tree holds; `None` where it is not of that shape, which the check against the schema rules out.
#[must_use]
pub(crate) fn read<T: FromTree>(tree: &Tree) -> Option<T> {
    let read = T::from_tree(tree);
    debug_assert!(read.is_some(), "the schema let through what its structs refuse: {tree:?}");
    read
}

/// The value of a map's key, named as its field is; the default where nothing is given.
pub(crate) fn read_key<T: FromTree + Default>(map: &Tree, field: &str) -> Option<T> {
    let word = field.trim_start_matches("r#");
    match map.get(word).filter(|value| value.holds_anything()) {
        Some(value) => T::from_tree(value),
        None => Some(T::default()),
    }
}

/// Declares structs of keys as they are typed: their docs are what editors show, their schema is what files are
/// checked against. A field is named as its key. What keys mean may stand in the same list, so that a doc stands once.
macro_rules! keys {
    ($(
        $(#[$meta:meta])*
        $visible:vis struct $name:ident {
            $($(#[$key_meta:meta])* $key_visible:vis $key:ident: $typed:ty,)+
        }
    )+) => {$(
        #[derive(Clone, Debug, Default, schemars::JsonSchema)]
        #[schemars(deny_unknown_fields, default)]
        $(#[$meta])*
        $visible struct $name {
            $($(#[$key_meta])* $key_visible $key: $typed,)+
        }

        impl $crate::yaml::FromTree for $name {
            fn from_tree(map: &$crate::yaml::Tree) -> Option<Self> {
                Some($name { $($key: $crate::yaml::read_key(map, stringify!($key))?,)+ })
            }
        }
    )+};
    // Keys and what they mean, from one list: what is typed, `=>` what it means, or either alone. A doc is one line.
    (
        $(#[$meta:meta])*
        $visible:vis struct $name:ident;

        $(#[$meaning_meta:meta])*
        $meaning_visible:vis struct $meaning:ident {
            $(#[doc = $doc:tt] $field:ident $(: $typed:ty)? $(=> $meant:ty)?,)+
        }
    ) => {
        $crate::yaml::keys! {
            $(#[$meta])*
            $visible struct $name {
                $($(#[doc = $doc] $visible $field: $typed,)?)+
            }
        }

        #[derive(Clone, Debug, PartialEq)]
        $(#[$meaning_meta])*
        $meaning_visible struct $meaning {
            $($(#[doc = $doc] pub $field: $meant,)?)+
        }
    };
    // Keys under another name: they have the same schema, and are read alike.
    ($($(#[$meta:meta])* $visible:vis struct $name:ident($(#[$why:meta])* $keys:ty);)+) => {$(
        #[derive(Clone, Debug, Default, schemars::JsonSchema)]
        #[schemars(transparent)]
        $(#[$meta])*
        $visible struct $name($(#[$why])* $keys);

        impl $crate::yaml::FromTree for $name {
            fn from_tree(tree: &$crate::yaml::Tree) -> Option<Self> {
                $crate::yaml::FromTree::from_tree(tree).map($name)
            }
        }
    )+};
}

pub(crate) use keys;

impl FromTree for Scalar {
    fn from_tree(tree: &Tree) -> Option<Scalar> {
        match &tree.kind {
            Kind::Text(text) => Some(Scalar { text: text.clone(), place: tree.place }),
            Kind::List(_) | Kind::Map(_) | Kind::Missing => None,
        }
    }
}

impl FromTree for OneOrList {
    fn from_tree(tree: &Tree) -> Option<OneOrList> {
        match &tree.kind {
            Kind::List(_) => Some(OneOrList { items: Vec::from_tree(tree)?, listed: true }),
            Kind::Text(_) | Kind::Map(_) | Kind::Missing => {
                Some(OneOrList { items: vec![Scalar::from_tree(tree)?], listed: false })
            }
        }
    }
}

impl<T: FromTree> FromTree for Option<T> {
    fn from_tree(tree: &Tree) -> Option<Option<T>> {
        T::from_tree(tree).map(Some)
    }
}

impl<T: FromTree> FromTree for Vec<T> {
    fn from_tree(list: &Tree) -> Option<Vec<T>> {
        list.items()
            .iter()
            .filter(|item| item.holds_anything())
            .map(|item| T::from_tree(item))
            .collect()
    }
}

impl<T: FromTree> FromTree for BTreeMap<String, T> {
    fn from_tree(map: &Tree) -> Option<BTreeMap<String, T>> {
        let given = map.entries().iter().filter(|(_, value)| value.holds_anything());
        given.map(|(key, value)| Some((key.text.to_string(), T::from_tree(value)?))).collect()
    }
}

impl<T: FromTree> FromTree for Placed<T> {
    fn from_tree(tree: &Tree) -> Option<Placed<T>> {
        let itself = Place { end: tree.place.start + 1, ..tree.place };
        let place = tree.first_place().unwrap_or(itself);
        Some(Placed { place, value: T::from_tree(tree)? })
    }
}

impl<T> FromTree for AsTree<T> {
    fn from_tree(_: &Tree) -> Option<AsTree<T>> {
        Some(AsTree::default())
    }
}
