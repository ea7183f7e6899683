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
    let (printer, made_on, paper) = (&profile.printer, &profile.paper.name, &paper.name);
    let message = format!("the profile of {printer} was made on {made_on}; the sheets are {paper}");
    let help = format!("print `test-print scale --paper {paper}` and make a profile of it");
    findings.push(Finding::warning("other-paper", message).at(profile.place).help(help));
}

pub(super) fn narrow_margin(job: Checked<'_>, findings: &mut Findings) {
    let setup = &job.spec.sheet;
    let profile = job.spec.printer.profile.as_ref();
    let needed = profile.and_then(|profile| profile.margins_on(setup.paper.size));
    let (Some(needed), given) = (needed, setup.margins) else { return };
    let sides = [
        ("top", given.top, needed.top),
        ("right", given.right, needed.right),
        ("bottom", given.bottom, needed.bottom),
        ("left", given.left, needed.left),
    ];
    for (side, margin, needed) in sides {
        if margin >= needed - SEEN_MM {
            continue;
        }
        let (is, left) = (fixed(margin, 2), fixed(needed, 2));
        let message = format!("the {side} margin is {is} mm; the printer left {left} mm there");
        let finding = Finding::warning("narrow-margin", message).measured(margin, needed);
        let help = "make it larger, or leave `margin` out: the profile's are then taken";
        findings.push(finding.at(setup.place).help(help));
    }
}

pub(super) fn correction_unsaid(job: Checked<'_>, findings: &mut Findings) {
    let Some(profile) = &job.spec.printer.profile else { return };
    if job.spec.sheet.guides || profile.correction().is_none() {
        return;
    }
    let message =
        "the PDF is corrected for its printer, and with guides off the sheet does not say so";
    let finding = Finding::warning("correction-unsaid", message).help("write guides: yes");
    findings.push(finding.at(profile.place));
}
