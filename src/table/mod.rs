//! Tables beside a job, as spreadsheets save them, each cell with its place.
//!
//! One scanner reads the cells and knows their places. A general reader gives neither byte ranges nor
//! dependable lines (they are low after CRLF and blank lines), and takes an unclosed quote in silence.
//! Grammar: RFC 4180, with `;` and tab as further separators, any line ends, and a `sep=` line.

mod decode;

use crate::finding::{Finding, Findings, Place, Sources};
use crate::yaml::Scalar;
use std::ops::Range;

const MOST_BYTES: usize = 8 * 1024 * 1024;
const MOST_ROWS: usize = 20_000;
const MOST_COLUMNS: usize = 200;

/// A table: named columns, and rows that each have a cell for every column.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Table {
    /// Their names, in order, without space round them.
    pub columns: Vec<String>,
    /// As long as `columns` each; rows with nothing in them are left out.
    pub rows: Vec<Vec<Scalar>>,
}

/// Reads a table and adds its text to `sources`; `None` when anything is wrong with it.
pub(crate) fn read(
    name: &str,
    bytes: &[u8],
    sources: &mut Sources,
    findings: &mut Findings,
) -> Option<Table> {
    if bytes.len() > MOST_BYTES {
        let what = format!("{name} is larger than {} MiB", MOST_BYTES / (1024 * 1024));
        findings.push(Finding::error("bad-table", what).help("split it into several tables"));
        return None;
    }
    let text = match decode::decode(bytes) {
        Ok(text) => text,
        Err(what) => {
            let what = format!("{name} {what}");
            let help = "save it from the spreadsheet as CSV UTF-8";
            findings.push(Finding::error("bad-table", what).help(help));
            return None;
        }
    };
    let file = sources.add(name, text.as_str());
    let (separator, start) = separator(&text);
    let mut scan = Scan { text: &text, at: start, separator, file, slips: Vec::new() };
    let mut rows = scan.rows();
    let mut slips = scan.slips;
    let header = if rows.is_empty() { Vec::new() } else { rows.remove(0) };
    check_header(&header, &mut slips);
    check_rows(&header, &rows, &mut slips);
    if header.is_empty() || (rows.is_empty() && slips.is_empty()) {
        let what = if header.is_empty() { "the table is empty" } else { "the table has no rows" };
        let help = "the first row names the columns; each row after it makes one label";
        slips.push(slip(Place { file, start: 0, end: 0 }, what).help(help));
    }
    if slips.is_empty() {
        let columns = header.iter().map(|cell| cell.text.trim().to_owned()).collect();
        return Some(Table { columns, rows });
    }
    slips.into_iter().for_each(|slip| findings.push(slip));
    None
}

fn slip(place: Place, what: impl Into<String>) -> Finding {
    Finding::error("bad-table", what).at(place)
}

/// The separator, and where the table starts: after a `sep=` line when there is one.
fn separator(text: &str) -> (char, usize) {
    let first = text.lines().next().unwrap_or_default();
    let named = first.trim_matches('"').strip_prefix("sep=").map(|rest| rest.chars().next());
    if let Some(Some(separator @ (',' | ';' | '\t' | '|'))) = named {
        return (separator, first.len());
    }
    let mut quoted = false;
    let mut count = [(',', 0), (';', 0), ('\t', 0)];
    for letter in text.trim_start_matches(['\r', '\n']).chars() {
        match letter {
            '"' => quoted = !quoted,
            '\r' | '\n' if !quoted => break,
            _ if quoted => {}
            _ => count.iter_mut().filter(|(known, _)| *known == letter).for_each(|(_, n)| *n += 1),
        }
    }
    let most = count.iter().rev().max_by_key(|(_, n)| *n);
    (most.map_or(',', |(known, _)| *known), 0)
}

fn check_header(header: &[Scalar], slips: &mut Vec<Finding>) {
    if let Some(cell) = header.get(MOST_COLUMNS) {
        let what = format!("the table has {} columns; {MOST_COLUMNS} is the most", header.len());
        slips.push(slip(cell.place, what).help("leave out the columns no label uses"));
    }
    for (i, cell) in header.iter().enumerate().take(MOST_COLUMNS) {
        let name = cell.text.trim();
        let mut earlier = header.iter().take(i).map(|other| other.text.trim());
        if name.is_empty() {
            let what = format!("column {} has no name", i + 1);
            slips.push(slip(cell.place, what).help("name it in the first row, or delete it"));
        } else if let Some(j) = earlier.position(|other| other == name) {
            let what = format!("columns {} and {} are both called {name:?}", j + 1, i + 1);
            slips.push(slip(cell.place, what).help("give each column a name of its own"));
        }
    }
}

