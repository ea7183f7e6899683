//! What is reported of markers: one finding for all the wires of a group.

use super::geometry;
use super::markers::Group;
use crate::finding::Finding;
use crate::spec::Film;
use crate::spec::wiring::{MarkerKind, Wiring};
use crate::units::fixed;

/// A finding with the wires of a group in front: the first by its name, how many more.
pub(super) fn on_wires(mut finding: Finding, group: &Group, wiring: &Wiring) -> Finding {
    let mut wires = group.wires.iter().filter_map(|index| wiring.wires.get(*index));
    let Some(first) = wires.next() else {
        debug_assert!(false, "a group has a wire");
        return finding;
    };
    let more = match wires.count() {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    finding.message = format!("{}{more}: {}", first.id, finding.message);
    finding.at(first.place)
}

/// No sleeve both slips over a wire and grips it.
pub(super) fn no_sleeve(group: &Group, other: Option<MarkerKind>) -> Finding {
    let diameter = fixed(group.diameter_mm, 2);
    let message = format!("no sleeve of the table fits a wire of {diameter} mm");
    let help = instead(other, "measure the wire's outside diameter");
    Finding::error("no-sleeve", message).help(help)
}

/// Letters too small to print or read; `cap` and `least` in mm.
pub(super) fn too_small(group: &Group, cap: f64, least: f64, other: Option<MarkerKind>) -> Finding {
    let message = format!(
        "letters on a {} round a wire of {} mm are {} mm high; {} mm can be printed and read",
        group.kind.word(),
        fixed(group.diameter_mm, 2),
        fixed(cap, 2),
        fixed(least, 2),
    );
    let help = instead(other, "use fewer or shorter lines");
    Finding::warning("small-marker", message).help(help)
}

/// Words that lack so many mm of space, where the cap height is chosen.
pub(super) fn no_space(
    group: &Group,
    cap: f64,
    lacking: f64,
    other: Option<MarkerKind>,
) -> Finding {
    let message = format!(
        "words {} mm high lack {} mm on a {} round a wire of {} mm",
        fixed(cap, 2),
        fixed(lacking, 2),
        group.kind.word(),
        fixed(group.diameter_mm, 2),
    );
    let help = instead(other, "use fewer or shorter lines, or leave `cap_height` out");
    Finding::error("marker-too-small", message).help(help)
}

/// Letters that go so far round a diameter, mm, that the wire must be turned to read them.
pub(super) fn turn_to_read(group: &Group, cap: f64, round_mm: f64) -> Finding {
    let message = format!(
        "letters of {} mm on a {} cover {} degrees of {} mm; beyond {} the wire must be turned to read",
        fixed(cap, 2),
        group.kind.word(),
        fixed(geometry::covered_deg(cap, round_mm), 1),
        fixed(round_mm, 2),
        fixed(geometry::READABLE_DEG, 0),
    );
    let readable = (geometry::readable_cap_mm(round_mm) * 100.0).floor() / 100.0;
    let help = format!("take {} mm at most, or a flag", fixed(readable, 2));
    Finding::note("turn-to-read", message).help(help)
}

/// A tail that hides what it should protect.
pub(super) fn tail_not_clear(film: Film) -> Finding {
    let message = format!("the tail of a laminated wrap on {} hides its words", film.word());
    let help = "print them on clear film (`film: clear`), or use a plain wrap";
    Finding::error("tail-not-clear", message).help(help)
}

/// Advice to use another kind of marker, where one would do, or else to do something else.
fn instead(other: Option<MarkerKind>, else_do: &str) -> String {
    match other {
        Some(kind) => format!("use a {} there (column `marker`), or {else_do}", kind.word()),
        None => else_do.to_owned(),
    }
}
