use super::*;
use crate::colour::Colour;
use crate::design::{Role, Words};
use crate::finding::{Findings, Place};
use crate::output::samples::{self, RED};
use crate::shape;
use crate::sheet::{Piece, Placement};
use crate::spec::{Align, Applied, Film, Label, Paint, Process, Surface, Text, TextSize};
use kurbo::{Point, Rect, Size, Vec2};

const BLUE: Colour = Colour { rgb: [22, 64, 120] };

/// What a test label is made of: name, words, trim, fill (`None`: words in ink).
type Sketch<'a> = (&'a str, &'a [&'a str], Size, Option<Colour>);

fn sketch(faces: &Faces, label: usize, (name, words, trim, fill): Sketch<'_>) -> Design {
    let text = Text {
        lines: words.iter().map(|line| (*line).to_owned()).collect(),
        font: "label-reversed".to_owned(),
        size: TextSize::FillBox(Size::new(trim.width - 3.0, trim.height - 3.0)),
        tracking: 0.0,
        line_pitch: 1.7,
        align: Align::Centre,
        width: None,
        spread: None,
        arc: None,
        tabular: false,
        paint: Paint::Clear,
        place: Place::default(),
    };
    let block = crate::text::set(faces, &text, &mut Findings::default());
    let area = Rect::from_center_size(Point::ORIGIN, trim);
    let mark = match fill {
        Some(colour) => {
            let filled = shape::rounded(area, 1.0).minus(&block.outline);
            samples::ink(filled, colour, Role::Fill)
        }
        None => samples::ink(block.outline.clone(), Colour::BLACK, Role::Text),
    };
    let mut design = samples::design(name, label, trim, vec![mark]);
    design.trim = shape::rounded(area, 1.0);
    design.words = block
        .lines
        .iter()
        .map(|line| Words {
            text: line.text.clone(),
            area: line.area,
            turned_deg: 0.0,
            cap_height_mm: block.cap_height_mm,
            reversed: fill.is_some(),
            part: crate::spec::PartId::default(),
            from: Place::default(),
        })
        .collect();
    design
}

fn sketches() -> Vec<(Sketch<'static>, Film)> {
    let size = Size::new;
    vec![
        (("run", &["RUN"], size(14.0, 6.5), Some(RED)), Film::Clear),
        (("rest", &["REST"], size(14.0, 6.5), Some(RED)), Film::Clear),
        (("lamp-test", &["LAMP", "TEST"], size(16.0, 11.0), Some(BLUE)), Film::Clear),
        (("berth-plate", &["NORTH MOLE BERTH 4"], size(96.0, 11.0), Some(BLUE)), Film::Clear),
        (("tide-gauge", &["TIDE GAUGE"], size(30.0, 5.0), None), Film::Clear),
        (("fog-horn", &["FOG HORN"], size(24.0, 5.0), None), Film::Clear),
        (("window-sign", &["HARBOUR OFFICE", "OPEN"], size(60.0, 18.0), None), Film::Clear),
        (("channel-201", &["201"], size(9.0, 5.0), None), Film::Clear),
        (("stripe", &[], size(120.0, 4.0), Some(RED)), Film::Clear),
        (("storm-cone", &["STORM CONE ≥ 8"], size(34.0, 8.0), Some(RED)), Film::White),
        (("breakers", &["BREAKERS", "A to F"], size(26.0, 12.0), Some(BLUE)), Film::White),
        (("serial", &["No. 0047 <B> & 'C'"], size(32.0, 6.0), None), Film::White),
    ]
}

