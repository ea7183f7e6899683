//! Outlines as the content of a PDF stream.
//!
//! Coordinates are whole numbers: shorter than decimals, quicker to write, and exact for the lengths people
//! choose. A [`Grid`] says how fine they are.

use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, WhitePlate};
use crate::shape::Outline;
use crate::units::{NumberText, fixed, whole};
use kurbo::{Affine, PathEl, Point, Rect};
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::io::Write as _;

/// How fine a drawing's whole numbers are.
#[derive(Clone, Copy, Debug)]
pub(super) struct Grid {
    /// Units to a millimetre.
    pub(super) per_mm: f64,
}

/// Art: 2.5 µm, so that no point moves by more than 1.8 µm (1/24 of a dot at 600 dpi).
///
/// Finer costs bytes nobody can print; coarser shows in small letters.
pub(super) const ART: Grid = Grid { per_mm: 400.0 };

/// Cuts: 0.25 µm, finer than any knife, because cut files may be scaled up and measured.
pub(super) const CUT: Grid = Grid { per_mm: 4000.0 };

/// Width of the line that shows where the knife goes, mm (common practice, no source).
const CUT_LINE_MM: f64 = 0.1;

/// Colour of cut lines: one no label is likely to have beside it (common practice, no source).
const CUT_COLOUR: Colour = Colour { rgb: [255, 0, 255] };

/// Room left round a drawing's bounds, mm, so that no reader clips its edge.
const PADDING_MM: f64 = 0.5;

/// Where the knife goes, on [`CUT`]; adds nothing when there is no trim.
pub(super) fn cut(out: &mut Vec<u8>, design: &Design) {
    trim(out, &design.trim);
    cut_marks(out, &design.marks);
}

/// Bounds of a design's ink on [`ART`], padded.
pub(super) fn ink_box(design: &Design) -> [i64; 4] {
    let printed = |mark: &&Mark| mark.plate != Plate::Cut && !mark.path.is_empty();
    let bounds = design.marks.iter().filter(printed).map(|mark| mark.path.bounds());
    bounds.reduce(|a, b| a.union(b)).map_or([0; 4], |bounds| padded(bounds, ART))
}

/// A number that is the same for marks that are drawn alike; others rarely share it.
pub(super) fn look(marks: &[Mark]) -> u64 {
    let mut look = DefaultHasher::new();
    for mark in marks {
        mark.plate.hash(&mut look);
        // Ends alone: with the same corners, curves are rarely other curves.
        for end in mark.path.elements().filter_map(|element| element.end_point()) {
            let [x, y] = ART.point(end);
            look.write_i64((x << 32) ^ y);
        }
    }
    look.finish()
}

/// The printed marks, filled in their colours in order, on [`ART`]. Guides are black.
pub(super) fn ink(marks: &[Mark]) -> Vec<u8> {
    let mut out = Vec::new();
    add_ink(&mut out, marks);
    out
}

/// The same, after what is there already.
pub(super) fn add_ink(out: &mut Vec<u8>, marks: &[Mark]) {
    let mut now = None;
    for mark in marks {
        let colour = match mark.plate {
            Plate::Ink(colour) => colour,
            Plate::Guide => Colour::BLACK,
            Plate::Cut => continue,
        };
        let before = out.len();
        if now != Some(colour) {
            fill_colour(out, colour);
        }
        if fill(out, &mark.path, ART) {
            now = Some(colour);
        } else {
            out.truncate(before);
        }
    }
}

/// White, filled with its tint of the colour space that is set, on [`ART`].
pub(super) fn white(out: &mut Vec<u8>, white: &WhitePlate) {
    put(out, format_args!("{} scn\n", fixed(white.tint, 4)));
    fill(out, &white.path, ART);
}

/// The cut marks among `marks`, filled, on [`CUT`].
pub(super) fn cut_marks(out: &mut Vec<u8>, marks: &[Mark]) {
    let cuts = marks.iter().filter(|mark| mark.plate == Plate::Cut && !mark.path.is_empty());
    for (at, mark) in cuts.enumerate() {
        if at == 0 {
            fill_colour(out, CUT_COLOUR);
        }
        fill(out, &mark.path, CUT);
    }
}

