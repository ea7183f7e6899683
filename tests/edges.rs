//! Edges, clear areas and hands, from YAML to designs.

#![allow(clippy::unwrap_used, reason = "a job that cannot be read fails the test")]

use decalwright::files::Error;
use decalwright::job::{Laid, lay};
use decalwright::{Design, Plate};
use kurbo::Point;

fn laid(job: &str) -> Laid {
    let mut nothing = |name: &str| Err(Error::Outside(name.into()));
    let outcome = lay("test.yaml", job.as_bytes(), &mut nothing);
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    outcome.laid.unwrap()
}

fn only(job: &str) -> Design {
    let mut designs = laid(job).designs;
    assert_eq!(designs.len(), 1);
    designs.remove(0)
}

fn ink_area(design: &Design) -> f64 {
    design.marks.iter().map(|mark| mark.path.area()).sum()
}

const BOX: &str = "box: {size: [20 mm, 10 mm], radius: 2 mm, fill: black}";

#[test]
fn bleed_runs_past_the_trim_and_a_border_stays_clear_round_the_ink() {
    // Area of a rounded rectangle: w h - (4 - pi) r² (school geometry).
    let rounded = |w: f64, h: f64, r: f64| w * h - (4.0 - std::f64::consts::PI) * r * r;
    for (edge, trim, ink) in [
        ("bleed: 0.5 mm", rounded(20.0, 10.0, 2.0), rounded(21.0, 11.0, 2.5)),
        ("film_border: 1 mm", rounded(22.0, 12.0, 3.0), rounded(20.0, 10.0, 2.0)),
        // Common practice, no source: clear film keeps a border of 1 mm, white film bleeds 1 mm.
        ("film: clear", rounded(22.0, 12.0, 3.0), rounded(20.0, 10.0, 2.0)),
        ("film: white", rounded(20.0, 10.0, 2.0), rounded(22.0, 12.0, 3.0)),
    ] {
        let design = only(&format!("labels: [{{name: a, {BOX}, {edge}}}]"));
        assert!((design.trim.area() - trim).abs() < 0.02, "{edge}: {}", design.trim.area());
        assert!((ink_area(&design) - ink).abs() < 0.02, "{edge}: {}", ink_area(&design));
    }
}

#[test]
fn text_without_a_box_gets_a_rounded_border_round_it() {
    let design = only("labels: [{text: HELM, film_border: 1.5 mm}]");
    let (ink, trim) = (design.marks[0].path.bounds(), design.size());
    assert!((ink.y0 - trim.y0 - 1.5).abs() < 0.05, "{ink:?} {trim:?}");
    assert!(!design.trim.contains(Point::new(trim.x0 + 0.1, trim.y0 + 0.1)), "corners are round");
}

#[test]
fn words_of_a_row_of_labels_share_one_base_line() {
    let designs = laid("labels: [ON, gypsy, \"É\"]").designs;
    for design in designs {
        assert!((design.words[0].area.y1 - 1.5).abs() < 0.01, "{}", design.name);
    }
}

#[test]
fn a_clear_part_takes_all_ink_beneath_it_but_none_above() {
    let design = only(
        "labels:\n  - name: a\n    parts:\n      - box: {size: 20 mm, fill: black}\n      - line: {length: 20 mm, width: 4 mm, paint: '#ad2b24'}\n      - disc: {diameter: 8 mm, paint: clear}\n      - disc: {diameter: 2 mm, paint: black}\n",
    );
    let inked = |x: f64, y: f64| {
        design
            .marks
            .iter()
            .any(|mark| matches!(mark.plate, Plate::Ink(_)) && mark.path.contains(Point::new(x, y)))
    };
    assert!(inked(0.0, 0.0) && inked(6.0, 0.0) && inked(0.0, 6.0));
    for (x, y) in [(2.0, 0.0), (0.0, 3.0), (-3.9, 0.0)] {
        assert!(!inked(x, y), "ink at {x}, {y}");
    }
}

