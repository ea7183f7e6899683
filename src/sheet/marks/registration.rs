//! Marks to bring a second pass over the first: three corners, so that shift and turn both show.

use super::Waste;
use crate::design::{Mark, Plate, Role};
use crate::finding::Place;
use crate::shape::{Outline, disc, rectangle};
use crate::spec::PartId;
use kurbo::{Point, Rect, Size};

/// Side of the square a mark takes, air included, mm.
pub(super) const SIDE: f64 = 8.0;

/// Arms of the cross from tip to tip, outer diameter of the ring, and width of both lines, mm: what the eye
/// can halve and any printer class can print (common practice, no source).
const ARMS: f64 = 6.0;
const RING: f64 = 4.0;
const LINE: f64 = 0.2;

/// Draws the marks into the corners that are free; the marks, and whether all three found room.
pub(super) fn draw(waste: &mut Waste, place: Place) -> (Vec<Mark>, bool) {
    let edge = waste.printable;
    let corners = [
        Point::new(edge.x1 - SIDE, edge.y0),
        Point::new(edge.x1 - SIDE, edge.y1 - SIDE),
        Point::new(edge.x0, edge.y1 - SIDE),
    ];
    let mut marks = Vec::with_capacity(corners.len());
    for corner in corners {
        let spot = Rect::from_origin_size(corner, (SIDE, SIDE));
        if waste.is_free(spot) {
            waste.take(spot);
            let path = cross(spot.center());
            marks.push(Mark {
                path,
                plate: Plate::Guide,
                role: Role::Line,
                part: PartId::default(),
                from: place,
            });
        }
    }
    let all = marks.len() == corners.len();
    (marks, all)
}

/// A cross in a ring.
fn cross(middle: Point) -> Outline {
    let bar = |width, height| rectangle(Rect::from_center_size(middle, Size::new(width, height)));
    let ring = disc(middle, RING).minus(&disc(middle, RING - 2.0 * LINE));
    ring.union(&bar(ARMS, LINE)).union(&bar(LINE, ARMS))
}
