//! Codes: modules of whole printer dots, drawn as one outline.

use super::super::piece::{Drawn, Piece};
use super::super::{DrawnCode, Role};
use super::Bench;
use crate::code::{self, Modules, Unencodable};
use crate::finding::Finding;
use crate::shape;
use crate::spec::{Code, CodeKind, PartId, Printer, safe_module_mm};
use kurbo::{Affine, Size};

/// Least height of bars that are scanned by hand, mm, and as a share of the width (ISO/IEC 15417; from memory).
const LEAST_BARS_MM: f64 = 5.0;
const LEAST_BARS_SHARE: f64 = 0.15;

pub(super) fn draw(asked: &Code, bench: &mut Bench<'_>) -> Drawn {
    let modules = match code::encode(asked.kind, asked.level, &asked.text) {
        Ok(modules) => modules,
        Err(why) => {
            bench.findings.push(refusal(asked, why));
            return Drawn::default();
        }
    };
    let module = module(asked, &modules, bench.printer);
    let mut drawn = DrawnCode {
        text: asked.text.clone(),
        kind: asked.kind,
        columns: modules.columns(),
        rows: modules.rows(),
        module: Size::new(module, module),
        quiet: asked.quiet,
        paint: asked.paint,
        to_label: Affine::IDENTITY,
        part: PartId::default(),
        from: asked.place,
    };
    if asked.kind == CodeKind::Code128 {
        let least = LEAST_BARS_MM.max(drawn.symbol().width() * LEAST_BARS_SHARE);
        drawn.module.height = asked.height.unwrap_or(least);
    }
    let area = drawn.with_quiet();
    if let Some(finding) = too_large(asked, area.size()) {
        bench.findings.push(finding);
    }
    let dark = |column, row| modules.dark(column, row);
    let outline = shape::cells(drawn.columns, drawn.rows, drawn.module, dark);
    let piece =
        Piece { code: Some(drawn), ..Piece::plain(outline, asked.paint, Role::Code, asked.place) };
    Drawn { pieces: vec![piece], area, frames: Vec::new(), texts: Vec::new() }
}

/// Width of a module, mm: a whole number of dots.
fn module(asked: &Code, modules: &Modules, printer: &Printer) -> f64 {
    let dot = printer.dot_mm();
    // A rounding of the quotient must not cost a dot.
    let up = |mm: f64| (mm / dot - 1e-6).ceil();
    if let Some(module) = asked.module {
        return up(module).max(1.0) * dot;
    }
    let Some(width) = asked.width else {
        return up(safe_module_mm(printer)) * dot;
    };
    #[allow(clippy::cast_precision_loss, reason = "a symbol has some hundred modules a side")]
    let (columns, rows) = (modules.columns() as f64, modules.rows() as f64);
    let across = width / (columns + 2.0 * asked.quiet);
    let fitting = match (asked.kind, asked.height) {
        (CodeKind::Qr | CodeKind::DataMatrix, Some(height)) => {
            across.min(height / (rows + 2.0 * asked.quiet))
        }
        (CodeKind::Code128, _) | (_, None) => across,
    };
    (fitting / dot + 1e-6).floor().max(1.0) * dot
}

/// Rounding that nobody can see or cut, mm.
const SLACK_MM: f64 = 0.005;

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
            let message = format!("{length} characters are too many for a {kind}");
            let help = match asked.kind {
                CodeKind::Qr => "shorten its text, or choose a lower `level`",
                CodeKind::DataMatrix => "shorten its text",
                CodeKind::Code128 => "shorten its text to 80 characters, or write `kind: qr`",
            };
            (message, help)
        }
        Unencodable::Character(letter) => {
            let point = u32::from(letter);
            let message =
                format!("a {kind} has no {letter:?} (U+{point:04X}), only printable ASCII");
            (message, "take it out, or write `kind: qr`")
        }
    };
    Finding::error("code-text", message).at(asked.place).help(help)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Findings;
    use crate::finding::Place;
    use crate::font::Faces;
    use crate::spec::{CodeLevel, Paint, Process};

    fn asked(kind: CodeKind, text: &str) -> Code {
        Code {
            text: text.into(),
            kind,
            level: CodeLevel::M,
            module: None,
            width: None,
            height: None,
            quiet: kind.quiet_modules(),
            paint: Paint::Ink(crate::colour::Colour::BLACK),
            place: Place::default(),
        }
    }

    fn drawn(code: &Code, dots_per_inch: f64) -> (Drawn, Findings) {
        let printer = Printer {
            name: "shop".into(),
            process: Process::Laser,
            thinnest_ink: 0.15,
            thinnest_clear: 0.25,
            smallest_cap: 1.2,
            smallest_cap_reversed: 1.6,
            dots_per_inch,
            ink_opacity: 0.2,
            white_opacity: 0.85,
            thinnest_white: 0.5,
            white_passes: None,
            profile: None,
        };
        let mut findings = Findings::default();
        let faces = Faces::bundled();
        let mut bench = Bench {
            faces: &faces,
            findings: &mut findings,
            label: "",
            room: None,
            printer: &printer,
        };
        let drawn = draw(code, &mut bench);
        (drawn, findings)
    }

    #[test]
    fn the_worked_example_of_the_standard_has_its_size() {
        // ISO/IEC 18004, worked example: 50 alphanumeric characters, level M, 4 dots at 400 dpi:
        // 7.366 mm without and 9.398 mm with the quiet zone.
        let text = "PROP STORE 04/12 SHELF B7 LANTERN BRASS NO: 000001";
        let code = Code { module: Some(4.0 * 25.4 / 400.0), ..asked(CodeKind::Qr, text) };
        let (drawn, _) = drawn(&code, 400.0);
        assert!((drawn.area.width() - 9.398).abs() < 0.000_5);
        let ink = drawn.pieces[0].outline.bounds();
        assert!((ink.width() - 7.366).abs() < 0.000_5 && (ink.height() - 7.366).abs() < 0.000_5);
    }

    #[test]
    fn modules_are_whole_dots_rounded_up_when_asked_for_and_down_to_fit() {
        // 25.4 / 600 = 0.042333 mm a dot: 0.4 mm is 9.4 dots.
        let dot = 25.4 / 600.0;
        let module = |code: &Code| drawn(code, 600.0).0.pieces[0].code.clone().unwrap().module_mm();
        let plain = asked(CodeKind::DataMatrix, "B7-0412");
        assert!((module(&plain) - 10.0 * dot).abs() < 1e-9);
        assert!((module(&Code { module: Some(0.5), ..plain.clone() }) - 12.0 * dot).abs() < 1e-9);
        assert!(
            (module(&Code { module: Some(12.0 * dot), ..plain.clone() }) - 12.0 * dot).abs() < 1e-9
        );
        // Four figures take a symbol of 10 x 10 (ISO/IEC 16022, up to 6 figures); with a module free on either
        // side 8.4 mm is 198.4 dots, 16.5 for each of 12.
        let fitted = Code { text: "0412".into(), width: Some(8.4), height: Some(8.4), ..plain };
        let code = drawn(&fitted, 600.0).0.pieces[0].code.clone().unwrap();
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
            assert!(drawn.pieces.is_empty());
            assert_eq!(findings.list()[0].code, "code-text");
            assert!(findings.list()[0].message.contains(message), "{findings:?}");
        }
    }
}
