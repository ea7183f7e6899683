//! Painting in order: clear areas take away what lies under them.

use super::drawing::PaintedShape;
use super::{Mark, Plate};
use crate::spec::Paint;
use kurbo::Rect;

/// The marks that are left when all shapes are painted one over another.
///
/// Clear is subtraction on true outlines, never white paint. White counts as clear: without white ink it
/// can only be film left bare.
pub(super) fn paint(shapes: Vec<PaintedShape>) -> Vec<Mark> {
    let mut marks: Vec<Mark> = Vec::with_capacity(shapes.len());
    // As painted, for a quick no: a clear shape lies over few of many marks.
    let mut bounds: Vec<Rect> = Vec::with_capacity(shapes.len());
    for shape in shapes {
        match shape.paint {
            Paint::Ink(colour) if shape.inks() => {
                bounds.push(shape.outline.bounds());
                marks.push(Mark {
                    path: shape.outline,
                    plate: Plate::Ink(colour),
                    role: shape.role,
                    part: shape.part,
                    from: shape.place,
                });
            }
            Paint::Ink(_) | Paint::Clear => {
                let reach = shape.outline.bounds();
                let under = marks.iter_mut().zip(&bounds);
                for (mark, _) in under.filter(|(_, bounds)| bounds.overlaps(reach)) {
                    mark.path = mark.path.minus(&shape.outline);
                }
            }
        }
    }
    let left = marks.into_iter().filter(|mark| !mark.path.is_empty());
    left.map(|mark| Mark { path: mark.path.snug(), ..mark }).collect()
}
