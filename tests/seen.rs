//! How labels look on the part, how far off they are read, and the white under them.

#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "dots of small pages")]
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a job that does not come out as its brief says fails the test"
)]

use crate::jobs::{brief, named, run};
use crate::rendered::{DOTS, pdf_picture};
use decalwright::finding::{Finding, Severity};
use decalwright::job::{Laid, Outcome, Previews, files};
use decalwright::{Colour, Plate, WhiteOrder};
use kurbo::{Affine, Rect};

fn told<'a>(outcome: &'a Outcome, code: &str) -> Vec<&'a Finding> {
    outcome.findings.list().iter().filter(|finding| finding.code == code).collect()
}

fn sound(job: &str) -> Laid {
    let outcome = run(job);
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    outcome.laid.unwrap()
}

fn colour(text: &str) -> Colour {
    Colour::parse(text).unwrap()
}

#[test]
fn a_console_read_at_arms_length_has_notes_for_its_small_legends_only() {
    let job = brief("console.yaml").replace("surfaces:", "viewed_from: 700 mm\nsurfaces:");
    let outcome = run(&job);
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    // 2 x 700 mm x tan(20' / 2) = 4.072 mm, tan(16' / 2): 3.258 mm (ISO 9241-303, NUREG-0700 11.4.1.5).
    let read = told(&outcome, "hard-to-read");
    assert!(!read.is_empty() && read.iter().all(|one| one.severity == Severity::Note));
    assert!(read.iter().all(|one| one.message.contains("3.30 mm") && one.help.contains("4.07")));
    let names = outcome.findings.list().iter().filter(|one| {
        one.label.as_ref().is_some_and(|label| label.starts_with("name-"))
            && ["hard-to-read", "tight-words", "low-contrast"].contains(&one.code)
    });
    assert_eq!(
        names.collect::<Vec<_>>(),
        Vec::<&Finding>::new(),
        "names of 4.2 mm pass without a word"
    );
    // (1 + 0.05) / (0.0341 + 0.05) = 12.49 (WCAG 2.2).
    assert!((Colour::WHITE.contrast(colour("#24382E")) - 12.49).abs() < 0.05);
    assert!(told(&outcome, "low-contrast").is_empty());
}

#[test]
fn the_same_console_on_clear_film_is_refused() {
    let outcome = run(&brief("console.yaml").replace("film: white", "film: clear"));
    // Without white ink both say it: white prints as nothing, and the dark paint shows through dark ink.
    let white = told(&outcome, "white-on-clear");
    assert!(!white.is_empty() && white.iter().all(|one| one.severity == Severity::Error));
    let faint = told(&outcome, "low-contrast");
    assert!(faint.iter().any(|one| one.severity == Severity::Error), "{faint:#?}");
    assert!(faint[0].help.contains("white film gives 12.5:1"), "{}", faint[0].help);
    assert!(outcome.findings.any_error());
}

#[test]
fn a_sign_is_judged_by_its_own_rule_and_told_what_reads_with_ease() {
    let sign = |viewed: &str| {
        run(&format!(
            "sheet: {{film: white, paper: A3 landscape, spares: 0}}\nviewed_from: {viewed}\nlabels: [{{name: sign, text: {{text: HARBOUR, cap_height: 27 mm}}, bleed: 0}}]\n"
        ))
    };
    // ANSI Z535.2: a three-hundredth of 8 m is 26.667 mm; 20 arc minutes are 46.542 mm.
    let passed = sign("{distance: 8 m, as: sign}");
    let [note] = told(&passed, "hard-to-read")[..] else { panic!("{:#?}", passed.findings) };
    assert_eq!(note.severity, Severity::Note);
    assert!(note.message.contains("26.67") && note.help.contains("46.54"), "{note:?}");
    let refused = sign("8 m");
    assert_eq!(told(&refused, "hard-to-read")[0].severity, Severity::Error);
    let poor = sign("{distance: 4 m, as: poor-light}");
    // 24 arc minutes at 4 m: 27.93 mm.
    assert!(told(&poor, "hard-to-read")[0].message.contains("27.93"));
}

