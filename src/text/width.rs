//! Text and the width it is given: never shrunk, but reported when it is wider than it may be, with what would fit;
//! spaced out where that is asked, by tracking, so that letters keep their shape.

use super::remarks::in_quotes;
use crate::{
    finding::{Finding, Findings},
    font::{Face, Faces},
    spec::Text,
    units::fixed,
};

/// How much wider than allowed, in mm, still counts as fitting: what arithmetic leaves, not what anyone sees.
const SLACK_MM: f64 = 1e-6;

/// Compares the ink's width, in cap heights, with the widest allowed; `cap` is the cap height in mm.
pub(super) fn check(faces: &Faces, text: &Text, ink_caps: f64, cap: f64, findings: &mut Findings) {
    let Some(room) = text.width else { return };
    let needed = ink_caps * cap;
    if needed <= room + SLACK_MM {
        return;
    }
    // Rounded up and down, so that what the message says is true.
    let up = (needed * 100.0).ceil() / 100.0;
    let largest = (room / ink_caps * 100.0).floor() / 100.0;
    let message =
        format!("{} needs {} mm, has {} mm", in_quotes(text), fixed(up, 2), fixed(room, 2));
    let at = fixed(cap, 2);
    let narrower = others_that_fit(faces, text, cap);
    let other = if narrower.is_empty() {
        format!("no bundled face fits at {at} mm")
    } else {
        format!("or a face that fits at {at} mm: {}", narrower.join(", "))
    };
    let help = format!("cap_height {} mm would fit in this face; {other}", fixed(largest, 2));
    let finding = Finding::error("text-too-wide", message).at(text.place).help(help);
    findings.push(finding.measured(needed, room));
}

/// Roles of the bundled faces that show the whole text and fit at this cap height.
fn others_that_fit(faces: &Faces, text: &Text, cap: f64) -> Vec<String> {
    let room = text.width.unwrap_or(f64::INFINITY) + SLACK_MM;
    let fits = |face: &&Face| {
        let mut problems = Findings::default();
        let lines = super::place_lines(faces, face, text, &mut problems);
        !problems.any_error() && super::ink(&lines, text).width() * cap <= room
    };
    let faces = faces.roles().filter_map(|id| faces.face(id));
    faces.filter(fits).map(|face| face.name().to_owned()).collect()
}

/// How far letters may be pushed together to reach a width, in cap heights: more makes them touch
/// (common practice, no source).
const CLOSEST: f64 = -0.05;

/// The tracking, in cap heights, that makes the widest line `width` mm wide.
pub(super) fn tracking_to_spread(
    faces: &Faces,
    face: &Face,
    text: &Text,
    width: f64,
    cap: f64,
    findings: &mut Findings,
) -> Option<f64> {
    // Set with two trackings, the lines tell how many gaps each has.
    let wide = |tracking: f64| {
        let text = Text { tracking, ..text.clone() };
        let lines = super::place_lines(faces, face, &text, &mut Findings::default());
        lines.iter().map(|line| line.width).collect::<Vec<f64>>()
    };
    let (one, two) = (wide(1.0), wide(2.0));
    let natural = |(one, two): &(f64, f64)| 2.0 * one - two;
    let lines = one.into_iter().zip(two);
    let (one, two) = lines.max_by(|a, b| natural(a).total_cmp(&natural(b)))?;
    let (gaps, least) = (two - one, 2.0 * one - two);
    if gaps < 0.5 {
        let message = format!("{} has one letter, which cannot be spaced out", in_quotes(text));
        let help = "take `spread` or `sweep` out";
        findings.push(Finding::warning("cannot-spread", message).at(text.place).help(help));
        return None;
    }
    let tracking = (width / cap - least) / gaps;
    if tracking < CLOSEST {
        let (needs, has) = (fixed(least * cap, 2), fixed(width, 2));
        let message =
            format!("{} is {needs} mm long and cannot be spaced out to {has} mm", in_quotes(text));
        let fits = (width / least * 100.0).floor() / 100.0;
        let help = format!("cap_height at most {} mm, or more room", fixed(fits, 2));
        let finding = Finding::error("text-too-wide", message).at(text.place).help(help);
        findings.push(finding.measured(least * cap, width));
    }
    Some(tracking.max(CLOSEST))
}
