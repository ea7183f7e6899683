//! What is wrong with jobs, as it is told.

use super::job;

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
- {text: "}", size: [30, 8], split: [9, 5], spares: -3}
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
    for finding in outcome.findings {
        assert!(!finding.help.is_empty(), "{}", finding.message);
    }
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
    let [finding] = outcome.findings.as_slice() else { panic!("{:?}", outcome.findings) };
    assert_eq!((finding.code, finding.help.as_str()), ("unknown-word", "did you mean `{n}`?"));
}

#[test]
fn messages_about_two_places_name_the_other() {
    let outcome = job("labels:\n- text: A\n  bleed: 1 mm\n  film_border: 1 mm\n");
    let [finding] = outcome.findings.as_slice() else { panic!("{:?}", outcome.findings) };
    let message = "`film_border` here and `bleed` in line 3 cannot both hold";
    assert_eq!((finding.message.as_str(), outcome.slips()[0].1), (message, 4));
}
