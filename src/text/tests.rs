use super::*;
use crate::{
    colour::Colour,
    finding::{Place, Severity},
    spec::{Arc, Paint, Reads},
};
use kurbo::{Affine, Point, Shape as _, Size};
use resvg::tiny_skia;

const ROLES: [&str; 8] =
    ["label", "label-reversed", "wire", "condensed", "wide", "stencil", "engraved", "plate"];

fn text(font: &str, lines: &[&str], size: TextSize) -> Text {
    Text {
        lines: lines.iter().map(|line| (*line).to_owned()).collect(),
        font: font.into(),
        size,
        tracking: 0.0,
        line_pitch: 1.6,
        align: Align::Centre,
        width: None,
        spread: None,
        arc: None,
        tabular: false,
        paint: Paint::Ink(Colour::BLACK),
        place: Place { file: 0, start: 3, end: 9 },
    }
}

fn caps(font: &str, line: &str) -> Text {
    text(font, &[line], TextSize::CapHeight(3.5))
}

/// Sets a text whatever is found.
fn block(text: &Text) -> Block {
    set(&Faces::bundled(), text, &mut Findings::default())
}

/// Sets a text that must come out without findings worse than a note.
fn quietly(text: &Text) -> Block {
    let mut findings = Findings::default();
    let block = set(&Faces::bundled(), text, &mut findings);
    let loud = findings.list().iter().find(|finding| finding.severity != Severity::Note);
    assert_eq!(loud, None, "{:?}", text.lines);
    block
}

/// What is found when a text is set, all of it at the text's place.
fn found(text: &Text) -> Vec<(Severity, &'static str, String, String)> {
    let mut findings = Findings::default();
    let _ = set(&Faces::bundled(), text, &mut findings);
    let place = Some(text.place);
    assert!(findings.list().iter().all(|finding| finding.place == place));
    let found = findings.list().iter();
    found.map(|it| (it.severity, it.code, it.message.clone(), it.help.clone())).collect()
}

#[test]
fn a_flat_capital_is_as_tall_as_asked() {
    // ISO 3098 lettering heights 2.5, 3.5, 5 and 7 mm.
    for role in ROLES {
        for height in [2.5, 3.5, 5.0, 7.0] {
            let block = quietly(&text(role, &["H"], TextSize::CapHeight(height)));
            let ink = block.outline.bounds();
            assert!((ink.height() - height).abs() < 0.001, "{role} {height} {ink:?}");
            // One face's H reaches 2 of 1000 units below the base line.
            assert!(ink.center().y.abs() < 0.003 * height, "{role} {ink:?}");
        }
    }
}

#[test]
fn the_width_without_drawing_is_the_width_as_drawn() {
    let text = text("wire", &["W07", "A1:D12 > X2:5"], TextSize::CapHeight(2.5));
    let drawn = quietly(&text).area().width();
    assert!(drawn > 10.0);
    assert!((width_in_caps(&Faces::bundled(), &text) * 2.5 - drawn).abs() < 1e-9);
}

#[test]
fn pairs_are_kerned_where_the_face_has_kerning() {
    // The manifest: label, reversed, condensed, stencil and plate kern by GPOS, engraved by a kern table.
    for role in ["label", "label-reversed", "condensed", "plate", "engraved"] {
        let width = |line: &str| quietly(&caps(role, line)).area().width();
        assert!(width("AV") < width("A") + width("V") - 0.05, "{role}");
        assert!(width("To") < width("T") + width("o") - 0.05, "{role}");
    }
    // The wire face has none: its letters keep their pitch.
    let width = |line: &str| quietly(&caps("wire", line)).area().width();
    assert!((width("AV") - width("A") - width("V")).abs() < 1e-9);
}

#[test]
fn a_letter_typed_two_ways_looks_the_same() {
    // Unicode: U+00B5 and U+03BC are the same sign, U+2126 is U+03A9, U+212B is U+00C5; É is E + U+0301.
    for (one, other) in
        [("\u{B5}", "\u{3BC}"), ("\u{2126}", "\u{3A9}"), ("\u{212B}", "\u{C5}"), ("É", "E\u{301}")]
    {
        for role in ROLES {
            let outline = |line| block(&caps(role, line)).outline;
            assert_eq!(outline(one), outline(other), "{role} {one}");
            assert!(!outline(one).is_empty(), "{role} {one}");
        }
    }
}

#[test]
fn a_micro_sign_is_never_dropped() {
    // The wide and plate faces draw nothing for a missing glyph, so "15µA" would print as "15 A".
    for role in ROLES {
        let (with, without) = (block(&caps(role, "15µA")), block(&caps(role, "15A")));
        assert!(with.area().width() > without.area().width() + 1.0, "{role}");
        assert!(with.outline.area() > without.outline.area() + 0.5, "{role}");
    }
}

