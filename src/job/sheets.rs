//! The sheets one by one, and what lies where on them.

use super::Content;
use super::formats::Format;
use super::run::{Error, Named, Run, task};
use crate::output::{self, Page};
use crate::sheet::Sheet;

pub(super) const SHEETS: Format = Format {
    names: &["-*.svg", "-*.png"],
    what: "a sheet, and its preview",
    made_by: |run| run.laid.sheets.iter().map(|sheet| task(move || made(run, sheet))).collect(),
    is_large: false,
};

pub(super) const LAYOUT: Format = Format {
    names: &["*.layout.json"],
    what: "what lies where",
    made_by: |run| vec![task(|| Ok(vec![layout(run)]))],
    is_large: false,
};

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
