//! Words.

use super::super::piece::{Drawn, Piece, SetText};
use super::super::{Role, Words};
use super::Bench;
use crate::spec::Text;
use crate::text;
use kurbo::Affine;

pub(super) fn draw(asked: &Text, bench: &mut Bench<'_>) -> Drawn {
    let block = text::set(bench.faces, asked, bench.findings);
    let mut piece = Piece::plain(block.outline.clone(), asked.paint, Role::Text, asked.place);
    let reversed = !piece.inks();
    piece.words = block
        .lines
        .iter()
        .map(|line| Words {
            text: line.text.clone(),
            area: line.area,
            turned_deg: 0.0,
            cap_height_mm: block.cap_height_mm,
            reversed,
            from: asked.place,
        })
        .collect();
    let set = SetText {
        ink: block.outline.bounds(),
        area: block.area(),
        to_label: Affine::IDENTITY,
        cap_height_mm: block.cap_height_mm,
        place: asked.place,
    };
    Drawn { pieces: vec![piece], area: block.area(), frames: Vec::new(), texts: vec![set] }
}
