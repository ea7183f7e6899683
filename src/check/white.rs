//! White that is too thin to print once its edge is drawn in.

use super::across::Stack;
use super::thin::{Kind, Memo};
use super::{Checked, Labelled};
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
    let all: Vec<Labelled<'_>> = job.labelled().collect();
    let found = in_order(&all, |one| {
        let White::Under(under) = &one.label.white else { return [None, None] };
        [bare(*one, under), thin(*one, under, &memo, needed_mm)]
    });
    findings.extend(found.into_iter().flatten().flatten());
}

/// Tells of ink that should have white under it and has none left, and of white that lies under nothing.
fn bare(one: Labelled<'_>, under: &UnderPrint) -> Option<Finding> {
    let (label, design) = (one.label, one.design);
    let wanted = || design.marks.iter().filter(|mark| wants_white(mark, under));
    if wanted().next().is_none() && design.white.is_none() {
        let message = "white is asked for under ink that this label does not have";
        let help = "name colours the label has under `of`, or leave `of` out";
        let finding = Finding::warning("thin-white", message).help(help);
        return Some(finding.at(design.from).label(&label.name));
    }
    let stack = Stack::of(design);
    let mut without = wanted().filter(|mark| stack.share_on_white(mark) <= GONE);
    let first = without.next()?;
    let parts = match without.count() {
        0 => "this ink".to_owned(),
        more => format!("this ink and {more} more parts"),
    };
    let message = format!("a choke of {:.2} mm leaves no white under {parts}", under.choke_mm);
    let help = "make letters and lines bolder, the choke smaller, or put a box round them";
    let finding = Finding::warning("thin-white", message).help(help);
    Some(one.found(finding, first.from, first.path.bounds().center()))
}

fn wants_white(mark: &Mark, under: &UnderPrint) -> bool {
    match (&under.area, mark.plate) {
        (WhiteArea::Of(colours), Plate::Ink(colour)) => colours.contains(&colour),
        (WhiteArea::Ink | WhiteArea::Label, Plate::Ink(_)) => true,
        (_, Plate::Cut | Plate::Guide) => false,
    }
}

/// Tells of the thinnest white that is left; modules of codes have rules of their own.
fn thin(one: Labelled<'_>, under: &UnderPrint, memo: &Memo, needed_mm: f64) -> Option<Finding> {
    let Design { white, codes, from, .. } = one.design;
    let in_code = |place: &ThinPlace| {
        let mut rooms =
            codes.iter().map(|code| code.to_label.transform_rect_bbox(code.with_quiet()));
        rooms.any(|room| room.contains(place.at))
    };
    let mut places = memo.thin(&white.as_ref()?.path);
    places.retain(|place| !in_code(place));
    let worst = places.iter().min_by(|a, b| a.width_mm.total_cmp(&b.width_mm))?;
    let (width, choke) = (worst.width_mm, under.choke_mm);
    let mut message = format!(
        "white is {width:.2} mm wide after its choke of {choke:.2} mm; white needs {needed_mm:.2} mm"
    );
    if places.len() > 1 {
        message += &format!(" (the thinnest of {} places)", places.len());
    }
    let mut help = format!("make the ink {:.2} mm bolder there", needed_mm - width);
    // Each side gives up one choke.
    let choke = choke - (needed_mm - width) / 2.0;
    if choke > 0.0 {
        help += &format!(", or the choke {choke:.2} mm");
    }
    let finding = Finding::warning("thin-white", message).measured(width, needed_mm).help(help);
    Some(one.found(finding, *from, worst.at))
}
