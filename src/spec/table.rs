//! Tables beside a job: CSV with a header, each cell with its place.

use super::typed::Typed;
use crate::finding::{Finding, Findings, Place, Sources};

/// The largest table that is read, bytes.
const LARGEST: usize = 8 * 1024 * 1024;

/// A table's header and rows.
#[derive(Clone, Debug, Default)]
pub(super) struct Table {
    pub(super) columns: Vec<String>,
    pub(super) rows: Vec<Vec<Typed>>,
}

/// Reads a table; `None` when it cannot be used, and then `findings` says why.
pub(super) fn read(
    name: &str,
    bytes: &[u8],
    sources: &mut Sources,
    findings: &mut Findings,
) -> Option<Table> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let text = std::str::from_utf8(bytes).ok().filter(|text| text.len() <= LARGEST);
    let Some(text) = text else {
        let message = format!("{name} is not a table of text in UTF-8 below 8 MiB");
        findings.push(Finding::error("bad-table", message).help("save it as CSV UTF-8"));
        return None;
    };
    let file = sources.add(name, text);
    let header = text.lines().next().unwrap_or_default();
    let separator = [b';', b'\t'].into_iter().find(|sign| header.contains(char::from(*sign)));
    let mut records = records(text, file, separator.unwrap_or(b',')).into_iter();
    let columns: Vec<String> =
        records.next().unwrap_or_default().iter().map(|cell| cell.text.trim().to_owned()).collect();
    let mut rows = Vec::new();
    for row in records.filter(|row| row.iter().any(|cell| !cell.text.trim().is_empty())) {
        if row.len() == columns.len() {
            rows.push(row);
            continue;
        }
        let place = row.first().map(|cell| cell.place).unwrap_or_default();
        let message = format!("{} cells under {} columns", row.len(), columns.len());
        let help = "put cells that hold the separator in double quotes";
        findings.push(Finding::error("bad-table", message).at(place).help(help));
    }
    Some(Table { columns, rows })
}

/// Records of cells (RFC 4180: quotes round a cell, doubled quotes inside one).
fn records(text: &str, file: u16, separator: u8) -> Vec<Vec<Typed>> {
    let (mut records, mut record) = (Vec::new(), Vec::new());
    let mut at = 0;
    while at < text.len() {
        let (cell, next) = cell(text, at, file, separator);
        record.push(cell);
        at = match text.as_bytes().get(next) {
            Some(sign) if *sign == separator => next + 1,
            Some(b'\r') if text.as_bytes().get(next + 1) == Some(&b'\n') => next + 2,
            _ => next + 1,
        };
        let ended = text.as_bytes().get(next) != Some(&separator);
        if ended {
            records.push(std::mem::take(&mut record));
        } else if at >= text.len() {
            record.push(typed(text, at, at, file));
        }
    }
    if !record.is_empty() {
        records.push(record);
    }
    records
}

/// The cell that starts at a byte, and where it ends.
fn cell(text: &str, start: usize, file: u16, separator: u8) -> (Typed, usize) {
    let rest = text.as_bytes().get(start..).unwrap_or_default();
    let ends = |byte: &u8| *byte == separator || *byte == b'\n' || *byte == b'\r';
    if rest.first() != Some(&b'"') {
        let end = start + rest.iter().position(ends).unwrap_or(rest.len());
        return (typed(text, start, end, file), end);
    }
    let mut end = start + 1;
    while let Some(byte) = text.as_bytes().get(end) {
        match (byte, text.as_bytes().get(end + 1)) {
            (b'"', Some(b'"')) => end += 2,
            (b'"', _) => break,
            _ => end += 1,
        }
    }
    let mut inside = typed(text, start + 1, end.min(text.len()), file);
    inside.text = inside.text.replace("\"\"", "\"");
    let after = text.as_bytes().get(end + 1..).unwrap_or_default();
    (inside, end + 1 + after.iter().position(ends).unwrap_or(after.len()))
}

fn typed(text: &str, start: usize, end: usize, file: u16) -> Typed {
    let byte = |at| u32::try_from(at).unwrap_or(u32::MAX);
    let place = Place { file, start: byte(start), end: byte(end) };
    Typed { text: text.get(start..end).unwrap_or_default().to_owned(), place }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_quotes_and_line_ends_as_rfc_4180_says() {
        let (mut sources, mut findings) = (Sources::default(), Findings::default());
        let bytes = b"\xEF\xBB\xBFa;b\r\n\"x \"\"y\"\"; z\";2\r\n\r\n\"two\nlines\";\n";
        let table = read("t.csv", bytes, &mut sources, &mut findings).unwrap();
        assert_eq!(findings, Findings::default());
        assert_eq!(table.columns, ["a", "b"]);
        let texts: Vec<Vec<&str>> = table
            .rows
            .iter()
            .map(|row| row.iter().map(|cell| cell.text.as_str()).collect())
            .collect();
        assert_eq!(texts, [["x \"y\"; z", "2"], ["two\nlines", ""]]);
        assert_eq!(sources.position(table.rows[0][1].place), Some(("t.csv", 2, 14)));
    }

    #[test]
    fn tells_rows_of_another_length() {
        let (mut sources, mut findings) = (Sources::default(), Findings::default());
        read("t.csv", b"a,b\n1\n2,3,4\n5,6\n", &mut sources, &mut findings).unwrap();
        assert_eq!(findings.list().len(), 2);
    }
}
