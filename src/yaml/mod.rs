//! YAML files as trees with places, checked against the schema of what they should hold, and read into it.
//!
//! A file goes one way: bytes → text → [`Tree`] ([`events`]) → the same tree less all that does not fit
//! ([`check`]) → the keys' own structs ([`reading`]). YAML's types stop here: nothing is a number or a truth
//! value, so that `NO` and `012` stay as typed, and each text brings its place along.

mod bytes;
mod check;
mod events;
mod reading;
mod scalar;
mod schema;
mod slips;
mod wording;

pub(crate) use bytes::tree;
pub(crate) use reading::{FromTree, read};
pub(crate) use reading::{keys, read_key};
pub(crate) use scalar::{AsTree, OneOrList, Placed, Scalar};
pub(crate) use schema::Form;

use crate::finding::Place;
use std::rc::Rc;

/// The deepest nesting of lists and maps that is read; a real job stays under ten.
const DEPTH: usize = 64;

/// The most a file may weigh once everything that aliases repeat is counted each time.
///
/// A value weighs three and its text one for each 16 bytes, a map 16, about what each costs to read; ten thousand
/// labels with ten keys weigh half of it. More would let a few lines of aliases fill the memory, and a large
/// file of nonsense take longer than 2 s.
const WEIGHT: u64 = 1_000_000;

/// A value of a file, with the bytes it stands on.
#[derive(Clone, Debug)]
pub(crate) struct Tree {
    /// What it is.
    pub kind: Kind,
    /// Where it stands.
    pub place: Place,
}

/// What kind of value it is.
#[derive(Clone, Debug)]
pub(crate) enum Kind {
    /// Text as typed, quotes taken off.
    Text(String),
    /// A list.
    List(Vec<Rc<Tree>>),
    /// A map, in the order of the file, no key twice.
    Map(Vec<(Key, Rc<Tree>)>),
    /// Nothing: nothing usable was written, which has been reported, or the word `none` where it takes a
    /// style's value away.
    Missing,
}

/// A key of a map.
#[derive(Clone, Debug)]
pub(crate) struct Key {
    /// Its word.
    pub text: Rc<str>,
    /// Where it stands.
    pub place: Place,
    /// Its line, from 1.
    pub line: usize,
}

impl Key {
    /// A key that was not typed itself but stands for what was, at this place.
    #[must_use]
    pub(crate) fn standing_for(word: &str, place: Place) -> Key {
        Key { text: word.into(), place, line: 0 }
    }
}

impl Tree {
    /// A text, at this place.
    #[must_use]
    pub(crate) fn text(text: impl Into<String>, place: Place) -> Rc<Tree> {
        Rc::new(Tree { kind: Kind::Text(text.into()), place })
    }

    /// A map of these keys, each standing where its value does; keys without a value are left out.
    #[must_use]
    pub(crate) fn map<const N: usize>(
        entries: [(&str, Option<Rc<Tree>>); N],
        place: Place,
    ) -> Rc<Tree> {
        let entry = |(word, value): (&str, Option<Rc<Tree>>)| {
            value.map(|value| (Key::standing_for(word, value.place), value))
        };
        let entries = entries.into_iter().filter_map(entry).collect();
        Rc::new(Tree { kind: Kind::Map(entries), place })
    }

    /// Whether there is anything in it to read.
    fn holds_anything(&self) -> bool {
        !matches!(self.kind, Kind::Missing)
    }

    /// The entries of a map; none of anything else.
    #[must_use]
    pub(crate) fn entries(&self) -> &[(Key, Rc<Tree>)] {
        match &self.kind {
            Kind::Map(entries) => entries,
            Kind::Text(_) | Kind::List(_) | Kind::Missing => &[],
        }
    }

    /// The items of a list; none of anything else.
    #[must_use]
    pub(crate) fn items(&self) -> &[Rc<Tree>] {
        match &self.kind {
            Kind::List(items) => items,
            Kind::Text(_) | Kind::Map(_) | Kind::Missing => &[],
        }
    }

    /// The value of a map's key.
    #[must_use]
    pub(crate) fn get(&self, key: &str) -> Option<&Rc<Tree>> {
        self.entries().iter().find(|(known, _)| &*known.text == key).map(|(_, value)| value)
    }

    /// The text and place of a map's key, where that is a single value.
    #[must_use]
    pub(crate) fn scalar(&self, key: &str) -> Option<Scalar> {
        Scalar::from_tree(self.get(key)?)
    }

