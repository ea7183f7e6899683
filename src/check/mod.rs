//! What is wrong with a job that can be known before film is spent.
//!
//! A check reads the designs and sheets and says what it finds; it changes nothing and draws nothing. Each
//! topic is a file, each rule a row of `RULES`; what its code means stands in [`crate::finding::codes`].

mod across;
mod allow;
mod code;
mod contrast;
mod covered;
mod dial;
mod film;
mod handling;
mod knife;
mod legible;
mod panel;
mod profile;
mod seen;
mod size;
mod symbols;
#[cfg(test)]
mod testing;
mod thin;
mod white;
mod wiring;
mod words;

use crate::design::{Design, Words};
use crate::finding::{Finding, Findings, Place, Severity};
use crate::font::Faces;
use crate::parallel::in_order;
use crate::sheet::Sheet;
use crate::spec::{Label, Spec};
use kurbo::Point;
use std::collections::{BTreeMap, BTreeSet};

/// What the rules look at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Checked<'a> {
    /// What was asked.
    pub spec: &'a Spec,
    /// What was drawn.
    pub designs: &'a [Design],
    /// Where it lies.
    pub sheets: &'a [Sheet],
    /// The faces there are, to say which would do better.
    pub faces: &'a Faces,
}

/// A design with the label it was drawn for.
#[derive(Clone, Copy, Debug)]
struct Labelled<'a> {
    label: &'a Label,
    design: &'a Design,
}

impl<'a> Checked<'a> {
    /// Every design with its label.
    fn labelled(self) -> impl Iterator<Item = Labelled<'a>> {
        self.designs.iter().filter_map(move |design| {
            let label = self.spec.labels.get(design.label);
            debug_assert!(label.is_some(), "{} is drawn for no label", design.name);
            Some(Labelled { label: label?, design })
        })
    }

    /// Every line of words, with the design it stands on.
    fn words(self) -> impl Iterator<Item = (Labelled<'a>, &'a Words)> {
        self.labelled().flat_map(|one| one.design.words.iter().map(move |words| (one, words)))
    }
}

impl Labelled<'_> {
    /// A finding about a point of the design, in its own frame.
    fn found(self, finding: Finding, from: Place, spot: Point) -> Finding {
        let spot = spot - self.design.size().origin();
        finding.at(from).label(&self.label.name).spot(spot.x, spot.y)
    }

    /// A finding about a line of words.
    fn on_words(self, finding: Finding, words: &Words) -> Finding {
        self.found(finding, words.from, words.area.center())
    }
}

