//! Job briefs as practitioners bring them, with the numbers a right result must show.
//!
//! The briefs are invented; their numbers follow from school arithmetic, said beside each check.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a job that does not come out as its brief says fails the test"
)]

use decalwright::finding::Severity;
use decalwright::job::{Outcome, lay};
use decalwright::{CopyOrSpare, Design};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

pub(crate) fn folder() -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/jobs")
}

pub(crate) fn run(job: &str) -> Outcome {
    let mut fetch = |name: &str| {
        std::fs::read(folder().join(name))
            .map_err(|error| decalwright::files::Error::Read(name.into(), error))
    };
    lay("job.yaml", job.as_bytes(), &mut fetch)
}

pub(crate) fn brief(name: &str) -> String {
    std::fs::read_to_string(folder().join(name)).unwrap()
}

pub(crate) fn named<'a>(designs: &'a [Design], name: &str) -> &'a Design {
    designs.iter().find(|design| design.name == name).unwrap()
}

#[test]
fn trams_get_all_their_numbers_stripes_and_spares_on_one_sheet() {
    let outcome = run(&brief("tram.yaml"));
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let laid = outcome.laid.unwrap();
    let numbers: BTreeSet<String> = laid
        .designs
        .iter()
        .filter(|design| design.name.starts_with("number-"))
        .map(|design| design.words[0].text.clone())
        .collect();
    let wanted: BTreeSet<String> = (201..=212).map(|number| number.to_string()).collect();
    assert_eq!(numbers, wanted);
    // 260 mm, 52 mm and 60 mm at 1:87.
    let number = named(&laid.designs, "number-201");
    assert!((number.words[0].cap_height_mm - 2.989).abs() < 0.005);
    assert!((named(&laid.designs, "load").words[0].cap_height_mm - 0.690).abs() < 0.005);
    // Spares: 10 % rounded up of each distinct label: 12 (4+1), 2 (12+2), 2 (12+2), 24+3.
    let mut pieces: BTreeMap<&str, usize> = BTreeMap::new();
    for placement in laid.sheets.iter().flat_map(|sheet| &sheet.placements) {
        *pieces.entry(&laid.designs[placement.design].name).or_default() += 1;
    }
    assert_eq!(pieces["number-207"], 5);
    assert_eq!((pieces["stripe-left"], pieces["stripe-right"]), (14, 14));
    assert_eq!((pieces["blind-harbour"], pieces["load"]), (14, 27));
    assert_eq!(pieces.values().sum::<usize>(), 143);
    assert_eq!(laid.sheets.len(), 1, "a plain packer reaches one sheet");
    assert!(laid.sheets[0].placements.iter().all(|placement| !placement.mirrored));
    // The background runs 1.0 mm past the knife.
    let ink = number.marks[0].path.bounds();
    assert!((ink.width() - 14.0).abs() < 1e-6 && (number.size().width() - 12.0).abs() < 1e-6);
    let small = outcome.findings.list().iter().find(|one| one.code == "small-text").unwrap();
    assert_eq!(small.severity, Severity::Warning);
    assert!(small.message.contains("0.69") && small.message.contains("1.00"), "{}", small.message);
    assert!(small.help.contains("leave the text out"));
}

#[test]
fn window_labels_are_mirrored_when_they_must_be_and_refused_when_nothing_would_show() {
    let outcome = run(&brief("cabin.yaml"));
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let laid = outcome.laid.unwrap();
    let mut signs = BTreeMap::new();
    for placement in laid.sheets.iter().flat_map(|sheet| &sheet.placements) {
        if placement.piece == CopyOrSpare::Copy(1) {
            let name = laid.designs[placement.design].name.as_str();
            signs.insert(name, placement.transform().determinant().signum());
        }
    }
    // A mirror image has a determinant of -1.
    assert_eq!(signs, BTreeMap::from([("G1", -1.0), ("G3", 1.0), ("G4", -1.0), ("G5", -1.0)]));
    let said: Vec<&str> = laid.sheets[0].words.iter().map(|words| words.text.as_str()).collect();
    assert!(said.iter().any(|line| line.contains("READS BACKWARDS")), "{said:?}");
    let hidden = format!(
        "{}  - {{name: G2, style: pane, text: NO ENTRY, size: [40 mm, 10 mm], film: white, applied: inside-window}}\n",
        brief("cabin.yaml")
    );
    let refused = run(&hidden);
    let errors: Vec<_> =
        refused.findings.list().iter().filter(|one| one.severity == Severity::Error).collect();
    assert_eq!(errors.len(), 1);
    assert_eq!((errors[0].code, errors[0].label.as_deref()), ("hidden-by-film", Some("G2")));
}

