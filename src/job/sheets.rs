//! The sheets one by one, and what lies where on them.

use super::Content;
use super::run::{Error, Named, Run, Task, task_each};
use crate::output::{self, Page};
use crate::sheet::Sheet;

pub(super) fn tasks<'r>(run: &'r Run<'_>) -> Vec<Task<'r>> {
    task_each(&run.laid.sheets, |sheet| made(run, sheet))
}

pub(super) fn layout_tasks<'r>(run: &'r Run<'_>) -> Vec<Task<'r>> {
    task_each([()], |()| Ok(vec![layout(run)]))
}

fn made(run: &Run<'_>, sheet: &Sheet) -> Result<Vec<Named>, Error> {
    let Run { laid, printed, sheet_stem, .. } = run;
    let film = sheet.film.word();
    let about = run.about(&format!("{film} film, sheet {} of {}", sheet.number, sheet.of));
    let names = output::layout::piece_names(&laid.spec, &laid.designs, sheet);
    let svg = output::svg::write(&about, printed, &Page::of_sheet(sheet), &names);
    run.picture(&format!("{sheet_stem}-{film}-{}", sheet.number), &svg, sheet.film)
}

fn layout(run: &Run<'_>) -> Named {
    let layout = output::layout::write(&run.laid.spec, &run.laid.designs, &run.laid.sheets);
    (format!("{}.layout.json", run.sheet_stem), Content::Bytes(layout.into_bytes()))
}
