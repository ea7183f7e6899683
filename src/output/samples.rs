//! Small made-up jobs for the tests of outputs and of the placement list.

use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role};
use crate::files::Error;
use crate::finding::{Findings, Place, Sources};
use crate::font::Faces;
use crate::shape::{self, Outline};
use crate::sheet::{CopyOrSpare, Placement, Sheet};
use crate::spec::{self, Film, Label, PartId, Spec};
use kurbo::{Point, Rect, Size};
use std::sync::LazyLock;

/// A red.
pub(crate) const RED: Colour = Colour { rgb: [173, 43, 36] };

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
    let mut context = spec::ReadContext {
        faces: &mut faces,
        fetch: &mut |name| Err(Error::Outside(name.into())),
        sources: &mut Sources::default(),
        findings: &mut findings,
    };
    let spec = spec::read("job.yaml", JOB.as_bytes(), &mut context).expect("a job");
    assert_eq!(findings.list(), []);
    spec
});

/// A job without labels.
pub(crate) fn empty_spec() -> Spec {
    Spec { labels: Vec::new(), ..SPEC.clone() }
}

/// A label on clear film, without parts, one copy and one spare.
pub(crate) fn label(name: &str) -> Label {
    let (place, film_place) = (Place::default(), Place::default());
    let sample = SPEC.labels[0].clone();
    Label { name: name.to_owned(), parts: Vec::new(), place, film_place, ..sample }
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
