//! What is wrong with a job that can be known before film is spent.
//!
//! A check reads the designs and sheets and says what it finds; it changes nothing and draws nothing. Each
//! topic is a file, each rule a row of [`RULES`], from which the lists in help and docs are made.

mod across;
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
pub(crate) mod thin;
mod white;
mod wiring;
mod words;

use crate::design::Design;
use crate::finding::{Finding, Findings, Severity};
use crate::font::Faces;
use crate::parallel::in_order;
use crate::sheet::Sheet;
use crate::spec::Spec;
use std::collections::{BTreeMap, BTreeSet};

/// What the rules look at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Job<'a> {
    /// What was asked.
    pub spec: &'a Spec,
    /// What was drawn.
    pub designs: &'a [Design],
    /// Where it lies.
    pub sheets: &'a [Sheet],
    /// The faces there are, to say which would do better.
    pub faces: &'a Faces,
}

/// One rule.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rule {
    /// The code of its findings, in plain words.
    pub code: &'static str,
    /// What it looks for.
    #[cfg_attr(not(test), allow(dead_code, reason = "each rule says so; a test asks for it"))]
    pub about: &'static str,
    /// Where its numbers come from.
    #[cfg_attr(not(test), allow(dead_code, reason = "each rule says so; a test asks for it"))]
    pub source: &'static str,
    test: fn(Job<'_>, &mut Findings),
}

