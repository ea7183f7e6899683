//! The sheets to check the wiring with, and the tests as a table.

use super::formats::Format;
use super::run::{Error, Named, Run, task};
use crate::spec::wiring::Wiring;
use crate::{card, wire};

pub(super) const WIRING: Format = Format {
    names: &["-wiring.pdf", "-continuity.csv"],
    what: "the wiring sheets: what to check with a meter, and what is wired to what",
    made_by: |run| {
        let wiring = run.laid.spec.wiring.iter();
        wiring.map(|wiring| task(move || made(run, wiring))).collect()
    },
    is_large: true,
};

fn made(run: &Run<'_>, wiring: &Wiring) -> Result<Vec<Named>, Error> {
    let plan = wire::plan(wiring);
    let sheets = card::wiring_pages(&run.laid.spec, wiring, &plan, &run.laid.faces);
    let pdf = run.pdf("wiring sheets", &sheets.drawings, &sheets.pages)?;
    let csv = card::continuity_csv(wiring, &plan);
    Ok(vec![(format!("{}-wiring.pdf", run.stem), pdf), run.text("-continuity.csv", csv)])
}
