//! Dials, scales and text on arcs: a brief of three meter faces with the numbers a right result must show,
//! and marks measured back from rendered pages.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a face that does not come out as its brief says fails the test"
)]
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "dots of small pages")]

use crate::rendered::{DOTS, Picture, file, laid, pdf_picture};
use decalwright::files::Error;
use decalwright::finding::{Finding, Severity};
use decalwright::job::lay;
use decalwright::{Colour, Design, Mark, Plate, Role, Words};
use kurbo::{PathEl, Point, Vec2};

const BRIEF: &str = include_str!("jobs/gauges.yaml");

fn found(job: &str) -> Vec<Finding> {
    let mut nothing = |name: &str| Err(Error::Outside(name.into()));
    lay("gauges.yaml", job.as_bytes(), &mut nothing).findings.list().to_vec()
}

fn one(findings: &[Finding], code: &str) -> Finding {
    let mut of_code = findings.iter().filter(|finding| finding.code == code);
    let first = of_code.next().unwrap_or_else(|| panic!("no {code} in {findings:#?}"));
    assert!(of_code.next().is_none(), "more than one {code}: {findings:#?}");
    first.clone()
}

/// A dial alone on a label.
fn dial(keys: &str) -> String {
    format!(
        "sheet: {{film: paper, paper: A5, guides: no, turn: no, spares: 0}}\nprinter: {{class: laser-1200}}\nlabels:\n  - name: dial\n    parts:\n      - dial: {{{keys}}}\n"
    )
}

/// Degrees clockwise from straight up.
fn bearing(from: Point, to: Point) -> f64 {
    let by = to - from;
    by.x.atan2(-by.y).to_degrees()
}

/// The bearings of a design's marks seen from its pivot; a mark is a rectangle, so its bounds share its middle.
fn bearings(design: &Design, pivot: Point) -> Vec<f64> {
    let marks = design.marks.iter().filter(|mark| mark.role == Role::Line);
    marks.map(|mark| bearing(pivot, mark.path.bounds().center())).collect()
}

fn has(bearings: &[f64], degrees: f64, within: f64) -> bool {
    bearings.iter().any(|found| (found - degrees).abs() < within)
}

fn words<'d>(design: &'d Design, text: &str) -> &'d Words {
    let mut found = design.words.iter().filter(|words| words.text == text);
    let first = found.next().unwrap_or_else(|| panic!("no {text} in {:?}", design.words));
    assert!(found.next().is_none(), "{text} twice");
    first
}

fn corners(mark: &Mark) -> Vec<Point> {
    let ends = mark.path.elements().filter_map(|element| match element {
        PathEl::MoveTo(to) | PathEl::LineTo(to) | PathEl::QuadTo(_, to) => Some(to),
        PathEl::CurveTo(_, _, to) => Some(to),
        PathEl::ClosePath => None,
    });
    ends.collect()
}

#[test]
fn an_even_meter_face_has_its_31_marks() {
    let laid = laid(BRIEF);
    let a = &laid.designs[0];
    let marks = bearings(a, Point::new(0.0, 22.0));
    // 15 V in steps of 0.5 V: 15 / 0.5 + 1.
    assert_eq!(marks.len(), 31);
    // -45 + 90 v / 15 (proportion).
    for (volts, degrees) in [(0.0, -45.0), (5.0, -15.0), (7.5, 0.0), (15.0, 45.0)] {
        assert!(has(&marks, degrees, 0.001), "{volts} V: {marks:?}");
    }
    for text in ["0", "5", "10", "15"] {
        let area = words(a, text).area;
        assert!(area.x0 > -31.0 && area.x1 < 31.0 && area.y0 > -24.0, "{text} at {area:?}");
        assert!((words(a, text).cap_height_mm - 2.6).abs() < 1e-9);
    }
    // Moved out of the face, 15 is told.
    let findings = found(&BRIEF.replace("number_radius: 36.5 mm", "number_radius: 44 mm"));
    assert!(findings.iter().any(|one| one.code == "near-cut"), "{findings:#?}");
}

