//! What is wired to what, device by device.

use super::pen::Pen;
use super::table::{Cell, Column, Holds, Table};
use crate::card::entry::counted;
use crate::card::page::write_right;
use crate::card::strip::Strip;
use crate::card::typeset::{Level, Typesetter};
use crate::spec::wiring::{End, Terminal, Wire, Wiring};
use crate::wire::natural;
use kurbo::Point;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Height of a row, mm.
const ROW_MM: f64 = 5.4;

const COLUMNS: [Column; 6] = [
    ("terminal", 25.0, Holds::Words),
    ("wire", 18.0, Holds::Words),
    ("colour", 42.0, Holds::Words),
    ("other end", 25.0, Holds::Words),
    ("function", 34.0, Holds::Words),
    ("note", 34.0, Holds::Words),
];

/// One end of one wire, at its device.
struct Joint<'a> {
    terminal: &'a Terminal,
    wire: &'a Wire,
    other: Option<&'a Terminal>,
}

/// Every device with all that is joined to its terminals.
pub(super) fn overview(wiring: &Wiring, pen: &mut Pen<'_>) {
    let devices = devices(wiring);
    let note = "Every terminal of every device, the wire on it, and where that wire goes.";
    let table = Table::new("By device", &COLUMNS, ROW_MM, pen);
    let totals = counted(devices.len(), "device");
    pen.section(("By device", &totals), note);
    table.names(pen);
    for joints in &devices {
        let Some(first) = joints.first() else { continue };
        let device = &first.terminal.device;
        let head = device_head(device, joints, pen.width, &mut pen.setter);
        pen.put(Strip { running: Some(table.running("By device")), ..head });
        let running = table.running(&format!("By device: {device}"));
        let mut above = String::new();
        for joint in joints {
            let key = joint.terminal.key();
            let row = row(&table, joint, key == above, pen);
            pen.put(Strip { running: Some(Rc::clone(&running)), ..row });
            above = key;
        }
    }
}

/// The joints of each device; devices, terminals and wires in the order a person counts.
fn devices(wiring: &Wiring) -> Vec<Vec<Joint<'_>>> {
    let mut devices: BTreeMap<&str, Vec<Joint<'_>>> = BTreeMap::new();
    for wire in &wiring.wires {
        for (end, other) in [(End::From, End::To), (End::To, End::From)] {
            let Some(terminal) = wire.at(end) else { continue };
            let joint = Joint { terminal, wire, other: wire.at(other) };
            devices.entry(terminal.device_key()).or_default().push(joint);
        }
    }
    let mut devices: Vec<_> = devices.into_iter().collect();
    devices.sort_by(|(one, _), (other, _)| natural(one, other));
    for (_, joints) in &mut devices {
        joints.sort_by(|one, other| {
            natural(&one.terminal.pin, &other.terminal.pin)
                .then_with(|| natural(&one.wire.id, &other.wire.id))
        });
    }
    devices.into_iter().map(|(_, joints)| joints).collect()
}

fn device_head(
    device: &str,
    joints: &[Joint<'_>],
    width: f64,
    setter: &mut Typesetter<'_>,
) -> Strip {
    let mut strip = Strip { holds_next: true, height: 8.6, ..Strip::default() };
    let lines = setter.lines(Level::Head, device, width * 0.7);
    strip.write(lines.get(..1).unwrap_or_default(), Level::Head, Point::new(0.0, 4.4));
    let terminals: BTreeSet<String> = joints.iter().map(|joint| joint.terminal.key()).collect();
    let wires = counted(joints.len(), "wire end");
    let totals = format!("{}, {wires}", counted(terminals.len(), "terminal"));
    write_right(&mut strip, &totals, (width, 5.1), setter);
    strip
}

/// A terminal's further wires name it in quiet letters.
fn row(table: &Table, joint: &Joint<'_>, further: bool, pen: &mut Pen<'_>) -> Strip {
    let terminal = joint.terminal.to_string();
    let level = if further { Level::Quiet } else { Level::Strong };
    let other = joint.other.map(ToString::to_string);
    let cells = [
        Cell::Text(level, &terminal),
        Cell::Text(Level::Body, &joint.wire.id),
        joint.wire.colour.as_ref().map_or(Cell::Blank, Cell::Colour),
        other
            .as_deref()
            .map_or(Cell::Often(Level::Quiet, "not given"), |other| Cell::Text(Level::Body, other)),
        Cell::Text(Level::Body, &joint.wire.function),
        Cell::Text(Level::Quiet, &joint.wire.note),
    ];
    table.row(&cells, pen)
}
