//! Artwork: SVG drawings as outlines in millimetres.
//!
//! A drawing passes a gate first ([`gate`]): what cannot be printed as outlines, or could cost more time
//! than a drawing is worth, is refused by name. usvg settles the rest (shapes, units, references), and
//! [`outlines`] makes filled shapes of it. Nothing but the bytes given is ever read.

mod bitmap;
mod circles;
mod gate;
mod outlines;
mod page;

use crate::colour::Colour;
use crate::shape::Outline;
use kurbo::Size;
use std::sync::Arc;

pub(super) use bitmap::Bitmap;
pub(super) use circles::circles;
pub(super) use page::Page;

/// The largest drawing that is read, bytes.
const LARGEST: usize = 4 * 1024 * 1024;

/// A drawing, as it came from its file.
#[derive(Clone, Debug, PartialEq)]
pub struct Artwork {
    /// Width and height of its page, mm; in units of its own where the page has no size.
    pub size: Size,
    /// Its shapes in painting order, the origin in the middle of the page.
    pub shapes: Vec<ArtShape>,
    /// All of it in one colour: what is white stays open, unless everything is. `None` when its shapes
    /// lie over each other too often to be joined.
    pub silhouette: Option<Outline>,
}

/// One painted shape of a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct ArtShape {
    /// Its outline, in the units of the page's size.
    pub outline: Outline,
    /// Its colour.
    pub colour: Colour,
}

/// Why a drawing, or a part of it, cannot be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Refused {
    /// The line of the file; 0 for the whole of it.
    pub(super) line: u32,
    /// What is there.
    pub(super) what: String,
    /// What to do about it.
    pub(super) help: &'static str,
}

impl Refused {
    fn new(line: u32, what: impl Into<String>, help: &'static str) -> Refused {
        Refused { line, what: what.into(), help }
    }

    fn whole(what: impl Into<String>, help: &'static str) -> Vec<Refused> {
        vec![Refused::new(0, what, help)]
    }
}

/// What came of a file.
#[derive(Clone, Debug)]
pub(super) enum Read {
    /// A drawing, and what its page says about its size.
    Drawing(Arc<Artwork>, Page),
    /// A picture of dots: it has no outlines.
    Bitmap(Bitmap),
}

/// The drawing in a file's bytes, or all that stands against it.
pub(super) fn read(bytes: &[u8]) -> Result<Read, Vec<Refused>> {
    if let Some(bitmap) = Bitmap::of(bytes) {
        return Ok(Read::Bitmap(bitmap));
    }
    if bytes.starts_with(&[0x1f, 0x8b]) {
        return Err(Refused::whole("it is packed (svgz)", "save it as a plain SVG"));
    }
    if bytes.len() > LARGEST {
        return Err(Refused::whole("it is larger than 4 MiB", "simplify its paths"));
    }
    let Ok(text) = std::str::from_utf8(bytes) else {
        return Err(Refused::whole(
            "it is no SVG file in UTF-8",
            "save the drawing as a plain SVG",
        ));
    };
    let text = text.trim_start_matches('\u{feff}');
    let document = gate::passed(text, gate::Notes::Refused)?;
    let page = Page::of(document.root_element());
    let artwork = outlines::artwork(&document, page)?;
    Ok(Read::Drawing(Arc::new(artwork), page))
}

#[cfg(test)]
mod tests;
