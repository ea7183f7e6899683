//! The catalogue of messages: every `tests/bad/*.yaml` with its complete report in a `.txt` beside it.
//!
//! `ACCEPT=1 cargo test bad` writes the reports anew and still fails once, so that nothing passes unseen.

#![allow(clippy::unwrap_used, reason = "a catalogue that cannot be read fails the test")]

use decalwright::files::{Folder, Outside};
use decalwright::finding::{Severity, Styling, as_text, codes};
use decalwright::job;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Codes that no report shows, each with the reason.
const NOT_SHOWN: [(&str, &str); 3] = [
    ("file-too-large", "needs a file of more than 4 MiB"),
    ("font-licence", "needs a font file that restricts its embedding"),
    ("mixed-direction", "needs a font file with letters that run right to left"),
];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad")
}

/// Files of the catalogue with an ending, in order.
fn with_ending(wanted: &str) -> Vec<PathBuf> {
    let paths = std::fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().path());
    let mut found: Vec<PathBuf> =
        paths.filter(|path| path.extension().is_some_and(|ending| ending == wanted)).collect();
    found.sort();
    found
}

fn report(path: &Path) -> String {
    let bytes = std::fs::read(path).unwrap();
    let folder = Folder::new(path.parent().unwrap(), Outside::Refused);
    let name = path.file_name().unwrap().to_str().unwrap();
    let outcome = job::lay(name, &bytes, &mut |name| folder.fetch(name));
    as_text(&outcome.findings, &outcome.sources, Styling::Plain)
}

#[test]
fn every_bad_job_gets_its_report() {
    let jobs = with_ending("yaml");
    assert!(jobs.len() >= 10, "the catalogue is missing");
    let accept = std::env::var_os("ACCEPT").is_some();
    let mut different = Vec::new();
    for job in jobs {
        let beside = job.with_extension("txt");
        let expected = std::fs::read_to_string(&beside).unwrap_or_default();
        let found = report(&job);
        assert!(!found.is_empty(), "nothing is wrong with {}", job.display());
        if found != expected {
            different.push(format!("{}\n{found}", job.display()));
            if accept {
                std::fs::write(&beside, found).unwrap();
            }
        }
    }
    assert!(different.is_empty(), "reports differ:\n\n{}", different.join("\n"));
}

#[test]
fn every_code_has_a_report_at_every_level() {
    let reports: String =
        with_ending("txt").iter().map(|path| std::fs::read_to_string(path).unwrap()).collect();
    let excused: BTreeSet<&str> = NOT_SHOWN.iter().map(|(code, _)| *code).collect();
    let mut missing = BTreeSet::new();
    for row in codes::all() {
        let head = |level: &Severity| format!("{}[{}]: ", level.word(), row.code);
        let heads = row.levels.iter().map(head).filter(|head| !reports.contains(head));
        missing.extend(heads.map(|_| row.code));
    }
    let unexplained: Vec<&&str> = missing.difference(&excused).collect();
    assert!(unexplained.is_empty(), "no report shows every level of {unexplained:?}");
    let needless: Vec<&&str> = excused.difference(&missing).collect();
    assert!(needless.is_empty(), "no reason is needed for {needless:?}");
}
