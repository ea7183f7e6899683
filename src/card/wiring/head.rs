//! The head of the sheets: what must be true before a probe touches anything, and how to set the meter.

use crate::card::entry::counted;
use crate::card::page::{self, title_block};
use crate::card::strip::Strip;
use crate::card::typeset::{DARK, Level, Typesetter};
use crate::shape;
use crate::spec::Spec;
use crate::spec::wiring::Wiring;
use crate::wire::Plan;
use kurbo::{Point, Rect};

/// Before the first test. Common practice, no source.
const FIRST: [&str; 4] = [
    "Everything without power: mains unplugged and isolated, every other supply off and unplugged.",
    "Lithium cells disconnected before any probe touches a terminal; other batteries out as well.",
    "Never check continuity on live wiring: it harms you, and the meter.",
    "Mains wiring follows the local code and is work for a licensed electrician where the law asks for one.",
];

/// How to measure. Common practice, no source.
const METER: [&str; 4] = [
    "Set the meter to continuity, the beeper; if it has none, to its lowest range of ohms.",
    "Touch the probes together first: it must beep. What it reads is the leads' own; take it off each reading.",
    "A capacitor may make the meter chirp for a moment while it fills: wait, then measure again.",
    "Work down the rows: they are sorted so that the hand moves little. Tick what is as expected, write down what is not.",
];

/// White between the box and what is in it, mm.
const PADDING_MM: f64 = 4.0;

/// Title, counts, cautions in a box, how to measure.
pub(super) fn head(
    spec: &Spec,
    wiring: &Wiring,
    plan: &Plan,
    setter: &mut Typesetter<'_>,
) -> Vec<Strip> {
    let width = page::width(spec);
    let (mut strip, top) = title_block(spec, "Wiring sheets", setter);
    let intro = format!(
        "{}: {} that must beep, {} that must not. Then every device with its terminals, and the list of wires.",
        counted(wiring.wires.len(), "wire"),
        counted(plan.joined.len(), "test"),
        plan.apart.len(),
    );
    let lines = setter.lines(Level::Body, &intro, width);
    let end = strip.write(&lines, Level::Body, Point::new(0.0, top + 3.4));
    strip.height = end;
    vec![strip, Strip::gap(1.2), cautions(width, setter), Strip::gap(3.6), meter(width, setter)]
}

/// What must be true first, in a box.
fn cautions(width: f64, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = Strip { holds_next: true, ..Strip::default() };
    let title = setter.lines(Level::Head, "Before any probe touches a terminal", width);
    let top = strip.write(&title, Level::Head, Point::new(PADDING_MM, PADDING_MM)) + 0.4;
    let end = points(&mut strip, &FIRST, (PADDING_MM, top, width - 2.0 * PADDING_MM), setter);
    strip.height = end + PADDING_MM;
    let edge = Rect::new(0.0, 0.0, width, strip.height);
    let inner = shape::rounded(edge.inflate(-0.5, -0.5), 1.0);
    strip.fill(shape::rounded(edge, 1.5).minus(&inner), DARK);
    strip
}

fn meter(width: f64, setter: &mut Typesetter<'_>) -> Strip {
    let mut strip = Strip::default();
    let title = setter.lines(Level::Head, "The meter", width);
    let top = strip.write(&title, Level::Head, Point::new(PADDING_MM, 0.0)) + 0.4;
    strip.height = points(&mut strip, &METER, (PADDING_MM, top, width - 2.0 * PADDING_MM), setter);
    strip
}

/// Points with a figure before each, within `(x, top, width)`; says where the last base line is.
fn points(
    strip: &mut Strip,
    points: &[&str],
    (x, mut top, width): (f64, f64, f64),
    setter: &mut Typesetter<'_>,
) -> f64 {
    const INDENT: f64 = 4.6;
    let mut end = top;
    for (at, point) in points.iter().enumerate() {
        let figure = setter.lines(Level::Strong, &(at + 1).to_string(), INDENT);
        strip.write(&figure, Level::Strong, Point::new(x, top));
        let lines = setter.lines(Level::Body, point, width - INDENT);
        let next = strip.write(&lines, Level::Body, Point::new(x + INDENT, top));
        end = next - Level::Body.pitch() + Level::Body.cap();
        top = next + 0.7;
    }
    end
}
