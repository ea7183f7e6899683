//! Words.

use super::super::drawing::{PaintedShape, PartDrawing, SetText};
use super::super::{Role, Words};
use super::DrawContext;
use crate::spec::{PartId, Text};
use crate::text;
use kurbo::Affine;

pub(super) fn draw(asked: &Text, context: &mut DrawContext<'_>) -> PartDrawing {
    let block = text::set(context.faces, asked, context.findings);
    let mut shape =
        PaintedShape::plain(block.outline.clone(), asked.paint, Role::Text, asked.place);
    let reversed = !shape.inks();
    shape.words = block
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
    PartDrawing { texts, ..PartDrawing::taking_up(block.reach(), vec![shape]) }
}
