//! Text too small for the printer.

use super::Checked;
use crate::design::Words;
use crate::finding::{Finding, Findings};
use crate::spec::Printer;

pub(super) fn small_text(job: Checked<'_>, findings: &mut Findings) {
    let printer = &job.spec.printer;
    for design in job.designs {
        let Some(label) = job.spec.labels.get(design.label) else { continue };
        for words in &design.words {
            let Some(needed) = too_low(words, printer) else { continue };
            let how = if words.reversed { "reversed (clear in ink)" } else { "in ink" };
            let spot = words.area.center() - design.size().origin();
            findings.push(
                Finding::warning(
                    "small-text",
                    format!(
                        "cap height is {:.2} mm {how}; {} needs {needed:.2} mm",
                        words.cap_height_mm, printer.name
                    ),
                )
                .at(words.from)
                .label(&label.name)
                .spot(spot.x, spot.y)
                .measured(words.cap_height_mm, needed)
                .help(format!("make cap_height at least {needed:.2} mm, or leave the text out")),
            );
        }
    }
}

/// The cap height that words need, mm, when theirs is less.
pub(super) fn too_low(words: &Words, printer: &Printer) -> Option<f64> {
    let needed = if words.reversed { printer.smallest_cap_reversed } else { printer.smallest_cap };
    (words.cap_height_mm < needed - ROUNDING_MM).then_some(needed)
}

/// Sizes are compared after rounding to the nearest micrometre.
const ROUNDING_MM: f64 = 0.000_5;
