//! `wires:` as wires: rows from a table and from the job, terminals, colours, thicknesses and texts.

use super::column::{COLUMNS, Column, Known, Row, known};
use super::markers::{MarkerKeys, markers};
use super::{Insulation, Rail, Terminal, Wire, Wiring, row};
use crate::finding::{Place, quoted};
use crate::spec::label::codes;
use crate::spec::reader::Reader;
use crate::spec::repeat;
use crate::yaml::{OneOrList, Scalar, keys};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The most wires a job may have.
const MOST_WIRES: usize = 10_000;

/// The most wires one terminal may take.
const MOST_TAKEN: u32 = 100;

/// What a marker says where the job does not: which wire it is, and between which terminals.
const USUAL_TEXT: [&str; 2] = ["{wire}", "{local} > {remote}"];

keys! {
    /// The wiring of a job.
    pub(in crate::spec) struct WiresKeys {
        /// A table beside the job, one wire a row: wire, from, to, colour, gauge or diameter, length, function, note.
        table: Option<Scalar>,
        /// Wires written here, each a map with the columns a table would have.
        list: Vec<BTreeMap<String, Scalar>>,
        /// Supplies and grounds many wires share: names of pins or functions (`GND`), or terminals (`PS1:V12`).
        rails: Option<OneOrList>,
        /// Terminals that take more than one wire: `K1:COM: 2`.
        takes: BTreeMap<String, Scalar>,
        /// Insulation where only the gauge is known: `pvc`, `silicone` or `wire-wrap`.
        insulation: Option<Scalar>,
        /// Lines of each marker: `{wire}`, `{local}` (this end), `{remote}` (the other), or any column.
        text: Option<OneOrList>,
        /// Lines at the end a wire comes from, where they are not the same.
        text_from: Option<OneOrList>,
        /// Lines at the end a wire goes to, where they are not the same.
        text_to: Option<OneOrList>,
        /// The kind of marker, or a map.
        marker: Option<MarkerKeys>,
        /// Codes of findings about the wiring you accept.
        allow: Option<OneOrList>,
    }
}

/// The wiring that is asked for.
pub(in crate::spec) fn wires(keys: &WiresKeys, job: Place, reader: &mut Reader) -> Wiring {
    let table = keys.table.as_ref().map(|file| repeat::from_table(file, reader));
    let place = first_place(keys).unwrap_or(job);
    let mut rows: Vec<Row<'_>> = Vec::new();
    if let Some(table) = &table {
        let headers = table.rows.first().map(|_| table.columns.as_slice()).unwrap_or_default();
        needed(headers, keys.table.as_ref().map_or(place, |file| file.place), reader);
        let columns: Rc<[Known]> = table.columns.iter().map(|header| known(header)).collect();
        for row in &table.rows {
            let place = joined(row.iter());
            let cells = table.columns.iter().map(String::as_str).zip(row).collect();
            rows.push(Row { cells, known: Rc::clone(&columns), place });
        }
    }
    for listed in &keys.list {
        let headers: Vec<String> = listed.keys().cloned().collect();
        let place = joined(listed.values());
        needed(&headers, place, reader);
        let cells = listed.iter().map(|(header, cell)| (header.as_str(), cell)).collect();
        let known = headers.iter().map(|header| known(header)).collect();
        rows.push(Row { cells, known, place });
    }
    if rows.is_empty() && table.is_none() {
        let message = "`wires:` has no wires";
        reader.wrong("no-wires", place, message, "name a `table:` beside the job, or `list:` them");
    }
    if rows.len() > MOST_WIRES {
        let message = format!("the job has {} wires; {MOST_WIRES} is the most", rows.len());
        reader.wrong("too-many", place, message, "make two jobs of it");
        rows.clear();
    }
    let markers = markers(&keys.marker, place, reader);
    let way = row::RowRules { insulation: insulation(keys, reader), texts: texts(keys, place) };
    // What may stand in braces, for suggesting one that was meant.
    let headers = rows.first().map(|row| row.cells.iter().map(|(header, _)| (*header).to_owned()));
    reader.columns = ["local", "remote"].map(str::to_owned).into();
    reader.columns.extend(headers.into_iter().flatten());
    let wires: Vec<Wire> = rows.iter().filter_map(|row| row::wire(row, &way, reader)).collect();
    reader.columns.clear();
    Wiring {
        wires,
        rails: rails(&keys.rails, reader),
        takes: takes(&keys.takes, reader),
        markers,
        allow: codes(&keys.allow),
        place,
    }
}