#[test]
fn a_logarithmic_meter_face_follows_the_table_of_logarithms() {
    let laid = laid(BRIEF);
    let b = &laid.designs[1];
    let marks = bearings(b, Point::ORIGIN);
    // -120 + 240 log v / log 100 with log 2 = 0.30103, log 5 = 0.69897.
    for (flow, degrees) in [(1, -120.0), (2, -83.876), (5, -36.124), (10, 0.0), (50, 83.876)] {
        assert!(has(&marks, degrees, 0.005), "{flow}: {marks:?}");
    }
    // 30 + 16.5 sin 83.876°, 30 - 16.5 cos 83.876°, from the face's corner.
    let middle = words(b, "50").area.center() + Vec2::new(30.0, 30.0);
    assert!((middle.x - 46.406).abs() < 0.02 && (middle.y - 28.240).abs() < 0.02, "{middle:?}");
    // Both arcs read from left to right for someone in front.
    for text in ["BILGE PUMP FLOW", "DO NOT EXCEED 80"] {
        assert!(words(b, text).turned_deg.rem_euclid(360.0).abs() < 1e-9);
    }
    assert!(words(b, "BILGE PUMP FLOW").area.y1 < -25.9);
    assert!(words(b, "DO NOT EXCEED 80").area.y1 < 26.1);
}

#[test]
fn a_meter_face_calibrated_by_hand_runs_the_other_way() {
    let laid = laid(BRIEF);
    let c = &laid.designs[2];
    let marks = bearings(c, Point::ORIGIN);
    for degrees in [135.0, 96.0, 65.0, 14.0, -31.0, -69.0, -103.0, -135.0] {
        assert!(has(&marks, degrees, 0.001), "{degrees}: {marks:?}");
    }
    // Nought on the right, infinity on the left, as signs; the ohm as the Greek letter.
    assert!(words(c, "0").area.center().x > 10.0 && words(c, "∞").area.center().x < -10.0);
    assert!(words(c, "\u{3A9}").turned_deg.abs() < 1e-9);
    let numbers = c.words.iter().filter(|words| (words.cap_height_mm - 2.2).abs() < 1e-9);
    assert_eq!(numbers.clone().count(), 8);
    assert!(numbers.clone().all(|words| words.turned_deg.abs() < 1e-9), "a number is turned");
    // The red zone from 135 down to 96 degrees, hatched: less ink than a full band of 1.6 mm.
    let zone =
        c.marks.iter().find(|mark| mark.role == Role::Fill && mark.plate != black()).unwrap();
    let at: Vec<f64> = corners(zone).iter().map(|to| bearing(Point::ORIGIN, *to)).collect();
    let (low, high) =
        (at.iter().copied().fold(999.0, f64::min), at.iter().copied().fold(0.0, f64::max));
    assert!((high - low - 39.0).abs() < 0.01, "{low} {high}");
    let band = (26.0_f64.powi(2) - 24.4_f64.powi(2)) * 39.0_f64.to_radians() / 2.0;
    assert!(zone.path.area() > 0.4 * band && zone.path.area() < 0.9 * band);
}

fn black() -> Plate {
    Plate::Ink(Colour::BLACK)
}

#[test]
fn no_number_of_the_brief_touches_another_or_a_mark() {
    let mut codes: Vec<&str> = found(BRIEF).iter().map(|finding| finding.code).collect();
    // Words inside an arc stand close at their feet; that is told, and no number's fault.
    codes.retain(|code| *code != "clear-gap");
    assert_eq!(codes, [""; 0]);
}

/// The bearings of separate ink in a ring round a point of a page, by coverage.
fn measured(picture: &Picture, pivot: Point, (low, high): (f64, f64)) -> Vec<f64> {
    let mut dots: Vec<(f64, f64)> = Vec::new();
    for (row, line) in picture.rows.iter().enumerate() {
        for (column, dot) in line.iter().enumerate() {
            let at = Point::new(f64::from(column as u32) + 0.5, f64::from(row as u32) + 0.5);
            let at = (at.to_vec2() / DOTS).to_point();
            let out = at.distance(pivot);
            if out > low && out < high && *dot < 255 {
                dots.push((bearing(pivot, at), f64::from(255 - dot) / 255.0));
            }
        }
    }
    dots.sort_by(|a, b| a.0.total_cmp(&b.0));
    // Marks are more than a degree apart.
    let groups = dots.chunk_by(|a, b| b.0 - a.0 < 0.5);
    let middle = |group: &[(f64, f64)]| {
        let ink: f64 = group.iter().map(|(_, ink)| ink).sum();
        group.iter().map(|(at, share)| at * share).sum::<f64>() / ink
    };
    groups.map(middle).collect()
}

