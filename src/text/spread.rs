//! Text spaced out to a width: by tracking, so that letters keep their shape.

use super::remarks::quoted;
use crate::{
    finding::{Finding, Findings},
    font::{Face, Faces},
    spec::Text,
    units::fixed,
};

/// How far letters may be pushed together to reach a width, in cap heights: more makes them touch
/// (common practice, no source).
const CLOSEST: f64 = -0.05;

/// The tracking, in cap heights, that makes the widest line `width` mm wide.
pub(super) fn tracking(
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
        let message = format!("{} has one letter, which cannot be spaced out", quoted(text));
        let help = "take `spread` or `sweep` out";
        findings.push(Finding::warning("cannot-spread", message).at(text.place).help(help));
        return None;
    }
    let tracking = (width / cap - least) / gaps;
    if tracking < CLOSEST {
        let (needs, has) = (fixed(least * cap, 2), fixed(width, 2));
        let message =
            format!("{} is {needs} mm long and cannot be spaced out to {has} mm", quoted(text));
        let fits = (width / least * 100.0).floor() / 100.0;
        let help = format!("cap_height at most {} mm, or more room", fixed(fits, 2));
        let finding = Finding::error("text-too-wide", message).at(text.place).help(help);
        findings.push(finding.measured(least * cap, width));
    }
    Some(tracking.max(CLOSEST))
}