/// An outline as a thin closed line on [`CUT`].
fn trim(out: &mut Vec<u8>, path: &Outline) {
    let before = out.len();
    let [r, g, b] = channels(CUT_COLOUR);
    let width = fixed(CUT_LINE_MM * CUT.per_mm, 3);
    put(out, format_args!("{r} {g} {b} RG {width} w\n"));
    if contours(out, path, Frame::of(CUT), Ends::Joined) {
        out.extend_from_slice(b"S\n");
    } else {
        out.truncate(before);
    }
}

/// A matrix and what follows it, to the point where the caller restores: `q … cm`.
///
/// Offsets come out on the grid; the rest keeps six decimals, 0.1 µm over the widest label.
pub(super) fn placing(out: &mut Vec<u8>, transform: Affine, grid: Grid) {
    let [a, b, c, d, x, y] = transform.as_coeffs();
    if transform == Affine::translate((x, y)) {
        // Quicker: the letters of a list are only moved.
        out.extend_from_slice(b"q 1 0 0 1 ");
    } else {
        let [a, b, c, d] = [a, b, c, d].map(|value| fixed(value, 6));
        put(out, format_args!("q {a} {b} {c} {d} "));
    }
    numbers(out, &[[x, y].map(|length| grid.units(length))], "cm");
}

impl Grid {
    /// A length in mm as the nearest whole number of units.
    pub(super) fn units(self, mm: f64) -> i64 {
        whole(mm * self.per_mm)
    }

    fn point(self, point: Point) -> [i64; 2] {
        [self.units(point.x), self.units(point.y)]
    }
}

/// A grid counted from a point of its own.
#[derive(Clone, Copy, Debug)]
struct Frame {
    grid: Grid,
    origin: Point,
}

impl Frame {
    fn of(grid: Grid) -> Frame {
        Frame { grid, origin: Point::ORIGIN }
    }

    fn point(self, point: Point) -> [i64; 2] {
        self.grid.point((point - self.origin).to_point())
    }
}

/// A rectangle in mm as a form's padded box.
pub(super) fn padded(bounds: Rect, grid: Grid) -> [i64; 4] {
    let wide = bounds.inflate(PADDING_MM, PADDING_MM);
    [wide.x0, wide.y0, wide.x1, wide.y1].map(|edge| grid.units(edge))
}

/// Writes `format_args!`; writing to memory cannot fail.
pub(super) fn put(out: &mut Vec<u8>, text: std::fmt::Arguments<'_>) {
    let written = out.write_fmt(text);
    debug_assert!(written.is_ok(), "writing to memory cannot fail");
}

/// Sets the colour to fill with: grey alone for greys, so that black stays black ink.
fn fill_colour(out: &mut Vec<u8>, colour: Colour) {
    let [r, g, b] = channels(colour);
    if colour.rgb.iter().all(|channel| *channel == colour.rgb[0]) {
        put(out, format_args!("{r} g\n"));
    } else {
        put(out, format_args!("{r} {g} {b} rg\n"));
    }
}

fn channels(colour: Colour) -> [crate::units::Fixed; 3] {
    colour.rgb.map(|channel| fixed(f64::from(channel) / 255.0, 4))
}

/// Fills a path under the non-zero rule; false when nothing of it is left on the grid.
///
/// What falls into parts is drawn part by part, each from where it starts: so a letter is the same bytes
/// wherever it stands, and a sheet of thousands packs into a fifth.
fn fill(out: &mut Vec<u8>, path: &Outline, grid: Grid) -> bool {
    let groups = groups(path);
    if let [_] = groups.as_slice() {
        return fill_part(out, path, Frame::of(grid));
    }
    let start = out.len();
    for group in &groups {
        let before = out.len();
        let origin = group.start();
        let [right, down] = [origin.x, origin.y].map(|length| fixed(length * grid.per_mm, 2));
        put(out, format_args!("q 1 0 0 1 {right} {down} cm\n"));
        if fill_part(out, group, Frame { origin, ..Frame::of(grid) }) {
            out.extend_from_slice(b"Q\n");
        } else {
            out.truncate(before);
        }
    }
    out.len() > start
}