    /// The same map with another value for a key; it comes last where the key is new.
    #[must_use]
    pub(crate) fn with(&self, key: &str, value: Rc<Tree>) -> Rc<Tree> {
        let mut entries = self.entries().to_vec();
        match entries.iter_mut().find(|(known, _)| &*known.text == key) {
            Some((_, known)) => *known = value,
            None => entries.push((Key::standing_for(key, value.place), value)),
        }
        Rc::new(Tree { kind: Kind::Map(entries), place: self.place })
    }

    /// The same map with those keys alone that `keep` says yes to.
    #[must_use]
    pub(crate) fn only(&self, keep: impl Fn(&str) -> bool) -> Rc<Tree> {
        let entries = self.entries().iter().filter(|(key, _)| keep(&key.text)).cloned().collect();
        Rc::new(Tree { kind: Kind::Map(entries), place: self.place })
    }

    /// The place of the first text in it, in the order of the file.
    #[must_use]
    pub(crate) fn first_place(&self) -> Option<Place> {
        match &self.kind {
            Kind::Text(_) => Some(self.place),
            Kind::List(items) => items.iter().find_map(|item| item.first_place()),
            Kind::Map(entries) => entries.iter().find_map(|(_, value)| value.first_place()),
            Kind::Missing => None,
        }
    }

    /// Visits every text in it, in the order of the file.
    pub(crate) fn each_text(&self, visit: &mut dyn FnMut(&str)) {
        match &self.kind {
            Kind::Text(text) => visit(text),
            Kind::List(items) => items.iter().for_each(|item| item.each_text(visit)),
            Kind::Map(entries) => entries.iter().for_each(|(_, value)| value.each_text(visit)),
            Kind::Missing => {}
        }
    }

    /// The same with other texts: `of` gives a text that takes another's place, `None` leaves it.
    ///
    /// What does not change is shared, not copied.
    pub(crate) fn mapped(
        tree: &Rc<Tree>,
        of: &mut dyn FnMut(&str, Place) -> Option<Scalar>,
    ) -> Rc<Tree> {
        let kind = match &tree.kind {
            Kind::Missing => return Rc::clone(tree),
            Kind::Text(text) => match of(text, tree.place) {
                Some(Scalar { text, place }) => return Tree::text(text, place),
                None => return Rc::clone(tree),
            },
            Kind::List(items) => {
                let mapped: Vec<Rc<Tree>> =
                    items.iter().map(|item| Tree::mapped(item, of)).collect();
                if mapped.iter().zip(items).all(|(new, old)| Rc::ptr_eq(new, old)) {
                    return Rc::clone(tree);
                }
                Kind::List(mapped)
            }
            Kind::Map(entries) => {
                let mapped: Vec<(Key, Rc<Tree>)> = entries
                    .iter()
                    .map(|(key, value)| (key.clone(), Tree::mapped(value, of)))
                    .collect();
                if mapped.iter().zip(entries).all(|(new, old)| Rc::ptr_eq(&new.1, &old.1)) {
                    return Rc::clone(tree);
                }
                Kind::Map(mapped)
            }
        };
        Rc::new(Tree { kind, place: tree.place })
    }
}

impl Tree {
    /// What it weighs with all it holds, see [`WEIGHT`], and how many lists and maps stand inside one another in it.
    fn extent(&self) -> (u64, usize) {
        let all = |values: &mut dyn Iterator<Item = &Rc<Tree>>| {
            values.fold((self.kind.weight(), 1), |(weight, height), value| {
                let (more, inside) = value.extent();
                (weight.saturating_add(more), height.max(1 + inside))
            })
        };
        match &self.kind {
            Kind::Text(_) | Kind::Missing => (self.kind.weight(), 0),
            Kind::List(items) => all(&mut items.iter()),
            Kind::Map(entries) => all(&mut entries.iter().map(|(_, value)| value)),
        }
    }
}

impl Kind {
    /// What messages call it.
    fn word(&self) -> &'static str {
        match self {
            Kind::Text(_) => "a single value",
            Kind::List(_) => "a list",
            Kind::Map(_) => "a map",
            Kind::Missing => "nothing",
        }
    }

    /// What it weighs without what it holds; see [`WEIGHT`].
    fn weight(&self) -> u64 {
        match self {
            Kind::Missing | Kind::List(_) => 3,
            Kind::Text(text) => 3 + text.len() as u64 / 16,
            Kind::Map(_) => 16,
        }
    }
}
