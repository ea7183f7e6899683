//! Proofs of whole jobs: what is seen on the paint, every label, every finding, and nothing of a stranger's.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a proof that is not as expected fails the test"
)]

use decalwright::files::Error;
use decalwright::job::{self, Outcome, Previews};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;
use usvg::roxmltree::{Document, Node};

fn outcome(job: &str) -> Outcome {
    let mut nothing = |name: &str| Err(Error::Outside(name.into()));
    job::lay("test.yaml", job.as_bytes(), &mut nothing)
}

fn proof(outcome: &Outcome) -> BTreeMap<String, String> {
    let laid = outcome.laid.as_ref().unwrap();
    let Outcome { findings, sources, .. } = outcome;
    let files = job::proof_files(laid, findings, sources, "t", Previews::Skipped).all().unwrap();
    files.into_iter().map(|(name, bytes)| (name, String::from_utf8(bytes).unwrap())).collect()
}

/// Fills of the group that draws a design as seen, in painting order, with the areas of their paths.
fn seen(svg: &str, label: &str) -> Vec<(String, f64)> {
    let read = Document::parse(svg).unwrap();
    let used = read.descendants().find(|node| node.attribute("data-label") == Some(label)).unwrap();
    let link = used.attribute(("http://www.w3.org/1999/xlink", "href")).unwrap();
    let drawn = read.descendants().find(|node| node.attribute("id") == link.strip_prefix('#'));
    let paths = drawn.unwrap().children().filter(|node| node.has_tag_name("path"));
    let filled = paths.filter(|path| path.attribute("fill") != Some("none"));
    filled
        .map(|path| {
            // kurbo's own SVG path parser as the outside reader.
            let outline = kurbo::BezPath::from_svg(path.attribute("d").unwrap()).unwrap();
            let area = kurbo::Shape::area(&outline);
            (path.attribute("fill").unwrap().to_owned(), area)
        })
        .collect()
}

#[test]
fn ink_is_seen_as_the_textbook_says() {
    // IEC 61966-2-1, by hand. Paint 0x80 = 0.215861 of full light, ink 0xbc = 0.502886.
    // Clear ink (opacity 0): 0.502886 * 0.215861 = 0.108553, coded 92.96 = 0x5d.
    // Ink that keeps a quarter: 0.502886 * (0.25 + 0.75 * 0.215861) = 0.207137, coded 125.65 = 0x7e.
    // Opaque ink: itself.
    for (opacity, colour) in [("0", "#5d5d5d"), ("0.25", "#7e7e7e"), ("1", "#bcbcbc")] {
        let outcome = outcome(&format!(
            "printer: {{class: laser-600, opacity: {opacity}}}\nsurfaces: {{part: {{colour: '#808080'}}}}\nlabels:\n  - {{name: a, on: part, film_border: 1, parts: [{{box: {{size: [20, 10], radius: 0, fill: '#bcbcbc'}}}}]}}\n"
        ));
        let found = seen(&proof(&outcome)["t-proof-part.svg"], "a");
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].0, colour, "{opacity}");
        assert!((found[0].1 - 200.0).abs() < 0.01);
    }
}

#[test]
fn white_film_is_white_to_its_trim_and_bleed_is_cut_off() {
    let outcome = outcome(
        "surfaces: {part: {colour: '#202428'}}\nlabels:\n  - {name: a, on: part, film: white, bleed: 1, parts: [{box: {size: [20, 10], radius: 0, fill: '#ad2b24'}}]}\n",
    );
    let found = seen(&proof(&outcome)["t-proof-part.svg"], "a");
    // On white, ink looks as wanted; ink past the trim of 20 x 10 mm is not seen.
    assert_eq!(found.iter().map(|one| one.0.as_str()).collect::<Vec<_>>(), ["#ffffff", "#ad2b24"]);
    assert!(found.iter().all(|one| (one.1 - 200.0).abs() < 0.01), "{found:?}");
}

#[test]
fn a_label_printed_mirrored_is_seen_from_the_front() {
    // The box lies left of the middle, and stays there.
    let drawn = |applied: &str| {
        let outcome = outcome(&format!(
            "printer: {{class: laser-600, opacity: 0}}\nsurfaces: {{part: {{colour: '#808080'}}}}\nlabels:\n  - {{name: a, on: part, applied: {applied}, size: [20, 10], parts: [{{box: {{size: [8, 6], radius: 0, fill: '#bcbcbc', at: [-5, 0]}}}}]}}\n"
        ));
        let page = &proof(&outcome)["t-proof-part.svg"];
        let from = page.find("<g id=\"d0\">").unwrap();
        page[from..from + page[from..].find("</g>").unwrap()].to_owned()
    };
    let plain = drawn("face-up");
    // By hand as above: clear ink 0xbc over paint 0x80 is 0x5d. From -9 to -1 mm: school geometry.
    assert!(plain.contains("fill=\"#5d5d5d\" d=\"M-9-3h8v6h-8z\""), "{plain}");
    assert_eq!(drawn("inside-window"), plain);
}

