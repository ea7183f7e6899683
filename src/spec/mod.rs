//! What was asked: the job file read, checked and made millimetres and choices.
//!
//! A file becomes a tree with places (`crate::yaml`); on the tree styles are laid under labels ([`merge`]), rows and
//! series spelt out ([`repeat`]) and words filled in ([`fill`]). Each file of this room then has the keys of one
//! thing as they are typed, what they mean, and how the one is made of the other. [`Spec`] has no defaults left.

mod choice;
pub mod element;
mod fill;
mod fonts;
mod headings;
mod job;
mod label;
mod merge;
mod named;
mod names;
pub mod panel;
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
mod testing;
#[cfg(test)]
mod tests;
mod thin_lines;
pub mod wiring;

pub use choice::Choice;
pub use element::art::Art;
pub use element::bracket::Bracket;
pub use element::chevron::Chevron;
pub use element::code::{Code, CodeKind, CodeLevel, least_module_mm, safe_module_mm};
pub use element::frame::{Corners, Frame, FrameLine};
pub use element::group::{Direction, Group, GroupAlign};
pub use element::legend::Legend;
pub use element::line::{Line, LineEnd};
pub use element::ring::Ring;
pub use element::scale;
pub use element::symbol::Symbol;
pub use element::text::{Align, Arc, Reads, Text, TextSize};
pub use element::{AnyElement, Element, Paint, Part, PartId, Stroke, number_parts};
pub use job::{ReadContext, read, read_colours, read_wires};
pub use label::{Edge, Label, LabelKind, Split};
pub use printer::{Printer, Process};
pub use profile::{BAR_MM, Correction, Measured, Picked, Profile, SQUARE_MM, read_profile};
pub use seen::{Reading, UnderPrint, Viewed, White, WhiteArea, cap_height_at, usual_choke_mm};
pub use sheet::{Applied, Cuts, Film, Margins, Paper, SheetSetup};
pub use surfaces::Surface;
pub use symbols::{Caution, GRID, SIGNS, Sign};

pub use crate::drawing::{ArtShape, Artwork};

use crate::colour::Colour;
use crate::finding::Place;
use std::collections::BTreeMap;

/// A length in millimetres.
pub type Mm = f64;

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

/// Files that people write.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A job.
    Job,
    /// A printer's profile, or the answers it is made of.
    Profile,
}

/// The JSON Schema of a file, draft-07, for editors.
#[must_use]
pub fn schema(of: FileKind) -> String {
    match of {
        FileKind::Job => job::form().json(),
        FileKind::Profile => profile::form().json(),
    }
}