/// A dial's page rendered by another program, and where its centre lies on it.
fn page(job: &str) -> (Picture, Point) {
    // No larger than the dial, to be rendered sooner.
    let laid = laid(&job.replace("paper: A5", "paper: [90 mm, 90 mm]"));
    let centre = laid.sheets[0].placements[0].transform() * Point::ORIGIN;
    (pdf_picture(file(&laid, "t-paper.pdf")), centre)
}

#[test]
fn marks_measured_on_the_rendered_page_lie_at_their_angles() {
    // To 0.1 degree; at 600 dpi and a radius of 30 mm a dot is 0.08 degree wide.
    let even =
        "radius: 30 mm, from: 0, to: 10, step: 1, lengths: 4 mm, widths: 0.5 mm, numbers: none";
    let (picture, centre) = page(&dial(even));
    let found = measured(&picture, centre, (30.3, 33.7));
    assert_eq!(found.len(), 11);
    for (n, found) in found.iter().enumerate() {
        // Mark n at -135 + 27 n (proportion).
        let degrees = -135.0 + 27.0 * f64::from(n as u32);
        assert!((found - degrees).abs() < 0.1, "mark {n}: {found}");
    }
    let log = "radius: 30 mm, sweep: 240, from: 1, to: 100, law: log, values: [1, 2, 5, 10, 20, 50, 100], lengths: 4 mm, widths: 0.5 mm, numbers: none";
    let (picture, centre) = page(&dial(log));
    let found = measured(&picture, centre, (30.3, 33.7));
    // Five-figure table of logarithms.
    let logs = [0.0, 30_103e-5, 0.698_97, 1.0, 1.301_03, 1.698_97, 2.0];
    assert_eq!(found.len(), logs.len());
    for (found, log) in found.iter().zip(logs) {
        assert!((found - (-120.0 + 120.0 * log)).abs() < 0.1, "{log}: {found}");
    }
}

/// Height of the ink in mm on a ray from the centre, between two radii.
fn ink_out(picture: &Picture, centre: Point, degrees: f64, (from, to): (f64, f64)) -> f64 {
    let unit = Vec2::new(degrees.to_radians().sin(), -degrees.to_radians().cos());
    let steps = 2000;
    let ink = |step: u32| {
        let out = from + (to - from) * (f64::from(step) + 0.5) / f64::from(steps);
        let at = (centre + unit * out).to_vec2() * DOTS;
        f64::from(255 - picture.rows[at.y as usize][at.x as usize]) / 255.0
    };
    (0..steps).map(ink).sum::<f64>() * (to - from) / f64::from(steps)
}

#[test]
fn letters_on_an_arc_stand_on_their_radius() {
    for (reads, centre_deg, heads) in [("outward", 0.0, 1.0), ("inward", 180.0, -1.0)] {
        let job = dial("radius: 5 mm, from: 0, to: 1, step: 1").replace(
            "      - dial: {radius: 5 mm, from: 0, to: 1, step: 1}\n",
            &format!("      - text: {{text: IIIIIII, tracking: 1, cap_height: 4 mm, arc: {{radius: 20 mm, centre: {centre_deg}, reads: {reads}}}}}\n"),
        );
        let (picture, centre) = page(&job);
        let (low, high) = if heads > 0.0 { (20.5, 23.5) } else { (16.5, 19.5) };
        let stems = measured(&picture, centre, (low, high));
        let at_the_bottom = |found: &f64| centre_deg == 0.0 || found.abs() > 90.0;
        assert!(stems.len() >= 7 && stems.iter().all(at_the_bottom), "{stems:?}");
        for stem in &stems {
            // From 1 mm on the side of the feet to 2 mm up the stem: 2 mm of ink, if the feet are at 20 mm.
            let (from, to) = if heads > 0.0 { (19.0, 22.0) } else { (18.0, 21.0) };
            let ink = ink_out(&picture, centre, *stem, (from, to));
            // Half a dot, and as much for the renderer's edge.
            assert!((ink - 2.0).abs() < 0.045, "{reads} at {stem}: {ink}");
        }
    }
}

