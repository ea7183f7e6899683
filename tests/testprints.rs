//! Test prints, the answers read off them, and the profiles made of those.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a page or a profile that is not as expected fails the test"
)]

use decalwright::files::Error;
use decalwright::testprint::{Setting, TestPage, draw, file_name, files, profile_file, template};
use decalwright::{Colour, Design, Page, Paper, Profile, job};
use kurbo::Rect;

fn kinds() -> Vec<TestPage> {
    vec![
        TestPage::Scale,
        TestPage::Lines,
        TestPage::Type(vec!["label".into(), "engraved".into(), "wide".into()]),
        TestPage::Colour { name: "beacon".into(), wanted: Colour::parse("#ad2b24").unwrap() },
        TestPage::Inks,
    ]
}

fn setting(paper: &Paper) -> Setting<'_> {
    Setting { paper, profile: None }
}

fn read(text: &str) -> Profile {
    let mut fetch = |name: &str| Err(Error::Outside(name.into()));
    let read = job::profile("p.yaml", text.as_bytes(), &mut fetch);
    assert_eq!(read.findings.list(), [], "{text}");
    read.found.unwrap()
}

/// Bounds of every letter and mark of a page.
fn bounds(page: &Page<'_>, drawings: &[Design]) -> Vec<Rect> {
    let placed = page.placed.iter().flat_map(|placed| {
        let marks = drawings[placed.design].marks.iter();
        marks.map(|mark| placed.transform.transform_rect_bbox(mark.path.bounds()))
    });
    placed.chain(page.marks.iter().map(|mark| mark.path.bounds())).collect()
}

/// Words of more than a letter that run across a page, and where they stand.
fn words(page: &Page<'_>, drawings: &[Design]) -> Vec<(String, Rect)> {
    let own = page.words.iter().map(|one| (one, one.area));
    let placed = page.placed.iter().flat_map(|placed| {
        let words = drawings[placed.design].words.iter();
        words.map(|one| (one, placed.transform.transform_rect_bbox(one.area)))
    });
    let all = own.chain(placed).filter(|(one, _)| one.turned_deg == 0.0 && one.text.len() > 1);
    all.map(|(one, area)| (one.text.clone(), area)).collect()
}

#[test]
fn everything_lies_on_the_paper_and_words_do_not_touch() {
    let tried = read(
        "printer: Lodge laser on the quay\ndate: 14 March 1987\nbars: [97.3, 99.1]\nmiddle: [105.3, 148]\n",
    );
    for (name, profile) in [
        ("A5", None),
        ("A5", Some(&tried)),
        ("A4", Some(&tried)),
        ("Letter", None),
        ("A3", None),
        ("A4 landscape", None),
    ] {
        let paper = Paper::named(name).unwrap();
        for kind in kinds() {
            let setting = Setting { paper: &paper, profile };
            let print = draw(&kind, &setting).unwrap();
            for page in &print.pages {
                let on = page.size.to_rect();
                for rect in bounds(page, &print.drawings) {
                    assert_eq!(on.union(rect), on, "{name} {kind:?}");
                }
                let words = words(page, &print.drawings);
                assert!(words.len() > 2, "{name} {kind:?}");
                for (at, one) in words.iter().enumerate() {
                    for other in &words[at + 1..] {
                        let common = one.1.intersect(other.1);
                        let touch = common.width() > 0.01 && common.height() > 0.01;
                        assert!(!touch, "{name} {kind:?}: {} / {}", one.0, other.0);
                    }
                }
            }
        }
    }
}

#[test]
fn small_paper_and_unknown_faces_are_refused() {
    let small = Paper::named("A6").unwrap();
    assert!(draw(&TestPage::Scale, &setting(&small)).is_err());
    let lying = Paper::named("A5 landscape").unwrap();
    assert!(draw(&TestPage::Lines, &setting(&lying)).is_err());
    let paper = Paper::named("A4").unwrap();
    let unknown = draw(&TestPage::Type(vec!["lable".into()]), &setting(&paper));
    assert!(unknown.unwrap_err().to_string().contains("lable"));
}

#[test]
fn the_same_print_has_the_same_bytes() {
    let paper = Paper::named("A5").unwrap();
    let make = || {
        let setting = setting(&paper);
        files(&draw(&TestPage::Lines, &setting).unwrap(), &setting).unwrap()
    };
    let made = make();
    assert_eq!(made, make());
    let names: Vec<&str> = made.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["lines.pdf", "lines.png", "lines.svg"]);
}

#[test]
fn a_profile_written_reads_back_the_same() {
    let profile = read(
        "printer: 'Lodge \"laser\" \\ 2'\npaper: A5 landscape\ndate: 14 March\nclass: laser-600\nbars: [97.3, 99.1]\n\
         diagonals: [69.5, 69.4]\nmiddle: [105.4, 74.2]\nmargins: [4, 3, 6, 3.5]\nthinnest_ink: 0.1\n\
         smallest_cap_reversed: 1.6\nopacity: 8 %\ncolours:\n  beacon: {shown: \"#ad2b24\", print: C2}\n",
    );
    assert_eq!(file_name(&profile), "lodge-laser-2-a5-landscape.yaml");
    let text = profile_file(&profile, "tried twice.yaml");
    assert!(text.contains("printer: {profile: \"tried twice.yaml\"}"), "{text}");
    let again = read(&text);
    assert_eq!(Profile { place: profile.place, ..again }, profile, "{text}");
    assert!(text.contains("x times 1.02775, y times 1.00908"), "{text}");
    let own = read("paper: [200, 220]\nsquare: [50, 50]\n");
    assert_eq!(Profile { place: own.place, ..read(&profile_file(&own, "own.yaml")) }, own);
    assert!(profile_file(&own, "own.yaml").contains("No correction is needed"));
}

#[test]
fn the_template_reads_as_it_stands_and_with_every_line_filled_in() {
    let paper = Paper::named("A4").unwrap();
    let text = template(&paper);
    assert_eq!(read(&text).correction(), None);
    let key =
        |line: &str| line.trim_start_matches("# ").starts_with(|c: char| c.is_ascii_lowercase());
    let filled: Vec<String> = text
        .lines()
        .filter(|line| key(line) && (line.contains(": ") || line.ends_with(':')))
        .map(|line| match line.strip_prefix("# ") {
            Some(rest) => rest.to_owned(),
            None => line.replacen("#   ", "  ", 1),
        })
        .collect();
    let filled = filled.join("\n") + "\n  beacon: {shown: \"#ad2b24\", print: D2}\n";
    let profile = read(&filled);
    assert_eq!((profile.opacity, profile.picked.len()), (Some(0.08), 1));
    assert_eq!(profile.correction(), None);
}
