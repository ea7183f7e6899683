//! Letters and ink where the knife or the printer's edge would take them.

use super::Checked;
use crate::design::{Design, Words};
use crate::finding::{Finding, Findings};
use crate::spec::Margins;
use kurbo::{Affine, Insets, Rect};

/// How far a hand-held knife strays from its line, mm (common practice, no source).
///
/// Less would pass letters that get nicked; more would call narrow, sound borders wrong.
const KNIFE_ERROR_MM: f64 = 0.4;

pub(super) fn near_cut(job: Checked<'_>, findings: &mut Findings) {
    // Words too large for their marker are reported once for the wire, as `marker-too-small`.
    for (one, words) in job.words().filter(|(one, _)| one.label.marker_of().is_none()) {
        let left = room_to_trim(one.design, words);
        let finding = if left >= KNIFE_ERROR_MM {
            continue;
        } else if left < 0.0 {
            Finding::error("near-cut", format!("letters reach {:.2} mm past the trim", -left))
        } else {
            let message =
                format!("letters come within {left:.2} mm of the trim; keep {KNIFE_ERROR_MM} mm");
            Finding::warning("near-cut", message)
        };
        let finding = finding.measured(left, KNIFE_ERROR_MM);
        let help = "make the label larger or the text smaller";
        findings.push(one.on_words(finding.help(help), words));
    }
}

/// Least distance from the capitals' box to the trim's bounds, mm; negative when it reaches out.
fn room_to_trim(design: &Design, words: &Words) -> f64 {
    let turn = Affine::rotate_about(words.turned_deg.to_radians(), words.area.center());
    0.0 - reaches_past(design.size(), turn.transform_rect_bbox(words.area))
}

/// How far a rectangle reaches past another, mm; negative when it stays inside.
pub(super) fn reaches_past(room: Rect, area: Rect) -> f64 {
    let across = (room.x0 - area.x0).max(area.x1 - room.x1);
    across.max(room.y0 - area.y0).max(area.y1 - room.y1)
}

/// Rounding of placements, which count in whole nanometres.
const ROUNDING_MM: f64 = 0.000_1;

pub(super) fn off_sheet(job: Checked<'_>, findings: &mut Findings) {
    let profile = job.spec.printer.profile.as_ref();
    let Margins { top, right, bottom, left } = job.spec.sheet.margins;
    for sheet in job.sheets {
        let paper = sheet.paper.size;
        let printable = paper.to_rect() - Insets::new(left, top, right, bottom);
        let corrected = profile.map_or(Affine::IDENTITY, |profile| profile.on_page(paper));
        for placement in &sheet.placements {
            let Some(design) = job.designs.get(placement.design) else {
                debug_assert!(false, "a placement of no design");
                continue;
            };
            let there = corrected * placement.transform();
            let over = reaches_past(printable, there.transform_rect_bbox(design.reach()));
            if over <= ROUNDING_MM {
                continue;
            }
            let (name, number) = (&design.name, sheet.number);
            let message =
                format!("label {name} reaches {over:.2} mm into the margin of sheet {number}");
            let help = "make its bleed or its ink smaller, or the sheet's margins";
            let finding = Finding::error("off-sheet", message).measured(over, 0.0).help(help);
            findings.push(finding.at(design.from).label(name));
        }
    }
}
