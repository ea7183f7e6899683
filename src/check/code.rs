//! Codes that will not be read: too small, disturbed, wrong way round in contrast, or wrong as drawn.

use super::across::Stack;
use super::seen::Shade;
use super::{Checked, Labelled};
use crate::code::{self, Modules};
use crate::colour::Colour;
use crate::design::{Design, DrawnCode, Mark, Role, Seen};
use crate::finding::{Finding, Findings};
use crate::shape;
use crate::spec::{Paint, Spec, least_module_mm, safe_module_mm};
use kurbo::Point;

/// Rounding that nobody can see or print, mm and mm².
const SLACK_MM: f64 = 0.000_5;
const SLACK_MM2: f64 = 0.002;

/// Every code, with the design it stands on.
fn each(job: Checked<'_>) -> impl Iterator<Item = (Labelled<'_>, &DrawnCode)> {
    job.labelled().flat_map(|one| one.design.codes.iter().map(move |code| (one, code)))
}

/// Whether a mark is the code's own modules: other parts, and other codes, may come from the same place.
fn is_own(mark: &Mark, code: &DrawnCode) -> bool {
    let room = code.to_label.transform_rect_bbox(code.with_quiet()).inflate(SLACK_MM, SLACK_MM);
    mark.role == Role::Code && mark.part == code.part && room.union(mark.path.bounds()) == room
}

/// A finding about the middle of a code.
fn placed(finding: Finding, one: Labelled<'_>, code: &DrawnCode) -> Finding {
    one.found(finding, code.from, code.to_label * Point::ORIGIN)
}

pub(super) fn small_module(job: Checked<'_>, findings: &mut Findings) {
    let printer = &job.spec.printer;
    let (least, safe) = (least_module_mm(printer), safe_module_mm(printer));
    for (one, code) in each(job) {
        let (module, kind) = (code.module_mm(), code.kind.name());
        let finding = if module < least - SLACK_MM {
            let dots = module / printer.dot_mm();
            let message = format!(
                "modules of the {kind} are {module:.3} mm, {dots:.1} dots; readers need {least:.2} mm and 4 dots"
            );
            Finding::error("small-module", message).measured(module, least)
        } else if module < safe - SLACK_MM {
            let message = format!(
                "modules of the {kind} are {module:.3} mm; ink may run together below {safe:.2} mm"
            );
            Finding::warning("small-module", message).measured(module, safe)
        } else {
            continue;
        };
        let help = "make its `module` or `size` larger, or its text shorter";
        findings.push(placed(finding.help(help), one, code));
    }
}

pub(super) fn quiet_zone(job: Checked<'_>, findings: &mut Findings) {
    for (one, code) in each(job) {
        let (design, kind, needed) = (one.design, code.kind.name(), code.kind.quiet_modules());
        let mut tell = |finding: Finding, help: &str| {
            findings.push(placed(finding.help(help), one, code));
        };
        if code.quiet < needed {
            let message = format!("{} modules are kept free; a {kind} needs {needed}", code.quiet);
            let finding = Finding::warning("quiet-zone", message).measured(code.quiet, needed);
            tell(finding, "leave `quiet` out, or make it larger");
        }
        let all = shape::rectangle(code.with_quiet()).placed(code.to_label);
        let zone = all.minus(&shape::rectangle(code.symbol()).placed(code.to_label));
        let millimetres = code.quiet * code.module_mm();
        if all.minus(&design.trim).area() > SLACK_MM2 {
            let message =
                format!("the quiet zone of the {kind} ({millimetres:.2} mm) passes the trim");
            let help = "make the label larger, or move the code away from its edge";
            tell(Finding::error("quiet-zone", message), help);
        }
        let disturbed = design.marks.iter().any(|mark| {
            // Ink over the whole zone is its ground; ink in a part of it is taken for a module.
            !is_own(mark, code)
                && mark.path.bounds().overlaps(zone.bounds())
                && zone.common(&mark.path).area() > SLACK_MM2
                && zone.minus(&mark.path).area() > SLACK_MM2
        });
        if disturbed {
            let message = format!(
                "something is drawn within the quiet zone of the {kind} ({millimetres:.2} mm)"
            );
            let help = "move it away, or make the box round the code larger";
            tell(Finding::error("quiet-zone", message), help);
        }
    }
}

pub(super) fn code_reversed(job: Checked<'_>, findings: &mut Findings) {
    for (one, code) in each(job).filter(|(one, code)| contrast(job.spec, *one, code) < 0.0) {
        let message = "the code is light on dark; many readers want dark on light";
        let help = "print the code in dark ink on film or in a light box, with its quiet zone";
        let finding = Finding::warning("code-reversed", message).help(help);
        findings.push(placed(finding, one, code));
    }
}

