//! Which column of a table is which: people name them in many ways.

use crate::finding::Place;
use crate::spec::typed::Typed;

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
    (
        Column::Gauge,
        "gauge",
        &["awg", "gaugeawg", "mm2", "mm²", "area", "areamm2", "areamm²", "crosssection", "size"],
    ),
    (
        Column::Diameter,
        "diameter",
        &["od", "dia", "outsidediameter", "outerdiameter", "odmm", "diametermm"],
    ),
    (Column::Length, "length", &["len", "lengthmm", "lengthcm", "lengthm", "lengthin"]),
    (Column::Function, "function", &["signal", "net", "use", "purpose", "carries"]),
    (Column::Note, "note", &["notes", "remark", "remarks", "comment", "comments"]),
    (Column::Marker, "marker", &["kind", "label", "markerkind"]),
];

/// A header without case, space and signs.
fn plain(header: &str) -> String {
    let kept = header.chars().filter(|letter| letter.is_alphanumeric());
    kept.flat_map(char::to_lowercase).collect()
}

/// What a header stands for.
pub(super) fn known(header: &str) -> Option<Column> {
    let plain = plain(header);
    let row = COLUMNS.iter().find(|(_, word, also)| plain == *word || also.contains(&&*plain));
    row.map(|(column, ..)| *column)
}

/// The unit a header gives, as in `length (cm)` or `AWG`; empty when it gives none.
pub(super) fn unit(header: &str) -> &'static str {
    let plain = plain(header);
    match known(header) {
        Some(Column::Gauge) if plain.contains("awg") => "AWG",
        Some(Column::Gauge)
            if ["mm2", "mm²", "area", "cross"].iter().any(|unit| plain.contains(unit)) =>
        {
            "mm2"
        }
        Some(Column::Length | Column::Diameter) => {
            let units = ["mm", "cm", "in", "m"];
            let after = plain.strip_prefix("length").unwrap_or_default();
            units.into_iter().find(|unit| after == *unit).unwrap_or_default()
        }
        _ => "",
    }
}

/// One wire as typed: its cells by column, and all cells by their own headers for texts.
pub(super) struct Row<'a> {
    pub(super) cells: Vec<(&'a str, &'a Typed)>,
    pub(super) place: Place,
}

impl<'a> Row<'a> {
    /// The cell of a column with its header; an empty cell is none.
    pub(super) fn cell(&self, column: Column) -> Option<(&'a str, &'a Typed)> {
        let filled = |cell: &Typed| !cell.text.trim().is_empty();
        let mut of_column = self.cells.iter().filter(|(header, _)| known(header) == Some(column));
        of_column.find(|(_, cell)| filled(cell)).copied()
    }

    /// The words of a column; empty when there are none.
    pub(super) fn words(&self, column: Column) -> String {
        self.cell(column).map(|(_, cell)| cell.text.trim().to_owned()).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headers_are_matched_kindly() {
        for (header, column) in [
            ("Colour", Column::Colour),
            ("color", Column::Colour),
            ("Wire no.", Column::Wire),
            ("ID", Column::Wire),
            ("From terminal", Column::From),
            ("mm²", Column::Gauge),
            ("Length (cm)", Column::Length),
            ("o.d.", Column::Diameter),
            ("Signal", Column::Function),
        ] {
            assert_eq!(known(header), Some(column), "{header}");
        }
        assert_eq!(known("rack"), None);
        assert_eq!(unit("Length (cm)"), "cm");
        assert_eq!(unit("AWG"), "AWG");
        assert_eq!(unit("cross-section"), "mm2");
        assert_eq!(unit("gauge"), "");
    }
}
