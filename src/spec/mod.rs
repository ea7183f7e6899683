//! What was asked: the job file read, checked and resolved.
//!
//! [`Spec`] has millimetres and no defaults left: styles are cascaded, words filled in, series and tables
//! made into single labels, names found.

mod art;
mod art_draft;
mod cascade;
mod code;
mod code_draft;
pub mod dial;
mod dial_draft;
mod draft;
mod dxf;
mod element;
mod events;
mod fill;
mod node;
pub mod panel;
mod panel_draft;
mod profile;
mod profile_draft;
mod read;
mod resolve;
mod scalars;
mod seen;
mod seen_draft;
mod series;
mod shape;
mod slips;
mod sound;
mod symbols;
mod table;
mod typed;
mod wires_draft;
pub mod wiring;
mod wording;

pub use art::{Art, ArtShape, Artwork};
pub use code::{Code, CodeKind, CodeLevel, least_module_mm, safe_module_mm};
pub use element::{
    Align, Bracket, Chevron, Corners, Direction, Element, Frame, FrameLine, Group, GroupAlign,
    Legend, Line, LineEnd, Paint, Part, Ring, Text, TextSize,
};
pub use profile::{BAR_MM, Correction, Measured, Picked, Profile, SQUARE_MM};
pub use read::{Form, schema};
pub use resolve::{Desk, read, read_colours, read_profile};
pub use seen::{Reading, UnderPrint, Viewed, White, WhiteArea, cap_height_at, usual_choke_mm};
pub use symbols::{Caution, GRID, SIGNS, Sign, Symbol};

use crate::{colour::Colour, finding::Place};
use kurbo::Size;
use std::collections::BTreeMap;

/// A whole job, resolved.
#[derive(Clone, Debug, PartialEq)]
pub struct Spec {
    /// The job's title.
    pub title: String,
    /// Revision as given, for the foot line.
    pub revision: Option<String>,
    /// Date as given, for the foot line; never the clock.
    pub date: Option<String>,
    /// The sheets to fill.
    pub sheet: SheetSetup,
    /// The printer the sheets go through.
    pub printer: Printer,
    /// What the labels go on.
    pub surfaces: BTreeMap<String, Surface>,
    /// What is sent to the printer for a colour, where that is another than the one it should look like.
    pub printed: BTreeMap<Colour, Colour>,
    /// The panels: their plates and holes, whatever of them is printed.
    pub panels: Vec<panel::Panel>,
    /// Every label, in the order of the spec, rows and series spelt out.
    pub labels: Vec<Label>,
    /// The wiring, where the job has one; its markers join `labels` once they are worked out.
    pub wiring: Option<wiring::Wiring>,
    /// Codes of findings about the job as a whole that the user accepts.
    pub allow: Vec<Allowed>,
}

/// A code of findings that the user accepts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Allowed {
    /// As typed; it may be the code of no finding.
    pub code: String,
    /// Where it stands.
    pub place: Place,
}

/// The kind of film (or paper) a label is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Film {
    /// Clear water-slide film: no ink means the surface shows.
    Clear,
    /// White water-slide film: no ink means white.
    White,
    /// Self-adhesive stock, white.
    Sticker,
    /// Plain paper.
    Paper,
}

impl Film {
    /// The word for it in specs, file names and messages.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Film::Clear => "clear",
            Film::White => "white",
            Film::Sticker => "sticker",
            Film::Paper => "paper",
        }
    }

    /// What people call it: `clear film`, `sticker stock`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Film::Clear => "clear film",
            Film::White => "white film",
            Film::Sticker => "sticker stock",
            Film::Paper => "paper",
        }
    }
}

/// A sheet size, upright or lying as given.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    /// `A4`, `Letter`, or `120 x 80 mm` for a size of the user's own.
    pub name: String,
    /// Width and height in mm.
    pub size: Size,
}

impl Paper {
    /// The paper of this name: `A4`, `Letter`, `A5 landscape`; upper and lower case are alike.
    #[must_use]
    pub fn named(name: &str) -> Option<Paper> {
        resolve::named_paper(name)
    }
}

/// Margins in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// From the top edge.
    pub top: f64,
    /// From the right edge.
    pub right: f64,
    /// From the bottom edge.
    pub bottom: f64,
    /// From the left edge.
    pub left: f64,
}

/// How the sheets are cut apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cuts {
    /// Any way: each label is cut round on its own.
    Free,
    /// Edge to edge with knife and ruler: every cut runs straight through what is left.
    Straight,
}

/// The `sheet:` part of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetSetup {
    /// Paper to print on.
    pub paper: Paper,
    /// Where nothing may be printed.
    pub margins: Margins,
    /// Least distance between the trims of neighbours, mm.
    pub gap: f64,
    /// How the sheets are cut.
    pub cuts: Cuts,
    /// Whether labels may be laid with a quarter turn.
    pub turn: bool,
    /// Whether names and other guides are printed in the waste.
    pub guides: bool,
    /// Where `sheet:` stands.
    pub place: Place,
}

/// How a printer makes its image.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Process {
    /// Toner and heat.
    Laser,
    /// Liquid ink.
    InkJet,
}

