//! What editors are told about the files that people write.

use crate::spec;

/// Files that people write.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A job.
    Job,
    /// A printer's profile, or the answers it is made of.
    Profile,
}

/// The JSON Schema of a file, draft-07, for editors.
#[must_use]
pub fn schema(of: FileKind) -> String {
    match of {
        FileKind::Job => spec::job_form().json(),
        FileKind::Profile => spec::profile_form().json(),
    }
}