fn first_place(keys: &WiresKeys) -> Option<Place> {
    let listed = keys.list.iter().flat_map(BTreeMap::values);
    keys.table.iter().chain(listed).map(|typed| typed.place).min()
}

/// From the first of some values to the last.
fn joined<'t>(values: impl Iterator<Item = &'t Scalar>) -> Place {
    let places = values.map(|typed| typed.place);
    let both =
        |a: Place, b: Place| Place { start: a.start.min(b.start), end: a.end.max(b.end), ..a };
    places.reduce(both).unwrap_or_default()
}

fn is(header: &str, wanted: Column) -> bool {
    known(header).is_some_and(|(column, _)| column == wanted)
}

/// Reports columns no wire can be without, and two that mean the same.
fn needed(headers: &[String], place: Place, reader: &mut Reader) {
    if headers.is_empty() {
        return;
    }
    for (column, word, _) in &COLUMNS {
        let mut found = headers.iter().filter(|header| is(header, *column));
        let (first, second) = (found.next(), found.next());
        if let (Some(first), Some(second)) = (first, second) {
            let message =
                format!("{} and {} both mean {word}", quoted(first.trim()), quoted(second.trim()));
            reader.wrong("same-column", place, message, "rename or delete one of the columns");
        }
        let must = matches!(column, Column::Wire | Column::From | Column::To);
        if must && first.is_none() {
            let message = format!("there is no column for {word}");
            let unknown = headers.iter().filter(|header| known(header).is_none());
            let help = match reader.nearest(word, unknown.map(String::as_str)) {
                Some(near) => format!("rename `{near}` to `{word}`"),
                None => format!("add a column `{word}`"),
            };
            reader.wrong("no-column", place, message, help);
        }
    }
}

fn insulation(keys: &WiresKeys, reader: &mut Reader) -> Insulation {
    reader.word(&keys.insulation).unwrap_or(Insulation::Pvc)
}

/// The lines at each end, still with their braces.
fn texts(keys: &WiresKeys, place: Place) -> [Vec<Scalar>; 2] {
    let usual = USUAL_TEXT.map(|text| Scalar { text: text.to_owned(), place });
    let both = keys.text.as_ref().map_or(usual.to_vec(), |many| many.items.clone());
    [&keys.text_from, &keys.text_to]
        .map(|own| own.as_ref().map_or(both.clone(), |many| many.items.clone()))
}

fn rails(list: &Option<OneOrList>, reader: &mut Reader) -> Vec<Rail> {
    let mut rails: Vec<Rail> = Vec::new();
    for item in OneOrList::all(list) {
        let name = item.trimmed().to_owned();
        if name.is_empty() || rails.iter().any(|rail| rail.name == name) {
            let message = format!("the rail {} is named twice or not at all", quoted(&name));
            reader.wrong("same-rail", item.place, message, "name each rail once");
            continue;
        }
        rails.push(Rail { name, place: item.place });
    }
    rails
}

fn takes(given: &BTreeMap<String, Scalar>, reader: &mut Reader) -> BTreeMap<String, u32> {
    let mut takes = BTreeMap::new();
    for (terminal, count) in given {
        if let Some(count) = reader.count(count, 1..=MOST_TAKEN) {
            takes.insert(Terminal::parse(terminal, Place::default()).key(), count);
        }
    }
    takes
}
