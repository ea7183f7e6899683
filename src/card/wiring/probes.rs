//! The tests with a meter: what must beep, and what must not.

use super::table::{Column, Table, TableCell, WRITE_MM};
use super::writer::SheetWriter;
use crate::card::typeset::Level;
use crate::spec::wiring::Wiring;
use crate::units::counted;
use crate::wire::Plan;

/// What a good joint does: common practice, no source.
pub(super) const BEEPS: &str = "beeps, under 1 ohm";
/// What two nets that are not joined do: common practice, no source.
pub(super) const SILENT: &str = "no beep";
/// The remark where other wires join the two terminals as well, so that an open wire would beep too.
pub(super) const END_OFF: &str = "end B left off";

/// The same for the table, where there is room to say why.
pub(super) const END_OFF_WHY: &str = "other wires join these as well: leave end b off until all tests are done, touch the loose wire";

const JOINED: [Column; 9] = [
    Column::ticks(5.6),
    Column::words("step", 9.4),
    Column::words("wire", 18.0),
    Column::words("probe A", 25.0),
    Column::words("probe B", 25.0),
    Column::words("colour", 21.5),
    Column::words("expect", 28.0),
    Column::lines("reading", 18.0),
    Column::words("remark", 27.5),
];

const APART: [Column; 7] = [
    Column::ticks(5.6),
    Column::words("step", 9.4),
    Column::words("probe A", 34.0),
    Column::words("probe B", 34.0),
    Column::words("expect", 20.0),
    Column::words("why", 53.0),
    Column::lines("reading", 22.0),
];

/// Every wire, from end to end.
pub(super) fn joined(wiring: &Wiring, plan: &Plan, writer: &mut SheetWriter<'_>) {
    let mut note = String::from(
        "One probe on each of the two terminals. A wire that stays silent is open, or goes elsewhere.",
    );
    if plan.joined.iter().any(|test| test.one_end_off) {
        note.push_str(
            " Where a remark says that end B is left off, other wires join the two terminals as well: fix \
             that end last, when all tests are done, and touch probe B to the loose wire instead.",
        );
    }
    let totals = counted(plan.joined.len(), "test");
    let table = Table::start("Must beep", &totals, &note, &JOINED, WRITE_MM, writer);
    for (test, step) in plan.joined.iter().zip(1..) {
        let wire = wiring.wires.get(test.wire);
        debug_assert!(wire.is_some(), "a test is of one of the wires");
        let Some(wire) = wire else { continue };
        let [a, b] = test.probes.each_ref().map(ToString::to_string);
        let cells = [
            TableCell::Blank,
            TableCell::quiet(step.to_string()),
            TableCell::strong(&wire.id),
            TableCell::body(a),
            TableCell::body(b),
            wire.colour.as_ref().map_or(TableCell::Blank, TableCell::Code),
            TableCell::Often(Level::Body, BEEPS),
            TableCell::Blank,
            if test.one_end_off { TableCell::body(END_OFF) } else { TableCell::Blank },
        ];
        table.put(cells, writer);
    }
}

/// Pairs that a slip of the iron or a swapped wire would join; nothing when there are none.
pub(super) fn apart(plan: &Plan, writer: &mut SheetWriter<'_>) {
    if plan.apart.is_empty() {
        return;
    }
    let note = "A steady beep here is a short: find it before any power goes on.";
    let totals = counted(plan.apart.len(), "test");
    let table = Table::start("Must not beep", &totals, note, &APART, WRITE_MM, writer);
    for (test, step) in plan.apart.iter().zip(plan.joined.len() + 1..) {
        let [a, b] = test.probes.each_ref().map(ToString::to_string);
        let cells = [
            TableCell::Blank,
            TableCell::quiet(step.to_string()),
            TableCell::body(a),
            TableCell::body(b),
            TableCell::Often(Level::Body, SILENT),
            TableCell::body(test.reason.to_string()),
            TableCell::Blank,
        ];
        table.put(cells, writer);
    }
}
