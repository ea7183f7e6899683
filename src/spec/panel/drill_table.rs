//! The drill table: a spreadsheet of holes, its columns told by their headers.

use super::Origin;
use super::holes::{Asked, Fitting};
use crate::finding::Finding;
use crate::spec::reader::{Least, Reader, quoted};
use crate::spec::repeat;
use crate::yaml::Scalar;
use kurbo::{Size, Vec2};

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

/// Every column and what it may be called, the usual word first, without case, space and signs (common practice, no source).
const COLUMNS: [(Column, &[&str]); 9] = [
    (Column::X, &["x", "across"]),
    (Column::Y, &["y", "down"]),
    (
        Column::Diameter,
        &["diameter", "dia", "d", "hole", "holed", "holediameter", "holedia", "drill", "bore", "ø"],
    ),
    (Column::Name, &["name", "id", "reference", "holename"]),
    (Column::Kind, &["kind", "type", "fitting", "part"]),
    (Column::Nut, &["nut", "nutd", "washer", "washerd"]),
    (Column::Knob, &["knob", "knobd", "bezel", "bezeld"]),
    (Column::Clear, &["clear", "cleard", "window"]),
    (Column::KeepClear, &["keepclear", "keepout", "keepoutd", "keepcleard"]),
];

/// A header without case, space, signs and unit, and the unit it gives: `X (mm)`, `x_in`, `hole_d`.
fn plain(header: &str) -> (String, Option<&'static str>) {
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
    (parts.concat(), unit)
}

/// What a header stands for and the unit it gives; `None` for a column of the user's own.
fn known(header: &str) -> Option<(Column, Option<&'static str>)> {
    let (word, unit) = plain(header);
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

/// Tells of a table without x or y, and of one without names where a heading comes near to that.
fn needed(file: &Scalar, headers: &[String], reader: &mut Reader<'_, '_>) {
    let columns = told(headers);
    let missing = |wanted: Column| columns.iter().flatten().all(|(column, _)| *column != wanted);
    for (column, word) in [(Column::X, "x"), (Column::Y, "y")] {
        if missing(column) {
            let message = format!("{} has no column `{word}`", quoted(&file.text));
            let help = match meant(column, headers, reader) {
                Some(near) => format!("rename {} to `{word}`", quoted(near)),
                None => "name its columns in the first row: x, y, diameter, name, kind".into(),
            };
            reader.wrong("bad-table", file.place, message, help);
        }
    }
    let near = if missing(Column::Name) { meant(Column::Name, headers, reader) } else { None };
    if let Some(near) = near {
        let table = quoted(&file.text);
        let message =
            format!("the holes of {table} have no names: no column of it is called `name`");
        let help = format!("rename {} to `name`", quoted(near));
        reader.note(Finding::warning("no-column", message).at(file.place).help(help));
    }
}

/// The heading of a column of the user's own that comes nearest to a word for this one: as a misspelt word
/// does, or as it ends or begins with the usual word (`middle x`).
fn meant<'h>(wanted: Column, headers: &'h [String], reader: &Reader<'_, '_>) -> Option<&'h str> {
    let words = COLUMNS.iter().find(|(column, _)| *column == wanted)?.1;
    let own = headers.iter().filter(|header| known(header).is_none());
    let own: Vec<(String, &str)> = own.map(|header| (plain(header).0, header.trim())).collect();
    let spelt = |near: &str| own.iter().find(|(plain, _)| plain == near).map(|(_, header)| *header);
    let plain = || own.iter().map(|(plain, _)| plain.as_str());
    // Two letters are found in too many words.
    let like =
        words.iter().filter(|word| word.len() > 2).find_map(|word| reader.nearest(word, plain()));
    let usual = words.first()?;
    let ends = || plain().find(|plain| plain.ends_with(usual));
    let begins = || plain().find(|plain| plain.starts_with(usual));
    like.or_else(ends).or_else(begins).and_then(spelt)
}

/// The holes of a table; plain numbers are in `unit` unless their header says another.
pub(super) fn holes(
    file: &Scalar,
    unit: &str,
    origin: Origin,
    size: Size,
    reader: &mut Reader<'_, '_>,
) -> Vec<Asked> {
    let rows = repeat::from_table(file, reader);
    if rows.columns.is_empty() {
        return Vec::new();
    }
    let columns = told(&rows.columns);
    let find = |wanted: Column| {
        let mut all = columns.iter().enumerate();
        all.find_map(|(at, one)| one.filter(|(column, _)| *column == wanted).map(|one| (at, one.1)))
    };
    needed(file, &rows.columns, reader);
    let (Some(x), Some(y)) = (find(Column::X), find(Column::Y)) else { return Vec::new() };
    let mut holes = Vec::with_capacity(rows.rows.len());
    for row in &rows.rows {
        let cell = |column: Column| {
            let cell = row.get(find(column)?.0)?;
            (!cell.trimmed().is_empty()).then_some(cell)
        };
        let mut length = |column: Column, least: Least| {
            let (_, own) = find(column)?;
            reader.length_in(cell(column)?, own.unwrap_or(unit), least)
        };
        let own = Fitting {
            diameter: length(Column::Diameter, Least::Something),
            clear: length(Column::Clear, Least::Nought),
            nut: length(Column::Nut, Least::Nought),
            knob: length(Column::Knob, Least::Nought),
            keep_clear: length(Column::KeepClear, Least::Nought),
        };
        // An empty cell is no place: it is reported where it stands.
        let mut place = |(at, own): (usize, Option<&'static str>)| {
            let cell = row.get(at)?;
            reader.length_in(cell, own.unwrap_or(unit), Least::Any)
        };
        let (across, down) = (place(x), place(y));
        let at = across.zip(down).map(|(x, y)| origin.to_panel(Vec2::new(x, y), size));
        let name = cell(Column::Name).cloned();
        let first = row.get(x.0).map(|cell| cell.place).unwrap_or_default();
        let place = name.as_ref().map_or(first, |name| name.place);
        let (kind, has_diameter) = (cell(Column::Kind).cloned(), cell(Column::Diameter).is_some());
        holes.push(Asked { name, kind, at, own, has_diameter, place });
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
            ("Across", Column::X, None),
            ("down (mm)", Column::Y, Some("mm")),
        ] {
            assert_eq!(known(header), Some((column, unit)), "{header}");
        }
        assert_eq!(known("hole_dia"), Some((Column::Diameter, None)));
        for own in ["cap", "mm", "middle x", "y middle", "refrence"] {
            assert_eq!(known(own), None, "{own}");
        }
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
