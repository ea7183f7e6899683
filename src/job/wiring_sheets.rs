//! The sheets to check the wiring with, and the tests as a table.

use super::run::{Error, Named, Run, Task, task_each};
use crate::spec::wiring::Wiring;
use crate::{card, wire};

pub(super) fn tasks<'r>(run: &'r Run<'_>) -> Vec<Task<'r>> {
    task_each(&run.laid.spec.wiring, |wiring| made(run, wiring))
}

fn made(run: &Run<'_>, wiring: &Wiring) -> Result<Vec<Named>, Error> {
    let plan = wire::plan(wiring);
    let sheets = card::wiring_pages(&run.laid.spec, wiring, &plan, &run.laid.faces);
    let pdf = run.pdf("wiring sheets", &sheets.drawings, &sheets.pages)?;
    let csv = card::continuity_csv(wiring, &plan);
    Ok(vec![(format!("{}-wiring.pdf", run.stem), pdf), run.text("-continuity.csv", csv)])
}
