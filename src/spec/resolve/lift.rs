//! Lines made as wide as the printer can print, on labels that ask for it.

use crate::finding::{Finding, Findings, Place};
use crate::spec::{Element, Label, Paint, Part, Printer};

/// What a label's lines are lifted to.
struct Least<'a> {
    printer: &'a Printer,
    label: String,
    findings: &'a mut Findings,
}

/// Widens every line of a label that is thinner than the printer's thinnest, each told as a note.
pub(super) fn lift(label: &mut Label, printer: &Printer, findings: &mut Findings) {
    let mut least = Least { printer, label: label.name.clone(), findings };
    parts(&mut label.parts, &mut least);
}

fn parts(all: &mut [Part], least: &mut Least<'_>) {
    for part in all {
        let place = part.place;
        match &mut part.element {
            Element::Box(frame) => {
                if let Some(line) = &mut frame.line {
                    least.lift(&mut line.width, line.paint, place, "border");
                }
            }
            Element::Line(line) => least.each(&mut line.width, &line.paints, place, "line"),
            Element::Chevron(chevron) => {
                least.each(&mut chevron.width, &chevron.paints, place, "chevron");
            }
            Element::Ring(ring) if ring.inner > 0.0 => {
                let mut width = (ring.outer - ring.inner) / 2.0;
                least.lift(&mut width, ring.paint, place, "ring");
                // Wider towards the middle: its outer edge is what it is measured by.
                ring.inner = (ring.outer - 2.0 * width).max(0.0);
            }
            Element::Scale(scale) => {
                for (_, width) in &mut scale.sizes {
                    least.lift(width, scale.paint, place, "mark");
                }
                if let Some(width) = &mut scale.line {
                    least.lift(width, scale.paint, place, "line");
                }
            }
            Element::Symbol(symbol) => {
                least.lift(&mut symbol.stroke, symbol.paint, place, "symbol's stroke");
            }
            Element::Bracket(bracket) => {
                least.lift(&mut bracket.width, bracket.paint, place, "bracket");
            }
            Element::Group(group) => parts(&mut group.parts, least),
            Element::Legend(legend) => parts(&mut legend.parts, least),
            Element::Text(_) | Element::Ring(_) | Element::Art(_) | Element::Code(_) => {}
        }
    }
}

impl Least<'_> {
    fn each(&mut self, width: &mut f64, paints: &[Paint], place: Place, what: &str) {
        for paint in paints {
            self.lift(width, *paint, place, what);
        }
    }

    fn lift(&mut self, width: &mut f64, paint: Paint, place: Place, what: &str) {
        // White is bare film: a clear gap.
        let (needed, kind) = match paint {
            Paint::Ink(crate::colour::Colour::WHITE) | Paint::Clear => {
                (self.printer.thinnest_clear, "clear")
            }
            Paint::Ink(_) => (self.printer.thinnest_ink, "ink"),
        };
        if *width < needed {
            let message = format!(
                "the {what} of {kind} is {width:.3} mm; it is drawn {needed:.2} mm wide, the thinnest {} prints",
                self.printer.name
            );
            let finding = Finding::note("lifted", message).measured(*width, needed);
            let help = "take `lift` away to keep its true width";
            self.findings.push(finding.at(place).label(&self.label).help(help));
            *width = needed;
        }
    }
}
