//! Whether words fit the box they stand in. They are never shrunk to fit.

use super::drawing::{PartDrawing, SLACK_MM, SetText};
use super::element::FrameShape;
use crate::finding::{Finding, Findings};
use crate::spec::Label;
use kurbo::{Affine, Rect};

/// Reports every text that is wider or taller than its box leaves room for.
pub(super) fn check(label: &Label, drawn: &PartDrawing, findings: &mut Findings) {
    for text in &drawn.texts {
        if let Some(frame) = innermost(text, &drawn.frames) {
            let to_frame = frame.to_label.inverse() * text.to_label;
            if let Some(finding) = misfit(frame, text, to_frame) {
                findings.push(finding.at(text.place).label(&label.name));
            }
        }
    }
}

/// The smallest box round the middle of the text.
fn innermost<'a>(text: &SetText, frames: &'a [FrameShape]) -> Option<&'a FrameShape> {
    let middle = text.to_label * text.area.center();
    frames
        .iter()
        .filter(|frame| frame.outline(0.0).contains(middle))
        .min_by(|a, b| a.rect.area().total_cmp(&b.rect.area()))
}

fn misfit(frame: &FrameShape, text: &SetText, to_frame: Affine) -> Option<Finding> {
    let ink = to_frame.transform_rect_bbox(text.ink);
    let capitals = to_frame.transform_rect_bbox(text.area);
    let tall = 2.0 * reach(capitals.y0, capitals.y1);
    let has_height = frame.rect.height() - 2.0 * frame.asked.padding.y;
    if tall > has_height + SLACK_MM {
        let fitting = text.cap_height_mm * has_height.max(0.0) / tall;
        let message =
            format!("the text needs {tall:.2} mm of height, its box has {has_height:.2} mm");
        let help = format!("make the box taller, or cap_height at most {fitting:.2} mm");
        let finding = Finding::error("text-too-tall", message);
        return Some(finding.measured(tall, has_height).help(help));
    }
    let needs = 2.0 * reach(ink.x0, ink.x1);
    let has = 2.0 * frame.half_width(tall);
    // Letters are centred by their advance: their ink may lie a side bearing off the middle.
    if needs <= has + SLACK_MM + BEARING_SHARE * text.cap_height_mm {
        return spill(frame, ink);
    }
    let fitting = text.cap_height_mm * has.max(0.0) / needs;
    let message = format!("the text needs {needs:.2} mm of width, its box has {has:.2} mm");
    let help = format!(
        "make the box {:.1} mm wider, shorten the text, or cap_height at most {fitting:.2} mm",
        needs - has
    );
    Some(Finding::error("text-too-wide", message).measured(needs, has).help(help))
}

/// Accents and descenders may use the padding but not leave the box.
fn spill(frame: &FrameShape, ink: Rect) -> Option<Finding> {
    let over = 2.0 * reach(ink.y0, ink.y1) - frame.rect.height();
    let message = format!("accents or descenders reach {:.2} mm out of the box", over / 2.0);
    let help = format!("make the box at least {over:.1} mm taller");
    (over > SLACK_MM).then(|| Finding::error("text-too-tall", message).help(help))
}

/// How far ink may lie off the middle of its line, both sides together, as a share of the cap height: the side
/// bearings of the bundled faces, measured.
const BEARING_SHARE: f64 = 0.08;

/// How far a stretch round the middle reaches to either side.
fn reach(from: f64, to: f64) -> f64 {
    (-from).max(to)
}
