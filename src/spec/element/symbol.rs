//! Symbols of the built-in set, found by name.

use super::{AnyElement, Around, Element, Keys, Paint, Part, Stroke, placed};
use crate::finding::{Place, quoted};
use crate::spec::reader::{Least, Reader};
use crate::spec::symbols::{GRID, SIGNS, Sign};
use crate::yaml::{OneOrList, Scalar, keys};

/// How many cap heights a symbol is high beside the label's text (common practice, no source): its grid
/// has air round it, so that a circle comes out 1.8 cap heights high.
const USUAL_CAPS: f64 = 2.0;

/// Size where the label's text has no cap height of its own, mm.
const USUAL_SIZE: f64 = 6.0;

/// Stroke of a symbol that does not say, in units of its grid.
const USUAL_STROKE: f64 = 2.0;

keys! {
    /// A symbol of the built-in set.
    #[schemars(extend("x-short" = "name"))]
    pub(in crate::spec) struct SymbolKeys {
        /// Its name: `on`, `off`, `stand-by`, `earth`, `arrow`…
        name: Option<Scalar>,
        /// Side of the square it is drawn in; without it twice the cap height of the label's text.
        size: Option<Scalar>,
        /// Width of its strokes, as thick as the letters beside it; without it a tenth of the size.
        stroke: Option<Scalar>,
        /// A colour, or `clear`; without it that of the label's text.
        paint: Option<Scalar>,
        /// Where its middle is.
        at: Option<OneOrList>,
        /// Degrees clockwise.
        turned: Option<Scalar>,
    }
}

/// A symbol on a label.
#[derive(Clone, Debug, PartialEq)]
pub struct Symbol {
    /// Which.
    pub sign: &'static Sign,
    /// Side of the square its grid fills, mm.
    pub size: f64,
    /// Width of its strokes, mm.
    pub stroke: f64,
    /// Ink or clear.
    pub paint: Paint,
}

impl AnyElement for Symbol {
    fn strokes(&self) -> Vec<Stroke> {
        vec![Stroke { width: self.stroke, paint: self.paint, word: "symbol's stroke" }]
    }

    fn widen(&mut self, width: &dyn Fn(f64, Paint) -> f64) {
        self.stroke = width(self.stroke, self.paint);
    }

    fn paints(&self) -> Vec<Paint> {
        vec![self.paint]
    }

    fn line_words(&self) -> &'static str {
        "the symbol"
    }
}

impl Keys for SymbolKeys {
    fn part(&self, place: Place, around: &Around, reader: &mut Reader) -> Option<Part> {
        let sign = sign(&self.name, place, reader);
        let size = reader.length(&self.size, Least::Something);
        let size = size.or(around.cap_mm.map(|cap| cap * USUAL_CAPS)).unwrap_or(USUAL_SIZE);
        let stroke = reader.length(&self.stroke, Least::Something);
        let stroke = stroke.unwrap_or(size * USUAL_STROKE / GRID);
        if stroke > size / 4.0 {
            let place = self.stroke.as_ref().map_or(place, |stroke| stroke.place);
            let message = "the stroke is more than a quarter of the symbol's size";
            reader.wrong("bad-length", place, message, "a tenth of the size is usual");
            return None;
        }
        let paint = reader.paint_or_black(&self.paint);
        let element = Element::Symbol(Symbol { sign: sign?, size, stroke, paint });
        Some(placed(element, place, &self.at, &self.turned, reader))
    }
}

fn sign(name: &Option<Scalar>, place: Place, reader: &mut Reader) -> Option<&'static Sign> {
    let scalar = reader.needed(name, "a symbol", ("name", "earth"), place)?;
    let name = scalar.trimmed();
    let found = SIGNS.iter().find(|sign| sign.name == name);
    if found.is_none() {
        let names = || SIGNS.iter().map(|sign| sign.name);
        let otherwise = format!("the symbols are {}", names().collect::<Vec<_>>().join(", "));
        let help = reader.did_you_mean(name, names(), otherwise);
        let message = format!("no symbol is called {}", quoted(name));
        reader.wrong("unknown-symbol", scalar.place, message, help);
    }
    found
}
