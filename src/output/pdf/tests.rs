//! Documents read and rendered by readers of other people: hayro for structure, text and pictures.
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "dots and counts of small pages"
)]

use super::{Error, compose};
use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role, Words};
use crate::finding::Place;
use crate::output::{About, Page, Placed, samples, words_on};
use crate::shape::{self, Outline};
use crate::spec::PartId;
use hayro::hayro_interpret as interpret;
use hayro::hayro_syntax::{
    Pdf, metadata::Metadata, object::Dict, object::Name, object::Rect as Box, object::Stream,
};
use hayro::vello_cpu::color::palette::css::WHITE;
use kurbo::{Affine, BezPath, Point, Rect, Size};

/// Dots to a millimetre at 600 dpi.
const DOTS_PER_MM: f64 = 600.0 / 25.4;

const RED: Colour = Colour { rgb: [0xad, 0x2b, 0x24] };

fn mark(path: Outline, plate: Plate) -> Mark {
    Mark { path, plate, role: Role::Fill, part: PartId::default(), from: Place::default() }
}

fn design(marks: Vec<Mark>, words: Vec<Words>) -> Design {
    let trim = shape::rounded(Rect::new(-10.0, -5.0, 10.0, 5.0), 1.0);
    Design { trim, words, ..samples::design("key", 0, Size::new(20.0, 10.0), marks) }
}

fn words(text: &str, area: Rect) -> Words {
    Words {
        text: text.into(),
        area,
        turned_deg: 0.0,
        cap_height_mm: area.height(),
        reversed: false,
        part: PartId::default(),
        from: Place::default(),
    }
}

/// A square of ink left of and above the design's middle.
fn square() -> Outline {
    shape::rectangle(Rect::new(-6.0, -3.0, -2.0, 1.0))
}

fn page(size: Size, placed: Vec<Placed>) -> Page<'static> {
    Page { size, placed, marks: Vec::new().into(), words: Vec::new(), has_white: false }
}

fn at(design: usize, x: f64, y: f64) -> Placed {
    Placed { design, transform: Affine::translate((x, y)) }
}

