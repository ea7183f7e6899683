//! Drawings from files: each shape in its own colour, or all of it in one.

use super::super::Role;
use super::super::drawing::{PaintedShape, PartDrawing};
use crate::finding::Place;
use crate::shape::Outline;
use crate::spec::{Art, Paint};
use kurbo::{Affine, Point, Rect};

pub(super) fn draw(art: &Art, place: Place) -> PartDrawing {
    let from = art.artwork.size;
    let to_label =
        Affine::scale_non_uniform(art.size.width / from.width, art.size.height / from.height);
    let painted = |outline: &Outline, paint| {
        PaintedShape::plain(outline.placed(to_label), paint, Role::Fill, place)
    };
    let (all, each) = (art.artwork.silhouette.iter(), art.artwork.shapes.iter());
    let shapes = match art.paint {
        Some(paint) => all.map(|outline| painted(outline, paint)).collect(),
        None => each.map(|one| painted(&one.outline, Paint::Ink(one.colour))).collect(),
    };
    let area = Rect::from_center_size(Point::ORIGIN, art.size);
    PartDrawing::taking_up(area, shapes)
}