/// Every rule, in the order they are run.
pub(crate) const RULES: [Rule; 49] = [
    Rule {
        code: "small-text",
        about: "text lower than the printer's smallest cap height, in ink or reversed",
        source: "printers' published minima, set by class or by the user",
        test: size::small_text,
    },
    Rule {
        code: "thin-ink",
        about: "strokes, lines and necks of ink thinner than the printer's thinnest ink",
        source: "printers' published minima, set by class or by the user",
        test: thin::thin_ink,
    },
    Rule {
        code: "clear-gap",
        about: "clear strokes, lines and gaps thinner than the printer's thinnest clear gap",
        source: "printers' published minima, set by class or by the user",
        test: thin::clear_gap,
    },
    Rule {
        code: "odd-step",
        about: "scales whose numbers do not go up by 1, 2 or 5 or their tens",
        source: "MIL-HDBK-759B",
        test: dial::odd_step,
    },
    Rule {
        code: "crowded-marks",
        about: "scales with more than nine marks between two numbers",
        source: "MIL-HDBK-759B",
        test: dial::crowded_marks,
    },
    Rule {
        code: "small-module",
        about: "codes whose modules are less than four dots or 0.4 mm, or less than 0.5 mm on an ink-jet",
        source: "ISO/IEC 18004 for the dots; the sizes are common practice, no source",
        test: code::small_module,
    },
    Rule {
        code: "quiet-zone",
        about: "ink or the trim within the free space a code needs round it",
        source: "ISO/IEC 18004, 16022 and 15417",
        test: code::quiet_zone,
    },
    Rule {
        code: "code-reversed",
        about: "codes that are light on dark, or (faint-code) hardly darker than their ground",
        source: "ISO/IEC 15415, symbol contrast",
        test: code::code_reversed,
    },
    Rule {
        code: "code-unreadable",
        about: "codes that do not read back from the drawn outlines",
        source: "ISO/IEC 18004, 16022 and 15417",
        test: code::code_unreadable,
    },
    Rule {
        code: "white-on-clear",
        about: "white paint on clear film: nothing would be printed",
        source: "common practice, no source",
        test: film::white_on_clear,
    },
    Rule {
        code: "clear-on-white",
        about: "clear paint on white film or paper shows white, not the surface",
        source: "common practice, no source",
        test: film::clear_on_white,
    },
    Rule {
        code: "hidden-by-film",
        about: "white film between the ink and the eye: inside a window or face down",
        source: "common practice, no source",
        test: film::hidden_by_film,
    },
    Rule {
        code: "thin-white",
        about: "white under the ink that is too thin to print, or gone, once its edge is drawn in",
        source: "printers' published minima",
        test: white::thin_white,
    },
    Rule {
        code: "white-edge",
        about: "ink that ends at the trim of white film: the cut leaves a white edge",
        source: "common practice, no source",
        test: film::white_edge,
    },
    Rule {
        code: "no-white",
        about: "white under the ink where the printer has none, or on white film",
        source: "common practice, no source",
        test: film::no_white,
    },
    Rule {
        code: "reads-backwards-unsaid",
        about: "mirrored labels on sheets whose guides are switched off",
        source: "common practice, no source",
        test: film::reads_backwards_unsaid,
    },
    Rule {
        code: "low-contrast",
        about: "letters, lines and areas that hardly stand out from what is round them on the part",
        source: "WCAG 2.2, 1.4.3 and 1.4.11, made for screens; used on the colours as seen",
        test: contrast::low_contrast,
    },
    Rule {
        code: "colour-shift",
        about: "inks that look another colour on what they lie on",
        source: "ISO/CIE 11664-6 (CIEDE2000); the limits are common practice, no source",
        test: contrast::colour_shift,
    },
    Rule {
        code: "surface-unknown",
        about: "labels on clear film that do not say what they go on",
        source: "common practice, no source",
        test: contrast::surface_unknown,
    },
    Rule {
        code: "hard-to-read",
        about: "capitals too low for the distance they are read from",
        source: "ISO 9241-303, NUREG-0700 11.4.1.5; signs: ANSI Z535.2",
        test: legible::hard_to_read,
    },
    Rule {
        code: "tight-words",
        about: "strokes, and gaps between letters, words and lines, that make reading from afar hard",
        source: "DOD-HDBK-791 6-5.3.2, NUREG-0700 11.4.1.5",
        test: legible::tight_words,
    },
    Rule {
        code: "no-spare",
        about: "water-slide labels without a spare",
        source: "common practice, no source",
        test: handling::no_spare,
    },
    Rule {
        code: "large-label",
        about: "labels larger than A5, hard to slide in one piece",
        source: "ISO 216 for A5; the limit is common practice, no source",
        test: handling::large_label,
    },
    Rule {
        code: "near-cut",
        about: "letters cut by the knife or within a hand's error of it",
        source: "common practice, no source",
        test: knife::near_cut,
    },
    Rule {
        code: "off-sheet",
        about: "ink outside the printable area of its sheet",
        source: "common practice, no source",
        test: knife::off_sheet,
    },
    Rule {
        code: "other-paper",
        about: "a printer's profile that was made on another paper",
        source: "common practice, no source",
        test: profile::other_paper,
    },
    Rule {
        code: "narrow-margin",
        about: "margins narrower than the printer was measured to leave",
        source: "the user's own test print",
        test: profile::narrow_margin,
    },
    Rule {
        code: "correction-unsaid",
        about: "corrected sheets whose guides are switched off",
        source: "common practice, no source",
        test: profile::correction_unsaid,
    },
    Rule {
        code: "stand-by-off",
        about: "the symbol off beside the words stand-by",
        source: "IEC 60417-5008 and -5009, from memory",
        test: symbols::stand_by_off,
    },
    Rule {
        code: "protective-earth",
        about: "the symbol protective earth: only for the protective conductor's terminal",
        source: "IEC 60417-5019, from memory",
        test: symbols::protective_earth,
    },
    Rule {
        code: "no-safety-sign",
        about: "warning symbols: a decal made at home is no safety sign",
        source: "ISO 7010, ANSI Z535",
        test: symbols::no_safety_sign,
    },
    Rule {
        code: "hole-off-panel",
        about: "holes that reach past the edge of their panel",
        source: "common practice, no source",
        test: panel::hole_off_panel,
    },
    Rule {
        code: "holes-meet",
        about: "holes, nuts or knobs too near to each other",
        source: "common practice, no source",
        test: panel::holes_meet,
    },
    Rule {
        code: "under-knob",
        about: "legends and marks covered by a knob, nut or bezel",
        source: "MIL-HDBK-759B: markings stay visible",
        test: panel::under_knob,
    },
    Rule {
        code: "legend-off-panel",
        about: "legends that reach past the edge of their panel",
        source: "common practice, no source",
        test: panel::legend_off_panel,
    },
    Rule {
        code: "turned-legend",
        about: "legends on a panel that are not level",
        source: "MIL-STD-1472, from memory: labels read level",
        test: panel::turned_legend,
    },
    Rule {
        code: "uneven-gap",
        about: "a hole a little out of its place in an even row",
        source: "common practice, no source",
        test: panel::uneven_gap,
    },
    Rule {
        code: "legends-touch",
        about: "letters of two legends closer than the printer keeps open",
        source: "printers' published minima",
        test: words::legends_touch,
    },
    Rule {
        code: "covered-words",
        about: "legends under what is painted after them, or under another decal of their panel",
        source: "common practice, no source",
        test: covered::covered_words,
    },
    Rule {
        code: "two-spellings",
        about: "one word shortened in two ways",
        source: "MIL-STD-1472, 5.5; ASME Y14.38",
        test: words::two_spellings,
    },
    Rule {
        code: "end-missing",
        about: "wires with an end missing, or with both ends on one terminal",
        source: "common practice, no source",
        test: wiring::end_missing,
    },
    Rule {
        code: "same-wire",
        about: "two wires of one name",
        source: "IEC 62491: a wire is identified at each end",
        test: wiring::same_wire,
    },
    Rule {
        code: "crowded-terminal",
        about: "more wires at a terminal than it takes; rails may take many",
        source: "common practice, no source",
        test: wiring::crowded_terminal,
    },
    Rule {
        code: "rails-joined",
        about: "two supplies, or a supply and ground, on one net",
        source: "common practice, no source",
        test: wiring::rails_joined,
    },
    Rule {
        code: "unknown-rail",
        about: "rails, and terminals under `takes`, that name nothing in the table",
        source: "common practice, no source",
        test: wiring::unknown_rail,
    },
    Rule {
        code: "earth-colour",
        about: "green-and-yellow on anything but protective earth",
        source: "IEC 60757 and IEC 60445",
        test: wiring::earth_colour,
    },
    Rule {
        code: "mains-role",
        about: "wires that seem to carry mains",
        source: "IEC 60445 for the names; the caution is common practice",
        test: wiring::mains_role,
    },
    Rule {
        code: "alike-wires",
        about: "wires of one colour between the same devices",
        source: "common practice, no source",
        test: wiring::alike_wires,
    },
    Rule {
        code: "same-marker",
        about: "markers of different wires that read the same",
        source: "IEC 62491: a wire is identified at each end",
        test: wiring::same_marker,
    },
];

