//! Codes: modules of whole printer dots, drawn as one outline.

use super::super::drawing::{PaintedShape, PartDrawing, SLACK_MM};
use super::super::{DrawnCode, Role};
use super::DrawContext;
use crate::code::{self, Unencodable};
use crate::finding::Finding;
use crate::shape;
use crate::spec::{Code, CodeKind, PartId, Printer, safe_module_mm};
use kurbo::{Affine, Size};

/// Least height of bars that are scanned by hand, mm, and as a share of the width (ISO/IEC 15417; from memory).
const LEAST_BARS_MM: f64 = 5.0;
const LEAST_BARS_SHARE: f64 = 0.15;

pub(super) fn draw(asked: &Code, context: &mut DrawContext<'_>) -> PartDrawing {
    let modules = match code::encode(asked.kind, asked.level, &asked.text) {
        Ok(modules) => modules,
        Err(why) => {
            context.findings.push(refusal(asked, why));
            return PartDrawing::default();
        }
    };
    let mut drawn = DrawnCode {
        text: asked.text.clone(),
        kind: asked.kind,
        columns: modules.columns(),
        rows: modules.rows(),
        module: Size::new(1.0, 1.0),
        quiet: asked.quiet,
        paint: asked.paint,
        to_label: Affine::IDENTITY,
        part: PartId::default(),
        from: asked.place,
    };
    let module = module(asked, drawn.symbol().size(), context.printer);
    drawn.module = Size::new(module, module);
    if asked.kind == CodeKind::Code128 {
        let least = LEAST_BARS_MM.max(drawn.symbol().width() * LEAST_BARS_SHARE);
        drawn.module.height = asked.height.unwrap_or(least);
    }
    let area = drawn.with_quiet();
    if let Some(finding) = too_large(asked, area.size()) {
        context.findings.push(finding);
    }
    let dark = |column, row| modules.dark(column, row);
    let outline = shape::cells(drawn.columns, drawn.rows, drawn.module, dark);
    let shape = PaintedShape {
        code: Some(drawn),
        ..PaintedShape::plain(outline, asked.paint, Role::Code, asked.place)
    };
    PartDrawing::taking_up(area, vec![shape])
}

/// Width of a module, mm, in a symbol of so many modules: a whole number of dots.
fn module(asked: &Code, modules: Size, printer: &Printer) -> f64 {
    let dot = printer.dot_mm();
    // A rounding of the quotient must not cost a dot.
    let up = |mm: f64| (mm / dot - 1e-6).ceil();
    if let Some(module) = asked.module {
        return up(module).max(1.0) * dot;
    }
    let Some(width) = asked.width else {
        return up(safe_module_mm(printer)) * dot;
    };
    let across = width / (modules.width + 2.0 * asked.quiet);
    let fitting = match (asked.kind, asked.height) {
        (CodeKind::Qr | CodeKind::DataMatrix, Some(height)) => {
            across.min(height / (modules.height + 2.0 * asked.quiet))
        }
        (CodeKind::Code128, _) | (_, None) => across,
    };
    (fitting / dot + 1e-6).floor().max(1.0) * dot
}

fn too_large(asked: &Code, area: Size) -> Option<Finding> {
    let (width, height) = (asked.width?, asked.height.unwrap_or(f64::INFINITY));
    if area.width <= width + SLACK_MM && area.height <= height + SLACK_MM {
        return None;
    }
    let (needs, has) =
        if area.width > width + SLACK_MM { (area.width, width) } else { (area.height, height) };
    let message = format!(
        "the {} with its quiet zone is {:.2} x {:.2} mm; its `size` leaves {has:.2} mm",
        asked.kind.name(),
        area.width,
        area.height
    );
    let finding = Finding::error("code-too-large", message).at(asked.place).measured(needs, has);
    Some(finding.help("make `size` larger, shorten its text, or leave `module` out"))
}

