use super::*;
use crate::finding::Severity;
use crate::sheet::testing::{design, laid, spec};
use crate::spec::{Applied, Cuts};

fn footprints(sheet: &Sheet, designs: &[Design]) -> Vec<Rect> {
    sheet.placements.iter().map(|p| p.footprint(&designs[p.design])).collect()
}

/// Distance between two rectangles, mm.
fn apart(a: Rect, b: Rect) -> f64 {
    let x = (b.x0 - a.x1).max(a.x0 - b.x1).max(0.0);
    let y = (b.y0 - a.y1).max(a.y0 - b.y1).max(0.0);
    x.hypot(y)
}

#[test]
fn trims_keep_the_gap_and_ink_stays_inside_the_margins() {
    let sizes = [(40.0, 12.0, 0.5), (25.0, 30.0, 1.5), (12.0, 5.0, 0.0), (60.0, 4.0, 1.0)];
    for (cuts, turn) in [(Cuts::Free, true), (Cuts::Straight, false)] {
        let mut spec = spec(sizes.len());
        spec.sheet.cuts = cuts;
        spec.sheet.turn = turn;
        for label in &mut spec.labels {
            label.copies = 17;
            label.spares = 3;
        }
        let sized = sizes.iter().enumerate();
        let designs: Vec<Design> =
            sized.map(|(at, (w, h, bleed))| design(at, *w, *h, *bleed)).collect();
        let (sheets, findings) = laid(&spec, &designs);
        assert_eq!(findings.list(), []);
        assert_eq!(sheets.iter().map(|sheet| sheet.placements.len()).sum::<usize>(), 80);
        for sheet in &sheets {
            let prints = footprints(sheet, &designs);
            for (at, a) in sheet.placements.iter().enumerate() {
                let bleed = designs[a.design].bleed_mm;
                let ink = prints[at].inflate(bleed - 1e-6, bleed - 1e-6);
                assert!(Rect::new(10.0, 10.0, 200.0, 287.0).contains_rect(ink), "{ink:?}");
                for (to, b) in sheet.placements.iter().enumerate().take(at) {
                    let needed = spec.sheet.gap.max(bleed + designs[b.design].bleed_mm);
                    assert!(apart(prints[at], prints[to]) >= needed - 1e-5);
                }
            }
        }
    }
}

#[test]
fn an_exact_fit_takes_the_sheet_and_touches_the_margins() {
    // 8 in = 203.2 mm exactly; 215.9 - 2 x 6.35 = 203.2 (Letter, quarter inch margins).
    let mut spec = spec(2);
    spec.sheet.paper.size = Size::new(215.9, 279.4);
    spec.sheet.margins = crate::spec::Margins { top: 6.35, right: 6.35, bottom: 6.35, left: 6.35 };
    spec.sheet.guides = true;
    let designs = [design(0, 203.2, 20.0, 0.0), design(1, 20.0, 20.0, 1.0)];
    let (sheets, findings) = laid(&spec, &designs);
    assert_eq!(findings.count(Severity::Error), 0);
    assert_eq!(sheets.len(), 1);
    let wide = sheets[0].placements.iter().find(|p| p.design == 0).unwrap();
    assert!((wide.footprint(&designs[0]).x0 - 6.35).abs() < 1e-6);
}

#[test]
fn every_film_has_its_own_sheets_in_order() {
    let mut spec = spec(3);
    spec.labels[0].film = Film::Paper;
    spec.labels[1].film = Film::White;
    spec.labels[1].copies = 2;
    spec.labels[1].spares = 1;
    let designs: Vec<Design> = (0..3).map(|at| design(at, 30.0, 10.0, 0.0)).collect();
    let (sheets, _) = laid(&spec, &designs);
    let films: Vec<Film> = sheets.iter().map(|sheet| sheet.film).collect();
    assert_eq!(films, [Film::Clear, Film::White, Film::Paper]);
    let pieces: Vec<CopyOrSpare> = sheets[1].placements.iter().map(|p| p.piece).collect();
    assert_eq!(pieces, [CopyOrSpare::Copy(1), CopyOrSpare::Copy(2), CopyOrSpare::Spare(1)]);
    assert!(sheets.iter().all(|sheet| (sheet.number, sheet.of) == (1, 1)));
}

#[test]
fn marks_cost_no_sheet_of_a_few() {
    // Nine of 62 x 91 mm fill 190 x 277 with a gap of 2 (3 x 62 + 2 x 2 = 190; 3 x 91 + 2 x 2 = 277).
    let mut spec = spec(1);
    spec.sheet.guides = true;
    spec.labels[0].copies = 9;
    let designs = [design(0, 62.0, 91.0, 0.0)];
    let (sheets, findings) = laid(&spec, &designs);
    assert_eq!(sheets.len(), 1);
    assert!(findings.list().iter().all(|finding| finding.severity == Severity::Note));
    assert!(findings.list().iter().any(|finding| finding.code == "no-room-for-square"));
    // Unless the sheet must say that it reads backwards.
    spec.labels[0].applied = Applied::FaceDown;
    let (sheets, _) = laid(&spec, &designs);
    assert_eq!(sheets.len(), 2);
    assert!(sheets.iter().all(|sheet| sheet.words.iter().any(|it| it.text.contains("BACKWARDS"))));
}

#[test]
fn mirrored_labels_are_placed_by_a_flip() {
    let mut spec = spec(2);
    spec.sheet.turn = true;
    spec.labels[1].applied = Applied::InsideWindow;
    let designs = [design(0, 30.0, 10.0, 0.0), design(1, 10.0, 40.0, 0.0)];
    let (sheets, _) = laid(&spec, &designs);
    assert!(!sheets[0].reads_backwards);
    for placement in &sheets[0].placements {
        // A flip has a negative determinant (linear algebra).
        let flipped = placement.transform().determinant() < 0.0;
        assert_eq!(flipped, placement.design == 1);
    }
    spec.labels[0].applied = Applied::HeatTransfer;
    assert!(laid(&spec, &designs).0[0].reads_backwards);
}

#[test]
fn placements_stand_in_reading_order() {
    let mut spec = spec(1);
    spec.labels[0].copies = 20;
    let designs = [design(0, 50.0, 10.0, 0.0)];
    let (sheets, _) = laid(&spec, &designs);
    let corners: Vec<Point> =
        footprints(&sheets[0], &designs).iter().map(|rect| rect.origin()).collect();
    assert!(corners.is_sorted_by_key(|corner| (nanometres(corner.y), nanometres(corner.x))));
}

#[test]
fn what_is_too_large_is_told_and_the_rest_is_laid() {
    let spec = spec(2);
    let designs = [design(0, 300.0, 10.0, 0.0), design(1, 30.0, 10.0, 0.0)];
    let (sheets, findings) = laid(&spec, &designs);
    assert_eq!(findings.list()[0].code, "too-large-for-sheet");
    assert_eq!(sheets[0].placements.len(), 1);
}

#[test]
fn a_label_the_spec_does_not_know_is_passed_over() {
    let (sheets, _) = laid(&spec(1), &[design(7, 30.0, 10.0, 0.0)]);
    assert_eq!(sheets, []);
}
