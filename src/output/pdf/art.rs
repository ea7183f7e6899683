//! Designs, marks and white as the content of a PDF stream.

use super::outline::{ART, CUT, Grid, Painted, contours};
use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, WhitePlate};
use crate::shape::Outline;
use crate::units::fixed;
use kurbo::{Affine, PathEl, Rect};
use std::fmt;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::io::Write as _;

/// Width of the line that shows where the knife goes, mm (common practice, no source).
const CUT_LINE_MM: f64 = 0.1;

/// Colour of cut lines: one no label is likely to have beside it (common practice, no source).
const CUT_COLOUR: Colour = Colour { rgb: [255, 0, 255] };

/// Room left round a drawing's bounds, mm, so that no reader clips its edge.
const PADDING_MM: f64 = 0.5;

/// Where the knife goes, on [`CUT`]; adds nothing when there is no trim.
pub(super) fn cut_lines(out: &mut Vec<u8>, design: &Design) {
    trim(out, &design.trim);
    cut_marks(out, &design.marks);
}

/// Bounds of a design's ink on [`ART`], padded.
pub(super) fn ink_bounds(design: &Design) -> [i64; 4] {
    let printed = |mark: &&Mark| mark.plate != Plate::Cut && !mark.path.is_empty();
    let bounds = design.marks.iter().filter(printed).map(|mark| mark.path.bounds());
    bounds.reduce(|a, b| a.union(b)).map_or([0; 4], |bounds| padded(bounds, ART))
}

/// A number that is the same for marks that are drawn the same, and rarely the same for others.
pub(super) fn likeness_hash(marks: &[Mark]) -> u64 {
    let mut hash = DefaultHasher::new();
    for mark in marks {
        mark.plate.hash(&mut hash);
        // Ends alone: with the same corners, curves are rarely other curves.
        for end in mark.path.elements().filter_map(|element| element.end_point()) {
            let [x, y] = ART.point(end);
            hash.write_i64((x << 32) ^ y);
        }
    }
    hash.finish()
}

/// The printed marks, filled in their colours in order, on [`ART`]. Guides are black.
pub(super) fn ink(marks: &[Mark]) -> Vec<u8> {
    let mut out = Vec::new();
    add_ink(&mut out, marks);
    out
}

/// The same, after what is there already.
pub(super) fn add_ink(out: &mut Vec<u8>, marks: &[Mark]) {
    let mut last = None;
    for mark in marks {
        let colour = match mark.plate {
            Plate::Ink(colour) => colour,
            Plate::Guide => Colour::BLACK,
            Plate::Cut => continue,
        };
        let head = if last == Some(colour) { String::new() } else { fill_colour(colour) };
        if wrapped(out, format_args!("{head}"), |out| fill(out, &mark.path, ART), "") {
            last = Some(colour);
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
            out.extend_from_slice(fill_colour(CUT_COLOUR).as_bytes());
        }
        fill(out, &mark.path, CUT);
    }
}

/// An outline as a thin closed line on [`CUT`].
fn trim(out: &mut Vec<u8>, path: &Outline) {
    let [r, g, b] = channels(CUT_COLOUR);
    let width = fixed(CUT_LINE_MM * CUT.per_mm, 3);
    let head = format_args!("{r} {g} {b} RG {width} w\n");
    wrapped(out, head, |out| contours(out, path, CUT, Painted::Line), "S\n");
}

/// Adds what `draw` draws between a head and a tail, and nothing when it draws nothing; returns whether it did.
pub(super) fn wrapped(
    out: &mut Vec<u8>,
    head: fmt::Arguments<'_>,
    draw: impl FnOnce(&mut Vec<u8>),
    tail: &str,
) -> bool {
    let before = out.len();
    put(out, head);
    let start = out.len();
    draw(out);
    let is_drawn = out.len() > start;
    if is_drawn {
        out.extend_from_slice(tail.as_bytes());
    } else {
        out.truncate(before);
    }
    is_drawn
}

