//! The door: bytes of a file in, its tree out.

use super::check::checked;
use super::slips::Slips;
use super::{Form, Tree, events};
use crate::finding::{Finding, Findings, Sources};
use std::rc::Rc;

/// The largest file that is read; ten thousand labels written out take about one.
const LARGEST: usize = 4 * 1024 * 1024;

/// At most this many tabs or control characters are reported one by one.
const SHOWN: usize = 20;

/// What the file called `name` says as far as it fits the form, or `None` when nothing of it can be used.
///
/// The text goes into `sources` without its byte-order mark; all that is wrong goes into `findings`.
pub(crate) fn tree(
    name: &str,
    bytes: &[u8],
    form: &Form,
    sources: &mut Sources,
    findings: &mut Findings,
) -> Option<Rc<Tree>> {
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
    checked(&root, form, &mut slips)
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

/// Reports tabs that set lines in, and control characters; returns whether there were any.
fn stray_characters(text: &str, slips: &mut Slips) -> bool {
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
