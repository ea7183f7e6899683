//! The tests with a meter: what must beep, and what must not.

use super::pen::Pen;
use super::table::{Cell, Column, Holds, Table};
use crate::card::entry::counted;
use crate::card::typeset::Level;
use crate::spec::wiring::Wiring;
use crate::wire::Plan;

/// What a good joint does: common practice, no source.
pub(super) const BEEPS: &str = "beeps, under 1 ohm";
/// What two nets that are not joined do: common practice, no source.
pub(super) const SILENT: &str = "no beep";
/// Said where other wires join the two terminals as well, so that an open wire would beep too.
pub(super) const END_OFF: &str = "end B left off";

/// The same for the table, where there is room to say why.
pub(super) const END_OFF_WHY: &str = "other wires join these as well: leave end b off until all tests are done, touch the loose wire";

/// Height of a row, mm: room for a pencil.
const ROW_MM: f64 = 6.4;

const JOINED: [Column; 9] = [
    ("", 5.6, Holds::Tick),
    ("step", 9.4, Holds::Words),
    ("wire", 18.0, Holds::Words),
    ("probe A", 25.0, Holds::Words),
    ("probe B", 25.0, Holds::Words),
    ("colour", 21.5, Holds::Words),
    ("expect", 28.0, Holds::Words),
    ("reading", 18.0, Holds::Line),
    ("remark", 27.5, Holds::Words),
];

const APART: [Column; 7] = [
    ("", 5.6, Holds::Tick),
    ("step", 9.4, Holds::Words),
    ("probe A", 34.0, Holds::Words),
    ("probe B", 34.0, Holds::Words),
    ("expect", 20.0, Holds::Words),
    ("why", 53.0, Holds::Words),
    ("reading", 22.0, Holds::Line),
];

/// Every wire, from end to end.
pub(super) fn joined(wiring: &Wiring, plan: &Plan, pen: &mut Pen<'_>) {
    let mut note = String::from(
        "One probe on each of the two terminals. A wire that stays silent is open, or goes elsewhere.",
    );
    if plan.joined.iter().any(|test| test.one_end_off) {
        note.push_str(
            " Where a remark says that end B is left off, other wires join the two terminals as well: fix \
             that end last, when all tests are done, and touch probe B to the loose wire instead.",
        );
    }
    let table = Table::new("Must beep", &JOINED, ROW_MM, pen);
    let totals = counted(plan.joined.len(), "test");
    pen.section(("Must beep", &totals), &note);
    table.names(pen);
    for (at, test) in plan.joined.iter().enumerate() {
        let Some(wire) = wiring.wires.get(test.wire) else { continue };
        let [first, second] = &test.probes;
        let [step, a, b] = [(at + 1).to_string(), first.to_string(), second.to_string()];
        let cells = [
            Cell::Blank,
            Cell::Text(Level::Quiet, &step),
            Cell::Text(Level::Strong, &wire.id),
            Cell::Text(Level::Body, &a),
            Cell::Text(Level::Body, &b),
            wire.colour.as_ref().map_or(Cell::Blank, Cell::Code),
            Cell::Often(Level::Body, BEEPS),
            Cell::Blank,
            if test.one_end_off { Cell::Text(Level::Body, END_OFF) } else { Cell::Blank },
        ];
        let row = table.row(&cells, pen);
        pen.put(row);
    }
}

/// Pairs that a slip of the iron or a swapped wire would join; nothing when there are none.
pub(super) fn apart(plan: &Plan, pen: &mut Pen<'_>) {
    if plan.apart.is_empty() {
        return;
    }
    let note = "A steady beep here is a short: find it before any power goes on.";
    let table = Table::new("Must not beep", &APART, ROW_MM, pen);
    let totals = counted(plan.apart.len(), "test");
    pen.section(("Must not beep", &totals), note);
    table.names(pen);
    for (at, test) in plan.apart.iter().enumerate() {
        let [first, second] = &test.probes;
        let step = (plan.joined.len() + at + 1).to_string();
        let [a, b, why] = [first.to_string(), second.to_string(), test.reason.to_string()];
        let cells = [
            Cell::Blank,
            Cell::Text(Level::Quiet, &step),
            Cell::Text(Level::Body, &a),
            Cell::Text(Level::Body, &b),
            Cell::Often(Level::Body, SILENT),
            Cell::Text(Level::Body, &why),
            Cell::Blank,
        ];
        let row = table.row(&cells, pen);
        pen.put(row);
    }
}
