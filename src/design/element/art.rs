//! Drawings from files: each shape in its own colour, or all of it in one.

use super::super::Role;
use super::super::piece::{Drawn, Piece};
use crate::finding::Place;
use crate::shape::Outline;
use crate::spec::{Art, Paint};
use kurbo::{Affine, Point, Rect};

pub(super) fn draw(art: &Art, place: Place) -> Drawn {
    let from = art.artwork.size;
    let to_label =
        Affine::scale_non_uniform(art.size.width / from.width, art.size.height / from.height);
    let piece =
        |outline: &Outline, paint| Piece::plain(outline.placed(to_label), paint, Role::Fill, place);
    let pieces = match art.paint {
        Some(paint) => art.artwork.silhouette.iter().map(|outline| piece(outline, paint)).collect(),
        None => art
            .artwork
            .shapes
            .iter()
            .map(|shape| piece(&shape.outline, Paint::Ink(shape.colour)))
            .collect(),
    };
    let area = Rect::from_center_size(Point::ORIGIN, art.size);
    Drawn { pieces, area, frames: Vec::new(), texts: Vec::new() }
}
