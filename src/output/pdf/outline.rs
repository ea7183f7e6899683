//! Outlines as the path operators of a PDF stream (ISO 32000-1 8.5.2), in whole numbers.
//!
//! Whole numbers are shorter than decimals, quicker to write, and exact for the lengths people choose. A [`Grid`]
//! says how fine they are.

use crate::shape::Outline;
use crate::units::{NumberText, whole};
use kurbo::{PathEl, Point};

/// Whole numbers of a small unit, counted from an origin.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grid {
    /// Units to a millimetre.
    pub(super) per_mm: f64,
    /// Where it is counted from, mm.
    pub(super) origin: Point,
}

/// Art: 2.5 µm, so that no point moves by more than 1.8 µm (1/24 of a dot at 600 dpi).
///
/// Finer costs bytes nobody can print; coarser shows in small letters.
pub(super) const ART: Grid = Grid { per_mm: 400.0, origin: Point::ORIGIN };

/// Cuts: 0.25 µm, finer than any knife, because cut files may be scaled up and measured.
pub(super) const CUT: Grid = Grid { per_mm: 4000.0, origin: Point::ORIGIN };

impl Grid {
    /// A length in mm as the nearest whole number of units.
    pub(super) fn units(self, mm: f64) -> i64 {
        whole(mm * self.per_mm)
    }

    pub(super) fn point(self, point: Point) -> [i64; 2] {
        let from_origin = point - self.origin;
        [self.units(from_origin.x), self.units(from_origin.y)]
    }
}

/// What contours are written for.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Painted {
    /// Filling closes each contour by itself.
    Filled,
    /// A line along each: its ends have to be joined.
    Line,
}

/// Writes the contours, without those of which nothing is left on the grid.
pub(super) fn contours(out: &mut Vec<u8>, path: &Outline, grid: Grid, painted: Painted) {
    let contour = WrittenContour { bytes: out.len(), ..WrittenContour::default() };
    let mut writer = Writer { out, grid, painted, contour };
    let mut from = Point::ZERO;
    for element in path.elements() {
        match element {
            PathEl::MoveTo(to) => {
                writer.end();
                writer.begin(to);
            }
            PathEl::LineTo(to) => writer.line(to),
            PathEl::QuadTo(control, to) => {
                writer.curve([from.lerp(control, 2.0 / 3.0), to.lerp(control, 2.0 / 3.0), to]);
            }
            PathEl::CurveTo(a, b, to) => writer.curve([a, b, to]),
            PathEl::ClosePath => writer.end(),
        }
        from = element.end_point().unwrap_or(from);
    }
    writer.end();
}

/// Writes one contour after the other, without the segments that rounding has left no length.
struct Writer<'a> {
    out: &'a mut Vec<u8>,
    grid: Grid,
    painted: Painted,
    contour: WrittenContour,
}

/// The contour being written.
#[derive(Clone, Copy, Default)]
struct WrittenContour {
    /// Where it starts, and the end of its last segment.
    start: [i64; 2],
    at: [i64; 2],
    /// Where its bytes start.
    bytes: usize,
    /// Where the bytes of its last segment start when that is a straight line.
    line: Option<usize>,
    /// Its segments so far; a curve counts as two, for it can stand alone.
    segments: u32,
}

impl Writer<'_> {
    fn begin(&mut self, to: Point) {
        let start = self.grid.point(to);
        self.contour =
            WrittenContour { start, at: start, bytes: self.out.len(), ..WrittenContour::default() };
        operation(self.out, &[start], "m");
    }

    fn line(&mut self, to: Point) {
        let to = self.grid.point(to);
        if to != self.contour.at {
            self.contour.line = Some(self.out.len());
            self.contour.at = to;
            self.contour.segments += 1;
            operation(self.out, &[to], "l");
        }
    }

    fn curve(&mut self, points: [Point; 3]) {
        let [a, b, to] = points.map(|point| self.grid.point(point));
        if [a, b, to] == [self.contour.at; 3] {
            return;
        }
        if a == self.contour.at {
            operation(self.out, &[b, to], "v");
        } else if b == to {
            operation(self.out, &[a, to], "y");
        } else {
            operation(self.out, &[a, b, to], "c");
        }
        (self.contour.line, self.contour.at) = (None, to);
        self.contour.segments += 2;
    }

    /// Ends the contour. A last straight line back to the start is not written: closing draws it.
    fn end(&mut self) {
        let WrittenContour { start, at, bytes, line, mut segments } = self.contour;
        if at == start
            && let Some(before) = line
        {
            self.out.truncate(before);
            segments -= 1;
        }
        if segments < 2 {
            self.out.truncate(bytes);
        } else if self.painted == Painted::Line {
            self.out.extend_from_slice(b"h\n");
        }
        self.contour = WrittenContour { bytes: self.out.len(), ..WrittenContour::default() };
    }
}

/// Writes an operator after the points it takes.
fn operation<const N: usize>(out: &mut Vec<u8>, points: &[[i64; 2]; N], operator: &str) {
    let mut line = NumberText::new();
    line.prepend(b'\n');
    operator.bytes().rev().for_each(|byte| line.prepend(byte));
    for number in points.as_flattened().iter().rev() {
        line.prepend(b' ');
        line.prepend_decimal(*number, 0);
    }
    out.extend_from_slice(line.bytes());
}

#[cfg(test)]
mod tests {
    use super::*;

    const TENTHS: Grid = Grid { per_mm: 10.0, origin: Point::ORIGIN };

    fn drawn(path: &str, painted: Painted) -> String {
        let mut out = Vec::new();
        let path = Outline::trusted(&kurbo::BezPath::from_svg(path).unwrap());
        contours(&mut out, &path, TENTHS, painted);
        String::from_utf8(out).unwrap().replace('\n', "|")
    }

    #[test]
    fn writes_the_operators_of_the_standard() {
        // ISO 32000-1 table 59: m l c v y h; a fill closes by itself (8.5.3.3.1).
        for (path, painted, text) in [
            ("M0 0 L1 0 L1 1 L0 0 Z", Painted::Filled, "0 0 m|10 0 l|10 10 l|"),
            ("M0 0 L1 0 L1 1 Z", Painted::Line, "0 0 m|10 0 l|10 10 l|h|"),
            ("M0 0 C1 0 2 -1 2 2 Z", Painted::Filled, "0 0 m|10 0 20 -10 20 20 c|"),
            ("M0 0 C0 0 2 -1 2 2 Z", Painted::Filled, "0 0 m|20 -10 20 20 v|"),
            ("M0 0 C1 0 2 2 2 2 Z", Painted::Filled, "0 0 m|10 0 20 20 y|"),
            // A quadratic's controls lie at two thirds (textbook degree elevation).
            ("M0 0 Q3 3 6 0 Z", Painted::Filled, "0 0 m|20 20 40 20 60 0 c|"),
            (
                "M0 0 L0.01 0 L0 0.01 Z M5 5 L6 5 L6 6 Z",
                Painted::Filled,
                "50 50 m|60 50 l|60 60 l|",
            ),
            ("M0 0 L1 0 L0 0 Z", Painted::Filled, ""),
        ] {
            assert_eq!(drawn(path, painted), text, "{path}");
        }
    }

    #[test]
    fn no_point_moves_by_more_than_two_micrometres() {
        for step in 0..1000 {
            let mm = f64::from(step) * 0.037_3 - 20.0;
            assert!((ART.units(mm) as f64 / ART.per_mm - mm).abs() <= 0.001_25 + 1e-12, "{mm}");
        }
    }
}