#[test]
fn dark_ink_on_a_light_lid_stands_out_and_is_known_to() {
    let job = brief("greenhouse.yaml").replace("surfaces:", "viewed_from: 500 mm\nsurfaces:");
    let outcome = run(&job);
    // (0.6996 + 0.05) / (0.0052 + 0.05) = 13.6: WCAG 2.2, #101010 against #D9DBD6.
    let contrast = colour("#101010").contrast(colour("#D9DBD6"));
    assert!((contrast - 13.65).abs() < 0.1, "{contrast}");
    assert!(
        told(&outcome, "low-contrast").is_empty() && told(&outcome, "surface-unknown").is_empty()
    );
    // 2 x 500 mm x tan(20' / 2) = 2.909 mm: capitals of 3 mm read with ease.
    assert!(told(&outcome, "hard-to-read").is_empty());
}

#[test]
fn ink_that_vanishes_on_the_paint_is_told_with_cures_that_hold() {
    let job = |label: &str, hull: &str| {
        format!(
            "printer: {{class: laser-600, opacity: 0, white_opacity: 1}}\nsheet: {{spares: 0}}\nsurfaces: {{hull: '{hull}'}}\nlabels: [{{text: {{text: HELM, paint: '#c21a34', cap_height: 5 mm}}, on: hull{label}}}]\n"
        )
    };
    let outcome = run(&job("", "#6e767c"));
    let [faint] = told(&outcome, "low-contrast")[..] else { panic!("{:#?}", outcome.findings) };
    // By hand (IEC 61966-2-1): ink 0.5395, 0.0103, 0.0343 times ground 0.1559, 0.1812, 0.2016 is 0.0841, 0.0019,
    // 0.0069, #520614, and (0.1773 + 0.05) / (0.0197 + 0.05) = 3.26. On white (1 + 0.05) / (0.1246 + 0.05) = 6.02.
    assert!(faint.message.contains("contrast 3.3:1"), "{}", faint.message);
    assert_eq!(faint.severity, Severity::Warning);
    let base = faint.help.split("a lighter base, ").nth(1).unwrap();
    let cured = run(&job("", base.get(..7).unwrap()));
    assert!(told(&cured, "low-contrast").is_empty(), "{}", faint.help);
    let film = run(&job(", film: white", "#6e767c"));
    assert!(told(&film, "low-contrast").is_empty());
    assert!(faint.help.contains("white film gives 6.0:1"), "{}", faint.help);
    // The shift is the CIEDE2000 difference of the ink from itself as seen, told once.
    assert_eq!(told(&outcome, "colour-shift").len(), 1);
    assert_eq!(told(&film, "colour-shift").len(), 0);
}

#[test]
fn a_line_or_an_area_nobody_would_see_is_told() {
    let outcome = run(
        "printer: {class: laser-600, opacity: 0}\nsurfaces: {hull: '#24382E'}\nlabels:\n  - {name: stripe, on: hull, parts: [{line: {length: 30 mm, width: 2 mm, paint: '#1b2b24'}}]}\n  - {name: plate, on: hull, film: white, bleed: 1 mm, text: {text: HELM, paint: white}, box: {fill: '#24382E', padding: 1 mm}}\n",
    );
    let faint = told(&outcome, "low-contrast");
    let labels: Vec<_> = faint.iter().map(|one| one.label.as_deref().unwrap()).collect();
    // The plate's ground is meant to vanish into the paint: its words stand out from it.
    assert_eq!(labels, ["stripe"], "{faint:#?}");
}

