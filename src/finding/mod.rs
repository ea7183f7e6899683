//! What is wrong with a job, in words that help a person to put it right.
//!
//! A [`Finding`] never stops the next check: rooms collect them in [`Findings`], and the person gets
//! all of them in one run. What stops the machine itself (a full disk) is an `Error` of its room.

pub mod codes;
mod nearest;
mod report;
mod words;

pub(crate) use nearest::nearest;
pub use report::{Styling, as_json, as_text};
pub(crate) use words::{quoted, shortened};

use serde::Serialize;

/// How bad it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// It will not come out right; nothing is written.
    Error,
    /// It may not come out right.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// All of them, the worst first.
    pub const ALL: [Severity; 3] = [Severity::Error, Severity::Warning, Severity::Note];

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

/// A stretch of bytes in one of the job's files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Place {
    /// Which file: an index into [`Sources`].
    pub file: u16,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

/// One thing that is wrong, where it is, and what to do about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// How bad it is.
    pub severity: Severity,
    /// Its name in plain words, as used by `allow:`: one of [`codes`].
    pub code: &'static str,
    /// Where in the job's files; `None` when it is about the job as a whole.
    pub place: Option<Place>,
    /// The label it is about.
    pub label: Option<String>,
    /// Where on the label: mm from the top left of its trim, x right, y down.
    pub at_mm: Option<(f64, f64)>,
    /// What is there and what is needed, with units.
    pub message: String,
    /// What to change; may be empty only when the message says it already.
    pub help: String,
    /// The measured and the needed value, in the unit the message names.
    pub measured: Option<(f64, f64)>,
}

impl Finding {
    /// An error with its code and message.
    pub fn error(code: &'static str, message: impl Into<String>) -> Finding {
        Finding::new(Severity::Error, code, message)
    }

    /// A warning with its code and message.
    pub fn warning(code: &'static str, message: impl Into<String>) -> Finding {
        Finding::new(Severity::Warning, code, message)
    }

    /// A note with its code and message.
    pub fn note(code: &'static str, message: impl Into<String>) -> Finding {
        Finding::new(Severity::Note, code, message)
    }

    /// A finding of a severity that was worked out.
    pub fn new(severity: Severity, code: &'static str, message: impl Into<String>) -> Finding {
        debug_assert!(
            codes::find(code).is_some_and(|row| row.levels.contains(&severity)),
            "finding::codes has no {} {code}",
            severity.word()
        );
        Finding {
            severity,
            code,
            place: None,
            label: None,
            at_mm: None,
            message: message.into(),
            help: String::new(),
            measured: None,
        }
    }

    /// The same, at a place in the job's files.
    #[must_use]
    pub fn at(mut self, place: Place) -> Finding {
        self.place = Some(place);
        self
    }

    /// The same, with what to do about it.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Finding {
        self.help = help.into();
        self
    }

    /// The same, about a label.
    #[must_use]
    pub fn label(mut self, name: impl Into<String>) -> Finding {
        self.label = Some(name.into());
        self
    }

    /// The same, at a spot on the label (mm from the top left of its trim).
    #[must_use]
    pub fn spot(mut self, x_mm: f64, y_mm: f64) -> Finding {
        self.at_mm = Some((x_mm, y_mm));
        self
    }

    /// The same, with the measured and the needed value.
    #[must_use]
    pub fn measured(mut self, measured: f64, needed: f64) -> Finding {
        self.measured = Some((measured, needed));
        self
    }
}

/// Findings gathered on the way through a job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Findings {
    list: Vec<Finding>,
}

impl Findings {
    /// Adds one, unless the very same is there already.
    pub fn push(&mut self, finding: Finding) {
        // Copies of one label are designed once, but a style's slip is met by each label that uses it.
        if !self.list.iter().rev().take(64).any(|known| *known == finding) {
            self.list.push(finding);
        }
    }

    /// Adds several, unless the very same are there already.
    pub fn extend(&mut self, others: impl IntoIterator<Item = Finding>) {
        others.into_iter().for_each(|finding| self.push(finding));
    }

    /// Says of those that name no label that they are about this one.
    pub fn label(&mut self, name: &str) {
        for finding in self.list.iter_mut().filter(|finding| finding.label.is_none()) {
            finding.label = Some(name.to_owned());
        }
    }

    /// All of them, in the order found.
    #[must_use]
    pub fn list(&self) -> &[Finding] {
        &self.list
    }

    /// Whether any is an error.
    #[must_use]
    pub fn any_error(&self) -> bool {
        self.list.iter().any(|finding| finding.severity == Severity::Error)
    }

    /// How many there are of one severity.
    #[must_use]
    pub fn count(&self, severity: Severity) -> usize {
        self.list.iter().filter(|finding| finding.severity == severity).count()
    }

    /// Puts them in the order of the files, errors first within one place, and drops doubles.
    pub fn sort(&mut self) {
        fn order(one: &Finding) -> (bool, Option<Place>, Severity, &str, &str) {
            (one.place.is_none(), one.place, one.severity, one.code, &one.message)
        }
        self.list.sort_by(|a, b| order(a).cmp(&order(b)));
        self.list.dedup();
    }

    /// Keeps only the findings `keep` says yes to.
    pub fn retain(&mut self, keep: impl FnMut(&Finding) -> bool) {
        self.list.retain(keep);
    }
}

impl IntoIterator for Findings {
    type Item = Finding;
    type IntoIter = std::vec::IntoIter<Finding>;

    fn into_iter(self) -> Self::IntoIter {
        self.list.into_iter()
    }
}

/// The job's files as text, to show the lines that findings are about.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    files: Vec<(String, String)>,
}

impl Sources {
    /// Adds a file under the name messages use; its number goes into [`Place::file`].
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> u16 {
        self.files.push((name.into(), text.into()));
        u16::try_from(self.files.len() - 1).unwrap_or(u16::MAX)
    }

    /// The number of the file added last.
    pub fn last(&self) -> u16 {
        u16::try_from(self.files.len().saturating_sub(1)).unwrap_or(u16::MAX)
    }

    /// Name and text of a file.
    #[must_use]
    pub fn file(&self, file: u16) -> Option<(&str, &str)> {
        self.files.get(usize::from(file)).map(|(name, text)| (name.as_str(), text.as_str()))
    }

    /// File name, line and column (both from 1, columns in characters) of a place.
    #[must_use]
    pub fn position(&self, place: Place) -> Option<(&str, usize, usize)> {
        let (name, text) = self.file(place.file)?;
        let before = text.get(..place.start as usize)?;
        let line = before.bytes().filter(|byte| *byte == b'\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        Some((name, line, column))
    }
}
