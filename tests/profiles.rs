//! A printer measured and corrected: from a page's picture to the answers, the profile, and the corrected sheet.
//!
//! Printers of our own: a page is rendered with other scales across and down, and measured as with a ruler.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a page that is not as expected fails the test"
)]
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "dots of small pages")]

use crate::jobs::{brief, run};
use crate::rendered::{Picture, pdf_picture_at};
use decalwright::files::Error;
use decalwright::finding::{Findings, Severity};
use decalwright::job::{self, Laid, Previews};
use decalwright::testprint::{self, Setting, TestPage};
use decalwright::{Paper, Profile};
use std::process::Command;

/// Dots to a millimetre at 300 dpi. Lengths are measured by coverage, far finer than a dot.
const DOTS: f64 = 300.0 / 25.4;

/// What the first page of a PDF looks like from a printer with these scales.
fn printed(bytes: Vec<u8>, (across, down): (f64, f64)) -> Picture {
    pdf_picture_at(bytes, [across, down].map(|scale| 300.0 * scale))
}

/// How much of a dot is inked, 0 to 1.
fn ink(dot: &u8) -> f64 {
    f64::from(255 - dot) / 255.0
}

/// From the outer edge of the first ink to that of the last along a row of dots, mm, by coverage.
fn span(dots: &[f64]) -> f64 {
    let inked = |ink: &f64| *ink > 0.1;
    let (first, last) =
        (dots.iter().position(inked).unwrap(), dots.iter().rposition(inked).unwrap());
    let whole = last as f64 + 1.0 - first as f64;
    (whole - (1.0 - dots[first]) - (1.0 - dots[last])) / DOTS
}

/// Part of a row and of a column of a picture, mm.
fn row(picture: &Picture, y: f64, (from, to): (f64, f64)) -> Vec<f64> {
    let row = &picture.rows[(y * DOTS) as usize];
    row[(from * DOTS) as usize..(to * DOTS) as usize].iter().map(ink).collect()
}

fn column(picture: &Picture, x: f64, (from, to): (f64, f64)) -> Vec<f64> {
    let rows = &picture.rows[(from * DOTS) as usize..(to * DOTS) as usize];
    rows.iter().map(|row| ink(&row[(x * DOTS) as usize])).collect()
}

fn answers(text: &str) -> (Profile, Findings) {
    let mut nothing = |name: &str| Err(Error::Outside(name.into()));
    let read = job::profile("answers.yaml", text.as_bytes(), &mut nothing);
    (read.found.unwrap(), read.findings)
}

fn pdf(laid: &Laid) -> Vec<u8> {
    let files = job::files(laid, "t", Previews::Skipped).all().unwrap();
    files.into_iter().find(|(name, _)| name == "t-clear.pdf").unwrap().1
}

/// The scale page on A4, corrected when a profile is tried.
fn scale_page(profile: Option<&Profile>) -> Vec<u8> {
    let paper = Paper::named("A4").unwrap();
    let setting = Setting { paper: &paper, profile };
    let drawn = testprint::draw(&TestPage::Scale, &setting).unwrap();
    testprint::files(&drawn, &setting).unwrap().remove(0).1
}

/// What a person with a ruler reads off a printed scale page: bars and square, each across and down.
fn measured(picture: &Picture) -> [f64; 4] {
    // The square's middle is the middle of the picture; A4 is 210 x 297 mm (ISO 216).
    let (rows, columns) = (picture.rows.len(), picture.rows[0].len());
    let (x, y) = (columns as f64 / DOTS / 2.0, rows as f64 / DOTS / 2.0);
    // The bars lie 38 mm below and 54 mm right of it; the ruler is laid to the row with most ink.
    let darkest = |lines: Vec<Vec<f64>>| {
        let ink = |line: &Vec<f64>| line.iter().sum::<f64>();
        lines.into_iter().max_by(|a, b| ink(a).total_cmp(&ink(b))).unwrap()
    };
    let near = |at: f64| (-100..100).map(move |step| at + f64::from(step) / 25.0);
    let across = near(y + 38.0).map(|y| row(picture, y, (x - 55.0, x + 52.2))).collect();
    let down = near(x + 54.0).map(|x| column(picture, x, (y - 54.0, y + 54.0))).collect();
    [
        span(&darkest(across)),
        span(&darkest(down)),
        span(&row(picture, y - 10.0, (x - 30.0, x + 30.0))),
        span(&column(picture, x - 10.0, (y - 30.0, y + 30.0))),
    ]
}

