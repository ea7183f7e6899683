//! The left-hand one of a handed pair: shapes mirrored, text moved over but still readable.

use super::Words;
use super::piece::{Drawn, Piece, Rim, SetText};
use kurbo::{Affine, Point, Rect, Vec2};

/// The same design for the other hand.
pub(super) fn mirrored(drawn: &Drawn) -> Drawn {
    let flip = Affine::FLIP_X;
    Drawn {
        pieces: drawn.pieces.iter().map(mirrored_piece).collect(),
        area: flip.transform_rect_bbox(drawn.area),
        frames: drawn.frames.iter().map(|frame| frame.clone().placed(flip)).collect(),
        texts: drawn
            .texts
            .iter()
            .map(|text| SetText { to_label: flip * text.to_label, ..*text })
            .collect(),
    }
}

fn mirrored_piece(piece: &Piece) -> Piece {
    if let Some(code) = &piece.code {
        // Flipped in its own frame as well, it stays readable.
        let to_label = Affine::FLIP_X * code.to_label * Affine::FLIP_X;
        let by = to_label * code.to_label.inverse();
        let code = Some(code.clone().placed(by));
        return Piece { outline: piece.outline.placed(by), code, ..piece.clone() };
    }
    let Some(first) = piece.words.first() else {
        let rim = piece
            .rim
            .as_ref()
            .map(|rim| Rim { hollow: rim.hollow.placed(Affine::FLIP_X), ..rim.clone() });
        return Piece { outline: piece.outline.placed(Affine::FLIP_X), rim, ..piece.clone() };
    };
    // The block of words keeps its letters: its middle goes over to the other side and its slope turns round.
    let middle = block_middle(&piece.words);
    let other = Point::new(-middle.x, middle.y);
    let slope = super::piece::turn(-2.0 * first.turned_deg);
    let by = Affine::translate(other.to_vec2()) * slope * Affine::translate(-middle.to_vec2());
    let words = piece.words.iter().map(|words| Words {
        area: Rect::from_center_size(by * words.area.center(), words.area.size()),
        turned_deg: -words.turned_deg,
        ..words.clone()
    });
    Piece { outline: piece.outline.placed(by), words: words.collect(), ..piece.clone() }
}

/// The middle of the lines of one text part.
fn block_middle(words: &[Words]) -> Point {
    let sum: Vec2 = words.iter().map(|line| line.area.center().to_vec2()).sum();
    #[allow(clippy::cast_precision_loss, reason = "a handful of lines")]
    let count = words.len().max(1) as f64;
    (sum / count).to_point()
}
