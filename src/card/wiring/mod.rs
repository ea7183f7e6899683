//! The wiring sheets: what to check with a meter, what is wired to what, and the wires themselves.
//!
//! To hang at the bench: tests in the order in which the hand moves least, then every device with its
//! terminals, then the list of wires. The tests also go into a table for a spreadsheet.

mod devices;
mod head;
mod list;
mod markers;
mod pen;
mod probes;
mod record;
mod table;

pub(super) use record::csv;

use super::Card;
use super::page;
use super::strip::Strip;
use super::typeset::Typesetter;
use crate::font::Faces;
use crate::spec::Spec;
use crate::spec::wiring::Wiring;
use crate::wire::Plan;
use pen::Pen;

/// White between sections, mm.
const SECTION_GAP_MM: f64 = 7.0;

/// Fills the sheets.
pub(super) fn fill(spec: &Spec, wiring: &Wiring, plan: &Plan, faces: &Faces) -> Card {
    let width = page::width(spec);
    let mut pen = Pen::new(Typesetter::new(faces, 0));
    let mut strips = head::head(spec, wiring, plan, &mut pen.setter);
    for section in [
        probes::joined(wiring, plan, width, &mut pen),
        probes::apart(plan, width, &mut pen),
        devices::overview(wiring, width, &mut pen),
        list::wires(wiring, width, &mut pen),
        markers::markers(spec, wiring, width, &mut pen),
    ] {
        if !section.is_empty() {
            strips.push(Strip::gap(SECTION_GAP_MM));
            strips.extend(section);
        }
    }
    let pages = page::bind(spec, Vec::new(), strips, &mut pen.setter);
    Card { pages, drawings: pen.setter.into_drawings() }
}

#[cfg(test)]
mod tests;