fn check_rows(header: &[Scalar], rows: &[Vec<Scalar>], slips: &mut Vec<Finding>) {
    let place = |row: &[Scalar]| match row {
        [first, .., last] => Place { end: last.place.end, ..first.place },
        [only] => only.place,
        [] => Place::default(),
    };
    if let Some(row) = rows.get(MOST_ROWS) {
        let what = format!("the table has {} rows; {MOST_ROWS} is the most", rows.len());
        slips.push(slip(place(row), what).help("split it into several tables"));
    }
    for row in rows.iter().take(MOST_ROWS).filter(|row| row.len() != header.len()) {
        let cells = if row.len() == 1 { "cell" } else { "cells" };
        let what =
            format!("this row has {} {cells}; the first row has {}", row.len(), header.len());
        let help = if row.len() < header.len() {
            "add the missing separators; a cell may be empty"
        } else {
            "put double quotes round a cell that holds the separator itself"
        };
        slips.push(slip(place(row), what).help(help));
    }
}

/// The way through a table's text, cell by cell.
struct Scan<'a> {
    text: &'a str,
    at: usize,
    separator: char,
    file: u16,
    slips: Vec<Finding>,
}

impl Scan<'_> {
    /// All rows that have something in them.
    fn rows(&mut self) -> Vec<Vec<Scalar>> {
        let mut rows = Vec::new();
        let mut row = Vec::new();
        while self.at < self.text.len() || !row.is_empty() {
            row.push(self.cell());
            if self.rest().starts_with(self.separator) {
                self.at += self.separator.len_utf8();
                // A separator at the very end still has an empty cell after it.
                if self.at < self.text.len() {
                    continue;
                }
                row.push(self.typed(self.at..self.at, String::new()));
            }
            self.line_end();
            let full = std::mem::take(&mut row);
            if full.iter().any(|cell: &Scalar| !cell.text.trim().is_empty()) {
                rows.push(full);
            }
        }
        rows
    }

    fn rest(&self) -> &str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn line_end(&mut self) {
        let rest = self.rest();
        let length = if rest.starts_with("\r\n") { 2 } else { usize::from(!rest.is_empty()) };
        self.at += length;
    }

    /// The cell that starts here, up to but not with its separator or line end.
    fn cell(&mut self) -> Scalar {
        if self.rest().starts_with('"') { self.quoted() } else { self.bare() }
    }

    fn bare(&mut self) -> Scalar {
        let range = self.at..self.at + self.to_cell_end();
        self.at = range.end;
        let text = self.text.get(range.clone()).unwrap_or_default().to_owned();
        self.typed(range, text)
    }

    fn quoted(&mut self) -> Scalar {
        let open = self.at;
        let mut text = String::new();
        self.at += 1;
        loop {
            let Some(length) = self.rest().find('"') else {
                self.slip(open..open + 1, "this quote is never closed", "close it with another \"");
                self.at = self.text.len();
                break;
            };
            text += self.rest().get(..length).unwrap_or_default();
            self.at += length + 1;
            if !self.rest().starts_with('"') {
                break;
            }
            text.push('"');
            self.at += 1;
        }
        let inside = open + 1..(self.at - 1).max(open + 1);
        let after = self.at..self.at + self.to_cell_end();
        if !after.is_empty() {
            let help = "write a quote inside a quoted cell twice: \"\"";
            self.slip(after.clone(), "there is text after the closing quote", help);
            self.at = after.end;
        }
        self.typed(inside, text.replace("\r\n", "\n"))
    }

    /// Bytes from here to the separator, line end or end of the text.
    fn to_cell_end(&self) -> usize {
        let rest = self.rest();
        rest.find([self.separator, '\r', '\n']).unwrap_or(rest.len())
    }

    fn typed(&mut self, range: Range<usize>, text: String) -> Scalar {
        let harmful = text.chars().find(|letter| letter.is_control() && !"\t\n".contains(*letter));
        if let Some(letter) = harmful {
            let what = format!("this cell holds a control character, U+{:04X}", u32::from(letter));
            self.slip(range.clone(), what, "delete it, or type the cell anew");
        }
        Scalar { text, place: self.place(range) }
    }

    fn slip(&mut self, range: Range<usize>, what: impl Into<String>, help: &str) {
        self.slips.push(slip(self.place(range), what).help(help));
    }

    fn place(&self, range: Range<usize>) -> Place {
        // The table's size is bounded far below 4 GiB.
        let number = |at| u32::try_from(at).unwrap_or(u32::MAX);
        Place { file: self.file, start: number(range.start), end: number(range.end) }
    }
}

#[cfg(test)]
mod tests;
