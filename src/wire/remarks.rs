//! What is to be said about markers, gathered so that a hundred wires with one fault give one finding.

use super::geometry;
use crate::finding::{Finding, Findings};
use crate::spec::Film;
use crate::spec::wiring::{MarkerKind, Wiring};
use crate::units::fixed;

/// Remarks with the wires they are about.
#[derive(Debug, Default)]
pub(super) struct Remarks {
    all: Vec<(Finding, Vec<usize>)>,
}

impl Remarks {
    fn add(&mut self, finding: Finding, wires: &[usize]) {
        self.all.push((finding, wires.to_vec()));
    }

    /// No sleeve both slips over a wire and grips it.
    pub(super) fn no_sleeve(&mut self, diameter: f64, other: Option<MarkerKind>, wires: &[usize]) {
        let message = format!("no sleeve of the table fits a wire of {} mm", fixed(diameter, 2));
        let help = instead(other, "measure the wire's outside diameter");
        self.add(Finding::error("no-sleeve", message).help(help), wires);
    }

    /// Letters too small to print or read.
    pub(super) fn small(
        &mut self,
        (kind, diameter): (MarkerKind, f64),
        (cap, least): (f64, f64),
        other: Option<MarkerKind>,
        wires: &[usize],
    ) {
        let message = format!(
            "letters on a {} round a wire of {} mm are {} mm high; {} mm can be printed and read",
            kind.word(),
            fixed(diameter, 2),
            fixed(cap, 2),
            fixed(least, 2),
        );
        let help = instead(other, "use fewer or shorter lines");
        self.add(Finding::warning("small-marker", message).help(help), wires);
    }

    /// Words that do not fit where they were told to.
    pub(super) fn no_room(
        &mut self,
        (kind, diameter): (MarkerKind, f64),
        (cap, lacking): (f64, f64),
        other: Option<MarkerKind>,
        wires: &[usize],
    ) {
        let message = format!(
            "words {} mm high lack {} mm on a {} round a wire of {} mm",
            fixed(cap, 2),
            fixed(lacking, 2),
            kind.word(),
            fixed(diameter, 2),
        );
        let help = instead(other, "use fewer or shorter lines, or leave `cap_height` out");
        self.add(Finding::error("marker-too-small", message).help(help), wires);
    }

    /// Letters that go so far round that the wire must be turned to read them.
    pub(super) fn unturned(
        &mut self,
        (kind, diameter): (MarkerKind, f64),
        cap: f64,
        wires: &[usize],
    ) {
        let message = format!(
            "letters of {} mm on a {} cover {} degrees of {} mm; beyond {} the wire must be turned to read",
            fixed(cap, 2),
            kind.word(),
            fixed(geometry::covered_deg(cap, diameter), 1),
            fixed(diameter, 2),
            fixed(geometry::READABLE_DEG, 0),
        );
        let help = format!(
            "take {} mm at most, or a flag",
            fixed((geometry::readable_cap_mm(diameter) * 100.0).floor() / 100.0, 2)
        );
        self.add(Finding::note("turn-to-read", message).help(help), wires);
    }

    /// A tail that hides what it should protect.
    pub(super) fn tail_not_clear(&mut self, film: Film, wires: &[usize]) {
        let message = format!("the tail of a laminated wrap on {} hides its words", film.word());
        let help = "print them on clear film (`film: clear`), or use a plain wrap";
        self.add(Finding::error("tail-not-clear", message).help(help), wires);
    }

    /// Says everything, each with its wires.
    pub(super) fn report(self, wiring: &Wiring, findings: &mut Findings) {
        for (mut finding, wires) in self.all {
            let mut found = wires.iter().filter_map(|index| wiring.wires.get(*index));
            let Some(first) = found.next() else { continue };
            let more = found.count();
            finding.message = match more {
                0 => format!("{}: {}", first.id, finding.message),
                _ => format!("{} and {more} more: {}", first.id, finding.message),
            };
            findings.push(finding.at(first.place));
        }
    }
}

fn instead(other: Option<MarkerKind>, else_do: &str) -> String {
    match other {
        Some(kind) => format!("use a {} there (column `marker`), or {else_do}", kind.word()),
        None => else_do.to_owned(),
    }
}
