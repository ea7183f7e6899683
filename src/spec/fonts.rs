//! Font files beside the job.

use super::reader::Reader;
use crate::finding::{Finding, quoted};
use crate::yaml::{Scalar, keys};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

keys! {
    /// A font file beside the job.
    pub(super) struct FontKeys {
        /// The file's name.
        file: Option<Scalar>,
        /// Its SHA-256; another file is then refused.
        sha256: Option<Scalar>,
        /// Which face of a collection, from 0.
        index: Option<Scalar>,
    }
}

/// Adds every font of the job to the faces labels can ask for.
pub(super) fn fonts(all: BTreeMap<String, FontKeys>, reader: &mut Reader) {
    for (name, keys) in all {
        font(&name, &keys, reader);
    }
}

fn font(name: &str, keys: &FontKeys, reader: &mut Reader) {
    // Labels that ask for it are not wrong, whatever is wrong with the file.
    reader.fonts.insert(name.to_owned(), true);
    let index = reader.count(&keys.index, 0..=65_535).unwrap_or(0);
    let Some(file) = &keys.file else {
        let scalars = [&keys.sha256, &keys.index];
        let place = scalars.into_iter().flatten().map(|typed| typed.place).next();
        let message = format!("the font {} has no `file`", quoted(name));
        reader.wrong("missing", place.unwrap_or_default(), message, "add `file:` and its name");
        return;
    };
    let Some(bytes) = reader.fetch("font-file", "file", file) else { return };
    if let Some(pinned) = &keys.sha256 {
        let found = hex(&Sha256::digest(&bytes));
        if !pinned.trimmed().eq_ignore_ascii_case(&found) {
            let message = format!("{} is another file: its SHA-256 is {found}", quoted(&file.text));
            let help = "get the file this job was made with, or take this number";
            reader.wrong("other-file", pinned.place, message, help);
            return;
        }
    }
    let added = reader.context.faces.add(name, bytes, index);
    match added {
        Ok(face) => {
            if let Some(note) = reader.context.faces.licence_note(face) {
                let message = format!("{}: {note}", quoted(&file.text));
                let finding = Finding::note("font-licence", message).at(file.place);
                reader.context.findings.push(finding.help("nothing to do if you have looked"));
            }
        }
        Err(not) => {
            let message = format!("{} {not}", quoted(&file.text));
            reader.wrong("font-file", file.place, message, "name another font file");
        }
    }
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
