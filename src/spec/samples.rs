//! A small made-up job for the tests of other rooms.

use super::{Film, Label, Printer, ReadContext, Spec, read, wiring};
use crate::files::Error;
use crate::finding::{Findings, Place, Sources};
use crate::font::Faces;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// A job with one label: the values that tests rely on are written out, all others are the defaults.
const JOB: &str = r##"
title: Signal lamp <test> & "trial"
revision: B
printer: {class: laser-600}
sheet: {paper: A5, margin: 6.35 mm, gap: 2 mm, turn: true, guides: true, spares: 1}
surfaces: {housing: {colour: "#aeb4b8", finish: metallic}}
labels: [{name: lamp, text: LAMP, on: housing}]
"##;

static SPEC: LazyLock<Spec> = LazyLock::new(|| {
    let (mut faces, mut findings) = (Faces::bundled(), Findings::default());
    let mut context = ReadContext {
        faces: &mut faces,
        fetch: &mut |name| Err(Error::Outside(name.into())),
        sources: &mut Sources::default(),
        findings: &mut findings,
    };
    let spec = read("job.yaml", JOB.as_bytes(), &mut context).expect("a job");
    assert_eq!(findings.list(), []);
    spec
});

/// A laser printer.
pub(crate) fn printer() -> Printer {
    SPEC.printer.clone()
}

/// A job without labels on A5, with one surface, a grey `housing`.
pub(crate) fn spec() -> Spec {
    Spec { labels: Vec::new(), ..SPEC.clone() }
}

/// A label on clear film for the housing, one copy and one spare.
pub(crate) fn label(name: &str) -> Label {
    let plain = Label::plain(name.to_owned(), Film::Clear, Place::default());
    Label { on: Some("housing".to_owned()), spares: 1, ..plain }
}

/// A wiring of these wires and rails, marked on clear film, 6 mm high and 40 mm along at most.
pub(crate) fn wiring(wires: Vec<wiring::Wire>, rails: &[&str]) -> wiring::Wiring {
    let place = Place::default();
    let rail = |name: &&str| wiring::Rail { name: (*name).to_owned(), place };
    wiring::Wiring {
        wires,
        rails: rails.iter().map(rail).collect(),
        takes: BTreeMap::new(),
        markers: wiring::Markers {
            kind: None,
            thin: None,
            film: Film::Clear,
            thickness: 0.05,
            cap: None,
            font: "wire".to_owned(),
            face: None,
            height: 6.0,
            along: 40.0,
            tail_turns: 1.5,
            every: None,
            grid: None,
            place,
        },
        allow: Vec::new(),
        place,
    }
}

/// A wire of this outside diameter, mm, between terminals that a test writes; `?` for an end that is missing.
pub(crate) fn wire(id: &str, from: &str, to: &str, diameter_mm: f64) -> wiring::Wire {
    let place = Place::default();
    let end = |text: &str| (text != "?").then(|| wiring::Terminal::parse(text, place));
    wiring::Wire {
        id: id.to_owned(),
        from: end(from),
        to: end(to),
        colour: None,
        gauge: None,
        diameter: wiring::Diameter { mm: diameter_mm, assumed: false },
        length_mm: None,
        function: String::new(),
        note: String::new(),
        kind: None,
        texts: [Vec::new(), Vec::new()],
        place,
    }
}
