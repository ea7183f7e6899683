//! Where on which label a finding is.
//!
//! A finding names a label and a spot on it. A label may have been drawn as several designs (two hands, parts
//! of a split one); it is the one with the words or marks that the finding is about.

use super::Proofed;
use crate::design::Design;
use crate::finding::Finding;
use crate::units::fixed;
use kurbo::{Point, Rect, Vec2};
use std::collections::BTreeMap;

/// A finding's place on a design.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pin<'a> {
    pub(super) finding: &'a Finding,
    /// Its index in the list of findings.
    pub(super) index: usize,
    /// Which design it is on.
    pub(super) design: usize,
    /// Where, in the design's frame; `None` when it is about the whole label.
    pub(super) at: Option<Point>,
}

/// The findings that are about a label, in their order.
pub(super) fn pins(job: Proofed<'_>) -> Vec<Pin<'_>> {
    let mut of_label: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (index, design) in job.designs.iter().enumerate() {
        if let Some(label) = job.label(design) {
            of_label.entry(&label.name).or_default().push(index);
        }
    }
    // How often the same was found on a label already: the second time it is on its second design.
    let mut repeats: BTreeMap<(&str, &str, &str), usize> = BTreeMap::new();
    let mut pins = Vec::new();
    for (index, finding) in job.findings.list().iter().enumerate() {
        let Some(name) = finding.label.as_deref() else { continue };
        let Some(drawn) = of_label.get(name) else { continue };
        let drawn = job.numbered(drawn);
        let fitting: Vec<_> = drawn.iter().filter(|(_, design)| is_on(finding, design)).collect();
        let among = if fitting.is_empty() { drawn.iter().collect() } else { fitting };
        let repeat = repeats.entry((name, finding.code, &finding.message)).or_default();
        let pinned = among.get(*repeat % among.len().max(1));
        *repeat += 1;
        pins.extend(pinned.map(|(number, design)| {
            let at = finding.at_mm.map(|(x, y)| design.size().origin() + Vec2::new(x, y));
            Pin { finding, index, design: *number, at }
        }));
    }
    pins
}

/// Pins each with where it is drawn and how many are there already: those that share a spot stand side by side.
///
/// `at` is where a pin would be drawn, alone; two share a spot when that is the same to so many decimals.
pub(super) fn side_by_side<'p, 'a: 'p>(
    pins: impl IntoIterator<Item = &'p Pin<'a>>,
    at: impl Fn(&Pin<'_>) -> Point,
    decimals: usize,
) -> Vec<(&'p Pin<'a>, Point, u32)> {
    let mut there: BTreeMap<(String, String), u32> = BTreeMap::new();
    let place = |pin: &'p Pin<'a>| {
        let at = at(pin);
        let spot = (fixed(at.x, decimals).to_string(), fixed(at.y, decimals).to_string());
        let before = there.entry(spot).or_default();
        *before += 1;
        (pin, at, *before - 1)
    };
    pins.into_iter().map(place).collect()
}

/// Whether the finding's spot is on this design, and what it is about is drawn on it.
fn is_on(finding: &Finding, design: &Design) -> bool {
    // Ink may run past the trim.
    let reach = Rect::from_origin_size(Point::ORIGIN, design.size().size()).inflate(2.0, 2.0);
    let inside = finding.at_mm.is_none_or(|(x, y)| reach.contains(Point::new(x, y)));
    let place = finding.place;
    let drawn = design.words.iter().any(|words| Some(words.from) == place)
        || design.marks.iter().any(|mark| Some(mark.from) == place);
    inside && drawn
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::{Findings, Sources};
    use crate::font::Faces;
    use crate::output::samples;
    use crate::spec;
    use kurbo::Size;

    #[test]
    fn findings_are_pinned_to_their_spots() {
        let mut spec = spec::samples::spec();
        spec.labels.push(spec::samples::label("fairway"));
        let size = Size::new(20.0, 10.0);
        let designs =
            ["right", "left"].map(|hand| samples::design(hand, 0, size, Vec::new())).to_vec();
        let mut findings = Findings::default();
        findings.push(Finding::warning("small-text", "low").label("fairway").spot(3.0, 4.0));
        findings.push(Finding::warning("small-text", "low").label("fairway").spot(17.0, 4.0));
        findings.push(Finding::note("two-spellings", "about the job"));
        findings.push(Finding::note("two-spellings", "about a label").label("fairway"));
        findings.push(
            Finding::note("two-spellings", "about no label of ours").label("gone").spot(1.0, 1.0),
        );
        // The trim's top left corner is at -10, -5 of the design's frame.
        let wanted = [
            (0, 0, Some(Point::new(-7.0, -1.0))),
            (1, 1, Some(Point::new(7.0, -1.0))),
            (3, 0, None),
        ];
        let (sources, faces) = (&Sources::default(), &Faces::bundled());
        let (spec, designs, findings) = (&spec, &designs, &findings);
        let pins = pins(Proofed { spec, designs, sheets: &[], findings, sources, faces });
        let found: Vec<_> = pins.iter().map(|pin| (pin.index, pin.design, pin.at)).collect();
        assert_eq!(found, wanted);
    }
}
