//! The catalogue of messages: every `tests/bad/*.yaml` with its complete report in a `.txt` beside it.
//!
//! `ACCEPT=1 cargo test bad` writes the reports anew and still fails once, so that nothing passes unseen.

#![allow(clippy::unwrap_used, reason = "a catalogue that cannot be read fails the test")]

use decalwright::files::{Folder, Outside};
use decalwright::finding::{Findings, Sources, Styling, as_text};
use decalwright::font::Faces;
use decalwright::spec::{self, Desk};
use std::path::{Path, PathBuf};

fn report(job: &Path, faces: &mut Faces) -> String {
    let bytes = std::fs::read(job).unwrap();
    let folder = Folder::new(job.parent().unwrap(), Outside::Refused);
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    let mut fetch = |name: &str| folder.fetch(name);
    let mut desk =
        Desk { faces, fetch: &mut fetch, sources: &mut sources, findings: &mut findings };
    let name = job.file_name().unwrap().to_str().unwrap();
    spec::read(name, &bytes, &mut desk);
    findings.sort();
    as_text(&findings, &sources, Styling::Plain)
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
    let mut faces = Faces::bundled();
    let mut different = Vec::new();
    for job in jobs {
        let beside = job.with_extension("txt");
        let expected = std::fs::read_to_string(&beside).unwrap_or_default();
        let found = report(&job, &mut faces);
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