/// A harbour-signal console for the stage: nine labels on clear film, three on white.
fn console(faces: &Faces) -> (Spec, Vec<Design>, Vec<Sheet>) {
    let mut spec = samples::empty_spec();
    spec.title = "Harbour signal console".to_owned();
    spec.date = Some("3 March 2031".to_owned());
    spec.printer.process = Process::InkJet;
    spec.surfaces.insert(
        "funnel".to_owned(),
        Surface {
            colour: Colour { rgb: [232, 200, 72] },
            finish: None,
            viewed: None,
            place: Place::default(),
        },
    );
    let mut designs = Vec::new();
    for (at, (sketch_of, film)) in sketches().into_iter().enumerate() {
        let mut label = Label { film, ..samples::label(sketch_of.0) };
        match sketch_of.0 {
            "window-sign" => {
                label.applied = Applied::InsideWindow;
                label.on = None;
                label.note = Some("Lay it on the left pane, 20 mm above the sill.".to_owned());
            }
            "tide-gauge" | "fog-horn" | "breakers" => label.on = Some("funnel".to_owned()),
            "run" => label.copies = 2,
            _ => {}
        }
        designs.push(sketch(faces, at, sketch_of));
        spec.labels.push(label);
    }
    let sheets = vec![sheet(&spec, Film::Clear), sheet(&spec, Film::White)];
    (spec, designs, sheets)
}

/// A sheet of one film with every copy and spare on it; where they lie is of no matter here.
fn sheet(spec: &Spec, film: Film) -> Sheet {
    let mut placements = Vec::new();
    for (design, label) in spec.labels.iter().enumerate().filter(|(_, label)| label.film == film) {
        let copies = (1..=label.copies).map(Piece::Copy);
        for piece in copies.chain((1..=label.spares).map(Piece::Spare)) {
            placements.push(Placement {
                design,
                piece,
                at: Point::new(40.0, 40.0),
                quarter_turns: 0,
                mirrored: label.applied.mirrored(),
            });
        }
    }
    let (_, _, like) = samples::signal_job();
    Sheet { film, placements, ..like }
}

/// All the words of a page, lines joined by a space.
fn read(page: &Page) -> String {
    let lines: Vec<&str> = page.words.iter().map(|words| words.text.as_str()).collect();
    lines.join(" ")
}

#[test]
fn every_label_is_on_the_pages_with_all_that_is_to_be_read() {
    let faces = Faces::bundled();
    let (spec, designs, sheets) = console(&faces);
    let card = pages(&spec, &designs, &sheets, &faces);
    let all: String = card.pages.iter().map(read).collect::<Vec<_>>().join(" ");
    for (design, label) in designs.iter().zip(&spec.labels) {
        assert!(all.contains(&design.name), "{}", design.name);
        assert!(design.words.iter().all(|words| all.contains(&words.text)), "{}", design.name);
        assert!(label.note.as_ref().is_none_or(|note| all.contains(note)), "{}", design.name);
    }
    for fact in [
        "Harbour signal console Placement list, revision B, 3 March 2031",
        "12 labels on 2 sheets, for printer laser-600.",
        "Clear film 9 labels, 19 pieces, 1 sheet",
        "White film 3 labels, 6 pieces, 1 sheet",
        "2 + 1 spare sheet 1",
        "60 x 18 mm surface not given inside the window; printed backwards shown at 46 %",
        "14 x 6.5 mm on housing, metallic face up shown at true size",
        "HARBOUR OFFICE / OPEN",
        "1 of 3",
        "3 of 3",
    ] {
        assert!(all.contains(fact), "no \"{fact}\" in {all}");
    }
}

#[test]
fn the_text_holds_every_label_its_words_and_counts() {
    let faces = Faces::bundled();
    let (spec, designs, sheets) = console(&faces);
    let text = text(&spec, &designs, &sheets);
    for design in &designs {
        assert!(text.contains(&format!("  {}\n", design.name)), "{}", design.name);
    }
    for fact in [
        "[ ]    1  run\n          words  RUN\n          size   14 x 6.5 mm\n",
        "          count  2 + 1 spare, sheet 1\n",
        "          film   clear, inside the window; printed backwards\n",
        "          note   Lay it on the left pane, 20 mm above the sill.\n",
        "White film: 3 labels, 6 pieces, 1 sheet\n",
    ] {
        assert!(text.contains(fact), "no \"{fact}\" in {text}");
    }
    assert!(text.lines().all(|line| line.chars().count() <= 78));
}

