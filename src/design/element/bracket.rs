//! Brackets over groups of controls.

use super::super::Role;
use super::super::drawing::{PaintedShape, PartDrawing, bounds};
use super::{DrawContext, text};
use crate::finding::Place;
use crate::shape;
use crate::spec::Bracket;
use kurbo::Rect;

/// Clear space between the line and the title in cap heights: about a word space (common practice, no source).
const GAP: f64 = 0.6;

/// The line's middle is at the origin; the title's capitals are centred on the line.
pub(super) fn draw(bracket: &Bracket, place: Place, context: &mut DrawContext<'_>) -> PartDrawing {
    let title = bracket.title.as_ref().map(|title| text::draw(title, context));
    let line = bracket.width / 2.0;
    let gap = title.as_ref().map_or(0.0, |title| {
        let cap = title.texts.first().map_or(0.0, |text| text.cap_height_mm);
        bounds(&title.shapes).width() / 2.0 + GAP * cap
    });
    // A title wider than the bracket pushes its ends apart: they never run through it.
    let half = (bracket.length / 2.0).max(gap + bracket.width + bracket.ends.abs());
    let (top, bottom) = ((-line).min(bracket.ends), line.max(bracket.ends));
    let mut shapes = Vec::with_capacity(2);
    for side in [-1.0, 1.0] {
        let end = Rect::new(side * half, top, side * (half - bracket.width), bottom);
        let run = Rect::new(side * gap, -line, side * half, line);
        let path = shape::rectangle(end).union(&shape::rectangle(run));
        shapes.push(PaintedShape::plain(path, bracket.paint, Role::Line, place));
    }
    let mut drawn = PartDrawing::of(shapes);
    if let Some(title) = title {
        drawn.add(title);
    }
    drawn
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::element::drawn_alone;
    use crate::spec::{Paint, samples};

    #[test]
    fn the_ends_bend_as_far_as_asked_and_the_line_keeps_its_width() {
        let paint = Paint::BLACK;
        let bracket = Bracket { length: 40.0, ends: 2.0, width: 0.4, paint, title: None };
        let printer = samples::printer();
        let (drawn, _) = drawn_alone(&printer, |context| draw(&bracket, Place::default(), context));
        let area = bounds(&drawn.shapes);
        assert_eq!(area, Rect::new(-20.0, -0.2, 20.0, 2.0));
        // Line 40 x 0.4 and two ends of 0.4 x 1.8 below it: school geometry.
        let ink: f64 = drawn.shapes.iter().map(|shape| shape.outline.area()).sum();
        assert!((ink - (40.0 * 0.4 + 2.0 * 0.4 * 1.8)).abs() < 1e-3, "{ink}");
    }
}