/// The parts of a path, bars together with what stands before them: some readers move the edges of a bar that
/// is filled alone onto whole dots.
fn groups(path: &Outline) -> Vec<Outline> {
    let mut groups: Vec<Outline> = Vec::new();
    let mut only_bars = false;
    for part in path.parts() {
        let is_bar = part.elements().len() <= 6
            && !part
                .elements()
                .any(|side| matches!(side, PathEl::QuadTo(..) | PathEl::CurveTo(..)));
        match groups.last_mut() {
            Some(last) if is_bar || only_bars => {
                *last = std::mem::take(last).beside(&part);
                only_bars &= is_bar;
            }
            _ => {
                groups.push(part);
                only_bars = is_bar;
            }
        }
    }
    groups
}

fn fill_part(out: &mut Vec<u8>, part: &Outline, frame: Frame) -> bool {
    let drawn = contours(out, part, frame, Ends::Filled);
    if drawn {
        out.extend_from_slice(b"f\n");
    }
    drawn
}

/// What happens where a contour ends.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Ends {
    /// Filling closes it by itself.
    Filled,
    /// The line has to be joined.
    Joined,
}

/// Writes the contours; false when none is left on the grid.
fn contours(out: &mut Vec<u8>, path: &Outline, frame: Frame, ends: Ends) -> bool {
    let before = out.len();
    let mut pen =
        Pen { out, frame, ends, start: [0; 2], at: [0; 2], contour: before, line: None, drawn: 0 };
    let mut from = Point::ZERO;
    for element in path.elements() {
        match element {
            PathEl::MoveTo(to) => {
                pen.end();
                pen.begin(to);
            }
            PathEl::LineTo(to) => pen.line(to),
            PathEl::QuadTo(control, to) => {
                pen.curve([from.lerp(control, 2.0 / 3.0), to.lerp(control, 2.0 / 3.0), to]);
            }
            PathEl::CurveTo(a, b, to) => pen.curve([a, b, to]),
            PathEl::ClosePath => pen.end(),
        }
        from = element.end_point().unwrap_or(from);
    }
    pen.end();
    out.len() > before
}

/// Writes one contour after the other, leaving out what rounding made nothing of.
struct Pen<'a> {
    out: &'a mut Vec<u8>,
    frame: Frame,
    ends: Ends,
    /// Where the contour starts, and where the pen is.
    start: [i64; 2],
    at: [i64; 2],
    /// Where the contour's bytes start.
    contour: usize,
    /// Where the last segment's bytes start when it is a straight line.
    line: Option<usize>,
    /// Segments of the contour so far; a curve counts as two, for it can stand alone.
    drawn: u32,
}

impl Pen<'_> {
    fn begin(&mut self, to: Point) {
        self.start = self.frame.point(to);
        self.at = self.start;
        self.contour = self.out.len();
        numbers(self.out, &[self.start], "m");
    }

    fn line(&mut self, to: Point) {
        let to = self.frame.point(to);
        if to != self.at {
            self.line = Some(self.out.len());
            self.at = to;
            self.drawn += 1;
            numbers(self.out, &[to], "l");
        }
    }

    fn curve(&mut self, points: [Point; 3]) {
        let [a, b, to] = points.map(|point| self.frame.point(point));
        if [a, b, to] == [self.at; 3] {
            return;
        }
        if a == self.at {
            numbers(self.out, &[b, to], "v");
        } else if b == to {
            numbers(self.out, &[a, to], "y");
        } else {
            numbers(self.out, &[a, b, to], "c");
        }
        (self.line, self.at) = (None, to);
        self.drawn += 2;
    }

    /// Ends the contour: a last line back to the start goes without saying.
    fn end(&mut self) {
        if self.at == self.start
            && let Some(before) = self.line
        {
            self.out.truncate(before);
            self.drawn -= 1;
        }
        if self.drawn < 2 {
            self.out.truncate(self.contour);
        } else if self.ends == Ends::Joined {
            self.out.extend_from_slice(b"h\n");
        }
        (self.line, self.drawn, self.contour) = (None, 0, self.out.len());
    }
}

