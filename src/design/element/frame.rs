//! Boxes: rectangles with any radius, with round ends, ellipses, slanted and pointed ones; filled and lined.

use super::super::Role;
use super::super::drawing::{PaintedShape, PartDrawing};
use crate::finding::Place;
use crate::shape::{self, Outline};
use crate::spec::{Corners, Frame, FrameLine, PartId};
use kurbo::{Affine, Point, Rect, Size, Vec2};

/// A box that was drawn, so that a trim can follow it.
#[derive(Clone, Debug)]
pub(in crate::design) struct FrameShape {
    /// What was asked for.
    pub(in crate::design) asked: Frame,
    /// In the box's own frame.
    pub(in crate::design) rect: Rect,
    /// From the box's own frame to the label's.
    pub(in crate::design) to_label: Affine,
    /// The box.
    pub(in crate::design) part: PartId,
}

impl FrameShape {
    /// The box's outline in the label's frame, its edge moved outwards by `by_mm`.
    pub(in crate::design) fn outline(&self, by_mm: f64) -> Outline {
        outline(self.asked.corners, self.rect, by_mm).placed(self.to_label)
    }

    /// The same in another frame.
    pub(in crate::design) fn placed(self, by: Affine) -> FrameShape {
        FrameShape { to_label: by * self.to_label, ..self }
    }

    /// Whether it is filled with ink: on white film its edge then wants bleed.
    pub(in crate::design) fn inked(&self) -> bool {
        self.asked.fill.is_some_and(|paint| !paint.leaves_bare())
    }

    /// Whether it draws anything at all.
    pub(in crate::design) fn draws(&self) -> bool {
        self.asked.fill.is_some() || self.asked.line.is_some()
    }

    /// How far from the middle an upright box of height `tall_mm`, centred, may reach to either side and
    /// stay inside the padding, mm. Negative when nothing that tall fits.
    pub(in crate::design) fn half_width(&self, tall_mm: f64) -> f64 {
        let Frame { padding, corners, .. } = self.asked;
        let (w, h) = (self.rect.width() / 2.0 - padding.x, self.rect.height() / 2.0 - padding.y);
        let y = tall_mm / 2.0;
        if y > h + 1e-6 {
            return -1.0;
        }
        let round = |radius: f64| round_half_width(w, h, radius - padding.x, y);
        match corners {
            Corners::Radius(radius) => round(radius),
            Corners::RoundEnded => round(self.rect.width().min(self.rect.height()) / 2.0),
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

pub(super) fn draw(frame: &Frame, size: Size, place: Place) -> PartDrawing {
    let rect = Rect::from_center_size(Point::ORIGIN, size);
    let edge = outline(frame.corners, rect, 0.0);
    let mut shapes = Vec::new();
    if let Some(paint) = frame.fill {
        let fill = PaintedShape::plain(edge.clone(), paint, Role::Fill, place);
        shapes.push(PaintedShape { hollow: Some(Outline::default()), ..fill });
    }
    if let Some(line) = frame.line {
        shapes.push(border(frame.corners, rect, line, place));
    }
    let asked = frame.clone();
    let shape = FrameShape { asked, rect, to_label: Affine::IDENTITY, part: PartId::default() };
    PartDrawing { frames: vec![shape], ..PartDrawing::taking_up(edge.bounds(), shapes) }
}

fn border(corners: Corners, rect: Rect, line: FrameLine, place: Place) -> PaintedShape {
    let outer = outline(corners, rect, -line.inset);
    let inner = outline(corners, rect, -line.inset - line.width);
    let hollow = (line.inset == 0.0).then(|| inner.clone());
    PaintedShape {
        hollow,
        ..PaintedShape::plain(outer.minus(&inner), line.paint, Role::Line, place)
    }
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
            let (x0, x1) = (rect.x0, rect.x1);
            let top = [(x0 + left, rect.y0), (x1 - right, rect.y0)];
            let bottom = [(x1 - left, rect.y1), (x0 + right, rect.y1)];
            polygon(&[top, bottom].concat(), by_mm)
        }
        Corners::Pointed(point) => {
            let (back, front) = (rect.x0, rect.x1 - point);
            let tip = (rect.x1, rect.center().y);
            let (top, bottom) = (rect.y0, rect.y1);
            polygon(&[(back, top), (front, top), tip, (front, bottom), (back, bottom)], by_mm)
        }
    }
}

/// A convex polygon (corners clockwise as seen) with every edge moved outwards, corners kept sharp.
fn polygon(corners: &[(f64, f64)], by_mm: f64) -> Outline {
    let corners: Vec<Point> = corners.iter().map(|corner| Point::from(*corner)).collect();
    let before = corners.iter().cycle().skip(corners.len().saturating_sub(1));
    let after = corners.iter().cycle().skip(1);
    let moved = before.zip(&corners).zip(after).map(|((before, corner), after)| {
        let (into, out) = ((*corner - *before).normalize(), (*after - *corner).normalize());
        // Outward normals of the two edges; the corner moves along their sum.
        let (a, b) = (Vec2::new(into.y, -into.x), Vec2::new(out.y, -out.x));
        *corner + (a + b) * (by_mm / (1.0 + a.dot(b)))
    });
    shape::polygon(&moved.collect::<Vec<Point>>())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::Paint;

    fn frame(corners: Corners, line: Option<FrameLine>) -> Frame {
        let fill = Some(Paint::BLACK);
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
            let found = drawn.shapes[0].outline.area();
            assert!((found - area).abs() < 0.02, "{corners:?}: {found}, not {area}");
        }
    }

    #[test]
    fn a_border_is_as_wide_as_asked_all_round_and_lies_inside() {
        let line = FrameLine { width: 0.5, inset: 1.0, paint: Paint::Clear };
        for corners in [Corners::Radius(3.0), Corners::Slanted(15.0), Corners::Pointed(4.0)] {
            let drawn = draw(&frame(corners, Some(line)), Size::new(30.0, 12.0), Place::default());
            let border = &drawn.shapes[1].outline;
            let edge = &drawn.shapes[0].outline;
            assert!(border.minus(edge).is_empty());
            // Offsetting by an independent method leaves the same ring (rounded at sharp corners only).
            let ring = edge.grown(-1.0).minus(&edge.grown(-1.5)).area();
            assert!((border.area() - ring).abs() < 0.1, "{corners:?} {} {ring}", border.area());
        }
    }

    #[test]
    fn text_room_in_a_circle_is_its_chord() {
        // Chord of a circle of radius r at height y: 2 √(r² − y²); r = 10 − 1.5, cap 2.6 → 16.800.
        let asked = Frame { padding: Vec2::new(1.5, 1.5), ..frame(Corners::Ellipse, None) };
        let shape = draw(&asked, Size::new(20.0, 20.0), Place::default()).frames.remove(0);
        assert!((2.0 * shape.half_width(2.6) - 16.800).abs() < 0.001);
        assert!(shape.half_width(17.5) < 0.0);
    }
}