/// Codes from other rooms that a label may accept with `allow`.
const ALSO_ALLOWED: [&str; 14] = [
    "numbers-touch",
    "zones-alike",
    "faint-code",
    "text-too-wide",
    "text-too-tall",
    "confusable-letters",
    "fallback-letter",
    "fallback-word",
    "fallback-symbol",
    "font-licence",
    "art-unit",
    "art-stretched",
    "lifted",
    "loose-backing",
];

/// A code that does not read back says nothing or something false: nobody can want that.
const NEVER_ALLOWED: &str = "code-unreadable";

/// Codes about the wiring as a whole, which `wires: {allow: …}` accepts: those of the rules on wires, and
/// what is said of the markers.
const OF_WIRING: [&str; 14] = [
    "end-missing",
    "same-wire",
    "crowded-terminal",
    "rails-joined",
    "unknown-rail",
    "earth-colour",
    "mains-role",
    "alike-wires",
    "same-marker",
    "small-marker",
    "marker-too-small",
    "turn-to-read",
    "no-sleeve",
    "tail-not-clear",
];

/// Runs every rule, then lets labels accept what they allow.
pub(crate) fn run(job: Job<'_>, findings: &mut Findings) {
    let of_rules = in_order(&RULES, |rule| {
        let mut found = Findings::default();
        (rule.test)(job, &mut found);
        found
    });
    let mut found = Findings::default();
    of_rules.into_iter().for_each(|of_rule| found.extend(of_rule));
    findings.extend(told_once(&found));
    accept(job.spec, findings);
}

/// What findings have in common that are told once.
type Alike<'f> = (&'f str, Option<crate::finding::Place>, &'f str);

fn key(finding: &Finding) -> Alike<'_> {
    (finding.code, finding.place, finding.message.as_str())
}

/// One finding where many labels share the very same slip of a style.
fn told_once(found: &Findings) -> Findings {
    let mut alike: BTreeMap<Alike<'_>, (usize, BTreeSet<&str>)> = BTreeMap::new();
    for finding in found.list() {
        let (times, labels) = alike.entry(key(finding)).or_default();
        *times += 1;
        labels.extend(finding.label.as_deref());
    }
    let (mut told, mut seen) = (Findings::default(), BTreeSet::new());
    for finding in found.list() {
        if !seen.insert(key(finding)) {
            continue;
        }
        let mut finding = finding.clone();
        let (times, labels) =
            alike.get(&key(&finding)).map_or((1, 1), |(times, labels)| (*times, labels.len()));
        let more = match (labels.saturating_sub(1), times - 1) {
            (0, 0) => String::new(),
            (0, 1) => " (and in 1 more place)".to_owned(),
            (0, times) => format!(" (and in {times} more places)"),
            (1, _) => " (and on 1 more label)".to_owned(),
            (labels, _) => format!(" (and on {labels} more labels)"),
        };
        finding.message.push_str(&more);
        told.push(finding);
    }
    told
}

