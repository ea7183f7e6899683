//! What a label holds: parts, each one element; one file an element.
//!
//! A file has the keys of its element as they are typed (their doc comments are what editors show), what they
//! mean, how the one becomes the other, and what others ask of it ([`AnyElement`]). `src/design/element/` draws it.

pub(crate) mod art;
pub(crate) mod bracket;
pub(crate) mod chevron;
pub(crate) mod code;
pub(crate) mod frame;
pub(crate) mod group;
pub(crate) mod legend;
pub(crate) mod line;
pub(crate) mod ring;
pub(crate) mod scale;
pub(crate) mod symbol;
pub(crate) mod text;

use super::reader::{Least, Reader};
use crate::colour::Colour;
use crate::finding::Place;
use crate::yaml::{FromTree, OneOrList, Placed, Scalar, Tree};
use kurbo::Vec2;

/// What a part does to what lies under it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Paint {
    /// Lays down ink.
    Ink(Colour),
    /// Takes all ink away: what is underneath shows.
    Clear,
}

impl Paint {
    /// The ink taken where a job says nothing.
    pub const BLACK: Paint = Paint::Ink(Colour::BLACK);

    /// Whether it leaves what is underneath to be seen: white ink does, on printers without white.
    #[must_use]
    pub fn leaves_bare(self) -> bool {
        matches!(self, Paint::Clear | Paint::Ink(Colour::WHITE))
    }
}

/// Tells a part from all others of a job; 0, the default, is no part: what holes and sheets draw.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub u32);

/// One thing on a label.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Its number in the job, given once all labels are there (`number_parts`).
    pub id: PartId,
    /// Where its middle (text: its alignment point, middle of the capitals) lies from the label's middle, mm.
    pub at: Vec2,
    /// Degrees clockwise about that point.
    pub turned: f64,
    /// What it is.
    pub element: Element,
    /// Where it is asked for, for messages.
    pub place: Place,
}

impl Part {
    /// An element in the middle of its label.
    #[must_use]
    pub fn new(element: Element, place: Place) -> Part {
        Part { id: PartId::default(), at: Vec2::ZERO, turned: 0.0, element, place }
    }

    /// The same at another point, mm, turned clockwise by these degrees.
    #[must_use]
    pub fn at(self, at: Vec2, turned: f64) -> Part {
        Part { at, turned, ..self }
    }

    /// Visits parts in painting order, the members of rows, columns and legends included.
    pub fn each<'p>(parts: &'p [Part], visit: &mut dyn FnMut(&'p Part)) {
        for part in parts {
            visit(part);
            Part::each(part.element.any().members(), visit);
        }
    }

    /// The same, to change them.
    pub fn each_mut(parts: &mut [Part], visit: &mut dyn FnMut(&mut Part)) {
        for part in parts {
            visit(part);
            Part::each_mut(part.element.any_mut().members_mut(), visit);
        }
    }

    /// The part of this number.
    #[must_use]
    pub fn numbered(parts: &[Part], id: PartId) -> Option<&Part> {
        let mut found = None;
        Part::each(parts, &mut |part| {
            if part.id == id {
                found = Some(part);
            }
        });
        found
    }
}

/// Gives the parts of all labels their numbers, from 1.
pub(crate) fn number_parts<'l>(labels: impl Iterator<Item = &'l mut Vec<Part>>) {
    let mut last = 0;
    for parts in labels {
        Part::each_mut(parts, &mut |part| {
            last += 1;
            part.id = PartId(last);
        });
    }
}

/// A line that an element draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its width, mm.
    pub width: f64,
    /// Ink or clear.
    pub paint: Paint,
    /// What it is called.
    pub word: &'static str,
}

/// What is asked of any element by those who do not draw it.
pub trait AnyElement {
    /// Its lines, each width and paint once.
    fn strokes(&self) -> Vec<Stroke> {
        Vec::new()
    }

    /// Sets each line as wide as `width` says for its own width and paint.
    fn widen(&mut self, _width: &dyn Fn(f64, Paint) -> f64) {}

    /// Every paint it asks for.
    fn paints(&self) -> Vec<Paint>;

    /// The parts it holds.
    fn members(&self) -> &[Part] {
        &[]
    }

    /// The same, to change them.
    fn members_mut(&mut self) -> &mut [Part] {
        &mut []
    }

    /// What messages call its lines.
    fn line_words(&self) -> &'static str {
        "a line"
    }

    /// The start of a sentence about ink of it that is too thin.
    fn ink_words(&self) -> &'static str {
        "ink is"
    }

    /// The start of a sentence about a gap in it that is too narrow.
    fn gap_words(&self) -> &'static str {
        "a clear gap is"
    }

    /// It as any element, behind a box too.
    fn as_any(&self) -> &dyn AnyElement
    where
        Self: Sized,
    {
        self
    }

    /// The same, to change it.
    fn as_any_mut(&mut self) -> &mut dyn AnyElement
    where
        Self: Sized,
    {
        self
    }
}