#[test]
fn sets_the_words_of_many_languages() {
    for line in [
        "Größe / Straßenlampe",
        "Zażółć gęślą jaźń",
        "Éclairage à bâbord, cœur",
        "Příliš žluťoučký kůň",
        "Ισχύς 12 Ω",
        "Освещение порта",
        "−5 … +60 °C ±0.5 µA ≤ 3 × 10³ Ω → ● ▲",
        "İstanbul / Isparta",
        "fi fl AV To",
    ] {
        let mut findings = Findings::default();
        let block = set(&Faces::bundled(), &caps("label", line), &mut findings);
        assert!(!findings.any_error(), "{line}: {findings:?}");
        assert_eq!(block.lines[0].text, line);
        assert!(block.outline.area() > 1.0);
    }
}

#[test]
fn refuses_letters_no_face_has_by_name() {
    for (line, sign) in [("ميناء", "U+0645"), ("नौका", "U+0928"), ("港", "港 (U+6E2F)")]
    {
        let reports = found(&caps("label", line));
        assert_eq!(reports.len(), 1, "{reports:?}");
        let (severity, code, message, help) = &reports[0];
        assert_eq!((*severity, *code), (Severity::Error, "missing-glyph"));
        assert!(message.contains(line) && message.contains(sign), "{message}");
        assert!(message.contains("the face label has no"), "{message}");
        assert!(help.starts_with("no bundled face has it"), "{help}");
    }
}

#[test]
fn reports_where_a_letter_is_borrowed() {
    let reports = found(&caps("wide", "kλ 15"));
    let (severity, code, message, _) = &reports[0];
    assert_eq!((*severity, *code), (Severity::Warning, "fallback-letter"), "{reports:?}");
    assert!(message.contains("λ (U+03BB)"), "{message}");
    let reports = found(&caps("label", "GO ⏻"));
    assert_eq!((reports[0].0, reports[0].1), (Severity::Note, "fallback-symbol"));
    let reports = found(&caps("label", "Порт 3"));
    assert_eq!((reports[0].0, reports[0].1), (Severity::Note, "fallback-word"));
    assert_eq!(reports.len(), 1);
}

#[test]
fn borrowed_letters_are_as_tall_as_the_others() {
    // Cyrillic Н is drawn as Latin H.
    let block = quietly(&caps("label", "Н"));
    assert!((block.outline.bounds().height() - 3.5).abs() < 0.001);
}

#[test]
fn warns_where_letters_and_figures_look_alike() {
    // The manifest gives engraved 0/O 0.04 and label 0.42.
    let reports = found(&caps("engraved", "KO10"));
    assert_eq!(reports.len(), 1, "{reports:?}");
    assert_eq!((reports[0].0, reports[0].1), (Severity::Warning, "confusable-letters"));
    assert!(reports[0].2.contains("0 and O"), "{}", reports[0].2);
    assert_eq!(found(&caps("engraved", "KO")), []);
    assert_eq!(found(&caps("label", "KO10")), []);
}

#[test]
fn directions_are_never_mixed_in_one_line() {
    // No face at hand has Hebrew letters, so only the rule is tested here.
    assert!(line::is_mixed("אב AB"));
    assert!(line::is_mixed("אב 12"));
    assert!(!line::is_mixed("אב!"));
    assert!(!line::is_mixed("AB 12 →"));
}

#[test]
fn text_too_wide_is_reported_and_never_shrunk() {
    let mut asked = caps("wide", "HARBOUR LIGHTS");
    let free = quietly(&asked);
    let needed = free.outline.bounds().width();
    asked.width = Some(40.0);
    let mut findings = Findings::default();
    let block = set(&Faces::bundled(), &asked, &mut findings);
    assert_eq!(block, free);
    let finding = &findings.list()[0];
    assert_eq!((finding.severity, finding.code), (Severity::Error, "text-too-wide"));
    let (measured, room) = finding.measured.expect("measured");
    assert!((measured - needed).abs() < 1e-9 && (room - 40.0).abs() < 1e-9);
    assert!(finding.message.ends_with(", has 40 mm"), "{}", finding.message);
    assert!(finding.help.contains("condensed"), "{}", finding.help);
    // What the help says fits, fits; a hundredth more does not.
    let largest: f64 =
        finding.help.split(' ').nth(1).and_then(|number| number.parse().ok()).expect("a number");
    asked.size = TextSize::CapHeight(largest);
    assert_eq!(found(&asked), []);
    asked.size = TextSize::CapHeight(largest + 0.01);
    assert_eq!(found(&asked).len(), 1);
    // Exactly as wide as allowed is allowed.
    asked.size = TextSize::CapHeight(3.5);
    asked.width = Some(needed);
    assert_eq!(found(&asked), []);
}

