//! One label as flat marks in its own frame.
//!
//! The frame's origin is where the spec's `at: [0, 0]` is: the middle of the label. A [`Design`] holds only
//! closed, filled outlines in mm, with clear areas already taken out; of the spec it keeps only the
//! part and the place each mark came from. Everything later (sheets, checks, outputs) reads only this.

mod backing;
mod drawing;
mod drawn_code;
mod edge;
mod element;
mod handed_pair;
mod hidden_words;
mod holes;
mod inside;
mod make;
mod paint;
mod seen;
mod split;
mod white;

pub(crate) use backing::backings;
pub use drawn_code::DrawnCode;
pub(crate) use hidden_words::{TOUCHED, hidden};
pub(crate) use make::make;
pub(crate) use seen::Seen;

use crate::{colour::Colour, finding::Place, shape::Outline, spec::PartId};
use kurbo::{Affine, Rect, Vec2};

/// One printing or cutting pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Plate {
    /// Ink of this colour.
    Ink(Colour),
    /// Where the knife goes.
    Cut,
    /// Helps the hand: ticks, names in the waste, bars to measure. Printed, but no part of a label.
    Guide,
}

/// What a mark is to the eye, for checks and messages.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Letters, figures, signs.
    Text,
    /// A filled area.
    Fill,
    /// A line, border, stripe or ring.
    Line,
    /// The modules of a code.
    Code,
}

/// A closed, filled outline on one plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The outline, in the frame of the design or sheet that holds it.
    pub path: Outline,
    /// The pass it belongs to.
    pub plate: Plate,
    /// What it is to the eye.
    pub role: Role,
    /// The part that drew it.
    pub part: PartId,
    /// Where in the job it was asked for, for messages alone.
    pub from: Place,
}

/// A line of words that a label carries, for searching, reading aloud and size checks.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// The words as they read.
    pub text: String,
    /// From the base line to the cap height, over the whole width, before turning.
    pub area: Rect,
    /// Degrees clockwise about the middle of `area`.
    pub turned_deg: f64,
    /// Height of a flat capital, mm.
    pub cap_height_mm: f64,
    /// Whether the letters are clear in ink (reversed) rather than ink.
    pub reversed: bool,
    /// The part they stand in.
    pub part: PartId,
    /// Where in the job they were asked for, for messages alone.
    pub from: Place,
}

/// One label, drawn. Copies and spares share it.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// The label's name; a handed pair and the pieces of a split label carry a suffix.
    pub name: String,
    /// Which label of the spec it is: an index into `Spec::labels`.
    pub label: usize,
    /// Where the knife goes.
    pub trim: Outline,
    /// How far ink may run past the trim, mm.
    pub bleed_mm: f64,
    /// The marks, painted in order; no cut marks (the trim is the cut).
    pub marks: Vec<Mark>,
    /// The white under the marks, where the label asks for it.
    pub white: Option<WhitePlate>,
    /// What a piece of white film behind it covers before its edge is drawn in, where the label asks for one.
    pub backing: Option<Outline>,
    /// The words on it.
    pub words: Vec<Words>,
    /// The codes on it.
    pub codes: Vec<DrawnCode>,
    /// Where on a panel it goes, when it is an overlay or a legend.
    pub on_panel: Option<OnPanel>,
    /// Where in the job it was asked for.
    pub from: Place,
}

/// A plate of white under a design's ink.
#[derive(Clone, Debug, PartialEq)]
pub struct WhitePlate {
    /// Where white is printed, in the design's frame.
    pub path: Outline,
    /// Share of it that is printed, above 0 and up to 1.
    pub tint: f64,
    /// Whether it is printed before the colours or after them.
    pub order: WhiteOrder,
}

/// When white is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhiteOrder {
    /// White, then colours: the ink is looked at from above.
    First,
    /// Colours, then white: the ink is looked at through the film.
    Last,
}

/// Where on a panel a design goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnPanel {
    /// Which panel: an index into `Spec::panels`.
    pub panel: usize,
    /// Where the design's own origin lies, from the panel's middle, mm.
    pub at: Vec2,
}

impl Mark {
    /// A mark that no part of a label draws.
    #[must_use]
    pub fn new(path: Outline, plate: Plate, role: Role, from: Place) -> Mark {
        Mark { path, plate, role, part: PartId::default(), from }
    }
}

impl Words {
    /// The same words, their middle moved by `by`, and then turned by `turned_deg` in all.
    fn moved(&self, by: Affine, turned_deg: f64) -> Words {
        let area = Rect::from_center_size(by * self.area.center(), self.area.size());
        Words { area, turned_deg, ..self.clone() }
    }
}

impl Design {
    /// A design without bleed that has these marks and nothing else on it.
    #[must_use]
    pub fn plain(name: String, label: usize, trim: Outline, marks: Vec<Mark>) -> Design {
        Design {
            name,
            label,
            trim,
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

    /// Bounds of the trim: what the person calls the label's size.
    #[must_use]
    pub fn size(&self) -> Rect {
        self.trim.bounds()
    }

    /// Bounds of everything printed or cut.
    #[must_use]
    pub fn reach(&self) -> Rect {
        self.marks
            .iter()
            .filter(|mark| !mark.path.is_empty())
            .fold(self.size(), |reach, mark| reach.union(mark.path.bounds()))
    }
}
