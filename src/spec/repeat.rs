//! One label made into many: a table's rows, or the numbers of a series.

use super::reader::Reader;
use super::{fill, series};
use crate::finding::quoted;
use crate::table::{self, Table};
use crate::yaml::{OneOrList, Scalar, Tree, keys, read};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The most counters of one series.
const MOST_COUNTERS: usize = 4;

keys! {
    /// The counters of a series by name; a range alone is that of `n`.
    #[schemars(extend("x-short" = "n"))]
    pub(super) struct SeriesKeys(BTreeMap<String, OneOrList>);
}

/// A label with a row's cells filled in.
pub(super) fn filled(label: &Rc<Tree>, columns: &[String], row: &[Scalar]) -> Rc<Tree> {
    let cells: BTreeMap<&str, &Scalar> = columns.iter().map(String::as_str).zip(row).collect();
    let lookup = |name: &str| cells.get(name).map(|cell| (*cell).clone());
    Tree::mapped(label, &mut |text, place| fill::columns(text, place, &lookup))
}

/// The rows a label is repeated for; `None` when it stands for itself alone.
///
/// What cannot be read gives no rows: the label cannot be made without them.
pub(super) fn rows(label: &Tree, most: usize, reader: &mut Reader) -> Option<Rc<Table>> {
    if let Some(file) = label.scalar("rows") {
        return Some(from_table(&file, reader));
    }
    let series: SeriesKeys = read(label.get("series")?)?;
    Some(Rc::new(from_series(&series, most, reader).unwrap_or_default()))
}

/// The rows of a table beside the job; each file is read once, and none come of one that cannot be read.
pub(super) fn from_table(file: &Scalar, reader: &mut Reader) -> Rc<Table> {
    let name = file.trimmed();
    if let Some(known) = reader.tables.get(name) {
        return Rc::clone(known);
    }
    let rows = reader.fetch("table-file", "table", file).and_then(|bytes| {
        table::read(name, &bytes, reader.context.sources, reader.context.findings)
    });
    let rows = Rc::new(rows.unwrap_or_default());
    reader.tables.insert(name.to_owned(), Rc::clone(&rows));
    rows
}

/// Every combination of the counters, the last one running fastest.
fn from_series(series: &SeriesKeys, most: usize, reader: &mut Reader) -> Option<Table> {
    let mut counters: Vec<(String, Vec<Scalar>)> = Vec::with_capacity(series.0.len());
    for (name, ranges) in &series.0 {
        counters.push((name.clone(), numbers(ranges, reader)?));
    }
    if counters.len() > MOST_COUNTERS {
        let place = counters.iter().find_map(|(_, one)| one.first()).map(|one| one.place)?;
        let message = format!("{} counters in one series", counters.len());
        reader.wrong("too-many", place, message, "use up to four, or a table");
        return None;
    }
    let count = counters.iter().try_fold(1_usize, |all, (_, one)| all.checked_mul(one.len()));
    let place = counters.iter().find_map(|(_, one)| one.first()).map(|one| one.place)?;
    if count.is_none_or(|count| count > most) {
        let message = format!("the series makes more than {most} labels");
        reader.wrong("too-many", place, message, "shorten it, or make two jobs of it");
        return None;
    }
    let mut rows: Vec<Vec<Scalar>> = vec![Vec::new()];
    for (_, one) in &counters {
        let longer = |row: &Vec<Scalar>, last: &Scalar| {
            row.iter().chain([last]).cloned().collect::<Vec<Scalar>>()
        };
        rows = rows.iter().flat_map(|row| one.iter().map(move |last| longer(row, last))).collect();
    }
    Some(Table { columns: counters.into_iter().map(|(name, _)| name).collect(), rows })
}

/// The numbers of one counter: a range, or a list of ranges.
fn numbers(ranges: &OneOrList, reader: &mut Reader) -> Option<Vec<Scalar>> {
    let mut numbers = Vec::new();
    for range in &ranges.items {
        match series::parse(&range.text) {
            Ok(texts) => {
                numbers.extend(texts.into_iter().map(|text| Scalar { text, place: range.place }));
            }
            Err(not) => {
                let message = format!("{} {}", quoted(&range.text), not.what);
                reader.wrong("bad-series", range.place, message, not.help);
                return None;
            }
        }
    }
    Some(numbers)
}
