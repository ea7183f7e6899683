//! The wiring of a job, resolved: wires with both their ends, and what their markers should be.

mod colour;
mod gauge;
mod terminal;

pub(crate) use colour::NotAColour;
pub use colour::{ColourCode, WireColour};
pub use gauge::{Gauge, Insulation};
pub use terminal::Terminal;

use crate::finding::Place;
use crate::spec::Film;
use kurbo::{Point, Size, Vec2};
use std::collections::{BTreeMap, BTreeSet};

/// The `wires:` part of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Wiring {
    /// Every wire, in the order of the table.
    pub wires: Vec<Wire>,
    /// What many wires may share: a supply, a ground.
    pub rails: Vec<Rail>,
    /// How many wires a terminal takes where it is not one; keys are [`Terminal::key`].
    pub takes: BTreeMap<String, u32>,
    /// What the markers should be.
    pub markers: Markers,
    /// Codes of findings about the wiring that the user accepts.
    pub allow: Vec<super::Allowed>,
    /// Where `wires:` stands.
    pub place: Place,
}

/// A supply or ground that many wires share.
#[derive(Clone, Debug, PartialEq)]
pub struct Rail {
    /// The name of its pins or of its wires' function (`GND`), or one terminal (`PS1:V12`).
    pub name: String,
    /// Where it is declared.
    pub place: Place,
}

/// One end of a wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum End {
    /// Where it comes from.
    From,
    /// Where it goes to.
    To,
}

/// Where along a wire a marker sits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Spot {
    /// At an end.
    End(End),
    /// Between the ends, counted from where the wire comes from.
    Along(u32),
}

/// What a label marks that is a wire's marker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Marks {
    /// Which wire: an index into [`Wiring::wires`].
    pub wire: usize,
    /// Where along it.
    pub spot: Spot,
    /// Its kind.
    pub kind: Kind,
    /// How much larger its art is drawn than it ends up, along and round the wire; a sleeve shrinks.
    pub stretch: Vec2,
}

/// One wire.
#[derive(Clone, Debug, PartialEq)]
pub struct Wire {
    /// Its identity, as the user writes it.
    pub id: String,
    /// Where it comes from; `None` when the table leaves it out.
    pub from: Option<Terminal>,
    /// Where it goes to; `None` when the table leaves it out.
    pub to: Option<Terminal>,
    /// The colour of its insulation.
    pub colour: Option<WireColour>,
    /// Its conductor, where given.
    pub gauge: Option<Gauge>,
    /// Outside diameter over the insulation.
    pub diameter: Diameter,
    /// Length, mm, where given.
    pub length_mm: Option<f64>,
    /// What it carries; may be empty.
    pub function: String,
    /// The user's remark; may be empty.
    pub note: String,
    /// Kind of marker, where the wire has one of its own.
    pub kind: Option<Kind>,
    /// Lines of the marker at each end, columns filled in: from, then to.
    pub texts: [Vec<String>; 2],
    /// Its row, or its entry in the job.
    pub place: Place,
}

/// A wire's outside diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diameter {
    /// Over the insulation, mm.
    pub mm: f64,
    /// Whether it is assumed from gauge and insulation, so that the user should measure.
    pub assumed: bool,
}

/// Kinds of wire marker.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A strip once round the wire and a little over itself.
    Wrap,
    /// A printed turn with a clear tail wound over it.
    Laminated,
    /// A strip round the wire with two faces back to back, hung across the wire.
    Flag,
    /// The same, folded along the wire.
    FlagAlong,
    /// Heat-shrink sleeve.
    Sleeve,
}

impl Kind {
    /// The word for it in specs and messages.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Kind::Wrap => "wrap",
            Kind::Laminated => "laminated",
            Kind::Flag => "flag",
            Kind::FlagAlong => "flag-along",
            Kind::Sleeve => "sleeve",
        }
    }
}

/// What the markers of a job should be.
#[derive(Clone, Debug, PartialEq)]
pub struct Markers {
    /// Their kind; `None`: a flag where no wrap could be read, a laminated wrap elsewhere.
    pub kind: Option<Kind>,
    /// On wires thinner than this, mm, another kind.
    pub thin: Option<(f64, Kind)>,
    /// What they are printed on.
    pub film: Film,
    /// Thickness of that, mm.
    pub thickness: f64,
    /// Cap height, mm; `None`: the largest that fits.
    pub cap: Option<f64>,
    /// The font.
    pub font: String,
    /// Length of a flag's face, mm; `None`: as long as its words.
    pub face: Option<f64>,
    /// Height of a flag, mm.
    pub height: f64,
    /// Most length along the wire of a wrap or sleeve, mm.
    pub along: f64,
    /// Clear tail of a laminated wrap, in turns.
    pub tail_turns: f64,
    /// A mark at least every so many mm along a wire whose length is given.
    pub every: Option<f64>,
    /// Pre-cut stickers to print on, where there are any.
    pub grid: Option<Grid>,
    /// Where the markers are described.
    pub place: Place,
}

/// A sheet of pre-cut stickers.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Columns and rows.
    pub cells: (u32, u32),
    /// The size of a sticker, mm.
    pub size: Size,
    /// From corner to corner of neighbours, mm right and down.
    pub pitch: Vec2,
    /// Top left corner of the first sticker, mm from the paper's top left.
    pub first: Point,
    /// Stickers that are gone, counted along the rows from 1; of the first sheet.
    pub used: BTreeSet<u32>,
    /// Where the grid is described.
    pub place: Place,
}

impl Wire {
    /// The terminal at an end.
    #[must_use]
    pub fn at(&self, end: End) -> Option<&Terminal> {
        match end {
            End::From => self.from.as_ref(),
            End::To => self.to.as_ref(),
        }
    }

    /// The marker's lines at an end.
    #[must_use]
    pub fn text(&self, end: End) -> &[String] {
        let [from, to] = &self.texts;
        match end {
            End::From => from,
            End::To => to,
        }
    }
}
