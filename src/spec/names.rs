//! Names of labels: given ones as given, made ones from the words, no two alike.

use super::reader::Reader;
use crate::finding::{Place, quoted};
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
pub(super) fn resolve(requests: &[RequestedName], reader: &mut Reader) -> Vec<String> {
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
    let mut last: BTreeMap<String, usize> = BTreeMap::new();
    let mut names = Vec::with_capacity(requests.len());
    for (index, request) in requests.iter().enumerate() {
        let name = match request {
            RequestedName::Given(name, _) => name.clone(),
            RequestedName::Made(base) | RequestedName::Numbered(base) => {
                let is_made = matches!(request, RequestedName::Made(_));
                let unnamed = format!("label-{}", index + 1);
                let base = if base.is_empty() { &unnamed } else { base };
                if is_made && !taken.contains_key(base) {
                    base.clone()
                } else {
                    let start = if is_made { 2 } else { 1 };
                    let first = last.get(base).map_or(start, |last| last + 1);
                    let (name, number) = numbered(base, first, &taken);
                    last.insert(base.clone(), number);
                    name
                }
            }
        };
        taken.entry(name.clone()).or_insert(None);
        names.push(name);
    }
    names
}

/// The first free name of a base and a number, from this number on.
fn numbered(base: &str, from: usize, taken: &BTreeMap<String, Option<Place>>) -> (String, usize) {
    let mut number = from;
    while taken.contains_key(&format!("{base}-{number}")) {
        number += 1;
    }
    (format!("{base}-{number}"), number)
}