/// One rule: the findings it gives all have its code, which [`crate::finding::codes`] explains.
struct Rule {
    code: &'static str,
    test: fn(Checked<'_>, &mut Findings),
}

/// Every rule, in the order they are run.
const RULES: &[Rule] = &[
    Rule { code: "small-text", test: size::small_text },
    Rule { code: "thin-ink", test: thin::thin_ink },
    Rule { code: "clear-gap", test: thin::clear_gap },
    Rule { code: "odd-step", test: dial::odd_step },
    Rule { code: "crowded-marks", test: dial::crowded_marks },
    Rule { code: "small-module", test: code::small_module },
    Rule { code: "quiet-zone", test: code::quiet_zone },
    Rule { code: "code-reversed", test: code::code_reversed },
    Rule { code: "faint-code", test: code::faint_code },
    Rule { code: "code-unreadable", test: code::code_unreadable },
    Rule { code: "white-on-clear", test: film::white_on_clear },
    Rule { code: "clear-on-white", test: film::clear_on_white },
    Rule { code: "hidden-by-film", test: film::hidden_by_film },
    Rule { code: "thin-white", test: white::thin_white },
    Rule { code: "white-edge", test: film::white_edge },
    Rule { code: "no-white", test: film::no_white },
    Rule { code: "reads-backwards-unsaid", test: film::reads_backwards_unsaid },
    Rule { code: "low-contrast", test: contrast::low_contrast },
    Rule { code: "colour-shift", test: contrast::colour_shift },
    Rule { code: "surface-unknown", test: contrast::surface_unknown },
    Rule { code: "hard-to-read", test: legible::hard_to_read },
    Rule { code: "tight-words", test: legible::tight_words },
    Rule { code: "no-spare", test: handling::no_spare },
    Rule { code: "large-label", test: handling::large_label },
    Rule { code: "near-cut", test: knife::near_cut },
    Rule { code: "off-sheet", test: knife::off_sheet },
    Rule { code: "other-paper", test: profile::other_paper },
    Rule { code: "narrow-margin", test: profile::narrow_margin },
    Rule { code: "correction-unsaid", test: profile::correction_unsaid },
    Rule { code: "stand-by-off", test: symbols::stand_by_off },
    Rule { code: "protective-earth", test: symbols::protective_earth },
    Rule { code: "no-safety-sign", test: symbols::no_safety_sign },
    Rule { code: "hole-off-panel", test: panel::hole_off_panel },
    Rule { code: "holes-meet", test: panel::holes_meet },
    Rule { code: "under-knob", test: panel::under_knob },
    Rule { code: "legend-off-panel", test: panel::legend_off_panel },
    Rule { code: "turned-legend", test: panel::turned_legend },
    Rule { code: "uneven-gap", test: panel::uneven_gap },
    Rule { code: "legends-touch", test: words::legends_touch },
    Rule { code: "covered-words", test: covered::covered_words },
    Rule { code: "two-spellings", test: words::two_spellings },
    Rule { code: "end-missing", test: wiring::end_missing },
    Rule { code: "same-wire", test: wiring::same_wire },
    Rule { code: "crowded-terminal", test: wiring::crowded_terminal },
    Rule { code: "rails-joined", test: wiring::rails_joined },
    Rule { code: "unknown-rail", test: wiring::unknown_rail },
    Rule { code: "earth-colour", test: wiring::earth_colour },
    Rule { code: "mains-role", test: wiring::mains_role },
    Rule { code: "alike-wires", test: wiring::alike_wires },
    Rule { code: "same-marker", test: wiring::same_marker },
];

/// Runs every rule, drops what labels, wiring and job accept, and reports once what many labels share.
pub(crate) fn run(job: Checked<'_>, findings: &mut Findings) {
    let of_rules = in_order(RULES, |rule| {
        let mut found = Findings::default();
        (rule.test)(job, &mut found);
        debug_assert!(found.list().iter().all(|one| one.code == rule.code), "{}", rule.code);
        found
    });
    of_rules.into_iter().for_each(|of_rule| findings.extend(of_rule));
    allow::accept(job, findings);
    *findings = merged(findings);
    allow::without_effect(job.spec, findings);
}

/// What findings have in common that are reported as one.
type Alike<'f> = (&'f str, Severity, Option<Place>, &'f str);

/// One finding where many labels share the very same slip of a style, with how many.
fn merged(found: &Findings) -> Findings {
    fn alike(one: &Finding) -> Alike<'_> {
        (one.code, one.severity, one.place, &one.message)
    }
    let mut counts: BTreeMap<Alike<'_>, (usize, BTreeSet<&str>)> = BTreeMap::new();
    for finding in found.list() {
        let (times, labels) = counts.entry(alike(finding)).or_default();
        *times += 1;
        labels.extend(finding.label.as_deref());
    }
    let mut merged = Findings::default();
    for finding in found.list() {
        // Taken out with the first of them: the others are in its count.
        let Some((times, labels)) = counts.remove(&alike(finding)) else { continue };
        let mut finding = finding.clone();
        finding.message += &match (labels.len().saturating_sub(1), times - 1) {
            (0, 0) => String::new(),
            (0, 1) => " (and in 1 more place)".to_owned(),
            (0, times) => format!(" (and in {times} more places)"),
            (1, _) => " (and on 1 more label)".to_owned(),
            (labels, _) => format!(" (and on {labels} more labels)"),
        };
        merged.push(finding);
    }
    merged
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_slip_on_many_labels_is_reported_once() {
        let mut found = Findings::default();
        for label in ["a", "b", "c"] {
            found.push(Finding::warning("no-spare", "no spare").label(label));
        }
        found.push(Finding::warning("no-spare", "another").label("d"));
        let told = merged(&found);
        let messages: Vec<&str> = told.list().iter().map(|one| one.message.as_str()).collect();
        assert_eq!(messages, ["no spare (and on 2 more labels)", "another"]);
    }

    #[test]
    fn what_one_label_accepts_is_still_told_of_the_others() {
        let job = "styles: {s: {spares: 0}}\nlabels:\n- {text: A, style: s, allow: [no-spare]}\n- {text: B, style: s}\n";
        let found = testing::findings(job);
        let spare = found.iter().find(|one| one.code == "no-spare").unwrap();
        assert_eq!(spare.label.as_deref(), Some("b"));
    }
}
