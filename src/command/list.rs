//! `list` and `explain`: what can be written and found, and what it means.

use super::{Ended, print};
use decalwright::finding::codes;

use clap::{Args, ValueEnum};
use std::process::ExitCode;

#[derive(Debug, Args)]
pub(crate) struct ListArgs {
    /// What to list.
    #[arg(value_enum)]
    what: Listed,
    /// Give the list as JSON.
    #[arg(long)]
    json: bool,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Listed {
    /// Codes of findings: how bad they are, who may accept them, what they mean.
    Findings,
}

#[derive(Debug, Args)]
pub(crate) struct ExplainArgs {
    /// The code of a finding, such as thin-ink.
    code: String,
}

/// Prints one list.
pub(crate) fn list(args: &ListArgs) -> ExitCode {
    let text = match (args.what, args.json) {
        (Listed::Findings, false) => codes::as_table(),
        (Listed::Findings, true) => codes::as_json(),
    };
    print(&text);
    ExitCode::SUCCESS
}

/// Prints what a code means and what to do about it.
pub(crate) fn explain(args: &ExplainArgs) -> Ended {
    print(&codes::explain(args.code.trim())?);
    Ok(ExitCode::SUCCESS)
}
