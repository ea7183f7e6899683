use super::*;
use crate::output::{layout, samples};
use resvg::tiny_skia;

fn about() -> About {
    About { title: "A < B & \"C\" 'D' \u{1}".to_owned(), subject: "Revision <B>".to_owned() }
}

fn sample() -> String {
    let (spec, designs, sheet) = samples::signal_job();
    let names = layout::piece_names(&spec, &designs, &sheet);
    write(&about(), &designs, &Page::of_sheet(&sheet), &names)
}

/// Rendered by resvg, on white.
fn rendered(svg: &str, dpi: f32) -> tiny_skia::Pixmap {
    let tree = usvg::Tree::from_str(svg, &usvg::Options::default()).unwrap();
    let scale = dpi / 96.0;
    let size = tree.size().to_int_size().scale_by(scale).unwrap();
    let mut picture = tiny_skia::Pixmap::new(size.width(), size.height()).unwrap();
    picture.fill(tiny_skia::Color::WHITE);
    resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut picture.as_mut());
    picture
}

/// The colour at a point in mm.
fn at(picture: &tiny_skia::Pixmap, dpi: f64, x_mm: f64, y_mm: f64) -> [u8; 3] {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "on the page")]
    let pixel = |mm: f64| (mm / 25.4 * dpi) as u32;
    let found = picture.pixel(pixel(x_mm), pixel(y_mm)).unwrap();
    [found.red(), found.green(), found.blue()]
}

const WHITE: [u8; 3] = [255; 3];
const BLACK: [u8; 3] = [0; 3];

#[test]
fn another_renderer_finds_each_label_within_a_pixel() {
    // resvg as the outside renderer; at 600 dpi a pixel is 0.0423 mm.
    let picture = rendered(&sample(), 600.0);
    let red = samples::RED.rgb;
    let pixel = 25.4 / 600.0;
    // Trim 10 x 6 round (20, 20): its ink runs from x 15 to 25, y 17 to 23.
    for (x, y, inside) in [(15.0, 21.0, 1.0), (25.0, 21.0, -1.0)] {
        assert_eq!(at(&picture, 600.0, x + inside * 1.5 * pixel, y), red);
        assert_eq!(at(&picture, 600.0, x - inside * 1.5 * pixel, y), WHITE);
    }
    for (x, y, inside) in [(22.0, 17.0, 1.0), (22.0, 23.0, -1.0)] {
        assert_eq!(at(&picture, 600.0, x, y + inside * 1.5 * pixel), red);
        assert_eq!(at(&picture, 600.0, x, y - inside * 1.5 * pixel), WHITE);
    }
    // The black block lies top left; after a clockwise quarter turn, top right.
    assert_eq!(at(&picture, 600.0, 18.0, 19.0), BLACK);
    assert_eq!(at(&picture, 600.0, 31.0, 38.0), BLACK);
    assert_eq!(at(&picture, 600.0, 29.0, 38.0), red);
    // The guide bar is 100 mm long.
    assert_eq!(at(&picture, 600.0, 10.0 + 1.5 * pixel, 200.5), BLACK);
    assert_eq!(at(&picture, 600.0, 110.0 - 1.5 * pixel, 200.5), BLACK);
    assert_eq!(at(&picture, 600.0, 110.0 + 1.5 * pixel, 200.5), WHITE);
}

#[test]
fn a_mirrored_label_is_the_mirror_image_of_the_plain_one() {
    // Both labels hold the same marks: every pixel of one must be the other's across its middle.
    let picture = rendered(&sample(), 254.0);
    for (dx, dy) in (0..48).flat_map(|x| (0..28).map(move |y| (x, y))) {
        let (dx, dy) = (f64::from(dx) * 0.2 - 4.75, f64::from(dy) * 0.2 - 2.75);
        let plain = at(&picture, 254.0, 20.0 + dx, 20.0 + dy);
        let mirrored = at(&picture, 254.0, 100.0 - dx, 100.0 + dy);
        assert_eq!(plain, mirrored, "at {dx:.2}, {dy:.2}");
    }
    assert_eq!(at(&picture, 254.0, 102.0, 99.0), BLACK);
}

#[test]
fn names_survive_whatever_they_hold() {
    let svg = sample();
    let read = usvg::roxmltree::Document::parse(&svg).expect("well-formed");
    let root = read.root_element();
    let child = |name: &str| root.children().find(|node| node.has_tag_name(name)).unwrap();
    assert_eq!(child("title").text(), Some("A < B & \"C\" 'D' \u{fffd}"));
    assert_eq!(child("desc").text(), Some("Revision <B>"));
    assert_eq!(root.attribute("width"), Some("148mm"));
    assert_eq!(root.attribute("viewBox"), Some("0 0 148 210"));
    let labels: Vec<_> = read
        .descendants()
        .find(|node| node.attribute("id") == Some("ink"))
        .unwrap()
        .children()
        .filter(|node| node.is_element())
        .map(|node| (node.attribute("id").unwrap(), node.attribute("aria-label").unwrap()))
        .collect();
    assert_eq!(
        labels,
        [
            ("label-1-square", "square 1/2"),
            ("label-2-square", "square 2/2"),
            ("label-3-square", "square spare"),
            ("label-4-a-b-c-d", "a<b>&\"c'd"),
        ]
    );
}

#[test]
fn repeated_labels_are_drawn_once_and_used() {
    let svg = sample();
    assert_eq!(svg.matches("xlink:href=\"#design-0\"").count(), 3);
    assert_eq!(svg.matches("M-5-3h10v6h-10z").count(), 4, "each design and each trim, once");
    assert_eq!(svg.matches("data-plate=\"ink #ad2b24\"").count(), 2);
}

#[test]
fn the_cut_layer_is_there_and_off() {
    let svg = sample();
    let on = svg.replace("style=\"display:none\"", "");
    assert_ne!(on, svg);
    // The mirrored label's trim runs along its ink's left edge, x = 95; its line reaches 0.05 mm further.
    let shows = |svg: &str| at(&rendered(svg, 600.0), 600.0, 94.975, 102.0);
    assert_eq!((shows(&svg), shows(&on)), (WHITE, BLACK));
}

#[test]
fn same_page_same_bytes() {
    assert_eq!(sample(), sample());
}
