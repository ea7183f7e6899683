//! Every marker to be put on, one row each: where, of which kind and size, and how it is done.

use super::table::{Column, READ_MM, Table, TableCell};
use super::writer::SheetWriter;
use crate::card::typeset::Level;
use crate::spec::wiring::{End, MarkerKind, MarkerOf, Spot, Wiring};
use crate::spec::{Label, Spec};
use crate::units::{counted, fixed};
use crate::wire::geometry::Sleeve;
use std::collections::BTreeSet;

const COLUMNS: [Column; 6] = [
    Column::ticks(8.0),
    Column::words("marker", 28.0),
    Column::words("at", 40.0),
    Column::words("kind", 24.0),
    Column::words("cut to", 36.0),
    Column::words("remark", 42.0),
];

/// Where markers go (FAA AC 43.13-1B 11-208; the distance is common practice, no source).
const WHERE: &str = "About 25 mm from each end, not under ties or clamps, reading left to right or top to bottom. \
                     Put both ends on before a wire is joined.";

/// Every marker in the order of the wires; nothing when the job has none.
pub(super) fn markers(spec: &Spec, wiring: &Wiring, writer: &mut SheetWriter<'_>) {
    let markers: Vec<(&Label, &MarkerOf)> =
        spec.labels.iter().filter_map(|label| Some((label, label.marker_of()?))).collect();
    if markers.is_empty() {
        return;
    }
    let kinds: BTreeSet<MarkerKind> = markers.iter().map(|(_, marks)| marks.kind).collect();
    let how: Vec<&str> = [WHERE].into_iter().chain(kinds.into_iter().map(how)).collect();
    let totals = counted(markers.len(), "marker");
    let table = Table::start("Markers", &totals, &how.join(" "), &COLUMNS, READ_MM, writer);
    for (label, marks) in markers {
        let wire = wiring.wires.get(marks.wire);
        debug_assert!(wire.is_some(), "a marker is on one of the wires");
        let Some(wire) = wire else { continue };
        let end = |end| wire.at(end).map(ToString::to_string).unwrap_or_default();
        let at = match marks.spot {
            Spot::End(at) => end(at),
            Spot::Along(_) => format!("between {} and {}", end(End::From), end(End::To)),
        };
        let size = label.size.unwrap_or_default();
        let [width, height] = [size.width, size.height].map(|mm| fixed(mm, 1));
        let cells = [
            TableCell::Blank,
            TableCell::strong(&label.name),
            TableCell::body(at),
            TableCell::Often(Level::Body, marks.kind.word()),
            TableCell::body(format!("{width} x {height}\u{a0}mm")),
            TableCell::body(remark(marks, wire.diameter.mm, size.width)),
        ];
        table.put(cells, writer);
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
    let sleeve =
        Some(diameter).filter(|_| marks.kind == MarkerKind::Sleeve).and_then(Sleeve::for_wire);
    sleeve.map_or(String::new(), |sleeve| {
        let [expanded, recovered, length] =
            [sleeve.expanded_mm, sleeve.recovered_mm, length].map(|mm| fixed(mm, 1));
        format!("sleeve {expanded} / {recovered}, {length}\u{a0}mm long")
    })
}
