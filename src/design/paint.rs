//! Painting in order: clear areas take away what lies under them.

use super::piece::Piece;
use super::{Mark, Plate};
use crate::spec::Paint;
use kurbo::Rect;

/// The marks that are left when all pieces are painted one over another.
///
/// Clear is subtraction on true outlines, never white paint. White counts as clear: without white ink it
/// can only be film left bare.
pub(super) fn paint(pieces: Vec<Piece>) -> Vec<Mark> {
    let mut marks: Vec<Mark> = Vec::with_capacity(pieces.len());
    // As painted, for a quick no: a clear piece lies over few of many marks.
    let mut bounds: Vec<Rect> = Vec::with_capacity(pieces.len());
    for piece in pieces {
        match piece.paint {
            Paint::Ink(colour) if piece.inks() => {
                bounds.push(piece.outline.bounds());
                marks.push(Mark {
                    path: piece.outline,
                    plate: Plate::Ink(colour),
                    role: piece.role,
                    part: piece.part,
                    from: piece.place,
                });
            }
            Paint::Ink(_) | Paint::Clear => {
                let reach = piece.outline.bounds();
                let under = marks.iter_mut().zip(&bounds);
                for (mark, _) in under.filter(|(_, bounds)| bounds.overlaps(reach)) {
                    mark.path = mark.path.minus(&piece.outline);
                }
            }
        }
    }
    let left = marks.into_iter().filter(|mark| !mark.path.is_empty());
    left.map(|mark| Mark { path: mark.path.snug(), ..mark }).collect()
}