#[test]
fn boat_markings_come_in_hands_and_keep_their_numbers() {
    let laid = sound(&brief("boat.yaml"));
    let design = |name: &str| named(&laid.designs, name);
    // 900, 250, 180 and 100 mm at 1:48.
    for (name, cap) in
        [("number-right", 18.75), ("stern", 5.208), ("port", 3.75), ("draught", 2.083)]
    {
        assert!((design(name).words[0].cap_height_mm - cap).abs() < 0.005, "{name}");
    }
    // The slope turns round, the reading does not: P left of 27 on both sides.
    let slopes = ["number-right", "number-left"].map(|name| design(name).words[0].turned_deg);
    assert!((slopes[0] - 8.0).abs() < 1e-9 && (slopes[1] + 8.0).abs() < 1e-9, "{slopes:?}");
    assert!(
        ["number-right", "number-left"].iter().all(|name| design(name).words[0].text == "P 27")
    );
    let flipped = design("chevron-right").marks.iter().map(|mark| mark.path.placed(Affine::FLIP_X));
    for (one, other) in flipped.zip(&design("chevron-left").marks) {
        assert!(one.minus(&other.path).area() + other.path.minus(&one).area() < 0.01);
    }
    // Seven figures from 24 down to 12 by twos, 200 / 48 = 4.167 mm apart, on one piece.
    let draught = design("draught");
    let figures: Vec<&str> = draught.words.iter().map(|words| words.text.as_str()).collect();
    assert_eq!(figures, ["24", "22", "20", "18", "16", "14", "12"]);
    for pair in draught.words.windows(2) {
        assert!((pair[1].area.y1 - pair[0].area.y1 - 200.0 / 48.0).abs() < 0.001);
    }
    let pieces = laid.sheets.iter().flat_map(|sheet| &sheet.placements);
    let columns = pieces.filter(|one| laid.designs[one.design].name == "draught").count();
    assert_eq!(columns, 4);
    // (1 + 0.05) / (0.1074 + 0.05) = 6.67: the formula of WCAG 2.2, worked in a few lines of Python.
    assert!((Colour::WHITE.contrast(colour("#AD2B24")) - 6.67).abs() < 0.005);
}

#[test]
fn the_name_round_the_stern_follows_its_arc() {
    // Sag of a chord of 60 mm in a radius of 400 mm: r - sqrt(r² - 30²) = 1.127 mm (school geometry).
    let laid = sound(
        "scale: 1:48\nsheet: {film: white}\nlabels: [{name: stern, film_border: 1 mm, parts: [{text: {text: IIIIIIIIIIIII, spread: 60 mm, cap_height: 5.208 mm, arc: {radius: 400 mm}}}]}]\n",
    );
    let bounds: Vec<Rect> = laid.designs[0].marks[0]
        .path
        .contours()
        .map(|contour| kurbo::Shape::bounding_box(&contour))
        .collect();
    let middle = bounds.iter().map(|one| one.y1).fold(f64::INFINITY, f64::min);
    let ends = bounds.iter().map(|one| one.y1).fold(f64::NEG_INFINITY, f64::max);
    let wide = bounds.iter().map(|one| one.x1).fold(0.0, f64::max) * 2.0;
    let sag = 400.0 - (400.0_f64 * 400.0 - wide * wide / 4.0).sqrt();
    assert!((ends - middle - sag).abs() < 0.06, "{} against {sag}", ends - middle);
}

const WHITE: &str = "printer: {class: laser-600, white_passes: 2}\nsheet: {film: clear, paper: A6, spares: 0}\ncolours: {brass: '#d8a928'}\nsurfaces: {hull: '#1d2b3a'}\n";

