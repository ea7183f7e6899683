//! Boxes: rectangles with any radius, with round ends, ellipses, slanted and pointed ones; filled and lined.

use super::super::Role;
use super::super::piece::{Drawn, Piece, Rim};
use crate::finding::Place;
use crate::shape::{self, Outline};
use crate::spec::{Corners, Frame, FrameLine, PartId};
use kurbo::{Affine, Point, Rect, Size};

/// The outline of a box that was drawn, so that a trim can follow it.
#[derive(Clone, Debug)]
pub(in crate::design) struct FrameShape {
    pub(in crate::design) corners: Corners,
    /// In the box's own frame.
    pub(in crate::design) rect: Rect,
    /// From the box's own frame to the label's.
    pub(in crate::design) to_label: Affine,
    /// Clear space asked for inside the edge, across and down, mm.
    pub(in crate::design) padding: kurbo::Vec2,
    /// Whether it is filled with ink: on white film its edge then wants bleed.
    pub(in crate::design) inked: bool,
    /// Whether it draws anything at all.
    pub(in crate::design) bordered: bool,
    /// The box.
    pub(in crate::design) part: PartId,
}

impl FrameShape {
    /// The box's outline in the label's frame, its edge moved outwards by `by_mm`.
    pub(in crate::design) fn outline(&self, by_mm: f64) -> Outline {
        outline(self.corners, self.rect, by_mm).placed(self.to_label)
    }

    pub(in crate::design) fn placed(self, by: Affine) -> FrameShape {
        FrameShape { to_label: by * self.to_label, ..self }
    }

    /// How far from the middle an upright box of height `tall_mm`, centred, may reach to either side and
    /// stay inside the padding, mm. Negative when nothing that tall fits.
    pub(in crate::design) fn half_width(&self, tall_mm: f64) -> f64 {
        let (w, h) =
            (self.rect.width() / 2.0 - self.padding.x, self.rect.height() / 2.0 - self.padding.y);
        let y = tall_mm / 2.0;
        if y > h + 1e-6 {
            return -1.0;
        }
        match self.corners {
            Corners::Radius(radius) => round_half_width(w, h, radius - self.padding.x, y),
            Corners::RoundEnded => {
                let radius = self.rect.width().min(self.rect.height()) / 2.0;
                round_half_width(w, h, radius - self.padding.x, y)
            }
            // Chord of the ellipse: x = w √(1 − y²/h²).
            Corners::Ellipse => w * (1.0 - (y / h).powi(2)).max(0.0).sqrt(),
            Corners::Slanted(degrees) => {
                let lean = libm::tan(degrees.to_radians()).abs();
                w - lean * (self.rect.height() / 2.0 + y)
            }
            Corners::Pointed(point) => w - point * y / (self.rect.height() / 2.0),
        }
    }
}

/// Half the width of a rounded rectangle with half sides `w` and `h` at height `y`, mm.
fn round_half_width(w: f64, h: f64, radius: f64, y: f64) -> f64 {
    let radius = radius.clamp(0.0, w.min(h).max(0.0));
    let into = (y - (h - radius)).max(0.0);
    w - radius + (radius * radius - into * into).max(0.0).sqrt()
}

pub(super) fn draw(frame: &Frame, size: Size, place: Place) -> Drawn {
    let rect = Rect::from_center_size(Point::ORIGIN, size);
    let edge = outline(frame.corners, rect, 0.0);
    let mut pieces = Vec::new();
    if let Some(paint) = frame.fill {
        let rim = Some(Rim { of: PartId::default(), hollow: Outline::default() });
        pieces.push(Piece { rim, ..Piece::plain(edge.clone(), paint, Role::Fill, place) });
    }
    if let Some(line) = frame.line {
        pieces.push(border(frame.corners, rect, line, place));
    }
    let inked = pieces.iter().any(|piece| piece.role == Role::Fill && piece.inks());
    let shape = FrameShape {
        corners: frame.corners,
        rect,
        to_label: Affine::IDENTITY,
        padding: frame.padding,
        inked,
        bordered: !pieces.is_empty(),
        part: PartId::default(),
    };
    Drawn { pieces, area: edge.bounds(), frames: vec![shape], texts: Vec::new() }
}

fn border(corners: Corners, rect: Rect, line: FrameLine, place: Place) -> Piece {
    let outer = outline(corners, rect, -line.inset);
    let inner = outline(corners, rect, -line.inset - line.width);
    let rim = (line.inset == 0.0).then(|| Rim { of: PartId::default(), hollow: inner.clone() });
    Piece { rim, ..Piece::plain(outer.minus(&inner), line.paint, Role::Line, place) }
}