#[test]
fn ink_over_the_white_plate_is_seen_on_white() {
    // White of opacity 0.5 over 0x80 (0.215861) is 0.607930, coded 204.6 = 0xcd (0.610496); clear ink 0xbc
    // (0.502886) over that 0.307010, coded 150.45 = 0x96; over the bare paint 0x5d. The plate is choked by 0.5 mm:
    // 19 x 9 mm of 20 x 10, its round corners cut off by no more than (4 - pi) / 4 mm² (IEC 61966-2-1 and geometry).
    let outcome = outcome(
        "printer: {class: white-ink, opacity: 0, white_opacity: 0.5}\nsurfaces: {part: {colour: '#808080'}}\nlabels:\n  - {name: a, on: part, film_border: 1, white: {as: under, choke: 0.5 mm}, parts: [{box: {size: [20, 10], radius: 0, fill: '#bcbcbc'}}]}\n",
    );
    let found = seen(&proof(&outcome)["t-proof-part.svg"], "a");
    let colours: Vec<&str> = found.iter().map(|one| one.0.as_str()).collect();
    assert_eq!(colours, ["#cdcdcd", "#5d5d5d", "#969696"]);
    for (found, wanted) in found.iter().map(|one| one.1).zip([171.0, 200.0, 171.0]) {
        assert!((found - wanted).abs() < 0.25, "{found} {wanted}");
    }
}

#[test]
fn a_backing_lies_under_its_label_and_not_beside_it() {
    let outcome = outcome(
        "printer: {class: laser-600, opacity: 0}\nsurfaces: {part: {colour: '#808080'}}\nlabels:\n  - {name: a, on: part, film_border: 1, white: {as: backing, choke: 0.5 mm}, parts: [{box: {size: [20, 10], radius: 0, fill: '#bcbcbc'}}]}\n",
    );
    let files = proof(&outcome);
    let found = seen(&files["t-proof-part.svg"], "a");
    let colours: Vec<&str> = found.iter().map(|one| one.0.as_str()).collect();
    // The rim of 0.5 mm has paint under it, all else white film.
    assert_eq!(colours, ["#ffffff", "#5d5d5d", "#bcbcbc"]);
    assert!(!files["t-proof-part.svg"].contains("data-label=\"a-backing\""));
}

/// Attribute values of all elements that carry both attributes, read as HTML is written by us: well-formed.
fn labels_in(page: &str, view: &str) -> Vec<String> {
    let from = page.find(&format!("<figure class=\"view\" id=\"{view}\"")).unwrap();
    let figure = &page[from..from + page[from..].find("</figure>").unwrap() + 9];
    let read = Document::parse(figure).unwrap();
    let labels = read.descendants().filter(|node| node.attribute("class") == Some("label"));
    labels.map(|label| label.attribute("aria-label").unwrap().to_owned()).collect()
}

#[test]
fn every_label_is_on_its_surface() {
    let outcome = outcome(
        "surfaces: {hull: {colour: '#274a3c'}, deck: {colour: '#e9e6dc'}}\nlabels:\n  - {name: n, text: '{n}', series: 01..40, on: hull}\n  - {name: hand, handed: pair, text: AHEAD, on: deck, copies: 9}\n  - {name: loose, text: ASTERN}\n",
    );
    let files = proof(&outcome);
    let page = &files["t-proof.html"];
    let counts = ["surface-0", "surface-1", "surface-2"].map(|view| labels_in(page, view).len());
    assert_eq!(counts, [2, 40, 1]);
    assert!(labels_in(page, "surface-0")[0].starts_with("hand-right, "));
    let placed = outcome.laid.as_ref().unwrap().sheets[0].placements.len();
    assert_eq!(labels_in(page, "sheet-0").len(), placed);
    for (surface, count) in [("deck", 2), ("hull", 40), ("no-surface", 1)] {
        // A long list of findings goes on in `t-proof-hull_2.svg`.
        let pages =
            files.iter().filter(|(name, _)| name.starts_with(&format!("t-proof-{surface}")));
        let used = |svg: &str| {
            let read = Document::parse(svg).unwrap();
            read.descendants().filter(|node| node.attribute("data-label").is_some()).count()
        };
        let used: usize = pages.map(|(_, svg)| used(svg)).sum();
        assert_eq!(used, 2 * count, "{surface}: at true size and enlarged");
    }
}

