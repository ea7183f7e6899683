//! Lengths to lay a ruler to: a printer that scales shows itself here before film is cut.

use super::Waste;
use super::pen::{Drawing, Pen, Reads};
use crate::shape::{Outline, polygon, rectangle};
use crate::sheet::used::cell;
use kurbo::{Affine, Point, Rect, Vec2};

/// Length of the bars, mm, outer edge to outer edge.
pub(super) const LONG: f64 = 100.0;

/// Their length where the paper is too small for the long one, mm.
const SHORT: f64 = 50.0;

/// Height of the longest teeth, mm.
pub(super) const HEIGHT: f64 = 2.2;

/// Width of the strip the bar down the side takes, its words and some air included, mm.
pub(super) const SIDE_WIDTH: f64 = 5.0;

/// Cap height of the words at the bars, mm.
pub(super) const CAP: f64 = 1.5;

/// Width of all lines, mm: thin enough for the ruler, thick enough for any printer class.
const THIN: f64 = 0.2;

/// Side of the square, mm, outer edge to outer edge.
const SQUARE: f64 = 50.0;

/// Air round the square, mm.
const AIR: f64 = 1.0;

/// The longest bar that fits into a length, mm.
pub(super) fn longest(room: f64) -> Option<f64> {
    [LONG, SHORT].into_iter().find(|length| *length <= room)
}

/// A bar across, its top left at the origin: a tooth every 10 mm, longer ones at the ends and every 50.
pub(crate) fn bar(length: f64) -> Outline {
    let base = HEIGHT - THIN;
    let mut corners = vec![
        Point::new(0.0, HEIGHT),
        Point::new(length, HEIGHT),
        Point::new(length, 0.0),
        Point::new(length - THIN, 0.0),
        Point::new(length - THIN, base),
    ];
    let mut tens = 1;
    while f64::from(tens) * 10.0 < length {
        let middle = length - f64::from(tens) * 10.0;
        let top = if tens % 5 == 0 { 0.5 } else { 1.1 };
        corners.extend([
            Point::new(middle + THIN / 2.0, base),
            Point::new(middle + THIN / 2.0, top),
            Point::new(middle - THIN / 2.0, top),
            Point::new(middle - THIN / 2.0, base),
        ]);
        tens += 1;
    }
    corners.extend([Point::new(THIN, base), Point::new(THIN, 0.0), Point::ZERO]);
    polygon(&corners)
}

/// Draws the bar down the side: at the top of the right edge, else in the smallest waste that takes it.
/// Whether there was room.
pub(super) fn side(pen: &mut Pen, waste: &mut Waste, drawing: &mut Drawing) -> bool {
    let Some(length) = longest(waste.printable.height()) else { return true };
    let edge = waste.printable;
    // Below a register mark, where there is one.
    let top = edge.y0 + (edge.y1 - waste.base);
    let usual = Rect::new(edge.x1 - SIDE_WIDTH, top, edge.x1, top + length);
    let spot = if waste.is_free(usual) {
        Some(usual)
    } else {
        waste
            .free(SIDE_WIDTH, length)
            .first()
            .map(|free| Rect::new(free.x1 - SIDE_WIDTH, free.y0, free.x1, free.y0 + length))
    };
    let Some(spot) = spot else { return false };
    // Across to down by swapping x and y: the teeth then point left, to the words.
    let down = Affine::new([0.0, 1.0, 1.0, 0.0, spot.x1 - HEIGHT, spot.y0]);
    drawing.line(&bar(length).placed(down));
    let words = pen.set(&format!("{length} mm"));
    let base = Point::new(spot.x1 - HEIGHT - 0.6, spot.center().y + words.width * CAP / 2.0);
    drawing.write(&words, base, CAP, Reads::Upwards);
    waste.take(spot);
    true
}

/// Draws the square where the waste left beside it has the largest rectangle, as far right and down as
/// that allows. Whether there was room.
pub(super) fn square(pen: &mut Pen, waste: &mut Waste, drawing: &mut Drawing) -> bool {
    let side = SQUARE + 2.0 * AIR;
    let corners = waste.free(side, side).into_iter().flat_map(|free| {
        let (left, top) = (free.x1 - side, free.y1 - side);
        [(left, top), (free.x0, top), (left, free.y0), (free.x0, free.y0)]
    });
    let best = corners
        .map(|corner| Rect::from_origin_size(corner, (side, side)))
        .max_by_key(|spot| (waste.largest_beside(*spot), cell(*spot)));
    let Some(spot) = best else { return false };
    let outer = spot.inset(-AIR);
    drawing.line(&rectangle(outer).minus(&rectangle(outer.inset(-THIN))));
    let words = pen.set("50 mm square");
    drawing.write(&words, Point::new(outer.x0 + 1.5, outer.y1 - 1.5), CAP, Reads::Plain);
    waste.take(spot);
    true
}

/// Moves an outline.
pub(super) fn moved(outline: &Outline, x: f64, y: f64) -> Outline {
    outline.placed(Affine::translate(Vec2::new(x, y)))
}
