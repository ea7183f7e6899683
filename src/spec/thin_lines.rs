//! Lines made as wide as the printer can print, on labels that ask for it.

use super::element::{Paint, Part};
use super::label::Label;
use super::printer::Printer;
use crate::finding::{Finding, Findings};

/// Widens every line of a label that is thinner than the printer's thinnest, each reported as a note.
pub(super) fn widen_thin_lines(label: &mut Label, printer: &Printer, findings: &mut Findings) {
    // White is bare film: a clear gap.
    let needed = |paint: Paint| match paint.leaves_bare() {
        true => (printer.thinnest_clear, "clear"),
        false => (printer.thinnest_ink, "ink"),
    };
    let name = label.name.clone();
    Part::each_mut(&mut label.parts, &mut |part| {
        let strokes = part.element.any().strokes();
        for stroke in strokes.iter().filter(|stroke| stroke.width < needed(stroke.paint).0) {
            let (width, kind) = needed(stroke.paint);
            let message = format!(
                "the {} of {kind} is {:.3} mm; it is drawn {width:.2} mm wide, the thinnest {} prints",
                stroke.word, stroke.width, printer.name
            );
            let finding = Finding::note("lifted", message).measured(stroke.width, width);
            let help = "take `lift` away to keep its true width";
            findings.push(finding.at(part.place).label(&name).help(help));
        }
        part.element.any_mut().widen(&|width, paint| width.max(needed(paint).0));
    });
}