/// A box's outline, its edge moved outwards by `by_mm` (inwards when negative), square corners kept square.
fn outline(corners: Corners, rect: Rect, by_mm: f64) -> Outline {
    let moved = rect.inflate(by_mm, by_mm);
    if moved.width() <= 0.0 || moved.height() <= 0.0 {
        return Outline::default();
    }
    match corners {
        Corners::Radius(0.0) => shape::rectangle(moved),
        Corners::Radius(radius) => {
            let radius = radius.min(rect.width().min(rect.height()) / 2.0);
            shape::rounded(moved, (radius + by_mm).max(0.0))
        }
        Corners::RoundEnded => shape::rounded(moved, f64::MAX),
        Corners::Ellipse if (rect.width() - rect.height()).abs() < 1e-9 => shape::ellipse(moved),
        Corners::Ellipse => shape::ellipse(rect).grown(by_mm),
        Corners::Slanted(degrees) => {
            let lean = libm::tan(degrees.to_radians()) * rect.height();
            let (left, right) = (lean.max(0.0), (-lean).max(0.0));
            shape::polygon(&moved_edges(
                &[
                    Point::new(rect.x0 + left, rect.y0),
                    Point::new(rect.x1 - right, rect.y0),
                    Point::new(rect.x1 - left, rect.y1),
                    Point::new(rect.x0 + right, rect.y1),
                ],
                by_mm,
            ))
        }
        Corners::Pointed(point) => shape::polygon(&moved_edges(
            &[
                Point::new(rect.x0, rect.y0),
                Point::new(rect.x1 - point, rect.y0),
                Point::new(rect.x1, rect.center().y),
                Point::new(rect.x1 - point, rect.y1),
                Point::new(rect.x0, rect.y1),
            ],
            by_mm,
        )),
    }
}

/// A convex polygon (corners clockwise as seen) with every edge moved outwards, corners kept sharp.
fn moved_edges(corners: &[Point], by_mm: f64) -> Vec<Point> {
    let before = corners.iter().cycle().skip(corners.len().saturating_sub(1));
    let after = corners.iter().cycle().skip(1);
    before
        .zip(corners)
        .zip(after)
        .map(|((before, corner), after)| {
            let (into, out) = ((*corner - *before).normalize(), (*after - *corner).normalize());
            // Outward normals of the two edges; the corner moves along their sum.
            let (a, b) = (kurbo::Vec2::new(into.y, -into.x), kurbo::Vec2::new(out.y, -out.x));
            let along = a + b;
            *corner + along * (by_mm / (1.0 + a.dot(b)))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::Colour;
    use crate::spec::Paint;
    use kurbo::Vec2;

    fn frame(corners: Corners, line: Option<FrameLine>) -> Frame {
        let fill = Some(Paint::Ink(Colour::BLACK));
        let (padding, least) = (Vec2::ZERO, Size::ZERO);
        Frame { size: None, padding, least, corners, fill, line }
    }

    #[test]
    fn every_outline_has_the_area_of_its_formula() {
        let size = Size::new(30.0, 10.0);
        let pi = std::f64::consts::PI;
        for (corners, area) in [
            (Corners::Radius(0.0), 300.0),
            (Corners::Radius(2.0), 300.0 - (4.0 - pi) * 4.0),
            // A slot: rectangle between two half discs.
            (Corners::RoundEnded, 20.0 * 10.0 + pi * 25.0),
            (Corners::Ellipse, pi * 15.0 * 5.0),
            // A parallelogram of the same bounds loses two triangles of h · h tan a / 2.
            (Corners::Slanted(20.0), 300.0 - 100.0 * 0.363_970_234),
            (Corners::Pointed(5.0), 300.0 - 25.0),
        ] {
            let drawn = draw(&frame(corners, None), size, Place::default());
            let found = drawn.pieces[0].outline.area();
            assert!((found - area).abs() < 0.02, "{corners:?}: {found}, not {area}");
        }
    }

    #[test]
    fn a_border_is_as_wide_as_asked_all_round_and_lies_inside() {
        let line = FrameLine { width: 0.5, inset: 1.0, paint: Paint::Clear };
        for corners in [Corners::Radius(3.0), Corners::Slanted(15.0), Corners::Pointed(4.0)] {
            let drawn = draw(&frame(corners, Some(line)), Size::new(30.0, 12.0), Place::default());
            let border = &drawn.pieces[1].outline;
            let edge = &drawn.pieces[0].outline;
            assert!(border.minus(edge).is_empty());
            // Offsetting by an independent method leaves the same ring (rounded at sharp corners only).
            let ring = edge.grown(-1.0).minus(&edge.grown(-1.5)).area();
            assert!((border.area() - ring).abs() < 0.1, "{corners:?} {} {ring}", border.area());
        }
    }

    #[test]
    fn text_room_in_a_circle_is_its_chord() {
        // Chord of a circle of radius r at height y: 2 √(r² − y²); r = 10 − 1.5, cap 2.6 → 16.800.
        let shape = FrameShape {
            corners: Corners::Ellipse,
            rect: Rect::new(-10.0, -10.0, 10.0, 10.0),
            to_label: Affine::IDENTITY,
            padding: Vec2::new(1.5, 1.5),
            inked: true,
            bordered: true,
            part: PartId::default(),
        };
        assert!((2.0 * shape.half_width(2.6) - 16.800).abs() < 0.001);
        assert!(shape.half_width(17.5) < 0.0);
    }
}
