//! Panels: legends where the holes are, holes where the drill table says, in every output.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a panel that does not come out as its brief says fails the test"
)]
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "dots of small pages")]

use crate::jobs::{brief, folder, named, run};
use crate::rendered::{DOTS, pdf_picture};
use decalwright::finding::Severity;
use decalwright::job::{self, Laid, Previews, files};
use decalwright::{Design, Plate, Role, Words};
use kurbo::{Affine, BezPath, ParamCurveNearest as _, PathEl, Point, Shape as _, Vec2};
use std::collections::BTreeMap;

/// The drill table as the csv crate reads it: name, middle from the top left corner, hole and keep-out, mm.
fn drill_table(name: &str) -> Vec<(String, Point, f64, f64)> {
    let mut table = csv::Reader::from_path(folder().join(name)).unwrap();
    let rows = table.records().map(|row| {
        let row = row.unwrap();
        let number = |at: usize| row[at].parse::<f64>().unwrap();
        (row[0].to_owned(), Point::new(number(2), number(3)), number(4), number(5))
    });
    rows.collect()
}

/// Where a design's own origin lies on a panel 400 x 260, from its top left corner.
fn on_top(design: &Design) -> Vec2 {
    design.on_panel.unwrap().at + Vec2::new(200.0, 130.0)
}

fn console(job: &str) -> Laid {
    let outcome = run(job);
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    outcome.laid.unwrap()
}

#[test]
fn legends_stand_at_their_holes_and_out_of_every_keep_out_circle() {
    let laid = console(&brief("console.yaml"));
    let table = drill_table("console.csv");
    assert_eq!(table.len(), 16);
    // Four toggles with ON and OFF each: eight labels that stayed text.
    let alone = |one: &&Design, word: &str| one.words.len() == 1 && one.words[0].text == word;
    let pairs = |word: &str| laid.designs.iter().filter(|one| alone(one, word)).count();
    assert_eq!((pairs("ON"), pairs("OFF")), (4, 4));
    for design in &laid.designs {
        for mark in design.marks.iter().filter(|mark| mark.role != Role::Fill) {
            for (hole, middle, _, keep_out) in &table {
                let middle = *middle - on_top(design);
                let near = mark.path.segments().map(|one| one.nearest(middle, 1e-6).distance_sq);
                let near = near.fold(f64::MAX, f64::min).sqrt();
                assert!(near >= keep_out / 2.0 + 1.0, "{} is {near} from {hole}", design.name);
            }
        }
    }
    // Words of the selector at 24 mm from (70, 80): x = 70 + 24 sin a, y = 80 - 24 cos a (trigonometry).
    let positions = named(&laid.designs, "positions-R1");
    for (word, x, y) in [("OFF", 46.818, 73.788), ("NIGHT", 86.971, 63.029)] {
        let words = positions.words.iter().find(|one| one.text == word).unwrap();
        let found = words.area.center() + on_top(positions);
        assert!((found - Point::new(x, y)).hypot() < 0.02, "{word} at {found:?}");
    }
    // Its hole of 7.4 mm is cut out of the round decal that lies over it: two contours.
    let trim = &named(&laid.designs, "scale-P1").trim;
    let disc = std::f64::consts::PI * (26.0 * 26.0 - 3.7 * 3.7);
    assert!((trim.area() - disc).abs() < 0.5 && trim.contours().count() == 2, "{}", trim.area());
    // Eleven marks from -135 degrees by 27 each: mark 3 at -54, mark 5 straight up at x = 170.
    let scale = named(&laid.designs, "scale-P1");
    assert_eq!(scale.words.len(), 11);
}

#[test]
fn every_background_runs_past_its_cut() {
    let laid = console(&brief("console.yaml"));
    for design in &laid.designs {
        assert!((design.bleed_mm - 1.0).abs() < 1e-9, "{}", design.name);
        let ground = design.marks.iter().find(|mark| mark.role == Role::Fill).unwrap();
        let ink = ground.path.bounds().inflate(-0.99, -0.99);
        assert_eq!(ink.union(design.size()), ink, "{}", design.name);
    }
}

