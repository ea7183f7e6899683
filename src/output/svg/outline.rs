//! Outlines as SVG path data: whole micrometres, relative, so that files stay small and never drift.

use crate::shape::Outline;
use kurbo::{PathEl, Point};

/// An outline's `d` attribute in mm with three decimals (SVG 1.1, section 8.3.9 "grammar for path data").
///
/// Every corner is rounded where it is, so that rounding never adds up along a contour.
#[must_use]
pub fn path_data(outline: &Outline) -> String {
    let elements = outline.elements();
    let mut pen = Pen { out: String::with_capacity(elements.len() * 24), ..Pen::default() };
    for (element, next) in elements.clone().zip(elements.skip(1).chain([PathEl::ClosePath])) {
        match element {
            PathEl::MoveTo(to) => pen.start(to),
            PathEl::LineTo(to) => {
                let back = next == PathEl::ClosePath && micrometres(to) == pen.first;
                if !back {
                    pen.line(to);
                }
            }
            PathEl::QuadTo(a, to) => pen.curve('q', &[a, to]),
            PathEl::CurveTo(a, b, to) => pen.curve('c', &[a, b, to]),
            PathEl::ClosePath => pen.close(),
        }
    }
    pen.out
}

/// Writes commands; knows where it is in whole micrometres.
#[derive(Default)]
struct Pen {
    out: String,
    at: [i64; 2],
    first: [i64; 2],
    last_command: Option<char>,
}

impl Pen {
    fn start(&mut self, to: Point) {
        self.first = micrometres(to);
        self.at = self.first;
        self.command('M');
        self.number(self.at[0], true);
        self.number(self.at[1], false);
    }

    fn line(&mut self, to: Point) {
        let to = micrometres(to);
        let [dx, dy] = [to[0] - self.at[0], to[1] - self.at[1]];
        self.at = to;
        match (dx, dy) {
            (0, 0) => {}
            (_, 0) => {
                let new = self.command('h');
                self.number(dx, new);
            }
            (0, _) => {
                let new = self.command('v');
                self.number(dy, new);
            }
            _ => {
                let new = self.command('l');
                self.number(dx, new);
                self.number(dy, false);
            }
        }
    }

    fn curve(&mut self, letter: char, points: &[Point]) {
        let mut new = self.command(letter);
        let from = self.at;
        for point in points {
            let to = micrometres(*point);
            self.number(to[0] - from[0], new);
            self.number(to[1] - from[1], false);
            self.at = to;
            new = false;
        }
    }

    fn close(&mut self) {
        self.out.push('z');
        self.at = self.first;
        self.last_command = None;
    }

    /// Writes the command's letter unless it just repeats; says whether it did.
    fn command(&mut self, letter: char) -> bool {
        let new = self.last_command != Some(letter);
        if new {
            self.out.push(letter);
            self.last_command = Some(letter);
        }
        new
    }

    /// Writes micrometres as mm, as [`crate::units::fixed`] would; `first` after a letter.
    fn number(&mut self, value: i64, first: bool) {
        if value < 0 {
            self.out.push('-');
        } else if !first {
            self.out.push(' ');
        }
        let value = value.unsigned_abs();
        let (whole, mut rest, mut places) = (value / 1000, value % 1000, 3);
        self.digits(whole, 1);
        if rest == 0 {
            return;
        }
        while rest % 10 == 0 {
            rest /= 10;
            places -= 1;
        }
        self.out.push('.');
        self.digits(rest, places);
    }

    /// Writes a whole number with at least this many digits.
    fn digits(&mut self, value: u64, least: u32) {
        if value >= 10 || least > 1 {
            self.digits(value / 10, least.saturating_sub(1));
        }
        self.out.push(char::from_digit(u32::try_from(value % 10).unwrap_or(0), 10).unwrap_or('0'));
    }
}

fn micrometres(point: Point) -> [i64; 2] {
    #[allow(clippy::cast_possible_truncation, reason = "no sheet is 1e12 m wide")]
    let whole = |mm: f64| (mm * 1000.0).round() as i64;
    [whole(point.x), whole(point.y)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::{ellipse, rectangle};
    use crate::units::fixed;
    use kurbo::{Rect, Shape as _};

    #[test]
    fn a_square_takes_four_short_commands() {
        let square = rectangle(Rect::new(1.5, -2.0, 11.5, 8.25));
        assert_eq!(path_data(&square), "M1.5-2h10v10.25h-10z");
    }

    #[test]
    fn numbers_are_those_of_the_one_formatter() {
        for micrometres in [0, 1, -1, 10, -10, 100, 999, 1000, 1001, -1010, 123_456, 90_000, -50] {
            let mut pen = Pen::default();
            pen.number(micrometres, true);
            #[allow(clippy::cast_precision_loss, reason = "small")]
            let mm = micrometres as f64 / 1000.0;
            assert_eq!(pen.out, fixed(mm, 3).to_string());
        }
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