#[test]
fn a_fit_touches_the_room_it_is_given() {
    let fit = text("label", &["PUMP", "gauge"], TextSize::FillBox(Size::new(20.0, 50.0)));
    let ink = quietly(&fit).outline.bounds();
    assert!((ink.width() - 20.0).abs() < 1e-4 && ink.height() < 50.0, "{ink:?}");
    let fit = text("label", &["PUMP", "gauge"], TextSize::FillBox(Size::new(200.0, 9.0)));
    let ink = quietly(&fit).outline.bounds();
    assert!((ink.height() - 9.0).abs() < 1e-4 && ink.width() < 200.0, "{ink:?}");
}

#[test]
fn an_em_is_the_fonts_own_square() {
    // The manifest: label's H is 668 of 1000 units high.
    let block = quietly(&text("label", &["H"], TextSize::Em(10.0)));
    assert!((block.cap_height_mm - 6.68).abs() < 0.001);
}

#[test]
fn lines_lie_on_their_pitch_and_by_their_alignment() {
    let mut asked = text("label", &["TIDE", "GO"], TextSize::CapHeight(5.0));
    asked.line_pitch = 2.0;
    for (align, edge) in [
        (Align::Left, (|area: Rect| area.x0) as fn(Rect) -> f64),
        (Align::Centre, |area| area.center().x),
        (Align::Right, |area| area.x1),
    ] {
        asked.align = align;
        let block = quietly(&asked);
        let areas: Vec<Rect> = block.lines.iter().map(|line| line.area).collect();
        assert!(areas.iter().all(|area| edge(*area).abs() < 1e-9), "{align:?}");
        // Cap height 5, pitch 2 x 5: from -7.5 (first cap line) to 7.5 (last base line).
        assert!((areas[0].y0 + 7.5).abs() < 1e-9 && (areas[0].y1 + 2.5).abs() < 1e-9);
        assert!((areas[1].y0 - 2.5).abs() < 1e-9 && (areas[1].y1 - 7.5).abs() < 1e-9);
        assert!((block.area().height() - 15.0).abs() < 1e-9);
    }
}

#[test]
fn outer_blanks_count_and_the_last_tracking_does_not() {
    let plain = quietly(&caps("label", "GO"));
    // Two blanks before and one after: as wide as the face says, read by ttf-parser, in shares of its capitals.
    let bytes = include_bytes!(
        "../../fonts-free/atkinson-hyperlegible-next/AtkinsonHyperlegibleNext-Medium.ttf"
    );
    let face = ttf_parser::Face::parse(bytes, 0).unwrap();
    let advance = |c| f64::from(face.glyph_hor_advance(face.glyph_index(c).unwrap()).unwrap());
    let capital = face.glyph_bounding_box(face.glyph_index('H').unwrap()).unwrap();
    let blank = advance(' ') / f64::from(capital.y_max) * 3.5;
    let blanks = quietly(&caps("label", "  GO "));
    assert!((blanks.area().width() - plain.area().width() - 3.0 * blank).abs() < 1e-6);
    // Centred with its blanks: half of one further right.
    let moved = blanks.outline.bounds().x0 - plain.outline.bounds().x0;
    assert!((moved - blank / 2.0).abs() < 1e-6, "{moved} {blank}");
    let tracked = quietly(&Text { tracking: 0.2, ..caps("label", "GO") });
    // One gap between two letters: 0.2 x 3.5 mm.
    let wider = tracked.area().width() - plain.area().width();
    assert!((wider - 0.7).abs() < 1e-9, "{wider}");
}

#[test]
fn tabular_figures_are_of_one_width() {
    let width = |line: &str| quietly(&Text { tabular: true, ..caps("label", line) }).area().width();
    assert!((width("111") - width("888")).abs() < 1e-6);
    assert!((quietly(&caps("label", "111")).area().width() - width("888")).abs() > 0.1);
}

/// A raster of 40 dots to the mm, painted by a general-purpose renderer (resvg), non-zero rule.
fn painted_mm2(block: &Block) -> f64 {
    const SCALE: f64 = 40.0;
    let ink = block.outline.bounds().inflate(0.5, 0.5);
    let to_dots = Affine::scale(SCALE) * Affine::translate(-ink.origin().to_vec2());
    let path = (to_dots * block.outline.path()).to_svg();
    let (width, height) = ((ink.width() * SCALE).ceil(), (ink.height() * SCALE).ceil());
    let svg = format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{width}' height='{height}'><path d='{path}'/></svg>"
    );
    let tree = usvg::Tree::from_str(&svg, &usvg::Options::default()).expect("a drawing");
    let size = tree.size().to_int_size();
    let mut dots = tiny_skia::Pixmap::new(size.width(), size.height()).expect("a raster");
    resvg::render(&tree, tiny_skia::Transform::identity(), &mut dots.as_mut());
    let full: f64 = dots.pixels().iter().map(|dot| f64::from(dot.alpha()) / 255.0).sum();
    full / (SCALE * SCALE)
}

