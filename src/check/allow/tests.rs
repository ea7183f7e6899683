//! What labels, the wiring and the job accept, through the library's door.

use super::super::testing::{findings, findings_with};
use crate::finding::Severity;

fn codes(job: &str) -> Vec<&'static str> {
    findings(job).iter().map(|finding| finding.code).collect()
}

/// That a job tells of a code, and does not once `allow` is filled in for `{}`.
fn accepts(job: &str, code: &str) {
    let told = codes(&job.replace("{}", "[]"));
    assert!(told.contains(&code), "{told:?}");
    let accepted = codes(&job.replace("{}", &format!("[{code}]")));
    assert!(!accepted.contains(&code) && !accepted.contains(&"cannot-allow"), "{accepted:?}");
}

#[test]
fn a_label_accepts_what_is_found_on_its_texts() {
    accepts("labels:\n- text: {text: I, spread: 20 mm}\n  allow: {}\n", "cannot-spread");
    let arc = "text: {text: WATERLINE, cap_height: 3 mm, arc: {radius: 4 mm, reads: inward}}";
    accepts(&format!("labels:\n- {arc}\n  allow: {{}}\n"), "letters-touch");
}

#[test]
fn a_label_accepts_for_both_hands_and_a_panel_for_its_pieces() {
    let text = "{text: {text: RUN, at: [0, 0]}}, {text: {text: REST, at: [0, 3 mm]}}";
    let pair = format!("labels:\n- name: door\n  handed: pair\n  allow: {{}}\n  parts: [{text}]\n");
    accepts(&pair, "legends-touch");
    let panel = "labels:\n- name: front\n  size: [40 mm, 30 mm]\n  allow: {}\n  panel:\n    deliver: pieces\n    \
                 holes: [{name: A, at: [39 mm, 5 mm], diameter: 4 mm}]\n    legends: [{text: RUN, at: [20 mm, 20 mm]}]\n";
    let held = codes(&panel.replace("{}", "[hole-off-panel]"));
    assert!(held.contains(&"hole-off-panel"), "an accepted error stays as a note");
    let found = findings(&panel.replace("{}", "[hole-off-panel]"));
    assert!(found.iter().all(|finding| finding.severity != Severity::Error), "{found:#?}");
}

#[test]
fn the_job_accepts_what_is_about_no_label() {
    let small = "allow: {}\nsheet: {paper: [60 mm, 40 mm], margin: 2 mm}\nlabels: [RUN]\n";
    accepts(small, "no-room-for-square");
    let twice = "allow: {}\nprinter: {class: white-ink, white_passes: 2}\nsheet: {paper: [40 mm, 30 mm], margin: 2 mm}\nlabels:\n- {text: RUN, white: under, size: [35 mm, 25 mm]}\n";
    accepts(twice, "no-registration");
}

#[test]
fn the_job_accepts_what_is_said_of_its_files() {
    let job = |allow: &str| {
        let job = format!(
            "allow: {allow}\nprinter: {{profile: p.yaml}}\nlabels:\n- name: front\n  size: [40 mm, 30 mm]\n  panel: {{drawing: {{file: d.dxf}}}}\n"
        );
        let dxf = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n\
                   0\nINSERT\n8\n0\n0\nCIRCLE\n8\n0\n10\n20\n20\n15\n40\n2\n0\nENDSEC\n0\nEOF\n";
        let profile = "printer: Lodge\npaper: A4\nopacity: 90 %\n";
        let files = [("p.yaml", profile.as_bytes()), ("d.dxf", dxf.as_bytes())];
        let found = findings_with(&job, &files);
        found.iter().map(|finding| finding.code).collect::<Vec<_>>()
    };
    let told = job("[]");
    assert!(told.contains(&"measured-oddly") && told.contains(&"drawing-blocks"), "{told:?}");
    let told = job("[measured-oddly, drawing-blocks]");
    assert!(!told.contains(&"measured-oddly") && !told.contains(&"drawing-blocks"), "{told:?}");
}

const WIRES: &str = "printer: {class: laser-600}\nwires:\n  allow: {}\n  marker: {kind: wrap}\n  \
                     list: [{wire: W1, from: 'A1:1', to: 'B1:1', colour: ribbon, gauge: 30 AWG}]\n";

#[test]
fn the_wiring_accepts_for_its_markers_and_its_table() {
    accepts(WIRES, "thin-ink");
    accepts(WIRES, "small-marker");
    let found = findings(&WIRES.replace("{}", "[unknown-wire-colour]"));
    let colour = found.iter().find(|finding| finding.code == "unknown-wire-colour").unwrap();
    assert_eq!((colour.severity, colour.help.as_str()), (Severity::Note, "accepted by `allow`"));
}

#[test]
fn an_allow_without_effect_is_told_with_its_reason() {
    let told = |job: &str| -> Vec<(&str, String, String)> {
        let found = findings(job);
        let useless =
            found.into_iter().filter(|one| ["unknown-code", "cannot-allow"].contains(&one.code));
        useless.map(|one| (one.code, one.message, one.help)).collect()
    };
    let of_label = |code: &str| told(&format!("labels:\n- {{text: RUN, allow: [{code}]}}\n"));
    let [(code, message, help)] = &of_label("smal-text")[..] else { panic!() };
    assert_eq!(*code, "unknown-code");
    assert_eq!(message, "allow: there is no finding `smal-text`");
    assert_eq!(help, "did you mean small-text?");
    let [(code, message, help)] = &of_label("code-unreadable")[..] else { panic!() };
    assert_eq!(*code, "cannot-allow");
    assert_eq!(message, "allow: `code-unreadable` cannot be accepted");
    assert!(help.contains("does not read back"), "{help}");
    let [(_, _, help)] = &of_label("rails-joined")[..] else { panic!() };
    assert_eq!(help, "write `wires: {allow: [rails-joined]}`");
    let [(_, _, help)] = &of_label("other-paper")[..] else { panic!() };
    assert_eq!(help, "write `allow: [other-paper]` at the top of the job");
    let [(_, message, _)] = &told("allow: [small-text]\nlabels: [RUN]\n")[..] else { panic!() };
    assert_eq!(message, "allow: `small-text` is about a label");
}

#[test]
fn an_allow_without_effect_in_a_style_is_told_once_where_it_stands() {
    let found = findings(
        "styles: {s: {allow: [smal-text]}}\nlabels:\n- {text: A, style: s}\n- {text: B, style: s}\n",
    );
    let [only] = &found.iter().filter(|one| one.code == "unknown-code").collect::<Vec<_>>()[..]
    else {
        panic!("{found:#?}")
    };
    // Counted by hand: 21 bytes stand before the code.
    assert_eq!(only.place.unwrap().start, 21);
}