/// Middles and diameters of the round contours among some paths.
fn rounds(paths: &[BezPath]) -> Vec<(Point, f64)> {
    let mut found = Vec::new();
    for path in paths {
        for contour in path.elements().split_inclusive(|one| *one == PathEl::ClosePath) {
            let contour: BezPath = contour.iter().copied().collect();
            let (bounds, area) = (contour.bounding_box(), contour.area().abs());
            let disc = std::f64::consts::PI * bounds.width() * bounds.height() / 4.0;
            if (bounds.width() - bounds.height()).abs() < 0.01 && (area / disc - 1.0).abs() < 0.001
            {
                found.push((bounds.center(), bounds.width()));
            }
        }
    }
    found
}

/// Every path of an SVG as it stands in its file.
fn svg_paths(svg: &str) -> Vec<BezPath> {
    let data = svg.split(" d=\"").skip(1).map(|rest| rest.split('"').next().unwrap());
    data.map(|data| BezPath::from_svg(data).unwrap()).collect()
}

/// Every path of a PDF's first page and the forms it places, in points, y up (ISO 32000-1, 8.5.2 and 8.10).
fn pdf_paths(bytes: &[u8]) -> Vec<BezPath> {
    let document = lopdf::Document::load_mem(bytes).unwrap();
    let page = document.get_pages()[&1];
    let content = document.get_page_content(page);
    let resources = document.get_dictionary(page).unwrap().get(b"Resources").unwrap();
    let mut paths = Vec::new();
    walk(&document, (&content, resources), Affine::IDENTITY, &mut paths);
    paths
}

fn walk(
    document: &lopdf::Document,
    (content, resources): (&[u8], &lopdf::Object),
    start: Affine,
    paths: &mut Vec<BezPath>,
) {
    let dictionary =
        |object: &lopdf::Object| document.dereference(object).unwrap().1.as_dict().unwrap().clone();
    let (mut now, mut kept, mut path) = (start, Vec::new(), BezPath::new());
    for operation in lopdf::content::Content::decode(content).unwrap().operations {
        let number = |at: usize| f64::from(operation.operands[at].as_float().unwrap());
        let point = |at: usize| Point::new(number(at), number(at + 1));
        match operation.operator.as_str() {
            "q" => kept.push(now),
            "Q" => now = kept.pop().unwrap(),
            "cm" => now *= Affine::new([0, 1, 2, 3, 4, 5].map(number)),
            "m" => path.move_to(now * point(0)),
            "l" => path.line_to(now * point(0)),
            "c" => path.curve_to(now * point(0), now * point(2), now * point(4)),
            "h" => path.close_path(),
            "f" | "f*" | "S" | "s" | "n" | "B" => paths.push(std::mem::take(&mut path)),
            "Do" => {
                let forms = dictionary(dictionary(resources).get(b"XObject").unwrap());
                let form = forms.get(operation.operands[0].as_name().unwrap()).unwrap();
                let form = document.dereference(form).unwrap().1.as_stream().unwrap();
                let inner = form.decompressed_content().unwrap();
                let own = form.dict.get(b"Resources").unwrap_or(resources);
                walk(document, (&inner, own), now, paths);
            }
            _ => {}
        }
    }
}

/// The console as one overlay on a sheet large enough for it.
fn overlay() -> String {
    brief("console.yaml")
        .replace("deliver: pieces", "deliver: overlay")
        .replace("paper: A4", "paper: [420 mm, 300 mm]")
        .replace("film: white", "film: white, guides: no, turn: no")
}

