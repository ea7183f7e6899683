//! What a label holds: parts, each one element.

use super::{Art, Code, Symbol, dial, panel};
use crate::colour::Colour;
use crate::finding::Place;
use kurbo::{Size, Vec2};

/// What a part does to what lies under it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Paint {
    /// Lays down ink.
    Ink(Colour),
    /// Takes all ink away: what is underneath shows.
    Clear,
}

/// One thing on a label.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Where its middle (text: its alignment point, middle of the capitals) lies from the label's middle, mm.
    pub at: Vec2,
    /// Degrees clockwise about that point.
    pub turned: f64,
    /// What it is.
    pub element: Element,
    /// Where it is asked for.
    pub place: Place,
}

impl Part {
    /// Visits parts in painting order, the members of rows, columns and legends included.
    pub fn each<'p>(parts: &'p [Part], visit: &mut dyn FnMut(&'p Part)) {
        for part in parts {
            visit(part);
            match &part.element {
                Element::Group(group) => Part::each(&group.parts, visit),
                Element::Legend(legend) => Part::each(&legend.parts, visit),
                _ => {}
            }
        }
    }
}

/// The kinds of thing a label can hold.
#[derive(Clone, Debug, PartialEq)]
pub enum Element {
    /// Words.
    Text(Text),
    /// A box or an ellipse, filled or lined.
    Box(Frame),
    /// A straight line or stripe.
    Line(Line),
    /// A disc or ring.
    Ring(Ring),
    /// A row of chevrons.
    Chevron(Chevron),
    /// A dial or a straight scale.
    Scale(Box<dial::Scale>),
    /// A symbol of the built-in set.
    Symbol(Symbol),
    /// A drawing from a file.
    Art(Art),
    /// A code for machines to read.
    Code(Code),
    /// A bracket over a group of controls.
    Bracket(Box<Bracket>),
    /// Parts in a row or column.
    Group(Group),
    /// A panel's legend: parts that stand to one side of a point.
    Legend(Legend),
}

/// How tall text is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TextSize {
    /// By the height of a flat capital, mm.
    CapHeight(f64),
    /// By the font's em, mm.
    Em(f64),
    /// As large as fits into this width and height, mm: the widest line and the ink from top to bottom.
    Fit(Size),
}

/// How lines of text lie to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Flush left.
    Left,
    /// Centred.
    Centre,
    /// Flush right.
    Right,
}

/// Words on a label.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// One entry a line, as they will read.
    pub lines: Vec<String>,
    /// The font: a role, a family, or a file's name, known to `Faces`.
    pub font: String,
    /// How tall.
    pub size: TextSize,
    /// Extra space after each letter as a share of the cap height.
    pub tracking: f64,
    /// Base line to base line as a multiple of the cap height.
    pub line_pitch: f64,
    /// How lines lie to each other and to `at`.
    pub align: Align,
    /// The widest it may be, mm; wider is an error, never shrunk.
    pub width: Option<f64>,
    /// Spaced out to be this wide, mm; the letters keep their shape.
    pub spread: Option<f64>,
    /// The arc it stands on instead of a straight line.
    pub arc: Option<dial::Arc>,
    /// Figures of one width.
    pub tabular: bool,
    /// Ink or clear.
    pub paint: Paint,
    /// Where the words are written.
    pub place: Place,
}

/// The outline of a box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Corners {
    /// Rounded by this radius, mm; 0 is square.
    Radius(f64),
    /// Half a circle at each end.
    RoundEnded,
    /// An ellipse; a circle when as wide as high.
    Ellipse,
    /// Both ends slanted like a parallelogram, degrees from upright, leaning right when positive.
    Slanted(f64),
    /// The right-hand end drawn to a point this long, mm.
    Pointed(f64),
}

/// A box round the text, or of its own size.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// Width and height, mm; `None`: the other parts' bounds plus padding.
    pub size: Option<Size>,
    /// Across and down, mm, when the size follows from the text.
    pub padding: Vec2,
    /// Least size, mm, when it follows from the text.
    pub least: Size,
    /// Its outline.
    pub corners: Corners,
    /// Its fill, if any.
    pub fill: Option<Paint>,
    /// Its border, if any.
    pub line: Option<FrameLine>,
}

/// The border of a box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrameLine {
    /// Its width, mm; it lies inside the outline.
    pub width: f64,
    /// How far inside the outline it starts, mm.
    pub inset: f64,
    /// Ink or clear.
    pub paint: Paint,
}

/// How the end of a line looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LineEnd {
    /// Cut off square.
    Square,
    /// A half circle.
    Round,
    /// An arrow head, as long as its width times this.
    Arrow(f64),
    /// Cut off at a slant, degrees from square.
    Slant(f64),
}

/// A straight line or stripe, lying level before it is turned.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Length from end to end, mm.
    pub length: f64,
    /// Width of each stripe, mm.
    pub width: f64,
    /// How many stripes, one under another.
    pub count: u32,
    /// From middle to middle of neighbouring stripes, mm.
    pub pitch: f64,
    /// How the left and the right end look.
    pub ends: [LineEnd; 2],
    /// Ink or clear, of each stripe in turn.
    pub paints: Vec<Paint>,
}

/// A disc, or a ring when it has an inner diameter.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// Outer diameter, mm.
    pub outer: f64,
    /// Inner diameter, mm; 0 is a disc.
    pub inner: f64,
    /// Ink or clear.
    pub paint: Paint,
}

/// Chevrons pointing right, one behind another.
#[derive(Clone, Debug, PartialEq)]
pub struct Chevron {
    /// How many.
    pub count: u32,
    /// Width of each band measured along its direction, mm.
    pub width: f64,
    /// Clear space between bands along the direction, mm.
    pub gap: f64,
    /// Overall height across the direction, mm.
    pub height: f64,
    /// Angle between the two arms, degrees: 180 would be straight.
    pub angle: f64,
    /// Ink or clear, of each band in turn.
    pub paints: Vec<Paint>,
}

/// Which way a group runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Left to right.
    Row,
    /// Top to bottom.
    Column,
}

/// How the members of a group line up across its direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GroupAlign {
    /// By their tops (row) or left edges (column).
    Start,
    /// By their middles.
    Centre,
    /// By their bottoms or right edges.
    End,
    /// Texts by their base line (rows only); other parts by their bottoms.
    BaseLine,
}

/// Parts laid in a row or column, the whole centred on its own point.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Which way.
    pub direction: Direction,
    /// Between the bounds of neighbours, mm.
    pub gap: f64,
    /// How they line up.
    pub align: GroupAlign,
    /// The members; their `at` shifts them from their place in the run.
    pub parts: Vec<Part>,
}

/// A level line with both ends bent, its title in the middle of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Bracket {
    /// From end to end, mm.
    pub length: f64,
    /// Length of the bent ends, mm: down when positive, up when negative.
    pub ends: f64,
    /// Width of the line, mm.
    pub width: f64,
    /// Ink or clear, of the line.
    pub paint: Paint,
    /// What interrupts the line.
    pub title: Option<Text>,
}

/// Parts drawn like a label of their own, then moved to stand on one side of their point.
#[derive(Clone, Debug, PartialEq)]
pub struct Legend {
    /// The side.
    pub side: panel::Side,
    /// What a box without a size of its own fills, when the legend has a fixed size, mm.
    pub size: Option<Size>,
    /// The parts, painted in order.
    pub parts: Vec<Part>,
}
