//! The fit print of a job's panels: their holes at true size, to lay on the work before anything is cut.

use super::run::{Error, Named, Run, Task, task_each};
use crate::card;

pub(super) fn tasks<'r>(run: &'r Run<'_>) -> Vec<Task<'r>> {
    let has_panels = !run.laid.spec.panels.is_empty();
    task_each(has_panels.then_some(()), |()| made(run))
}

fn made(run: &Run<'_>) -> Result<Vec<Named>, Error> {
    let laid = run.laid;
    let fit = card::fit_pages(&laid.spec, &laid.designs, &laid.faces);
    let pdf = run.corrected_pdf("fit print", &fit.drawings, &fit.pages)?;
    Ok(vec![(format!("{}-fit.pdf", run.stem), pdf)])
}
