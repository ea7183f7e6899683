//! Lengths to lay a ruler to: a printer that scales shows itself here before film is cut.

use super::SheetDresser;
use super::lettering::Reads;
use crate::shape::{Outline, polygon, rectangle};
use crate::sheet::tile::NmRect;
use kurbo::{Affine, Point, Rect};

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
    for tens in (1..).take_while(|tens| f64::from(*tens) * 10.0 < length) {
        let middle = length - f64::from(tens) * 10.0;
        let top = if tens % 5 == 0 { 0.5 } else { 1.1 };
        corners.extend([
            Point::new(middle + THIN / 2.0, base),
            Point::new(middle + THIN / 2.0, top),
            Point::new(middle - THIN / 2.0, top),
            Point::new(middle - THIN / 2.0, base),
        ]);
    }
    corners.extend([Point::new(THIN, base), Point::new(THIN, 0.0), Point::ZERO]);
    polygon(&corners)
}

impl SheetDresser<'_, '_> {
    /// Draws the bar down the side: at the top of the right edge, else in the smallest waste that takes it.
    /// Returns whether there was room.
    pub(super) fn side_bar(&mut self) -> bool {
        let waste = &mut self.waste;
        let edge = waste.printable;
        let Some(length) = longest(edge.height()) else { return true };
        // Below a register mark, where there is one.
        let top = edge.y0 + (edge.y1 - waste.base);
        let usual = Rect::new(edge.x1 - SIDE_WIDTH, top, edge.x1, top + length);
        let area = if waste.is_free(usual) {
            usual
        } else {
            let free = waste.free(SIDE_WIDTH, length);
            let Some(free) = free.first() else { return false };
            Rect::new(free.x1 - SIDE_WIDTH, free.y0, free.x1, free.y0 + length)
        };
        // Across to down by swapping x and y: the teeth then point left, to the words.
        let down = Affine::new([0.0, 1.0, 1.0, 0.0, area.x1 - HEIGHT, area.y0]);
        self.drawing.line(&bar(length).placed(down));
        let words = self.setter.set(&format!("{length} mm"));
        let y = area.center().y + words.width * CAP / 2.0;
        let base = Point::new(area.x1 - HEIGHT - 0.6, y);
        self.drawing.write(&words, base, CAP, Reads::Upwards);
        waste.take(area);
        true
    }

    /// Draws the square where the waste left beside it has the largest rectangle, as far right and down as
    /// that allows. Returns whether there was room.
    pub(super) fn square(&mut self) -> bool {
        let side = SQUARE + 2.0 * AIR;
        let corners = self.waste.free(side, side).into_iter().flat_map(|free| {
            let (left, top) = (free.x1 - side, free.y1 - side);
            [(left, top), (free.x0, top), (left, free.y0), (free.x0, free.y0)]
        });
        let best = corners
            .map(|corner| Rect::from_origin_size(corner, (side, side)))
            .max_by_key(|area| (self.waste.largest_beside(*area), NmRect::of(*area)));
        let Some(area) = best else { return false };
        let outer = area.inset(-AIR);
        self.drawing.line(&rectangle(outer).minus(&rectangle(outer.inset(-THIN))));
        let words = self.setter.set("50 mm square");
        let base = Point::new(outer.x0 + 1.5, outer.y1 - 1.5);
        self.drawing.write(&words, base, CAP, Reads::Plain);
        self.waste.take(area);
        true
    }
}
