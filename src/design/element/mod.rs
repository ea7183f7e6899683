//! The elements a label is made of, one file each: from what was asked to pieces in the part's own frame.

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
use super::piece::{Drawn, Piece, bounds};
use crate::finding::{Findings, Place};
use crate::font::Faces;
use crate::spec::{Element, Paint, Printer};
use kurbo::Size;

/// What drawing needs besides the part itself.
pub(super) struct Bench<'a> {
    pub(super) faces: &'a Faces,
    pub(super) findings: &'a mut Findings,
    /// The label that is drawn.
    pub(super) label: &'a str,
    /// What a box without a size of its own must fill, when the label's size is fixed.
    pub(super) room: Option<Size>,
    /// Whose dots codes are made of.
    pub(super) printer: &'a Printer,
}

/// Draws an element with its middle (text: its alignment point) at the origin.
///
/// A box without a size comes out as `None`: it can only be drawn round its neighbours (see [`arrange`]).
fn draw(element: &Element, place: Place, bench: &mut Bench<'_>) -> Option<Drawn> {
    Some(match element {
        Element::Text(text) => text::draw(text, bench),
        Element::Box(frame) => frame::draw(frame, frame.size.or(bench.room)?, place),
        Element::Line(line) => line::draw(line, place),
        Element::Ring(ring) => ring::draw(ring, place),
        Element::Chevron(chevron) => chevron::draw(chevron, place),
        Element::Scale(scale) => scale::draw(scale, bench),
        Element::Art(art) => art::draw(art, place),
        Element::Symbol(symbol) => symbol::draw(symbol, place),
        Element::Code(code) => code::draw(code, bench),
        Element::Bracket(bracket) => bracket::draw(bracket, place, bench),
        Element::Group(group) => group::draw(group, bench),
        Element::Legend(legend) => group::legend(legend, bench),
    })
}

/// Outlines of bands or stripes, one piece for each, paints taken in turn.
fn in_turn(
    outlines: impl IntoIterator<Item = crate::shape::Outline>,
    paints: &[Paint],
    place: Place,
) -> Drawn {
    let mut paints = paints.iter().copied().cycle();
    let pieces: Vec<Piece> = outlines
        .into_iter()
        .filter_map(|outline| Some(Piece::plain(outline, paints.next()?, Role::Line, place)))
        .collect();
    let area = bounds(&pieces);
    Drawn { pieces, area, frames: Vec::new(), texts: Vec::new() }
}
