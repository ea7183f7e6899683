//! A small made-up job for the tests of other rooms.

use super::{
    Cuts, Film, Label, Margins, Paper, Printer, Process, SheetSetup, Spec, Surface, wiring,
};
use crate::colour::Colour;
use crate::finding::Place;
use kurbo::Size;
use std::collections::BTreeMap;

/// A laser printer.
pub(crate) fn printer() -> Printer {
    Printer {
        name: "laser-600".to_owned(),
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
    }
}

/// A job without labels on A5, with one surface, a grey `housing`.
pub(crate) fn spec() -> Spec {
    let place = Place::default();
    let grey = Colour { rgb: [174, 180, 184] };
    let housing =
        Surface { colour: grey, finish: Some("metallic".to_owned()), viewed: None, place };
    Spec {
        title: "Signal lamp <test> & \"trial\"".to_owned(),
        revision: Some("B".to_owned()),
        date: None,
        sheet: SheetSetup {
            paper: Paper { name: "A5".to_owned(), size: Size::new(148.0, 210.0) },
            margins: Margins { top: 6.35, right: 6.35, bottom: 6.35, left: 6.35 },
            gap: 2.0,
            cuts: Cuts::Free,
            turn: true,
            guides: true,
            place,
        },
        printer: printer(),
        surfaces: BTreeMap::from([("housing".to_owned(), housing)]),
        printed: BTreeMap::new(),
        panels: Vec::new(),
        allow: Vec::new(),
        labels: Vec::new(),
        wiring: None,
    }
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
