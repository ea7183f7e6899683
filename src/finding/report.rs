//! Findings as a person reads them, and as a machine does.

use super::{Findings, Sources};

/// The findings as annotated excerpts of the job's files.
#[must_use]
pub fn as_text(_findings: &Findings, _sources: &Sources, _colour: Styling) -> String {
    String::new()
}

/// The findings as JSON.
#[must_use]
pub fn as_json(_findings: &Findings, _sources: &Sources) -> String {
    String::new()
}

/// Whether text carries terminal colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Styling {
    /// Colours and bold.
    Terminal,
    /// Letters only.
    Plain,
}
