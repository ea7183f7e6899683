//! The elements a label is made of, one file each: from what was asked to shapes in the part's own frame.

mod art;
mod bracket;
mod chevron;
mod code;
mod frame;
mod group;
mod line;
mod ring;
mod scale;
mod symbol;
mod text;

pub(super) use frame::FrameShape;
pub(super) use group::arrange;

use super::Role;
use super::drawing::{PaintedShape, PartDrawing};
use crate::finding::{Findings, Place};
use crate::font::Faces;
use crate::spec::{Element, Paint, Printer};
use kurbo::Size;

/// What drawing needs besides the part itself.
pub(super) struct DrawContext<'a> {
    pub(super) faces: &'a Faces,
    pub(super) findings: &'a mut Findings,
    /// The label that is drawn.
    pub(super) label: &'a str,
    /// The size, mm, of a box without one of its own, when the label's size is fixed.
    pub(super) box_size: Option<Size>,
    /// The printer: codes are made of whole dots of it.
    pub(super) printer: &'a Printer,
}

/// Draws an element with its middle (text: its alignment point) at the origin.
///
/// A box without a size comes out as `None`: it can only be drawn round its neighbours (see [`arrange`]).
fn draw(element: &Element, place: Place, context: &mut DrawContext<'_>) -> Option<PartDrawing> {
    Some(match element {
        Element::Text(text) => text::draw(text, context),
        Element::Box(frame) => frame::draw(frame, frame.size.or(context.box_size)?, place),
        Element::Line(line) => line::draw(line, place),
        Element::Ring(ring) => ring::draw(ring, place),
        Element::Chevron(chevron) => chevron::draw(chevron, place),
        Element::Scale(scale) => scale::draw(scale, context),
        Element::Art(art) => art::draw(art, place),
        Element::Symbol(symbol) => symbol::draw(symbol, place),
        Element::Code(code) => code::draw(code, context),
        Element::Bracket(bracket) => bracket::draw(bracket, place, context),
        Element::Group(group) => group::draw(group, context),
        Element::Legend(legend) => group::legend(legend, context),
    })
}

/// What is drawn, and reported, by an element on its own.
#[cfg(test)]
fn drawn_alone(
    printer: &Printer,
    draw: impl FnOnce(&mut DrawContext<'_>) -> PartDrawing,
) -> (PartDrawing, Findings) {
    let (faces, mut findings) = (Faces::bundled(), Findings::default());
    let drawn = draw(&mut DrawContext {
        faces: &faces,
        findings: &mut findings,
        label: "",
        box_size: None,
        printer,
    });
    (drawn, findings)
}

/// Outlines of bands or stripes, one shape for each, paints taken in turn.
fn in_turn(
    outlines: impl IntoIterator<Item = crate::shape::Outline>,
    paints: &[Paint],
    place: Place,
) -> PartDrawing {
    let mut paints = paints.iter().copied().cycle();
    let painted = |outline| Some(PaintedShape::plain(outline, paints.next()?, Role::Line, place));
    PartDrawing::of(outlines.into_iter().filter_map(painted).collect())
}
