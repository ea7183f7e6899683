//! A job's proof: its labels as seen on their surfaces.

use super::run::{Error, Named, Run, Task, task_each};
use crate::parallel::in_order;
use crate::proof;
use crate::spec::Film;

pub(super) fn page_tasks<'r>(run: &'r Run<'_>) -> Vec<Task<'r>> {
    task_each(run.proof, |proof| Ok(vec![run.text("-proof.html", proof::page(proof))]))
}

pub(super) fn picture_tasks<'r>(run: &'r Run<'_>) -> Vec<Task<'r>> {
    task_each(run.proof, |proof| pictures(run, proof))
}

/// The pictures of each surface, made on all cores.
fn pictures(run: &Run<'_>, proof: proof::Proofed<'_>) -> Result<Vec<Named>, Error> {
    let pictures = proof::pictures(proof);
    let made = in_order(&pictures, |picture| {
        run.picture(&format!("{}-proof-{}", run.stem, picture.stem), &picture.svg, Film::Paper)
    });
    let made: Result<Vec<_>, Error> = made.into_iter().collect();
    Ok(made?.into_iter().flatten().collect())
}
