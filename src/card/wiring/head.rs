//! The head of the sheets: what must be true before a probe touches anything, and how to set the meter.

use super::writer::SheetWriter;
use crate::card::page::title_block;
use crate::card::strip::Strip;
use crate::card::typeset::{DARK, Level, Typesetter};
use crate::shape;
use crate::spec::Spec;
use crate::spec::wiring::Wiring;
use crate::units::counted;
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
pub(super) fn head(spec: &Spec, wiring: &Wiring, plan: &Plan, writer: &mut SheetWriter<'_>) {
    let width = writer.width;
    let mut strip = title_block(spec, "Wiring sheets", &mut writer.setter);
    let intro = format!(
        "{}: {} that must beep, {} that must not. Then every device with its terminals, and the list of wires.",
        counted(wiring.wires.len(), "wire"),
        counted(plan.joined.len(), "test"),
        plan.apart.len(),
    );
    let at = Point::new(0.0, strip.height + 3.4);
    strip.height = strip.set(&mut writer.setter, Level::Body, &intro, at, width);
    writer.put(strip);
    writer.put(Strip::gap(1.2));
    let cautions = cautions(width, &mut writer.setter);
    writer.put(cautions);
    writer.put(Strip::gap(3.6));
    let meter = points("The meter", &METER, 0.0, width, &mut writer.setter);
    writer.put(meter);
}

/// What must be true first, in a box.
fn cautions(width: f64, setter: &mut Typesetter<'_>) -> Strip {
    let title = "Before any probe touches a terminal";
    let mut strip = points(title, &FIRST, PADDING_MM, width, setter);
    strip.holds_next = true;
    strip.height += PADDING_MM;
    let edge = Rect::new(0.0, 0.0, width, strip.height);
    let inner = shape::rounded(edge.inflate(-0.5, -0.5), 1.0);
    strip.fill(shape::rounded(edge, 1.5).minus(&inner), DARK);
    strip
}

/// A title and points with a figure before each; as high as down to the last base line.
fn points(
    title: &str,
    points: &[&str],
    top: f64,
    width: f64,
    setter: &mut Typesetter<'_>,
) -> Strip {
    const INDENT: f64 = 4.6;
    let mut strip = Strip::default();
    let at = Point::new(PADDING_MM, top);
    let mut top = strip.set(setter, Level::Head, title, at, width) + 0.4;
    for (point, number) in points.iter().zip(1..) {
        let at = Point::new(PADDING_MM, top);
        strip.set(setter, Level::Strong, &format!("{number}"), at, INDENT);
        let at = Point::new(PADDING_MM + INDENT, top);
        let width = width - 2.0 * PADDING_MM - INDENT;
        let next = strip.set(setter, Level::Body, point, at, width);
        strip.height = next - Level::Body.pitch() + Level::Body.cap();
        top = next + 0.7;
    }
    strip
}