#[test]
fn a_handed_pair_mirrors_shapes_but_not_words() {
    let designs = laid(
        "labels:\n  - name: bow\n    handed: pair\n    parts:\n      - text: {text: FG, at: [-10, 0], turned: 8}\n      - chevron: {count: 1, width: 2, height: 8, angle: 60, paint: '#ad2b24', at: [10, 0]}\n",
    )
    .designs;
    let [right, left] = designs.as_slice() else { panic!("a pair is two designs") };
    assert_eq!((right.name.as_str(), left.name.as_str()), ("bow-right", "bow-left"));
    let flipped = right.marks[1].path.placed(kurbo::Affine::FLIP_X);
    let (a, b) = (flipped.bounds(), left.marks[1].path.bounds());
    assert!((a.x0 - b.x0).abs() + (a.x1 - b.x1).abs() < 1e-9, "the chevron is mirrored");
    assert!((right.words[0].turned_deg + left.words[0].turned_deg).abs() < 1e-9);
    assert!((right.words[0].area.center().x + left.words[0].area.center().x).abs() < 1e-9);
    // Letters are not mirrored: turned back upright, both hands have the very same outline.
    let upright = |design: &Design| {
        let (words, ink) = (&design.words[0], &design.marks[0].path);
        let back = kurbo::Affine::rotate_about(-words.turned_deg.to_radians(), words.area.center());
        let shift = kurbo::Affine::translate(-words.area.center().to_vec2());
        ink.placed(shift * back)
    };
    let (a, b) = (upright(right), upright(left));
    assert!(a.minus(&b).area() + b.minus(&a).area() < 0.01);
}

#[test]
fn a_stripe_past_the_label_is_cut_off_at_the_bleed() {
    let design = only(
        "labels:\n  - name: a\n    size: [30 mm, 8 mm]\n    bleed: 1 mm\n    parts:\n      - line: {length: 60 mm, width: 2 mm, turned: 45}\n",
    );
    let reach = design.reach();
    assert!((reach.height() - 10.0).abs() < 1e-6, "{reach:?}");
}

/// The marks a label's parts leave: plate and bounds.
fn inks(job: &str, table: &[u8]) -> Vec<(String, kurbo::Rect)> {
    let mut fetch = |_: &str| Ok(table.to_vec());
    let outcome = lay("job.yaml", job.as_bytes(), &mut fetch);
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let laid = outcome.laid.unwrap();
    let design = laid.designs.first().unwrap();
    design.marks.iter().map(|mark| (format!("{:?}", mark.plate), mark.path.bounds())).collect()
}

#[test]
fn two_boxes_from_one_cell_are_two_boxes() {
    // A ground 20 mm high and a band 5 mm high, both as wide as a cell says; with 1 mm of bleed the ground grows
    // by 1 mm all round, the band at its two ends alone (school geometry).
    let parts = "parts: [box: {size: ['{width}', 20 mm], fill: '#7d6f43'}, box: {size: ['{width}', 5 mm], fill: '#ad2b24', at: [0, 3 mm]}]";
    for (repeat, width) in [("rows: berths.csv", "width"), ("series: {width: 30..30}", "width")] {
        let job = format!(
            "sheet: {{film: white}}\nlabels:\n- {{name: berth, bleed: 1 mm, {repeat}, {parts}}}\n"
        );
        let found = inks(&job, format!("{width}\n30\n").as_bytes());
        assert_eq!(found.len(), 2, "{found:?}");
        let sizes: Vec<(f64, f64)> =
            found.iter().map(|(_, area)| (area.width(), area.height())).collect();
        assert!((sizes[0].0 - 32.0).abs() < 1e-6 && (sizes[0].1 - 22.0).abs() < 1e-6, "{sizes:?}");
        assert!((sizes[1].0 - 32.0).abs() < 1e-6 && (sizes[1].1 - 5.0).abs() < 1e-6, "{sizes:?}");
    }
}

#[test]
fn two_texts_from_one_cell_that_overlap_are_told() {
    let job = "surfaces: {hull: '#e8e6df'}\nlabels:\n- name: twice\n  on: hull\n  rows: words.csv\n  parts:\n  - text: {text: '{word}', cap_height: 4 mm}\n  - text: {text: '{word}', cap_height: 4 mm, at: [1 mm, 1 mm], paint: '#e2e0d8'}\n";
    let mut fetch = |_: &str| Ok(b"word\nTIDE\n".to_vec());
    let outcome = lay("job.yaml", job.as_bytes(), &mut fetch);
    let codes: Vec<&str> = outcome.findings.list().iter().map(|one| one.code).collect();
    for code in ["legends-touch", "low-contrast"] {
        assert!(codes.contains(&code), "{code}: {codes:?}");
    }
}
