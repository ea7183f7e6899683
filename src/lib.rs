//! decalwright turns one YAML spec into print-ready artwork for small decals and labels.
//!
//! The rooms stand in the order data flows; a room may use only those above it (DEVELOPERS.md).

mod units;

mod parallel;

mod shape;

mod colour;

pub mod finding;

pub mod files;

mod font;

mod yaml;

mod spec;

mod text;

mod code;

mod wire;

mod design;

mod sheet;

mod check;

mod output;

mod card;

pub mod testprint;

mod proof;

pub mod job;

pub use colour::{Colour, Lab};
pub use design::{Design, DrawnCode, Mark, OnPanel, Plate, Role, WhiteOrder, WhitePlate, Words};
pub use output::pdf::{Error as PdfError, Pdf};
pub use output::png::Error as PngError;
pub use output::{Page, Placed};
pub use shape::{Outline, ThinPlace};
pub use sheet::{Parting, Piece, Placement, Sheet};
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