/// What the reading of an element needs of the label round it.
pub(super) struct Around {
    /// Where the label stands, for parts without a single value.
    pub(super) label: Place,
    /// Cap height of the label's text, mm, where that is how its size is given.
    pub(super) cap_mm: Option<f64>,
}

/// The keys of an element, as they are typed.
pub(super) trait Keys {
    /// The part they ask for; `None`, and reported, when it cannot be made.
    fn part(&self, place: Place, around: &Around, reader: &mut Reader) -> Option<Part>;
}

/// Declares [`Element`], and the one-key maps of `parts:` that make them.
macro_rules! elements {
    ($($variant:ident($meant:ty) $(, $(#[$doc:meta])* $key:ident: $keys:ty)*;)+) => {
        /// The kinds of thing a label can hold.
        #[derive(Clone, Debug, PartialEq)]
        pub enum Element {
            $(#[doc = concat!("See `", stringify!($meant), "`.")] $variant($meant),)+
        }

        impl Element {
            /// What is asked of any element.
            #[must_use]
            pub fn any(&self) -> &dyn AnyElement {
                match self {
                    $(Element::$variant(it) => it.as_any(),)+
                }
            }

            /// The same, to change it.
            pub fn any_mut(&mut self) -> &mut dyn AnyElement {
                match self {
                    $(Element::$variant(it) => it.as_any_mut(),)+
                }
            }
        }

        /// One part: a map with one key that names the element.
        #[derive(Clone, Debug, schemars::JsonSchema)]
        #[schemars(rename_all = "kebab-case", extend("x-one" = "a part is one element"))]
        pub(super) enum PartKeys {
            $($($(#[$doc])* $key($keys),)*)+
        }

        impl FromTree for PartKeys {
            fn from_tree(part: &Tree) -> Option<PartKeys> {
                let (key, value) = part.entries().first()?;
                $($(if key.text.eq_ignore_ascii_case(stringify!($key)) {
                    return FromTree::from_tree(value).map(PartKeys::$key);
                })*)+
                None
            }
        }

        impl PartKeys {
            fn keys(&self) -> &dyn Keys {
                match self {
                    $($(PartKeys::$key(keys) => keys,)*)+
                }
            }
        }
    };
}

// What it means; then each key that makes it, with what editors show for the key, and its keys.
elements! {
    Text(text::Text), /** Words. */ Text: text::TextKeys;
    Box(frame::Frame), /** A box or an ellipse. */ Box: frame::FrameKeys;
    Line(line::Line), /** A line or stripes. */ Line: line::LineKeys;
    Ring(ring::Ring), /** A ring. */ Ring: ring::RingKeys, /** A disc. */ Disc: ring::DiscKeys;
    Chevron(chevron::Chevron), /** Chevrons pointing right. */ Chevron: chevron::ChevronKeys;
    Scale(Box<scale::Scale>),
        /** A dial: marks and numbers round a centre. */ Dial: scale::DialKeys,
        /** A straight scale. */ Scale: scale::StraightKeys;
    Symbol(symbol::Symbol), /** A symbol: its name, or a map. */ Symbol: symbol::SymbolKeys;
    Art(art::Art), /** A drawing from an SVG file. */ Art: art::ArtKeys;
    Code(code::Code), /** A code for machines to read. */ Code: code::CodeKeys;
    Bracket(Box<bracket::Bracket>),
        /** A bracket over a group of controls. */ Bracket: bracket::BracketKeys;
    Group(group::Group),
        /** Parts side by side. */ Row: group::RowKeys,
        /** Parts one under another. */ Column: group::ColumnKeys;
    // A panel makes these of its own keys.
    Legend(legend::Legend);
}

/// All parts of a list that can be used.
pub(super) fn parts(list: &[Placed<PartKeys>], around: &Around, reader: &mut Reader) -> Vec<Part> {
    let one =
        |Placed { place, value }: &Placed<PartKeys>| value.keys().part(*place, around, reader);
    list.iter().filter_map(one).collect()
}

/// An element where its keys `at` and `turned` put it.
fn placed(
    element: Element,
    place: Place,
    at: &Option<OneOrList>,
    turned: &Option<Scalar>,
    reader: &mut Reader,
) -> Part {
    Part::new(element, place).at(reader.at(at), reader.turn(turned))
}

/// A length an element cannot do without.
fn needed(
    scalar: &Option<Scalar>,
    element: &str,
    key: &str,
    place: Place,
    reader: &mut Reader,
) -> Option<f64> {
    let scalar = reader.needed(scalar, element, (key, "5 mm"), place)?;
    reader.length(scalar, Least::Something)
}