/// Every drawing and word of a page lies within the page, above its edge.
fn nothing_runs_off(card: &Card, designs: &[Design]) {
    let all: Vec<&Design> = designs.iter().chain(&card.drawings).collect();
    for page in &card.pages {
        let inside = Rect::from_origin_size(Point::ORIGIN, page.size).inflate(-8.0, -8.0);
        let is_inside = |rect: Rect| inside.contains_rect(rect);
        for placed in &page.placed {
            let design = all[placed.design];
            let drawn = design.marks.iter().map(|mark| mark.path.bounds());
            for bounds in drawn.map(|bounds| placed.transform.transform_rect_bbox(bounds)) {
                assert!(is_inside(bounds), "{} at {bounds:?}", design.name);
            }
        }
        assert!(page.words.iter().all(|words| is_inside(words.area)));
        assert!(page.marks.iter().all(|mark| is_inside(mark.path.bounds())));
    }
}

#[test]
fn nothing_runs_off_a_page_however_long_it_is() {
    let faces = Faces::bundled();
    let (mut spec, mut designs, sheets) = console(&faces);
    nothing_runs_off(&pages(&spec, &designs, &sheets, &faces), &designs);
    let endless = "W".repeat(3000);
    let wordy = "high water at the outer mole ".repeat(400);
    spec.title = wordy.clone();
    spec.printer.name = wordy.clone();
    spec.date = Some(endless.clone());
    spec.labels[0].note = Some(wordy.clone());
    designs[1].name = endless.clone();
    spec.surfaces.insert(endless.clone(), spec.surfaces["funnel"].clone());
    spec.labels[2].on = Some(endless);
    let card = pages(&spec, &designs, &sheets, &faces);
    nothing_runs_off(&card, &designs);
    let all: String = card.pages.iter().map(read).collect::<Vec<_>>().join(" ");
    assert!(all.matches("outer").count() >= 400, "the whole note is there");
}

#[test]
fn a_row_stays_on_one_page() {
    let faces = Faces::bundled();
    let (mut spec, mut designs, mut sheets) = console(&faces);
    for more in 0..40 {
        let name = format!("channel-{}", 300 + more);
        let label = spec.labels.len();
        designs.push(sketch(&faces, label, (&name, &["300"], Size::new(9.0, 5.0), None)));
        spec.labels.push(samples::label(&name));
    }
    sheets[0] = sheet(&spec, Film::Clear);
    let card = pages(&spec, &designs, &sheets, &faces);
    for name in spec.labels.iter().map(|label| &label.name) {
        let on: Vec<&Page> = card
            .pages
            .iter()
            .filter(|page| page.words.iter().any(|words| words.text == *name))
            .collect();
        assert_eq!(on.len(), 1, "{name}");
        // Its facts stand on the same page, from the same height on.
        let words = &on[0].words;
        let top = words.iter().find(|words| words.text == *name).unwrap().area.y0;
        let beside = words.iter().filter(|words| (words.area.y0 - top).abs() < 1e-6).count();
        assert!(beside >= 3, "{name}");
    }
    assert!(card.pages.iter().skip(1).any(|page| read(page).starts_with("Clear film, continued")));
}

#[test]
fn a_thumbnail_is_never_larger_than_true_size_and_never_mirrored() {
    let faces = Faces::bundled();
    let (spec, designs, sheets) = console(&faces);
    let card = pages(&spec, &designs, &sheets, &faces);
    let labels = card.pages.iter().flat_map(|page| &page.placed);
    let labels: Vec<_> = labels.filter(|placed| placed.design < designs.len()).collect();
    assert_eq!(labels.len(), designs.len());
    for placed in labels {
        let [across, _, _, down, _, _] = placed.transform.as_coeffs();
        assert!(across > 0.0 && across <= 1.0 && (across - down).abs() < 1e-12);
    }
}