#[test]
fn holes_are_cut_where_the_drill_table_says() {
    let laid = console(&overlay());
    assert_eq!(laid.designs.len(), 1);
    let written: BTreeMap<String, Vec<u8>> =
        files(&laid, "console", Previews::Skipped).all().unwrap().into_iter().collect();
    let svg = std::str::from_utf8(&written["console-white-1.svg"]).unwrap();
    let in_svg = rounds(&svg_paths(svg));
    let in_pdf = rounds(&pdf_paths(&written["console-white.pdf"]));
    let trim = laid.designs[0].size();
    let paper = laid.sheets[0].paper.size;
    for (hole, middle, diameter, _) in drill_table("console.csv") {
        // An SVG shows a label in its own frame, a form of it is placed; a PDF counts points from below.
        let own = middle - Vec2::new(200.0, 130.0);
        let placed = laid.sheets[0].placements[0].transform() * own;
        let is_there = |(at, wide): &(Point, f64), wanted: Point, unit: f64| {
            at.distance(wanted) * unit < 0.01 && (wide * unit - diameter).abs() < 0.01
        };
        let cut = in_svg.iter().any(|one| is_there(one, own, 1.0) || is_there(one, placed, 1.0));
        assert!(cut, "{hole} is not cut in the SVG: {in_svg:?}");
        let points = Point::new(placed.x, paper.height - placed.y).to_vec2() * (72.0 / 25.4);
        let cut = in_pdf.iter().any(|one| is_there(one, points.to_point(), 25.4 / 72.0));
        assert!(cut, "{hole} is not cut in the PDF: {in_pdf:?}");
    }
    assert!((trim.width() - 400.0).abs() < 1e-9 && (trim.height() - 260.0).abs() < 1e-9);
}

#[test]
fn windows_are_open_in_the_rendered_page() {
    // A dark plate with one hole: the paper shows in the window of hole + 1 mm (common practice, no source).
    let job = "sheet: {film: white, paper: A5, guides: no, turn: no, spares: 0}\nlabels:\n- name: plate\n  size: [60 mm, 40 mm]\n  box: black\n  bleed: 0\n  panel: {mark: none, holes: [{name: A, at: [20 mm, 15 mm], diameter: 10 mm}]}\n";
    let laid = console(job);
    let written: BTreeMap<String, Vec<u8>> =
        files(&laid, "plate", Previews::Skipped).all().unwrap().into_iter().collect();
    let picture = pdf_picture(written["plate-white.pdf"].clone());
    let corner = laid.sheets[0].placements[0].transform() * laid.designs[0].size().origin();
    let dot = |mm: f64| (mm * DOTS) as usize;
    let at = |x: f64, y: f64| picture.rows[dot(corner.y + y)][dot(corner.x + x)] < 128;
    for angle in 0..72 {
        let (sin, cos) = (f64::from(angle) * 5.0).to_radians().sin_cos();
        let on = |radius: f64| at(20.0 + radius * cos, 15.0 + radius * sin);
        assert!(!on(5.5 - 2.0 / DOTS) && on(5.5 + 2.0 / DOTS), "at {} degrees", angle * 5);
    }
}

#[test]
fn the_same_console_on_one_overlay_keeps_every_legend_in_its_place() {
    let pieces = console(&brief("console.yaml"));
    let whole = console(&overlay());
    let whole = &whole.designs[0];
    for piece in &pieces.designs {
        for words in &piece.words {
            let at = words.area.center() + piece.on_panel.unwrap().at;
            let there =
                |one: &&Words| one.text == words.text && one.area.center().distance(at) < 1e-6;
            assert!(whole.words.iter().any(|one| there(&one)), "{} moved", words.text);
        }
    }
}

