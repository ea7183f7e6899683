//! Parts side by side: free, in a row, in a column, as a panel's legend; and boxes drawn round what they hold.

use super::super::piece::{Drawn, bounds};
use super::{Bench, draw as draw_element, frame};
use crate::spec::{Direction, Element, Frame, Group, GroupAlign, Legend, Part};
use kurbo::{Rect, Size, Vec2};

/// Least share of a box's padding that accents and descenders must leave free.
///
/// The padding counts from capitals and base line; a smaller share would let an accent touch the edge.
const CLEAR_OF_INK: f64 = 0.4;

pub(super) fn draw(group: &Group, bench: &mut Bench<'_>) -> Drawn {
    // A row is drawn like a label of its own: boxes without a size go round its members.
    let room = bench.room.take();
    let drawn = arrange(&group.parts, Some(group), bench);
    bench.room = room;
    // Centre the whole on its own point, but keep a row's base line where the capitals' middle is.
    let middle = drawn.area.center().to_vec2();
    drawn.placed(-middle, 0.0)
}

/// A panel's legend, drawn like a label of its own and moved to its side of its point.
pub(super) fn legend(legend: &Legend, bench: &mut Bench<'_>) -> Drawn {
    let room = std::mem::replace(&mut bench.room, legend.size);
    let drawn = arrange(&legend.parts, None, bench);
    bench.room = room;
    let shift = legend.side.shift(drawn.area);
    drawn.placed(shift, 0.0)
}

/// Draws parts in the order they are painted, each at its own place or in its place of the run.
pub(in crate::design) fn arrange(
    parts: &[Part],
    run: Option<&Group>,
    bench: &mut Bench<'_>,
) -> Drawn {
    let draw = |part: &Part| Some(draw_element(&part.element, part.place, bench)?.of_part(part.id));
    let drawn: Vec<Option<Drawn>> = parts.iter().map(draw).collect();
    let shifts = match run {
        Some(group) => shifts(group, &drawn),
        None => vec![Vec2::ZERO; parts.len()],
    };
    let mut placed: Vec<Option<Drawn>> = parts
        .iter()
        .zip(drawn)
        .zip(shifts)
        .map(|((part, drawn), shift)| Some(drawn?.placed(part.at + shift, part.turned)))
        .collect();
    let content = content(&placed);
    for (part, slot) in parts.iter().zip(&mut placed) {
        if let (None, Element::Box(frame)) = (&slot, &part.element) {
            *slot = Some(around(frame, part, content).of_part(part.id));
        }
    }
    let mut all = Drawn::default();
    for drawn in placed.into_iter().flatten() {
        all.add(drawn);
    }
    all
}

/// What boxes without a size must hold: the areas of the parts, and the ink that reaches out of them.
fn content(placed: &[Option<Drawn>]) -> (Rect, Rect) {
    let all = || placed.iter().flatten();
    let join = |rects: &mut dyn Iterator<Item = Rect>| {
        rects.reduce(|all, one| all.union(one)).unwrap_or_default()
    };
    let area = join(&mut all().map(|drawn| drawn.area));
    let ink =
        join(&mut all().map(|drawn| bounds(&drawn.pieces)).filter(|rect| !rect.is_zero_area()));
    (area, ink)
}

/// A box round its content, centred on the content's area.
fn around(frame: &Frame, part: &Part, (area, ink): (Rect, Rect)) -> Drawn {
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
fn shifts(group: &Group, drawn: &[Option<Drawn>]) -> Vec<Vec2> {
    let row = group.direction == Direction::Row;
    let (mut next, mut shifts) = (0.0, Vec::with_capacity(drawn.len()));
    for (part, drawn) in group.parts.iter().zip(drawn) {
        let Some(drawn) = drawn else {
            shifts.push(Vec2::ZERO);
            continue;
        };
        let area = drawn.clone().placed(Vec2::ZERO, part.turned).area;
        let (along, length, across) = if row {
            (area.x0, area.width(), cross(group.align, area.y0, area.y1, area.y1))
        } else {
            (area.y0, area.height(), cross(group.align, area.x0, area.x1, area.x1))
        };
        shifts.push(if row {
            Vec2::new(next - along, -across)
        } else {
            Vec2::new(-across, next - along)
        });
        next += length + group.gap;
    }
    shifts
}

/// The line across the run that members share.
fn cross(align: GroupAlign, start: f64, end: f64, base: f64) -> f64 {
    match align {
        GroupAlign::Start => start,
        GroupAlign::Centre => f64::midpoint(start, end),
        GroupAlign::End => end,
        GroupAlign::BaseLine => base,
    }
}
