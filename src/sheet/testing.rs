//! Small specs and designs for this room's tests.

use crate::design::{Design, Words};
use crate::finding::Place;
use crate::shape::rectangle;
use crate::spec::{
    Applied, Cuts, Edge, Film, Label, Margins, Paper, PartId, Printer, Process, SheetSetup, Spec,
    Split, White,
};
use kurbo::{Rect, Size};
use std::collections::BTreeMap;

/// A job of so many labels, one copy each, on A4 with 10 mm margins and a 2 mm gap, no guides.
pub(super) fn spec(labels: usize) -> Spec {
    Spec {
        allow: Vec::new(),
        wiring: None,
        title: "Harbour signal console".into(),
        revision: Some("B".into()),
        date: Some("2026-05-01".into()),
        sheet: SheetSetup {
            paper: Paper { name: "A4".into(), size: Size::new(210.0, 297.0) },
            margins: Margins { top: 10.0, right: 10.0, bottom: 10.0, left: 10.0 },
            gap: 2.0,
            cuts: Cuts::Free,
            turn: false,
            guides: false,
            place: Place::default(),
        },
        printer: Printer {
            name: "laser-600".into(),
            process: Process::Laser,
            thinnest_ink: 0.15,
            thinnest_clear: 0.25,
            smallest_cap: 1.2,
            smallest_cap_reversed: 1.6,
            dots_per_inch: 600.0,
            ink_opacity: 0.2,
            white_opacity: 0.85,
            thinnest_white: 0.5,
            white_passes: None,
            profile: None,
        },
        surfaces: BTreeMap::new(),
        printed: BTreeMap::new(),
        panels: Vec::new(),
        labels: (0..labels).map(label).collect(),
    }
}

fn label(number: usize) -> Label {
    Label {
        name: format!("lamp-{number}"),
        place: Place::default(),
        film: Film::Clear,
        film_place: Place::default(),
        on: None,
        copies: 1,
        spares: 0,
        applied: Applied::FaceUp,
        viewed: None,
        white: White::None,
        handed_pair: false,
        edge: Edge::Usual,
        corner: None,
        size: None,
        parts: Vec::new(),
        split: Split::Never,
        allow: Vec::new(),
        note: None,
        kind: crate::spec::LabelKind::Decal,
    }
}

/// A plain rectangle of a label with its middle at the origin.
pub(super) fn design(label: usize, width: f64, height: f64, bleed_mm: f64) -> Design {
    let half = Size::new(width / 2.0, height / 2.0);
    Design {
        name: format!("lamp-{label}"),
        label,
        trim: rectangle(Rect::new(-half.width, -half.height, half.width, half.height)),
        bleed_mm,
        marks: Vec::new(),
        white: None,
        backing: None,
        words: Vec::new(),
        codes: Vec::new(),
        on_panel: None,
        from: Place::default(),
    }
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
