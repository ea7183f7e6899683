//! The fit print of a job's panels: their holes at true size, to lay on the work before anything is cut.

use super::formats::Format;
use super::run::{Error, Named, Run, task};
use crate::card;

pub(super) const FIT_PRINT: Format = Format {
    names: &["-fit.pdf"],
    what: "the fit print of the panels",
    made_by: |run| {
        let has_panels = !run.laid.spec.panels.is_empty();
        has_panels.then(|| task(|| made(run))).into_iter().collect()
    },
    is_large: false,
};

fn made(run: &Run<'_>) -> Result<Vec<Named>, Error> {
    let laid = run.laid;
    let fit = card::fit_pages(&laid.spec, &laid.designs, &laid.faces);
    let pdf = run.corrected_pdf("fit print", &fit.drawings, &fit.pages)?;
    Ok(vec![(format!("{}-fit.pdf", run.stem), pdf)])
}
