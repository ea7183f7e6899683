//! The left-hand one of a handed pair: shapes mirrored, text moved over but still readable.

use super::Words;
use super::drawing::{PaintedShape, PartDrawing, turn};
use kurbo::{Affine, Point, Vec2};

/// The same drawing for the other hand.
pub(super) fn mirrored(drawn: &PartDrawing) -> PartDrawing {
    drawn.clone().mapped(Affine::FLIP_X, mirrored_shape)
}

fn mirrored_shape(shape: PaintedShape) -> PaintedShape {
    if let Some(code) = &shape.code {
        // Flipped in its own frame as well, it stays readable.
        let to_label = Affine::FLIP_X * code.to_label * Affine::FLIP_X;
        let by = to_label * code.to_label.inverse();
        return shape.mapped(by, Words::clone);
    }
    let Some(first) = shape.words.first() else {
        return shape.mapped(Affine::FLIP_X, Words::clone);
    };
    // The block of words keeps its letters: its middle goes over to the other side and its slope turns round.
    let middle = block_middle(&shape.words);
    let other = Point::new(-middle.x, middle.y);
    let slope = turn(-2.0 * first.turned_deg);
    let by = Affine::translate(other.to_vec2()) * slope * Affine::translate(-middle.to_vec2());
    shape.mapped(by, |words| words.moved(by, -words.turned_deg))
}

/// The middle of the lines of one text part.
fn block_middle(words: &[Words]) -> Point {
    let sum: Vec2 = words.iter().map(|line| line.area.center().to_vec2()).sum();
    #[allow(clippy::cast_precision_loss, reason = "a handful of lines")]
    let count = words.len().max(1) as f64;
    (sum / count).to_point()
}
