//! Findings as a person reads them, and as a machine does.
//!
//! Excerpts are windows cut from the job's files here, so that ten thousand findings or a line of
//! megabytes cost no more than what is shown of them.

use super::{Finding, Findings, Place, Severity, Sources};
use crate::units::fixed;
use annotate_snippets::{
    Annotation, AnnotationKind, Group, Level, Message, Origin, Renderer, Snippet,
    normalize_untrusted_str as harmless,
};
use serde::Serialize;
use std::collections::BTreeMap;

/// The most findings shown in full: more would scroll the first ones, which often explain the rest, away.
const SHOWN: usize = 50;

/// The most bytes of a line kept on either side of where a finding starts; far more than a terminal shows.
const WINDOW: usize = 400;

/// Whether text carries terminal colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Styling {
    /// Colours and bold.
    Terminal,
    /// Letters only.
    Plain,
}

/// The findings as annotated excerpts of the job's files, a blank line between them; the worst 50 when
/// there are more, with a count of the others.
#[must_use]
pub fn as_text(findings: &Findings, sources: &Sources, styling: Styling) -> String {
    let renderer = match styling {
        Styling::Terminal => Renderer::styled(),
        Styling::Plain => Renderer::plain(),
    };
    let list = findings.list();
    let mut order: Vec<usize> = (0..list.len()).collect();
    order.sort_by_key(|i| list.get(*i).map(|finding| finding.severity));
    let hidden = order.split_off(order.len().min(SHOWN));
    order.sort_unstable();
    let mut lines = Lines::new(sources);
    let shown = order.iter().filter_map(|i| list.get(*i));
    let mut text: String =
        shown.map(|finding| block(finding, &mut lines, &renderer) + "\n\n").collect();
    if !hidden.is_empty() {
        text += &rest(hidden.iter().filter_map(|i| list.get(*i)));
    }
    if !text.is_empty() {
        text.truncate(text.trim_end().len());
        text.push('\n');
    }
    text
}

/// One finding: head, excerpt, label, help.
fn block(finding: &Finding, lines: &mut Lines<'_>, renderer: &Renderer) -> String {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let title = level.primary_title(harmless(&finding.message)).id(finding.code);
    let mut group = Group::with_title(title);
    if let Some(shown) = finding.place.and_then(|place| lines.excerpt(place)) {
        let (window, span) = shown.window();
        let origin = Origin::path(harmless(shown.file)).line(shown.line).char_column(shown.column);
        let excerpt: Snippet<'_, Annotation<'_>> = Snippet::source(window.clone())
            .line_start(shown.line)
            .annotation(AnnotationKind::Primary.span(span));
        group = if window.trim().is_empty() {
            group.element(origin)
        } else if shown.starts_whole() {
            group.element(excerpt.path(harmless(shown.file)))
        } else {
            // The excerpt alone would count the column from where it is cut.
            group.element(origin).element(excerpt)
        };
    }
    group = group.elements(label(finding));
    if !finding.help.is_empty() {
        group = group.element(Level::HELP.message(harmless(&finding.help)));
    }
    renderer.render(&[group])
}

/// The label, and the spot on it.
fn label(finding: &Finding) -> Option<Message<'static>> {
    let name = finding.label.as_deref().map(harmless);
    let spot = finding.at_mm.map(|(x, y)| {
        format!("{} mm from its left edge, {} mm from its top", fixed(x, 1), fixed(y, 1))
    });
    let line = match (name, spot) {
        (Some(name), Some(spot)) => format!("{name}, {spot}"),
        (Some(line), None) | (None, Some(line)) => line,
        (None, None) => return None,
    };
    Some(Level::INFO.with_name("label").message(line))
}

/// `and 7 more: 5 errors, 1 warning, 1 note`.
fn rest<'a>(hidden: impl Iterator<Item = &'a Finding>) -> String {
    let hidden: Vec<Severity> = hidden.map(|finding| finding.severity).collect();
    let count = |severity| hidden.iter().filter(|one| **one == severity).count();
    let say = |severity: Severity| match (count(severity), severity.word()) {
        (0, _) => None,
        (1, word) => Some(format!("1 {word}")),
        (n, word) => Some(format!("{n} {word}s")),
    };
    let parts: Vec<String> = Severity::ALL.into_iter().filter_map(say).collect();
    format!("and {} more: {}", hidden.len(), parts.join(", "))
}

