//! A film's sheets as one PDF, and the passes of their white that are printed on their own.

use super::run::{Error, Named, Run, Task, task_each};
use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role, WhiteOrder};
use crate::output::Page;
use crate::shape::Outline;
use crate::sheet::Sheet;
use crate::spec::Film;

pub(super) fn tasks<'r>(run: &'r Run<'_>) -> Vec<Task<'r>> {
    task_each(run.laid.films(), |film| made(run, film))
}

fn made(run: &Run<'_>, film: Film) -> Result<Vec<Named>, Error> {
    let Run { laid, printed, sheet_stem, .. } = run;
    let of_film: Vec<&Sheet> = laid.sheets.iter().filter(|sheet| sheet.film == film).collect();
    let pages: Vec<Page> = of_film.iter().map(|sheet| Page::of_sheet(sheet)).collect();
    let film = film.word();
    let pdf = run.corrected_pdf(&format!("{film} film"), printed, &pages)?;
    let mut files = vec![(format!("{sheet_stem}-{film}.pdf"), pdf)];
    for (order, word) in [(WhiteOrder::First, "first"), (WhiteOrder::Last, "last")] {
        let fed_again = |sheet: &&&Sheet| sheet.fed_twice && sheet.white == Some(order);
        let pages: Vec<Page> =
            of_film.iter().filter(fed_again).map(|sheet| Page::of_white(sheet)).collect();
        if pages.is_empty() {
            continue;
        }
        let white: Vec<Design> = laid.designs.iter().map(white_alone).collect();
        let part = format!("{film} film, white printed {word}");
        let pdf = run.corrected_pdf(&part, &white, &pages)?;
        files.push((format!("{sheet_stem}-{film}-white-{word}.pdf"), pdf));
    }
    Ok(files)
}

/// A design's white as the only thing on it, in the black that a printer loaded with white prints white.
fn white_alone(design: &Design) -> Design {
    let white = design.white.iter().map(|white| {
        let plate = Plate::Ink(tint_of_black(white.tint));
        Mark::new(white.path.clone(), plate, Role::Fill, design.from)
    });
    let (name, marks) = (design.name.clone(), white.collect());
    Design {
        bleed_mm: design.bleed_mm,
        on_panel: design.on_panel,
        from: design.from,
        ..Design::plain(name, design.label, Outline::default(), marks)
    }
}

/// The grey a printer prints as this share of black.
fn tint_of_black(share: f64) -> Colour {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of 255")]
    let channel = ((1.0 - share.clamp(0.0, 1.0)) * 255.0).round() as u8;
    Colour { rgb: [channel; 3] }
}
