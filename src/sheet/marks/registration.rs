//! Marks to bring a second pass over the first: three corners, so that shift and turn both show.

use super::SheetDresser;
use crate::design::{Mark, Plate, Role};
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

impl SheetDresser<'_, '_> {
    /// The marks in those corners that are free, and whether all three are; the foot then stands above them.
    pub(super) fn registration(&mut self) -> (Vec<Mark>, bool) {
        let edge = self.waste.printable;
        let corners = [
            Point::new(edge.x1 - SIDE, edge.y0),
            Point::new(edge.x1 - SIDE, edge.y1 - SIDE),
            Point::new(edge.x0, edge.y1 - SIDE),
        ];
        let areas = corners.map(|corner| Rect::from_origin_size(corner, (SIDE, SIDE)));
        let mut marks = Vec::with_capacity(areas.len());
        for area in areas {
            if self.waste.is_free(area) {
                self.waste.take(area);
                let (path, from) = (cross(area.center()), self.context.spec.sheet.place);
                let part = PartId::default();
                marks.push(Mark { path, plate: Plate::Guide, role: Role::Line, part, from });
            }
        }
        self.waste.base -= SIDE;
        let all = marks.len() == areas.len();
        (marks, all)
    }
}

/// A cross in a ring.
fn cross(middle: Point) -> Outline {
    let bar = |width, height| rectangle(Rect::from_center_size(middle, Size::new(width, height)));
    let ring = disc(middle, RING).minus(&disc(middle, RING - 2.0 * LINE));
    ring.union(&bar(ARMS, LINE)).union(&bar(LINE, ARMS))
}
