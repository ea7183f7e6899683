//! Symbols and drawings, from the job to marks.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a job that does not come out as it should fails the test"
)]

use crate::rendered::{DOTS, file, pdf_picture, svg_picture};
use decalwright::finding::{Finding, Severity};
use decalwright::job::{Outcome, lay};
use decalwright::{Design, Plate};
use resvg::tiny_skia;
use std::time::{Duration, Instant};

const NS: &str = r#"xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink""#;

/// Lays a job that has one file beside it, whatever it is called.
fn with_file(job: &str, bytes: &[u8]) -> Outcome {
    let mut fetch = |_: &str| Ok::<_, decalwright::files::Error>(bytes.to_vec());
    lay("job.yaml", job.as_bytes(), &mut fetch)
}

fn part(art: &str) -> String {
    format!(
        "sheet: {{film: white, paper: A4}}\nlabels:\n  - {{name: badge, parts: [art: {art}]}}\n"
    )
}

fn of<'o>(outcome: &'o Outcome, code: &str) -> Vec<&'o Finding> {
    outcome.findings.list().iter().filter(|one| one.code == code).collect()
}

/// Width and height of all ink on the only label, mm.
fn ink(outcome: &Outcome) -> (f64, f64) {
    let design = &outcome.laid.as_ref().unwrap().designs[0];
    let bounds = design.marks.iter().map(|mark| mark.path.bounds()).reduce(|a, b| a.union(b));
    (bounds.unwrap().width(), bounds.unwrap().height())
}

/// A PNG's first 33 bytes: signature and IHDR (ISO/IEC 15948, 11.2.2).
fn png(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
    bytes.extend(width.to_be_bytes());
    bytes.extend(height.to_be_bytes());
    bytes.extend([8, 6, 0, 0, 0, 0, 0, 0, 0]);
    bytes
}

#[test]
fn pictures_of_dots_are_refused_with_their_fineness() {
    // px / (mm / 25.4): 640 / (45 / 25.4) = 361.2, 900 / (100 / 25.4) = 228.6, 120 / (40 / 25.4) = 76.2.
    for (px, art, fineness) in [
        ((640, 400), "{file: i.png, width: 45 mm}", "361.2"),
        ((900, 300), "{file: i.png, width: 100 mm}", "228.6"),
        ((120, 120), "{file: i.png, fit: [40 mm, 50 mm]}", "76.2"),
        ((600, 600), "{file: i.png, size: [40 mm, 30 mm]}", "381"),
    ] {
        let outcome = with_file(&part(art), &png(px.0, px.1));
        let refused = of(&outcome, "bitmap");
        assert_eq!(refused.len(), 1, "{:?}", outcome.findings.list());
        assert_eq!(refused[0].severity, Severity::Error);
        assert!(refused[0].message.contains(fineness), "{}", refused[0].message);
        assert!(refused[0].help.contains("trace"));
        // 40 x 30 mm from a square: 4/3.
        let stretched = of(&outcome, "art-stretched");
        assert_eq!(stretched.len(), usize::from(art.contains("size")));
        assert!(stretched.iter().all(|one| one.message.contains("1.333")));
    }
    // A JPEG's size stands in its first frame header (ISO/IEC 10918-1, B.2.2): SOF0 after an APP0.
    let jpeg = b"\xff\xd8\xff\xe0\0\x04\0\0\xff\xc0\0\x11\x08\x01\x90\x02\x80\x03";
    let outcome = with_file(&part("{file: i.jpg, width: 45 mm}"), jpeg);
    assert!(of(&outcome, "bitmap")[0].message.contains("640 x 400, 361.2"));
}

