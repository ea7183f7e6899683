//! The wires themselves: what to cut, and how thick it is.

use super::pen::Pen;
use super::table::{Cell, Column, Holds, Table};
use crate::card::entry::counted;
use crate::card::typeset::Level;
use crate::spec::wiring::{Diameter, Wiring};
use crate::units::fixed;

/// Height of a row, mm.
const ROW_MM: f64 = 5.4;

const COLUMNS: [Column; 5] = [
    ("wire", 26.0, Holds::Words),
    ("gauge", 22.0, Holds::Words),
    ("outside diameter", 56.0, Holds::Words),
    ("length", 22.0, Holds::Words),
    ("function", 52.0, Holds::Words),
];

/// Every wire in the order of the table.
pub(super) fn wires(wiring: &Wiring, pen: &mut Pen<'_>) {
    let note = "The outside diameter decides the size of a marker. Measure it over the insulation with a \
                caliper, without squeezing; where it is assumed from gauge and insulation, the row says so.";
    let table = Table::new("Wires", &COLUMNS, ROW_MM, pen);
    let totals = counted(wiring.wires.len(), "wire");
    pen.section(("Wires", &totals), note);
    table.names(pen);
    for wire in &wiring.wires {
        let gauge = wire.gauge.map(|gauge| gauge.to_string()).unwrap_or_default();
        let length = wire.length_mm.map(|mm| format!("{}\u{a0}mm", fixed(mm, 1)));
        let length = length.unwrap_or_default();
        let diameter = diameter(wire.diameter);
        let cells = [
            Cell::Text(Level::Strong, &wire.id),
            Cell::Text(Level::Body, &gauge),
            Cell::Text(Level::Body, &diameter),
            Cell::Text(Level::Body, &length),
            Cell::Text(Level::Body, &wire.function),
        ];
        let row = table.row(&cells, pen);
        pen.put(row);
    }
}

/// `1.52 mm`, and that it is assumed where it is.
fn diameter(diameter: Diameter) -> String {
    let mm = fixed(diameter.mm, 2);
    if diameter.assumed {
        format!("{mm}\u{a0}mm, assumed: measure yours")
    } else {
        format!("{mm}\u{a0}mm")
    }
}
