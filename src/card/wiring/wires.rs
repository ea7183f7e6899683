//! What is wired to what, device by device, and the wires themselves.

use super::table::{Column, READ_MM, Table, TableCell};
use super::writer::SheetWriter;
use crate::card::strip::{Strip, StripWriter};
use crate::card::typeset::Level;
use crate::spec::wiring::{Diameter, End, Terminal, Wire, Wiring};
use crate::units::{counted, fixed};
use crate::wire::natural;
use kurbo::Point;
use std::collections::{BTreeMap, BTreeSet};

const DEVICE_COLUMNS: [Column; 6] = [
    Column::words("terminal", 25.0),
    Column::words("wire", 18.0),
    Column::words("colour", 42.0),
    Column::words("other end", 25.0),
    Column::words("function", 34.0),
    Column::words("note", 34.0),
];

const LIST_COLUMNS: [Column; 5] = [
    Column::words("wire", 26.0),
    Column::words("gauge", 22.0),
    Column::words("outside diameter", 56.0),
    Column::words("length", 22.0),
    Column::words("function", 52.0),
];

/// One end of one wire, at its device.
struct WireEnd<'a> {
    terminal: &'a Terminal,
    wire: &'a Wire,
    other: Option<&'a Terminal>,
}

/// Every device with all that is joined to its terminals.
pub(super) fn by_device(wiring: &Wiring, writer: &mut SheetWriter<'_>) {
    let devices = devices(wiring);
    let title = "By device";
    let note = "Every terminal of every device, the wire on it, and where that wire goes.";
    let totals = counted(devices.len(), "device");
    let mut table = Table::start(title, &totals, note, &DEVICE_COLUMNS, READ_MM, writer);
    for (device, ends) in &devices {
        device_head(device, ends, &mut writer.strips);
        writer.strips.strip.running = Some(table.run_on_as(title));
        writer.put_written();
        table.run_on_as(&format!("{title}: {device}"));
        let mut above = String::new();
        for WireEnd { terminal, wire, other } in ends {
            // A terminal's further wires name it in quiet letters.
            let key = terminal.key();
            let level = if key == above { Level::Quiet } else { Level::Strong };
            above = key;
            let cells = [
                TableCell::Text(level, terminal.to_string().into()),
                TableCell::body(&wire.id),
                wire.colour.as_ref().map_or(TableCell::Blank, TableCell::Colour),
                other.map_or(TableCell::Often(Level::Quiet, "not given"), |other| {
                    TableCell::body(other.to_string())
                }),
                TableCell::body(&wire.function),
                TableCell::quiet(&wire.note),
            ];
            table.put(cells, writer);
        }
    }
}

/// The wire ends at each device, by the device's name; devices, terminals and wires in the order a person counts.
fn devices(wiring: &Wiring) -> Vec<(&str, Vec<WireEnd<'_>>)> {
    let mut devices: BTreeMap<&str, Vec<WireEnd<'_>>> = BTreeMap::new();
    for wire in &wiring.wires {
        for (end, other) in [(End::From, End::To), (End::To, End::From)] {
            let Some(terminal) = wire.at(end) else { continue };
            let end = WireEnd { terminal, wire, other: wire.at(other) };
            devices.entry(terminal.device_key()).or_default().push(end);
        }
    }
    let mut devices: Vec<_> = devices.into_iter().collect();
    devices.sort_by(|(one, _), (other, _)| natural(one, other));
    for (_, ends) in &mut devices {
        ends.sort_by(|one, other| {
            natural(&one.terminal.pin, &other.terminal.pin)
                .then_with(|| natural(&one.wire.id, &other.wire.id))
        });
    }
    let named = devices.into_iter().filter_map(|(_, ends)| {
        let device = &ends.first()?.terminal.device;
        Some((device.as_str(), ends))
    });
    named.collect()
}

fn device_head(device: &str, ends: &[WireEnd<'_>], writer: &mut StripWriter<'_>) {
    writer.strip = Strip::held(8.6);
    writer.set_first(1, Level::Head, device, Point::new(0.0, 4.4), writer.width * 0.7);
    let terminals: BTreeSet<String> = ends.iter().map(|end| end.terminal.key()).collect();
    let wires = counted(ends.len(), "wire end");
    writer.write_right(&format!("{}, {wires}", counted(terminals.len(), "terminal")), 5.1);
}

/// Every wire in the order of the table: what to cut, and how thick it is.
pub(super) fn list(wiring: &Wiring, writer: &mut SheetWriter<'_>) {
    let note = "The outside diameter decides the size of a marker. Measure it over the insulation with a \
                caliper, without squeezing; where it is assumed from gauge and insulation, the row says so.";
    let totals = counted(wiring.wires.len(), "wire");
    let table = Table::start("Wires", &totals, note, &LIST_COLUMNS, READ_MM, writer);
    for wire in &wiring.wires {
        let gauge = wire.gauge.map(|gauge| gauge.to_string());
        let length = wire.length_mm.map(|mm| format!("{}\u{a0}mm", fixed(mm, 1)));
        let cells = [
            TableCell::strong(&wire.id),
            TableCell::body(gauge.unwrap_or_default()),
            TableCell::body(diameter(wire.diameter)),
            TableCell::body(length.unwrap_or_default()),
            TableCell::body(&wire.function),
        ];
        table.put(cells, writer);
    }
}

/// `1.52 mm`, and that it is assumed where it is.
fn diameter(diameter: Diameter) -> String {
    let assumed = if diameter.assumed { ", assumed: measure yours" } else { "" };
    format!("{}\u{a0}mm{assumed}", fixed(diameter.mm, 2))
}