fn refusal(asked: &Code, why: Unencodable) -> Finding {
    let kind = asked.kind.name();
    let (message, help) = match why {
        Unencodable::TooLong => {
            let length = asked.text.chars().count();
            let help = match asked.kind {
                CodeKind::Qr => "shorten its text, or choose a lower `level`",
                CodeKind::DataMatrix => "shorten its text",
                CodeKind::Code128 => "shorten its text to 80 characters, or write `kind: qr`",
            };
            (format!("{length} characters are too many for a {kind}"), help)
        }
        Unencodable::Character(letter) => {
            let point = u32::from(letter);
            let help = "take it out, or write `kind: qr`";
            (format!("a {kind} has no {letter:?} (U+{point:04X}), only printable ASCII"), help)
        }
    };
    Finding::error("code-text", message).at(asked.place).help(help)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::element::drawn_alone;
    use crate::finding::{Findings, Place};
    use crate::spec::{CodeLevel, Paint, samples};

    fn asked(kind: CodeKind, text: &str) -> Code {
        Code {
            text: text.into(),
            kind,
            level: CodeLevel::M,
            module: None,
            width: None,
            height: None,
            quiet: kind.quiet_modules(),
            paint: Paint::BLACK,
            place: Place::default(),
        }
    }

    fn drawn(code: &Code, dots_per_inch: f64) -> (PartDrawing, Findings) {
        let printer = Printer { dots_per_inch, ..samples::printer() };
        drawn_alone(&printer, |context| draw(code, context))
    }

    #[test]
    fn the_worked_example_of_the_standard_has_its_size() {
        // ISO/IEC 18004, worked example: 50 alphanumeric characters, level M, 4 dots at 400 dpi:
        // 7.366 mm without and 9.398 mm with the quiet zone.
        let text = "PROP STORE 04/12 SHELF B7 LANTERN BRASS NO: 000001";
        let code = Code { module: Some(4.0 * 25.4 / 400.0), ..asked(CodeKind::Qr, text) };
        let (drawn, _) = drawn(&code, 400.0);
        assert!((drawn.area.width() - 9.398).abs() < 0.000_5);
        let ink = drawn.shapes[0].outline.bounds();
        assert!((ink.width() - 7.366).abs() < 0.000_5 && (ink.height() - 7.366).abs() < 0.000_5);
    }

    #[test]
    fn modules_are_whole_dots_rounded_up_when_asked_for_and_down_to_fit() {
        // 25.4 / 600 = 0.042333 mm a dot: 0.4 mm is 9.4 dots.
        let dot = 25.4 / 600.0;
        let module = |code: &Code| drawn(code, 600.0).0.shapes[0].code.clone().unwrap().module_mm();
        let plain = asked(CodeKind::DataMatrix, "B7-0412");
        assert!((module(&plain) - 10.0 * dot).abs() < 1e-9);
        assert!((module(&Code { module: Some(0.5), ..plain.clone() }) - 12.0 * dot).abs() < 1e-9);
        assert!(
            (module(&Code { module: Some(12.0 * dot), ..plain.clone() }) - 12.0 * dot).abs() < 1e-9
        );
        // Four figures take a symbol of 10 x 10 (ISO/IEC 16022, up to 6 figures); with a module free on either
        // side 8.4 mm is 198.4 dots, 16.5 for each of 12.
        let fitted = Code { text: "0412".into(), width: Some(8.4), height: Some(8.4), ..plain };
        let code = drawn(&fitted, 600.0).0.shapes[0].code.clone().unwrap();
        assert_eq!(code.columns, 10);
        assert!((code.module_mm() - 16.0 * dot).abs() < 1e-9);
    }

    #[test]
    fn what_no_symbol_holds_is_refused_with_what_to_do() {
        for (code, message) in [
            (asked(CodeKind::Code128, "Schürze"), "U+00FC"),
            (asked(CodeKind::Code128, &"A".repeat(81)), "81 characters"),
            (asked(CodeKind::Qr, &"A".repeat(9000)), "9000 characters"),
        ] {
            let (drawn, findings) = drawn(&code, 600.0);
            assert!(drawn.shapes.is_empty());
            assert_eq!(findings.list()[0].code, "code-text");
            assert!(findings.list()[0].message.contains(message), "{findings:?}");
        }
    }
}
