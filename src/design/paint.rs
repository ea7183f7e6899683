//! Painting in order: clear areas take away what lies under them.

use super::piece::Piece;
use super::{Mark, Plate};
use crate::spec::Paint;

/// The marks that are left when all pieces are painted one over another.
///
/// Clear is subtraction on true outlines, never white paint. White counts as clear: without white ink it
/// can only be film left bare.
pub(super) fn paint(pieces: Vec<Piece>) -> Vec<Mark> {
    let mut marks: Vec<Mark> = Vec::with_capacity(pieces.len());
    for piece in pieces {
        match piece.paint {
            Paint::Ink(colour) if piece.inks() => marks.push(Mark {
                path: piece.outline,
                plate: Plate::Ink(colour),
                role: piece.role,
                from: piece.place,
            }),
            Paint::Ink(_) | Paint::Clear => {
                for mark in &mut marks {
                    mark.path = mark.path.minus(&piece.outline);
                }
            }
        }
    }
    let left = marks.into_iter().filter(|mark| !mark.path.is_empty());
    left.map(|mark| Mark { path: mark.path.snug(), ..mark }).collect()
}
