//! Jobs for tests: YAML in, spec and findings out.

use super::{ReadContext, read};
use crate::files::Error;
use crate::finding::{Findings, Sources};
use crate::font::Faces;
use crate::spec::{Label, Spec};

/// What became of a job, and where its texts are.
pub(super) struct Outcome {
    pub(super) spec: Spec,
    pub(super) findings: Findings,
    pub(super) sources: Sources,
}

impl Outcome {
    /// Code and line of each finding, in order of the file.
    pub(super) fn slips(&self) -> Vec<(&'static str, usize)> {
        let mut findings = self.findings.clone();
        findings.sort();
        let line = |place| self.sources.position(place).map_or(0, |(_, line, _)| line);
        findings.list().iter().map(|one| (one.code, one.place.map_or(0, line))).collect()
    }

    pub(super) fn label(&self, name: &str) -> &Label {
        self.spec.labels.iter().find(|label| label.name == name).unwrap()
    }

    pub(super) fn names(&self) -> Vec<&str> {
        self.spec.labels.iter().map(|label| label.name.as_str()).collect()
    }
}

/// Reads a job that has these files beside it.
pub(super) fn read_with(text: &str, files: &[(&str, &[u8])]) -> Outcome {
    let mut faces = Faces::bundled();
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    let mut fetch = |name: &str| {
        let file = files.iter().find(|(known, _)| *known == name);
        file.map(|(_, bytes)| bytes.to_vec()).ok_or(Error::Outside(name.into()))
    };
    let context = &mut ReadContext {
        faces: &mut faces,
        fetch: &mut fetch,
        sources: &mut sources,
        findings: &mut findings,
    };
    let spec = read("job.yaml", text.as_bytes(), context).unwrap();
    Outcome { spec, findings, sources }
}

/// Reads a job on its own.
pub(super) fn job(text: &str) -> Outcome {
    read_with(text, &[])
}

/// Reads a job that must be without findings.
pub(super) fn sound(text: &str) -> Outcome {
    let outcome = job(text);
    assert_eq!(outcome.findings.list(), []);
    outcome
}
