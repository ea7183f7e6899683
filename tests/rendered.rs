//! The main job, from YAML to pixels: what is written is read back and rendered by programs of other people.
//!
//! PDFs go through hayro, SVGs through resvg, at 600 dpi.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a page that is not as expected fails the test"
)]
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "dots of small pages")]

use decalwright::Placement;
use decalwright::files::Error;
use decalwright::job::{self, Laid, Previews};
use hayro::hayro_interpret as interpret;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use resvg::tiny_skia;

/// Dots to a millimetre at 600 dpi.
pub(crate) const DOTS: f64 = 600.0 / 25.4;

/// A rendered page: rows of grey dots, 0 black to 255 white.
pub(crate) struct Picture {
    pub(crate) rows: Vec<Vec<u8>>,
}

pub(crate) fn laid(job: &str) -> Laid {
    let mut nothing = |name: &str| Err(Error::Outside(name.into()));
    let outcome = job::lay("test.yaml", job.as_bytes(), &mut nothing);
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    outcome.laid.unwrap()
}

pub(crate) fn file(laid: &Laid, name: &str) -> Vec<u8> {
    let files = job::files(laid, "t", Previews::Skipped).all().unwrap();
    files.into_iter().find(|(known, _)| known == name).unwrap().1
}

pub(crate) fn pdf_picture(bytes: Vec<u8>) -> Picture {
    pdf_picture_at(bytes, [600.0; 2])
}

/// The same with other dots to the inch across and down.
pub(crate) fn pdf_picture_at(bytes: Vec<u8>, dpi: [f64; 2]) -> Picture {
    let pdf = Pdf::new(bytes).unwrap();
    let [x_scale, y_scale] = dpi.map(|dpi| (dpi / 72.0) as f32);
    let pixels = hayro::render(
        &pdf.pages()[0],
        &hayro::RenderCache::new(),
        &interpret::InterpreterSettings::default(),
        &hayro::RenderSettings::default(),
        &hayro::PixmapSettings { x_scale, y_scale, bg_color: WHITE },
    );
    let rows = pixels.data().chunks(usize::from(pixels.width()));
    Picture {
        rows: rows.map(|row| row.iter().map(|dot| grey(dot.r, dot.g, dot.b)).collect()).collect(),
    }
}

pub(crate) fn svg_picture(bytes: &[u8]) -> Picture {
    let tree = usvg::Tree::from_data(bytes, &usvg::Options::default()).unwrap();
    let scale = 600.0 / 96.0;
    let (width, height) = (tree.size().width() * scale, tree.size().height() * scale);
    let mut pixels = tiny_skia::Pixmap::new(width.round() as u32, height.round() as u32).unwrap();
    pixels.fill(tiny_skia::Color::WHITE);
    resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut pixels.as_mut());
    let rows = pixels.pixels().chunks(pixels.width() as usize);
    Picture {
        rows: rows
            .map(|row| row.iter().map(|dot| grey(dot.red(), dot.green(), dot.blue())).collect())
            .collect(),
    }
}

fn grey(red: u8, green: u8, blue: u8) -> u8 {
    ((u16::from(red) + u16::from(green) + u16::from(blue)) / 3) as u8
}

impl Picture {
    /// Height in mm of the ink in a column, by coverage, so that half-covered dots count half.
    fn ink_down(&self, x_mm: f64, from_mm: f64, to_mm: f64) -> f64 {
        let column = (x_mm * DOTS) as usize;
        let rows = &self.rows[(from_mm * DOTS) as usize..(to_mm * DOTS) as usize];
        rows.iter().map(|row| f64::from(255 - row[column]) / 255.0).sum::<f64>() / DOTS
    }

    fn at(&self, x_mm: f64, y_mm: f64) -> u8 {
        self.rows[(y_mm * DOTS) as usize][(x_mm * DOTS) as usize]
    }

    /// Share of dots that differ by more than a quarter of full grey.
    pub(crate) fn differs_from(&self, other: &Picture) -> f64 {
        let pairs = self.rows.iter().zip(&other.rows);
        let (mut all, mut different) = (0.0, 0.0);
        for (a, b) in pairs.flat_map(|(a, b)| a.iter().zip(b)) {
            all += 1.0;
            different += f64::from(u8::from(a.abs_diff(*b) > 64));
        }
        different / all
    }
}

