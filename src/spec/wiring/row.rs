//! One row of the table as a wire.

use super::colour::NotAColour;
use super::column::{self, Column, Row};
use super::gauge::Insulation;
use super::{Diameter, Gauge, Terminal, Wire, WireColour, markers};
use crate::finding::quoted;
use crate::spec::fill;
use crate::spec::reader::{Reader, with_unit};
use crate::units::{Length, fixed};
use crate::yaml::Scalar;

/// The thinnest and the thickest wire that is believed, mm over the insulation: enamelled wire and a
/// mains cable (common practice, no source).
const BELIEVED_MM: (f64, f64) = (0.1, 30.0);

/// The longest wire that is believed, mm (common practice, no source).
const LONGEST_MM: f64 = 100_000.0;

/// Outside diameter where nothing is said: 22 AWG hook-up wire with a PVC wall (published by wire makers).
const USUAL_MM: f64 = 1.52;

/// What holds for all rows.
pub(super) struct RowRules {
    pub(super) insulation: Insulation,
    pub(super) texts: [Vec<Scalar>; 2],
}

/// The wire of a row; `None` when it has no name.
pub(super) fn wire(row: &Row<'_>, rules: &RowRules, reader: &mut Reader) -> Option<Wire> {
    let Some((_, id)) = row.cell(Column::Wire) else {
        // A missing column has been reported already.
        if row.known.iter().flatten().any(|(column, _)| *column == Column::Wire) {
            let message = "this wire has no name";
            reader.wrong("no-wire-name", row.place, message, "give every wire a name of its own");
        }
        return None;
    };
    let end = |column| row.cell(column).map(|(_, cell)| Terminal::parse(&cell.text, cell.place));
    let (from, to) = (end(Column::From), end(Column::To));
    let gauge = gauge(row, reader);
    let mut wire = Wire {
        id: id.trimmed().to_owned(),
        colour: colour(row, reader),
        gauge,
        diameter: diameter(row, gauge, rules.insulation, reader),
        length_mm: length(row, Column::Length, (0.001, LONGEST_MM), reader),
        function: row.words(Column::Function),
        note: row.words(Column::Note),
        kind: row.cell(Column::Marker).and_then(|(_, cell)| markers::kind(cell, reader)).flatten(),
        texts: [Vec::new(), Vec::new()],
        place: row.place,
        from,
        to,
    };
    let ends = [(&wire.from, &wire.to), (&wire.to, &wire.from)];
    let mut texts = [Vec::new(), Vec::new()];
    for ((lines, (local, remote)), filled) in rules.texts.iter().zip(ends).zip(&mut texts) {
        let special = [("local", local), ("remote", remote)].map(|(name, terminal)| {
            let text = terminal.as_ref().map(Terminal::to_string).unwrap_or_default();
            (name, Scalar { text, place: row.place })
        });
        *filled = lines.iter().map(|line| self::filled(line, row, &special, reader)).collect();
    }
    wire.texts = texts;
    Some(wire)
}

/// A line with this end's terminals, the row's columns and the job's words filled in.
fn filled(line: &Scalar, row: &Row<'_>, special: &[(&str, Scalar)], reader: &mut Reader) -> String {
    let lookup = |name: &str| {
        let special = special.iter().find(|(known, _)| *known == name).map(|(_, one)| one.clone());
        let by_header = || row.cells.iter().find(|(header, _)| *header == name);
        let by_meaning = || {
            let (column, ..) = column::COLUMNS.iter().find(|(_, word, _)| *word == name)?;
            let empty = || Scalar { text: String::new(), place: row.place };
            Some(row.cell(*column).map_or_else(empty, |(_, cell)| cell.clone()))
        };
        special.or_else(|| by_header().map(|(_, cell)| (*cell).clone())).or_else(by_meaning)
    };
    let line = fill::columns(&line.text, line.place, &lookup).unwrap_or_else(|| line.clone());
    let line = reader.filled(&line.text, line.place).unwrap_or(line);
    line.trimmed().to_owned()
}

fn colour(row: &Row<'_>, reader: &mut Reader) -> Option<WireColour> {
    let (_, cell) = row.cell(Column::Colour)?;
    let (message, help) = match WireColour::parse(&cell.text) {
        Ok(colour) => return Some(colour),
        Err(NotAColour::Unknown(part)) => (
            format!("{} is no colour of a wire", quoted(&part)),
            "use a code of IEC 60757 such as RD, BK, WH, BU, GNYE, or a plain name; join two for a \
             striped wire: RDBU",
        ),
        Err(NotAColour::GreenWithYellow) => (
            format!("{} joins green and yellow", quoted(&cell.text)),
            "green with yellow is protective earth's own colour: write GNYE for that wire, and choose \
             another for all others (IEC 60757)",
        ),
    };
    reader.wrong("unknown-wire-colour", cell.place, message, help);
    None
}

fn gauge(row: &Row<'_>, reader: &mut Reader) -> Option<Gauge> {
    let (unit, cell) = row.cell(Column::Gauge)?;
    let gauge = Gauge::parse(&with_unit(cell.trimmed(), unit));
    if gauge.is_none() {
        let help = "write it with its unit: 22 AWG or 0.5 mm2";
        reader.wrong("bad-gauge", cell.place, format!("{} is no gauge", quoted(&cell.text)), help);
    }
    gauge
}

fn diameter(
    row: &Row<'_>,
    gauge: Option<Gauge>,
    insulation: Insulation,
    reader: &mut Reader,
) -> Diameter {
    let assumed = |mm| Diameter { mm, assumed: true };
    if row.cell(Column::Diameter).is_some() {
        let given = length(row, Column::Diameter, BELIEVED_MM, reader);
        return given.map_or(assumed(USUAL_MM), |mm| Diameter { mm, assumed: false });
    }
    let Some(gauge) = gauge else { return assumed(USUAL_MM) };
    if let Some(mm) = gauge.outside_mm(insulation) {
        return assumed(mm);
    }
    if let Some((_, cell)) = row.cell(Column::Gauge) {
        let message = format!("how thick {gauge} wire is over its insulation is not known here");
        let help = "measure it and give it in a column `diameter`";
        reader.wrong("no-diameter", cell.place, message, help);
    }
    assumed(USUAL_MM)
}

/// A length with its header's unit where it has none of its own.
fn length(
    row: &Row<'_>,
    column: Column,
    (least, most): (f64, f64),
    reader: &mut Reader,
) -> Option<f64> {
    let (unit, cell) = row.cell(column)?;
    let text = cell.trimmed();
    // Spreadsheets of many countries write a decimal comma.
    let text = if text.contains('.') { text.to_owned() } else { text.replacen(',', ".", 1) };
    let mm = match Length::parse(&with_unit(&text, unit)) {
        Ok(length) => length.mm(),
        Err(not) => {
            let message = format!("{} {}", quoted(&cell.text), not.what);
            reader.wrong("bad-length", cell.place, message, not.help);
            return None;
        }
    };
    if (least..=most).contains(&mm) {
        return Some(mm);
    }
    let message = format!(
        "{} is not to be believed: {} to {} mm are",
        quoted(&cell.text),
        fixed(least, 3),
        fixed(most, 3)
    );
    reader.wrong("absurd-length", cell.place, message, "check the number and its unit");
    None
}