#[test]
fn text_longer_than_its_circle_is_told_with_the_circles_length() {
    let ring = |text: &str, radius: &str| {
        format!(
            "sheet: {{film: white, paper: A5}}\nlabels:\n  - name: ring\n    spares: 1\n    parts:\n      - ring: {{outer: 48 mm, inner: 30 mm, paint: '#F2C200'}}\n      - text: {{text: {text}, cap_height: 3 mm, arc: {{radius: {radius}}}}}\n"
        )
    };
    assert!(
        !found(&ring("STAGE STOP - NOT A SAFETY DEVICE", "18 mm"))
            .iter()
            .any(|one| one.severity == Severity::Error)
    );
    let long = found(&ring(
        "STAGE STOP - NOT A SAFETY DEVICE - STAGE STOP - NOT A SAFETY DEVICE",
        "20.2 mm",
    ));
    let told = one(&long, "arc-too-long");
    // 2 pi 20.2 = 126.92 mm.
    assert!(told.message.contains("126.92"), "{}", told.message);
}

#[test]
fn text_is_spaced_out_to_a_width_and_keeps_its_letters() {
    let design = |keys: &str| {
        let job = format!(
            "sheet: {{film: paper, paper: A5, spares: 0}}\nlabels: [{{text: {{text: TIDE GAUGE, cap_height: 3 mm{keys}}}}}]\n"
        );
        laid(&job).designs.remove(0)
    };
    let (plain, wide) = (design(""), design(", spread: 60 mm"));
    assert!((wide.words[0].area.width() - 60.0).abs() < 1e-6);
    assert!((wide.marks[0].path.area() - plain.marks[0].path.area()).abs() < 1e-6);
    // On an arc: 90 degrees of a circle of 30 mm are 47.12 mm (2 pi r / 4).
    let arc = design(", arc: {radius: 30 mm, sweep: 90}");
    let ends: Vec<f64> =
        corners(&arc.marks[0]).iter().map(|to| bearing(Point::ORIGIN, *to)).collect();
    let (low, high) =
        (ends.iter().copied().fold(0.0, f64::min), ends.iter().copied().fold(0.0, f64::max));
    assert!(low > -45.0 && low < -44.0 && high < 45.0 && high > 44.0, "{low} {high}");
}

#[test]
fn what_a_scale_cannot_show_is_told() {
    let cases = [
        (
            "radius: 15, from: 0, to: 10, step: 1, texts: {12: MAX}",
            "value-outside",
            "12 is outside the scale, 0 to 10",
        ),
        (
            "radius: 15, from: 0, to: 100, law: log, values: [1, 10]",
            "log-of-nought",
            "`0` has no logarithm",
        ),
        (
            "radius: 15, from: -1, to: 100, law: log, values: [1, 10]",
            "log-of-nought",
            "`-1` has no logarithm",
        ),
        ("radius: 15, from: 5, to: 5, step: 1", "bad-range", "from 5 to itself"),
        ("radius: 15, from: 0, to: 10", "empty-scale", "no marks"),
        ("radius: 15, from: 0, to: 10, step: 0.0001", "too-many", "more than 1000 marks"),
        ("from: 0, to: 10, step: 1", "missing", "a dial needs `radius`"),
        (
            "radius: 15, length: 5, from: 0, to: 10, step: 1",
            "no-effect",
            "`length` is for a straight scale",
        ),
        ("radius: 25, from: 0, to: 12, step: 3", "odd-step", "steps of 3"),
        (
            "radius: 25, from: 0, to: 10, step: 5, between: 19",
            "crowded-marks",
            "19 marks between two numbers",
        ),
        (
            "radius: 15, from: 0, to: 10, step: 1, knob: 32 mm",
            "under-knob",
            "marks start 15 mm from the centre; a knob of 32 mm covers 16 mm",
        ),
        (
            "radius: 25, from: 0, to: 10, step: 1, zones: [{from: 0, to: 5, paint: '#008000'}, {from: 5, to: 9, paint: '#B8170F'}]",
            "zones-alike",
            "colour only",
        ),
    ];
    for (keys, code, message) in cases {
        let told = one(&found(&dial(keys)), code);
        assert!(told.message.contains(message), "{keys}: {}", told.message);
        assert!(told.place.is_some() && !told.help.is_empty(), "{keys}");
    }
    // Numbers 0 to 100 in ones on a small dial run into each other.
    let findings = found(&dial("radius: 12, from: 0, to: 100, step: 2"));
    let touch = findings.iter().find(|one| one.code == "numbers-touch").unwrap();
    assert_eq!(touch.label.as_deref(), Some("dial"));
    let (apart, needed) = touch.measured.unwrap();
    // One stroke: a sixth of the cap height (DOD-HDBK-791); 20 minutes of arc at 400 mm are 2.327 mm.
    assert!(apart < needed && (needed - 2.327 / 6.0).abs() < 0.001, "{apart} {needed}");
    let allowed = dial("radius: 12, from: 0, to: 100, step: 2")
        .replace("    parts", "    allow: numbers-touch\n    parts");
    assert!(!found(&allowed).iter().any(|one| one.code == "numbers-touch"));
}