#[test]
fn white_lies_under_the_ink_and_inside_its_edge() {
    // The union of a box of 20 x 8 and a disc of 6 beside it, choked by 0.2: 19.6 x 7.6 + pi 2.8² = 173.590.
    let label = |white: &str| {
        format!(
            "{WHITE}labels: [{{name: a, on: hull, white: {white}, parts: [{{box: {{size: [20 mm, 8 mm], fill: brass}}}}, {{disc: {{diameter: 6 mm, at: [20 mm, 0], paint: '#e8e0c0'}}}}]}}]\n"
        )
    };
    let area = |white: &str| {
        let laid = sound(&label(white));
        laid.designs[0].white.as_ref().unwrap().path.area()
    };
    assert!((area("{as: under, choke: 0.2 mm}") - 173.590).abs() < 0.02);
    // Of brass alone the box is left; without a choke of its own it is 0.30 mm in two passes (common practice).
    assert!((area("{of: [brass], choke: 0.2 mm}") - 19.6 * 7.6).abs() < 0.01);
    assert!((area("{of: brass}") - 19.4 * 7.4).abs() < 0.01);
    // White that has no ink over it keeps its size.
    let laid = sound(&format!(
        "{WHITE}labels: [{{name: a, on: hull, white: under, parts: [{{disc: {{diameter: 6 mm, paint: white}}}}]}}]\n"
    ));
    let white = laid.designs[0].white.as_ref().unwrap();
    assert!((white.path.area() - 9.0 * std::f64::consts::PI).abs() < 0.01);
    assert!(laid.designs[0].marks.is_empty(), "white is no ink");
}

#[test]
fn white_is_printed_under_what_is_seen_from_above_and_over_what_is_seen_through_the_film() {
    let laid = sound(&format!(
        "{WHITE}labels:\n  - {{name: up, on: hull, white: under, text: {{text: BAY 3, paint: brass, cap_height: 8 mm, font: label-reversed}}}}\n  - {{name: down, on: hull, white: under, applied: face-down, text: {{text: BAY 3, paint: brass, cap_height: 8 mm, font: label-reversed}}}}\n"
    ));
    let orders: Vec<_> =
        laid.designs.iter().map(|design| design.white.as_ref().unwrap().order).collect();
    assert_eq!(orders, [WhiteOrder::First, WhiteOrder::Last]);
    // They never share a sheet, and each sheet says its order.
    assert_eq!(laid.sheets.len(), 2);
    let says = |sheet: usize, words: &str| {
        laid.sheets[sheet].words.iter().any(|line| line.text.contains(words))
    };
    assert!(says(0, "first the white, then the colours"));
    assert!(says(1, "first the colours, then the white"));
    assert!(laid.sheets.iter().all(|sheet| sheet.registration.len() == 3));
    let made = files(&laid, "bay", Previews::Skipped).all().unwrap();
    let names: Vec<&str> = made.iter().map(|(name, _)| name.as_str()).collect();
    assert!(names.contains(&"bay-clear-white-first.pdf"), "{names:?}");
    assert!(names.contains(&"bay-clear-white-last.pdf"), "{names:?}");
    let list = made.iter().find(|(name, _)| name == "bay-placement.txt").unwrap();
    let list = String::from_utf8(list.1.clone()).unwrap();
    assert!(
        list.contains("print the file white-first") && list.contains("the file white-last over")
    );
}

#[test]
fn the_printed_white_covers_what_the_design_says() {
    // Counted on the rendered page at 600 dpi by hayro, half-covered dots as half.
    let laid = sound(&format!(
        "{WHITE}labels: [{{name: horn, on: hull, white: under, text: {{text: HORN, paint: white, cap_height: 8 mm}}, box: {{fill: '#ad2b24', padding: 3 mm, radius: 2 mm}}}}]\n"
    ));
    let made = files(&laid, "horn", Previews::Skipped).all().unwrap();
    let pdf = made.into_iter().find(|(name, _)| name == "horn-clear-white-first.pdf").unwrap().1;
    let rows = pdf_picture(pdf).rows;
    let spot = laid.sheets[0].placements[0].footprint(&laid.designs[0]);
    let dots = |mm: f64| (mm * DOTS).round() as usize;
    let black: f64 = rows[dots(spot.y0)..dots(spot.y1)]
        .iter()
        .flat_map(|row| &row[dots(spot.x0)..dots(spot.x1)])
        .map(|dot| f64::from(255 - dot) / 255.0)
        .sum();
    // Letters painted white lie inside the box, so the white is the box drawn in by 0.30 mm, without a hole:
    // (w - 2 c)(h - 2 c) - (4 - pi)(r - c)² (school geometry).
    let ink = laid.designs[0].marks[0].path.bounds();
    let (choke, radius) = (0.3, 2.0);
    let area = (ink.width() - 2.0 * choke) * (ink.height() - 2.0 * choke)
        - (4.0 - std::f64::consts::PI) * (radius - choke) * (radius - choke);
    let counted = black / (DOTS * DOTS);
    assert!((counted - area).abs() < 0.002 * area, "{counted} of {area}");
}

