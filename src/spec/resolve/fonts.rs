//! Font files beside the job.

use super::Desk;
use super::reader::{Reader, quoted};
use crate::finding::{Finding, Place};
use crate::font::Licence;
use crate::spec::draft::FontDraft;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fmt::Write;

/// Adds every font of the job to the faces labels can ask for.
pub(super) fn fonts(drafts: BTreeMap<String, FontDraft>, reader: &mut Reader<'_, '_>) {
    for (name, draft) in drafts {
        font(&name, &draft, reader);
    }
}

fn font(name: &str, draft: &FontDraft, reader: &mut Reader<'_, '_>) {
    // Labels that ask for it are not wrong, whatever is wrong with the file.
    reader.fonts.insert(name.to_owned(), true);
    let index = reader.count(draft.index.as_ref(), 0..=65_535).unwrap_or(0);
    let Some(file) = &draft.file else {
        let scalars = [&draft.sha256, &draft.index];
        let place = scalars.into_iter().flatten().map(|typed| typed.place).next();
        let message = format!("the font {} has no `file`", quoted(name));
        reader.wrong("missing", place.unwrap_or_default(), message, "add `file:` and its name");
        return;
    };
    let bytes = match (reader.desk.fetch)(file.text.trim()) {
        Ok(bytes) => bytes,
        Err(error) => {
            let help = "put the file beside the job, or correct its name";
            reader.wrong("font-file", file.place, error.to_string(), help);
            return;
        }
    };
    if let Some(pinned) = &draft.sha256 {
        let found = hex(&Sha256::digest(&bytes));
        if !pinned.text.trim().eq_ignore_ascii_case(&found) {
            let message = format!("{} is another file: its SHA-256 is {found}", quoted(&file.text));
            let help = "get the file this job was made with, or take this number";
            reader.wrong("other-file", pinned.place, message, help);
            return;
        }
    }
    let added = reader.desk.faces.add(name, bytes, index, Licence::AsTheFileSays);
    match added {
        Ok(face) => {
            if let Some(note) = reader.desk.faces.licence_note(face) {
                licence(reader.desk, file.place, format!("{}: {note}", quoted(&file.text)));
            }
        }
        Err(not) => {
            let message = format!("{} {not}", quoted(&file.text));
            reader.wrong("font-file", file.place, message, "name another font file");
        }
    }
}

fn licence(desk: &mut Desk<'_>, place: Place, message: String) {
    let help = "nothing to do if you have looked";
    desk.findings.push(Finding::note("font-licence", message).at(place).help(help));
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().fold(String::with_capacity(64), |mut hex, byte| {
        // Writing to a string cannot fail.
        let _ = write!(hex, "{byte:02x}");
        hex
    })
}
