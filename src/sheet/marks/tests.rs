use super::*;
use crate::font::Faces;
use crate::sheet::Placement;
use crate::sheet::testing::{design, laid, spec};
use crate::spec::{Applied, Cuts, Spec};
use kurbo::Shape as _;

fn guided(labels: usize) -> Spec {
    let mut spec = spec(labels);
    spec.sheet.guides = true;
    spec
}

/// Bounds of every contour of a sheet's marks.
fn contours(sheet: &Sheet) -> Vec<Rect> {
    sheet
        .marks
        .iter()
        .flat_map(|mark| mark.path.contours().map(|path| path.bounding_box()).collect::<Vec<_>>())
        .collect()
}

#[test]
fn both_bars_and_the_square_measure_what_they_say() {
    let (sheets, findings) = laid(&guided(1), &[design(0, 40.0, 10.0, 0.0)]);
    assert_eq!(findings.list(), []);
    let found = |width: f64, height: f64| {
        contours(&sheets[0]).iter().any(|bounds| {
            (bounds.width() - width).abs() < 1e-4 && (bounds.height() - height).abs() < 1e-4
        })
    };
    assert!(found(100.0, bars::HEIGHT), "the bar across");
    assert!(found(bars::HEIGHT, 100.0), "the bar down");
    assert!(found(50.0, 50.0), "the square");
}

#[test]
fn small_paper_gets_short_bars() {
    // A6 is 105 x 148 mm (ISO 216): 93 mm inside 6 mm margins hold 50 mm, not 100.
    let mut spec = guided(1);
    spec.sheet.paper.size = kurbo::Size::new(105.0, 148.0);
    spec.sheet.margins = crate::spec::Margins { top: 6.0, right: 6.0, bottom: 6.0, left: 6.0 };
    let (sheets, _) = laid(&spec, &[design(0, 40.0, 10.0, 0.0)]);
    let across: Vec<Rect> = contours(&sheets[0]);
    assert!(across.iter().any(|bounds| (bounds.width() - 50.0).abs() < 1e-4));
    assert!(across.iter().all(|bounds| bounds.width() < 99.0));
}

#[test]
fn no_mark_touches_ink_or_leaves_the_margins() {
    for (cuts, paper) in [
        (Cuts::Free, (210.0, 297.0)),
        (Cuts::Straight, (210.0, 297.0)),
        (Cuts::Free, (105.0, 148.0)),
        (Cuts::Straight, (75.0, 60.0)),
    ] {
        let mut spec = guided(3);
        spec.sheet.cuts = cuts;
        spec.sheet.paper.size = paper.into();
        for label in &mut spec.labels {
            label.copies = 9;
        }
        let designs =
            [design(0, 40.0, 10.0, 0.5), design(1, 17.0, 22.0, 0.0), design(2, 9.0, 9.0, 0.2)];
        for sheet in laid(&spec, &designs).0 {
            let inside = spec.printable().inflate(1e-6, 1e-6);
            for mark in contours(&sheet) {
                assert!(inside.union(mark) == inside, "{mark:?}");
                for placement in &sheet.placements {
                    let design = &designs[placement.design];
                    let bleed = design.bleed_mm;
                    let ink = placement.footprint(design).inflate(bleed, bleed);
                    assert!(!ink.overlaps(mark), "{mark:?} meets {ink:?}");
                }
            }
        }
    }
}

#[test]
fn ticks_run_through_no_words_and_no_other_tick() {
    // Narrow labels right under a wide one: their upper ticks stand where its name is.
    let (spec, faces) = (guided(2), Faces::bundled());
    let designs = [design(0, 60.0, 10.0, 0.0), design(1, 1.5, 7.0, 0.0)];
    let context = SheetContext::new(&spec, &designs, &faces);
    let mut sheet = laid(&spec, &designs).0.remove(0);
    let first = sheet.placements[0];
    let at = |design, x: f64, y: f64| Placement { design, at: (x, y).into(), ..first };
    sheet.placements = vec![at(0, 60.0, 25.0)];
    sheet.placements.extend((0..8).map(|n| at(1, 30.75 + 3.5 * f64::from(n), 35.5)));
    let (setter, waste) = (&mut LetteringSetter::new(&context), Waste::of(&context, &sheet));
    let drawing = GuideDrawing::new(spec.sheet.place);
    let mut dresser = SheetDresser { context: &context, sheet: &sheet, setter, waste, drawing };
    let names = dresser.names();
    dresser.ticks(&names);
    let ticks = dresser.drawing.ticks.contours();
    let ticks: Vec<Rect> = ticks.map(|path| path.bounding_box()).collect();
    assert!(!names.is_empty() && ticks.len() > 50);
    for (at, tick) in ticks.iter().enumerate() {
        let meets = |other: &Rect| other.overlaps(*tick);
        assert!(!names.iter().any(meets) && !ticks[..at].iter().any(meets), "{tick:?}");
    }
}

#[test]
fn ticks_point_at_the_trims_edges() {
    let spec = guided(1);
    let designs = [design(0, 40.0, 10.0, 0.0)];
    let (sheets, _) = laid(&spec, &designs);
    let trim = sheets[0].placements[0].footprint(&designs[0]);
    // At the top left of the printable area two corners have room outside: right and below.
    let right = contours(&sheets[0]).into_iter().filter(|tick| {
        tick.x0 > trim.x1 && tick.x1 < trim.x1 + 1.0 && (tick.center().y - trim.y1).abs() < 1e-6
    });
    assert_eq!(right.count(), 1);
}

#[test]
fn a_sheet_says_that_it_reads_backwards() {
    let says =
        |sheet: &Sheet, what: &str| sheet.words.iter().any(|words| words.text.contains(what));
    let mut spec = guided(2);
    spec.labels[1].applied = Applied::InsideWindow;
    let designs = [design(0, 40.0, 10.0, 0.0), design(1, 40.0, 10.0, 0.0)];
    let (sheets, _) = laid(&spec, &designs);
    assert!(says(&sheets[0], "READS BACKWARDS until applied: lamp-1"));
    assert!(says(&sheets[0], "these read right: lamp-1"));
    spec.labels[0].applied = Applied::InsideWindow;
    assert!(says(&laid(&spec, &designs).0[0], "THIS SHEET READS BACKWARDS"));
    let plain = laid(&guided(2), &designs).0;
    assert!(!says(&plain[0], "BACKWARDS"));
}

#[test]
fn names_and_the_foot_say_what_is_what() {
    let mut spec = guided(2);
    spec.labels[0].copies = 2;
    spec.labels[0].spares = 1;
    let designs = [design(0, 40.0, 10.0, 0.5), design(1, 40.0, 10.0, 0.5)];
    let (sheets, _) = laid(&spec, &designs);
    let said: Vec<&str> = sheets[0].words.iter().map(|words| words.text.as_str()).collect();
    for words in ["lamp-0 1/2", "lamp-0 2/2", "lamp-0 spare", "lamp-1"] {
        assert!(said.contains(&words), "{words} in {said:?}");
    }
    let foot =
        "Harbour signal console · revision B · 2026-05-01 · clear film · sheet 1 of 1 · laser-600";
    assert!(said.contains(&foot), "{said:?}");
    assert!(said.contains(&"100 mm · print at 100 %, no scaling"));
}

#[test]
fn guides_can_be_left_out() {
    let (sheets, _) = laid(&spec(1), &[design(0, 40.0, 10.0, 0.0)]);
    assert_eq!(sheets[0].marks, []);
    assert_eq!(sheets[0].words, []);
}
