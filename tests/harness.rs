//! A wiring table as a maker brings it: its markers, its sheets to check with a meter, its numbers.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a job that is not as expected fails the test"
)]

use decalwright::finding::Severity;
use decalwright::job::{self, Laid, Outcome, Previews};
use decalwright::{Element, Label, MarkerKind, Role, Wiring};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

fn folder(name: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn lay(file: &str, change: impl Fn(String) -> String) -> Outcome {
    let path = folder(file);
    let beside = path.parent().unwrap().to_owned();
    let job = change(fs::read_to_string(&path).unwrap());
    let mut fetch = |name: &str| Ok(fs::read(beside.join(name)).unwrap());
    job::lay_wires("harness.yaml", job.as_bytes(), &mut fetch)
}

fn brief() -> Outcome {
    lay("tests/jobs/harness.yaml", |job| job)
}

fn wiring(laid: &Laid) -> &Wiring {
    laid.spec.wiring.as_ref().unwrap()
}

fn kind(label: &Label) -> MarkerKind {
    label.marker_of().unwrap().kind
}

/// All lines a marker prints.
fn lines(label: &Label) -> Vec<Vec<String>> {
    let texts = label.parts.iter().filter_map(|part| match &part.element {
        Element::Text(text) => Some(text.lines.clone()),
        _ => None,
    });
    texts.collect()
}

fn near(found: f64, wanted: f64, slack: f64) {
    assert!((found - wanted).abs() <= slack, "{found} is not {wanted}");
}

#[test]
fn a_harness_gets_its_markers_at_the_sizes_worked_by_hand() {
    // The job's own numbers, each from plain geometry: pi (D + t), faces and turns.
    let outcome = brief();
    let laid = outcome.laid.unwrap();
    let labels = &laid.spec.labels;
    assert_eq!(wiring(&laid).wires.len(), 24);
    assert_eq!(labels.len(), 48);
    let flags: Vec<&Label> =
        labels.iter().filter(|label| kind(label) == MarkerKind::Flag).collect();
    assert_eq!(flags.len(), 16);
    let size = |name: &str| {
        let design = laid.designs.iter().find(|design| design.name == name).unwrap();
        design.size().size()
    };
    near(size("W01 a").width, 47.519, 0.02);
    near(size("W01 a").height, 6.0, 1e-9);
    // Folded in the middle of the turn: 22 + 3.519 / 2 from its end.
    let flag = laid.designs.iter().find(|design| design.name == "W01 a").unwrap();
    let lines = flag.marks.iter().filter(|mark| mark.role == Role::Line);
    let folds: Vec<f64> =
        lines.map(|mark| mark.path.bounds().center().x - flag.size().x0).collect();
    assert!(!folds.is_empty());
    folds.iter().for_each(|fold| near(*fold, 23.759, 0.02));
    near(size("W09 a").height, 12.331, 0.02);
    near(size("W21 b").height, 2.5 * 7.697, 0.02);
}

#[test]
fn a_wires_ends_carry_its_name_and_tell_where_they_belong() {
    let laid = brief().laid.unwrap();
    let mut ids = BTreeSet::new();
    for pair in laid.spec.labels.chunks(2) {
        let [a, b] = pair else { panic!() };
        let (from, to) = (&lines(a)[0], &lines(b)[0]);
        // One name on both ends, local and remote swapped.
        assert_eq!(from[0], to[0]);
        assert!(ids.insert(from[0].clone()), "{}", from[0]);
        let (local, remote) = from[1].split_once(" > ").unwrap();
        assert_eq!(to[1], format!("{remote} > {local}"));
        // A flag says the same on both faces.
        assert!(lines(a).iter().all(|face| face == from));
        assert_eq!(lines(a).len(), if kind(a) == MarkerKind::Flag { 2 } else { 1 });
    }
    assert_eq!(ids.len(), 24);
    // NO is a terminal, not a truth value.
    let lock = laid.spec.labels.iter().find(|label| label.name == "W24 a").unwrap();
    assert_eq!(lines(lock)[0], ["W24", "K1:NO > Y1:1"]);
}

#[test]
fn the_ends_of_a_wire_lie_side_by_side() {
    let laid = brief().laid.unwrap();
    let mut pairs = 0;
    for sheet in &laid.sheets {
        for pair in sheet.placements.chunks(2) {
            let [a, b] = pair else { panic!() };
            let wire = |design: usize| {
                laid.spec.labels[laid.designs[design].label].marker_of().unwrap().wire
            };
            assert_eq!(wire(a.design), wire(b.design));
            let [a, b] = [a, b].map(|one| one.footprint(&laid.designs[one.design]));
            near(a.x1, b.x0, 1e-6);
            near(a.y0, b.y0, 1e-6);
            pairs += 1;
        }
    }
    assert_eq!(pairs, 24);
}

#[test]
fn shared_rails_are_no_fault_and_letters_that_go_round_too_far_are_noted() {
    let outcome = brief();
    let found: BTreeMap<&str, usize> =
        outcome.findings.list().iter().fold(BTreeMap::new(), |mut counts, finding| {
            *counts.entry(finding.code).or_default() += 1;
            counts
        });
    assert!(outcome.findings.list().iter().all(|one| one.severity == Severity::Note));
    // Letters of these markers are 1.6 mm high; laser-600 keeps 0.25 mm open, and theirs come nearer.
    let codes = ["alike-wires", "clear-gap", "turn-to-read"];
    assert_eq!(found.keys().copied().collect::<Vec<_>>(), codes);
    let round = outcome.findings.list().iter().find(|one| one.code == "turn-to-read").unwrap();
    // Wires W09 to W20 are 1.52 mm thick; those of 2.40 mm are no trouble.
    assert!(round.message.starts_with("W09 and 11 more:"), "{}", round.message);
    assert!(round.message.contains("120.6 degrees"), "{}", round.message);
    // Without the rails, the same table is told to crowd its terminals.
    let outcome =
        lay("tests/jobs/harness.yaml", |job| job.replace("  rails: [GND, V5, V12]\n", ""));
    let crowded = outcome.findings.list().iter().filter(|one| one.code == "crowded-terminal");
    assert_eq!(crowded.count(), 3);
}

#[test]
fn the_plan_has_a_row_for_each_wire_and_for_each_pair_of_rails() {
    let laid = brief().laid.unwrap();
    let files = job::wire_files(&laid, "harness", Previews::Skipped).all().unwrap();
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(
        names,
        [
            "harness-continuity.csv",
            "harness-wires-clear-1.svg",
            "harness-wires-clear.pdf",
            "harness-wires.layout.json",
            "harness-wiring.pdf",
        ]
    );
    // The csv crate reads the plan back.
    let mut reader = csv::Reader::from_reader(files[0].1.as_slice());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let beeps = rows.iter().filter(|row| &row[1] == "must beep");
    assert_eq!(beeps.clone().count(), 24);
    let ids: BTreeSet<String> = beeps.map(|row| row[5].to_owned()).collect();
    assert_eq!(ids.len(), 24);
    let apart: Vec<_> = rows.iter().filter(|row| &row[1] == "must not beep").collect();
    assert_eq!(rows.len(), 24 + apart.len());
    // Three rails make three pairs.
    let rails = apart.iter().filter(|row| row[7].starts_with("rail "));
    assert_eq!(rails.count(), 3);
}

#[test]
fn thicknesses_nobody_measured_are_printed_as_assumed() {
    let outcome = lay("tests/jobs/harness.yaml", |job| {
        job.replace(
            "table: harness.csv",
            "list: [{wire: W1, from: 'A:1', to: 'B:1', gauge: 22 AWG}]",
        )
        .replace("text: [\"{id}\"", "text: [\"{wire}\"")
    });
    let laid = outcome.laid.unwrap();
    let said: Vec<&str> = laid.sheets[0].words.iter().map(|words| words.text.as_str()).collect();
    let foot = said.join(" ");
    assert!(foot.contains("outside diameters assumed, measure yours: 22 AWG as 1.52 mm"), "{foot}");
}

#[test]
fn the_example_harness_uses_every_kind_and_is_sound() {
    let outcome = lay("examples/harbour/harness.yaml", |job| job);
    assert!(outcome.findings.list().iter().all(|one| one.severity == Severity::Note));
    let laid = outcome.laid.unwrap();
    let wires = &wiring(&laid).wires;
    assert!(wires.len() >= 24);
    let colours: BTreeSet<String> =
        wires.iter().filter_map(|wire| Some(wire.colour.as_ref()?.code())).collect();
    assert!(colours.len() >= 6, "{colours:?}");
    let gauges: BTreeSet<String> =
        wires.iter().filter_map(|wire| Some(wire.gauge?.to_string())).collect();
    assert_eq!(gauges.len(), 3);
    let kinds: BTreeSet<MarkerKind> = laid.spec.labels.iter().map(kind).collect();
    assert_eq!(
        kinds.into_iter().collect::<Vec<_>>(),
        [MarkerKind::Wrap, MarkerKind::Flag, MarkerKind::Sleeve]
    );
}

#[test]
fn a_table_alone_is_enough() {
    let table = fs::read(folder("tests/jobs/harness.csv")).unwrap();
    let mut nothing = |name: &str| panic!("{name} is not needed");
    let outcome = job::lay_wires("wires.csv", &table, &mut nothing);
    assert!(!outcome.findings.any_error(), "{:?}", outcome.findings.list());
    let laid = outcome.laid.unwrap();
    assert_eq!(laid.spec.title, "wires");
    assert_eq!(laid.spec.labels.len(), 48);
}