#[test]
fn as_pieces_a_panels_own_box_is_noted_and_left_out() {
    let job = "labels:\n- name: plate\n  size: [60 mm, 40 mm]\n  box: black\n  panel: {deliver: pieces, holes: [{name: A, at: [20 mm, 15 mm], diameter: 10 mm}], legends: [{hole: A, text: RUN}]}\n";
    let outcome = run(job);
    let told = outcome.findings.list().iter().find(|one| one.code == "not-printed").unwrap();
    assert_eq!(told.severity, Severity::Note);
    let names: Vec<String> =
        outcome.laid.unwrap().designs.iter().map(|one| one.name.clone()).collect();
    assert_eq!(names, ["run"]);
}

#[test]
fn one_thing_in_two_spellings_is_noted() {
    // PUMP 1 and PMP 2 in one set; ASME Y14.38 wants one abbreviation for one word.
    let outcome = run("sheet: {spares: 1}\nlabels: [PUMP 1, PMP 2, FLOW, BED, BEAD, DC, DEC]\n");
    let notes: Vec<_> =
        outcome.findings.list().iter().filter(|one| one.code == "two-spellings").collect();
    assert_eq!(notes.len(), 1);
    assert_eq!(notes[0].severity, Severity::Note);
    assert!(notes[0].message.contains("PMP") && notes[0].message.contains("PUMP"));
    let ink = |design: &Design| design.marks.iter().any(|mark| matches!(mark.plate, Plate::Ink(_)));
    assert!(outcome.laid.unwrap().designs.iter().all(ink));
}

#[test]
fn buttons_and_a_ring_are_cut_round_and_square() {
    let told = run(&brief("buttons.yaml"));
    let wide: Vec<_> =
        told.findings.list().iter().filter(|one| one.code == "text-too-wide").collect();
    // ENTER at 3.2 mm in a box of 14 - 2 x 1.5 = 11 mm: told with both numbers, never shrunk.
    assert_eq!(wide.len(), 1);
    assert!(wide[0].message.contains("11.00 mm") && wide[0].label.as_deref() == Some("key-OK"));
    // As the message says, 2.4 mm fits.
    let laid = console(&brief("buttons.yaml").replace("cap_height: 3.2 mm", "cap_height: 2.4 mm"));
    let of_size = |wanted: f64, area: f64| {
        let fits = |design: &&Design| {
            (design.size().width() - wanted).abs() < 1e-6
                && (design.trim.area() - area).abs() < 0.05
        };
        laid.designs.iter().filter(fits).count()
    };
    // Areas by school geometry: discs, squares with round corners, a ring.
    let pi = std::f64::consts::PI;
    assert_eq!(of_size(20.0, pi * 100.0), 10);
    assert_eq!(of_size(14.0, 196.0 - (4.0 - pi) * 4.0), 12);
    assert_eq!(of_size(48.0, pi * (24.0 * 24.0 - 15.0 * 15.0)), 1);
    // All ten inserts have their capitals on one common height.
    let inserts = laid.designs.iter().filter(|one| (one.size().width() - 20.0).abs() < 1e-6);
    assert!(inserts.clone().all(|one| (one.words[0].area.y1 - 1.3).abs() < 1e-6));
    let written: BTreeMap<String, Vec<u8>> =
        files(&laid, "b", Previews::Skipped).all().unwrap().into_iter().collect();
    let svg = std::str::from_utf8(&written["b-white-1.svg"]).unwrap();
    assert!(usvg::roxmltree::Document::parse(svg).is_ok());
    for text in ["NO", "OK", "<", ">", "+", "-", "*", "#"] {
        let there = |design: &Design| design.words.iter().any(|words| words.text == text);
        assert!(laid.designs.iter().any(there), "{text}");
    }
}

