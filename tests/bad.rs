//! The catalogue of messages: every `tests/bad/*.yaml` with its complete report in a `.txt` beside it.
//!
//! `ACCEPT=1 cargo test bad` writes the reports anew and still fails once, so that nothing passes unseen.

#![allow(clippy::unwrap_used, reason = "a catalogue that cannot be read fails the test")]

use decalwright::files::{Folder, Outside};
use decalwright::finding::{Styling, as_text};
use decalwright::job;
use std::path::{Path, PathBuf};

fn report(path: &Path) -> String {
    let bytes = std::fs::read(path).unwrap();
    let folder = Folder::new(path.parent().unwrap(), Outside::Refused);
    let name = path.file_name().unwrap().to_str().unwrap();
    let outcome = job::lay(name, &bytes, &mut |name| folder.fetch(name));
    as_text(&outcome.findings, &outcome.sources, Styling::Plain)
}

#[test]
fn every_bad_job_gets_its_report() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad");
    let paths = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut jobs: Vec<PathBuf> =
        paths.filter(|path| path.extension().is_some_and(|ending| ending == "yaml")).collect();
    jobs.sort();
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
