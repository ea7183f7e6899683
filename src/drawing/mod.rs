//! Drawings that people make: SVG as outlines and circles, DXF as circles, in millimetres.
//!
//! A drawing passes a gate first ([`gate`]): what cannot be printed as outlines, or could cost more time
//! than a drawing is worth, is refused by name. usvg settles the rest (shapes, units, references), and
//! [`outlines`] makes filled shapes of it. Nothing but the bytes given is ever read.

mod bitmap;
mod circles;
pub(crate) mod dxf;
mod gate;
mod outlines;
mod page;

use crate::colour::Colour;
use crate::shape::Outline;
use kurbo::Size;
use std::sync::Arc;

pub(crate) use bitmap::Bitmap;
pub(crate) use circles::circles;
pub(crate) use page::Page;

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
pub(crate) struct Refused {
    /// The line of the file; 0 for the whole of it.
    pub line: u32,
    /// What is there.
    pub what: String,
    /// What to do about it.
    pub help: &'static str,
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
pub(crate) enum Read {
    /// A drawing, and what its page says about its size.
    Drawing(Arc<Artwork>, Page),
    /// A picture of dots: it has no outlines.
    Bitmap(Bitmap),
}

/// The drawing in a file's bytes, or all that stands against it.
pub(crate) fn read(bytes: &[u8]) -> Result<Read, Vec<Refused>> {
    if let Some(bitmap) = Bitmap::of(bytes) {
        return Ok(Read::Bitmap(bitmap));
    }
    if bytes.starts_with(&[0x1f, 0x8b]) {
        return Err(Refused::whole("it is packed (svgz)", "save it as a plain SVG"));
    }
    let document = gate::passed(svg_text(bytes, "simplify its paths")?, gate::Notes::Refused)?;
    let page = Page::of(document.root_element());
    let artwork = outlines::artwork(&document, page)?;
    Ok(Read::Drawing(Arc::new(artwork), page))
}

/// The text of an SVG file; `smaller` is what to do about one that is too large.
fn svg_text<'b>(bytes: &'b [u8], smaller: &'static str) -> Result<&'b str, Vec<Refused>> {
    if bytes.len() > LARGEST {
        return Err(Refused::whole("it is larger than 4 MiB", smaller));
    }
    let text = std::str::from_utf8(bytes).map_err(|_| {
        Refused::whole("it is no SVG file in UTF-8", "save the drawing as a plain SVG")
    })?;
    Ok(text.trim_start_matches('\u{feff}'))
}

#[cfg(test)]
mod tests;
