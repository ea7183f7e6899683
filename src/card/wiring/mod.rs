//! The wiring sheets: what to check with a meter, what is wired to what, and the wires themselves.
//!
//! To hang at the bench: tests in the order in which the hand moves least, then every device with its
//! terminals, then the list of wires. The tests also go into a table for a spreadsheet.

mod head;
mod markers;
mod probes;
mod record;
mod table;
mod wires;
mod writer;

pub(crate) use record::continuity_csv;

use super::Card;
use crate::font::Faces;
use crate::spec::Spec;
use crate::spec::wiring::Wiring;
use crate::wire::Plan;
use writer::SheetWriter;

/// The wiring sheets as pages of the same paper: cautions, the plan's tests with boxes to tick and room for
/// a reading, every device with its terminals, and the list of wires.
///
/// They place no designs of the job: the drawings are numbered from 0.
#[must_use]
pub(crate) fn wiring_pages(spec: &Spec, wiring: &Wiring, plan: &Plan, faces: &Faces) -> Card {
    let mut writer = SheetWriter::new(spec, faces);
    head::head(spec, wiring, plan, &mut writer);
    probes::joined(wiring, plan, &mut writer);
    probes::apart(plan, &mut writer);
    wires::by_device(wiring, &mut writer);
    wires::list(wiring, &mut writer);
    markers::markers(spec, wiring, &mut writer);
    writer.finish(spec)
}

#[cfg(test)]
mod tests;
