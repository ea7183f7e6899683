//! The drill table: a spreadsheet of holes, its columns known by their headings.

use super::Origin;
use super::holes::{AskedHole, Fitting};
use crate::finding::{Finding, quoted};
use crate::spec::headings::{self, Heading};
use crate::spec::reader::{Least, Reader};
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

/// Every column and what it may be called (common practice, no source).
const COLUMNS: [Heading<Column>; 9] = [
    (Column::X, "x", &["across"]),
    (Column::Y, "y", &["down"]),
    (
        Column::Diameter,
        "diameter",
        &["dia", "d", "hole", "holed", "holediameter", "holedia", "drill", "bore", "ø"],
    ),
    (Column::Name, "name", &["id", "reference", "holename"]),
    (Column::Kind, "kind", &["type", "fitting", "part"]),
    (Column::Nut, "nut", &["nutd", "washer", "washerd"]),
    (Column::Knob, "knob", &["knobd", "bezel", "bezeld"]),
    (Column::Clear, "clear", &["cleard", "window"]),
    (Column::KeepClear, "keepclear", &["keepout", "keepoutd", "keepcleard"]),
];

/// What a header stands for and the unit it gives, empty when it gives none: `X (mm)`, `x_in`, `hole_d`; `None` for
/// a column of the user's own.
fn known(header: &str) -> Option<(Column, &'static str)> {
    let (word, unit) = headings::plain(header);
    let column = headings::column(&COLUMNS, &word)?;
    ["", "mm", "in"].contains(&unit).then_some((column, unit))
}

/// What every column stands for. A column `hole` beside another diameter holds the holes' names.
fn all_known(headers: &[String]) -> Vec<Option<(Column, &'static str)>> {
    let mut columns: Vec<_> = headers.iter().map(|header| known(header)).collect();
    let count = |wanted| columns.iter().flatten().filter(|(column, _)| *column == wanted).count();
    if count(Column::Diameter) > 1 && count(Column::Name) == 0 {
        let hole = headers.iter().position(|header| header.trim().eq_ignore_ascii_case("hole"));
        if let Some(column) = hole.and_then(|at| columns.get_mut(at)) {
            *column = Some((Column::Name, ""));
        }
    }
    columns
}

/// Reports a table without x or y, and one without names where a heading comes near to that.
fn needed(file: &Scalar, headers: &[String], reader: &mut Reader) {
    let columns = all_known(headers);
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
fn meant<'h>(wanted: Column, headers: &'h [String], reader: &Reader) -> Option<&'h str> {
    let (_, usual, also) = COLUMNS.iter().find(|(column, ..)| *column == wanted)?;
    let own = headers.iter().filter(|header| known(header).is_none());
    let own: Vec<(String, &str)> =
        own.map(|header| (headings::plain(header).0, header.trim())).collect();
    let spelt = |near: &str| own.iter().find(|(plain, _)| plain == near).map(|(_, header)| *header);
    let plain = || own.iter().map(|(plain, _)| plain.as_str());
    // Two letters are found in too many words.
    let words = [usual].into_iter().chain(*also).filter(|word| word.len() > 2);
    let like = words.into_iter().find_map(|word| reader.nearest(word, plain()));
    let ends = || plain().find(|plain| plain.ends_with(*usual));
    let begins = || plain().find(|plain| plain.starts_with(*usual));
    like.or_else(ends).or_else(begins).and_then(spelt)
}

/// The holes of a table; plain numbers are in `unit` unless their header says another.
pub(super) fn holes(
    file: &Scalar,
    unit: &str,
    origin: Origin,
    size: Size,
    reader: &mut Reader,
) -> Vec<AskedHole> {
    let rows = repeat::from_table(file, reader);
    if rows.columns.is_empty() {
        return Vec::new();
    }
    let columns = all_known(&rows.columns);
    let find = |wanted: Column| {
        let mut all = columns.iter().zip(0_usize..);
        let (own, at) =
            all.find_map(|(one, at)| Some(((*one)?, at)).filter(|((c, _), _)| *c == wanted))?;
        Some((at, if own.1.is_empty() { unit } else { own.1 }))
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
            reader.length_in(cell(column)?, own, least)
        };
        let own = Fitting {
            diameter: length(Column::Diameter, Least::Something),
            clear: length(Column::Clear, Least::Nought),
            nut: length(Column::Nut, Least::Nought),
            knob: length(Column::Knob, Least::Nought),
            keep_clear: length(Column::KeepClear, Least::Nought),
        };
        // An empty cell is no place: it is reported where it stands.
        let mut place = |(at, own): (usize, &str)| reader.length_in(row.get(at)?, own, Least::Any);
        let (across, down) = (place(x), place(y));
        let at = across.zip(down).map(|(x, y)| origin.to_panel(Vec2::new(x, y), size));
        let name = cell(Column::Name).cloned();
        let first = row.get(x.0).map(|cell| cell.place).unwrap_or_default();
        let place = name.as_ref().map_or(first, |name| name.place);
        let (kind, has_diameter) = (cell(Column::Kind).cloned(), cell(Column::Diameter).is_some());
        holes.push(AskedHole { name, kind, at, own, has_diameter, place });
    }
    holes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headers_are_known_as_people_write_them() {
        for (header, column, unit) in [
            ("x", Column::X, ""),
            ("X (mm)", Column::X, "mm"),
            ("y_in", Column::Y, "in"),
            ("hole_d", Column::Diameter, ""),
            ("Hole diameter [mm]", Column::Diameter, "mm"),
            ("keepout_d", Column::KeepClear, ""),
            ("ID", Column::Name, ""),
            ("Across", Column::X, ""),
            ("down (mm)", Column::Y, "mm"),
        ] {
            assert_eq!(known(header), Some((column, unit)), "{header}");
        }
        assert_eq!(known("hole_dia"), Some((Column::Diameter, "")));
        for own in ["cap", "mm", "middle x", "y middle", "refrence"] {
            assert_eq!(known(own), None, "{own}");
        }
    }

    #[test]
    fn a_column_hole_beside_a_diameter_holds_names() {
        let columns = |headers: &[&str]| {
            let headers: Vec<String> = headers.iter().map(|one| (*one).to_owned()).collect();
            all_known(&headers).into_iter().map(|one| one.map(|one| one.0)).collect::<Vec<_>>()
        };
        let (name, diameter) = (Some(Column::Name), Some(Column::Diameter));
        assert_eq!(columns(&["Hole", "Dia (mm)"]), [name, diameter]);
        assert_eq!(columns(&["Name", "Hole"]), [name, diameter]);
        assert_eq!(columns(&["Hole"]), [diameter]);
    }
}