const SMALL: &str = "sheet: {paper: [60 mm, 40 mm], margin: 3 mm, guides: no, turn: no}\nprinter: {class: laser-1200}\n";

#[test]
fn pdf_and_svg_show_the_same_sheet() {
    // Two renderers never shade edges alike; whole-dot differences must stay under 1 in 1,000.
    let laid = laid(&format!(
        "{SMALL}labels:\n  - {{text: [FOG, HORN], style: key}}\n  - {{text: '42', style: round}}\n  - {{text: Quay, style: plate}}\n"
    ));
    let (pdf, svg) =
        (pdf_picture(file(&laid, "t-clear.pdf")), svg_picture(&file(&laid, "t-clear-1.svg")));
    // One rounds the page down to whole dots, the other to the nearest.
    assert!(pdf.rows.len().abs_diff(svg.rows.len()) <= 1);
    let different = pdf.differs_from(&svg);
    assert!(different < 0.001, "{different}");
    assert!(pdf.rows.iter().flatten().any(|dot| *dot < 50), "nothing was printed");
}

#[test]
fn capitals_are_as_high_as_promised_in_every_face() {
    // Cap heights of the ISO 3098 series; the tolerance is half a dot at 600 dpi.
    for role in [
        "label",
        "label-reversed",
        "wire",
        "condensed",
        "wide",
        "engraved",
        "plate",
        "stencil",
        "fallback",
    ] {
        let caps = [2.5, 3.5, 5.0, 7.0];
        // The letter I, its stem wide enough for a column of dots to lie inside it.
        let label = |cap: f64| {
            format!("  - {{spares: 0, text: {{text: I, font: {role}, cap_height: {cap}}}}}\n")
        };
        let laid = laid(&format!("{SMALL}labels:\n{}", caps.map(label).concat()));
        let picture = pdf_picture(file(&laid, "t-clear.pdf"));
        for (design, cap) in caps.into_iter().enumerate() {
            let placed = |placement: &&Placement| placement.design == design;
            let placement = laid.sheets[0].placements.iter().find(placed).unwrap();
            let drawn = &laid.designs[design].marks[0].path;
            let outline = drawn.placed(placement.transform()).bounds();
            // The highest column within the left stem: serifs and round corners are lower elsewhere.
            let columns =
                (0..200).map(|step| outline.x0 + outline.width() * f64::from(step) / 400.0);
            let found = columns
                .map(|x| picture.ink_down(x, outline.y0 - 1.0, outline.y1 + 1.0))
                .fold(0.0, f64::max);
            assert!((found - cap).abs() < 0.02, "{role} at {cap} mm: {found}");
        }
    }
}

/// Where the strokes at the two ends of a row of dots lie, by coverage, and how thick the first is.
fn end_strokes(row: &[u8]) -> (f64, f64, f64) {
    let ink = |dot: &u8| f64::from(255 - dot) / 255.0;
    let stroke = |dots: &mut dyn Iterator<Item = (usize, f64)>| {
        let (mut sum, mut weight) = (0.0, 0.0);
        for (at, ink) in dots.skip_while(|(_, ink)| *ink == 0.0).take_while(|(_, ink)| *ink > 0.0) {
            sum += (f64::from(at as u32) + 0.5) * ink;
            weight += ink;
        }
        (sum / weight, weight)
    };
    let (first, thick) = stroke(&mut row.iter().map(ink).enumerate());
    let (last, _) = stroke(&mut row.iter().map(ink).enumerate().rev());
    (first, last, thick)
}

