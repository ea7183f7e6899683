//! Names of labels: given ones as given, made ones from the words, no two alike.

use super::reader::{Reader, quoted};
use crate::finding::Place;
use std::collections::BTreeMap;

/// The longest a made name may be, characters: it stands beside the label in the waste of the sheet.
const LONGEST_MADE: usize = 32;

/// A name before it is known to be the only one of its kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum RequestedName {
    /// Given in the job, at this place.
    Given(String, Place),
    /// To be made of this; may get a number to tell it from others.
    Made(String),
    /// To be this and the next free number, from 1.
    Numbered(String),
}

/// The words of a text as a name: small letters and figures, joined by dashes.
pub(super) fn slug(words: &str) -> String {
    let mut slug = String::new();
    for word in words.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()) {
        let word = word.to_lowercase();
        let length = slug.chars().count() + word.chars().count();
        if !slug.is_empty() && length >= LONGEST_MADE {
            break;
        }
        if !slug.is_empty() {
            slug.push('-');
        }
        slug.extend(word.chars().take(LONGEST_MADE));
    }
    slug
}

/// One name for each request, all different; reports two given ones alike.
pub(super) fn resolve(requests: &[RequestedName], reader: &mut Reader<'_, '_>) -> Vec<String> {
    let mut taken: BTreeMap<String, Option<Place>> = BTreeMap::new();
    for request in requests {
        let RequestedName::Given(name, place) = request else { continue };
        match taken.get(name) {
            Some(first) => {
                let first = reader.in_line(first.unwrap_or_default(), *place);
                let message = format!("two labels are called {}, the other{first}", quoted(name));
                reader.wrong("same-name", *place, message, "give one of them another name");
            }
            None => {
                taken.insert(name.clone(), Some(*place));
            }
        }
    }
    let mut last: BTreeMap<&str, usize> = BTreeMap::new();
    let mut names = Vec::with_capacity(requests.len());
    for (index, request) in requests.iter().enumerate() {
        let name = match request {
            RequestedName::Given(name, _) => name.clone(),
            RequestedName::Made(base) if base.is_empty() => {
                free(&format!("label-{}", index + 1), 2, &taken).0
            }
            RequestedName::Made(base) if !taken.contains_key(base) => base.clone(),
            RequestedName::Made(base) | RequestedName::Numbered(base) => {
                let start = if matches!(request, RequestedName::Made(_)) { 2 } else { 1 };
                let number = last.get(base.as_str()).map_or(start, |last| last + 1);
                let (name, number) = numbered(base, number, &taken);
                last.insert(base, number);
                name
            }
        };
        taken.entry(name.clone()).or_insert(None);
        names.push(name);
    }
    names
}

fn free(base: &str, from: usize, taken: &BTreeMap<String, Option<Place>>) -> (String, usize) {
    if taken.contains_key(base) { numbered(base, from, taken) } else { (base.to_owned(), 0) }
}

fn numbered(base: &str, from: usize, taken: &BTreeMap<String, Option<Place>>) -> (String, usize) {
    let mut number = from;
    loop {
        let name = format!("{base}-{number}");
        if !taken.contains_key(&name) {
            return (name, number);
        }
        number += 1;
    }
}
