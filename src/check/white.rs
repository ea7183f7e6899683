//! White that is too thin to print once its edge is drawn in.

use super::Checked;
use super::across::Drawing;
use super::thin::{Kind, Memo};
use crate::design::{Design, Mark, Plate};
use crate::finding::{Finding, Findings};
use crate::parallel::in_order;
use crate::shape::ThinPlace;
use crate::spec::{UnderPrint, White, WhiteArea};

/// Share of a mark's area under which white counts as gone.
const GONE: f64 = 0.02;

pub(super) fn thin_white(job: Checked<'_>, findings: &mut Findings) {
    let needed_mm = job.spec.printer.thinnest_white;
    let memo = Memo::new(Kind::Ink, needed_mm);
    let found = in_order(job.designs, |design| {
        let label = job.spec.labels.get(design.label)?;
        let White::Under(under) = &label.white else { return None };
        let told = [bare(design, under), thin(design, under, (&memo, needed_mm))];
        Some(
            told.into_iter()
                .flatten()
                .map(|finding| finding.label(&label.name))
                .collect::<Vec<_>>(),
        )
    });
    found.into_iter().flatten().flatten().for_each(|finding| findings.push(finding));
}

/// Tells of ink that should have white under it and has none left, and of white that lies under nothing.
fn bare(design: &Design, under: &UnderPrint) -> Option<Finding> {
    let wanted = || design.marks.iter().filter(|mark| wants_white(mark, under));
    if wanted().next().is_none() && design.white.is_none() {
        let message = "white is asked for under ink that this label does not have";
        let help = "name colours the label has under `of`, or leave `of` out";
        return Some(Finding::warning("thin-white", message).at(design.from).help(help));
    }
    let drawing = Drawing::of(design);
    let mut without = wanted().filter(|mark| drawing.share_on_white(mark) <= GONE);
    let first = without.next()?;
    let parts = match without.count() {
        0 => "this ink".to_owned(),
        more => format!("this ink and {more} more parts"),
    };
    let message = format!("a choke of {:.2} mm leaves no white under {parts}", under.choke_mm);
    let spot = first.path.bounds().center() - design.size().origin();
    let help = "make letters and lines bolder, the choke smaller, or put a box round them";
    let finding = Finding::warning("thin-white", message).at(first.from);
    Some(finding.spot(spot.x, spot.y).help(help))
}

fn wants_white(mark: &Mark, under: &UnderPrint) -> bool {
    match (&under.area, mark.plate) {
        (WhiteArea::Of(colours), Plate::Ink(colour)) => colours.contains(&colour),
        (WhiteArea::Ink | WhiteArea::Label, Plate::Ink(_)) => true,
        (_, Plate::Cut | Plate::Guide) => false,
    }
}

/// Tells of the thinnest white that is left; modules of codes have rules of their own.
fn thin(design: &Design, under: &UnderPrint, (memo, needed_mm): (&Memo, f64)) -> Option<Finding> {
    let white = design.white.as_ref()?;
    let in_code = |place: &ThinPlace| {
        design.codes.iter().any(|code| {
            let room = code.to_label.transform_rect_bbox(code.with_quiet());
            room.contains(place.at)
        })
    };
    let mut places = memo.thin(&white.path);
    places.retain(|place| !in_code(place));
    let worst = places.iter().min_by(|a, b| a.width_mm.total_cmp(&b.width_mm))?;
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
    let finding = Finding::warning("thin-white", message).at(design.from);
    Some(finding.spot(spot.x, spot.y).measured(width, needed_mm).help(help))
}
