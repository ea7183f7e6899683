//! What writes the sheets: set letters, wires seen from the side as swatches, and the pages they come on.

use crate::card::Card;
use crate::card::page::{self, Binder};
use crate::card::strip::{RULE, Strip, StripWriter};
use crate::colour::Colour;
use crate::font::Faces;
use crate::shape::{self, Outline};
use crate::spec::Spec;
use crate::spec::wiring::WireColour;
use kurbo::{Rect, Size};
use std::collections::BTreeMap;

/// A piece of wire seen from the side, mm.
pub(super) const SWATCH: Size = Size::new(5.6, 2.6);

/// Sets words and draws swatches, each once, and puts rows on pages.
pub(super) struct SheetWriter<'a> {
    pub(super) strips: StripWriter<'a>,
    swatches: BTreeMap<Vec<Colour>, usize>,
    binder: Binder,
}

impl<'a> SheetWriter<'a> {
    pub(super) fn new(spec: &Spec, faces: &'a Faces) -> SheetWriter<'a> {
        SheetWriter {
            strips: StripWriter::new(faces, 0, page::width(spec)),
            swatches: BTreeMap::new(),
            binder: Binder::new(spec, Vec::new()),
        }
    }

    /// Puts a strip on the page.
    pub(super) fn put(&mut self, strip: Strip) {
        self.binder.add(strip);
    }

    /// Puts the strip at hand on the page.
    pub(super) fn put_written(&mut self) {
        self.binder.add(self.strips.take());
    }

    /// The pages, and what they place.
    pub(super) fn finish(self, spec: &Spec) -> Card {
        self.binder.bound(spec, self.strips)
    }

    /// The drawing of a wire of this colour, its top left corner at the origin.
    pub(super) fn swatch(&mut self, colour: &WireColour) -> usize {
        let shown = colour.shown();
        if let Some(drawn) = self.swatches.get(&shown) {
            return *drawn;
        }
        let drawn = self.strips.setter.keep_all("swatch", swatch(&shown));
        self.swatches.insert(shown, drawn);
        drawn
    }
}

/// The ground colour with the others as stripes along its middle, in a thin line that keeps white visible.
fn swatch(shown: &[Colour]) -> Vec<(Outline, Colour)> {
    const LINE: f64 = 0.12;
    /// How much of the height all stripes take.
    const STRIPES: f64 = 0.42;
    let whole = Rect::from_origin_size((0.0, 0.0), SWATCH);
    let inner = whole.inflate(-LINE, -LINE);
    let mut paths = vec![(shape::rounded(whole, 0.6), RULE)];
    let Some((ground, stripes)) = shown.split_first() else { return paths };
    paths.push((shape::rounded(inner, 0.6 - LINE), *ground));
    let all = inner.height() * STRIPES;
    let mut top = inner.center().y - all / 2.0;
    for stripe in stripes {
        let bottom = top + all / stripes.len() as f64;
        paths.push((shape::rectangle(Rect::new(inner.x0, top, inner.x1, bottom)), *stripe));
        top = bottom;
    }
    paths
}
