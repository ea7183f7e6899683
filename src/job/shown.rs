//! A job's proof: its labels as seen on their surfaces.

use super::formats::Format;
use super::run::{Error, Named, Run, task};
use crate::parallel::in_order;
use crate::proof;
use crate::spec::Film;

pub(super) const PAGE: Format = Format {
    names: &["-proof.html"],
    what: "the proof, a page for a browser",
    made_by: |run| {
        let page = |proof| move || Ok(vec![run.text("-proof.html", proof::page(proof))]);
        run.proof.into_iter().map(|proof| task(page(proof))).collect()
    },
    is_large: false,
};

pub(super) const PICTURES: Format = Format {
    names: &["-proof-*.svg", "-proof-*.png"],
    what: "the proof, a picture a surface",
    made_by: |run| run.proof.into_iter().map(|proof| task(move || pictures(run, proof))).collect(),
    is_large: false,
};

/// The pictures of each surface, made on all cores.
fn pictures(run: &Run<'_>, proof: proof::Job<'_>) -> Result<Vec<Named>, Error> {
    let pictures = proof::pictures(proof);
    let made = in_order(&pictures, |picture| {
        run.picture(&format!("{}-proof-{}", run.stem, picture.stem), &picture.svg, Film::Paper)
    });
    let made: Result<Vec<_>, Error> = made.into_iter().collect();
    Ok(made?.into_iter().flatten().collect())
}
