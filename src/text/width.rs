//! Text that is wider than it may be: never shrunk, but reported, with what would fit.

use super::remarks::quoted;
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
    let message = format!("{} needs {} mm, has {} mm", quoted(text), fixed(up, 2), fixed(room, 2));
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
