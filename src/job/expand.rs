//! What a job means beyond what it says: markers of its wires, hands of its pairs, backings of its labels.
//!
//! After this step nothing is added to a spec any more, and its parts have their numbers.

use crate::design::{self, Design};
use crate::finding::Findings;
use crate::font::Faces;
use crate::spec::{Spec, number_parts};
use crate::wire;

/// The whole spec, and every label of it drawn: one design each, more for handed pairs and split labels.
pub(super) fn drawn(mut spec: Spec, faces: &Faces, findings: &mut Findings) -> (Spec, Vec<Design>) {
    if let Some(wiring) = &spec.wiring {
        let taken = spec.labels.iter().map(|label| label.name.clone()).collect();
        let markers = wire::markers(wiring, &spec.printer, faces, &taken, findings);
        spec.labels.extend(markers);
    }
    number_parts(spec.labels.iter_mut().map(|label| &mut label.parts));
    let mut designs = design::make(&spec, faces, findings);
    for (label, design) in design::backings(&spec, &designs, findings) {
        spec.labels.push(label);
        designs.push(design);
    }
    (spec, designs)
}
