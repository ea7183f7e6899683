use super::*;

const OPEN: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="40mm" height="20mm" viewBox="0 0 40 20">"#;

fn drawing(inside: &str) -> Arc<Artwork> {
    match read(format!("{OPEN}{inside}</svg>").as_bytes()) {
        Ok(Read::Drawing(artwork, _)) => artwork,
        other => panic!("{other:?}"),
    }
}

fn area(inside: &str) -> f64 {
    drawing(inside).shapes.iter().map(|shape| shape.outline.area()).sum()
}

#[test]
fn shapes_strokes_and_rules_have_the_areas_of_geometry() {
    let pi = std::f64::consts::PI;
    for (inside, expected) in [
        (r#"<rect x="2" y="2" width="10" height="5"/>"#, 50.0),
        (r#"<circle cx="20" cy="10" r="5"/>"#, 25.0 * pi),
        // A ring stroked 2 wide on radius 5: 2 pi r w (Pappus).
        (r#"<circle cx="20" cy="10" r="5" fill="none" stroke="red" stroke-width="2"/>"#, 20.0 * pi),
        // Two squares one in the other: the inner one is a hole by even-odd, none by non-zero.
        (r#"<path fill-rule="evenodd" d="M0 0H10V10H0ZM2 2H8V8H2Z"/>"#, 64.0),
        (r#"<path d="M0 0H10V10H0ZM2 2H8V8H2Z"/>"#, 100.0),
        // A line of 10 by 2 with round caps; with dashes of 2 and gaps of 3.
        (
            r#"<path d="M10 10H20" stroke="red" stroke-width="2" stroke-linecap="round"/>"#,
            20.0 + pi,
        ),
        (r#"<path d="M10 10H20" stroke="red" stroke-width="2" stroke-dasharray="2 3"/>"#, 8.0),
        // Half of it is off the page; a copy stands beside it.
        (r#"<rect x="-5" y="5" width="10" height="10"/>"#, 50.0),
        (r##"<g id="a"><rect width="3" height="2"/></g><use xlink:href="#a" x="10"/>"##, 12.0),
        (
            r##"<clipPath id="c"><circle cx="10" cy="10" r="4"/></clipPath><rect width="20" height="20" clip-path="url(#c)"/>"##,
            16.0 * pi,
        ),
        (r#"<rect width="5" height="5"/><rect width="9" height="9" style="display:none"/>"#, 25.0),
    ] {
        let found = area(inside);
        // A circle of radius 5 out by a micrometre (usvg draws arcs as curves) is out by 0.03 mm².
        assert!((found - expected).abs() < 0.04, "{inside}: {found}, not {expected}");
    }
}

#[test]
fn the_page_has_its_middle_at_the_origin_and_colours_keep_their_order() {
    let artwork = drawing(
        r##"<rect width="40" height="20" fill="#123456"/><path d="M30 15h2v2h-2z" fill="red" stroke="blue" stroke-width=".1" transform="translate(1 0)"/>"##,
    );
    let colours: Vec<String> =
        artwork.shapes.iter().map(|shape| shape.colour.to_string()).collect();
    assert_eq!(colours, ["#123456", "#ff0000", "#0000ff"]);
    let bounds = artwork.shapes[1].outline.bounds();
    assert!((bounds.x0 - 11.0).abs() < 1e-4 && (bounds.y1 - 7.0).abs() < 1e-4, "{bounds:?}");
}

#[test]
fn what_cannot_be_printed_as_outlines_is_refused_by_name() {
    for (inside, said) in [
        (r#"<text>RUN</text>"#, "<text>"),
        (r#"<style>rect{fill:red}</style>"#, "<style>"),
        (r#"<script>1</script>"#, "<script>"),
        (r#"<image href="file:///etc/hosts"/>"#, "<image>"),
        (r#"<rect onclick="x()" width="1" height="1"/>"#, "script"),
        (r#"<use href="http://example.org/a.svg#b"/>"#, "outside"),
        (r#"<use xlink:href="file:///a.svg#b"/>"#, "outside"),
        (r#"<rect fill="url(http://example.org/a.svg#b)" width="1" height="1"/>"#, "outside"),
        (r#"<rect opacity=".5" width="1" height="1"/>"#, "see-through"),
        (r#"<rect fill-opacity=".5" width="1" height="1"/>"#, "see-through"),
        (
            r##"<linearGradient id="g"><stop offset="0" stop-color="red"/><stop offset="1"/></linearGradient><rect fill="url(#g)" width="1" height="1"/>"##,
            "gradient",
        ),
        (r#"<g/>"#, "draws nothing"),
        (r##"<g id="a"><use href="#a"/></g>"##, "circle"),
        (r#"<rect"#, "XML"),
    ] {
        let slips = read(format!("{OPEN}{inside}</svg>").as_bytes()).unwrap_err();
        assert!(slips.iter().any(|slip| slip.what.contains(said)), "{inside}: {slips:?}");
        assert!(slips.iter().all(|slip| !slip.help.is_empty()));
    }
}
