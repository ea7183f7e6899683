//! What jobs mean: YAML through the door, and the spec and the findings that come of it.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a job that is not read as expected fails the test"
)]

mod jobs;
mod panels;
mod profiles;
mod schema;
mod slips;
mod wiring;

use decalwright::files::Error;
use decalwright::finding::{Finding, Sources};
use decalwright::{Label, Spec, job};

/// What is told of drawn labels and of wires as a whole; these tests look at how a job is read, and none of them
/// asks for one of these.
const JUDGED: [&str; 14] = [
    "clear-gap",
    "colour-shift",
    "end-missing",
    "hidden-by-film",
    "legends-touch",
    "low-contrast",
    "near-cut",
    "no-spare",
    "small-text",
    "surface-unknown",
    "text-too-wide",
    "thin-ink",
    "unknown-rail",
    "white-on-clear",
];

/// What became of a job, and where its texts are.
struct Outcome {
    spec: Spec,
    /// What was found in reading, in the order of the files.
    findings: Vec<Finding>,
    sources: Sources,
}

impl Outcome {
    /// Code and line of each finding, in the order of the files.
    fn slips(&self) -> Vec<(&'static str, usize)> {
        let line = |place| self.sources.position(place).map_or(0, |(_, line, _)| line);
        self.findings.iter().map(|one| (one.code, one.place.map_or(0, line))).collect()
    }

    fn label(&self, name: &str) -> &Label {
        self.spec.labels.iter().find(|label| label.name == name).unwrap()
    }

    fn names(&self) -> Vec<&str> {
        self.spec.labels.iter().map(|label| label.name.as_str()).collect()
    }
}

/// Lays a job that has these files beside it.
fn read_with(text: &str, files: &[(&str, &[u8])]) -> Outcome {
    let mut fetch = |name: &str| {
        let file = files.iter().find(|(known, _)| *known == name);
        file.map(|(_, bytes)| bytes.to_vec()).ok_or(Error::Outside(name.into()))
    };
    let job::Outcome { laid, findings, sources } =
        job::lay("job.yaml", text.as_bytes(), &mut fetch);
    let read = findings.list().iter().filter(|one| !JUDGED.contains(&one.code));
    Outcome { spec: laid.unwrap().spec, findings: read.cloned().collect(), sources }
}

/// Lays a job on its own.
fn job(text: &str) -> Outcome {
    read_with(text, &[])
}

/// Lays a job that must be read without findings.
fn sound(text: &str) -> Outcome {
    let outcome = job(text);
    assert_eq!(outcome.findings, []);
    outcome
}
