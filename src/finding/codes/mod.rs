//! Every code a finding can have, in one table: what it means, what to do, and who may accept it.
//!
//! Rooms give the codes, this table explains them: `allow` reads it, and so do `list findings` and `explain`. A
//! test compares it with the codes in the sources.

mod decals;
mod reading;
mod shown;
mod wiring;

use super::Severity;

pub use shown::{Unknown, as_json, as_table, explain};

/// One code: a row of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FindingCode {
    /// Its name in plain words.
    pub code: &'static str,
    /// How bad its findings can be; most codes have one level.
    pub levels: &'static [Severity],
    /// Who may accept it with `allow`.
    pub accepted: Accepted,
    /// What it means, as a sentence.
    pub meaning: &'static str,
    /// What to do about it, as a sentence.
    pub mend: &'static str,
    /// Where its rule or its numbers come from.
    pub source: &'static str,
}

/// Who may accept a finding, knowing what it means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Accepted {
    /// The label it is about, or a style of it; of a wire's marker, the wiring.
    Label,
    /// The wiring, as `wires: {allow: …}`.
    Wires,
    /// The job, as `allow:` among its first keys: it is about no label.
    Job,
    /// Nobody, for this reason.
    No(&'static str),
}

/// Every code, in the order of the rooms that give them.
pub fn all() -> impl Iterator<Item = &'static FindingCode> {
    [reading::CODES, decals::CODES, wiring::CODES].into_iter().flatten()
}

/// The row of a code.
#[must_use]
pub fn find(code: &str) -> Option<&'static FindingCode> {
    all().find(|row| row.code == code)
}

/// The code that was most likely meant.
#[must_use]
pub fn nearest(code: &str) -> Option<&'static str> {
    super::nearest(code, all().map(|row| row.code))
}

/// Source of a trade rule.
const COMMON_PRACTICE: &str = "common practice, no source";

/// Source of what a file may hold.
const FILE_FORMAT: &str = "the file format";

/// Source of least sizes.
const PRINTERS: &str = "printers' published minima, set by class or by the user";

/// A row that a label may accept, by common practice until it says otherwise.
const fn row(code: &'static str, levels: &'static [Severity]) -> FindingCode {
    let source = COMMON_PRACTICE;
    FindingCode { code, levels, accepted: Accepted::Label, meaning: "", mend: "", source }
}

impl FindingCode {
    const fn means(self, meaning: &'static str) -> FindingCode {
        FindingCode { meaning, ..self }
    }

    const fn mend(self, mend: &'static str) -> FindingCode {
        FindingCode { mend, ..self }
    }

    const fn source(self, source: &'static str) -> FindingCode {
        FindingCode { source, ..self }
    }

    /// Accepted by the wiring alone.
    const fn of_wires(self) -> FindingCode {
        FindingCode { accepted: Accepted::Wires, ..self }
    }

    /// Accepted by the job alone.
    const fn of_job(self) -> FindingCode {
        FindingCode { accepted: Accepted::Job, ..self }
    }

    /// Accepted by nobody.
    const fn never(self, why: &'static str) -> FindingCode {
        FindingCode { accepted: Accepted::No(why), ..self }
    }
}

#[cfg(test)]
mod tests;
