//! The proof as one page for a browser: opened from disk, no server, nothing fetched.
//!
//! Every design is drawn once, a group a plate whose colour is a custom property (`--p0`, `--p1` …). A sheet leaves
//! them as printed; a surface sets them to the colours seen, once for ink on film and once more, cut to the white,
//! for ink on white. So a plate switched off, or another paint tried out, changes a few properties and nothing else.
//! The page allows its own script and style by their hashes and nothing from anywhere else.

mod drawings;
mod lists;
mod looks;
mod views;

use super::pins::{self, Pin};
use super::shield::{escaped, hash};
use super::surfaces::{Shown, shown};
use super::{Job, word};
use crate::colour::Colour;
use crate::design::Plate;
use looks::Looks;
use std::collections::{BTreeMap, BTreeSet};

const FRAME: &str = include_str!("../proof.html");
const STYLE: &str = include_str!("../proof.css");
const SCRIPT: &str = include_str!("../proof.js");

/// What all parts of the page are made from.
struct Bench<'a> {
    job: Job<'a>,
    shown: Vec<Shown<'a>>,
    pins: Vec<Pin>,
    /// The same by their design.
    pins_on: BTreeMap<usize, Vec<Pin>>,
    /// Every colour printed and its number.
    inks: BTreeMap<Colour, usize>,
    looks: Looks,
}

/// The page.
#[must_use]
pub(crate) fn page(job: Job<'_>) -> String {
    let shown = shown(job.spec, job.designs);
    let inks = inks(job);
    let looks = Looks::of(job, &shown, &inks);
    let pins = pins::pins(job);
    let mut pins_on: BTreeMap<usize, Vec<Pin>> = BTreeMap::new();
    for pin in &pins {
        pins_on.entry(pin.design).or_default().push(*pin);
    }
    let bench = Bench { job, shown, pins, pins_on, inks, looks };
    let style = format!("{STYLE}{}{}", looks::plates(&bench.inks), bench.looks.rules());
    let [style, script] = [style, SCRIPT.to_owned()].map(|text| format!("\n{}\n", text.trim()));
    let (style_hash, script_hash) = (hash(&style), hash(&script));
    fill(
        FRAME,
        &[
            ("style-hash", &style_hash),
            ("script-hash", &script_hash),
            ("style", &style),
            ("script", &script),
            ("title", &escaped(&job.spec.title)),
            ("issue", &issue(job)),
            ("drawings", &drawings::write(&bench)),
            ("views", &views::write(&bench)),
            ("choices", &lists::choices(&bench)),
            ("plates", &lists::plates(&bench)),
            ("findings", &lists::findings(&bench)),
            ("counts", &lists::counts(&bench)),
            ("looks", &bench.looks.json()),
            (
                "ink-opacity",
                &crate::units::fixed(job.spec.printer.ink_opacity * 100.0, 0).to_string(),
            ),
            (
                "white-opacity",
                &crate::units::fixed(job.spec.printer.white_opacity * 100.0, 0).to_string(),
            ),
        ],
    )
}

fn issue(job: Job<'_>) -> String {
    let given = [("revision", &job.spec.revision), ("", &job.spec.date)];
    let said = given.into_iter().filter_map(|(word, text)| {
        let text = escaped(text.as_ref()?);
        Some(if word.is_empty() { text } else { format!("{word} {text}") })
    });
    said.chain([escaped(&job.spec.printer.name)]).collect::<Vec<String>>().join(" · ")
}

/// The colours printed anywhere, numbered in their order.
fn inks(job: Job<'_>) -> BTreeMap<Colour, usize> {
    let marks = job.designs.iter().flat_map(|design| &design.marks);
    let marks = marks.chain(job.sheets.iter().flat_map(|sheet| &sheet.marks));
    let inks: BTreeSet<Colour> = marks
        .filter_map(|mark| match mark.plate {
            Plate::Ink(colour) => Some(colour),
            _ => None,
        })
        .collect();
    inks.into_iter().zip(0..).collect()
}

/// A frame with each `{{name}}` filled in, in one pass: nothing that is filled in is looked at again.
fn fill(frame: &str, values: &[(&str, &str)]) -> String {
    let mut out =
        String::with_capacity(frame.len() + values.iter().map(|(_, v)| v.len()).sum::<usize>());
    let mut parts = frame.split("{{");
    out.push_str(parts.next().unwrap_or_default());
    for part in parts {
        let (name, rest) = part.split_once("}}").unwrap_or((part, ""));
        let value = values.iter().find(|(known, _)| *known == name);
        debug_assert!(value.is_some(), "the frame asks for {name}");
        out.push_str(value.map_or("", |(_, value)| value));
        out.push_str(rest);
    }
    out
}

#[cfg(test)]
mod tests;
