//! Symbols that say something else than is meant.

use super::Checked;
use crate::finding::{Finding, Findings, Place};
use crate::spec::{Caution, Element, Part, Sign};

/// The symbol off beside the words stand-by: off says that nothing inside is live.
///
/// Whether a switch stands by cannot be known from a drawing, so only the words on the label are judged.
pub(super) fn stand_by_off(job: Checked<'_>, findings: &mut Findings) {
    for label in &job.spec.labels {
        if !says_stand_by(&label.parts) {
            continue;
        }
        for place in used(&label.parts, &|sign| sign.name == "off") {
            let message = "`off` says that the power is cut; the words here say stand-by";
            let help = "take the symbol `stand-by`, or other words";
            let finding = Finding::warning("stand-by-off", message).help(help);
            findings.push(finding.at(place).label(&label.name));
        }
    }
}

pub(super) fn protective_earth(job: Checked<'_>, findings: &mut Findings) {
    let message = "the symbol `protective-earth` marks the protective conductor's terminal only";
    let help = "take `earth`, `functional-earth` or `frame` for anything else";
    said(job, Caution::ProtectiveEarth, ("protective-earth", message, help), findings);
}

pub(super) fn no_safety_sign(job: Checked<'_>, findings: &mut Findings) {
    let message = "a decal made at home is no safety sign";
    let help = "where there is a real danger use signs to ISO 7010 or ANSI Z535 and the local law";
    said(job, Caution::Hazard, ("no-safety-sign", message, help), findings);
}

/// A note wherever a symbol with this caution is used.
fn said(
    job: Checked<'_>,
    caution: Caution,
    (code, message, help): (&'static str, &str, &str),
    findings: &mut Findings,
) {
    for label in &job.spec.labels {
        for place in used(&label.parts, &|sign| sign.caution == caution) {
            let finding = Finding::note(code, message).help(help);
            findings.push(finding.at(place).label(&label.name));
        }
    }
}

/// Where parts use a symbol.
fn used(parts: &[Part], which: &dyn Fn(&Sign) -> bool) -> Vec<Place> {
    let mut places = Vec::new();
    Part::each(parts, &mut |part| {
        if matches!(&part.element, Element::Symbol(symbol) if which(symbol.sign)) {
            places.push(part.place);
        }
    });
    places
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
