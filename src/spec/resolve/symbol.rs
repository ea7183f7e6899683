//! Symbols of the built-in set, found by name.

use super::parts::{Around, set};
use super::reader::{Least, Reader, quoted};
use crate::colour::Colour;
use crate::finding::Place;
use crate::spec::art_draft::SymbolDraft;
use crate::spec::typed::{Shorthand, Typed};
use crate::spec::{Element, GRID, Paint, Part, SIGNS, Sign, Symbol};

/// How many cap heights a symbol is high beside the label's text (common practice, no source): its grid
/// has air round it, so that a circle comes out 1.8 cap heights high.
const USUAL_CAPS: f64 = 2.0;

/// Size where the label's text has no cap height of its own, mm.
const USUAL_SIZE: f64 = 6.0;

/// Stroke of a symbol that does not say, in units of its grid.
const USUAL_STROKE: f64 = 2.0;

pub(super) fn part(
    draft: Shorthand<SymbolDraft>,
    place: Place,
    around: &Around<'_>,
    reader: &mut Reader<'_, '_>,
) -> Option<Part> {
    let draft = match draft {
        Shorthand::Short(many) => {
            SymbolDraft { name: many.items.into_iter().next(), ..SymbolDraft::default() }
        }
        Shorthand::Long(map) => *map,
    };
    let sign = sign(draft.name.as_ref(), place, reader);
    let cap_height = reader.length(around.text.cap_height.as_ref(), Least::Something);
    let size = reader.length(draft.size.as_ref(), Least::Something);
    let size = size.or(cap_height.map(|cap| cap * USUAL_CAPS)).unwrap_or(USUAL_SIZE);
    let stroke = reader.length(draft.stroke.as_ref(), Least::Something);
    let stroke = stroke.unwrap_or(size * USUAL_STROKE / GRID);
    if stroke > size / 4.0 {
        let place = draft.stroke.as_ref().map_or(place, |typed| typed.place);
        let message = "the stroke is more than a quarter of the symbol's size".to_owned();
        reader.wrong("bad-length", place, message, "a tenth of the size is usual");
        return None;
    }
    let paint = draft.paint.as_ref().or(around.text.paint.as_ref());
    let paint = reader.paint(paint).unwrap_or(Paint::Ink(Colour::BLACK));
    let symbol = Symbol { sign: sign?, size, stroke, paint };
    let element = (Element::Symbol(symbol), place);
    Some(set(draft.at.as_ref(), draft.turned.as_ref(), element, reader))
}

fn sign(typed: Option<&Typed>, place: Place, reader: &mut Reader<'_, '_>) -> Option<&'static Sign> {
    let Some(typed) = typed else {
        let message = "a symbol needs `name`".to_owned();
        reader.wrong("missing", place, message, "add it, for example `name: earth`");
        return None;
    };
    let name = typed.text.trim();
    let found = SIGNS.iter().find(|sign| sign.name == name);
    if found.is_none() {
        let names = || SIGNS.iter().map(|sign| sign.name);
        let help = match reader.nearest(name, names()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("the symbols are {}", names().collect::<Vec<_>>().join(", ")),
        };
        let message = format!("no symbol is called {}", quoted(name));
        reader.wrong("unknown-symbol", typed.place, message, help);
    }
    found
}
