//! White that is too thin to print once its edge is drawn in.

use super::Job;
use crate::design::{Design, Mark, Plate};
use crate::finding::{Finding, Findings};
use crate::spec::{Label, UnderPrint, White, WhiteArea};

/// Share of a mark's area under which white counts as gone.
const GONE: f64 = 0.02;

pub(super) fn thin_white(job: Job<'_>, findings: &mut Findings) {
    for design in job.designs {
        let Some(label) = job.spec.labels.get(design.label) else { continue };
        let White::Under(under) = &label.white else { continue };
        bare(design, label, under, findings);
        thin(design, label, (under, job.spec.printer.thinnest_white), findings);
    }
}

/// Tells of ink that should have white under it and has none left.
fn bare(design: &Design, label: &Label, under: &UnderPrint, findings: &mut Findings) {
    let is_bare = |mark: &&Mark| {
        let left = |white: &crate::design::WhitePlate| white.path.common(&mark.path).area();
        wants_white(mark, under)
            && design.white.as_ref().map_or(0.0, left) <= GONE * mark.path.area()
    };
    let mut without = design.marks.iter().filter(is_bare);
    let Some(first) = without.next() else { return };
    let parts = match without.count() {
        0 => "this ink".to_owned(),
        more => format!("this ink and {more} more parts"),
    };
    let message = format!("a choke of {:.2} mm leaves no white under {parts}", under.choke_mm);
    let spot = first.path.bounds().center() - design.size().origin();
    findings.push(
        Finding::warning("thin-white", message)
            .at(first.from)
            .label(&label.name)
            .spot(spot.x, spot.y)
            .help("make letters and lines bolder, the choke smaller, or put a box round them"),
    );
}

fn wants_white(mark: &Mark, under: &UnderPrint) -> bool {
    match (&under.area, mark.plate) {
        (WhiteArea::Of(colours), Plate::Ink(colour)) => colours.contains(&colour),
        (WhiteArea::Ink | WhiteArea::Label, Plate::Ink(_)) => true,
        (_, Plate::Cut | Plate::Guide) => false,
    }
}

/// Tells of the thinnest white that is left.
fn thin(
    design: &Design,
    label: &Label,
    (under, needed_mm): (&UnderPrint, f64),
    findings: &mut Findings,
) {
    let Some(white) = &design.white else { return };
    let places = white.path.thin_places(needed_mm);
    let Some(worst) = places.first() else { return };
    let of = if places.len() > 1 {
        format!(" (the thinnest of {} places)", places.len())
    } else {
        String::new()
    };
    let width = worst.width_mm;
    let message = format!(
        "white is {width:.2} mm wide after its choke of {:.2} mm; white needs {needed_mm:.2} mm{of}",
        under.choke_mm
    );
    // Each side gives up one choke.
    let choke = under.choke_mm - (needed_mm - width) / 2.0;
    let help = if choke > 0.0 {
        format!("make the ink {:.2} mm bolder there, or the choke {choke:.2} mm", needed_mm - width)
    } else {
        format!("make the ink {:.2} mm bolder there", needed_mm - width)
    };
    let spot = worst.at - design.size().origin();
    findings.push(
        Finding::warning("thin-white", message)
            .at(design.from)
            .label(&label.name)
            .spot(spot.x, spot.y)
            .measured(width, needed_mm)
            .help(help),
    );
}