#[test]
fn drawings_of_three_units_give_the_same_width_or_are_asked_about() {
    // $INSUNITS 4 is mm, 1 inches, 0 unitless (from memory); 6.299 in x 25.4 = 159.99 mm.
    let dxf = |unit: &str, width: f64| {
        let circle = |x: f64| {
            format!("0\nCIRCLE\n8\nH\n10\n{x}\n20\n{}\n40\n{}\n", width / 4.0, width / 50.0)
        };
        format!(
            "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{unit}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{}{}0\nENDSEC\n0\nEOF\n",
            circle(width / 16.0),
            circle(width / 16.0 + width)
        )
    };
    let job = "labels:\n- name: lid\n  size: [200 mm, 90 mm]\n  text: LID\n  panel: {drawing: {file: lid.dxf}}\n";
    let lay = |drawing: String| {
        let mut fetch = |_: &str| Ok::<_, decalwright::files::Error>(drawing.clone().into_bytes());
        job::lay("job.yaml", job.as_bytes(), &mut fetch)
    };
    for (unit, width, wanted) in [("4", 160.0, 160.0), ("1", 6.299, 159.9946)] {
        let laid = lay(dxf(unit, width)).laid.unwrap();
        let holes = &laid.spec.panels[0].holes;
        assert!((holes[1].at.x - holes[0].at.x - wanted).abs() < 1e-4, "{holes:?}");
    }
    let codes: Vec<&str> =
        lay(dxf("0", 160.0)).findings.list().iter().map(|one| one.code).collect();
    assert!(codes.contains(&"drawing-unit"), "{codes:?}");
}

#[test]
fn the_placement_list_says_where_on_the_panel_each_decal_goes() {
    let laid = console(&brief("console.yaml"));
    let written: BTreeMap<String, Vec<u8>> =
        files(&laid, "c", Previews::Skipped).all().unwrap().into_iter().collect();
    let text = std::str::from_utf8(&written["c-placement.txt"]).unwrap();
    for spot in ["top, above S1", "top, below S1", "top, round P2", "top, above J2"] {
        assert!(text.contains(spot), "{spot}");
    }
}

/// A panel 120 x 60 on clear film with one hole at (20, 20) and a legend beside it.
fn plate(more: &str, legend: &str) -> String {
    format!(
        "labels:\n- name: plate\n  size: [120 mm, 60 mm]\n  {more}\n  panel:\n    holes: [{{name: A, at: [20 mm, 20 mm], diameter: 8 mm, clear: 12 mm}}]\n    legends: [{{hole: A, text: RAG, side: right, {legend}}}]\n"
    )
}

#[test]
fn a_legend_that_a_window_runs_into_is_told() {
    // The window ends 6 mm from the middle; a gap of 1 mm from the hole of 8 puts the words at 5 mm.
    let codes = |job: &str| -> Vec<_> {
        run(job).findings.list().iter().map(|one| (one.code, one.severity)).collect()
    };
    let told = codes(&plate("note: lid", "gap: 1 mm"));
    assert!(told.contains(&("under-knob", Severity::Error)), "{told:?}");
    let told = codes(&plate("note: lid", "gap: 2.1 mm"));
    assert!(told.iter().all(|one| one.0 != "under-knob"), "{told:?}");
}

#[test]
fn an_overlay_is_as_large_as_its_plate_whatever_its_edge() {
    for more in ["note: lid", "box: black", "film_border: 2 mm", "box: {fill: black, radius: 3 mm}"]
    {
        let outcome = run(&plate(more, "gap: 3 mm, level: 1"));
        let size = outcome.laid.unwrap().designs[0].size();
        assert!(
            (size.width() - 120.0).abs() < 1e-6 && (size.height() - 60.0).abs() < 1e-6,
            "{more}: {size}"
        );
    }
}

#[test]
fn a_symbol_under_a_knob_is_told() {
    // 5 mm high and standing on the middle, it lies within the knob's radius of 10.
    let job = "labels:\n- name: p\n  size: [80 mm, 50 mm]\n  panel:\n    holes: [{name: A, at: [20 mm, 25 mm], diameter: 4 mm, knob: 20 mm}]\n    legends: [{hole: A, parts: [{symbol: {name: lamp, size: 5 mm}}], from_middle: 3 mm}]\n";
    let told = |job: &str| run(job).findings.list().iter().any(|one| one.code == "under-knob");
    assert!(told(job));
    assert!(!told(&job.replace("from_middle: 3 mm", "from_middle: 11 mm")));
}

