//! The line page: lines from 0.05 to 0.50 mm in ink and in clear, three ways, gaps between lines, and two codes.

use super::page_writer::PageWriter;
use crate::card::strip::stroke;
use crate::card::typeset::Level;
use crate::code;
use crate::colour::Colour;
use crate::shape::{Outline, cells, rectangle};
use crate::spec::{CodeKind, CodeLevel};
use kurbo::{Affine, Point, Rect, Vec2};

/// The ladder, hundredths of a millimetre.
const WIDTHS: [u32; 10] = [5, 10, 15, 20, 25, 30, 35, 40, 45, 50];

/// For the figures at the left, mm.
const FIGURES_MM: f64 = 14.0;

/// The columns: three ways in ink, two of gaps, three ways in clear.
const COLUMNS: [(&str, LineSample); 8] = [
    ("ink 0°", LineSample::Ink(0.0)),
    ("45°", LineSample::Ink(45.0)),
    ("90°", LineSample::Ink(90.0)),
    ("gap 0°", LineSample::Gap(0.0)),
    ("90°", LineSample::Gap(90.0)),
    ("clear 0°", LineSample::Clear(0.0)),
    ("45°", LineSample::Clear(45.0)),
    ("90°", LineSample::Clear(90.0)),
];

/// Width of the bars beside a gap, mm: wide enough to print on any printer.
const BESIDE_GAP_MM: f64 = 1.0;

/// What a column shows, turned by degrees clockwise.
#[derive(Clone, Copy)]
enum LineSample {
    Ink(f64),
    Gap(f64),
    Clear(f64),
}

pub(super) fn fill(page: &mut PageWriter<'_>) {
    let top = page.head(
        "Test print: lines",
        "Print at 100 %, no scaling: on plain paper first, then on the film with its own settings. Look at it in good \
         light, on film after the clear coat.",
    );
    let area = page.area();
    let cell = ((area.width() - FIGURES_MM) / 8.0).min(20.0);
    let height = if page.is_tall() { 14.6 } else { 10.4 };
    let rows_top = top + 6.4;
    for (column, (name, _)) in (0_u32..).zip(COLUMNS) {
        let x = area.x0 + FIGURES_MM + (f64::from(column) + 0.5) * cell;
        page.write(Level::Quiet, name, Point::new(x, top + 1.2), 0.5);
    }
    for (row, hundredths) in (0_u32..).zip(WIDTHS) {
        let width = f64::from(hundredths) / 100.0;
        let y = rows_top + f64::from(row) * height;
        page.write_beside(Level::Strong, &format!("{width:.2}"), area.x0, y + height / 2.0);
        for (column, (_, sample)) in (0_u32..).zip(COLUMNS) {
            let x = area.x0 + FIGURES_MM + f64::from(column) * cell;
            let within = Rect::new(x, y, x + cell, y + height).inset(-0.7);
            page.fill(patch(sample, width, within), Colour::BLACK);
        }
    }
    let bottom = rows_top + 10.0 * height;
    debug_assert!(bottom < page.paper.size.height, "ten rows fit on the smallest paper");
    let clear = "The thinnest clear line, and the narrowest gap, that is open from end to end.";
    let mut rows = vec![
        ("thinnest_ink", "The thinnest line of ink that is whole in all three directions."),
        ("thinnest_clear", clear),
    ];
    if page.is_tall() {
        let words =
            "The smaller of the two below that a phone reads is the least `module` to ask for.";
        rows.push(("codes", words));
        codes(page);
    }
    page.advice(&rows, bottom + 3.0);
}

/// Widths of modules to try, mm: the least that decals hold, and what is safe on an ink-jet (common practice, no
/// source).
const MODULES_MM: [f64; 2] = [0.4, 0.5];

/// Two codes at the foot of the page that differ in the width of their modules alone.
fn codes(page: &mut PageWriter<'_>) {
    let area = page.area();
    let Ok(modules) = code::encode(CodeKind::Qr, CodeLevel::M, "BUOY 38B") else {
        debug_assert!(false, "capitals and figures can be encoded");
        return;
    };
    for (at, module) in (0_u32..).zip(MODULES_MM) {
        let (columns, rows) = (modules.columns(), modules.rows());
        let drawn = cells(columns, rows, (module, module).into(), |x, y| modules.dark(x, y));
        let middle = Point::new(area.x0 + 12.0 + 24.0 * f64::from(at), area.y1 - 20.0);
        page.fill(drawn.placed(Affine::translate(middle.to_vec2())), Colour::BLACK);
        let words = Point::new(middle.x, middle.y + 10.0);
        page.write(Level::Quiet, &format!("{module:.2} mm"), words, 0.5);
    }
}

/// Three lines, or two bars and the gap between them, in a cell.
fn patch(sample: LineSample, width: f64, within: Rect) -> Outline {
    let side = within.width().min(within.height());
    let middle = within.center();
    let three = |length: f64, degrees: f64| {
        [-1.0, 0.0, 1.0].map(|at| line(middle, at * length / 3.2, length, width, degrees))
    };
    let together = |lines: &[Outline]| lines.iter().fold(Outline::default(), Outline::beside);
    match sample {
        LineSample::Ink(degrees) => together(&three(side - 1.4, degrees)),
        LineSample::Clear(degrees) => {
            let lines = three(side - 2.0, degrees);
            lines.iter().fold(rectangle(within), |block, line| block.minus(line))
        }
        LineSample::Gap(degrees) => {
            let off = (width + BESIDE_GAP_MM) / 2.0;
            let bar = |off: f64| line(middle, off, side - 1.4, BESIDE_GAP_MM, degrees);
            together(&[bar(-off), bar(off)])
        }
    }
}

/// A line past a point at a distance, level before it is turned.
fn line(middle: Point, off: f64, length: f64, width: f64, degrees: f64) -> Outline {
    let (sin, cos) = libm::sincos(degrees.to_radians());
    let (along, across) = (Vec2::new(cos, sin), Vec2::new(-sin, cos));
    let at = middle + across * off;
    stroke(at - along * (length / 2.0), at + along * (length / 2.0), width)
}
