//! The library's door: a job's bytes in, findings and files out. No file system here.

mod content;
mod expand;
mod films;
mod fit_print;
mod formats;
mod placement;
mod reading;
mod run;
mod schema;
mod sheets;
mod shown;
mod summary;
mod wiring_sheets;

pub use content::Content;
pub use formats::{Files, Take, files, proof_files, wire_files};
pub use reading::{Read, colours, profile};
pub use run::{Error, Previews};
pub use schema::{FileKind, schema};
pub use summary::summary;

use crate::check;
use crate::design::Design;
use crate::files::Fetch;
use crate::finding::{Finding, Findings, Sources};
use crate::font::Faces;
use crate::sheet::{self, Sheet};
use crate::spec::{self, Film, Spec};

/// A job drawn and laid out.
#[derive(Debug)]
pub struct Laid {
    /// What was asked.
    pub spec: Spec,
    /// What was drawn.
    pub designs: Vec<Design>,
    /// Where it lies.
    pub sheets: Vec<Sheet>,
    faces: Faces,
}

impl Laid {
    /// The films the job prints on, in the order of its sheets.
    fn films(&self) -> Vec<Film> {
        let mut films: Vec<Film> = self.sheets.iter().map(|sheet| sheet.film).collect();
        films.dedup();
        films
    }
}

/// What came of reading a job.
#[derive(Debug)]
pub struct Outcome {
    /// The job, unless it could not be read at all. Only to be printed when `findings` hold no error.
    pub laid: Option<Laid>,
    /// All that is wrong or worth knowing, in the order of the files.
    pub findings: Findings,
    /// The files read, to show findings in their lines.
    pub sources: Sources,
}

/// Reads, draws, lays out and checks a job.
///
/// `name` is the file's name for messages; `fetch` gets the tables and fonts the job names.
pub fn lay(name: &str, bytes: &[u8], fetch: &mut Fetch<'_>) -> Outcome {
    lay_part(fetch, |context| spec::read(name, bytes, context))
}

/// The same for the markers of the job's wiring alone.
///
/// Instead of a job, `bytes` may be a table of wires on its own, when `name` ends in `.csv`, `.tsv` or `.txt`.
pub fn lay_wires(name: &str, bytes: &[u8], fetch: &mut Fetch<'_>) -> Outcome {
    let ending = name.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase());
    if ending.is_some_and(|ending| ["csv", "tsv", "txt"].contains(&ending.as_str())) {
        return lay_part(fetch, |context| Some(spec::read_wires(name, bytes, context)));
    }
    lay_part(fetch, |context| {
        let mut spec = spec::read(name, bytes, context)?;
        spec.labels.clear();
        if spec.wiring.is_none() {
            let help = "add `wires: {table: wiring.csv}`, or `list:` them";
            let finding = Finding::error("no-wires", "the job has no wires");
            context.findings.push(finding.help(help));
        }
        Some(spec)
    })
}

fn lay_part(
    fetch: &mut Fetch<'_>,
    read: impl FnOnce(&mut spec::ReadContext<'_>) -> Option<Spec>,
) -> Outcome {
    let Read { found: spec, mut findings, sources, faces } = reading::read_with(fetch, read);
    let laid = spec.map(|spec| {
        let (spec, designs) = expand::drawn(spec, &faces, &mut findings);
        let sheets = sheet::lay(&spec, &designs, &faces, &mut findings);
        let job = check::Checked { spec: &spec, designs: &designs, sheets: &sheets, faces: &faces };
        check::run(job, &mut findings);
        Laid { spec, designs, sheets, faces }
    });
    findings.sort();
    Outcome { laid, findings, sources }
}
