//! A printer's profile that does not fit the job.

use super::Checked;
use crate::finding::{Finding, Findings};
use crate::units::fixed;

/// Margins are read off in whole millimetres; less than this is no difference.
const SEEN_MM: f64 = 0.05;

pub(super) fn other_paper(job: Checked<'_>, findings: &mut Findings) {
    let Some(profile) = &job.spec.printer.profile else { return };
    let paper = &job.spec.sheet.paper;
    if profile.is_for(paper.size) {
        return;
    }
    findings.push(
        Finding::warning(
            "other-paper",
            format!(
                "the profile of {} was made on {}; the sheets are {}",
                profile.printer, profile.paper.name, paper.name
            ),
        )
        .at(profile.place)
        .help(format!("print `test-print scale --paper {}` and make a profile of it", paper.name)),
    );
}

pub(super) fn narrow_margin(job: Checked<'_>, findings: &mut Findings) {
    let setup = &job.spec.sheet;
    let profile = job.spec.printer.profile.as_ref();
    let Some(needed) = profile.and_then(|profile| profile.margins_on(setup.paper.size)) else {
        return;
    };
    let margins = setup.margins;
    let sides = [
        ("top", margins.top, needed.top),
        ("right", margins.right, needed.right),
        ("bottom", margins.bottom, needed.bottom),
        ("left", margins.left, needed.left),
    ];
    for (side, margin, needed) in sides {
        if margin < needed - SEEN_MM {
            findings.push(
                Finding::warning(
                    "narrow-margin",
                    format!(
                        "the {side} margin is {} mm; the printer left {} mm there",
                        fixed(margin, 2),
                        fixed(needed, 2)
                    ),
                )
                .at(setup.place)
                .measured(margin, needed)
                .help("make it larger, or leave `margin` out: the profile's are then taken"),
            );
        }
    }
}

pub(super) fn correction_unsaid(job: Checked<'_>, findings: &mut Findings) {
    let Some(profile) = &job.spec.printer.profile else { return };
    if job.spec.sheet.guides || profile.correction().is_none() {
        return;
    }
    findings.push(
        Finding::warning(
            "correction-unsaid",
            "the PDF is corrected for its printer, and with guides off the sheet does not say so",
        )
        .at(profile.place)
        .help("write guides: yes"),
    );
}
