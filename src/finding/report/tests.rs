//! What people and machines read.

use super::{Styling, as_json, as_text};
use crate::finding::{Finding, Findings, Place, Sources};

const JOB: &str = "title: Tide gauge\nlabels:\n  - {text: RUN, stile: key}\n";

/// Findings about a file with this text.
fn about(text: &str, list: impl IntoIterator<Item = Finding>) -> (Findings, Sources) {
    let (mut findings, mut sources) = (Findings::default(), Sources::default());
    sources.add("job.yaml", text);
    findings.extend(list);
    (findings, sources)
}

fn report(text: &str, list: impl IntoIterator<Item = Finding>) -> String {
    let (findings, sources) = about(text, list);
    as_text(&findings, &sources, Styling::Plain)
}

fn span(text: &str, word: &str) -> Place {
    let number = |at| u32::try_from(at).unwrap();
    let start = text.find(word).unwrap();
    Place { file: 0, start: number(start), end: number(start + word.len()) }
}

#[test]
fn shows_head_place_excerpt_label_and_help() {
    let finding = Finding::error("unknown-key", "a label has no `stile`")
        .at(span(JOB, "stile"))
        .label("run")
        .spot(3.2, 1.0)
        .help("did you mean `style`?");
    let expected = "\
error[unknown-key]: a label has no `stile`
 --> job.yaml:3:17
  |
3 |   - {text: RUN, stile: key}
  |                 ^^^^^
  |
  = label: run, 3.2 mm from its left edge, 1 mm from its top
  = help: did you mean `style`?
";
    assert_eq!(report(JOB, [finding]), expected);
}

#[test]
fn a_finding_without_a_place_is_a_head_and_help() {
    let finding = Finding::error("no-labels", "the job has no labels").help("add one");
    let text = report(JOB, [finding]);
    assert!(text.starts_with("error[no-labels]: the job has no labels\n"), "{text}");
    assert!(text.trim_end().ends_with("= help: add one"), "{text}");
    assert!(!text.contains("-->"), "{text}");
    assert_eq!(report(JOB, []), "");
}

/// Columns count characters from 1; Unicode UAX 9 lists the marks that turn text round.
#[test]
fn hostile_characters_are_harmless() {
    let line = "größe\t\u{1b}[31mred \u{202e}evil\u{7}: x\r\n";
    let mut sources = Sources::default();
    sources.add("job\u{1b}.yaml", line);
    let bad = "\u{1b}]0;\u{202e}";
    let finding = Finding::error("bad-yaml", bad).at(span(line, "x")).label(bad).help(bad);
    let (findings, _) = about(line, [finding]);
    let text = as_text(&findings, &sources, Styling::Plain);
    for letter in ['\u{1b}', '\u{202e}', '\u{7}', '\r', '\t'] {
        assert!(!text.contains(letter), "{letter:?} in {text:?}");
    }
    let column = line.chars().position(|letter| letter == 'x').unwrap() + 1;
    assert!(text.contains(&format!(":1:{column}\n")), "{text}");
}

#[test]
fn long_lines_are_cut_round_the_place() {
    let line = "a".repeat(5_000_000) + "X" + &"b".repeat(5_000_000);
    let place = Place { file: 0, start: 5_000_000, end: 9_000_000 };
    let text = report(&line, [Finding::error("bad-yaml", "here").at(place)]);
    assert!(text.contains("job.yaml:1:5000001"), "{text}");
    assert!(text.contains('X') && text.contains('^'), "{text}");
    assert!(text.len() < 1_000, "{}", text.len());
}

#[test]
fn every_place_can_be_shown() {
    let text = "é: \"ü\r\n\n\tz";
    for start in 0..20 {
        for end in 0..20 {
            let finding = |file, message: &str| {
                Finding::error("bad-yaml", message).at(Place { file, start, end })
            };
            let (findings, sources) = about(text, [finding(0, "here"), finding(3, "there")]);
            let text = as_text(&findings, &sources, Styling::Terminal);
            assert!(text.contains("here") && text.contains("there"));
            assert!(as_json(&findings, &sources).contains("\"there\""));
        }
    }
}

#[test]
fn counts_what_it_does_not_show() {
    let list = (0..10_000_u32).map(|i| {
        let finding = match i {
            0..9_998 => Finding::warning("small-text", "too small"),
            9_998 => Finding::note("two-spellings", "kept"),
            _ => Finding::error("bad-yaml", "the one error"),
        };
        finding.at(Place { file: 0, start: i * 5, end: i * 5 + 4 })
    });
    let (findings, sources) = about(&"text\n".repeat(10_000), list);
    let text = as_text(&findings, &sources, Styling::Plain);
    assert!(text.ends_with("\nand 9950 more: 9949 warnings, 1 note\n"), "{text}");
    assert!(text.contains("the one error"), "errors are shown before warnings");
    assert_eq!(text.matches(" --> ").count(), 50);
    let json: serde_json::Value = serde_json::from_str(&as_json(&findings, &sources)).unwrap();
    assert_eq!(json[9_999]["line"], 10_000);
}

#[test]
fn machines_get_the_same() {
    let finding = Finding::warning("small-text", "text is 1 mm high").at(span(JOB, "RUN"));
    let finding = finding.label("run").spot(0.1 + 0.2, 1.0).measured(1.0, 1.8);
    let (findings, sources) = about(JOB, [finding]);
    let expected = r#"[
  {
    "severity": "warning",
    "code": "small-text",
    "message": "text is 1 mm high",
    "help": "",
    "file": "job.yaml",
    "line": 3,
    "column": 12,
    "label": "run",
    "at_mm": [
      0.3,
      1.0
    ],
    "measured": 1.0,
    "needed": 1.8
  }
]
"#;
    assert_eq!(as_json(&findings, &sources), expected);
}
