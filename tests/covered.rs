//! Words that are covered: by what is painted after them, or by another decal.

use decalwright::files::Error;
use decalwright::finding::Severity;
use decalwright::job;

/// Severity and message of what is said of words that are covered.
fn told(job: &str) -> Vec<(Severity, String)> {
    let mut nothing = |name: &str| Err(Error::Outside(name.into()));
    let outcome = job::lay("test.yaml", job.as_bytes(), &mut nothing);
    assert!(outcome.laid.is_some(), "{:#?}", outcome.findings.list());
    let found = outcome.findings.list().iter().filter(|one| one.code == "covered-words");
    found.map(|one| (one.severity, one.message.clone())).collect()
}

fn messages(job: &str) -> Vec<String> {
    told(job).into_iter().map(|one| one.1).collect()
}

fn said(parts: &[&str]) -> Vec<(Severity, String)> {
    let parts = parts.iter().map(|part| format!("      - {part}\n")).collect::<String>();
    told(&format!("labels:\n  - name: lock\n    size: [30 mm, 12 mm]\n    parts:\n{parts}"))
}

fn covered(severity: Severity, share: &str) -> [(Severity, String); 1] {
    [(severity, format!("{share} % of `I` is lost to what is painted after it"))]
}

const GROUND: &str = "box: {size: [30 mm, 12 mm], fill: '#24382e'}";
const WORD: &str = "text: {text: I, font: wide, cap_height: 4 mm}";
const CLEAR: &str = "text: {text: I, font: wide, cap_height: 4 mm, paint: clear}";

#[test]
fn the_share_that_is_covered_is_told() {
    // A stem 4 mm high: a stripe of 1 mm takes a quarter, one of 3.8 mm nearly all (school arithmetic).
    let stripe = |high: f64| format!("box: {{size: [20 mm, {high} mm], fill: '#b0302a'}}");
    assert_eq!(said(&[WORD, &stripe(1.0)]), covered(Severity::Warning, "25"));
    assert_eq!(said(&[WORD, &stripe(3.8)]), covered(Severity::Error, "95"));
    assert_eq!(said(&[&stripe(3.0), WORD]), []);
    let beside = "box: {size: [4 mm, 3 mm], at: [8 mm, 0], fill: '#b0302a'}";
    assert_eq!(said(&[WORD, beside]), []);
}

#[test]
fn the_same_words_once_more_are_a_shadow() {
    let shadow = "text: {text: I, font: wide, cap_height: 4 mm, paint: '#b0302a'}";
    assert_eq!(said(&[shadow, WORD]), []);
}

#[test]
fn printed_white_is_lost_like_ink() {
    let white = "text: {text: I, font: wide, cap_height: 4 mm, paint: white}";
    let window = "box: {size: [20 mm, 1 mm], fill: clear}";
    let job = format!(
        "printer: {{class: white-ink}}\nlabels:\n  - name: lock\n    size: [30 mm, 12 mm]\n    white: under\n    parts: [{{{GROUND}}}, {{{white}}}, {{{window}}}]\n"
    );
    assert_eq!(told(&job), covered(Severity::Warning, "25"));
}

#[test]
fn a_pair_is_told_once_and_hundreds_of_dots_in_no_time() {
    let dot =
        |at: u32| format!("{{disc: {{diameter: 0.2 mm, at: [{} mm, {} mm]}}}}", at % 40, at / 40);
    let dots: Vec<String> = (0..400).map(dot).collect();
    let job = format!(
        "labels:\n  - name: lock\n    handed: pair\n    allow: [covered-words]\n    size: [90 mm, 60 mm]\n    parts: [{{text: {{text: I, font: wide, cap_height: 4 mm}}}}, {}, {{box: {{size: [20 mm, 1 mm], fill: '#b0302a'}}}}]\n",
        dots.join(", ")
    );
    assert_eq!(told(&job).len(), 0, "allowed");
    assert_eq!(told(&job.replace("    allow: [covered-words]\n", "")).len(), 1);
}

#[test]
fn clear_letters_are_filled_up_and_inked_ones_taken_away() {
    assert_eq!(said(&[GROUND, CLEAR]), []);
    assert_eq!(said(&[GROUND, CLEAR, GROUND]), covered(Severity::Error, "100"));
    let window = "box: {size: [20 mm, 1 mm], fill: clear}";
    assert_eq!(said(&[WORD, window]), covered(Severity::Warning, "25"));
    assert_eq!(said(&[GROUND, CLEAR, window]), []);
}

#[test]
fn words_where_another_decal_covers_are_told_and_backings_are_not_meant() {
    let said = |film: &str, paint: &str, apart: u32| -> Vec<String> {
        let job = format!(
            "sheet: {{film: {film}}}\nlabels:\n  - name: front\n    size: [80 mm, 40 mm]\n    panel:\n      deliver: pieces\n      legends:\n        - {{at: [20 mm, 20 mm], text: {{text: TIDE, paint: {paint}}}, box: {{size: [14 mm, 6 mm], fill: '#1d5c4a'}}}}\n        - at: [{} mm, 20 mm]\n          name: bar\n          parts: [{{box: {{size: [12 mm, 6 mm], fill: '#24382e'}}}}]\n",
            20 + apart
        );
        messages(&job)
    };
    let bar = ["`TIDE` lies where the decal bar covers: it is hidden unless it is laid last"];
    assert_eq!(said("white", "black", 6), bar);
    assert_eq!(said("white", "clear", 6), bar);
    assert_eq!(said("clear", "black", 6), bar);
    assert_eq!(said("white", "black", 30), Vec::<String>::new());
    // A backing is made to lie under its decal.
    let job = "surfaces: {hull: '#1d2b3a'}\nlabels:\n  - name: front\n    size: [80 mm, 40 mm]\n    on: hull\n    white: backing\n    panel: {deliver: pieces, legends: [{at: [20 mm, 20 mm], text: TIDE}]}\n";
    assert_eq!(messages(job), Vec::<String>::new());
}
