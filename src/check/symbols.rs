//! Symbols that say something else than is meant.

use super::Checked;
use crate::finding::{Finding, Findings};
use crate::spec::{Caution, Element, Label, Part, Sign};

/// The symbol off beside the words stand-by: off says that nothing inside is live.
///
/// Whether a switch stands by cannot be known from a drawing, so only the words on the label are judged.
pub(super) fn stand_by_off(job: Checked<'_>, findings: &mut Findings) {
    let message = "`off` says that the power is cut; the words here say stand-by";
    let finding = Finding::warning("stand-by-off", message)
        .help("take the symbol `stand-by`, or other words");
    for label in job.spec.labels.iter().filter(|label| says_stand_by(&label.parts)) {
        where_used(label, |sign| sign.name == "off", &finding, findings);
    }
}

pub(super) fn protective_earth(job: Checked<'_>, findings: &mut Findings) {
    let message = "the symbol `protective-earth` marks the protective conductor's terminal only";
    let finding = Finding::note("protective-earth", message)
        .help("take `earth`, `functional-earth` or `frame` for anything else");
    for label in &job.spec.labels {
        where_used(label, |sign| sign.caution == Caution::ProtectiveEarth, &finding, findings);
    }
}

pub(super) fn no_safety_sign(job: Checked<'_>, findings: &mut Findings) {
    let help = "where there is a real danger use signs to ISO 7010 or ANSI Z535 and the local law";
    let finding = Finding::note("no-safety-sign", "a decal made at home is no safety sign");
    let finding = finding.help(help);
    for label in &job.spec.labels {
        where_used(label, |sign| sign.caution == Caution::Hazard, &finding, findings);
    }
}

/// The same finding wherever a label uses such a symbol.
fn where_used(
    label: &Label,
    is_meant: impl Fn(&Sign) -> bool,
    finding: &Finding,
    findings: &mut Findings,
) {
    Part::each(&label.parts, &mut |part| {
        if matches!(&part.element, Element::Symbol(symbol) if is_meant(symbol.sign)) {
            findings.push(finding.clone().at(part.place).label(&label.name));
        }
    });
}

fn says_stand_by(parts: &[Part]) -> bool {
    let mut says = false;
    Part::each(parts, &mut |part| {
        if let Element::Text(text) = &part.element {
            let words = text.lines.concat().to_uppercase();
            let letters: String = words.chars().filter(|c| c.is_alphanumeric()).collect();
            says |= letters.contains("STANDBY");
        }
    });
    says
}