fn write(about: &About, designs: &[Design], pages: &[Page<'_>]) -> Result<Vec<u8>, Error> {
    compose(about, designs, pages, None)?.into_bytes()
}

fn written(designs: &[Design], pages: &[Page<'_>]) -> Pdf {
    Pdf::new(write(&About::default(), designs, pages).unwrap()).unwrap()
}

/// The first page at 600 dpi as rows of red, green, blue.
fn rendered(pdf: &Pdf) -> Vec<Vec<[u8; 3]>> {
    let scale = (600.0 / 72.0) as f32;
    let pixels = hayro::render(
        &pdf.pages()[0],
        &hayro::RenderCache::new(),
        &interpret::InterpreterSettings::default(),
        &hayro::RenderSettings::default(),
        &hayro::PixmapSettings { x_scale: scale, y_scale: scale, bg_color: WHITE },
    );
    pixels
        .data()
        .chunks(usize::from(pixels.width()))
        .map(|row| row.iter().map(|dot| [dot.r, dot.g, dot.b]).collect())
        .collect()
}

/// Bounds in mm of what is darker than half, along with its colour in the middle.
fn inked(rows: &[Vec<[u8; 3]>]) -> (Rect, [u8; 3]) {
    let mut bounds: Option<Rect> = None;
    for (y, row) in rows.iter().enumerate() {
        for (x, dot) in row.iter().enumerate() {
            if dot[1] < 140 {
                let dot = Rect::from_origin_size((x as f64, y as f64), (1.0, 1.0));
                bounds = Some(bounds.map_or(dot, |bounds| bounds.union(dot)));
            }
        }
    }
    let bounds = bounds.expect("something is painted");
    let middle = bounds.center();
    let colour = rows[middle.y as usize][middle.x as usize];
    (bounds.scale_from_origin(1.0 / DOTS_PER_MM), colour)
}

/// Collects the text of a page.
#[derive(Default)]
struct TextCollector(Vec<String>);

impl<'a> interpret::Device<'a> for TextCollector {
    fn draw_path(&mut self, _: &BezPath, _: interpret::DrawProps<'a>, _: &interpret::DrawMode) {}
    fn push_clip_path(&mut self, _: &interpret::ClipPath) {}
    fn push_transparency_group(
        &mut self,
        _: f32,
        _: Option<interpret::SoftMask<'a>>,
        _: interpret::BlendMode,
    ) {
    }
    fn draw_glyph_run(
        &mut self,
        run: &interpret::font::GlyphRun<'_, 'a>,
        _: interpret::DrawProps<'a>,
        mode: &interpret::DrawMode,
    ) {
        assert!(matches!(mode, interpret::DrawMode::Invisible), "words must not be seen");
        let letters = run.glyphs().iter().filter_map(|glyph| glyph.as_unicode());
        self.0.push(letters.map(|letter| format!("{letter:?}")).collect());
    }
    fn draw_image(&mut self, _: interpret::Image<'a, '_>, _: interpret::ImageDrawProps<'a>) {}
    fn pop_clip(&mut self) {}
    fn pop_transparency_group(&mut self) {}
}

/// The text of the first page, run by run, each character as a debug string.
fn text_of(pdf: &Pdf) -> Vec<String> {
    let cache = interpret::InterpreterCache::new();
    let page = &pdf.pages()[0];
    let mut context = interpret::Context::new(
        Affine::IDENTITY,
        Rect::new(0.0, 0.0, 1e4, 1e4),
        &cache,
        page.xref(),
        interpret::InterpreterSettings::default(),
    );
    let mut collector = TextCollector::default();
    interpret::interpret_page(page, &mut context, &mut collector);
    collector.0
}

/// How [`TextCollector`] writes a text.
fn as_collected(text: &str) -> String {
    text.chars().map(|c| format!("Char({c:?})")).collect()
}

fn assert_near(found: f64, expected: f64, within: f64, what: &str) {
    assert!((found - expected).abs() <= within, "{what}: {found} is not {expected} ± {within}");
}

#[test]
fn every_box_is_the_paper() {
    // ISO 216: A4 is 210 x 297 mm; ANSI/ASME Y14.1: Letter is 8.5 x 11 in = 215.9 x 279.4 mm.
    let papers = [Size::new(210.0, 297.0), Size::new(215.9, 279.4), Size::new(105.0, 148.0)];
    let pages = papers.map(|size| page(size, Vec::new()));
    let pdf = written(&[], &pages);
    assert_eq!(pdf.pages().len(), papers.len());
    for (page, paper) in pdf.pages().iter().zip(papers) {
        for name in ["MediaBox", "CropBox", "BleedBox", "TrimBox"] {
            let found: Box = page.raw().get(name).expect(name);
            let mm = [found.x0, found.y0, found.x1, found.y1].map(|edge| edge * 25.4 / 72.0);
            for (mm, expected) in mm.iter().zip([0.0, 0.0, paper.width, paper.height]) {
                assert_near(*mm, expected, 0.01, name);
            }
        }
    }
}

#[test]
fn a_bar_of_100_mm_measures_100_mm() {
    let bar = shape::rectangle(Rect::new(5.0, 4.0, 105.0, 6.0));
    let mut page = page(Size::new(110.0, 12.0), Vec::new());
    page.marks.to_mut().push(mark(bar, Plate::Guide));
    let (bounds, colour) = inked(&rendered(&written(&[], &[page])));
    assert_near(bounds.width(), 100.0, 0.05, "length");
    assert_near(bounds.x0, 5.0, 0.05, "start");
    assert_near(bounds.y0, 4.0, 0.05, "top");
    assert_eq!(colour, [0, 0, 0]);
}

#[test]
fn ink_lands_where_it_is_placed_in_its_colour() {
    let designs = [design(vec![mark(square(), Plate::Ink(RED))], Vec::new())];
    // A quarter turn clockwise takes (x, y) to (-y, x).
    let turned = Affine::new([0.0, 1.0, -1.0, 0.0, 12.0, 12.0]);
    let mirrored = Affine::new([-1.0, 0.0, 0.0, 1.0, 12.0, 12.0]);
    let half = Affine::translate((12.0, 12.0)) * Affine::scale(0.5);
    for (transform, expected) in [
        (Affine::translate((12.0, 12.0)), Rect::new(6.0, 9.0, 10.0, 13.0)),
        (turned, Rect::new(11.0, 6.0, 15.0, 10.0)),
        (mirrored, Rect::new(14.0, 9.0, 18.0, 13.0)),
        (half, Rect::new(9.0, 10.5, 11.0, 12.5)),
    ] {
        let once = page(Size::new(24.0, 30.0), vec![Placed { design: 0, transform }]);
        // The same twice, on two pages, makes a form of it.
        for pages in [vec![once.clone()], vec![once.clone(), once]] {
            let (found, colour) = inked(&rendered(&written(&designs, &pages)));
            let edges = |rect: Rect| [rect.x0, rect.y0, rect.x1, rect.y1];
            for (found, expected) in edges(found).into_iter().zip(edges(expected)) {
                assert_near(found, expected, 0.05, "edge");
            }
            assert_eq!(colour, RED.rgb);
        }
    }
}

#[test]
fn a_mirrored_placing_is_the_mirror_image() {
    let shape = shape::polygon(&[(-8.0, -4.0), (3.0, -4.0), (-8.0, 2.0)].map(Point::from));
    let designs = [design(vec![mark(shape, Plate::Ink(RED))], Vec::new())];
    // A width of whole dots, so that the mirrored dots are the same dots.
    let size = Size::new(25.4, 12.7);
    let flip = Affine::new([-1.0, 0.0, 0.0, 1.0, 12.7, 6.35]);
    let plain = rendered(&written(&designs, &[page(size, vec![at(0, 12.7, 6.35)])]));
    let placed = vec![Placed { design: 0, transform: flip }];
    let mirrored = rendered(&written(&designs, &[page(size, placed)]));
    for (plain, mirrored) in plain.iter().zip(&mirrored) {
        for (a, b) in plain.iter().zip(mirrored.iter().rev()) {
            assert!(a.iter().zip(b).all(|(a, b)| a.abs_diff(*b) <= 2), "{a:?} {b:?}");
        }
    }
}

#[test]
fn a_hole_shows_what_lies_beneath() {
    let ring = shape::rectangle(Rect::new(-6.0, -4.0, 6.0, 4.0)).minus(&square());
    let designs = [design(vec![mark(ring, Plate::Ink(RED))], Vec::new())];
    let rows =
        rendered(&written(&designs, &[page(Size::new(20.0, 20.0), vec![at(0, 10.0, 10.0)])]));
    let dot = |x: f64, y: f64| rows[(y * DOTS_PER_MM) as usize][(x * DOTS_PER_MM) as usize];
    assert_eq!(dot(6.0, 9.0), [255; 3]);
    assert_eq!(dot(12.0, 9.0), RED.rgb);
}

#[test]
fn same_pages_same_bytes() {
    let designs: Vec<_> = (0..40)
        .map(|n| {
            let side = f64::from(n) / 10.0 + 1.0;
            let box_ = shape::rectangle(Rect::new(0.0, 0.0, side, 2.0));
            design(
                vec![mark(box_, Plate::Guide)],
                vec![words(&format!("no {n}"), Rect::new(0.0, 0.0, 4.0, 1.0))],
            )
        })
        .collect();
    let placed = (0..40).flat_map(|n| [at(n, 20.0, 20.0), at(n / 2, 50.0, 20.0)]).collect();
    let pages = [page(Size::new(210.0, 297.0), placed)];
    let about = About { title: "Tide gauge".into(), subject: String::new() };
    let once = write(&about, &designs, &pages).unwrap();
    assert_eq!(once, write(&about, &designs, &pages).unwrap());
    let text = String::from_utf8_lossy(&once);
    for clock_or_chance in ["CreationDate", "ModDate"] {
        assert!(!text.contains(clock_or_chance), "{clock_or_chance}");
    }
    let other = About { title: "Tide gauges".into(), subject: String::new() };
    let id = |bytes: &[u8]| {
        let text = String::from_utf8_lossy(bytes).into_owned();
        text[text.rfind("/ID").unwrap()..].to_owned()
    };
    assert_ne!(id(&once), id(&write(&other, &designs, &pages).unwrap()));
}

#[test]
fn designs_that_look_the_same_are_drawn_once() {
    let same = || design(vec![mark(square(), Plate::Ink(RED))], Vec::new());
    let placed = (0..50).map(|n| at(n % 2, 20.0, f64::from(n as u32) * 5.0)).collect();
    let pdf = written(&[same(), same()], &[page(Size::new(210.0, 297.0), placed)]);
    let forms = |of: &Dict<'_>| {
        let resources: Dict<'_> = of.get("Resources").unwrap();
        let forms: Dict<'_> = resources.get("XObject").unwrap();
        let mut names: Vec<_> = forms.keys().map(|name| name.as_str().to_owned()).collect();
        names.sort();
        names
    };
    let page = pdf.pages()[0].raw();
    assert_eq!(forms(page), ["Cut0", "Ink0"]);
    let resources: Dict<'_> = page.get("Resources").unwrap();
    let ink: Stream<'_> = resources.get::<Dict<'_>>("XObject").unwrap().get("Ink0").unwrap();
    assert_eq!(forms(ink.dict()), ["Design0"]);
}

#[test]
fn cut_lines_are_a_layer_that_is_off() {
    let designs = [design(Vec::new(), Vec::new())];
    let pages = [page(Size::new(30.0, 20.0), vec![at(0, 15.0, 10.0)])];
    let bytes = write(&About::default(), &designs, &pages).unwrap();
    let pdf = Pdf::new(bytes.clone()).unwrap();
    assert!(rendered(&pdf).iter().flatten().all(|dot| *dot == [255; 3]), "the cut is off");
    // Turned on, the line runs 20 x 10 mm and is 0.1 mm wide. Same length, so that offsets stay true.
    let text: Vec<u8> = replaced(&bytes, b"/OFF[", b"/FFO[");
    let (bounds, _) = inked(&rendered(&Pdf::new(text).unwrap()));
    assert_near(bounds.width(), 20.1, 0.05, "width");
    assert_near(bounds.height(), 10.1, 0.05, "height");
}

fn replaced(bytes: &[u8], what: &[u8], with: &[u8]) -> Vec<u8> {
    let at = bytes.windows(what.len()).position(|window| window == what).expect("is there");
    let mut out = bytes.to_vec();
    out[at..at + what.len()].copy_from_slice(with);
    out
}

#[test]
fn words_are_found_but_not_seen_whatever_the_script() {
    // 300 characters and more: Latin, Greek, Cyrillic, kana, and one beyond the first plane.
    let many: String =
        ('А'..='я').chain('Α'..='Ω').chain('ぁ'..='ん').chain('!'..='~').chain('À'..='ſ').collect();
    assert!(many.chars().count() > 300);
    let area = Rect::new(-8.0, -1.0, 8.0, 1.0);
    let texts = ["LOW WATER", "Ὕδωρ 潮 🚢", many.as_str()];
    let designs = texts.map(|text| design(Vec::new(), vec![words(text, area)]));
    let placed = (0..3).map(|n| at(n, 20.0, 10.0 + 15.0 * f64::from(n as u32))).collect();
    let mut sheet = page(Size::new(60.0, 60.0), placed);
    sheet.words.push(words("sheet 1\nof 2", Rect::new(5.0, 55.0, 40.0, 58.0)));
    let pdf = written(&designs, &[sheet]);
    assert!(rendered(&pdf).iter().flatten().all(|dot| *dot == [255; 3]), "words must not be seen");
    let found = text_of(&pdf).concat();
    let expected: String =
        ["sheet 1 of 2"].iter().chain(&texts).map(|text| as_collected(text)).collect();
    assert_eq!(found, expected);
}

#[test]
fn words_turn_with_the_label_but_never_read_backwards() {
    let mut line = words("GATE", Rect::new(2.0, -6.0, 8.0, -4.0));
    line.turned_deg = 30.0;
    let designs = [design(Vec::new(), vec![line])];
    let quarter = Affine::new([0.0, 1.0, -1.0, 0.0, 50.0, 40.0]);
    let flip = Affine::new([-1.0, 0.0, 0.0, 1.0, 50.0, 40.0]);
    // The middle (5, -5) goes to (-y, x) and (-x, y); a flip turns a slope of 30° into one of -30°.
    for (transform, middle, turned) in [
        (quarter, Point::new(55.0, 45.0), 120.0),
        (flip, Point::new(45.0, 35.0), -30.0),
        (quarter * Affine::FLIP_X, Point::new(55.0, 35.0), 60.0),
    ] {
        let placed = Placed { design: 0, transform };
        let found = words_on(&page(Size::new(100.0, 100.0), vec![placed]), &designs);
        assert!(found[0].area.center().distance(middle) < 1e-9, "{:?}", found[0]);
        assert_near(found[0].turned_deg, turned, 1e-9, "turned");
        assert_near(found[0].area.width(), 6.0, 1e-9, "width");
    }
}

#[test]
fn the_title_survives_marks_and_other_scripts() {
    let title = "Lamp <A> & \"B\" (潮) \\ 🚢";
    let about = About { title: title.into(), subject: "rev C, 3 May".into() };
    let bytes = write(&about, &[], &[page(Size::new(50.0, 50.0), Vec::new())]).unwrap();
    // XML 1.0 section 2.4.
    let xmp = "<rdf:li xml:lang=\"x-default\">Lamp &lt;A&gt; &amp; \"B\" (潮) \\ 🚢</rdf:li>";
    assert!(String::from_utf8_lossy(&bytes).contains(xmp));
    let pdf = Pdf::new(bytes).unwrap();
    let Metadata { title: Some(found), subject: Some(subject), creation_date: None, .. } =
        pdf.metadata()
    else {
        panic!("title and subject, no date: {:?}", pdf.metadata())
    };
    let units: Vec<u16> =
        found.chunks(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])).collect();
    assert_eq!(String::from_utf16(&units).unwrap(), format!("\u{feff}{title}"));
    assert_eq!(&**subject, b"rev C, 3 May");
}

#[test]
fn the_metadata_names_no_maker_but_ours() {
    let about = About { title: "Tide gauge".into(), subject: "rev C".into() };
    let bytes = write(&about, &[], &[page(Size::new(50.0, 50.0), Vec::new())]).unwrap();
    let ours = concat!("decalwright ", env!("CARGO_PKG_VERSION"));
    // Every word of the XMP packet (ISO 16684-1) that is not of the document itself.
    let text = String::from_utf8_lossy(&bytes);
    let (start, end) = (text.find("<x:xmpmeta").unwrap(), text.find("</x:xmpmeta>").unwrap());
    let packet = format!("{}</x:xmpmeta>", &text[start..end]);
    let packet = usvg::roxmltree::Document::parse(&packet).unwrap();
    let words = packet.descendants().filter_map(|node| node.text()).map(str::trim);
    let of_document = ["", "application/pdf", "Tide gauge", "rev C"];
    let makers: Vec<&str> = words.filter(|words| !of_document.contains(words)).collect();
    assert!(!makers.is_empty() && makers.iter().all(|maker| *maker == ours), "{makers:?}");
    // The document information dictionary (ISO 32000-1 table 317), read by hayro.
    let pdf = Pdf::new(bytes).unwrap();
    let found = pdf.metadata();
    assert_eq!(
        (found.creator.as_deref(), found.producer.as_deref()),
        (Some(ours.as_bytes()), Some(ours.as_bytes()))
    );
    assert_eq!((&found.author, &found.keywords), (&None, &None));
}

#[test]
fn readers_are_asked_to_print_at_true_size() {
    // ISO 32000-1 table 150.
    let pdf = written(&[], &[page(Size::new(50.0, 50.0), Vec::new())]);
    let catalog = pdf
        .objects()
        .into_iter()
        .filter_map(hayro::hayro_syntax::object::Object::into_dict)
        .find(|dict| dict.get::<Name<'_>>("Type").is_some_and(|name| name.as_str() == "Catalog"))
        .unwrap();
    let wishes: Dict<'_> = catalog.get("ViewerPreferences").unwrap();
    assert_eq!(wishes.get::<Name<'_>>("PrintScaling").unwrap().as_str(), "None");
    assert_eq!(wishes.get::<bool>("PickTrayByPDFSize"), Some(true));
    assert_eq!(wishes.get::<bool>("DisplayDocTitle"), Some(true));
}

#[test]
fn refuses_pages_no_pdf_can_say() {
    for size in [Size::new(6000.0, 100.0), Size::new(100.0, 0.0), Size::new(f64::NAN, 10.0)] {
        let refused = write(&About::default(), &[], &[page(size, Vec::new())]);
        assert!(matches!(refused, Err(Error::PageSize { page: 1, .. })), "{size:?}");
    }
    assert!(matches!(write(&About::default(), &[], &[]), Err(Error::NoPage)));
}
