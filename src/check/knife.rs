//! Letters and ink where the knife or the printer's edge would take them.

use super::Checked;
use crate::design::{Design, Words};
use crate::finding::{Finding, Findings};
use kurbo::{Affine, Rect};

/// How far a hand-held knife strays from its line, mm (common practice, no source).
///
/// Less would pass letters that get nicked; more would call narrow, sound borders wrong.
const KNIFE_ERROR_MM: f64 = 0.4;

pub(super) fn near_cut(job: Checked<'_>, findings: &mut Findings) {
    for design in job.designs {
        let Some(label) = job.spec.labels.get(design.label) else { continue };
        // Of markers it is said once, of their wires.
        if label.marks.is_some() {
            continue;
        }
        for words in &design.words {
            let left = room_to_trim(design, words);
            if left >= KNIFE_ERROR_MM {
                continue;
            }
            let spot = words.area.center() - design.size().origin();
            let finding = if left < 0.0 {
                Finding::error("near-cut", format!("letters reach {:.2} mm past the trim", -left))
            } else {
                Finding::warning(
                    "near-cut",
                    format!(
                        "letters come within {left:.2} mm of the trim; keep {KNIFE_ERROR_MM} mm"
                    ),
                )
            };
            findings.push(
                finding
                    .at(words.from)
                    .label(&label.name)
                    .spot(spot.x, spot.y)
                    .measured(left, KNIFE_ERROR_MM)
                    .help("make the label larger or the text smaller"),
            );
        }
    }
}

/// Least distance from the capitals' box to the trim's bounds, mm; negative when it reaches out.
fn room_to_trim(design: &Design, words: &Words) -> f64 {
    let trim = design.size();
    let middle = words.area.center();
    let turn = Affine::rotate_about(words.turned_deg.to_radians(), middle);
    let area: Rect = turn.transform_rect_bbox(words.area);
    (area.x0 - trim.x0).min(trim.x1 - area.x1).min(area.y0 - trim.y0).min(trim.y1 - area.y1)
}

pub(super) fn off_sheet(job: Checked<'_>, findings: &mut Findings) {
    let margins = job.spec.sheet.margins;
    for sheet in job.sheets {
        let paper = sheet.paper.size;
        let profile = job.spec.printer.profile.as_ref();
        let corrected = profile.map_or(Affine::IDENTITY, |profile| profile.on_page(paper));
        let printable = Rect::new(
            margins.left,
            margins.top,
            paper.width - margins.right,
            paper.height - margins.bottom,
        );
        for placement in &sheet.placements {
            let Some(design) = job.designs.get(placement.design) else { continue };
            let there = corrected * placement.transform();
            let reach = there.transform_rect_bbox(design.reach());
            let over = (printable.x0 - reach.x0)
                .max(printable.y0 - reach.y0)
                .max(reach.x1 - printable.x1)
                .max(reach.y1 - printable.y1);
            if over > ROUNDING_MM {
                findings.push(
                    Finding::error(
                        "off-sheet",
                        format!(
                            "label {} reaches {over:.2} mm into the margin of sheet {}",
                            design.name, sheet.number
                        ),
                    )
                    .at(design.from)
                    .label(&design.name)
                    .measured(over, 0.0)
                    .help("make its bleed or its ink smaller, or the sheet's margins"),
                );
            }
        }
    }
}

/// Rounding of placements, which count in whole nanometres.
const ROUNDING_MM: f64 = 0.000_1;
