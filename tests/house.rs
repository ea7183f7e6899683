//! The house: rooms use only rooms above them, as DEVELOPERS.md lists them.

#![allow(clippy::unwrap_used, reason = "a house that cannot be read fails the test")]

use std::fs;
use std::path::{Path, PathBuf};

fn rust_files(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            rust_files(&path, into);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            into.push(path);
        }
    }
}

/// Rooms in their order, from the table under "The map".
fn rooms(developers: &str) -> Vec<String> {
    let table = developers.split("| room |").nth(1).unwrap();
    let rows = table.lines().skip(2).take_while(|line| line.starts_with("| "));
    rows.map(|line| line.split('|').nth(1).unwrap().trim().to_owned()).collect()
}

/// What a file uses of the crate: the words after `crate::` outside its tests.
fn uses(source: &str) -> Vec<String> {
    let code = source.split("#[cfg(test)]\nmod tests {").next().unwrap();
    let word = |rest: &str| {
        rest.split(|c: char| !c.is_alphanumeric() && c != '_').next().map(str::to_owned)
    };
    let mut found: Vec<String> = code.split("crate::").skip(1).filter_map(word).collect();
    for group in code.split("use crate::{").skip(1) {
        let inside = group.split('}').next().unwrap();
        found.extend(inside.split(',').filter_map(|one| word(one.trim())));
    }
    found.retain(|word| !word.is_empty());
    found
}

#[test]
fn no_room_uses_a_room_below_it() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let rooms = rooms(&fs::read_to_string(root.join("DEVELOPERS.md")).unwrap());
    assert!(rooms.len() > 10, "the map is missing: {rooms:?}");
    let mut files = Vec::new();
    rust_files(&root.join("src"), &mut files);
    let mut against = Vec::new();
    for file in files {
        let relative = file.strip_prefix(root.join("src")).unwrap();
        let first = relative.iter().next().unwrap().to_str().unwrap().trim_end_matches(".rs");
        let is_test = relative.iter().any(|part| {
            let part = part.to_str().unwrap();
            part.starts_with("tests") || part.starts_with("testing") || part.starts_with("samples")
        });
        let Some(own) = rooms.iter().position(|room| room == first) else { continue };
        if is_test {
            continue;
        }
        for used in uses(&fs::read_to_string(&file).unwrap()) {
            if rooms.iter().position(|room| *room == used).is_some_and(|other| other > own) {
                against.push(format!("{} uses {used}", relative.display()));
            }
        }
    }
    assert!(against.is_empty(), "against the stream: {against:#?}");
}