#[test]
fn drawings_come_at_the_size_they_say_or_ask_for_one() {
    let file = |head: &str, page: &str| {
        format!(r#"<svg {NS} {head} viewBox="0 0 {page}"><rect width="9999" height="9999"/></svg>"#)
    };
    let own = part("{file: v.svg}");
    for (head, page, want) in [
        // CSS Values 4, 6.2: 96 px to the inch. 378 * 25.4 / 96 = 100.01, 151 * 25.4 / 96 = 39.95.
        (r#"width="100mm" height="40mm""#, "100 40", (100.0, 40.0)),
        (r#"width="378px" height="151px""#, "378 151", (100.01, 39.95)),
        // 283.46 * 25.4 / 96 = 75.0, 113.39 * 25.4 / 96 = 30.0.
        (r#"width="283.46" height="113.39""#, "283.46 113.39", (75.0, 30.0)),
        (r#"width="10cm" height="40mm""#, "1000 400", (100.0, 40.0)),
    ] {
        let outcome = with_file(&own, file(head, page).as_bytes());
        assert!(!outcome.findings.any_error(), "{head}: {:#?}", outcome.findings.list());
        let (width, height) = ink(&outcome);
        assert!((width - want.0).abs() < 0.01 && (height - want.1).abs() < 0.01, "{head} {width}");
        let notes = of(&outcome, "art-unit");
        assert_eq!(notes.len(), usize::from(head.contains("283")), "{head}");
        // At 72 to the inch: 283.46 * 25.4 / 72 = 100.0, 113.39 * 25.4 / 72 = 40.0; 96 / 72 = 1.3333.
        assert!(
            notes.iter().all(|one| one.severity == Severity::Note && one.help.contains("100 x 40")),
            "{notes:?}"
        );
    }
    let open = file(r#"width="100%" height="100%""#, "3508 4961");
    let asked = with_file(&own, open.as_bytes());
    assert!(of(&asked, "art-size")[0].help.contains("width:"), "not guessed");
    let fitted = with_file(&part("{file: v.svg, height: 49.61 mm}"), open.as_bytes());
    assert!((ink(&fitted).0 - 35.08).abs() < 0.01);
    let fit = with_file(&part("{file: v.svg, fit: [20 mm, 20 mm]}"), open.as_bytes());
    assert!((ink(&fit).1 - 20.0).abs() < 0.01);
}

const LOGO: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="-10 -10 20 20">
<circle r="9" fill="#204060"/><path d="M-5 -5H5V5H-5Z" fill="#fff"/><path d="M0-3L3 3H-3Z" fill="#c02020"/></svg>"##;

#[test]
fn a_logo_may_be_clear_in_a_box_or_keep_its_colours() {
    let area = |design: &Design| design.marks.iter().map(|mark| mark.path.area()).sum::<f64>();
    let job = |paint: &str| {
        format!(
            "sheet: {{film: clear, paper: A5}}\nlabels:\n  - name: badge\n    parts:\n      - box: {{size: 24 mm, fill: '#000'}}\n      - art: {{file: logo.svg, paint: {paint}, turned: 90}}\n"
        )
    };
    let clear = with_file(&job("clear"), LOGO.as_bytes());
    assert!(!clear.findings.any_error(), "{:#?}", clear.findings.list());
    // The box less the disc, its white square left standing, the triangle in that taken out again:
    // 24² - (81 pi - 100) - 18 (school geometry).
    let expected = 576.0 - 81.0 * std::f64::consts::PI + 100.0 - 18.0;
    let found = area(&clear.laid.unwrap().designs[0]);
    // usvg draws the circle a little over a micrometre too large: 18 pi x 0.0013 mm.
    assert!((found - expected).abs() < 0.1, "{found}, not {expected}");
    let own = with_file(&job("own").replace("clear", "white"), LOGO.as_bytes()).laid.unwrap();
    let plates: Vec<String> = own.designs[0]
        .marks
        .iter()
        .map(|mark| match mark.plate {
            Plate::Ink(colour) => colour.to_string(),
            Plate::Cut | Plate::Guide => String::new(),
        })
        .collect();
    assert_eq!(plates, ["#000000", "#204060", "#c02020"]);
}

#[test]
fn a_drawing_used_by_many_labels_is_read_once() {
    let mut reads = 0;
    let mut fetch = |_: &str| {
        reads += 1;
        Ok::<_, decalwright::files::Error>(LOGO.as_bytes().to_vec())
    };
    let job = "sheet: {film: white}\nlabels:\n  - {name: a, series: 1..50, parts: [art: {file: logo.svg}]}\n";
    let outcome = lay("job.yaml", job.as_bytes(), &mut fetch);
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    assert_eq!((outcome.laid.unwrap().designs.len(), reads), (50, 1));
}

/// Drawings with what programs write: arcs, curves, strokes with every cap and join, dashes, even-odd,
/// copies, clips, nested pages, `style` attributes, inherited paint.
const DRAWINGS: [&str; 6] = [
    LOGO,
    r##"<svg NS width="40mm" height="40mm" viewBox="0 0 200 200"><g transform="rotate(20 100 100)" style="fill:#0a6;stroke:#530;stroke-width:6"><path d="M20 100A80 80 0 0 1 180 100C150 40 120 160 100 100S60 180 20 100Z" stroke-linejoin="round"/><path d="M30 150Q100 60 170 150T190 190" fill="none" stroke-linecap="round" stroke-dasharray="14 9"/></g></svg>"##,
    r##"<svg NS width="40mm" height="40mm" viewBox="0 0 100 100"><path fill-rule="evenodd" fill="#35b" d="M50 3L79 92 3 37H97L21 92Z"/><path fill="none" stroke="#c30" stroke-width="5" d="M10 95L50 60 90 95" stroke-linejoin="bevel" stroke-linecap="square"/></svg>"##,
    r##"<svg NS width="40mm" height="40mm" viewBox="0 0 100 100"><defs><g id="leaf"><path d="M0 0C10-20 10-30 0-40C-10-30-10-20 0 0"/></g></defs><g transform="translate(50 50)" fill="#383"><use xlink:href="#leaf"/><use href="#leaf" transform="rotate(72)"/><use href="#leaf" transform="rotate(144)"/><use href="#leaf" transform="rotate(216)"/><use href="#leaf" transform="rotate(288)"/></g></svg>"##,
    r##"<svg NS width="40mm" height="40mm" viewBox="0 0 100 100"><clipPath id="c" transform="translate(5 0)"><circle cx="45" cy="50" r="30"/></clipPath><g transform="rotate(10 50 50)" clip-path="url(#c)"><rect width="100" height="50" fill="#248"/><rect y="50" width="100" height="50" fill="#d82"/></g></svg>"##,
    r##"<svg NS width="40mm" height="40mm" viewBox="0 0 80 80" preserveAspectRatio="xMinYMin slice"><svg x="10" y="10" width="40" height="30" viewBox="0 0 10 10"><rect x="-5" width="20" height="10" rx="3" fill="#505"/></svg><ellipse cx="50" cy="55" rx="25" ry="12" fill="none" stroke="#070" stroke-width="4" transform="skewX(-20)"/><polygon points="5,75 20,50 35,75" fill="#c80" stroke="#000" paint-order="stroke" stroke-width="4"/></svg>"##,
];

/// Share of pixels whose channels differ by more than a quarter, and the mean difference of all.
fn difference(one: &[u8], other: &[u8]) -> (f64, f64) {
    let (mut far, mut sum) = (0.0, 0.0);
    for (a, b) in one.chunks(4).zip(other.chunks(4)) {
        let worst = a.iter().zip(b).map(|(a, b)| a.abs_diff(*b)).max().unwrap_or(0);
        far += f64::from(u8::from(worst > 64));
        sum += f64::from(worst) / 255.0;
    }
    #[allow(clippy::cast_precision_loss, reason = "a few hundred thousand pixels")]
    let pixels = (one.len() / 4) as f64;
    (far / pixels, sum / pixels)
}

fn rendered(svg: &str, side: u32) -> Vec<u8> {
    let tree = usvg::Tree::from_str(svg, &usvg::Options::default()).unwrap();
    let mut pixmap = tiny_skia::Pixmap::new(side, side).unwrap();
    pixmap.fill(tiny_skia::Color::WHITE);
    #[allow(clippy::cast_precision_loss, reason = "a picture's side")]
    let scale = side as f32 / tree.size().width();
    resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut pixmap.as_mut());
    pixmap.data().to_vec()
}

#[test]
fn drawings_look_as_a_renderer_of_svg_shows_them() {
    for drawing in DRAWINGS {
        let drawing = drawing.replace("NS", NS);
        let art = part("{file: v.svg, width: 40 mm}");
        let outcome = with_file(&art, drawing.as_bytes());
        assert!(!outcome.findings.any_error(), "{drawing}: {:#?}", outcome.findings.list());
        let mut ours = format!(r#"<svg {NS} width="40mm" height="40mm" viewBox="-20 -20 40 40">"#);
        for mark in &outcome.laid.unwrap().designs[0].marks {
            let Plate::Ink(colour) = mark.plate else { panic!("art is ink") };
            ours.push_str(&format!(r#"<path fill="{colour}" d="{}"/>"#, mark.path.path().to_svg()));
        }
        ours.push_str("</svg>");
        // 600 dpi is 945 pixels for 40 mm. Edges are blended where shapes overlap, so a few pixels differ.
        let (far, mean) = difference(&rendered(&ours, 945), &rendered(&drawing, 945));
        assert!(far < 2e-4 && mean < 1e-3, "{far} {mean} {drawing}");
    }
}

#[test]
fn a_hole_that_touches_its_shape_stays_open_in_every_file() {
    // A frame, in it a diamond with a triangular hole whose tip touches the diamond's side.
    let drawing = b"<svg xmlns='http://www.w3.org/2000/svg' width='40mm' height='40mm' viewBox='0 0 40 40'>\
        <path fill-rule='evenodd' d='M0 0H40V40H0Z M4 4H36V36H4Z M20 8L32 20L20 32L8 20Z M14 14L24 18L18 24Z'/></svg>";
    for turned in [0, 37, 90, 180] {
        let job = format!(
            "sheet: {{paper: [64 mm, 64 mm], margin: 3 mm, guides: no, turn: no}}\nlabels:\n  - {{name: a, spares: 0, parts: [{{art: {{file: a.svg, width: 36 mm, paint: black, turned: {turned}}}}}]}}\n"
        );
        let laid = with_file(&job, drawing).laid.unwrap();
        let (pdf, svg) =
            (pdf_picture(file(&laid, "t-clear.pdf")), svg_picture(&file(&laid, "t-clear-1.svg")));
        assert!(pdf.differs_from(&svg) < 0.001, "{turned}");
        // Of 40 units as 36 mm: 1600 - 1024 + 288 - 42 units (school geometry).
        let ink: f64 = pdf.rows.iter().flatten().map(|dot| f64::from(255 - dot) / 255.0).sum();
        let mm2 = ink / DOTS / DOTS;
        assert!((mm2 - 822.0 * 0.81).abs() < 1.0, "{turned}: {mm2}");
    }
}

#[test]
fn hostile_drawings_end_in_a_message_in_time() {
    let open = format!(r#"<svg {NS} width="40mm" height="40mm" viewBox="0 0 100 100">"#);
    let laughs: String = (1..12)
        .map(|n| {
            format!(
                r##"<g id="a{n}">{}</g>"##,
                format!(r##"<use href="#a{}"/>"##, n - 1).repeat(10)
            )
        })
        .collect();
    let entities = r#"<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>"#;
    let outside = r#"<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hosts">]>"#;
    // Lines across the page and back: each crosses nearly all others.
    let mut seed = 7_u64;
    let mut next = move || {
        // Knuth's MMIX generator, TAOCP vol. 2, 3.3.4, from memory.
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 40) % 100_000
    };
    let zigzag: String =
        (0..20_000).map(|_| format!("L{} {}", next() as f64 / 1e3, next() as f64 / 1e3)).collect();
    let discs: String = (0..3_000)
        .map(|_| format!(r#"<circle cx="{}" cy="50" r="45"/>"#, next() as f64 / 1e3))
        .collect();
    let hostile = [
        format!(r#"{open}<g id="a0"><path d="M0 0h1v1z"/></g>{laughs}</svg>"#),
        format!("{entities}{open}<desc>&b;</desc></svg>"),
        format!("{outside}{open}<desc>&x;</desc></svg>"),
        format!("{open}{}{}</svg>", "<g>".repeat(500_000), "</g>".repeat(500_000)),
        format!("{open}{}", "<g>".repeat(1_000_000)),
        format!(r#"{open}<image href="file:///etc/hosts"/></svg>"#),
        format!(r#"{open}<use href="http://example.org/x.svg#a"/></svg>"#),
        format!(r#"{open}{}</svg>"#, "<rect/>".repeat(400_000)),
        format!(r#"{open}<path d="M0 0{zigzag}"/></svg>"#),
        format!(r#"{open}<path d="M0 0{zigzag}" fill="none" stroke="red"/></svg>"#),
        format!(r#"{open}{discs}</svg>"#),
        format!(r#"{open}<path d="M0 0H100" stroke="red" stroke-dasharray="0.00001"/></svg>"#),
        format!(r#"{open}<path d="M0 0L1e38 1e38 0 1e38Z"/></svg>"#),
        format!("{open}<desc>{}</desc></svg>", "a".repeat(8 * 1024 * 1024)),
        "\0".repeat(1024),
        String::new(),
    ];
    for file in hostile {
        let began = Instant::now();
        let outcome = with_file(&part("{file: v.svg, paint: black}"), file.as_bytes());
        let took = began.elapsed();
        let head: String = file.chars().skip(140).take(120).collect();
        assert!(took < Duration::from_secs(5), "{took:?} for {head}");
        assert!(outcome.findings.any_error(), "{head}");
        for finding in outcome.findings.list().iter().filter(|one| one.code == "bad-art") {
            assert!(!finding.help.is_empty() && finding.message.len() < 400, "{finding:?}");
        }
    }
}

#[test]
fn symbols_take_the_place_size_and_paint_they_are_given() {
    let job = "sheet: {film: white}\nlabels:\n  - {name: a, parts: [symbol: off]}\n  - {name: b, style: key, text: {cap_height: 4 mm}, parts: [symbol: {name: 'on', size: 10 mm, stroke: 0.5 mm, turned: 90}]}\n";
    let outcome = with_file(job, b"");
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let designs = outcome.laid.unwrap().designs;
    // Twice the cap height of 3 mm is the grid's 20 units: an outer diameter of 18 units is 5.4 mm.
    assert!((designs[0].marks[0].path.bounds().width() - 5.4).abs() < 1e-3);
    // The key's text is clear, and so is its symbol: a level bar of 9 x 0.5 mm is cut out of the box.
    let key = &designs[1].marks[0].path;
    let hole = key.contours().find(|contour| kurbo::Shape::area(contour) < 0.0).unwrap();
    let bounds = kurbo::Shape::bounding_box(&hole);
    assert!((bounds.width() - 9.0).abs() < 1e-3 && (bounds.height() - 0.5).abs() < 1e-3);
}

#[test]
fn symbols_that_may_mislead_are_told() {
    let job = "sheet: {film: white}\nlabels:\n  - {name: a, parts: [symbol: off, text: STAND-BY]}\n  - {name: b, parts: [symbol: off, text: POWER]}\n  - {name: c, parts: [row: {parts: [symbol: protective-earth]}]}\n  - {name: d, parts: [symbol: electric-shock, symbol: warning]}\n  - {name: e, parts: [symbol: fann]}\n";
    let outcome = with_file(job, b"");
    let stand_by = of(&outcome, "stand-by-off");
    assert_eq!(stand_by.len(), 1);
    assert_eq!(
        (stand_by[0].label.as_deref(), stand_by[0].severity),
        (Some("a"), Severity::Warning)
    );
    assert_eq!(of(&outcome, "protective-earth")[0].label.as_deref(), Some("c"));
    let hazard = of(&outcome, "no-safety-sign");
    assert!(hazard[0].severity == Severity::Note && hazard[0].help.contains("ISO 7010"));
    assert!(of(&outcome, "unknown-symbol")[0].help.contains("`fan`"));
}
