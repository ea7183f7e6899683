//! decalwright turns one YAML spec into print-ready artwork for small decals, labels and wire markers.
//!
//! # The door
//!
//! | module | what it does |
//! |---|---|
//! | [`job`] | reads a job's bytes, draws and checks it, lays it out, makes its files |
//! | [`finding`] | what is wrong or worth knowing, with its place, as text and as JSON |
//! | [`files`] | fetches what a job names from its folder, writes all outputs or none |
//! | [`testprint`] | pages to print and measure, and the printer's profile made of them |
//!
//! All other rooms are private; the types that results are made of stand here, at the crate's root. Everything is
//! in millimetres, y down, angles clockwise.
//!
//! # How data flows
//!
//! The bytes of a YAML file become a tree with places, the tree a [`Spec`] without defaults, each of its labels a
//! [`Design`] of flat marks, the designs [`Sheet`]s with [`Placement`]s, and those PDF, SVG, PNG and lists. Checks
//! look at all of it; a finding never stops the next one. DEVELOPERS.md lists the rooms in that order, and a room
//! uses only those above it.
//!
//! Nothing is fetched but the files a job names, and those by whoever calls: [`job::lay`] takes a function for it.
//! No clock, random number or environment reaches an output: the same input gives the same bytes.
//!
//! # A sheet from a string
//!
//! ```
//! use decalwright::files::Error;
//! use decalwright::job::{self, Previews};
//!
//! let job = "\
//! title: Tide gauge
//! sheet: {paper: A4, film: white}
//! labels:
//! - {text: RUN, copies: 2}
//! ";
//! let mut nothing = |name: &str| Err(Error::Outside(name.into()));
//! let outcome = job::lay("gauge.yaml", job.as_bytes(), &mut nothing);
//! assert!(!outcome.findings.any_error());
//!
//! let laid = outcome.laid.expect("a job without errors");
//! let files = job::files(&laid, "gauge", Previews::Skipped).all()?;
//! let file = |name: &str| &files.iter().find(|(known, _)| known == name).expect(name).1;
//!
//! // ISO 32000-1, 7.5.2: a PDF starts with the version it keeps to.
//! assert!(file("gauge-white.pdf").starts_with(b"%PDF-1.6"));
//! // ISO 216: A4 is 210 x 297 mm.
//! let svg = String::from_utf8_lossy(file("gauge-white-1.svg"));
//! assert!(svg.contains(r#"viewBox="0 0 210 297""#));
//! # Ok::<(), job::Error>(())
//! ```

mod card;
mod check;
mod code;
mod colour;
mod design;
mod drawing;
pub mod files;
pub mod finding;
mod font;
pub mod job;
mod known;
mod output;
mod parallel;
mod proof;
mod shape;
mod sheet;
mod spec;
mod table;
pub mod testprint;
mod text;
mod units;
mod wire;
mod yaml;

pub use colour::{Colour, Lab};
pub use design::{Design, DrawnCode, Mark, OnPanel, Plate, Role, WhiteOrder, WhitePlate, Words};
pub use output::pdf::{Error as PdfError, Pdf};
pub use output::png::Error as PngError;
pub use output::{Page, Placed};
pub use shape::{Outline, ThinPlace};
pub use sheet::{CopyOrSpare, Parting, Placement, Sheet};
pub use spec::panel::{Deliver, Hole, HoleMark, Origin, Panel, Side, Stands};
pub use spec::scale::{Law, MarkSize, Numbers, Scale, ScaleMark, Track, Zone};
pub use spec::wiring::{
    ColourCode, Diameter, End, Gauge, Grid, Insulation, MarkerKind, MarkerOf, Markers, Rail, Spot,
    Terminal, Wire, WireColour, Wiring,
};
pub use spec::{
    Align, Applied, Arc, Art, ArtShape, Artwork, Bracket, Caution, Chevron, Code, CodeKind,
    CodeLevel, Corners, Correction, Cuts, Direction, Edge, Element, Film, Frame, FrameLine, Group,
    GroupAlign, Label, LabelKind, Legend, Line, LineEnd, Margins, Measured, Paint, Paper, Part,
    PartId, Picked, Printer, Process, Profile, Reading, Ring, SheetSetup, Sign, Spec, Split,
    Stroke, Surface, Symbol, Text, TextSize, UnderPrint, Viewed, White, WhiteArea,
};