#[test]
fn a_drawing_under_a_knob_is_told_with_its_share() {
    const SQUARE: &[u8] = b"<svg xmlns='http://www.w3.org/2000/svg' width='10mm' height='10mm' \
        viewBox='0 0 10 10'><path d='M0 0H10V10H0Z'/></svg>";
    let told = |width: u32, at: &str| -> Vec<String> {
        let job = format!(
            "labels:\n- name: p\n  size: [80 mm, 50 mm]\n  panel:\n    mark: none\n    holes: [{{name: A, at: [40 mm, 25 mm], diameter: 4 mm, clear: 5 mm, knob: 20 mm}}]\n    legends: [{{at: {at}, parts: [{{art: {{file: s.svg, width: {width} mm}}}}]}}]\n"
        );
        let outcome = job::lay("p.yaml", job.as_bytes(), &mut |_: &str| Ok(SQUARE.to_vec()));
        assert!(outcome.laid.is_some(), "{:#?}", outcome.findings.list());
        let found = outcome.findings.list().iter().filter(|one| one.code == "under-knob");
        found.map(|one| one.message.clone()).collect()
    };
    // A square of 10 mm with one corner in the middle of a circle of radius 10; a window of diameter 5 is cut out
    // of it: pi (100 - 6.25) / 4 of 100 - pi 6.25 / 4 (school geometry).
    let most = ["the knob at A covers 77 % of the drawing"];
    assert_eq!(told(10, "[45 mm, 30 mm]"), most);
    assert_eq!(told(10, "[60 mm, 30 mm]"), Vec::<String>::new());
    // A ground runs on under the knob.
    assert_eq!(told(50, "[40 mm, 25 mm]"), Vec::<String>::new());
}

#[test]
fn clear_words_over_each_other_are_told() {
    // Boxes 6 mm apart whose words of three letters at 2.5 mm are wider than that.
    let legend = |word: &str, x: u32| {
        format!(
            "    - {{text: {{text: {word}, paint: clear}}, box: {{fill: black}}, at: [{x}, 25]}}\n"
        )
    };
    let job = |x: u32| {
        let head = "labels:\n- name: p\n  size: [80 mm, 50 mm]\n  panel:\n    legends:\n";
        format!("{head}{}{}", legend("ONE", 20), legend("TWO", x))
    };
    for deliver in ["overlay", "pieces"] {
        let told = |x: u32| {
            let job =
                job(x).replace("    legends:", &format!("    deliver: {deliver}\n    legends:"));
            run(&job).findings.list().iter().any(|one| one.code == "legends-touch")
        };
        assert!(told(26) && !told(40), "{deliver}");
    }
}

#[test]
fn a_centre_mark_is_a_cross_in_the_middle_and_nothing_is_cut() {
    let job = "labels:\n- name: plate\n  size: [60 mm, 40 mm]\n  panel: {mark: centre, holes: [{name: A, at: [20 mm, 15 mm], diameter: 10 mm}], legends: [{hole: A, text: RUN}]}\n";
    let laid = console(job);
    let plate = &laid.designs[0];
    assert!((plate.trim.area() - 60.0 * 40.0).abs() < 1e-6);
    // From the top left corner 20 and 15, from the middle -10 and -5.
    let crosses = plate.marks.iter().filter(|mark| mark.role == Role::Line);
    let bounds: Vec<kurbo::Rect> = crosses.map(|mark| mark.path.bounds()).collect();
    assert_eq!(bounds.len(), 1);
    assert!(bounds[0].center().distance(Point::new(-10.0, -5.0)) < 1e-6);
    assert!(bounds[0].width() < 10.0 && (bounds[0].width() - bounds[0].height()).abs() < 1e-6);
}