#[test]
fn factors_come_from_what_was_measured() {
    // Case by case: 100 / 97.3, 100 / 99.1; 100 / 100.4, 100 / 99.8; 50 of 50 (school arithmetic).
    let (profile, findings) = answers("bars: [97.3, 99.1]");
    assert_eq!(findings.list(), []);
    let found = profile.correction().unwrap();
    assert!((found.across - 1.02775).abs() < 0.00005 && (found.down - 1.00908).abs() < 0.00005);
    // The pitch of 80 mm in the file, and on paper with and without the correction.
    assert!((80.0 * found.across - 82.220).abs() < 0.005);
    assert!((80.0 * found.across * 0.973 - 80.0).abs() < 0.001);
    assert!((80.0 - 80.0 * profile.measured.scale().unwrap().0 - 2.16).abs() < 0.001);
    let found = answers("bars: [100.4, 99.8]").0.correction().unwrap();
    assert!((found.across - 0.99602).abs() < 0.00005, "{}", found.across);
    assert_eq!(answers("square: [50.0, 50.0]").0.correction(), None);
    // Bounds are part of what is accepted: 97 and 103 %.
    for (bars, accepted) in [
        ("97.0, 103.0", true),
        ("96.9, 100.0", false),
        ("100.0, 103.1", false),
        ("91.0, 91.0", false),
    ] {
        assert_eq!(!answers(&format!("bars: [{bars}]")).1.any_error(), accepted, "{bars}");
    }
}

#[test]
fn a_page_fitted_to_another_paper_is_known_by_its_picture() {
    // 279.4 / 297 = 0.94074; a square of 50 mm becomes 47.037 (Letter is 8.5 x 11 in, A4 ISO 216).
    let fitted = 279.4 / 297.0;
    let [across, down, side, height] = measured(&printed(scale_page(None), (fitted, fitted)));
    assert!((side - 47.037).abs() < 0.03 && (height - 47.037).abs() < 0.03, "{side} {height}");
    assert!((across - 94.074).abs() < 0.05 && (down - 94.074).abs() < 0.05, "{across} {down}");
    for read_off in [format!("bars: [{across:.1}, {down:.1}]"), "square: [47.0, 47.0]".to_owned()] {
        let (profile, findings) = answers(&format!("paper: A4\n{read_off}\n"));
        let [one] = findings.list() else { panic!("{:#?}", findings.list()) };
        assert_eq!((one.code, one.severity), ("scale-refused", Severity::Error));
        assert!(one.message.contains("an A4 page fitted to Letter paper"), "{}", one.message);
        assert!(one.message.contains("94.07 %"), "{}", one.message);
        assert_eq!(profile.correction(), None);
    }
}

#[test]
fn a_second_measuring_reads_100_and_50() {
    // A printer 2.7 % short across and 0.9 % short down, measured, corrected, and measured again.
    let printer = (0.973, 0.991);
    let [across, down, side, height] = measured(&printed(scale_page(None), printer));
    assert!((across - 97.3).abs() < 0.05 && (down - 99.1).abs() < 0.05, "{across} {down}");
    assert!((side - 48.65).abs() < 0.05 && (height - 49.55).abs() < 0.05, "{side} {height}");
    let (profile, _) = answers(&format!("bars: [{across:.1}, {down:.1}]"));
    let [across, down, side, height] = measured(&printed(scale_page(Some(&profile)), printer));
    assert!((across - 100.0).abs() < 0.05 && (down - 100.0).abs() < 0.05, "{across} {down}");
    assert!((side - 50.0).abs() < 0.05 && (height - 50.0).abs() < 0.05, "{side} {height}");
}

/// Width and height of the ink round a spot, mm.
fn ink_round(picture: &Picture, (x, y): (f64, f64)) -> (f64, f64) {
    (span(&row(picture, y, (x - 6.0, x + 6.0))), span(&column(picture, x, (y - 6.0, y + 6.0))))
}

