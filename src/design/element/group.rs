//! Parts side by side: free, in a row, in a column, as a panel's legend; and boxes drawn round what they hold.

use super::super::drawing::{PartDrawing, bounds, round_all, turn};
use super::{DrawContext, draw as draw_element, frame};
use crate::spec::{Direction, Element, Frame, Group, GroupAlign, Legend, Part};
use kurbo::{Rect, Size, Vec2};

/// Least share of a box's padding that accents and descenders must leave free.
///
/// The padding counts from capitals and base line; a smaller share would let an accent touch the edge.
const CLEAR_OF_INK: f64 = 0.4;

pub(super) fn draw(group: &Group, context: &mut DrawContext<'_>) -> PartDrawing {
    // A row is drawn like a label of its own: boxes without a size go round its members.
    let size = context.box_size.take();
    let drawn = arrange(&group.parts, Some(group), context);
    context.box_size = size;
    // Centre the whole on its own point, but keep a row's base line where the capitals' middle is.
    let middle = drawn.area.center().to_vec2();
    drawn.placed(-middle, 0.0)
}

/// A panel's legend, drawn like a label of its own and moved to its side of its point.
pub(super) fn legend(legend: &Legend, context: &mut DrawContext<'_>) -> PartDrawing {
    let size = std::mem::replace(&mut context.box_size, legend.size);
    let drawn = arrange(&legend.parts, None, context);
    context.box_size = size;
    let shift = legend.side.shift(drawn.area);
    drawn.placed(shift, 0.0)
}

/// Draws parts in the order they are painted, each at its own place or in its place of the run.
pub(in crate::design) fn arrange(
    parts: &[Part],
    run: Option<&Group>,
    context: &mut DrawContext<'_>,
) -> PartDrawing {
    let draw =
        |part: &Part| Some(draw_element(&part.element, part.place, context)?.of_part(part.id));
    let drawn: Vec<Option<PartDrawing>> = parts.iter().map(draw).collect();
    let shifts = match run {
        Some(group) => shifts(group, &drawn),
        None => vec![Vec2::ZERO; parts.len()],
    };
    let mut placed: Vec<Option<PartDrawing>> = parts
        .iter()
        .zip(drawn)
        .zip(shifts)
        .map(|((part, drawn), shift)| Some(drawn?.placed(part.at + shift, part.turned)))
        .collect();
    let (area, ink) = content(&placed);
    for (part, slot) in parts.iter().zip(&mut placed) {
        if let (None, Element::Box(frame)) = (&slot, &part.element) {
            *slot = Some(around(frame, part, area, ink).of_part(part.id));
        }
    }
    let mut all = PartDrawing::default();
    for drawn in placed.into_iter().flatten() {
        all.add(drawn);
    }
    all
}

/// What boxes without a size must hold: the areas of the parts, and the ink that reaches out of them.
fn content(placed: &[Option<PartDrawing>]) -> (Rect, Rect) {
    let all = || placed.iter().flatten();
    let ink = all().map(|drawn| bounds(&drawn.shapes)).filter(|rect| !rect.is_zero_area());
    (round_all(all().map(|drawn| drawn.area)), round_all(ink))
}

/// A box round its content, centred on the content's area.
fn around(frame: &Frame, part: &Part, area: Rect, ink: Rect) -> PartDrawing {
    let middle = area.center();
    let need = |padding: f64, area: f64, ink_0: f64, ink_1: f64| {
        let reach = (-ink_0).max(ink_1);
        (area / 2.0 + padding).max(reach + padding * CLEAR_OF_INK) * 2.0
    };
    let size = Size::new(
        need(frame.padding.x, area.width(), ink.x0 - middle.x, ink.x1 - middle.x),
        need(frame.padding.y, area.height(), ink.y0 - middle.y, ink.y1 - middle.y),
    );
    let size = size.max(frame.least);
    frame::draw(frame, size, part.place).placed(middle.to_vec2() + part.at, part.turned)
}

/// How far each member moves to take its place in the run; boxes without a size do not take part.
fn shifts(group: &Group, drawn: &[Option<PartDrawing>]) -> Vec<Vec2> {
    // Worked out as a row: a column is one with right and down exchanged.
    let as_row = |of: Vec2| match group.direction {
        Direction::Row => of,
        Direction::Column => Vec2::new(of.y, of.x),
    };
    let (mut next, mut shifts) = (0.0, Vec::with_capacity(drawn.len()));
    for (part, drawn) in group.parts.iter().zip(drawn) {
        let Some(drawn) = drawn else {
            shifts.push(Vec2::ZERO);
            continue;
        };
        let area = turn(part.turned).transform_rect_bbox(drawn.area);
        let (start, end) =
            (as_row(Vec2::new(area.x0, area.y0)), as_row(Vec2::new(area.x1, area.y1)));
        // The line across the run that members share.
        let across = match group.align {
            GroupAlign::Start => start.y,
            GroupAlign::Centre => f64::midpoint(start.y, end.y),
            GroupAlign::End | GroupAlign::BaseLine => end.y,
        };
        shifts.push(as_row(Vec2::new(next - start.x, -across)));
        next += (end.x - start.x) + group.gap;
    }
    shifts
}
