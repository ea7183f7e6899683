//! The job file as a tree: only text, lists and maps, each with the bytes it stands on.
//!
//! YAML's types stop here. Nothing is a number or a truth value yet, so `NO` and `012` stay as typed.

use crate::finding::Place;
use std::rc::Rc;

/// The deepest nesting of lists and maps that is read; a real job stays under ten.
pub(super) const DEPTH: usize = 64;

/// The most a job may weigh once everything that aliases repeat is counted each time.
///
/// A value weighs three and its text one for each 16 bytes, a map 16, about what each costs to read; ten thousand
/// labels with ten keys weigh half of it. More would let a few lines of aliases fill the memory, and a large
/// file of nonsense take longer than 2 s.
pub(super) const WEIGHT: u64 = 1_000_000;

/// A value of the job file.
#[derive(Debug)]
pub(super) struct Node {
    pub(super) kind: Kind,
    pub(super) place: Place,
    /// What it weighs with all it holds; see [`WEIGHT`].
    pub(super) weight: u64,
    /// How many lists and maps stand inside one another here, itself included.
    pub(super) height: usize,
}

/// What kind of value it is.
#[derive(Debug)]
pub(super) enum Kind {
    /// Text as typed, quotes taken off.
    Text(String),
    /// A list.
    List(Vec<Rc<Node>>),
    /// A map, in the order of the file, no key twice.
    Map(Vec<(Key, Rc<Node>)>),
    /// Nothing was written, or nothing that can be used; it has been reported already.
    Missing,
}

/// A key of a map.
#[derive(Debug)]
pub(super) struct Key {
    pub(super) text: String,
    pub(super) place: Place,
    /// Its line, from 1.
    pub(super) line: usize,
}

impl Node {
    /// A node of its kind, weighed.
    pub(super) fn new(kind: Kind, place: Place) -> Node {
        let (held, height) = match &kind {
            Kind::Missing | Kind::Text(_) => (0, 0),
            Kind::List(items) => (heaviness(items.iter()), 1 + tallest(items.iter())),
            Kind::Map(entries) => {
                let values = || entries.iter().map(|(_, value)| value);
                (heaviness(values()), 1 + tallest(values()))
            }
        };
        let weight = kind.weight().saturating_add(held);
        Node { kind, place, weight, height }
    }
}

impl Kind {
    /// What messages call it.
    pub(super) fn word(&self) -> &'static str {
        match self {
            Kind::Text(_) => "a single value",
            Kind::List(_) => "a list",
            Kind::Map(_) => "a map",
            Kind::Missing => "nothing",
        }
    }

    /// What it weighs without what it holds.
    pub(super) fn weight(&self) -> u64 {
        match self {
            Kind::Missing | Kind::List(_) => 3,
            Kind::Text(text) => 3 + text.len() as u64 / 16,
            Kind::Map(_) => 16,
        }
    }
}

fn heaviness<'a>(nodes: impl Iterator<Item = &'a Rc<Node>>) -> u64 {
    nodes.fold(0, |sum, node| sum.saturating_add(node.weight))
}

fn tallest<'a>(nodes: impl Iterator<Item = &'a Rc<Node>>) -> usize {
    nodes.map(|node| node.height).max().unwrap_or(0)
}