/// A finding as written to JSON; keys in this order, `null` where there is nothing to say.
#[derive(Serialize)]
struct Entry<'a> {
    severity: Severity,
    code: &'static str,
    message: &'a str,
    help: &'a str,
    file: Option<&'a str>,
    line: Option<usize>,
    column: Option<usize>,
    label: Option<&'a str>,
    at_mm: Option<[f64; 2]>,
    measured: Option<f64>,
    needed: Option<f64>,
}

/// All findings as a JSON array; lines and columns from 1, columns in characters, spots in mm.
#[must_use]
pub fn as_json(findings: &Findings, sources: &Sources) -> String {
    let mut lines = Lines::new(sources);
    let entry = |finding| entry(finding, &mut lines);
    let entries: Vec<Entry<'_>> = findings.list().iter().map(entry).collect();
    // Only maps with keys that are no strings, and writers that fail, make an error here.
    serde_json::to_string_pretty(&entries).unwrap_or_default() + "\n"
}

fn entry<'a>(finding: &'a Finding, lines: &mut Lines<'a>) -> Entry<'a> {
    let shown = finding.place.and_then(|place| lines.excerpt(place));
    Entry {
        severity: finding.severity,
        code: finding.code,
        message: &finding.message,
        help: &finding.help,
        file: shown.as_ref().map(|shown| shown.file),
        line: shown.as_ref().map(|shown| shown.line),
        column: shown.as_ref().map(|shown| shown.column),
        label: finding.label.as_deref(),
        at_mm: finding.at_mm.map(|(x, y)| [rounded(x), rounded(y)]),
        measured: finding.measured.map(|(measured, _)| rounded(measured)),
        needed: finding.measured.map(|(_, needed)| rounded(needed)),
    }
}

/// To a ten thousandth: a tenth of a micrometre when it is mm.
fn rounded(number: f64) -> f64 {
    (number * 1e4).round() / 1e4
}

/// Where the lines of the files start, looked up once a file.
struct Lines<'a> {
    sources: &'a Sources,
    starts: BTreeMap<u16, Vec<usize>>,
}

/// Where a finding is, for showing.
struct Excerpt<'a> {
    file: &'a str,
    line: usize,
    column: usize,
    /// The line's text without its end.
    text: &'a str,
    /// From where to where in that line, bytes.
    from: usize,
    to: usize,
}

impl<'a> Lines<'a> {
    fn new(sources: &'a Sources) -> Lines<'a> {
        Lines { sources, starts: BTreeMap::new() }
    }

    fn excerpt(&mut self, place: Place) -> Option<Excerpt<'a>> {
        let (file, text) = self.sources.file(place.file)?;
        let starts = self.starts.entry(place.file).or_insert_with(|| {
            let ends = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n');
            std::iter::once(0).chain(ends.map(|(at, _)| at + 1)).collect()
        });
        let start = text.floor_char_boundary(place.start as usize);
        let line = starts.partition_point(|first| *first <= start);
        let first = *starts.get(line.checked_sub(1)?)?;
        let text = text.get(first..)?.lines().next().unwrap_or_default();
        let from = text.floor_char_boundary(start - first);
        // A place of many lines is shown by its first.
        let to = text.floor_char_boundary((place.end as usize).saturating_sub(first)).max(from);
        let column = text.get(..from)?.chars().count() + 1;
        Some(Excerpt { file, line, column, text, from, to })
    }
}

impl Excerpt<'_> {
    /// Whether the window starts where the line does.
    fn starts_whole(&self) -> bool {
        self.from <= WINDOW
    }

    /// As much of the line as could be shown, and the underlined range in it.
    fn window(&self) -> (String, std::ops::Range<usize>) {
        let start = self.text.ceil_char_boundary(self.from.saturating_sub(WINDOW));
        let end = self.text.floor_char_boundary(self.from + WINDOW).max(self.from);
        let before = if start > 0 { "..." } else { "" };
        let after = if end < self.text.len() { "..." } else { "" };
        let window = self.text.get(start..end).unwrap_or_default();
        let shift = |at: usize| at.clamp(start, end) - start + before.len();
        (format!("{before}{window}{after}"), shift(self.from)..shift(self.to))
    }
}

#[cfg(test)]
mod tests;
