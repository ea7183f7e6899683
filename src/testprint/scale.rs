//! The scale page: bars both ways, a square with its diagonals in the middle of the paper, stairs at the edges.

use super::page_writer::PageWriter;
use crate::card::strip::stroke;
use crate::card::typeset::{DARK, Level};
use crate::shape::rectangle;
use crate::sheet::bar;
use crate::spec::{BAR_MM, SQUARE_MM};
use crate::units::fixed;
use kurbo::{Affine, Point, Rect, Vec2};

const TITLE: &str = "Test print: scale";

/// Width of the square's lines and of its diagonals, mm.
const LINE_MM: f64 = 0.2;

/// Steps at each edge, 1 mm each: more than most printers leave free.
const STEPS: u32 = 12;

/// From step to step along the edge, and the width of one, mm.
const STEP_PITCH_MM: f64 = 3.4;
const STEP_MM: f64 = 2.0;

/// Where steps end and their figures stand, mm from the edge.
const STAIRS_MM: f64 = 13.5;
const FIGURES_MM: f64 = 16.0;

pub(super) fn fill(page: &mut PageWriter<'_>) {
    let paper = page.paper.name.clone();
    let intro = if page.is_corrected() {
        format!(
            "This page is corrected by the profile named at its foot, to try it. Print it on {paper} at 100 %: actual \
             size, no fitting, no scaling. The bars should measure 100.0 mm and the square 50.0 mm."
        )
    } else {
        format!(
            "Print this page on {paper} at 100 %: actual size, no fitting, no scaling. Use plain paper first, then the \
             film with the settings you will use for it. Let the sheet cool or dry before you measure; use a steel \
             ruler and read it to 0.1 mm."
        )
    };
    page.head(TITLE, &intro);
    let middle = page.paper.size.to_rect().center();
    square(middle, page);
    bars(middle, page);
    for edge in 0..4 {
        stairs(edge, page);
    }
    let Point { x, y } = middle;
    let belongs = format!(
        "Where the diagonals cross: [from the left, from the top] edge of the paper. It belongs at [{}, {}].",
        fixed(x, 2),
        fixed(y, 2)
    );
    let rows: &[(&str, &str)] = if page.is_corrected() {
        // A page that only tries a profile.
        &[
            ("true", "Within 0.1 mm of 100.0 and 50.0: the profile is right."),
            ("off", "Measure the page without --profile and make the profile anew."),
        ]
    } else {
        &[
            ("bars", "Both bars, from outer edge to outer edge: [across, down]."),
            ("square", "The square, from outer edge to outer edge: [across, down]."),
            ("diagonals", "From outer corner to outer corner: [from top left, from top right]."),
            ("middle", &belongs),
            (
                "margins",
                "At each edge, the first step that stands clear of where printing stops: [top, right, bottom, left].",
            ),
            (
                "then",
                "Write them into answers.yaml; `decalwright printer NAME --from answers.yaml` makes the profile.",
            ),
        ]
    };
    if page.is_tall() || page.is_corrected() {
        let air = if page.is_tall() { 10.0 } else { 4.0 };
        page.advice(rows, y + BAR_MM / 2.0 + air);
    } else {
        page.next_page();
        let top = page.head(TITLE, "What to measure on page 1, and how to note it.");
        page.advice(rows, top + 3.0);
    }
}

fn square(middle: Point, page: &mut PageWriter<'_>) {
    let outer = Rect::from_center_size(middle, (SQUARE_MM, SQUARE_MM));
    let frame = rectangle(outer).minus(&rectangle(outer.inset(-LINE_MM)));
    page.fill(frame, DARK);
    for sign in [1.0, -1.0] {
        let reach = Vec2::new(outer.width() / 2.0, sign * outer.height() / 2.0);
        // Clipped, so that corners stay square.
        let line = stroke(middle - reach, middle + reach, LINE_MM).common(&rectangle(outer));
        page.fill(line, DARK);
    }
    page.write(Level::Quiet, "50 mm square", Point::new(outer.center().x, outer.y0 + 3.0), 0.5);
}

/// One under the square, one right of it; its teeth point to the square.
fn bars(middle: Point, page: &mut PageWriter<'_>) {
    let below = Point::new(middle.x - BAR_MM / 2.0, middle.y + SQUARE_MM / 2.0 + 11.0);
    page.fill(bar(BAR_MM).placed(Affine::translate(below.to_vec2())), DARK);
    let words = Point::new(middle.x - 32.0, below.y + 4.4);
    page.write(Level::Quiet, "100 mm across", words, 0.5);
    let right = (middle.x + BAR_MM / 2.0 + 4.0).min(page.paper.size.width - 24.0);
    let top = middle.y - BAR_MM / 2.0;
    // Across to down by swapping x and y.
    let down = Affine::new([0.0, 1.0, 1.0, 0.0, right, top]);
    page.fill(bar(BAR_MM).placed(down), DARK);
    let line = page.strips.setter.phrase(Level::Quiet, "100 mm down");
    let at = Point::new(right - 3.4, middle.y - 18.0 + line.width / 2.0);
    page.strips.strip.write_upwards(&line, Level::Quiet, at);
}

/// Steps that end 1 to 12 mm from an edge: 0 top, 1 right, 2 bottom, 3 left.
fn stairs(edge: u8, page: &mut PageWriter<'_>) {
    let size = page.paper.size;
    // From along the edge and inwards to the page.
    let place = |along: f64, inwards: f64| match edge {
        0 => Point::new(size.width / 2.0 + along, inwards),
        1 => Point::new(size.width - inwards, size.height / 2.0 + along),
        2 => Point::new(size.width / 2.0 + along, size.height - inwards),
        _ => Point::new(inwards, size.height / 2.0 + along),
    };
    for step in 1..=STEPS {
        let along = (f64::from(step) - f64::from(STEPS + 1) / 2.0) * STEP_PITCH_MM;
        let start = place(along - STEP_MM / 2.0, f64::from(step));
        let end = place(along + STEP_MM / 2.0, STAIRS_MM);
        page.block(Rect::from_points(start, end), DARK);
        let at = place(along, FIGURES_MM);
        let top = Point::new(at.x, at.y - Level::Quiet.cap() / 2.0);
        page.write(Level::Quiet, &step.to_string(), top, 0.5);
    }
}
