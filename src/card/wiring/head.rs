//! The head of the sheets: what must be true before a probe touches anything, and how to set the meter.

use super::writer::SheetWriter;
use crate::card::page::title_block;
use crate::card::strip::{Strip, StripWriter};
use crate::card::typeset::{DARK, Level};
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
    let strips = &mut writer.strips;
    title_block(spec, "Wiring sheets", strips);
    let intro = format!(
        "{}: {} that must beep, {} that must not. Then every device with its terminals, and the list of wires.",
        counted(wiring.wires.len(), "wire"),
        counted(plan.joined.len(), "test"),
        plan.apart.len(),
    );
    let at = Point::new(0.0, strips.strip.height + 3.4);
    strips.strip.height = strips.set(Level::Body, &intro, at, strips.width);
    writer.put_written();
    writer.put(Strip::gap(1.2));
    cautions(&mut writer.strips);
    writer.put_written();
    writer.put(Strip::gap(3.6));
    points("The meter", &METER, 0.0, &mut writer.strips);
    writer.put_written();
}

/// What must be true first, in a box.
fn cautions(writer: &mut StripWriter<'_>) {
    points("Before any probe touches a terminal", &FIRST, PADDING_MM, writer);
    let strip = &mut writer.strip;
    strip.holds_next = true;
    strip.height += PADDING_MM;
    let edge = Rect::new(0.0, 0.0, writer.width, strip.height);
    let inner = shape::rounded(edge.inflate(-0.5, -0.5), 1.0);
    strip.fill(shape::rounded(edge, 1.5).minus(&inner), DARK);
}

/// Writes a title and points with a figure before each; the strip ends at the last base line.
fn points(title: &str, points: &[&str], top: f64, writer: &mut StripWriter<'_>) {
    const INDENT: f64 = 4.6;
    let title_at = Point::new(PADDING_MM, top);
    let mut top = writer.set(Level::Head, title, title_at, writer.width) + 0.4;
    for (point, number) in points.iter().zip(1..) {
        writer.set(Level::Strong, &format!("{number}"), Point::new(PADDING_MM, top), INDENT);
        let width = writer.width - 2.0 * PADDING_MM - INDENT;
        let next = writer.set(Level::Body, point, Point::new(PADDING_MM + INDENT, top), width);
        writer.strip.height = next - Level::Body.pitch() + Level::Body.cap();
        top = next + 0.7;
    }
}
