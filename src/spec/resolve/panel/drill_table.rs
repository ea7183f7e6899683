//! The drill table: a spreadsheet of holes, its columns told by their headers.

use super::super::reader::{Reader, quoted, with_unit};
use super::super::repeat;
use super::holes::pair;
use crate::spec::panel_draft::HoleDraft;
use crate::spec::typed::Typed;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Column {
    X,
    Y,
    Diameter,
    Name,
    Kind,
    Nut,
    Knob,
    Clear,
    KeepClear,
}

/// Every column and what it may be called, without case, space and signs (common practice, no source).
const COLUMNS: [(Column, &[&str]); 9] = [
    (Column::X, &["x", "xpos", "posx", "across"]),
    (Column::Y, &["y", "ypos", "posy"]),
    (
        Column::Diameter,
        &["diameter", "dia", "d", "hole", "holed", "holediameter", "holedia", "drill", "bore", "ø"],
    ),
    (Column::Name, &["name", "id", "ref", "reference", "holename"]),
    (Column::Kind, &["kind", "type", "fitting", "part"]),
    (Column::Nut, &["nut", "nutd", "washer", "washerd"]),
    (Column::Knob, &["knob", "knobd", "bezel", "bezeld"]),
    (Column::Clear, &["clear", "cleard", "window"]),
    (Column::KeepClear, &["keepclear", "keepout", "keepoutd", "keepcleard"]),
];

/// What a header stands for and the unit it gives: `X (mm)`, `x_in`, `hole_d`.
fn known(header: &str) -> Option<(Column, Option<&'static str>)> {
    let lower = header.to_lowercase();
    let parts = lower.split(|c: char| !c.is_alphanumeric()).filter(|part| !part.is_empty());
    let mut parts: Vec<&str> = parts.collect();
    let unit = match parts.as_slice() {
        [_, .., "mm"] => Some("mm"),
        [_, .., "in" | "inch" | "inches"] => Some("in"),
        _ => None,
    };
    if unit.is_some() {
        parts.pop();
    }
    let word = parts.concat();
    let row = COLUMNS.iter().find(|(_, names)| names.contains(&word.as_str()));
    row.map(|(column, _)| (*column, unit))
}

/// What every column stands for. A column `hole` beside another diameter holds the holes' names.
fn told(headers: &[String]) -> Vec<Option<(Column, Option<&'static str>)>> {
    let mut columns: Vec<_> = headers.iter().map(|header| known(header)).collect();
    let of = |column: &Option<(Column, _)>, wanted| column.is_some_and(|one| one.0 == wanted);
    let diameters = columns.iter().filter(|one| of(one, Column::Diameter)).count();
    if diameters > 1 && !columns.iter().any(|one| of(one, Column::Name)) {
        let hole = headers.iter().position(|header| header.trim().eq_ignore_ascii_case("hole"));
        if let Some(column) = hole.and_then(|at| columns.get_mut(at)) {
            *column = Some((Column::Name, None));
        }
    }
    columns
}

/// The holes of a table; plain numbers are in `unit` unless their header says another.
pub(super) fn holes(file: &Typed, unit: &str, reader: &mut Reader<'_, '_>) -> Vec<HoleDraft> {
    let rows = repeat::from_table(file, reader);
    if rows.columns.is_empty() {
        return Vec::new();
    }
    let columns = told(&rows.columns);
    let find = |wanted: Column| {
        let mut all = columns.iter().enumerate();
        all.find_map(|(at, one)| one.filter(|(column, _)| *column == wanted).map(|one| (at, one.1)))
    };
    for (column, word) in [(Column::X, "x"), (Column::Y, "y")] {
        if find(column).is_none() {
            let message = format!("{} has no column `{word}`", quoted(&file.text));
            let help = "name its columns in the first row: x, y, diameter, name, kind";
            reader.wrong("bad-table", file.place, message, help);
        }
    }
    let (Some(x), Some(y)) = (find(Column::X), find(Column::Y)) else { return Vec::new() };
    let mut holes = Vec::with_capacity(rows.rows.len());
    for row in &rows.rows {
        let cell = |column: Option<(usize, Option<&str>)>| {
            let cell = row.get(column?.0)?;
            (!cell.text.trim().is_empty()).then_some(cell)
        };
        let length = |column: Option<(usize, Option<&'static str>)>| {
            let own = column.and_then(|(_, unit)| unit);
            cell(column).map(|cell| Typed {
                text: with_unit(cell.text.trim(), own.unwrap_or(unit)),
                place: cell.place,
            })
        };
        let at = |column: (usize, Option<&'static str>)| {
            // An empty cell is no place: it is told where it stands.
            length(Some(column)).or_else(|| row.get(column.0).cloned()).unwrap_or_default()
        };
        holes.push(HoleDraft {
            at: Some(pair(at(x), at(y))),
            name: cell(find(Column::Name)).cloned(),
            kind: cell(find(Column::Kind)).cloned(),
            diameter: length(find(Column::Diameter)),
            clear: length(find(Column::Clear)),
            nut: length(find(Column::Nut)),
            knob: length(find(Column::Knob)),
            keep_clear: length(find(Column::KeepClear)),
        });
    }
    holes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headers_are_known_as_people_write_them() {
        for (header, column, unit) in [
            ("x", Column::X, None),
            ("X (mm)", Column::X, Some("mm")),
            ("y_in", Column::Y, Some("in")),
            ("hole_d", Column::Diameter, None),
            ("Hole diameter [mm]", Column::Diameter, Some("mm")),
            ("keepout_d", Column::KeepClear, None),
            ("ID", Column::Name, None),
        ] {
            assert_eq!(known(header), Some((column, unit)), "{header}");
        }
        assert_eq!(known("hole_dia"), Some((Column::Diameter, None)));
        assert_eq!(known("cap"), None);
        assert_eq!(known("mm"), None);
    }

    #[test]
    fn a_column_hole_beside_a_diameter_holds_names() {
        let columns = |headers: &[&str]| {
            let headers: Vec<String> = headers.iter().map(|one| (*one).to_owned()).collect();
            told(&headers).into_iter().map(|one| one.map(|one| one.0)).collect::<Vec<_>>()
        };
        let (name, diameter) = (Some(Column::Name), Some(Column::Diameter));
        assert_eq!(columns(&["Hole", "Dia (mm)"]), [name, diameter]);
        assert_eq!(columns(&["Name", "Hole"]), [name, diameter]);
        assert_eq!(columns(&["Hole"]), [diameter]);
    }
}