/// Drops warnings and notes that a label allows, and makes its allowed errors notes.
fn accept(spec: &Spec, findings: &mut Findings) {
    let allowed: BTreeMap<&str, BTreeSet<&str>> = spec
        .labels
        .iter()
        .filter(|label| !label.allow.is_empty())
        .map(|label| (label.name.as_str(), label.allow.iter().map(String::as_str).collect()))
        .collect();
    let of_wiring = spec.wiring.as_ref().map(|wiring| wiring.allow.as_slice()).unwrap_or_default();
    if allowed.is_empty() && of_wiring.is_empty() {
        return;
    }
    let is_allowed = |finding: &Finding| {
        if OF_WIRING.contains(&finding.code) {
            return of_wiring.iter().any(|code| code == finding.code);
        }
        let codes = finding.label.as_deref().and_then(|label| allowed.get(label));
        may_be_allowed(finding.code) && codes.is_some_and(|codes| codes.contains(finding.code))
    };
    let mut accepted = Findings::default();
    for finding in findings.list().iter().filter(|finding| is_allowed(finding)) {
        if finding.severity == Severity::Error {
            let mut note = finding.clone();
            note.severity = Severity::Note;
            note.help = "accepted by `allow`".to_owned();
            accepted.push(note);
        }
    }
    findings.retain(|finding| !is_allowed(finding));
    findings.extend(accepted);
    unknown_codes(spec, findings);
}

fn may_be_allowed(code: &str) -> bool {
    code != NEVER_ALLOWED
        && (RULES.iter().any(|rule| rule.code == code) || ALSO_ALLOWED.contains(&code))
}

/// An `allow` that names no finding does nothing, and that is worth a word.
fn unknown_codes(spec: &Spec, findings: &mut Findings) {
    let of_labels: Vec<&str> = RULES
        .iter()
        .map(|rule| rule.code)
        .chain(ALSO_ALLOWED)
        .filter(|code| !OF_WIRING.contains(code) && *code != NEVER_ALLOWED)
        .collect();
    for label in &spec.labels {
        for code in label.allow.iter().filter(|code| !of_labels.contains(&code.as_str())) {
            findings.push(unknown(code, &of_labels).at(label.place).label(&label.name));
        }
    }
    let Some(wiring) = &spec.wiring else { return };
    for code in wiring.allow.iter().filter(|code| !OF_WIRING.contains(&code.as_str())) {
        findings.push(unknown(code, &OF_WIRING).at(wiring.place));
    }
}

/// The name that differs by the fewest letters, in small or capital, up to `most`.
fn nearest<'k>(name: &str, known: impl Iterator<Item = &'k str>, most: usize) -> Option<&'k str> {
    let lower = name.to_lowercase();
    let near = known.map(|one| (strsim::osa_distance(&lower, &one.to_lowercase()), one));
    near.min().filter(|(distance, _)| *distance <= most).map(|(_, one)| one)
}

fn unknown(code: &str, known: &[&str]) -> Finding {
    let help = match nearest(code, known.iter().copied(), 3) {
        Some(known) => format!("did you mean {known}?"),
        None => format!("codes that can be allowed: {}", known.join(", ")),
    };
    Finding::warning("unknown-code", format!("allow: there is no finding `{code}`")).help(help)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_code_names_one_rule() {
        let codes: BTreeSet<&str> = RULES.iter().map(|rule| rule.code).collect();
        assert_eq!(codes.len(), RULES.len());
        assert!(RULES.iter().all(|rule| !rule.about.is_empty() && !rule.source.is_empty()));
    }

    #[test]
    fn the_same_slip_on_many_labels_is_told_once() {
        let mut found = Findings::default();
        for label in ["a", "b", "c"] {
            found.push(Finding::warning("no-spare", "no spare").label(label));
        }
        found.push(Finding::warning("no-spare", "another").label("d"));
        let told = told_once(&found);
        let messages: Vec<&str> = told.list().iter().map(|one| one.message.as_str()).collect();
        assert_eq!(messages, ["no spare (and on 2 more labels)", "another"]);
    }
}
