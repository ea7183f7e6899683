//! Outlines as SVG path data: whole micrometres, relative, so that files stay small and never drift.

use crate::shape::Outline;
use crate::units::{NumberText, whole};
use kurbo::{PathEl, Point};

/// An outline's `d` attribute in mm with three decimals (SVG 1.1, section 8.3.9 "grammar for path data").
///
/// Every corner is rounded where it is, so that rounding never adds up along a contour.
#[must_use]
pub(crate) fn path_data(outline: &Outline) -> String {
    let elements = outline.elements();
    let mut data =
        PathData { text: Vec::with_capacity(elements.len() * 24), ..PathData::default() };
    for (element, next) in elements.clone().zip(elements.skip(1).chain([PathEl::ClosePath])) {
        match element {
            PathEl::MoveTo(to) => data.start(to),
            // Closing draws the last line back to the start.
            PathEl::LineTo(to) if next == PathEl::ClosePath && micrometres(to) == data.first => {}
            PathEl::LineTo(to) => data.line(to),
            PathEl::QuadTo(a, to) => data.curve(b'q', [a, to]),
            PathEl::CurveTo(a, b, to) => data.curve(b'c', [a, b, to]),
            PathEl::ClosePath => data.close(),
        }
    }
    String::from_utf8(data.text).unwrap_or_default()
}

/// Path data as far as it is written.
#[derive(Default)]
struct PathData {
    text: Vec<u8>,
    /// Where it is, and where the contour started, in whole micrometres.
    at: [i64; 2],
    first: [i64; 2],
    last_command: Option<u8>,
}

impl PathData {
    fn start(&mut self, to: Point) {
        let to = micrometres(to);
        (self.first, self.at) = (to, to);
        self.command(b'M', &to);
    }

    fn line(&mut self, to: Point) {
        let to = micrometres(to);
        let [dx, dy] = [to[0] - self.at[0], to[1] - self.at[1]];
        self.at = to;
        match (dx, dy) {
            (0, 0) => {}
            (_, 0) => self.command(b'h', &[dx]),
            (0, _) => self.command(b'v', &[dy]),
            _ => self.command(b'l', &[dx, dy]),
        }
    }

    fn curve<const N: usize>(&mut self, letter: u8, points: [Point; N]) {
        let points = points.map(micrometres);
        let by = points.map(|[x, y]| [x - self.at[0], y - self.at[1]]);
        self.at = points.last().copied().unwrap_or(self.at);
        self.command(letter, by.as_flattened());
    }

    fn close(&mut self) {
        self.text.push(b'z');
        self.at = self.first;
        self.last_command = None;
    }

    /// Writes micrometres as mm, as [`crate::units::fixed`] would, after the command's letter unless that just
    /// repeats.
    fn command(&mut self, letter: u8, lengths: &[i64]) {
        let new = self.last_command != Some(letter);
        self.last_command = Some(letter);
        let mut text = NumberText::new();
        for (at, length) in lengths.iter().enumerate().rev() {
            text.prepend_decimal(*length, 3);
            if *length >= 0 && !(new && at == 0) {
                text.prepend(b' ');
            }
        }
        if new {
            text.prepend(letter);
        }
        self.text.extend_from_slice(text.bytes());
    }
}

fn micrometres(point: Point) -> [i64; 2] {
    [whole(point.x * 1000.0), whole(point.y * 1000.0)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::{ellipse, rectangle};
    use kurbo::{Rect, Shape as _};

    #[test]
    fn a_square_takes_four_short_commands() {
        let square = rectangle(Rect::new(1.5, -2.0, 11.5, 8.25));
        assert_eq!(path_data(&square), "M1.5-2h10v10.25h-10z");
    }

    #[test]
    fn another_reader_finds_the_same_area() {
        // kurbo's own SVG path parser as the outside reader.
        let disc = ellipse(Rect::new(0.0, 0.0, 12.3456, 7.6543));
        let read = kurbo::BezPath::from_svg(&path_data(&disc)).unwrap();
        assert!((read.area() - disc.area()).abs() < 0.02, "{} {}", read.area(), disc.area());
        let far = read.bounding_box() - disc.bounds();
        assert!([far.x0, far.y0, far.x1, far.y1].iter().all(|gap| gap.abs() <= 0.0011), "{far:?}");
    }
}
