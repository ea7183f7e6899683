//! Which column of a table is which: people name them in many ways.

use crate::finding::Place;
use crate::yaml::Scalar;
use std::rc::Rc;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Column {
    Wire,
    From,
    To,
    Colour,
    Gauge,
    Diameter,
    Length,
    Function,
    Note,
    Marker,
}

/// Every column, the word used for it in messages and texts, and how else it is called (common practice).
pub(super) const COLUMNS: [(Column, &str, &[&str]); 10] = [
    (Column::Wire, "wire", &["id", "no", "nr", "number", "wireid", "wireno", "wirenumber"]),
    (Column::From, "from", &["source", "start", "enda", "fromterminal", "frompin"]),
    (Column::To, "to", &["target", "destination", "endb", "toterminal", "topin"]),
    (Column::Colour, "colour", &["color", "col", "wirecolour", "wirecolor"]),
    (Column::Gauge, "gauge", &["area", "crosssection", "size"]),
    (Column::Diameter, "diameter", &["od", "dia", "outsidediameter", "outerdiameter"]),
    (Column::Length, "length", &["len"]),
    (Column::Function, "function", &["signal", "net", "use", "purpose", "carries"]),
    (Column::Note, "note", &["notes", "remark", "remarks", "comment", "comments"]),
    (Column::Marker, "marker", &["kind", "label", "markerkind"]),
];

/// What a header stands for and the unit it gives, empty when it gives none; `None` for a column of the user's own.
pub(super) type Known = Option<(Column, &'static str)>;

/// Units a header may end in, and how they are written in a cell.
const UNITS: [(&str, &str); 8] = [
    ("mm²", "mm2"),
    ("mm2", "mm2"),
    ("awg", "AWG"),
    ("mm", "mm"),
    ("cm", "cm"),
    ("inch", "in"),
    ("in", "in"),
    ("m", "m"),
];

/// What a header stands for and the unit it gives, empty when it gives none: `Length (cm)`, `OD in`, `AWG`.
pub(super) fn known(header: &str) -> Known {
    let lower = header.to_lowercase();
    let parts = lower.split(|letter: char| !letter.is_alphanumeric());
    let parts: Vec<&str> = parts.filter(|part| !part.is_empty()).collect();
    let of = |word: &str| {
        let row = COLUMNS.iter().find(|(_, known, also)| word == *known || also.contains(&word));
        row.map(|(column, ..)| *column)
    };
    let whole = parts.concat();
    if let Some(column) = of(&whole) {
        // A cross-section without a unit is in square millimetres (IEC 60228).
        let area = ["area", "crosssection"].contains(&whole.as_str());
        return Some((column, if area { "mm2" } else { "" }));
    }
    let (last, before) = parts.split_last()?;
    let (_, unit) = UNITS.iter().find(|(unit, _)| unit == last)?;
    if before.is_empty() {
        // Alone, these name the gauge itself.
        return ["mm2", "AWG"].contains(unit).then_some((Column::Gauge, unit));
    }
    let column = of(&before.concat())?;
    let fits = match column {
        Column::Gauge => ["mm2", "AWG"].contains(unit),
        Column::Length | Column::Diameter => ["mm", "cm", "in", "m"].contains(unit),
        _ => false,
    };
    fits.then_some((column, unit))
}

/// One wire as typed: its cells by column, and all cells by their own headers for texts.
pub(super) struct Row<'a> {
    pub(super) cells: Vec<(&'a str, &'a Scalar)>,
    /// What each cell's header stands for, looked up once for the table.
    pub(super) known: Rc<[Known]>,
    pub(super) place: Place,
}

impl<'a> Row<'a> {
    /// The cell of a column with the unit its header gives; an empty cell is none.
    pub(super) fn cell(&self, column: Column) -> Option<(&'static str, &'a Scalar)> {
        let filled = |cell: &Scalar| !cell.trimmed().is_empty();
        let mut of_column = self.cells.iter().zip(&*self.known).filter_map(|((_, cell), known)| {
            let (known, unit) = (*known)?;
            (known == column && filled(cell)).then_some((unit, *cell))
        });
        of_column.next()
    }

    /// The words of a column; empty when there are none.
    pub(super) fn words(&self, column: Column) -> String {
        self.cell(column).map(|(_, cell)| cell.trimmed().to_owned()).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headers_are_matched_kindly() {
        for (header, column, unit) in [
            ("Colour", Column::Colour, ""),
            ("color", Column::Colour, ""),
            ("Wire no.", Column::Wire, ""),
            ("ID", Column::Wire, ""),
            ("From terminal", Column::From, ""),
            ("mm²", Column::Gauge, "mm2"),
            ("AWG", Column::Gauge, "AWG"),
            ("Gauge (mm²)", Column::Gauge, "mm2"),
            ("gauge_awg", Column::Gauge, "AWG"),
            ("gauge", Column::Gauge, ""),
            ("cross-section", Column::Gauge, "mm2"),
            ("Length (cm)", Column::Length, "cm"),
            ("len (m)", Column::Length, "m"),
            ("o.d.", Column::Diameter, ""),
            ("OD (in)", Column::Diameter, "in"),
            ("diameter [inch]", Column::Diameter, "in"),
            ("Signal", Column::Function, ""),
        ] {
            assert_eq!(known(header), Some((column, unit)), "{header}");
        }
        for header in ["rack", "length (AWG)", "colour (mm)", "m", ""] {
            assert_eq!(known(header), None, "{header}");
        }
    }
}
