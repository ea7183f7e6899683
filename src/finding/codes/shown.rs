//! The table of codes as people read it, and as machines do.

use super::{Accepted, FindingCode, all, find, nearest};
use crate::finding::Severity;
use serde::Serialize;

/// Columns of a terminal that every person has.
const COLUMNS: usize = 80;

/// All codes as a table: code, levels, who may accept it, meaning.
#[must_use]
pub fn as_table() -> String {
    let rows = || all().map(|row| (row.code, levels(row, ", "), accepted_by(row).unwrap_or("no")));
    let code = rows().map(|row| row.0.len()).max().unwrap_or_default();
    let level = rows().map(|row| row.1.len()).max().unwrap_or_default();
    let line = |(of_code, of_level, accepted): (&str, String, &str), meaning: &str| {
        wrapped(&format!("{of_code:code$}  {of_level:level$}  {accepted:5}  "), meaning)
    };
    let head = line(("code", "level".to_owned(), "allow"), "what it means");
    let below = "\n`decalwright explain CODE` says what to do about one.\n";
    let lines = rows().zip(all()).map(|(row, of)| line(row, of.meaning));
    std::iter::once(head).chain(lines).chain([below.to_owned()]).collect()
}

/// A code that no finding has, with the one that was most likely meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unknown {
    code: String,
    near: Option<&'static str>,
}

impl std::fmt::Display for Unknown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "no finding has the code {}; ", self.code)?;
        match self.near {
            Some(near) => write!(f, "did you mean {near}?"),
            None => f.write_str("`decalwright list findings` lists them"),
        }
    }
}

impl std::error::Error for Unknown {}

/// Explains the finding with this code; upper and lower case are alike.
///
/// # Errors
/// [`Unknown`] when no finding has it.
pub fn explain(code: &str) -> Result<String, Unknown> {
    let found = find(&code.to_ascii_lowercase()).map(explained);
    found.ok_or_else(|| Unknown { code: code.to_owned(), near: nearest(code) })
}

/// One code explained: what it means, what to do, whether it can be accepted, and where it comes from.
fn explained(row: &FindingCode) -> String {
    let code = row.code;
    let mut accept = match row.accepted {
        Accepted::Label => format!(
            "Write `allow: [{code}]` on the label or its style; for markers of wires, under `wires:`."
        ),
        Accepted::Wires => format!("Write `wires: {{allow: [{code}]}}`."),
        Accepted::Job => format!("Write `allow: [{code}]` at the top of the job."),
        Accepted::No(why) => format!("It cannot be accepted: {why}."),
    };
    if accepted_by(row).is_some() && row.levels.contains(&Severity::Error) {
        accept.push_str(" An error that is accepted is still shown as a note.");
    }
    let parts = [("To do:", row.mend), ("Accept:", &accept), ("Source:", row.source)];
    let mut text = format!("{code}: {}\n\n{}\n", levels(row, " or "), wrapped("", row.meaning));
    text.extend(parts.map(|(what, words)| wrapped(&format!("{what:9}"), words)));
    text
}

/// A row as written to JSON; keys in this order, `null` where there is nothing to say.
#[derive(Serialize)]
struct Entry {
    code: &'static str,
    levels: &'static [Severity],
    accepted_by: Option<&'static str>,
    not_accepted: Option<&'static str>,
    meaning: &'static str,
    mend: &'static str,
    source: &'static str,
}

/// All codes as a JSON array.
#[must_use]
pub fn as_json() -> String {
    let entry = |row: &FindingCode| Entry {
        code: row.code,
        levels: row.levels,
        accepted_by: accepted_by(row),
        not_accepted: match row.accepted {
            Accepted::No(why) => Some(why),
            Accepted::Label | Accepted::Wires | Accepted::Job => None,
        },
        meaning: row.meaning,
        mend: row.mend,
        source: row.source,
    };
    let entries: Vec<Entry> = all().map(entry).collect();
    // Only maps with keys that are no strings, and writers that fail, make an error here.
    serde_json::to_string_pretty(&entries).unwrap_or_default() + "\n"
}

fn levels(row: &FindingCode, between: &str) -> String {
    row.levels.iter().map(|level| level.word()).collect::<Vec<_>>().join(between)
}

/// Whose `allow` accepts it.
fn accepted_by(row: &FindingCode) -> Option<&'static str> {
    match row.accepted {
        Accepted::Label => Some("label"),
        Accepted::Wires => Some("wires"),
        Accepted::Job => Some("job"),
        Accepted::No(_) => None,
    }
}

/// Words after a head, broken between words; the lines that follow are set in as far as the head reaches.
fn wrapped(head: &str, words: &str) -> String {
    let indent = head.chars().count();
    let (mut text, mut column) = (head.to_owned(), indent);
    for (at, word) in words.split(' ').enumerate() {
        let length = word.chars().count();
        if at > 0 && column + 1 + length > COLUMNS {
            text.push('\n');
            text.push_str(&" ".repeat(indent));
            column = indent;
        } else if at > 0 {
            text.push(' ');
            column += 1;
        }
        text.push_str(word);
        column += length;
    }
    text.push('\n');
    text
}