#[test]
fn the_bars_of_100_mm_measure_100_mm() {
    // Bars to be measured with a ruler; 0.05 mm is half of what a steel rule shows.
    let laid = laid("sheet: {paper: A5}\nlabels: [QUAY]\n");
    let picture = pdf_picture(file(&laid, "t-clear.pdf"));
    let dark = |row: &[u8]| row.iter().any(|dot| *dot < 128);
    // The lowest ink on the page is the bar across: a row with two end strokes and the marks between.
    let lowest = picture.rows.iter().rposition(|row| dark(row)).unwrap();
    // Only as far as the bar goes: its length stands beside it.
    let across = &picture.rows[lowest - 25][..(112.0 * DOTS) as usize];
    // The ink furthest right is the bar down.
    let width = picture.rows[0].len();
    let columns: Vec<Vec<u8>> =
        (0..width).map(|x| picture.rows.iter().map(|row| row[x]).collect()).collect();
    let rightmost = columns.iter().rposition(|column| dark(column)).unwrap();
    let down = &columns[rightmost - 25];
    for (bar, row) in [("across", across), ("down", down)] {
        let (first, last, thick) = end_strokes(row);
        // From the outer edge of one end stroke to that of the other.
        let length = (last - first + thick) / DOTS;
        assert!((length - 100.0).abs() < 0.05, "{bar}: {length}");
    }
}

#[test]
fn a_clear_area_is_untouched_paper() {
    let laid = laid(&format!(
        "{SMALL}labels:\n  - name: window\n    spares: 0\n    parts:\n      - box: {{size: [30 mm, 20 mm], fill: '#1d3b4f'}}\n      - disc: {{diameter: 12 mm, paint: clear}}\n"
    ));
    let middle = laid.sheets[0].placements[0].at;
    for picture in
        [pdf_picture(file(&laid, "t-clear.pdf")), svg_picture(&file(&laid, "t-clear-1.svg"))]
    {
        let steps = || (-59..=59).map(|step| f64::from(step) / 10.0);
        for (x, y) in steps().flat_map(|x| steps().map(move |y| (x, y))) {
            if x * x + y * y < 5.9 * 5.9 {
                assert_eq!(picture.at(middle.x + x, middle.y + y), 255, "at {x}, {y}");
            }
        }
        assert!(picture.at(middle.x + 8.0, middle.y) < 100);
    }
}

#[test]
fn clear_letters_in_a_box_are_untouched_paper() {
    let laid = laid(&format!(
        "{SMALL}labels: [{{name: i, spares: 0, film_border: 1, text: {{text: I, font: label, cap_height: 8, paint: clear}}, box: {{size: [20 mm, 14 mm], fill: '#1d3b4f'}}}}]\n"
    ));
    let middle = laid.sheets[0].placements[0].at;
    for picture in
        [pdf_picture(file(&laid, "t-clear.pdf")), svg_picture(&file(&laid, "t-clear-1.svg"))]
    {
        // The stem runs down the middle from 4 mm above to 4 mm below; the tenth next to its ends may be half a dot.
        for step in -39..=39 {
            let y = f64::from(step) / 10.0;
            for x in [-0.2, 0.0, 0.2] {
                assert_eq!(picture.at(middle.x + x, middle.y + y), 255, "at {x}, {y}");
            }
        }
        for (x, y) in [(0.0, -4.2), (0.0, 4.2), (-3.0, 0.0), (3.0, 0.0)] {
            assert!(picture.at(middle.x + x, middle.y + y) < 100, "at {x}, {y}");
        }
    }
}

#[test]
fn a_mirrored_label_is_the_plain_one_seen_in_a_mirror() {
    let job = |sheet: &str, label: &str| {
        laid(&format!(
            "sheet: {{paper: [60 mm, 40 mm], margin: 3 mm, guides: no, turn: no{sheet}}}\nprinter: {{class: laser-1200}}\nlabels: [{{text: QUAY 7, spares: 0{label}}}]\n"
        ))
    };
    let plain = job(", applied: face-up", "");
    // Said of the sheet, and of the label alone.
    for mirrored in [job(", applied: face-down", ""), job("", ", applied: inside-window")] {
        seen_in_a_mirror(&plain, &mirrored);
    }
}