/// What the printer can do, all of it settable.
#[derive(Clone, Debug, PartialEq)]
pub struct Printer {
    /// The class the numbers started from, or the user's own name for the printer; for the foot line.
    pub name: String,
    /// How it makes its image.
    pub process: Process,
    /// Thinnest line of ink it prints, mm.
    pub thinnest_ink: f64,
    /// Thinnest clear gap it keeps open, mm.
    pub thinnest_clear: f64,
    /// Smallest cap height in ink, mm.
    pub smallest_cap: f64,
    /// Smallest cap height left clear in ink, mm.
    pub smallest_cap_reversed: f64,
    /// Dots to the inch: codes are made of whole dots.
    pub dots_per_inch: f64,
    /// Share of its own colour that ink keeps on any ground, 0 to 1.
    pub ink_opacity: f64,
    /// The same for its white, where it has one.
    pub white_opacity: f64,
    /// Thinnest white it prints, mm.
    pub thinnest_white: f64,
    /// In how many passes it prints white and colours; `None` where it has no white.
    pub white_passes: Option<u32>,
    /// What was read off its test prints, when the job names a profile.
    pub profile: Option<Profile>,
}

impl Printer {
    /// Width of one dot, mm.
    #[must_use]
    pub fn dot_mm(&self) -> f64 {
        25.4 / self.dots_per_inch
    }
}

/// What labels go on.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// Its colour.
    pub colour: Colour,
    /// Its finish as the user words it (`matt`, `gloss`, `metallic`).
    pub finish: Option<String>,
    /// From where it is read.
    pub viewed: Option<Viewed>,
    /// Where it is asked for.
    pub place: Place,
}

/// How a label gets onto its part; decides whether it is mirrored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Applied {
    /// Slid on with the ink up: not mirrored.
    FaceUp,
    /// Laid with the ink down: mirrored.
    FaceDown,
    /// Inside glass, read through it: mirrored.
    InsideWindow,
    /// Transferred by heat: mirrored.
    HeatTransfer,
}

impl Applied {
    /// Whether labels applied so are printed reading backwards.
    #[must_use]
    pub fn mirrored(self) -> bool {
        match self {
            Applied::FaceUp => false,
            Applied::FaceDown | Applied::InsideWindow | Applied::HeatTransfer => true,
        }
    }

    /// The word for it in specs and messages.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Applied::FaceUp => "face-up",
            Applied::FaceDown => "face-down",
            Applied::InsideWindow => "inside-window",
            Applied::HeatTransfer => "heat-transfer",
        }
    }
}

/// What happens at the edge of a label.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Edge {
    /// Ink runs this far past the trim, mm.
    Bleed(f64),
    /// The trim runs this far outside the ink, mm.
    FilmBorder(f64),
    /// Not said: bleed where a filled box meets white film, a film border elsewhere.
    Usual,
}

/// Where a label may be cut in two when the film is too small.
#[derive(Clone, Debug, PartialEq)]
pub enum Split {
    /// Nowhere.
    Never,
    /// In the gap between two words, into the fewest pieces that fit.
    BetweenWords,
    /// At these distances from the trim's left edge, mm, rising.
    At(Vec<f64>),
}

/// One label.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Its name, unique in the job.
    pub name: String,
    /// Where it is asked for.
    pub place: Place,
    /// Film it is printed on.
    pub film: Film,
    /// Where the film was chosen.
    pub film_place: Place,
    /// The surface it goes on: a key of [`Spec::surfaces`].
    pub on: Option<String>,
    /// How many are needed.
    pub copies: u32,
    /// How many more to print in case one tears.
    pub spares: u32,
    /// How it gets onto its part.
    pub applied: Applied,
    /// From where it is read, where the job says so.
    pub viewed: Option<Viewed>,
    /// White under its ink.
    pub white: White,
    /// Whether it makes a left-hand and a right-hand one.
    pub handed_pair: bool,
    /// Bleed or film border.
    pub edge: Edge,
    /// Corner radius of the trim where it does not follow a box, mm; `None`: as large as the film border.
    pub corner: Option<f64>,
    /// Fixed size of the trim, mm; `None`: as large as what is on it.
    pub size: Option<Size>,
    /// What is on it, painted in order.
    pub parts: Vec<Part>,
    /// Where it may be cut in two.
    pub split: Split,
    /// Codes of findings the user accepts here.
    pub allow: Vec<Allowed>,
    /// The user's remark, for the placement list.
    pub note: Option<String>,
    /// The panel it is the overlay of: an index into [`Spec::panels`].
    pub overlay_of: Option<usize>,
    /// Where on a panel it stands, when it is a legend printed on its own.
    pub stands: Option<panel::Stands>,
    /// The wire it marks, when it is a marker.
    pub marks: Option<wiring::Marks>,
}

impl Label {
    /// Whether the user accepts findings with this code here.
    #[must_use]
    pub fn allows(&self, code: &str) -> bool {
        self.allow.iter().any(|allowed| allowed.code == code)
    }

    /// Whether it is a piece of white film to go behind another label: nothing else has nothing on it.
    #[must_use]
    pub fn is_backing(&self) -> bool {
        self.parts.is_empty() && self.overlay_of.is_none() && self.film == Film::White
    }
}
