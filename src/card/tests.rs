use super::*;
use crate::font::Faces;
use crate::job::{self, Laid};
use crate::spec::{Applied, Film, Process};
use kurbo::{Point, Rect, Size, Vec2};

/// A harbour-signal console for the stage: nine labels on clear film, three on white, a spare of each.
const CONSOLE: &str = r##"
title: Harbour signal console
revision: B
date: 3 March 2031
sheet: {film: clear, paper: A4, margin: 10 mm, spares: 1}
printer: {class: ink-jet}
surfaces:
  housing: {colour: "#aeb4b8", finish: metallic}
  funnel: {colour: "#e8c848"}
styles:
  small: {on: housing, text: {cap_height: 2.5 mm}}
  stencil: {style: small, film: white}
labels:
  - {name: run, text: RUN, style: small, size: [14 mm, 6.5 mm], copies: 2}
  - {name: rest, text: REST, style: small, size: [14 mm, 6.5 mm]}
  - {name: lamp-test, text: [LAMP, TEST], style: small, size: [16 mm, 11 mm]}
  - {name: berth-plate, text: NORTH MOLE BERTH 4, style: small, size: [96 mm, 11 mm]}
  - {name: tide-gauge, text: TIDE GAUGE, style: small, size: [30 mm, 5 mm], on: funnel}
  - {name: fog-horn, text: FOG HORN, style: small, size: [24 mm, 5 mm], on: funnel}
  - name: window-sign
    text: {text: [HARBOUR OFFICE, OPEN], cap_height: 4 mm}
    size: [60 mm, 18 mm]
    applied: inside-window
    note: Lay it on the left pane, 20 mm above the sill.
  - {name: channel-201, text: "201", style: small, size: [9 mm, 5 mm]}
  - {name: stripe, on: housing, parts: [box: {size: [120 mm, 4 mm], fill: "#ad2b24"}]}
  - {name: storm-cone, text: STORM CONE ≥ 8, style: stencil, size: [34 mm, 8 mm]}
  - {name: breakers, text: [BREAKERS, A to F], style: stencil, size: [26 mm, 12 mm], on: funnel}
  - {name: serial, text: "No. 0047 <B> & 'C'", style: stencil, size: [36 mm, 6 mm]}
"##;

/// The console with more labels after its own, read, drawn and laid.
fn console(more: &str) -> Laid {
    let mut fetch = |name: &str| Err(crate::files::Error::Outside(name.into()));
    let job::Outcome { laid, findings, .. } =
        job::lay("console.yaml", format!("{CONSOLE}{more}").as_bytes(), &mut fetch);
    assert!(!findings.any_error(), "{findings:?}");
    laid.unwrap()
}

fn card(laid: &Laid) -> Card {
    pages(&laid.spec, &laid.designs, &laid.sheets, &Faces::bundled())
}

fn list(laid: &Laid) -> String {
    text(&laid.spec, &laid.designs, &laid.sheets)
}

/// All the words of a page, lines joined by a space.
fn read(page: &Page) -> String {
    let lines: Vec<&str> = page.words.iter().map(|words| words.text.as_str()).collect();
    lines.join(" ")
}

fn read_all(card: &Card) -> String {
    card.pages.iter().map(read).collect::<Vec<_>>().join(" ")
}

#[test]
fn every_label_is_on_the_pages_with_all_that_is_to_be_read() {
    let laid = console("");
    let all = read_all(&card(&laid));
    for (design, label) in laid.designs.iter().zip(&laid.spec.labels) {
        assert!(all.contains(&design.name), "{}", design.name);
        assert!(design.words.iter().all(|words| all.contains(&words.text)), "{}", design.name);
        assert!(label.note.as_ref().is_none_or(|note| all.contains(note)), "{}", design.name);
    }
    for fact in [
        "Harbour signal console Placement list, revision B, 3 March 2031",
        "12 labels on 2 sheets, for printer ink-jet.",
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
    let laid = console("");
    let text = list(&laid);
    for design in &laid.designs {
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
    let mut laid = console("");
    nothing_runs_off(&card(&laid), &laid.designs);
    let endless = "W".repeat(3000);
    let wordy = "high water at the outer mole ".repeat(400);
    let spec = &mut laid.spec;
    spec.title = wordy.clone();
    spec.printer.name = wordy.clone();
    spec.date = Some(endless.clone());
    spec.labels[0].note = Some(wordy.clone());
    laid.designs[1].name = endless.clone();
    spec.surfaces.insert(endless.clone(), spec.surfaces["funnel"].clone());
    spec.labels[2].on = Some(endless);
    let card = card(&laid);
    nothing_runs_off(&card, &laid.designs);
    assert!(read_all(&card).matches("outer").count() >= 400, "the whole note is there");
}

#[test]
fn a_row_stays_on_one_page() {
    let laid = console(
        "  - {name: 'channel-{n}', text: '{n}', style: small, size: [9 mm, 5 mm], series: '300..339'}\n",
    );
    let card = card(&laid);
    for name in laid.spec.labels.iter().map(|label| &label.name) {
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
    let laid = console("");
    let card = card(&laid);
    let labels = card.pages.iter().flat_map(|page| &page.placed);
    let labels: Vec<_> = labels.filter(|placed| placed.design < laid.designs.len()).collect();
    assert_eq!(labels.len(), laid.designs.len());
    for placed in labels {
        let [across, _, _, down, _, _] = placed.transform.as_coeffs();
        assert!(across > 0.0 && across <= 1.0 && (across - down).abs() < 1e-12);
    }
}

#[test]
fn white_stock_hides_the_surface_and_clear_film_does_not() {
    let laid = console("");
    let card = card(&laid);
    let (mut designs, job) = (laid.designs, 12);
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
    let mut laid = console("");
    // ISO 216 A4; Letter 8.5 x 11 in.
    assert_eq!(card(&laid).pages[0].size, Size::new(210.0, 297.0));
    laid.spec.sheet.paper.name = "Legal".to_owned();
    assert_eq!(card(&laid).pages[0].size, Size::new(215.9, 279.4));
}

#[test]
fn steps_and_cautions_are_those_of_film_and_printer() {
    let mut laid = console("");
    let has = |laid: &Laid, words: &str| {
        let list = list(laid);
        list.split_whitespace().collect::<Vec<_>>().join(" ").contains(words)
    };
    // Common practice, no source.
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
        assert!(has(&laid, words), "{words}");
    }
    assert!(!has(&laid, "Iron"));
    laid.spec.printer.process = Process::Laser;
    laid.spec.labels[0].applied = Applied::HeatTransfer;
    for words in
        ["film rated for laser heat", "Toner often needs no coat", "Iron, press and part", "Soak"]
    {
        assert!(has(&laid, words), "{words}");
    }
    for label in &mut laid.spec.labels {
        label.applied = Applied::HeatTransfer;
    }
    assert!(!has(&laid, "Soak"));
    for label in &mut laid.spec.labels {
        (label.applied, label.film) = (Applied::FaceUp, Film::Sticker);
    }
    assert!(!has(&laid, "Soak"));
}

#[test]
fn signs_no_face_has_leave_a_mark() {
    let mut laid = console("");
    laid.designs[0].name = "\u{e000}".to_owned();
    let card = card(&laid);
    assert!(card.drawings.iter().any(|design| design.name == "\u{e000}"));
}
