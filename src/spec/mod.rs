//! What was asked: the job file read, checked and made millimetres and choices.
//!
//! A file becomes a tree with places (`crate::yaml`); on the tree styles are laid under labels ([`merge`]), rows and
//! series spelt out ([`repeat`]) and words filled in ([`fill`]). Each file of this room then has the keys of one
//! thing as they are typed, what they mean, and how the one is made of the other. [`Spec`] has no defaults left.

mod choice;
pub(crate) mod element;
mod fill;
mod fonts;
mod headings;
mod job;
mod label;
mod merge;
mod named;
mod names;
pub(crate) mod panel;
mod printable;
mod printer;
mod profile;
mod reader;
mod repeat;
#[cfg(test)]
pub(crate) mod samples;
mod seen;
mod series;
mod sheet;
mod spares;
mod styles;
mod surfaces;
mod symbols;
#[cfg(test)]
mod tests;
mod thin_lines;
pub(crate) mod wiring;

pub(crate) use choice::Choice;
pub use element::art::Art;
pub use element::bracket::Bracket;
pub use element::chevron::Chevron;
pub use element::code::{Code, CodeKind, CodeLevel};
pub(crate) use element::code::{least_module_mm, safe_module_mm};
pub use element::frame::{Corners, Frame, FrameLine};
pub use element::group::{Direction, Group, GroupAlign};
pub use element::legend::Legend;
pub use element::line::{Line, LineEnd};
pub(crate) use element::number_parts;
pub use element::ring::Ring;
pub(crate) use element::scale;
pub use element::symbol::Symbol;
pub(crate) use element::text::Reads;
pub use element::text::{Align, Arc, Text, TextSize};
pub use element::{Element, Paint, Part, PartId, Stroke};
pub(crate) use job::form as job_form;
pub(crate) use job::{ReadContext, read, read_colours, read_wires};
pub use label::{Edge, Label, LabelKind, Split};
pub use printer::{Printer, Process};
pub(crate) use profile::form as profile_form;
pub(crate) use profile::{BAR_MM, SQUARE_MM, read_profile};
pub use profile::{Correction, Measured, Picked, Profile};
pub(crate) use seen::usual_choke_mm;
pub use seen::{Reading, UnderPrint, Viewed, White, WhiteArea};
pub use sheet::{Applied, Cuts, Film, Margins, Paper, SheetSetup};
pub use surfaces::Surface;
pub(crate) use symbols::GRID;
#[cfg(test)]
pub(crate) use symbols::SIGNS;
pub use symbols::{Caution, Sign};

pub use crate::drawing::{ArtShape, Artwork};

use crate::colour::Colour;
use crate::finding::Place;
use std::collections::BTreeMap;

/// A length in millimetres.
pub(crate) type Mm = f64;

/// A whole job, with no defaults left.
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