/// Adds what `draw` draws, under the matrix of a transform: `q … cm … Q`.
///
/// Offsets come out on the grid; the rest keeps six decimals, 0.1 µm over the widest label.
pub(super) fn placed(
    out: &mut Vec<u8>,
    transform: Affine,
    grid: Grid,
    draw: impl FnOnce(&mut Vec<u8>),
) {
    let [a, b, c, d, x, y] = transform.as_coeffs();
    let (right, down) = (grid.units(x), grid.units(y));
    if transform == Affine::translate((x, y)) {
        // Quicker: the letters of a list are only moved.
        wrapped(out, format_args!("q 1 0 0 1 {right} {down} cm\n"), draw, "Q\n");
    } else {
        let [a, b, c, d] = [a, b, c, d].map(|value| fixed(value, 6));
        wrapped(out, format_args!("q {a} {b} {c} {d} {right} {down} cm\n"), draw, "Q\n");
    }
}

/// A rectangle in mm as a form's padded box.
pub(super) fn padded(bounds: Rect, grid: Grid) -> [i64; 4] {
    let wide = bounds.inflate(PADDING_MM, PADDING_MM);
    [wide.x0, wide.y0, wide.x1, wide.y1].map(|edge| grid.units(edge))
}

/// Writes `format_args!`; writing to memory cannot fail.
pub(super) fn put(out: &mut Vec<u8>, text: fmt::Arguments<'_>) {
    let written = out.write_fmt(text);
    debug_assert!(written.is_ok(), "writing to memory cannot fail");
}

/// What sets the colour to fill with: grey alone for greys, so that black stays black ink.
fn fill_colour(colour: Colour) -> String {
    let [r, g, b] = channels(colour);
    if colour.rgb.iter().all(|channel| *channel == colour.rgb[0]) {
        format!("{r} g\n")
    } else {
        format!("{r} {g} {b} rg\n")
    }
}

fn channels(colour: Colour) -> [crate::units::Fixed; 3] {
    colour.rgb.map(|channel| fixed(f64::from(channel) / 255.0, 4))
}

/// Fills a path under the non-zero rule.
///
/// What falls into parts is drawn part by part, each from where it starts: so a letter is the same bytes
/// wherever it stands, and a sheet of thousands packs into a fifth.
fn fill(out: &mut Vec<u8>, path: &Outline, grid: Grid) {
    let groups = groups(path);
    if groups.len() == 1 {
        return fill_part(out, path, grid);
    }
    for group in &groups {
        let origin = group.start();
        let [right, down] = [origin.x, origin.y].map(|length| fixed(length * grid.per_mm, 2));
        let head = format_args!("q 1 0 0 1 {right} {down} cm\n");
        wrapped(out, head, |out| fill_part(out, group, Grid { origin, ..grid }), "Q\n");
    }
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

fn fill_part(out: &mut Vec<u8>, part: &Outline, grid: Grid) {
    wrapped(out, format_args!(""), |out| contours(out, part, grid, Painted::Filled), "f\n");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape;

    #[test]
    fn a_letter_is_the_same_bytes_wherever_it_stands() {
        let letter = |x: f64| format!("M{x} 0 L{} 0 Q{} 1 {x} 1 Z ", x + 1.0, x + 1.0);
        let bar = "M7 0 L8 0 L8 1 L7 1 Z";
        let path = format!("{}{}{bar}", letter(0.123), letter(4.567));
        let path = Outline::trusted(&kurbo::BezPath::from_svg(&path).unwrap());
        let mut out = Vec::new();
        fill(&mut out, &path, Grid { per_mm: 10.0, ..ART });
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
    fn greys_are_grey_alone_and_repeated_colours_are_said_once() {
        let square = |x: f64| shape::rectangle(Rect::new(x, 0.0, x + 1.0, 1.0));
        let mark = |plate, x| Mark {
            path: square(x),
            plate,
            role: crate::design::Role::Fill,
            part: crate::spec::PartId::default(),
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