#[test]
fn the_area_of_set_text_is_what_a_renderer_paints() {
    for role in ROLES {
        for line in ["HARBOUR 3080", "Größe Ångström", "AVAWA fi fj Éœ"] {
            let block = block(&caps(role, line));
            let (area, painted) = (block.outline.area(), painted_mm2(&block));
            assert!((area - painted).abs() < 0.005 * painted, "{role} {line} {area} {painted}");
        }
    }
}

#[test]
fn no_point_is_covered_twice_or_wound_the_wrong_way() {
    // The condensed face untracked, and negative tracking, make neighbours overlap.
    for (role, line, tracking) in
        [("condensed", "rnAVftÅ", -0.1), ("stencil", "KWåLTÉ", 0.0), ("label", "ŔĄŐ%@&8", -0.15)]
    {
        let block = block(&Text { tracking, ..caps(role, line) });
        let (bounds, path) = (block.outline.bounds(), block.outline.path());
        let mut inside = 0;
        for at in 0..90_000_u32 {
            let share = Point::new(f64::from(at % 300) + 0.37, f64::from(at / 300) + 0.41);
            let point = bounds.origin()
                + Vec2::new(share.x / 300.0 * bounds.width(), share.y / 300.0 * bounds.height());
            let winding = path.winding(point);
            assert!(winding == 0 || winding == 1, "{role} {line} {point:?} {winding}");
            inside += winding;
        }
        assert!(inside > 3_600);
    }
}

#[test]
fn a_jobs_own_font_sets_text_under_its_name() {
    let mut faces = Faces::bundled();
    let bytes = include_bytes!("../../fonts-free/krona-one/KronaOne-Regular.ttf").to_vec();
    faces.add("mast", bytes, 0).expect("a font");
    let own = set(&faces, &caps("mast", "PIER"), &mut Findings::default());
    assert_eq!(own.outline, quietly(&caps("wide", "PIER")).outline);
}

#[test]
fn an_unknown_font_is_an_error_with_a_hint() {
    assert_eq!(found(&caps("labell", "GO"))[0].1, "unknown-font");
}

#[test]
fn a_very_wide_arc_is_a_straight_line_the_right_way_up() {
    // A circle of 5 m rises by 10² / (2 · 5000) = 0.01 mm over half of a word of 20 mm (sagitta).
    let straight = quietly(&caps("label", "RUDDER 4L"));
    for (reads, centre, foot) in [(Reads::Outward, 0.0, -5000.0), (Reads::Inward, 180.0, 5000.0)] {
        let arc = Some(Arc { radius: 5000.0, centre, reads });
        let bent = quietly(&Text { arc, ..caps("label", "RUDDER 4L") });
        let level = straight.outline.placed(Affine::translate((0.0, foot - 3.5 / 2.0)));
        let apart = bent.outline.minus(&level).area() + level.minus(&bent.outline).area();
        assert!(apart < 0.05 * straight.outline.area(), "{reads:?}: {apart}");
        assert!(bent.lines[0].turned_deg.rem_euclid(360.0).abs() < 1e-9);
        assert!((bent.lines[0].area.center().y - (foot - 1.75)).abs() < 1e-6);
    }
}

#[test]
fn letters_on_an_arc_are_turned_and_not_bent() {
    let asked = Text { tracking: 2.0, ..caps("label", "HHH") };
    let area = quietly(&asked).outline.area();
    let arc = Some(Arc { radius: 12.0, centre: 90.0, reads: Reads::Outward });
    let bent = quietly(&Text { arc, ..asked });
    assert!((bent.outline.area() - area).abs() < 1e-6);
    // The middle H lies on its side: its feet at 12 mm to the right, its head 3.5 mm further.
    let middle =
        bent.outline.contours().map(|one| one.bounding_box()).find(|one| one.contains((13.0, 0.9)));
    let middle = middle.unwrap_or_default();
    assert!((middle.x0 - 12.0).abs() < 0.01 && (middle.x1 - 15.5).abs() < 0.01, "{middle:?}");
}

#[test]
fn crowded_letters_on_an_arc_are_reported() {
    let arc = Some(Arc { radius: 7.0, centre: 180.0, reads: Reads::Inward });
    assert_eq!(found(&Text { arc, ..caps("label", "HHHHHHHHHH") })[0].1, "letters-touch");
}
