//! The placement list as plain text: for a screen, a reader of braille, or a printer without pictures.

use super::entry::{Entry, issue, sections, title, totals};
use super::form::steps_title;
use super::steps;
use super::typeset::words;
use crate::design::Design;
use crate::sheet::Sheet;
use crate::spec::Spec;

/// Columns of the text; longer only where a single word is.
const COLUMNS: usize = 78;

/// The placement list as plain text, 78 columns where words allow it.
#[must_use]
pub(crate) fn text(spec: &Spec, designs: &[Design], sheets: &[Sheet]) -> String {
    let sections = sections(spec, designs, sheets);
    let mut out = Lines::default();
    out.wrapped("", &spec.title);
    let issue = issue(spec);
    let under = if issue.is_empty() { String::new() } else { format!(", {issue}") };
    out.wrapped("", &format!("Placement list{under}"));
    out.wrapped("", &format!("{}, for printer {}.", totals(&sections), spec.printer.name));
    // By this line a later run recognizes the file as its own and may replace it.
    out.wrapped("", "Made by decalwright.");
    for section in &sections {
        out.line("");
        out.wrapped("", &format!("{}: {}", title(section.film), section.totals()));
        out.line(&"-".repeat(COLUMNS));
        for entry in &section.entries {
            self::entry(&mut out, entry);
        }
        out.wrapped("", &steps_title(section, spec.printer.process));
        out.wrapped("", steps::FIRST);
        out.line(&"-".repeat(COLUMNS));
        for (at, step) in steps::steps(section, &spec.printer).iter().enumerate() {
            out.wrapped(&format!("{:>4}  ", at + 1), step.what);
            if let Some(caution) = step.caution {
                out.wrapped("      Take care: ", caution);
            }
        }
    }
    out.text
}

fn entry(out: &mut Lines, entry: &Entry<'_>) {
    out.wrapped(&format!("[ ] {:>4}  ", entry.number), &entry.design.name);
    let film = entry.label.film.word();
    let facts = [
        ("words", entry.spoken()),
        ("size", entry.measures()),
        ("goes", entry.goes_on()),
        ("film", format!("{film}, {}", entry.applied())),
        ("count", format!("{}, {}", entry.count(), entry.found_on())),
        ("note", entry.label.note.clone().unwrap_or_default()),
    ];
    for (name, fact) in facts {
        if !fact.is_empty() {
            out.wrapped(&format!("          {name:<7}"), &fact);
        }
    }
    out.line("");
}

/// Text wrapped at its columns.
#[derive(Default)]
struct Lines {
    text: String,
}

impl Lines {
    fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    /// Writes text behind a first indent, further lines under its start.
    fn wrapped(&mut self, first: &str, text: &str) {
        let indent = first.chars().count();
        let mut line = first.to_owned();
        let mut used = indent;
        for word in words(text) {
            let length = word.chars().count();
            if used > indent && used + 1 + length > COLUMNS {
                self.line(&line);
                line = " ".repeat(indent);
                used = indent;
            }
            if used > indent {
                line.push(' ');
                used += 1;
            }
            line.push_str(&word.replace('\u{a0}', " "));
            used += length;
        }
        self.line(&line);
    }
}
