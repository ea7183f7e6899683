//! Text and lines too small for the printer.

use super::Job;
use crate::finding::{Finding, Findings, Place};
use crate::spec::{Element, Label, Paint, Part, Printer};

pub(super) fn small_text(job: Job<'_>, findings: &mut Findings) {
    let printer = &job.spec.printer;
    for design in job.designs {
        let Some(label) = job.spec.labels.get(design.label) else { continue };
        for words in &design.words {
            let needed =
                if words.reversed { printer.smallest_cap_reversed } else { printer.smallest_cap };
            if words.cap_height_mm >= needed - ROUNDING_MM {
                continue;
            }
            let how = if words.reversed { "reversed (clear in ink)" } else { "in ink" };
            let spot = words.area.center() - design.size().origin();
            findings.push(
                Finding::warning(
                    "small-text",
                    format!(
                        "cap height is {:.2} mm {how}; {} needs {needed:.2} mm",
                        words.cap_height_mm, printer.name
                    ),
                )
                .at(words.from)
                .label(&label.name)
                .spot(spot.x, spot.y)
                .measured(words.cap_height_mm, needed)
                .help(format!("make cap_height at least {needed:.2} mm, or leave the text out")),
            );
        }
    }
}

/// Sizes are compared after rounding to the nearest micrometre.
const ROUNDING_MM: f64 = 0.000_5;

pub(super) fn thin_line(job: Job<'_>, findings: &mut Findings) {
    for label in &job.spec.labels {
        lines(&job.spec.printer, label, findings);
    }
}

fn lines(printer: &Printer, label: &Label, findings: &mut Findings) {
    let mut line = |width: f64, paint: Paint, place: Place, what: &str| {
        let (needed, kind) = match paint {
            Paint::Ink(_) => (printer.thinnest_ink, "ink"),
            Paint::Clear => (printer.thinnest_clear, "clear"),
        };
        if width < needed - ROUNDING_MM {
            findings.push(
                Finding::warning(
                    "thin-line",
                    format!(
                        "{what} of {kind} is {width:.3} mm wide; {} needs {needed:.2} mm",
                        printer.name
                    ),
                )
                .at(place)
                .label(&label.name)
                .measured(width, needed)
                .help(format!("make it at least {needed:.2} mm wide")),
            );
        }
    };
    Part::each(&label.parts, &mut |part| match &part.element {
        Element::Box(frame) => {
            if let Some(border) = frame.line {
                line(border.width, border.paint, part.place, "the border");
            }
        }
        Element::Line(stripes) => {
            for paint in &stripes.paints {
                line(stripes.width, *paint, part.place, "the line");
            }
        }
        Element::Ring(ring) if ring.inner > 0.0 => {
            line((ring.outer - ring.inner) / 2.0, ring.paint, part.place, "the ring");
        }
        Element::Chevron(chevron) => {
            for paint in &chevron.paints {
                line(chevron.width, *paint, part.place, "the chevron");
            }
        }
        Element::Scale(scale) => {
            for width in scale.widths() {
                line(width, scale.paint, part.place, "the mark");
            }
        }
        Element::Bracket(bracket) => {
            line(bracket.width, bracket.paint, part.place, "the bracket");
        }
        Element::Symbol(symbol) => {
            line(symbol.stroke, symbol.paint, part.place, "the symbol");
        }
        Element::Text(_)
        | Element::Ring(_)
        | Element::Art(_)
        | Element::Code(_)
        | Element::Group(_)
        | Element::Legend(_) => {}
    });
}
