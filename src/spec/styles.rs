//! Styles laid over each other: each ends up with everything it stands on.
//!
//! A style starts from the one its `style:` names, else from the bundled one of its own name, else from
//! `plain`, which every label starts from too.

use super::merge;
use super::reader::Reader;
use crate::finding::{Place, quoted};
use crate::yaml::{Scalar, Tree};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Whole styles by name.
pub(super) type Styles = BTreeMap<String, Rc<Tree>>;

/// The style every other starts from.
const PLAIN: &str = "plain";

/// What the bundled style `round-ended` was called: reported by name for one release, so that old jobs are put right
/// with ease.
const FORMER_ROUND_ENDED: &str = "pill";

/// The longest chain of styles: more is a slip, and each link is a step of the stack.
const LONGEST_CHAIN: usize = 64;

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Layer {
    Bundled,
    Job,
}

/// A style of one layer by its name.
type Key = (Layer, String);

struct Chains {
    known: BTreeSet<Key>,
    waiting: BTreeMap<Key, Rc<Tree>>,
    done: BTreeMap<Key, Rc<Tree>>,
}

/// All styles, each whole; a job's style stands before the bundled one of its name.
pub(super) fn resolve(bundled: Styles, job: Styles, reader: &mut Reader) -> Styles {
    let bundled = bundled.into_iter().map(|(name, style)| ((Layer::Bundled, name), style));
    let job = job.into_iter().map(|(name, style)| ((Layer::Job, name), style));
    let waiting: BTreeMap<Key, Rc<Tree>> = bundled.chain(job).collect();
    let known: BTreeSet<Key> = waiting.keys().cloned().collect();
    let mut chains = Chains { known, waiting, done: BTreeMap::new() };
    let keys: Vec<Key> = chains.waiting.keys().cloned().collect();
    for key in &keys {
        resolve_one(&mut chains, key, &mut Vec::new(), reader);
    }
    // Bundled comes before Job, so that a job's style takes the name.
    chains.done.into_iter().map(|((_, name), style)| (name, style)).collect()
}

fn resolve_one(
    chains: &mut Chains,
    key: &Key,
    trail: &mut Vec<(Key, Option<Place>)>,
    reader: &mut Reader,
) {
    let Some(style) = chains.waiting.remove(key) else { return };
    let place = style.get("style").map(|asked| asked.place);
    trail.push((key.clone(), place));
    let mut style = reader.cut_too_long(&style);
    if let Some(parent) = parent(chains, key, &style, reader) {
        if on_trail(trail, &parent) || trail.len() >= LONGEST_CHAIN {
            circle(&parent, trail, reader);
        } else {
            resolve_one(chains, &parent, trail, reader);
            if let Some(under) = chains.done.get(&parent) {
                style = merge::over(&style, under);
            }
        }
    }
    trail.pop();
    if !reader.make_room(&style, place.unwrap_or_default()) {
        return;
    }
    chains.done.insert(key.clone(), style);
}

/// The style that a style starts from.
fn parent(chains: &Chains, key: &Key, style: &Tree, reader: &mut Reader) -> Option<Key> {
    let exists = |key: &Key| chains.known.contains(key);
    let (layer, name) = key;
    let bundled = (Layer::Bundled, name.clone());
    let plain = [(Layer::Job, PLAIN.to_owned()), (Layer::Bundled, PLAIN.to_owned())];
    let Some(asked) = style.scalar("style") else {
        if *layer == Layer::Job && exists(&bundled) {
            return Some(bundled);
        }
        return plain.into_iter().find(exists).filter(|_| name != PLAIN);
    };
    let asked_name = asked.trimmed();
    if *layer == Layer::Job && asked_name == name && exists(&bundled) {
        return Some(bundled);
    }
    let found = [(Layer::Job, asked_name.to_owned()), (Layer::Bundled, asked_name.to_owned())]
        .into_iter()
        .find(exists);
    if found.is_none() {
        unknown(&asked, chains.known.iter().map(|(_, name)| name.as_str()), reader);
    }
    found
}

/// The style a label asks for, else the one every label starts from.
pub(super) fn of<'s>(own: &Tree, styles: &'s Styles, reader: &mut Reader) -> Option<&'s Rc<Tree>> {
    let plain = styles.get(PLAIN);
    let Some(asked) = own.scalar("style") else { return plain };
    let found = styles.get(asked.trimmed());
    if found.is_none() {
        unknown(&asked, styles.keys().map(String::as_str), reader);
    }
    found.or(plain)
}

/// Reports that no style has the name asked for.
fn unknown<'n>(asked: &Scalar, known: impl Iterator<Item = &'n str>, reader: &mut Reader) {
    if asked.trimmed() == FORMER_ROUND_ENDED {
        let message = format!("the style {} is now called `round-ended`", quoted(&asked.text));
        let help = "write `style: round-ended`, or add your own under `styles:`";
        reader.wrong("unknown-style", asked.place, message, help);
        return;
    }
    let help = reader.did_you_mean(asked.trimmed(), known, "add it under `styles:`");
    let message = format!("no style is called {}", quoted(&asked.text));
    reader.wrong("unknown-style", asked.place, message, help);
}

fn on_trail(trail: &[(Key, Option<Place>)], key: &Key) -> bool {
    trail.iter().any(|(known, _)| known == key)
}

fn circle(parent: &Key, trail: &[(Key, Option<Place>)], reader: &mut Reader) {
    let links = trail.iter().map(|(key, _)| key).chain([parent]);
    let names: Vec<String> = links.map(|(_, name)| quoted(name)).collect();
    let place = trail.iter().rev().find_map(|(_, place)| *place).unwrap_or_default();
    let (message, help) = if on_trail(trail, parent) {
        (format!("styles go round in a circle: {}", names.join(" → ")), "take one `style:` out")
    } else {
        ("more than 64 styles stand on each other".to_owned(), "make the chain of styles shorter")
    };
    reader.wrong("style-circle", place, message, help);
}
