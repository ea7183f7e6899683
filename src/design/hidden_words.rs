//! Legends covered by what their own label paints after them.

use super::Role;
use super::drawing::PaintedShape;
use crate::finding::{Finding, Findings, Severity};
use crate::shape::Outline;
use crate::spec::{Label, Paint, White};
use crate::units::fixed;
use kurbo::{BezPath, Point};

/// Less of a legend than this under something else is a touch, which is reported as such (common practice, no
/// source).
pub(crate) const TOUCHED: f64 = 0.02;

/// With so much of it gone, nobody can have meant it (common practice, no source).
const LOST: f64 = 0.9;

/// Reports the legends of a label that later shapes cover, fill up or take away.
///
/// `corner` is the label's top left corner, in the frame of its shapes.
pub(super) fn report(
    label: &Label,
    shapes: &[PaintedShape],
    corner: Point,
    findings: &mut Findings,
) {
    let has_white = label.white != White::None;
    for (at, legend) in shapes.iter().enumerate().filter(|(_, shape)| shape.role == Role::Text) {
        let Some(words) = legend.words.first() else { continue };
        let after = shapes.iter().skip(at + 1).filter(|shape| hides(shape, legend, has_white));
        let share = hidden(&legend.outline, after.map(|shape| &shape.outline));
        if share < TOUCHED {
            continue;
        }
        let share_text = fixed(share * 100.0, 0);
        let message =
            format!("{share_text} % of `{}` is lost to what is painted after it", words.text);
        let mut finding = Finding::warning("covered-words", message).at(legend.place);
        if share >= LOST {
            finding.severity = Severity::Error;
        }
        let spot = legend.outline.bounds().center() - corner;
        let help =
            "parts are painted in their order: write it after what covers it, or move one of them";
        findings.push(finding.label(&label.name).spot(spot.x, spot.y).help(help));
    }
}

/// Whether a shape that is painted after a legend takes some of it where they meet.
fn hides(shape: &PaintedShape, legend: &PaintedShape, has_white: bool) -> bool {
    let same_ink = shape.paint == legend.paint && shape.role != Role::Fill;
    // Once more the same words: a shadow, or an outline.
    let lines =
        |of: &PaintedShape| of.words.iter().map(|words| words.text.clone()).collect::<Vec<_>>();
    let same_words = shape.role == Role::Text && lines(shape) == lines(legend);
    // What is clear is cut out of ink, and adds to what is clear already.
    let inks = |shape: &PaintedShape| shape.inks() || has_white && shape.paint != Paint::Clear;
    let meets = inks(shape) || inks(legend);
    shape.part != legend.part && meets && !same_ink && !same_words
}

/// Share of an outline that lies under others.
pub(crate) fn hidden<'o>(outline: &Outline, over: impl Iterator<Item = &'o Outline>) -> f64 {
    let bounds = outline.bounds();
    let mut near = BezPath::new();
    over.filter(|over| over.bounds().overlaps(bounds))
        .for_each(|over| near.extend(over.elements()));
    if near.elements().is_empty() {
        return 0.0;
    }
    // All in one sweep: one after the other, hundreds of them would take minutes.
    outline.common(&Outline::of(&near)).area() / outline.area().max(f64::MIN_POSITIVE)
}
