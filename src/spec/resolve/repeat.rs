//! One label made into many: a table's rows, or the numbers of a series.

use super::reader::{Reader, quoted};
use crate::spec::draft::LabelDraft;
use crate::spec::typed::{Many, Shorthand, Typed};
use crate::spec::{fill, scalars, series, table};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The name of a series' number when it is given no other.
const NUMBER: &str = "n";

/// The most counters of one series.
const MOST_COUNTERS: usize = 4;

/// What is filled in, one row a label.
#[derive(Clone, Debug, Default)]
pub(super) struct Rows {
    pub(super) columns: Vec<String>,
    pub(super) rows: Vec<Vec<Typed>>,
}

/// The rows a label is repeated for; `None` when it stands for itself alone.
///
/// What cannot be read gives no rows: the label cannot be made without them.
pub(super) fn rows(
    draft: &LabelDraft,
    most: usize,
    reader: &mut Reader<'_, '_>,
) -> Option<Rc<Rows>> {
    if let Some(file) = &draft.rows {
        return Some(from_table(file, reader));
    }
    let series = draft.series.as_ref()?;
    Some(Rc::new(from_series(series, most, reader).unwrap_or_default()))
}

/// The label of one row: columns first, so that a cell may bring a word with it.
pub(super) fn filled(draft: &LabelDraft, rows: &Rows, row: &[Typed]) -> LabelDraft {
    let cells: BTreeMap<&str, &Typed> = rows.columns.iter().map(String::as_str).zip(row).collect();
    let mut draft = draft.clone();
    scalars::each_of_label(&mut draft, &mut |typed| {
        fill::columns(typed, |name| cells.get(name).copied());
    });
    draft
}

pub(super) fn from_table(file: &Typed, reader: &mut Reader<'_, '_>) -> Rc<Rows> {
    let name = file.text.trim();
    if let Some(known) = reader.tables.get(name) {
        return Rc::clone(known);
    }
    let rows = match (reader.desk.fetch)(name) {
        Ok(bytes) => {
            let (sources, findings) = (&mut *reader.desk.sources, &mut *reader.desk.findings);
            table::read(name, &bytes, sources, findings)
                .map(|table| Rows { columns: table.columns, rows: table.rows })
        }
        Err(error) => {
            let help = "put the table beside the job, or correct its name";
            reader.wrong("table-file", file.place, error.to_string(), help);
            None
        }
    };
    let rows = Rc::new(rows.unwrap_or_default());
    reader.tables.insert(name.to_owned(), Rc::clone(&rows));
    rows
}

/// Every combination of the counters, the last one running fastest.
fn from_series(
    draft: &Shorthand<BTreeMap<String, Typed>>,
    most: usize,
    reader: &mut Reader<'_, '_>,
) -> Option<Rows> {
    let counters: Vec<(String, Vec<Typed>)> = match draft {
        Shorthand::Short(many) => vec![(NUMBER.to_owned(), numbers(many, reader)?)],
        Shorthand::Long(map) => {
            let mut counters = Vec::new();
            for (name, range) in map.iter() {
                let many = Many { items: vec![range.clone()], listed: false };
                counters.push((name.clone(), numbers(&many, reader)?));
            }
            counters
        }
    };
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
    let mut rows: Vec<Vec<Typed>> = vec![Vec::new()];
    for (_, one) in &counters {
        let longer = |row: &Vec<Typed>, last: &Typed| {
            row.iter().chain([last]).cloned().collect::<Vec<Typed>>()
        };
        rows = rows.iter().flat_map(|row| one.iter().map(move |last| longer(row, last))).collect();
    }
    Some(Rows { columns: counters.into_iter().map(|(name, _)| name).collect(), rows })
}

/// The numbers of one counter: a range, or a list of ranges.
fn numbers(many: &Many, reader: &mut Reader<'_, '_>) -> Option<Vec<Typed>> {
    let mut numbers = Vec::new();
    for range in &many.items {
        match series::parse(&range.text) {
            Ok(texts) => {
                numbers.extend(texts.into_iter().map(|text| Typed { text, place: range.place }));
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