#[test]
fn a_rotary_switch_takes_words_and_a_pot_breaks_at_its_detent() {
    let legend = laid(&dial(
        "radius: 18, number_radius: 24, table: {'OFF': -75, TEST: -45, DAY: -15, DUSK: 15, NIGHT: 45, FOG: 75}",
    ));
    // 24 sin(-75°) = -23.182, -24 cos(-75°) = -6.212; 24 sin 45° = 16.971 (trigonometry).
    let off = words(&legend.designs[0], "OFF").area.center();
    assert!((off.x + 23.182).abs() < 0.02 && (off.y + 6.212).abs() < 0.02, "{off:?}");
    assert!((words(&legend.designs[0], "NIGHT").area.center().x - 16.971).abs() < 0.02);
    let broken = laid(&dial(
        "radius: 15, from: -5, to: 5, step: 1, detent: 0, detent_gap: 2 mm, line: 0.3 mm",
    ));
    let marks = bearings(&broken.designs[0], Point::ORIGIN);
    // Ten marks are left, and the line is in two.
    assert_eq!(marks.len(), 12);
    let inked = |degrees: f64| {
        let at = Vec2::new(degrees.to_radians().sin(), -degrees.to_radians().cos()) * 15.15;
        broken.designs[0].marks.iter().any(|mark| mark.path.contains(at.to_point()))
    };
    // 2 mm on a radius of 15 mm are 7.64 degrees.
    assert!(!inked(0.0) && !inked(3.7) && inked(4.0) && inked(-4.0));
}

#[test]
fn a_full_gauge_face_is_made_of_parts() {
    let face = "sheet: {film: white, paper: A5, spares: 1}\nprinter: {class: laser-1200}\ncolours: {good: '#2b7a3d', alarm: '#ad2b24'}\nlabels:\n  - name: face\n    parts:\n      - box: {size: [72 mm, 54 mm], radius: 3 mm, line: 0.4 mm}\n      - dial: {at: [0, 22 mm], radius: 31 mm, sweep: 100, from: 0, to: 10, step: 2, between: 3, line: 0.3 mm, unit: bar, unit_at: [0, -9 mm], zones: [{from: 0, to: 6, paint: good, width: 1 mm}, {from: 8, to: 10, paint: alarm, width: 2 mm, look: hatched}]}\n      - dial: {at: [0, 22 mm], radius: 26 mm, sweep: 100, from: 0, to: 150, step: 50, between: 4, marks: inside, numbers: inside, cap_height: 1.8 mm, lengths: 2 mm, widths: 0.2 mm, unit: psi, unit_at: [0, -13 mm], unit_height: 2 mm}\n      - disc: {diameter: 4 mm, at: [0, 22 mm]}\n";
    let laid = laid(face);
    let design = &laid.designs[0];
    for text in ["bar", "psi", "10", "150"] {
        let _ = words(design, text);
    }
    let told = found(face);
    assert!(told.is_empty(), "{told:#?}");
}
