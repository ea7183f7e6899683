//! The placement list: what goes where, to read beside the work.

use super::formats::Format;
use super::run::{Error, Named, Run, task};
use crate::card;
use crate::design::Design;

pub(super) const LIST: Format = Format {
    names: &["-placement.pdf", "-placement.txt"],
    what: "the placement list",
    made_by: |run| {
        let decals = run.laid.spec.labels.iter().any(|label| label.marker_of().is_none());
        decals.then(|| task(|| made(run))).into_iter().collect()
    },
    is_large: false,
};

fn made(run: &Run<'_>) -> Result<Vec<Named>, Error> {
    let laid = run.laid;
    let list = card::pages(&laid.spec, &laid.designs, &laid.sheets, &laid.faces);
    let designs: Vec<&Design> = laid.designs.iter().chain(&list.drawings).collect();
    let pdf = run.pdf("placement list", &designs, &list.pages)?;
    let text = card::text(&laid.spec, &laid.designs, &laid.sheets);
    Ok(vec![(format!("{}-placement.pdf", run.stem), pdf), run.text("-placement.txt", text)])
}