pub(super) fn faint_code(job: Checked<'_>, findings: &mut Findings) {
    for (one, code) in each(job) {
        let contrast = contrast(job.spec, one, code);
        if !(0.0..LEAST_CONTRAST).contains(&contrast) {
            continue;
        }
        let (percent, least) = (contrast * 100.0, LEAST_CONTRAST * 100.0);
        let message = format!(
            "dark and light of the code differ by {percent:.0} % of white; readers need {least:.0} %"
        );
        let help = "print it darker, on white film, or with white printed under the whole label";
        let finding = Finding::error("faint-code", message).measured(contrast, LEAST_CONTRAST);
        findings.push(placed(finding.help(help), one, code));
    }
}

/// How much lighter the ground of a code is than its modules, as a share of white; less than 0 when darker.
fn contrast(spec: &Spec, one: Labelled<'_>, code: &DrawnCode) -> f64 {
    let on = Seen::of(spec, one.label);
    let on = on.unwrap_or_else(|| Seen::on(spec, one.label, Colour::WHITE));
    let stack = Stack::of(one.design);
    let seen = |shade: Shade| shade.colour(&on).luminance();
    seen(ground(&stack, code)) - seen(modules(&stack, one.design, code))
}

/// Least symbol contrast, as a share of white: grade 1 of ISO/IEC 15415 (from memory).
const LEAST_CONTRAST: f64 = 0.20;

/// What the dark modules show.
fn modules(stack: &Stack<'_>, design: &Design, code: &DrawnCode) -> Shade {
    let own = design.marks.iter().find(|mark| is_own(mark, code));
    match own {
        Some(mark) => Shade::of(Some(mark), stack.lies_on_white(mark)),
        // Clear, or white: what is under them shows.
        None => Shade { ink: None, on_white: design.white.is_some() && code.paint != Paint::Clear },
    }
}

/// What the ground of a code shows: every corner module of the quiet zone is light, and lies on it.
fn ground(stack: &Stack<'_>, code: &DrawnCode) -> Shade {
    // Without a quiet zone, what lies beside the symbol is its ground.
    let beside = 0.3 * code.module.width;
    let zone =
        if code.quiet < 0.5 { code.symbol().inflate(beside, beside) } else { code.with_quiet() };
    let corner = code.to_label * (zone.origin() + kurbo::Vec2::new(1e-3, 1e-3));
    let near = kurbo::Rect::from_center_size(corner, (0.01, 0.01));
    let across = stack.across(kurbo::Affine::IDENTITY, near, shape::CURVE_ERROR_MM);
    let (top, white) = across.at(corner);
    // White stays inside the edge of its ink.
    Shade::of(top, top.map_or(white, |mark| stack.lies_on_white(mark)))
}

pub(super) fn code_unreadable(job: Checked<'_>, findings: &mut Findings) {
    for (one, code) in each(job) {
        let read = drawn_modules(one.design, code)
            .and_then(|modules| code::read_back(code.kind, &modules));
        let kind = code.kind.name();
        let message = match read {
            Some(text) if text == code.text => continue,
            Some(_) => format!("the {kind} as drawn says something else than its text"),
            None => format!("the {kind} as drawn cannot be read"),
        };
        let help = "keep other parts off it, and give a clear code a filled box to stand in";
        let finding = Finding::error("code-unreadable", message).help(help);
        findings.push(placed(finding, one, code));
    }
}

/// The modules as they are drawn, taken from the outlines through the middle of each row.
fn drawn_modules(design: &Design, code: &DrawnCode) -> Option<Modules> {
    let to_code = code.to_label.inverse();
    let symbol = code.symbol();
    let across = Stack::of(design).across(to_code, symbol, shape::CURVE_ERROR_MM);
    let own_ink = !matches!(code.paint, Paint::Clear | Paint::Ink(Colour::WHITE));
    let mut dark = Vec::with_capacity(code.columns * code.rows);
    #[allow(clippy::cast_precision_loss, reason = "a symbol has some hundred rows and columns")]
    let middle = |number: usize| number as f64 + 0.5;
    for row in 0..code.rows {
        let y = symbol.y0 + middle(row) * code.module.height;
        let runs = across.runs(y, symbol.x0, symbol.x1);
        for column in 0..code.columns {
            let x = symbol.x0 + middle(column) * code.module.width;
            // The ink on top is what is seen.
            let top = runs.iter().find(|run| x <= run.to).and_then(|run| run.top);
            dark.push(top.map_or(!own_ink, |mark| own_ink && is_own(mark, code)));
        }
    }
    Modules::new(code.columns, dark)
}
