//! Small made-up jobs for the tests of outputs and of the placement list.

use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role};
use crate::finding::Place;
use crate::shape::{self, Outline};
use crate::sheet::{CopyOrSpare, Placement, Sheet};
use crate::spec::{
    Applied, Cuts, Edge, Film, Label, Margins, Paper, PartId, Printer, Process, SheetSetup, Spec,
    Split, Surface, White,
};
use kurbo::{Point, Rect, Size};
use std::collections::BTreeMap;

/// A red.
pub(crate) const RED: Colour = Colour { rgb: [173, 43, 36] };

/// A job without labels.
pub(crate) fn empty_spec() -> Spec {
    Spec {
        allow: Vec::new(),
        wiring: None,
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
            place: Place::default(),
        },
        printer: Printer {
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
        },
        surfaces: BTreeMap::from([(
            "housing".to_owned(),
            Surface {
                colour: Colour { rgb: [174, 180, 184] },
                finish: Some("metallic".to_owned()),
                viewed: None,
                place: Place::default(),
            },
        )]),
        printed: BTreeMap::new(),
        panels: Vec::new(),
        labels: Vec::new(),
    }
}

/// A label on clear film, one copy and one spare.
pub(crate) fn label(name: &str) -> Label {
    Label {
        name: name.to_owned(),
        place: Place::default(),
        film: Film::Clear,
        film_place: Place::default(),
        on: Some("housing".to_owned()),
        copies: 1,
        spares: 1,
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

/// A mark in ink.
pub(crate) fn ink(path: Outline, colour: Colour, role: Role) -> Mark {
    Mark { path, plate: Plate::Ink(colour), role, part: PartId::default(), from: Place::default() }
}

/// A design with a rectangular trim round the origin.
pub(crate) fn design(name: &str, label: usize, trim: Size, marks: Vec<Mark>) -> Design {
    let half = trim.to_vec2() / 2.0;
    Design {
        name: name.to_owned(),
        label,
        trim: shape::rectangle(Rect::from_points((-half).to_point(), half.to_point())),
        bleed_mm: 0.0,
        marks,
        white: None,
        backing: None,
        words: Vec::new(),
        codes: Vec::new(),
        on_panel: None,
        from: Place::default(),
    }
}

/// Two designs on one sheet: `square` (10 x 6, red, a black block in its top left quarter) twice and as a
/// spare, and one with an awkward name, mirrored.
pub(crate) fn signal_job() -> (Spec, Vec<Design>, Sheet) {
    let mut spec = empty_spec();
    let awkward = "a<b>&\"c'd";
    spec.labels = vec![Label { copies: 2, ..label("square") }, label(awkward)];
    let marks = || {
        vec![
            ink(shape::rectangle(Rect::new(-5.0, -3.0, 5.0, 3.0)), RED, Role::Fill),
            ink(shape::rectangle(Rect::new(-4.0, -2.0, 0.0, 0.0)), Colour::BLACK, Role::Fill),
        ]
    };
    let designs = vec![
        design("square", 0, Size::new(10.0, 6.0), marks()),
        design(awkward, 1, Size::new(10.0, 6.0), marks()),
    ];
    let at = |design, piece, x, y| Placement {
        design,
        piece,
        at: Point::new(x, y),
        quarter_turns: 0,
        mirrored: false,
    };
    let placements = vec![
        at(0, CopyOrSpare::Copy(1), 20.0, 20.0),
        Placement { quarter_turns: 1, ..at(0, CopyOrSpare::Copy(2), 30.0, 40.0) },
        at(0, CopyOrSpare::Spare(1), 60.0, 20.0),
        Placement { mirrored: true, ..at(1, CopyOrSpare::Copy(1), 100.0, 100.0) },
    ];
    let guide = Mark {
        path: shape::rectangle(Rect::new(10.0, 200.0, 110.0, 201.0)),
        plate: Plate::Guide,
        role: Role::Line,
        part: PartId::default(),
        from: Place::default(),
    };
    let sheet = Sheet {
        film: Film::Clear,
        paper: spec.sheet.paper.clone(),
        number: 1,
        of: 1,
        parting: crate::sheet::Parting::Apart,
        placements,
        marks: vec![guide],
        words: Vec::new(),
        white: None,
        fed_twice: false,
        registration: Vec::new(),
        reads_backwards: false,
    };
    (spec, designs, sheet)
}
