//! What stands beside jobs: a printer's profile, and a job's colours on their own.

use crate::colour::Colour;
use crate::files::Fetch;
use crate::finding::{Findings, Sources};
use crate::font::Faces;
use crate::spec::{self, Profile};
use std::collections::BTreeMap;

/// What came of reading a file.
#[derive(Debug)]
pub struct Read<T> {
    /// What it holds, unless it could not be read at all. Only to be used when `findings` hold no error.
    pub found: Option<T>,
    /// All that is wrong or worth knowing.
    pub findings: Findings,
    /// The file, to show findings in its lines.
    pub sources: Sources,
}

/// Reads a printer's profile, or the answers it is made of.
pub fn profile(name: &str, bytes: &[u8], fetch: &mut Fetch<'_>) -> Read<Profile> {
    with_context(fetch, |context| spec::read_profile(name, bytes, context))
}

/// Reads the colours a job gives names to.
pub fn colours(name: &str, bytes: &[u8], fetch: &mut Fetch<'_>) -> Read<BTreeMap<String, Colour>> {
    with_context(fetch, |context| spec::read_colours(name, bytes, context))
}

fn with_context<T>(
    fetch: &mut Fetch<'_>,
    read: impl FnOnce(&mut spec::ReadContext<'_>) -> Option<T>,
) -> Read<T> {
    let mut faces = Faces::bundled();
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    let mut fetch = |name: &str| fetch(name);
    let mut context = spec::ReadContext {
        faces: &mut faces,
        fetch: &mut fetch,
        sources: &mut sources,
        findings: &mut findings,
    };
    let found = read(&mut context);
    findings.sort();
    Read { found, findings, sources }
}
