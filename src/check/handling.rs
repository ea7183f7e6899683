//! What goes wrong at the bench: torn labels and unwieldy ones.

use super::Checked;
use crate::finding::{Finding, Findings};
use crate::spec::{Film, Label};

/// Whether a label is slid off its backing in water.
fn slides(label: &Label) -> bool {
    matches!(label.film, Film::Clear | Film::White)
}

pub(super) fn no_spare(job: Checked<'_>, findings: &mut Findings) {
    for label in job.spec.labels.iter().filter(|label| label.spares == 0 && slides(label)) {
        let message = "no spare is printed; water-slide labels tear and get lost";
        let finding = Finding::warning("no-spare", message).help("write spares: 1");
        findings.push(finding.at(label.place).label(&label.name));
    }
}

/// A5, ISO 216: 148 x 210 mm.
const A5_MM: (f64, f64) = (148.0, 210.0);

pub(super) fn large_label(job: Checked<'_>, findings: &mut Findings) {
    for one in job.labelled().filter(|one| slides(one.label)) {
        let (design, size) = (one.design, one.design.size().size());
        let (short, long) = (size.min_side(), size.max_side());
        if short <= A5_MM.0 && long <= A5_MM.1 {
            continue;
        }
        let message = format!(
            "label {} is {:.1} x {:.1} mm, larger than A5 (148 x 210 mm): hard to slide in one piece",
            design.name, size.width, size.height
        );
        let help = "cut it in two with split, or have a second pair of hands";
        let finding = Finding::warning("large-label", message).measured(long, A5_MM.1).help(help);
        findings.push(finding.at(design.from).label(&one.label.name));
    }
}
