//! Small specs and designs for this room's tests.

use super::{Sheet, lay};
use crate::design::{Design, Words};
use crate::finding::{Findings, Place};
use crate::font::Faces;
use crate::output::samples;
use crate::spec::{self, Label, Margins, Paper, PartId, Profile, SheetSetup, Spec};
use kurbo::{Rect, Size};

/// A job of so many labels, one copy each, on A4 with 10 mm margins and a 2 mm gap, no guides.
pub(super) fn spec(labels: usize) -> Spec {
    let sample = spec::samples::spec();
    let label = |number| Label { spares: 0, ..spec::samples::label(&name(number)) };
    Spec {
        title: "Harbour signal console".into(),
        date: Some("2026-05-01".into()),
        sheet: SheetSetup {
            paper: Paper { name: "A4".into(), size: Size::new(210.0, 297.0) },
            margins: Margins { top: 10.0, right: 10.0, bottom: 10.0, left: 10.0 },
            turn: false,
            guides: false,
            ..sample.sheet
        },
        labels: (0..labels).map(label).collect(),
        ..sample
    }
}

fn name(label: usize) -> String {
    format!("lamp-{label}")
}

/// What was measured of a printer that prints 97.3 mm across and 99.1 mm down where 100 mm are meant.
pub(super) fn stretching() -> Profile {
    let mut fetch = |name: &str| Err(crate::files::Error::Outside(name.into()));
    crate::job::profile("p.yaml", b"bars: [97.3, 99.1]", &mut fetch).found.unwrap()
}

/// A plain rectangle of a label with its middle at the origin.
pub(super) fn design(label: usize, width: f64, height: f64, bleed_mm: f64) -> Design {
    let trim = Size::new(width, height);
    Design { bleed_mm, ..samples::design(&name(label), label, trim, Vec::new()) }
}

/// The sheets of a job, and what was found while they were laid.
pub(super) fn laid(spec: &Spec, designs: &[Design]) -> (Vec<Sheet>, Findings) {
    let mut findings = Findings::default();
    let sheets = lay(spec, designs, &Faces::bundled(), &mut findings);
    (sheets, findings)
}

/// A line of words.
pub(super) fn words(text: &str) -> Words {
    Words {
        text: text.into(),
        area: Rect::new(0.0, 0.0, 10.0, 2.0),
        turned_deg: 0.0,
        cap_height_mm: 2.0,
        reversed: false,
        part: PartId::default(),
        from: Place::default(),
    }
}
