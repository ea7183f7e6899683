//! Small made-up jobs for the tests of outputs and of the placement list.

use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role};
use crate::finding::Place;
use crate::shape::{self, Outline};
use crate::sheet::{CopyOrSpare, Placement, Sheet};
use crate::spec::samples::{label, spec};
use crate::spec::{Film, Label, PartId, Spec};
use kurbo::{Point, Rect, Size};

/// A red.
pub(crate) const RED: Colour = Colour { rgb: [173, 43, 36] };

/// A mark in ink.
pub(crate) fn ink(path: Outline, colour: Colour, role: Role) -> Mark {
    Mark { path, plate: Plate::Ink(colour), role, part: PartId::default(), from: Place::default() }
}

/// A design with a rectangular trim round the origin.
pub(crate) fn design(name: &str, label: usize, trim: Size, marks: Vec<Mark>) -> Design {
    let trim = shape::rectangle(Rect::from_center_size(Point::ORIGIN, trim));
    Design::plain(name.to_owned(), label, trim, marks)
}

/// Two designs on one sheet: `square` (10 x 6, red, a black block in its top left quarter) twice and as a
/// spare, and one with an awkward name, mirrored.
pub(crate) fn signal_job() -> (Spec, Vec<Design>, Sheet) {
    let mut spec = spec();
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
