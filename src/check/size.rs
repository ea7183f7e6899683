//! Text too small for the printer.

use super::Checked;
use crate::design::Words;
use crate::finding::{Finding, Findings};
use crate::spec::Printer;

pub(super) fn small_text(job: Checked<'_>, findings: &mut Findings) {
    let printer = &job.spec.printer;
    for (one, words) in job.words() {
        let Some(needed) = too_low(words, printer) else { continue };
        let (cap, name) = (words.cap_height_mm, &printer.name);
        let how = if words.reversed { "reversed (clear in ink)" } else { "in ink" };
        let message = format!("cap height is {cap:.2} mm {how}; {name} needs {needed:.2} mm");
        let help = format!("make cap_height at least {needed:.2} mm, or leave the text out");
        let finding = Finding::warning("small-text", message).measured(cap, needed).help(help);
        findings.push(one.on_words(finding, words));
    }
}

/// The cap height that words need, mm, when theirs is less.
pub(super) fn too_low(words: &Words, printer: &Printer) -> Option<f64> {
    let needed = if words.reversed { printer.smallest_cap_reversed } else { printer.smallest_cap };
    (words.cap_height_mm < needed - ROUNDING_MM).then_some(needed)
}

/// Sizes are compared after rounding to the nearest micrometre.
pub(super) const ROUNDING_MM: f64 = 0.000_5;