/// Points and the operator they belong to.
fn numbers<const N: usize>(out: &mut Vec<u8>, points: &[[i64; 2]; N], operator: &str) {
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
    use crate::shape;

    fn drawn(path: &str, ends: Ends) -> String {
        let mut out = Vec::new();
        let path = Outline::trusted(&kurbo::BezPath::from_svg(path).unwrap());
        contours(&mut out, &path, Frame::of(Grid { per_mm: 10.0 }), ends);
        String::from_utf8(out).unwrap().replace('\n', "|")
    }

    #[test]
    fn writes_the_operators_of_the_standard() {
        // ISO 32000-1 table 59: m l c v y h; a fill closes by itself (8.5.3.3.1).
        for (path, ends, text) in [
            ("M0 0 L1 0 L1 1 L0 0 Z", Ends::Filled, "0 0 m|10 0 l|10 10 l|"),
            ("M0 0 L1 0 L1 1 Z", Ends::Joined, "0 0 m|10 0 l|10 10 l|h|"),
            ("M0 0 C1 0 2 -1 2 2 Z", Ends::Filled, "0 0 m|10 0 20 -10 20 20 c|"),
            ("M0 0 C0 0 2 -1 2 2 Z", Ends::Filled, "0 0 m|20 -10 20 20 v|"),
            ("M0 0 C1 0 2 2 2 2 Z", Ends::Filled, "0 0 m|10 0 20 20 y|"),
            // A quadratic's controls lie at two thirds (textbook degree elevation).
            ("M0 0 Q3 3 6 0 Z", Ends::Filled, "0 0 m|20 20 40 20 60 0 c|"),
            ("M0 0 L0.01 0 L0 0.01 Z M5 5 L6 5 L6 6 Z", Ends::Filled, "50 50 m|60 50 l|60 60 l|"),
            ("M0 0 L1 0 L0 0 Z", Ends::Filled, ""),
        ] {
            assert_eq!(drawn(path, ends), text, "{path}");
        }
    }

    #[test]
    fn a_letter_is_the_same_bytes_wherever_it_stands() {
        let letter = |x: f64| format!("M{x} 0 L{} 0 Q{} 1 {x} 1 Z ", x + 1.0, x + 1.0);
        let bar = "M7 0 L8 0 L8 1 L7 1 Z";
        let path = format!("{}{}{bar}", letter(0.123), letter(4.567));
        let path = Outline::trusted(&kurbo::BezPath::from_svg(&path).unwrap());
        let mut out = Vec::new();
        assert!(fill(&mut out, &path, Grid { per_mm: 10.0 }));
        let text = String::from_utf8(out).unwrap();
        let parts: Vec<_> = text
            .split("q 1 0 0 1 ")
            .map(|part| part.split_once(" cm\n").unwrap_or_default())
            .collect();
        let [_, (first, one), (second, other)] = parts.as_slice() else { panic!("{text}") };
        // The bar goes with the letter before it: alone, its edges would move.
        assert_eq!((*first, *second), ("1.23 0", "45.67 0"));
        assert!(other.starts_with(one.strip_suffix("f\nQ\n").unwrap()), "{text}");
        assert!(other.contains("24 0 m\n34 0 l\n"), "{text}");
    }

    #[test]
    fn no_point_moves_by_more_than_two_micrometres() {
        for step in 0..1000 {
            let mm = f64::from(step) * 0.037_3 - 20.0;
            assert!((ART.units(mm) as f64 / ART.per_mm - mm).abs() <= 0.001_25 + 1e-12, "{mm}");
        }
    }

    #[test]
    fn greys_are_grey_alone_and_repeated_colours_are_said_once() {
        let square = |x: f64| shape::rectangle(Rect::new(x, 0.0, x + 1.0, 1.0));
        let mark = |plate, x| Mark {
            path: square(x),
            plate,
            role: crate::design::Role::Fill,
            from: crate::finding::Place::default(),
        };
        let red = Plate::Ink(Colour { rgb: [255, 0, 51] });
        let marks = [
            mark(Plate::Guide, 0.0),
            mark(Plate::Ink(Colour::BLACK), 2.0),
            mark(Plate::Cut, 4.0),
            mark(red, 6.0),
            mark(red, 8.0),
        ];
        let text = String::from_utf8(ink(&marks)).unwrap();
        let colours: Vec<_> = text.lines().filter(|line| line.ends_with('g')).collect();
        assert_eq!(colours, ["0 g", "1 0 0.2 rg"]);
        assert_eq!(text.lines().filter(|line| *line == "f").count(), 4);
    }
}