#[test]
fn white_stock_hides_the_surface_and_clear_film_does_not() {
    let faces = Faces::bundled();
    let (spec, mut designs, sheets) = console(&faces);
    let job = designs.len();
    let card = pages(&spec, &designs, &sheets, &faces);
    designs.extend(card.drawings);
    // Whether a swatch covers a point of this label's thumbnail, from the middle of the label.
    let surface_shows = |label: usize, from_middle: Vec2| {
        let page = card.pages.iter().find(|page| page.placed.iter().any(|it| it.design == label));
        let placed = &page.unwrap().placed;
        let at = placed.iter().position(|it| it.design == label).unwrap();
        let point = placed[at].transform * (designs[label].size().center() + from_middle);
        placed[at.saturating_sub(1)..=at + 1].iter().filter(|it| it.design >= job).any(|it| {
            let design = &designs[it.design];
            let inside = it.transform.inverse() * point;
            design.name == "swatch" && design.marks[0].path.contains(inside)
        })
    };
    let beside = |label: usize| Vec2::new(0.0, designs[label].size().height() / 2.0 + 0.2);
    assert!(surface_shows(0, Vec2::ZERO) && surface_shows(0, beside(0)), "clear film");
    assert!(!surface_shows(9, Vec2::ZERO) && surface_shows(9, beside(9)), "white film");
}

#[test]
fn american_jobs_get_letter_paper() {
    let faces = Faces::bundled();
    let (mut spec, designs, sheets) = console(&faces);
    let size = |spec: &Spec| pages(spec, &designs, &sheets, &faces).pages[0].size;
    // ISO 216 A4; Letter 8.5 x 11 in.
    assert_eq!(size(&spec), Size::new(210.0, 297.0));
    spec.sheet.paper.name = "Legal".to_owned();
    assert_eq!(size(&spec), Size::new(215.9, 279.4));
}

#[test]
fn steps_and_cautions_are_those_of_film_and_printer() {
    let faces = Faces::bundled();
    let (mut spec, designs, sheets) = console(&faces);
    let list = |spec: &Spec| {
        let list = text(spec, &designs, &sheets);
        list.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    // Common practice, no source.
    let ink_jet = list(&spec);
    for words in [
        "two or three light clear coats",
        "never \"fit to page\"",
        "15 to 60 seconds in water of 20 to 35 °C",
        "organic-vapour respirator",
        "new blade",
        "air under the film shows as silver",
        "no white edge is left",
        "They read right once applied.",
        "Where the film maker's instructions differ, follow those.",
    ] {
        assert!(ink_jet.contains(words), "{words}");
    }
    assert!(!ink_jet.contains("Iron"));
    spec.printer.process = Process::Laser;
    spec.labels[0].applied = Applied::HeatTransfer;
    let laser = list(&spec);
    for words in ["film rated for laser heat", "Toner often needs no coat", "Iron, press and part"]
    {
        assert!(laser.contains(words), "{words}");
    }
    assert!(laser.contains("Soak"));
    for label in &mut spec.labels {
        label.applied = Applied::HeatTransfer;
    }
    assert!(!list(&spec).contains("Soak"));
    for label in &mut spec.labels {
        (label.applied, label.film) = (Applied::FaceUp, Film::Sticker);
    }
    assert!(!list(&spec).contains("Soak"));
}

#[test]
fn signs_no_face_has_leave_a_mark() {
    let faces = Faces::bundled();
    let (spec, mut designs, sheets) = console(&faces);
    designs[0].name = "\u{e000}".to_owned();
    let card = pages(&spec, &designs, &sheets, &faces);
    assert!(card.drawings.iter().any(|design| design.name == "\u{e000}"));
}
