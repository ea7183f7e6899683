//! The wiring of a job: wires with both their ends, and what their markers should be.

mod colour;
mod column;
mod gauge;
mod markers;
mod row;
mod rows;
mod terminal;

pub use colour::{ColourCode, WireColour};
pub use gauge::{Gauge, Insulation};
pub use markers::{Grid, MarkerKind, Markers};
pub(super) use rows::{WiresKeys, wires};
pub use terminal::Terminal;

use crate::finding::Place;
use kurbo::Vec2;
use std::collections::BTreeMap;

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

/// What a wire's marker marks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MarkerOf {
    /// Which wire: an index into [`Wiring::wires`].
    pub wire: usize,
    /// Where along it.
    pub spot: Spot,
    /// Its kind.
    pub kind: MarkerKind,
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
    pub kind: Option<MarkerKind>,
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
