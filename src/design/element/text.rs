//! Words.

use super::super::piece::{Drawn, Piece, SetText};
use super::super::{Role, Words};
use super::Bench;
use crate::spec::{PartId, Text};
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
            turned_deg: line.turned_deg,
            cap_height_mm: block.cap_height_mm,
            reversed,
            part: PartId::default(),
            from: asked.place,
        })
        .collect();
    // A box round an arc of text is not filled by it: only straight text is held against its box.
    let set = (!block.on_arc).then(|| SetText {
        ink: block.outline.bounds(),
        area: block.area(),
        to_label: Affine::IDENTITY,
        cap_height_mm: block.cap_height_mm,
        place: asked.place,
    });
    let texts = set.into_iter().collect();
    Drawn { pieces: vec![piece], area: block.reach(), frames: Vec::new(), texts }
}
