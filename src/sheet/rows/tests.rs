use super::super::testing;
use super::*;
use crate::design::Design;
use crate::sheet::Parting;
use crate::spec::wiring::{End, MarkerKind, MarkerOf, Spot};
use crate::spec::{LabelKind, Spec};

/// Two markers a wire, each so large.
fn harness(sizes: &[(f64, f64)]) -> (Spec, Vec<Design>) {
    let mut spec = testing::spec(2 * sizes.len());
    let mut designs = Vec::new();
    for (at, (width, height)) in sizes.iter().enumerate() {
        for (end, spot) in [Spot::End(End::From), Spot::End(End::To)].into_iter().enumerate() {
            let number = 2 * at + end;
            let kind = MarkerKind::Wrap;
            let marker = MarkerOf { wire: at, spot, kind, stretch: Vec2::new(1.0, 1.0) };
            spec.labels[number].kind = LabelKind::Marker(marker);
            designs.push(testing::design(number, *width, *height, 0.0));
        }
    }
    (spec, designs)
}

#[test]
fn ends_lie_side_by_side_and_share_their_cut() {
    let sizes: Vec<(f64, f64)> =
        (0..60).map(|at| if at % 3 == 0 { (12.0, 13.0) } else { (30.0, 8.0) }).collect();
    let (spec, designs) = harness(&sizes);
    let (sheets, _) = testing::laid(&spec, &designs);
    let mut seen = 0;
    for sheet in &sheets {
        assert_eq!(sheet.parting, Parting::Shared);
        for pair in sheet.placements.chunks(2) {
            let [a, b] = pair else { panic!() };
            assert_eq!((a.design + 1, a.design % 2), (b.design, 0));
            let [a, b] = [a, b].map(|one| one.footprint(&designs[one.design]));
            assert!((a.x1 - b.x0).abs() < 1e-9 && (a.y0 - b.y0).abs() < 1e-9, "{a:?} {b:?}");
            seen += 2;
        }
        let rows = sheet.placements.iter().map(|one| one.footprint(&designs[one.design]));
        let rows: Vec<Rect> = rows.collect();
        for (at, one) in rows.iter().enumerate() {
            assert!(one.x1 <= 200.0 && one.y1 <= 287.0 && one.x0 >= 10.0 && one.y0 >= 10.0);
            for other in &rows[at + 1..] {
                let shared = one.intersect(*other);
                assert!(shared.width() < 1e-9 || shared.height() < 1e-9);
                // Rows are parted by whole cuts: same top, same bottom.
                assert!((one.y0 - other.y0).abs() > 1e-9 || (one.y1 - other.y1).abs() < 1e-9);
            }
        }
    }
    assert_eq!(seen, 120);
}

#[test]
fn stickers_take_one_marker_each_and_used_ones_none() {
    let (spec, designs) = harness(&[(20.0, 9.0), (9.0, 20.0), (40.0, 9.0)]);
    let grid = Grid {
        cells: (2, 3),
        size: Size::new(25.0, 10.0),
        pitch: Vec2::new(27.0, 12.0),
        first: Point::new(10.0, 10.0),
        used: [1, 2, 4].into(),
        place: crate::finding::Place::default(),
    };
    let needed =
        |(index, design)| NeededDesign { index, design, label: &spec.labels[index], past: 0.0 };
    let needed: Vec<NeededDesign> = designs.iter().enumerate().map(needed).collect();
    let mut findings = Findings::default();
    let sheets = stickers(&grid, &needed, &mut findings);
    assert_eq!(sheets.iter().map(Vec::len).collect::<Vec<_>>(), [3, 1]);
    // Cell 3 is the first of the second row, its middle at 10 + 12.5 and 10 + 12 + 5.
    assert_eq!(sheets[0][0].footprint(&designs[0]).center(), Point::new(22.5, 27.0));
    // The third marker fits only turned; the fifth and sixth not at all.
    assert_eq!(sheets[0][2].quarter_turns, 1);
    let codes: Vec<_> = findings.list().iter().map(|one| one.code).collect();
    assert_eq!(codes, ["too-large-for-sticker"]);
}
