//! The door: bytes of a job file in, what was typed out.

use super::draft::JobDraft;
use super::profile_draft::ProfileDraft;
use super::{events, shape, slips::Slips};
use crate::finding::{Finding, Findings, Sources};
use serde::de::DeserializeOwned;
use serde_json::Value;

/// The largest job file that is read; ten thousand labels written out take about one.
const LARGEST: usize = 4 * 1024 * 1024;

/// At most this many tabs or control characters are told one by one.
const SHOWN: usize = 20;

/// What the job file called `name` says, or `None` when nothing of it can be used.
///
/// The text goes into `sources` without its byte-order mark; all that is wrong goes into `findings`.
pub(super) fn draft(
    name: &str,
    bytes: &[u8],
    sources: &mut Sources,
    findings: &mut Findings,
) -> Option<JobDraft> {
    file((name, bytes), shape::form(), sources, findings)
}

/// The same for a printer's profile, or the answers it is made of.
pub(super) fn profile(
    name: &str,
    bytes: &[u8],
    sources: &mut Sources,
    findings: &mut Findings,
) -> Option<ProfileDraft> {
    file((name, bytes), shape::profile_form(), sources, findings)
}

fn file<D: DeserializeOwned>(
    (name, bytes): (&str, &[u8]),
    form: &Value,
    sources: &mut Sources,
    findings: &mut Findings,
) -> Option<D> {
    if bytes.len() > LARGEST {
        let file = sources.add(name, "");
        let mut slips = Slips::new(findings, file);
        let place = slips.place(0, 0);
        let finding = Finding::error("file-too-large", "the file is larger than 4 MiB");
        slips.push(finding.at(place).help("split it into several jobs"));
        return None;
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            not_utf8(name, bytes, error.valid_up_to(), (sources, findings));
            return None;
        }
    };
    let file = sources.add(name, text);
    let mut slips = Slips::new(findings, file);
    if stray_characters(text, &mut slips) {
        return None;
    }
    let root = events::tree(text, &mut slips)?;
    let sound = shape::sound(&root, form, &mut slips)?;
    match D::deserialize(sound) {
        Ok(draft) => Some(draft),
        Err(error) => {
            debug_assert!(false, "the schema let through what the drafts refuse: {error}");
            let place = slips.place(0, 0);
            slips.push(Finding::error("bad-yaml", error.to_string()).at(place));
            None
        }
    }
}

/// Files that people write.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// A job.
    Job,
    /// A printer's profile, or the answers it is made of.
    Profile,
}

/// The JSON Schema of a file, draft-07, for editors.
#[must_use]
pub fn schema(of: Form) -> String {
    let form = match of {
        Form::Job => shape::form(),
        Form::Profile => shape::profile_form(),
    };
    serde_json::to_string_pretty(form).unwrap_or_default()
}

fn not_utf8(
    name: &str,
    bytes: &[u8],
    valid: usize,
    (sources, findings): (&mut Sources, &mut Findings),
) {
    let file = sources.add(name, String::from_utf8_lossy(bytes));
    let mut slips = Slips::new(findings, file);
    let place = slips.place(valid, valid + 1);
    let byte = bytes.get(valid).copied().unwrap_or_default();
    let finding = Finding::error("not-utf-8", format!("byte {byte:02X} here is not UTF-8 text"));
    slips.push(finding.at(place).help("save the file as UTF-8"));
}

/// Whether no text may hold it: the control characters of ISO 6429, line ends and tab left out.
pub(super) fn is_control(c: char) -> bool {
    c.is_control() && !matches!(c, '\n' | '\r' | '\t')
}

/// Tells tabs that set lines in, and control characters; whether there were any.
fn stray_characters(text: &str, slips: &mut Slips<'_>) -> bool {
    let controls = text.char_indices().filter(|(_, c)| is_control(*c));
    let mut any = false;
    for (at, c) in controls.take(SHOWN) {
        let message = format!("there is a control character here, {:04X}", u32::from(c));
        let place = slips.place(at, at + c.len_utf8());
        let finding = Finding::error("control-character", message);
        slips.push(finding.at(place).help("take it out"));
        any = true;
    }
    for at in tabs(text).take(SHOWN) {
        let place = slips.place(at, at + 1);
        let finding = Finding::error("tab", "this line is set in with a tab");
        slips.push(finding.at(place).help("use spaces"));
        any = true;
    }
    any
}

/// The first tab in the white space of each line that is set in with one.
fn tabs(text: &str) -> impl Iterator<Item = usize> {
    let mut start = 0;
    text.split_inclusive('\n').filter_map(move |line| {
        let from = start;
        start += line.len();
        let content = line.trim_start_matches([' ', '\t']);
        let white = line.get(..line.len() - content.len())?;
        let tab = white.find('\t').filter(|_| !content.trim_end().is_empty())?;
        (!content.starts_with('#')).then_some(from + tab)
    })
}

#[cfg(test)]
mod tests;
