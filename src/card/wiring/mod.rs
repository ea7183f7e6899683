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
use super::typeset::Typesetter;
use crate::font::Faces;
use crate::spec::Spec;
use crate::spec::wiring::Wiring;
use crate::wire::Plan;
use pen::Pen;

/// Fills the sheets.
pub(super) fn fill(spec: &Spec, wiring: &Wiring, plan: &Plan, faces: &Faces) -> Card {
    let mut pen = Pen::new(Typesetter::new(faces, 0), spec);
    for strip in head::head(spec, wiring, plan, &mut pen.setter) {
        pen.put(strip);
    }
    probes::joined(wiring, plan, &mut pen);
    probes::apart(plan, &mut pen);
    devices::overview(wiring, &mut pen);
    list::wires(wiring, &mut pen);
    markers::markers(spec, wiring, &mut pen);
    pen.finish(spec)
}

#[cfg(test)]
mod tests;