fn moved(node: Node<'_, '_>) -> (f64, f64) {
    let by = node.attribute("transform").unwrap();
    let inside = by.split(['(', ')']).nth(1).unwrap();
    let numbers: Vec<f64> = inside.split(' ').map(|number| number.parse().unwrap()).collect();
    (numbers[numbers.len() - 2], numbers[numbers.len() - 1])
}

#[test]
fn findings_are_marked_at_their_spots() {
    let outcome = outcome(
        "surfaces: {hull: {colour: '#e9e6dc'}}\nlabels:\n  - {name: tiny, on: hull, size: [40, 20], parts: [{text: {text: Ebb, cap_height: 0.5, at: [-10, 4]}}]}\n",
    );
    let finding = outcome.findings.list().iter().position(|one| one.at_mm.is_some()).unwrap();
    let (x, y) = outcome.findings.list()[finding].at_mm.unwrap();
    let page = &proof(&outcome)["t-proof.html"];
    for view in ["surface-0", "sheet-0"] {
        let from = page.find(&format!("<figure class=\"view\" id=\"{view}\"")).unwrap();
        let figure = &page[from..from + page[from..].find("</figure>").unwrap() + 9];
        let read = Document::parse(figure).unwrap();
        let pins = read.descendants().filter(|node| {
            node.attribute("class").is_some_and(|class| class.starts_with("pin "))
                && node.attribute("data-finding") == Some(&finding.to_string())
        });
        let pins: Vec<Node<'_, '_>> = pins.collect();
        assert_eq!(pins.len(), 1, "copies share one");
        let label = read.descendants().find(|node| node.attribute("class") == Some("label"));
        let corner = moved(label.unwrap());
        // The label is 40 x 20 mm round its origin, and not turned.
        let (at_x, at_y) = moved(pins[0]);
        assert!((at_x - (corner.0 - 20.0 + x)).abs() < 0.002, "{at_x} {corner:?} {x}");
        assert!((at_y - (corner.1 - 10.0 + y)).abs() < 0.002, "{at_y} {corner:?} {y}");
    }
    let item = format!("data-finding=\"{finding}\"><button type=\"button\" data-design=\"0\">");
    assert!(page.contains(&item));
}

#[test]
fn a_strangers_words_stay_words() {
    let evil =
        "</script><script>alert(1)</script><img src=x onerror=alert(2)> \" ' & ]]> {{script}}";
    // As YAML writes them between double quotes.
    let evil = format!("{evil:?}");
    let outcome = outcome(&format!(
        "title: {evil}\nrevision: {evil}\nsurfaces: {{{evil}: {{colour: '#808080', finish: {evil}}}}}\nlabels:\n  - {{name: {evil}, on: {evil}, note: {evil}, text: {{text: Ebb, cap_height: 0.5}}}}\n  - {{name: \"abc\\u202edef\", text: X}}\n"
    ));
    let files = proof(&outcome);
    for (name, text) in &files {
        assert!(!text.contains("<img"), "{name}");
        assert!(!text.contains("alert(1)</script>"), "{name}");
        assert!(!text.contains('\u{202e}'), "{name}");
        if name.ends_with(".svg") {
            Document::parse(text).unwrap();
        }
    }
    let page = &files["t-proof.html"];
    // Our own two scripts, and the end tags that go with them.
    assert_eq!((page.matches("<script").count(), page.matches("</script").count()), (2, 2));
    assert!(page.contains("&lt;/script&gt;"));
    assert!(page.contains("default-src 'none'; script-src 'sha256-"));
    assert!(!page.contains("unsafe-inline"));
}

#[test]
fn same_job_same_bytes() {
    let job = "surfaces: {hull: {colour: '#274a3c'}}\nlabels:\n  - {name: n, text: '{n}', series: 1..30, on: hull}\n  - {name: low, text: {text: Ebb, cap_height: 0.5}}\n";
    assert_eq!(proof(&outcome(job)), proof(&outcome(job)));
}

#[test]
fn a_job_with_errors_is_shown_and_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("wide.yaml");
    // A label wider than its sheet is an error.
    fs::write(
        &job,
        "sheet: {paper: A6}\nlabels: [{name: wide, size: [300, 10], text: EBB}, FLOOD]\n",
    )
    .unwrap();
    let out = folder.path().join("out");
    let run = || {
        let program = Path::new(env!("CARGO_BIN_EXE_decalwright"));
        let ran = Command::new(program).arg("proof").arg(&job).arg("--out").arg(&out).output();
        ran.unwrap().status.code()
    };
    assert_eq!(run(), Some(1));
    let page = fs::read_to_string(out.join("wide-proof.html")).unwrap();
    assert!(page.contains("<li class=\"error\""));
    assert!(out.join("wide-proof-no-surface.png").exists());
    // And again over its own files.
    assert_eq!(run(), Some(1));
}
