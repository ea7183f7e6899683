//! Every marker to be put on, one row each: where, of which kind and size, and how it is done.

use super::pen::Pen;
use super::table::{Cell, Column, Holds, Table};
use crate::card::entry::counted;
use crate::card::typeset::Level;
use crate::spec::wiring::{End, MarkerKind, MarkerOf, Spot, Wiring};
use crate::spec::{Label, Spec};
use crate::units::fixed;
use crate::wire::geometry::Sleeve;
use std::collections::BTreeSet;

/// Height of a row, mm.
const ROW_MM: f64 = 5.4;

const COLUMNS: [Column; 6] = [
    ("", 8.0, Holds::Tick),
    ("marker", 28.0, Holds::Words),
    ("at", 40.0, Holds::Words),
    ("kind", 24.0, Holds::Words),
    ("cut to", 36.0, Holds::Words),
    ("remark", 42.0, Holds::Words),
];

/// Where markers go (FAA AC 43.13-1B 11-208; the distance is common practice, no source).
const WHERE: &str = "About 25 mm from each end, not under ties or clamps, reading left to right or top to bottom. \
                     Put both ends on before a wire is joined.";

/// Every marker in the order of the wires; nothing when the job has none.
pub(super) fn markers(spec: &Spec, wiring: &Wiring, pen: &mut Pen<'_>) {
    let markers: Vec<(&Label, &MarkerOf)> =
        spec.labels.iter().filter_map(|label| Some((label, label.marker_of()?))).collect();
    if markers.is_empty() {
        return;
    }
    let kinds: BTreeSet<MarkerKind> = markers.iter().map(|(_, marks)| marks.kind).collect();
    let how: Vec<&str> = [WHERE].into_iter().chain(kinds.into_iter().map(how)).collect();
    let table = Table::new("Markers", &COLUMNS, ROW_MM, pen);
    let totals = counted(markers.len(), "marker");
    pen.section(("Markers", &totals), &how.join(" "));
    table.names(pen);
    for (label, marks) in markers {
        let Some(wire) = wiring.wires.get(marks.wire) else { continue };
        let end = |end| wire.at(end).map(ToString::to_string).unwrap_or_default();
        let at = match marks.spot {
            Spot::End(at) => end(at),
            Spot::Along(_) => format!("between {} and {}", end(End::From), end(End::To)),
        };
        let size = label.size.unwrap_or_default();
        let cut = format!("{} x {}\u{a0}mm", fixed(size.width, 1), fixed(size.height, 1));
        let remark = remark(marks, wire.diameter.mm, size.width);
        let cells = [
            Cell::Blank,
            Cell::Text(Level::Strong, &label.name),
            Cell::Text(Level::Body, &at),
            Cell::Often(Level::Body, marks.kind.word()),
            Cell::Text(Level::Body, &cut),
            Cell::Text(Level::Body, &remark),
        ];
        let row = table.row(&cells, pen);
        pen.put(row);
    }
}

/// What to do with a kind. Common practice, no source.
fn how(kind: MarkerKind) -> &'static str {
    match kind {
        MarkerKind::Wrap => {
            "Wrap: press the blank end square to the wire and roll it on; the printed turn comes last, over it."
        }
        MarkerKind::Laminated => {
            "Laminated: roll the printed turn on first, square to the wire; the clear tail goes over it."
        }
        MarkerKind::Flag => {
            "Flag: the wire crosses the dashed line; fold the faces back to back and press them together."
        }
        MarkerKind::FlagAlong => {
            "Flag along: the wire lies on the dashed line; fold the faces back to back and press them together."
        }
        MarkerKind::Sleeve => {
            "Sleeve: slide it on before the end is joined, then shrink it with moving heat. A heat gun burns and \
             starts fires: air the room, keep it off lithium cells, lacquer and soft insulation."
        }
    }
}

/// The sleeve to cut, where it is one.
fn remark(marks: &MarkerOf, diameter: f64, length: f64) -> String {
    if marks.kind != MarkerKind::Sleeve {
        return String::new();
    }
    Sleeve::for_wire(diameter).map_or(String::new(), |sleeve| {
        format!(
            "sleeve {} / {}, {}\u{a0}mm long",
            fixed(sleeve.expanded_mm, 1),
            fixed(sleeve.recovered_mm, 1),
            fixed(length, 1)
        )
    })
}