#[test]
fn labels_behind_glass_get_their_backing_last_and_symbols_and_dashes_are_seen_too() {
    let outcome = run(&format!(
        "{WHITE}labels:\n  - {{name: win, on: hull, applied: inside-window, white: backing, box: {{size: [20 mm, 8 mm], fill: brass, shape: pointed, point: 4 mm}}}}\n  - {{name: earth, on: hull, parts: [{{symbol: {{name: earth, size: 8 mm}}}}]}}\n  - {{name: dash, on: hull, text: \"-\"}}\n"
    ));
    let faint = told(&outcome, "low-contrast");
    let labels: Vec<_> = faint.iter().filter_map(|one| one.label.as_deref()).collect();
    assert_eq!(labels, ["earth", "dash"], "{faint:#?}");
    let laid = outcome.laid.unwrap();
    let (label, backing) = (named(&laid.designs, "win"), named(&laid.designs, "win-backing"));
    // The point lies right on the label as it is read, so left on a piece that is looked at from behind.
    assert!(label.trim.contains(kurbo::Point::new(9.5, 0.0)));
    assert!(backing.trim.contains(kurbo::Point::new(-9.0, 0.0)));
    assert!(!backing.trim.contains(kurbo::Point::new(-9.0, 2.0)));
    assert!(backing.trim.contains(kurbo::Point::new(9.0, 2.0)));
}

#[test]
fn a_code_with_white_under_its_label_is_dark_on_light() {
    let code = |white: &str| {
        run(&format!(
            "{WHITE}labels: [{{name: serial, on: hull, white: {white}, parts: [{{code: {{text: P-0412, kind: qr, module: 0.6 mm}}}}]}}]\n"
        ))
    };
    assert_eq!(told(&code("none"), "faint-code").len(), 1);
    let printed = code("{as: under, area: label}");
    assert!(told(&printed, "faint-code").is_empty(), "{:#?}", printed.findings);
}

#[test]
fn a_colour_is_printed_in_one_way_and_never_as_nothing() {
    for print in ["'#ffffff'}", "'#bd2a20'}, other: {shown: '#ad2b24', print: '#c02020'}"] {
        let outcome = run(&format!(
            "colours: {{beacon: {{shown: '#ad2b24', print: {print}}}\nlabels: [RUN]\n"
        ));
        assert_eq!(told(&outcome, "bad-colour").len(), 1, "{:#?}", outcome.findings);
    }
}

#[test]
fn a_backing_is_cut_from_white_film_for_each_piece() {
    let job = format!(
        "{WHITE}labels: [{{name: tide, on: hull, copies: 2, spares: 1, white: backing, text: {{text: TIDE, paint: black}}, box: {{fill: brass, padding: 1 mm}}}}]\n"
    );
    let laid = sound(&job);
    let (label, backing) = (named(&laid.designs, "tide"), named(&laid.designs, "tide-backing"));
    let ink = label.marks.iter().map(|mark| mark.path.bounds()).reduce(|a, b| a.union(b)).unwrap();
    let white = backing.size();
    // 0.30 mm inside the ink on every side (common practice, no source).
    assert!((ink.width() - white.width() - 0.6).abs() < 1e-6);
    assert!((ink.height() - white.height() - 0.6).abs() < 1e-6);
    let count = |film: &str| {
        let of_film = laid.sheets.iter().filter(|sheet| sheet.film.word() == film);
        of_film.map(|sheet| sheet.placements.len()).sum::<usize>()
    };
    assert_eq!((count("clear"), count("white")), (3, 3));
    assert!(backing.marks.iter().all(|mark| mark.plate == Plate::Guide));
}

