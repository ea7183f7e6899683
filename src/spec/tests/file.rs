//! Traps of YAML 1.1 and 1.2 (the type tables of yaml.org/type and of YAML 1.2.2 chapter 10), hostile files, and places.

use crate::finding::{Finding, Findings, Severity, Sources};
use crate::spec::job::form;
use crate::yaml::{OneOrList, Tree, read as keys_of, tree};
use std::rc::Rc;
use std::time::{Duration, Instant};

const GOOD: &str = "\
title: Greenhouse controller
sheet: {film: clear, paper: A5, margin: [6 mm, 8 mm]}
colours: {leaf: \"#2c6650\"}
styles:
  key:
    text: {font: label, cap_height: 3 mm}
    box: {radius: 1 mm, fill: leaf}
labels:
  - {text: VENT, style: key, copies: 2}
  - text: [HEAT, BED 1]   # two lines
    style: key
  - name: dial
    parts:
      - ring: {outer: 20 mm, inner: 18 mm}
      - text: {text: \"20°\", at: [0, 4 mm]}
  - SPARE
";

fn read(text: &[u8]) -> (Option<Rc<Tree>>, Findings, Sources) {
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    let job = tree("job.yaml", text, form(), &mut sources, &mut findings);
    (job, findings, sources)
}

fn good(text: &str) -> Rc<Tree> {
    let (job, findings, _) = read(text.as_bytes());
    assert_eq!(findings.list(), [], "{text}");
    job.expect("a job")
}

/// Code, line and column of each finding.
fn slips(text: &str) -> Vec<(&'static str, usize, usize)> {
    let (_, findings, sources) = read(text.as_bytes());
    let at = |finding: &Finding| {
        let (_, line, column) = sources.position(finding.place.expect("a place")).expect("inside");
        (finding.code, line, column)
    };
    findings.list().iter().map(at).collect()
}

fn only(text: &str) -> Finding {
    let (_, findings, _) = read(text.as_bytes());
    assert_eq!(findings.list().len(), 1, "{text}: {:?}", findings.list());
    findings.list()[0].clone()
}

fn labels(job: &Tree) -> &[Rc<Tree>] {
    job.get("labels").expect("labels").items()
}

/// The words of a label, whether they were written short or in a map.
fn words(label: &Tree) -> Vec<String> {
    let words = label.get("text").and_then(|text| text.get("text")).expect("words");
    let words: OneOrList = keys_of(words).expect("a value or a list");
    words.items.into_iter().map(|item| item.text).collect()
}

fn scalar(map: &Tree, key: &str) -> String {
    map.scalar(key).expect("a value").text
}

#[test]
fn reads_a_good_job() {
    let job = good(GOOD);
    assert_eq!(scalar(&job, "title"), "Greenhouse controller");
    let margin = job.get("sheet").and_then(|sheet| sheet.get("margin")).expect("a margin");
    let margin: OneOrList = keys_of(margin).expect("a list");
    assert!(margin.listed);
    assert_eq!(margin.items[1].text, "8 mm");
    let labels = labels(&job);
    assert_eq!(labels.len(), 4);
    assert_eq!(words(&labels[1]), ["HEAT", "BED 1"]);
    assert_eq!(scalar(&labels[0], "copies"), "2");
    assert_eq!(labels[2].get("parts").expect("parts").items().len(), 2);
    assert_eq!(words(&labels[3]), ["SPARE"]);
}

#[test]
fn keeps_text_as_typed_whatever_yaml_could_take_it_for() {
    let traps =
        "ON OFF NO YES y n true 012 0o17 1:30 1e3 0x1F ~ null .inf .nan 1_000 2026-11-25 +1 -0";
    for trap in traps.split(' ') {
        for quote in ["", "\"", "'"] {
            let value = format!("{quote}{trap}{quote}");
            for job in [
                format!("title: {value}\nlabels:\n  - text: {value}\n  - text:\n    - {value}\n"),
                format!("{{title: {value}, labels: [{{text: {value}}}, {{text: [{value}]}}]}}"),
            ] {
                let job = good(&job);
                assert_eq!(scalar(&job, "title"), trap);
                assert!(labels(&job).iter().all(|label| words(label) == [trap]));
            }
        }
    }
}

#[test]
fn places_are_right_after_bom_crlf_and_other_letters() {
    for job in [
        "title: Größe °C\nlabels:\n  - {name: äöü, text: \"20 °C\"}\n".to_owned(),
        "\u{feff}title: Größe °C\r\nlabels:\r\n  - {name: äöü, text: \"20 °C\"}\r\n".to_owned(),
    ] {
        let (tree, findings, sources) = read(job.as_bytes());
        assert_eq!(findings.list(), []);
        let tree = tree.expect("a job");
        let place =
            labels(&tree)[0].get("text").and_then(|text| text.first_place()).expect("words");
        // Counted by hand: 5 + 1 columns of `  - {`, `name: äöü, text: ` are 17 more.
        assert_eq!(sources.position(place), Some(("job.yaml", 3, 23)));
        let stored = sources.file(0).expect("a file").1;
        assert_eq!(&stored[place.start as usize..place.end as usize], "\"20 °C\"");
    }
}

#[test]
fn tells_all_slips_at_once_and_reads_the_rest() {
    let job = "\
titel: Tram
sheet: [A4]
labels:
  - {text: DEPOT, cap_hieght: 3 mm, copies: [1]}
  - {text: {words: LOOP}, style: key}
  - parts: {ring: {outer: 3}}
";
    assert_eq!(
        slips(job),
        [
            ("unknown-key", 1, 1),
            ("wrong-kind", 2, 1),
            ("unknown-key", 4, 19),
            ("wrong-kind", 4, 37),
            ("unknown-key", 5, 13),
            ("wrong-kind", 6, 5),
        ]
    );
    let (tree, findings, _) = read(job.as_bytes());
    let tree = tree.expect("the rest");
    assert_eq!(words(&labels(&tree)[0]), ["DEPOT"]);
    assert_eq!(scalar(&labels(&tree)[1], "style"), "key");
    let list = findings.list();
    assert_eq!(list[0].message, "there is no `titel` here");
    assert_eq!(list[0].help, "did you mean title?");
    assert_eq!(list[1].message, "`sheet` is a list here; it needs a map");
    assert_eq!(list[3].message, "`copies` is a list here; it needs a single value");
    assert_eq!(list[5].message, "`parts` is a map here; it needs a list");
}

#[test]
fn lists_the_known_keys_when_none_is_near() {
    let finding = only("sheet: {zzz: 1}\nlabels: [RUN]\n");
    assert_eq!(finding.code, "unknown-key");
    assert!(finding.help.contains("film"), "{}", finding.help);
}

#[test]
fn tells_values_that_yaml_swallowed() {
    let finding = only("labels:\n  - text: #5\n");
    assert_eq!((finding.code, finding.help.as_str()), ("quote-it", "quote it: text: \"#5\""));
    let finding = only("labels:\n  - text: !WARN\n");
    assert_eq!((finding.code, finding.help.as_str()), ("quote-it", "quote it: \"!WARN\""));
    assert_eq!(only("labels:\n  - text: !WARN now\n").help, "quote it: \"!WARN now\"");
    assert_eq!(only("labels: [{text: !WARN, name: a}]\n").help, "quote it: \"!WARN\"");
    assert_eq!(only("labels:\n  - text:\n      - #5\n      - B\n").code, "quote-it");
    assert_eq!(only("labels: [{text: *5}]\n").code, "quote-it");
    assert_eq!(only("labels:\n  - text: &5\n").code, "quote-it");
    let finding = only("labels:\n  - text: {name}\n");
    assert_eq!(finding.help, "put the whole text in quotes: \"{name}\"");
    assert_eq!(slips("labels:\n  - #5\n  - B\n"), [("quote-it", 2, 3)]);
    assert_eq!(slips("title:\nlabels: [RUN]\n"), [("no-value", 1, 1)]);
    assert_eq!(slips("labels:\n  - RUN\n  -\n  - REST\n"), [("no-value", 3, 3)]);
}

#[test]
fn warns_of_text_cut_short_by_a_comment() {
    let finding = only("labels:\n  - text: DOCK #5\n");
    assert_eq!((finding.severity, finding.code), (Severity::Warning, "quote-it"));
    assert!(finding.help.contains("\"DOCK #5\""), "{}", finding.help);
    good("labels:\n  - text: DOCK # 5 of these\n  - text: \"DOCK #5\"\n  - text: DOCK#5\n");
}

#[test]
fn refuses_what_jobs_have_no_use_for() {
    assert_eq!(slips("title: a\ntitle: b\n"), [("twice", 2, 1)]);
    assert!(only("title: a\ntitle: b\n").message.ends_with("first on line 1"));
    assert_eq!(slips("labels: [RUN]\n---\nlabels: [REST]\n"), [("second-document", 2, 1)]);
    assert_eq!(slips("labels:\n  - &a {text: RUN}\n  - {<<: *a}\n"), [("merge-key", 3, 6)]);
    assert_eq!(slips("? [a, b]\n: c\n"), [("bad-key", 1, 3)]);
    assert_eq!(slips(""), [("empty-job", 1, 1)]);
    assert_eq!(slips("# nothing\n"), [("empty-job", 1, 1)]);
    assert_eq!(slips("%YAML 1.2\n---\ntitle: a\n"), [("bad-yaml", 1, 1)]);
    assert_eq!(slips("- a\n"), [("wrong-kind", 1, 1)]);
}

#[test]
fn tells_bytes_that_are_not_text() {
    let (job, findings, sources) = read(b"title: a\nlabels: [\xfcber]\n");
    assert!(job.is_none());
    let finding = &findings.list()[0];
    assert_eq!(finding.help, "save the file as UTF-8");
    assert_eq!(sources.position(finding.place.expect("a place")), Some(("job.yaml", 2, 10)));
    assert_eq!(
        slips("title: a\u{1b}b\nlabels: [\u{7f}]\n"),
        [("control-character", 1, 9), ("control-character", 2, 10)]
    );
    assert_eq!(slips("title: \"a\\eb\"\n"), [("control-character", 1, 8)]);
    assert_eq!(slips("sheet:\n\tfilm: clear\n \tpaper: A4\n"), [("tab", 2, 1), ("tab", 3, 2)]);
}

#[test]
fn says_syntax_errors_in_plain_words() {
    for (job, line, words) in [
        ("title: \"a\nlabels: [RUN]\n", 1, "not closed"),
        ("labels: [RUN, REST\n", 1, "not closed"),
        ("labels: [{text: RUN]\n", 1, "closed"),
        ("sheet: {film: clear paper: A4}\n", 1, "comma"),
        ("labels:\n  - {text: RUN, box: #ad2b24}\n  - REST\n", 3, "not closed"),
        ("title: a\n  labels: [RUN]\n", 2, "colon"),
        ("title: a: b\n", 1, "colon"),
        ("labels:\n  - RUN\n - REST\n", 3, "set in"),
        ("title: @home\n", 1, "quoted"),
        ("title: \"a\" b\n", 1, "after the closing quote"),
        ("title: \"\\q\"\n", 1, "backslash"),
    ] {
        let (tree, findings, sources) = read(job.as_bytes());
        assert!(tree.is_none(), "{job}");
        let finding = &findings.list()[0];
        let place = finding.place.and_then(|place| sources.position(place));
        assert_eq!((finding.code, place.map(|place| place.1)), ("bad-yaml", Some(line)), "{job}");
        assert!(finding.message.contains(words), "{job}: {}", finding.message);
    }
}

#[test]
fn aliases_repeat_what_they_name() {
    let job = good("labels:\n  - {text: &a RUN}\n  - &b {text: *a}\n  - *b\n");
    assert_eq!(words(&labels(&job)[1]), ["RUN"]);
    assert_eq!(words(&labels(&job)[2]), ["RUN"]);
    assert_eq!(only("labels: &a [*a]\n").code, "alias-in-itself");
}

#[test]
fn hostile_files_end_in_a_message_soon() {
    let mut bomb = "words: {a0: &a0 [x, x]}\n".to_owned();
    for level in 1..60 {
        let repeated = format!("*a{}", level - 1);
        bomb.push_str(&format!("w{level}: &a{level} [{}]\n", [repeated.as_str(); 9].join(", ")));
    }
    let large = vec![b'a'; 100 << 20];
    let wide = format!("labels: [{}]", "{},".repeat(1_300_000));
    let values = format!("labels: [{}]", "a,".repeat(2_000_000));
    for (job, code) in [
        (bomb.as_bytes(), "too-much"),
        ("[".repeat(10_000).as_bytes(), "too-deep"),
        ("{a: ".repeat(10_000).as_bytes(), "too-deep"),
        ("- ".repeat(10_000).as_bytes(), "too-deep"),
        (wide.as_bytes(), "too-much"),
        (values.as_bytes(), "too-much"),
        (&large, "file-too-large"),
    ] {
        let begun = Instant::now();
        let (tree, findings, _) = read(job);
        assert!(tree.is_none());
        assert_eq!(findings.list().last().expect("a finding").code, code);
        // The issue asks for 2 s in an optimised build; an unoptimised one is some ten times slower.
        assert!(begun.elapsed() < Duration::from_secs(20), "{code}: {:?}", begun.elapsed());
    }
}

#[test]
fn never_panics_on_a_torn_or_twisted_job() {
    for end in 0..GOOD.len() {
        read(&GOOD.as_bytes()[..end]);
        for byte in *b"\0\t\n -:#{}[]&*!|>'\"%@`,?<\xff" {
            let mut twisted = GOOD.as_bytes().to_vec();
            twisted[end] = byte;
            read(&twisted);
        }
    }
}
