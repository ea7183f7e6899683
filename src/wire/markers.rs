//! Every marker of a wiring as a label: sized to its wire, as large as can be read; what cannot be is reported.

mod layout;
#[cfg(test)]
mod tests;

use crate::finding::{Finding, Findings, Place};
use crate::font::Faces;
use crate::parallel::in_order;
use crate::spec::wiring::{End, MarkerKind, MarkerOf, Spot, Wire, Wiring};
use crate::spec::{Allowed, Edge, Element, Label, LabelKind, Line, Paint, Part, Printer, Text};
use crate::text;
use layout::{DASH, MarkerLayout, PITCH, count};
use std::collections::{BTreeMap, BTreeSet};

/// The most markers of a job.
const MOST_MARKERS: u64 = 40_000;

/// From the end of a wire to its first mark, mm (common practice, no source).
const FROM_END: f64 = 25.0;

/// Under this length, mm, a wire gets no mark of its own between its ends, and up to the next one only
/// (FAA AC 43.13-1B 11-208: none under 3 in, one at the centre up to 7 in).
const SHORT: f64 = 76.0;
const MIDDLING: f64 = 178.0;

/// What markers are made from.
struct MarkerContext<'a> {
    wiring: &'a Wiring,
    printer: &'a Printer,
    faces: &'a Faces,
}

/// Wires whose markers share a size, so that straight cuts part them.
pub(super) struct Group {
    pub(super) kind: MarkerKind,
    pub(super) diameter_mm: f64,
    /// The most lines at an end of one of its wires.
    lines: usize,
    /// Width of the widest line in cap heights.
    widest: f64,
    /// Indices into `Wiring::wires`.
    pub(super) wires: Vec<usize>,
}

/// What the wires of a group have in common: kind, the diameter's bits (finite and above nought, they are in the
/// order of the diameters) and number of lines.
type GroupKey = (MarkerKind, u64, usize);

/// The markers of all wires as labels, a wire's together; `taken` are names other labels have.
///
/// What cannot be read is reported in `findings`, with a kind of marker that can.
#[must_use]
pub(crate) fn markers(
    wiring: &Wiring,
    printer: &Printer,
    faces: &Faces,
    taken: &BTreeSet<String>,
    findings: &mut Findings,
) -> Vec<Label> {
    let context = MarkerContext { wiring, printer, faces };
    let marks = |wire: &Wire| 2 + u64::from(between(wire.length_mm, wiring.markers.every));
    let count: u64 = wiring.wires.iter().map(marks).sum();
    // With that error nothing is printed: marks at the ends alone do for the checks.
    let every = wiring.markers.every.filter(|_| count <= MOST_MARKERS);
    if count > MOST_MARKERS {
        let message = format!("the wires take {count} markers; {MOST_MARKERS} is the most");
        let help = "make `every` larger, or two jobs of it";
        findings.push(Finding::error("too-many", message).at(wiring.markers.place).help(help));
    }
    let layouts: BTreeMap<GroupKey, MarkerLayout> = context
        .groups()
        .into_iter()
        .map(|(key, group)| (key, context.layout(&group, findings)))
        .collect();
    let mut labels = Vec::with_capacity(2 * wiring.wires.len());
    for (index, wire) in wiring.wires.iter().enumerate() {
        let Some(layout) = layouts.get(&context.key(wire)) else {
            debug_assert!(false, "every wire is in a group");
            continue;
        };
        for (name, spot) in spots(wire, every) {
            let plain = format!("{} {name}", wire.id);
            let name = if taken.contains(&plain) { format!("wire {plain}") } else { plain };
            let of = MarkerOf { wire: index, spot, kind: layout.kind, stretch: layout.stretch };
            labels.push(context.label(name, wire, of, layout));
        }
    }
    labels
}

/// The marks of a wire: both ends, and where it is long and that is asked for, between them.
fn spots(wire: &Wire, every: Option<f64>) -> Vec<(String, Spot)> {
    let mut spots = vec![("a".to_owned(), Spot::End(End::From))];
    for number in 1..=between(wire.length_mm, every) {
        spots.push((number.to_string(), Spot::Along(number)));
    }
    spots.push(("b".to_owned(), Spot::End(End::To)));
    spots
}

/// How many marks stand between those at the ends, so that none is further than `every` from the next.
fn between(length: Option<f64>, every: Option<f64>) -> u32 {
    let (Some(length), Some(every)) = (length, every) else { return 0 };
    if length < SHORT {
        0
    } else if length <= MIDDLING {
        1
    } else {
        let spans = (length - 2.0 * FROM_END) / every.max(1.0) - 1e-9;
        count(spans.ceil()) - 1
    }
}

impl MarkerContext<'_> {
    fn key(&self, wire: &Wire) -> GroupKey {
        let lines = wire.texts.iter().map(Vec::len).max().unwrap_or(1).max(1);
        let diameter_mm = wire.diameter.mm;
        (self.kind(wire.kind, diameter_mm), diameter_mm.to_bits(), lines)
    }

    fn groups(&self) -> BTreeMap<GroupKey, Group> {
        // For each wire the width of its widest line in cap heights.
        let measured = in_order(&self.wiring.wires, |wire| {
            let width = |lines: &Vec<String>| {
                text::width_in_caps(self.faces, &self.text(lines.clone(), 1.0, wire.place))
            };
            wire.texts.iter().map(width).fold(0.0, f64::max)
        });
        let mut groups = BTreeMap::new();
        for (index, (wire, widest)) in self.wiring.wires.iter().zip(measured).enumerate() {
            let (kind, bits, lines) = self.key(wire);
            let diameter_mm = wire.diameter.mm;
            let group = groups.entry((kind, bits, lines)).or_insert_with(|| Group {
                kind,
                diameter_mm,
                lines,
                widest: 0.0,
                wires: Vec::new(),
            });
            group.widest = group.widest.max(widest);
            group.wires.push(index);
        }
        groups
    }

    fn text(&self, lines: Vec<String>, cap: f64, place: Place) -> Text {
        let font = self.wiring.markers.font.as_str();
        Text { line_pitch: PITCH, ..Text::new(lines, font, cap, place) }
    }

    fn label(&self, name: String, wire: &Wire, of: MarkerOf, layout: &MarkerLayout) -> Label {
        let end = match of.spot {
            Spot::End(end) => end,
            Spot::Along(_) => End::From,
        };
        let place = wire.at(end).map_or(wire.place, |terminal| terminal.place);
        let words = layout.words.iter().map(|pose| {
            let text = self.text(wire.text(end).to_vec(), layout.cap, wire.place);
            Part::new(Element::Text(text), place).at(pose.at, pose.turned)
        });
        let folds = layout.folds.iter().map(|pose| {
            let line = Line::plain(DASH, self.printer.thinnest_ink, Paint::BLACK);
            Part::new(Element::Line(line), place).at(pose.at, pose.turned)
        });
        Label {
            film_place: self.wiring.markers.place,
            edge: Edge::FilmBorder(0.0),
            corner: Some(0.0),
            size: Some(layout.size),
            parts: words.chain(folds).collect(),
            // Reported of the whole wiring where it is so.
            allow: ["no-spare", "small-text"]
                .map(|code| Allowed { code: code.to_owned(), place: wire.place })
                .to_vec(),
            kind: LabelKind::Marker(of),
            ..Label::plain(name, self.wiring.markers.film, wire.place)
        }
    }
}
