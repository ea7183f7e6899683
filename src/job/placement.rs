//! The placement list: what goes where, to read beside the work.

use super::run::{Error, Named, Run, Task, task_each};
use crate::card;
use crate::design::Design;

pub(super) fn tasks<'r>(run: &'r Run<'_>) -> Vec<Task<'r>> {
    let lists_any = run.laid.spec.labels.iter().any(|label| label.marker_of().is_none());
    task_each(lists_any.then_some(()), |()| made(run))
}

fn made(run: &Run<'_>) -> Result<Vec<Named>, Error> {
    let laid = run.laid;
    let list = card::pages(&laid.spec, &laid.designs, &laid.sheets, &laid.faces);
    let designs: Vec<&Design> = laid.designs.iter().chain(&list.drawings).collect();
    let pdf = run.pdf("placement list", &designs, &list.pages)?;
    let text = card::text(&laid.spec, &laid.designs, &laid.sheets);
    Ok(vec![(format!("{}-placement.pdf", run.stem), pdf), run.text("-placement.txt", text)])
}