#[test]
fn one_word_changed_changes_its_labels_and_no_other() {
    let job = brief("greenhouse.yaml");
    let before = run(&job);
    assert!(!before.findings.any_error(), "{:#?}", before.findings.list());
    let after = run(&job.replace("vent: VENT", "vent: ROOF VENT"));
    let (old, new) = (before.laid.unwrap().designs, after.laid.unwrap().designs);
    assert_eq!((old.len(), new.len()), (19, 19));
    let same = old.iter().zip(&new).filter(|(old, new)| old.marks[0].path == new.marks[0].path);
    assert_eq!(same.count(), 13);
    // What no longer fits is told with needed and available width, and not shrunk.
    let wide: Vec<_> =
        after.findings.list().iter().filter(|one| one.code == "text-too-wide").collect();
    assert_eq!(wide.len(), 6, "{wide:#?}");
    assert!(wide.iter().all(|one| one.measured.is_some_and(|(needs, has)| needs > has)));
    assert!((named(&new, "A1").words[0].cap_height_mm - 3.0).abs() < 1e-9);
    // The micro sign may be typed as U+00B5 or as U+03BC.
    let tail = |name: &str| {
        let ink = named(&old, name).marks[0].path.bounds();
        (ink.height(), named(&old, name).words[0].text.contains("S/cm"))
    };
    assert!((tail("B3").0 - tail("B4").0).abs() < 0.02 && tail("B3").1 && tail("B4").1);
}

#[test]
fn a_sign_too_long_for_the_film_is_cut_between_its_words() {
    let outcome = run(
        "sheet: {film: white, paper: A4, margin: 10 mm, gap: 3 mm}\ncolours: {deep: '#24382E'}\nlabels:\n  - name: sign\n    size: [420 mm, 70 mm]\n    bleed: 1 mm\n    split: words\n    parts:\n      - box: {size: [420 mm, 70 mm], fill: deep}\n      - text: {text: HARBOUR CONTROL, cap_height: 27 mm, paint: white}\n",
    );
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let laid = outcome.laid.unwrap();
    let [left, right] = laid.designs.as_slice() else { panic!("two parts") };
    assert_eq!((left.words[0].text.as_str(), right.words[0].text.as_str()), ("HARBOUR", "CONTROL"));
    for part in [left, right] {
        // A4 is 297 mm long (ISO 216); margins of 10 mm and bleeds of 1 mm leave 275 mm.
        assert!(part.size().width() <= 275.0);
        assert!((part.words[0].area.y1 - 13.5).abs() < 1e-6, "one base line");
        assert!((part.words[0].cap_height_mm - 27.0).abs() < 1e-9);
    }
    assert!((left.size().width() + right.size().width() - 420.0).abs() < 1e-6);
}

#[test]
fn a_small_hazard_diamond_is_a_square_on_its_point_and_warned_where_it_cannot_print() {
    let outcome = run(
        "scale: 1:32\nsheet: {film: white, paper: A5}\nprinter: {class: laser-1200}\ncolours: {field: '#C21A34'}\nlabels:\n  - name: diamond\n    bleed: 0\n    copies: 8\n    parts:\n      - box: {size: 250 mm prototype, fill: field, turned: 45, line: {inset: 12.5 mm prototype, width: 2 mm prototype, paint: white}}\n      - text: {text: '3', cap_height: 41 mm prototype, paint: white}\n",
    );
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let size = outcome.laid.unwrap().designs[0].size();
    // 250 / 32 = 7.8125 on a side, across the points times √2 = 11.049.
    assert!((size.width() - 11.049).abs() < 0.01 && (size.height() - 11.049).abs() < 0.01);
    let small = outcome.findings.list().iter().find(|one| one.code == "small-text").unwrap();
    assert!(
        small.message.contains("1.28") && small.message.contains("reversed"),
        "{}",
        small.message
    );
    let thin = outcome.findings.list().iter().find(|one| one.code == "clear-gap").unwrap();
    assert!(thin.message.contains("0.06"), "{}", thin.message);
}

#[test]
fn many_scripts_are_set_whole_or_refused_by_name() {
    let job = brief("languages.yaml");
    let outcome = run(&job);
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let designs = outcome.laid.unwrap().designs;
    assert_eq!(designs.len(), 11);
    // Full upper case of the Unicode standard: ß becomes SS, İ stays itself.
    assert_eq!(named(&designs, "K1").words[0].text, "GRÖSSE / STRASSENLAMPE");
    assert_eq!(named(&designs, "K8").words[0].text, "İSTANBUL / ISPARTA");
    // One code point or two, canonically equivalent (Unicode): the same letter.
    let letter = |name: &str| named(&designs, name).marks.iter().map(|mark| mark.path.clone());
    for (one, two) in letter("K9").zip(letter("K10")) {
        assert!(one.minus(&two).area() + two.minus(&one).area() < 0.02);
    }
    // Accents of capitals and descenders stay inside the box.
    for name in ["K3", "K4", "K9"] {
        let design = named(&designs, name);
        let frame = design.marks.iter().map(|mark| mark.path.bounds()).reduce(|a, b| a.union(b));
        let inner = frame.unwrap().inflate(-0.3, -0.3);
        for mark in design.marks.iter().filter(|mark| mark.path.bounds() != frame.unwrap()) {
            assert_eq!(mark.path.bounds().union(inner), inner, "{name}");
        }
    }
    let more = [("K11", "ميناء", "U+0645"), ("K12", "नौका", "U+0928"), ("K13", "港", "U+6E2F")];
    for (name, text, code_point) in more {
        let refused = run(&format!("{job}  - {{name: {name}, style: sign, text: \"{text}\"}}\n"));
        let missing =
            refused.findings.list().iter().find(|one| one.code == "missing-glyph").unwrap();
        assert_eq!(missing.severity, Severity::Error);
        assert!(missing.message.contains(code_point), "{}", missing.message);
    }
}