/// Where the middles of the two discs of the plate are in a picture, mm.
fn discs(laid: &Laid, corrected: kurbo::Affine, printer: (f64, f64)) -> [(f64, f64); 2] {
    let there = corrected * laid.sheets[0].placements[0].transform();
    [-40.0, 40.0].map(|x| {
        let at = there * kurbo::Point::new(x, 0.0);
        (at.x * printer.0, at.y * printer.1)
    })
}

#[test]
fn a_corrected_sheet_comes_out_true_upright_and_turned() {
    let printer = (0.973, 0.991);
    let tall = brief("plate.yaml")
        .replace("paper: A4, margin: 10 mm", "paper: [84 mm, 150 mm], margin: 5 mm");
    for (job, turns) in [(brief("plate.yaml"), 0), (tall, 1)] {
        let outcome = run(&job);
        assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
        let laid = outcome.laid.unwrap();
        assert_eq!(laid.sheets[0].placements[0].quarter_turns % 2, turns);
        let paper = laid.sheets[0].paper.size;
        let corrected = laid.spec.printer.profile.as_ref().unwrap().on_page(paper);
        let bytes = pdf(&laid);
        let on_paper = printed(bytes.clone(), printer);
        let in_file = printed(bytes, (1.0, 1.0));
        for spot in discs(&laid, corrected, printer) {
            // Circles of 8 mm on paper.
            let (width, height) = ink_round(&on_paper, spot);
            assert!((width - 8.0).abs() < 0.03 && (height - 8.0).abs() < 0.03, "{width} {height}");
        }
        let [one, two] = discs(&laid, corrected, (1.0, 1.0));
        for spot in [one, two] {
            // Ellipses in the file: 8 x 100 / 97.3 = 8.222 across, 8 x 100 / 99.1 = 8.073 down.
            let (width, height) = ink_round(&in_file, spot);
            assert!(
                (width - 8.222).abs() < 0.03 && (height - 8.073).abs() < 0.03,
                "{width} {height}"
            );
        }
        // The pitch of 80 mm in the file: 82.220 along x, 80.727 along y.
        let pitch = (two.0 - one.0).abs().max((two.1 - one.1).abs());
        let wanted = if turns == 0 { 82.220 } else { 80.727 };
        assert!((pitch - wanted).abs() < 0.005, "{pitch}");
    }
}

#[test]
fn a_corrected_sheet_says_so_and_only_its_pdf_is() {
    let outcome = run(&brief("plate.yaml"));
    assert_eq!(outcome.findings.list(), []);
    let laid = outcome.laid.unwrap();
    let said: Vec<&str> = laid.sheets[0].words.iter().map(|words| words.text.as_str()).collect();
    let words = "corrected x 1.02775, y 1.00908 for Lodge laser, A4, 14 March";
    assert!(said.iter().any(|line| line.contains(words)), "{said:?}");
    assert!(said.iter().any(|line| line.contains("100 %, no scaling")), "{said:?}");
    let plain =
        run(&brief("plate.yaml").replace("profile: lodge-laser-a4.yaml", "class: laser-600"));
    let plain = plain.laid.unwrap();
    let files = |laid: &Laid| job::files(laid, "t", Previews::Skipped).all().unwrap();
    let (corrected, true_size) = (files(&laid), files(&plain));
    for (name, bytes) in corrected.iter().filter(|(name, _)| name.ends_with(".pdf")) {
        let text = String::from_utf8_lossy(bytes);
        // ISO 32000-1 12.2, table 150.
        assert!(text.contains("/PrintScaling/None"), "{name}");
    }
    let get = |files: &[(String, Vec<u8>)], name: &str| {
        String::from_utf8_lossy(&files.iter().find(|(known, _)| known == name).unwrap().1)
            .into_owned()
    };
    assert!(get(&corrected, "t-clear.pdf").contains("14 March"));
    // The label is the same in both SVGs: true to size, for cutting.
    let label = |files: &[(String, Vec<u8>)]| {
        let svg = get(files, "t-clear-1.svg");
        let paths = svg.lines().filter(|line| line.contains(" d=\"")).map(str::to_owned);
        paths.take(2).collect::<Vec<_>>()
    };
    assert_eq!(label(&corrected), label(&true_size));
    let layout: serde_json::Value =
        serde_json::from_str(&get(&corrected, "t.layout.json")).unwrap();
    assert_eq!(layout["correction"]["x"], 1.027_749);
    assert_eq!(layout["correction"]["date"], "14 March");
    let layout: serde_json::Value =
        serde_json::from_str(&get(&true_size, "t.layout.json")).unwrap();
    assert_eq!(layout["correction"], serde_json::Value::Null);
}