fn seen_in_a_mirror(plain: &Laid, mirrored: &Laid) {
    let ink = |laid: &Laid| {
        let placement = laid.sheets[0].placements[0];
        placement.transform().transform_rect_bbox(laid.designs[0].size())
    };
    let (area, picture) = (ink(plain), pdf_picture(file(plain, "t-clear.pdf")));
    let seen = pdf_picture(file(mirrored, "t-clear.pdf"));
    assert_eq!(area, ink(mirrored));
    let steps = |from: f64, to: f64| {
        (0..200).map(move |step| from + (to - from) * (f64::from(step) + 0.5) / 200.0)
    };
    let mut different = 0;
    for y in steps(area.y0, area.y1) {
        for x in steps(area.x0, area.x1) {
            let flipped = area.x0 + area.x1 - x;
            different += i32::from(picture.at(x, y).abs_diff(seen.at(flipped, y)) > 128);
        }
    }
    // Samples that fall on an edge may round to either side.
    assert!(different < 400, "{different} of 40,000");
    assert!(picture.differs_from(&seen) > 0.001, "the mirrored sheet is not mirrored at all");
}

#[test]
fn box_minus_clear_text_is_the_difference_of_the_areas() {
    let area = |label: &str| -> f64 {
        let laid = laid(&format!("{SMALL}labels: [{{name: a, film_border: 1, {label}}}]\n"));
        laid.designs[0].marks.iter().map(|mark| mark.path.area()).sum()
    };
    let frame = "box: {size: [50 mm, 14 mm], fill: black}";
    let text = |paint: &str| {
        format!("text: {{text: 'Quay 2&8', cap_height: 6, font: label, paint: {paint}}}")
    };
    let both = area(&format!("{frame}, {}", text("clear")));
    let apart = area(frame) - area(&text("black"));
    assert!((both / apart - 1.0).abs() < 0.001, "{both} {apart}");
}

#[test]
fn page_boxes_equal_the_paper() {
    // ISO 216: A5 148 x 210 mm, A6 105 x 148 mm; Letter 8.5 x 11 in; one point is 1/72 in.
    for (paper, width, height) in [
        ("A5", 148.0, 210.0),
        ("A6", 105.0, 148.0),
        ("Letter", 215.9, 279.4),
        ("A6 landscape", 148.0, 105.0),
    ] {
        let laid = laid(&format!("sheet: {{paper: {paper}}}\nlabels: [QUAY]\n"));
        let pdf = Pdf::new(file(&laid, "t-clear.pdf")).unwrap();
        for found in [pdf.pages()[0].media_box(), pdf.pages()[0].crop_box()] {
            let mm = |points: f64| points * 25.4 / 72.0;
            assert!((mm(found.x1 - found.x0) - width).abs() < 0.01, "{paper}");
            assert!((mm(found.y1 - found.y0) - height).abs() < 0.01, "{paper}");
        }
    }
}

#[test]
fn markers_have_letters_as_high_as_promised() {
    // The series of ISO 3098 and its tolerance of half a dot; a sleeve is drawn larger by what it shrinks.
    for (kind, diameter, cap) in [
        ("wrap", 2.6, 2.5),
        ("laminated", 4.0, 3.5),
        ("flag", 1.0, 5.0),
        ("flag-along", 1.0, 1.8),
        ("sleeve", 6.0, 2.5),
    ] {
        let laid = laid(&format!(
            "{SMALL}wires:\n  text: I\n  marker: {{kind: {kind}, film: clear, cap_height: {cap}, face: 20 mm}}\n  list: [{{wire: I, from: 'A:1', to: 'B:1', diameter: {diameter}}}]\n"
        ));
        let picture = pdf_picture(file(&laid, "t-clear.pdf"));
        let placement = laid.sheets[0].placements[0];
        let design = &laid.designs[placement.design];
        let stretch = laid.spec.labels[design.label].marker_of().unwrap().stretch.y;
        let letter = design.marks[0].path.placed(placement.transform()).bounds();
        let columns = (0..200).map(|step| letter.x0 + letter.width() * f64::from(step) / 200.0);
        let found = columns
            .map(|x| picture.ink_down(x, letter.y0 - 0.5, letter.y1 + 0.5))
            .fold(0.0, f64::max);
        assert!((found - cap * stretch).abs() < 0.03, "{kind} at {cap} mm: {found}");
        // What it shrinks to round the wire is what was promised.
        assert!(kind == "sleeve" || (stretch - 1.0).abs() < 1e-9);
    }
}