#[test]
fn a_printer_without_white_is_asked_about() {
    let outcome = run(&WHITE
        .replace(", white_passes: 2", "")
        .replace("surfaces", "labels: [{text: RUN, on: hull, white: under}]\nsurfaces"));
    assert_eq!(told(&outcome, "no-white").len(), 1);
}

#[test]
fn lines_too_thin_for_the_printer_are_lifted_when_that_is_agreed_to() {
    // A border of 2 mm and a line of 15 mm at 1:32 are 0.0625 and 0.469 mm; a laser of 1200 dpi keeps 0.20 mm
    // clear (printers' published minima).
    let job = |lift: &str| {
        format!(
            "scale: 1:32\nsheet: {{film: white, paper: A5}}\nprinter: {{class: laser-1200}}\ncolours: {{field: '#C21A34'}}\nlabels: [{{name: diamond, bleed: 1 mm{lift}, parts: [{{box: {{size: 250 mm prototype, fill: field, turned: 45, line: {{inset: 12.5 mm prototype, width: 2 mm prototype, paint: white}}}}}}, {{line: {{length: 4 mm, width: 15 mm prototype, paint: black}}}}]}}]\n"
        )
    };
    let clear_area = |job: &str| {
        let design = &sound(job).designs[0];
        // A full square of 7.8125 mm with its bleed, less what is printed of it.
        (7.8125 + 2.0_f64).powi(2) - design.marks[0].path.area()
    };
    // A band inside a square of side s - 2 i: 4 w (s - 2 i - w), s 7.8125, i 0.390625.
    let band = |width: f64| 4.0 * width * (7.8125 - 2.0 * 0.390_625 - width);
    assert!((clear_area(&job("")) - band(0.0625)).abs() < 0.02, "{}", clear_area(&job("")));
    assert!((clear_area(&job(", lift: yes")) - band(0.2)).abs() < 0.02);
    let lifted = run(&job(", lift: yes"));
    let notes = told(&lifted, "lifted");
    assert_eq!(notes.len(), 1, "{notes:#?}");
    assert!(notes[0].message.contains("0.063") || notes[0].message.contains("0.062"));
}

#[test]
fn a_ground_cut_at_its_own_edge_on_white_film_is_told() {
    let job = |bleed: &str| {
        run(&format!(
            "sheet: {{film: white}}\nlabels: [{{name: a, bleed: {bleed}, box: {{size: [20 mm, 10 mm], fill: black}}}}]\n"
        ))
    };
    assert_eq!(told(&job("0"), "white-edge").len(), 1);
    assert!(told(&job("1 mm"), "white-edge").is_empty());
}

#[test]
fn every_placement_list_says_that_a_decal_is_no_safety_sign() {
    let laid = sound("labels: [RUN]\n");
    let made = files(&laid, "run", Previews::Skipped).all().unwrap();
    let list = made.iter().find(|(name, _)| name == "run-placement.txt").unwrap();
    assert!(String::from_utf8(list.1.clone()).unwrap().contains("no safety sign"));
}

#[test]
fn a_picked_colour_is_what_the_printer_is_sent() {
    let laid = sound(
        "sheet: {film: white, paper: A6, spares: 0}\ncolours: {beacon: {shown: '#ad2b24', print: '#bd2a20'}}\nlabels: [{text: {text: RUN, paint: beacon}}]\n",
    );
    // The design keeps what is to be seen, for contrast and proof; the sheet has what is sent.
    assert_eq!(laid.designs[0].marks[0].plate, Plate::Ink(colour("#ad2b24")));
    let made = files(&laid, "run", Previews::Skipped).all().unwrap();
    let svg = made.iter().find(|(name, _)| name == "run-white-1.svg").unwrap();
    let svg = String::from_utf8(svg.1.clone()).unwrap();
    assert!(svg.contains("#bd2a20") && !svg.contains("#ad2b24"));
}