#[test]
fn parts_of_a_split_sign_fit_on_a_sheet_that_is_stretched() {
    // A4 is 210 x 297 mm (ISO 216): 190 mm inside margins of 10 mm, of which a printer that prints 97.3 mm for 100
    // takes 190 x 0.973 = 184.87 mm, from 105 - 92.435 = 12.565 to 197.435 mm. A sign of 188 mm fits only the first.
    let outcome = run(
        "title: Mole sign\nsheet: {film: clear, paper: A4, margin: 10 mm, turn: no, guides: no}\n\
         printer: {profile: lodge-laser-a4.yaml}\nlabels:\n  - name: sign\n    size: [188 mm, 40 mm]\n    \
         film_border: 1 mm\n    split: words\n    parts:\n      - text: {text: NORTH MOLE, cap_height: 12 mm}\n",
    );
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let laid = outcome.laid.unwrap();
    let names: Vec<&str> = laid.designs.iter().map(|design| design.name.as_str()).collect();
    assert_eq!(names, ["sign-part-1", "sign-part-2"]);
    for placement in &laid.sheets[0].placements {
        let part = placement.footprint(&laid.designs[placement.design]);
        assert!(part.x0 > 12.565 - 1e-5 && part.x1 < 197.435 + 1e-5, "{part:?}");
    }
}

#[test]
fn another_paper_narrow_margins_and_silent_sheets_are_warned_of() {
    let codes = |job: &str| -> Vec<&'static str> {
        run(job).findings.list().iter().map(|one| one.code).collect()
    };
    let job = brief("plate.yaml");
    assert_eq!(codes(&job.replace("paper: A4", "paper: A3")), ["other-paper"]);
    assert_eq!(codes(&job.replace("margin: 10 mm", "guides: no")), ["correction-unsaid"]);
    assert_eq!(codes(&job.replace("paper: A4", "paper: A4 landscape")), Vec::<&str>::new());
}

#[test]
fn the_program_writes_pages_answers_and_a_profile() {
    let folder = tempfile::tempdir().unwrap();
    let run = |arguments: &[&str]| {
        let program = env!("CARGO_BIN_EXE_decalwright");
        Command::new(program).args(arguments).current_dir(folder.path()).output().unwrap()
    };
    let page = run(&["test-print", "scale", "--paper", "A5"]);
    assert!(page.status.success(), "{}", String::from_utf8_lossy(&page.stderr));
    let answers = folder.path().join("test-print/answers.yaml");
    let filled = std::fs::read_to_string(&answers)
        .unwrap()
        .replace("# bars: [100.0, 100.0]", "bars: [97.3, 99.1]");
    std::fs::write(&answers, &filled).unwrap();
    // A second page leaves answers that are being filled in alone.
    assert!(run(&["test-print", "lines", "--paper", "A5"]).status.success());
    assert_eq!(std::fs::read_to_string(&answers).unwrap(), filled);
    let made = run(&["printer", "Lodge laser", "--from", "test-print/answers.yaml"]);
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    let profile = std::fs::read_to_string(folder.path().join("lodge-laser-a5.yaml")).unwrap();
    assert!(profile.contains("bars: [97.3, 99.1]") && profile.contains("x times 1.02775"));
    assert!(String::from_utf8_lossy(&made.stdout).contains("corrected x 1.02775, y 1.00908"));
    std::fs::write(&answers, filled.replace("97.3, 99.1", "94.1, 94.1")).unwrap();
    let refused = run(&["printer", "Lodge laser", "--from", "test-print/answers.yaml"]);
    assert_eq!(refused.status.code(), Some(1));
    let told = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(
        told.contains("answers.yaml:9:") && told.contains("fitted inside margins of 4.4 mm"),
        "{told}"
    );
    assert_eq!(run(&["test-print", "scale", "--paper", "A6"]).status.code(), Some(2));
    assert_eq!(run(&["test-print", "colour", "beacon"]).status.code(), Some(2));
}
