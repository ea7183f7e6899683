//! The proof as one page for a browser: opened from disk, no server, nothing fetched.
//!
//! Every design is drawn once, a group a plate whose colour is a custom property (`--p0`, `--p1` …). A sheet leaves
//! them as printed; a surface sets them to the colours seen, once for ink on film and once more, cut to the white,
//! for ink on white. So a plate switched off, or another paint tried out, changes a few properties and nothing else.
//! The page allows its own script and style by their hashes and nothing from anywhere else.

mod appearances;
mod drawings;
mod lists;
mod views;

use super::Proofed;
use super::html_escape::{escaped, policy_hash};
use super::pins::{self, Pin};
use super::surfaces::{ShownSurface, shown_surfaces};
use crate::colour::Colour;
use crate::design::Plate;
use crate::units::fixed;
use appearances::Appearances;
use std::collections::{BTreeMap, BTreeSet};

const FRAME: &str = include_str!("../proof.html");
const STYLE: &str = include_str!("../proof.css");
const SCRIPT: &str = include_str!("../proof.js");

/// What all parts of the page are made from.
struct PageContext<'a> {
    job: Proofed<'a>,
    surfaces: Vec<ShownSurface<'a>>,
    pins: Vec<Pin<'a>>,
    /// The same by their design.
    pins_on: BTreeMap<usize, Vec<Pin<'a>>>,
    /// Every colour printed and its number.
    inks: BTreeMap<Colour, usize>,
    appearances: Appearances<'a>,
}

/// The page.
#[must_use]
pub(crate) fn page(job: Proofed<'_>) -> String {
    let surfaces = shown_surfaces(job.spec, job.designs);
    let inks = inks(job);
    let appearances = Appearances::of(job, &surfaces, &inks);
    let pins = pins::pins(job);
    let mut pins_on: BTreeMap<usize, Vec<Pin<'_>>> = BTreeMap::new();
    for pin in &pins {
        pins_on.entry(pin.design).or_default().push(*pin);
    }
    let context = PageContext { job, surfaces, pins, pins_on, inks, appearances };
    let style =
        format!("{STYLE}{}{}", appearances::plates(&context.inks), context.appearances.rules());
    let [style, script] = [&style, SCRIPT].map(|text| format!("\n{}\n", text.trim()));
    let percent = |share: f64| fixed(share * 100.0, 0).to_string();
    fill(
        FRAME,
        &[
            ("style-hash", policy_hash(&style)),
            ("script-hash", policy_hash(&script)),
            ("style", style),
            ("script", script),
            ("title", escaped(&job.spec.title)),
            ("issue", issue(job)),
            ("drawings", drawings::write(&context)),
            ("views", views::write(&context)),
            ("choices", lists::choices(&context)),
            ("plates", lists::plates(&context)),
            ("findings", lists::findings(&context)),
            ("counts", lists::counts(&context)),
            ("looks", context.appearances.json()),
            ("ink-opacity", percent(job.spec.printer.ink_opacity)),
            ("white-opacity", percent(job.spec.printer.white_opacity)),
        ],
    )
}

/// Revision, date and printer, those that are given.
fn issue(job: Proofed<'_>) -> String {
    let revision =
        job.spec.revision.as_ref().map(|revision| format!("revision {}", escaped(revision)));
    let date = job.spec.date.as_deref().map(escaped);
    let given = [revision, date, Some(escaped(&job.spec.printer.name))];
    given.into_iter().flatten().collect::<Vec<String>>().join(" · ")
}

/// The colours printed anywhere, numbered in their order.
fn inks(job: Proofed<'_>) -> BTreeMap<Colour, usize> {
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
fn fill(frame: &str, values: &[(&str, String)]) -> String {
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
