//! The table against the sources, and what is shown of it.

use super::*;
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The sources without this table, each up to its tests.
fn sources() -> Vec<String> {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    let mut all = Vec::new();
    while let Some(folder) = folders.pop() {
        let entries = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        let (inner, files): (Vec<PathBuf>, Vec<PathBuf>) = entries.partition(|path| path.is_dir());
        folders.extend(inner.into_iter().filter(|path| !path.ends_with("finding/codes")));
        for file in files.iter().filter(|file| !file.ends_with("tests.rs")) {
            let text = fs::read_to_string(file).unwrap();
            all.push(text.split("\nmod tests {").next().unwrap().to_owned());
        }
    }
    all
}

/// The first argument of every such call, where it is written out.
fn first_arguments(source: &str, call: &str) -> Vec<String> {
    let first =
        |rest: &str| Some(rest.trim_start().strip_prefix('"')?.split('"').next()?.to_owned());
    source.split(call).skip(1).filter_map(first).collect()
}

#[test]
fn every_code_in_the_sources_has_a_row_and_every_row_is_used() {
    let sources = sources();
    let calls = ["Finding::error(", "Finding::warning(", "Finding::note(", ".wrong(", ".refuse("];
    let given: BTreeSet<String> = sources
        .iter()
        .flat_map(|source| calls.iter().flat_map(|call| first_arguments(source, call)))
        .collect();
    assert!(given.len() > 100, "codes are given in another way: {given:?}");
    let missing: Vec<&String> = given.iter().filter(|code| find(code).is_none()).collect();
    assert!(missing.is_empty(), "no row for {missing:?}");
    let is_used = |code: &str| sources.iter().any(|source| source.contains(&format!("\"{code}\"")));
    let left: Vec<&str> = all().map(|row| row.code).filter(|code| !is_used(code)).collect();
    assert!(left.is_empty(), "nothing gives {left:?}");
}

#[test]
fn every_row_is_whole() {
    let mut codes = BTreeSet::new();
    for row in all() {
        assert!(codes.insert(row.code), "{} twice", row.code);
        assert!(row.code.chars().all(|c| c == '-' || c.is_ascii_lowercase() || c.is_ascii_digit()));
        assert!(!row.levels.is_empty() && row.levels.is_sorted(), "{}", row.code);
        for sentence in [row.meaning, row.mend] {
            assert!(
                sentence.trim_start_matches('`').starts_with(char::is_alphabetic),
                "{}: {sentence}",
                row.code
            );
            assert!(sentence.ends_with('.') && sentence.len() <= 100, "{}: {sentence}", row.code);
        }
        assert!(!row.source.is_empty(), "{}", row.code);
    }
}

#[test]
fn a_slip_of_a_few_letters_leads_to_the_code() {
    assert_eq!(nearest("smal-txt"), Some("small-text"));
    assert_eq!(nearest("Thin-Ink"), Some("thin-ink"));
    assert_eq!(nearest("something else"), None);
}

#[test]
fn the_list_fits_a_terminal_and_says_the_same_to_machines() {
    let table = as_table();
    // 80 columns: what terminals have had since punched cards.
    assert!(table.lines().all(|line| line.chars().count() <= 80), "{table}");
    let shown: Vec<&str> = table.lines().filter_map(|line| line.split("  ").next()).collect();
    let json: serde_json::Value = serde_json::from_str(&as_json()).unwrap();
    for (at, row) in all().enumerate() {
        assert!(shown.contains(&row.code), "{}", row.code);
        assert_eq!(json[at]["code"], row.code);
    }
}

#[test]
fn explains_what_to_do_and_whether_it_can_be_accepted() {
    let expected = "\
near-cut: error or warning

Letters are cut by the knife, or within a hand's error of it.

To do:   Make the label larger or the text smaller.
Accept:  Write `allow: [near-cut]` on the label or its style; for markers of
         wires, under `wires:`. An error that is accepted is still shown as a
         note.
Source:  common practice, no source
";
    assert_eq!(explain("near-cut").unwrap(), expected);
    let never = explain("CODE-unreadable").unwrap();
    assert!(never.contains("It cannot be accepted: a code that does not read back"), "{never}");
    let unknown = explain("nearcut").unwrap_err().to_string();
    assert_eq!(unknown, "no finding has the code nearcut; did you mean near-cut?");
    let unknown = explain("?").unwrap_err().to_string();
    assert_eq!(unknown, "no finding has the code ?; `decalwright list findings` lists them");
}
