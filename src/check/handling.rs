//! What goes wrong at the bench: torn labels and unwieldy ones.

use super::Checked;
use crate::finding::{Finding, Findings};
use crate::spec::Film;

pub(super) fn no_spare(job: Checked<'_>, findings: &mut Findings) {
    let slid = |film| matches!(film, Film::Clear | Film::White);
    for label in job.spec.labels.iter().filter(|label| label.spares == 0 && slid(label.film)) {
        findings.push(
            Finding::warning(
                "no-spare",
                "no spare is printed; water-slide labels tear and get lost",
            )
            .at(label.place)
            .label(&label.name)
            .help("write spares: 1"),
        );
    }
}

/// A5, ISO 216: 148 x 210 mm.
const A5_MM: (f64, f64) = (148.0, 210.0);

pub(super) fn large_label(job: Checked<'_>, findings: &mut Findings) {
    for design in job.designs {
        let Some(label) = job.spec.labels.get(design.label) else { continue };
        let size = design.size().size();
        let (short, long) = (size.width.min(size.height), size.width.max(size.height));
        if matches!(label.film, Film::Clear | Film::White) && (short > A5_MM.0 || long > A5_MM.1) {
            findings.push(
                Finding::warning(
                    "large-label",
                    format!(
                        "label {} is {:.1} x {:.1} mm, larger than A5 (148 x 210 mm): hard to slide in one piece",
                        design.name, size.width, size.height
                    ),
                )
                .at(design.from)
                .label(&label.name)
                .measured(long, A5_MM.1)
                .help("cut it in two with split, or have a second pair of hands"),
            );
        }
    }
}
