//! What is wrong with jobs, as it is told.

use crate::spec::testing::job;

/// One slip or more a line.
const SLIPS: &str = r##"scale: one
sheet: {paper: A44, margin: [1, 2, 3]}
colours:
  beacon: "#b326"
surfaces:
  hull: {finish: matt}
words: {a: "{b}"}
styles:
  one: {style: two}
  two: {style: one}
labels:
- text: {text: RUN, cap_height: 3 furlong, paint: beakon}
- {text: RUN, style: kee, on: hul}
- {text: RUN, bleed: -1 mm, copies: 0}
- {text: RUN, bleed: 1 mm, film_border: 1 mm}
- text: {text: RUN, font: labl, em: 2 mm, cap_height: 2 mm}
- {text: "{went}", size: 5 mm}
- text: ""
- {name: nothing}
- parts:
  - {disc: {diameter: 2}, ring: {outer: 2, inner: 1}}
  - ring: {outer: 2, inner: 3}
  - line: {width: 1}
- {text: "}", split: [9, 5], spares: -3}
- {text: RUN, box: {shape: round-ended, radius: 1}, rows: none.csv}
- {text: RUN, series: x}
"##;

#[test]
fn every_slip_is_told_in_one_run() {
    let outcome = job(SLIPS);
    let expected = [
        ("bad-scale", 1),
        ("unknown-paper", 2),
        ("bad-margin", 2),
        ("bad-colour", 4),
        ("missing", 6),
        ("word-in-word", 7),
        ("style-circle", 10),
        ("bad-length", 12),
        ("unknown-colour", 12),
        ("unknown-style", 13),
        ("unknown-surface", 13),
        ("bad-length", 14),
        ("bad-number", 14),
        ("bleed-and-border", 15),
        ("unknown-font", 16),
        ("two-sizes", 16),
        ("unknown-word", 17),
        ("bad-pair", 17),
        ("empty-text", 18),
        ("empty-label", 19),
        ("one-element", 21),
        ("bad-ring", 22),
        ("missing", 23),
        ("lone-brace", 24),
        ("bad-split", 24),
        ("bad-number", 24),
        ("table-file", 25),
        ("bad-series", 26),
    ];
    assert_eq!(outcome.slips(), expected);
    for finding in outcome.findings.list() {
        assert!(!finding.help.is_empty(), "{}", finding.message);
    }
}

#[test]
fn a_hostile_job_ends_in_a_message() {
    let long = "x".repeat(1_000_000);
    // A long style under many labels, a long word many times, a long chain, a product of series.
    let many = "- {text: A, style: s}\n".repeat(3000);
    let outcome = job(&format!("styles:\n  s: {{note: {long}}}\nlabels:\n{many}"));
    assert_eq!(outcome.findings.list()[0].code, "too-long");
    let words = "{w}".repeat(10_000);
    let outcome = job(&format!("words: {{w: {long}}}\nlabels:\n- '{words}'\n"));
    assert_eq!(outcome.slips(), [("too-long", 3)]);
    let mut chain = String::from("styles:\n  s0: {copies: 1}\n");
    for n in 1..200 {
        chain.push_str(&format!("  s{n}: {{style: s{}}}\n", n - 1));
    }
    let outcome = job(&format!("{chain}labels: [A]\n"));
    assert!(outcome.findings.list().iter().any(|one| one.code == "style-circle"));
    let outcome = job("labels:\n- {text: '{a}{b}', series: {a: 1..9000, b: 1..9000}}\n");
    assert_eq!(outcome.slips(), [("too-many", 2)]);
    let outcome = job("labels:\n- {text: A, copies: 100000}\n- {text: B, copies: 100000}\n");
    assert_eq!(outcome.slips(), [("too-many", 0)]);
}

#[test]
fn lists_where_one_value_belongs_are_told() {
    let outcome =
        job("surfaces:\n  hull: [white, black]\nlabels:\n- {text: A, box: [white, black]}\n\
         - parts:\n  - box: {size: 5 mm, line: [1, 2]}\n");
    assert_eq!(outcome.slips(), [("bad-value", 2), ("bad-value", 4), ("bad-value", 6)]);
}

#[test]
fn refuses_an_empty_name_and_an_empty_label() {
    let outcome = job("labels:\n- {name: '', text: A}\n- {style: key}\n");
    assert_eq!(outcome.slips(), [("empty-name", 2), ("empty-label", 3)]);
}

#[test]
fn an_unknown_column_is_told_with_the_one_meant() {
    let outcome = job("labels:\n- {text: '{nn}', series: 1..200}\n");
    let [finding] = outcome.findings.list() else { panic!("{:?}", outcome.findings) };
    assert_eq!((finding.code, finding.help.as_str()), ("unknown-word", "did you mean `{n}`?"));
}

#[test]
fn messages_about_two_places_name_the_other() {
    let outcome = job("labels:\n- text: A\n  bleed: 1 mm\n  film_border: 1 mm\n");
    let [finding] = outcome.findings.list() else { panic!("{:?}", outcome.findings) };
    let message = "`film_border` here and `bleed` in line 3 cannot both hold";
    assert_eq!((finding.message.as_str(), outcome.slips()[0].1), (message, 4));
}
