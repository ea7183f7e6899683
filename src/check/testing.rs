//! A job through the library's door, for tests of checks.

use crate::finding::Finding;
use crate::job;

/// The findings of a job that is read; files it names are looked up in `files`.
pub(super) fn findings_with(job: &str, files: &[(&str, &[u8])]) -> Vec<Finding> {
    let mut fetch = |name: &str| {
        let found = files.iter().find(|(known, _)| *known == name);
        found.map(|(_, bytes)| bytes.to_vec()).ok_or(crate::files::Error::Outside(name.into()))
    };
    let outcome = job::lay("test.yaml", job.as_bytes(), &mut fetch);
    assert!(outcome.laid.is_some(), "{:#?}", outcome.findings.list());
    outcome.findings.list().to_vec()
}

/// The findings of a job without other files.
pub(super) fn findings(job: &str) -> Vec<Finding> {
    findings_with(job, &[])
}
