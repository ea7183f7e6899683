use super::*;

const MM: i64 = 1_000_000;

/// A linear congruential generator with Knuth's MMIX constants (TAOCP 3.3.4); the seed is fixed.
struct Lcg(u64);

impl Lcg {
    fn below(&mut self, end: i64) -> i64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from(self.0 >> 33).unwrap() % end
    }
}

fn item(width: f64, height: f64, turns: bool) -> Item {
    Item { size: NmSize::of(kurbo::Size::new(width, height)), inset: 0, turns }
}

/// An area or rectangle from its top left corner, mm.
fn rect(x: i64, y: i64, width: i64, height: i64) -> NmRect {
    NmRect::at(x * MM, y * MM, NmSize { width: width * MM, height: height * MM })
}

fn random_job(lcg: &mut Lcg) -> (Vec<Item>, NmRect) {
    let area = rect(0, 0, 90 + lcg.below(200), 90 + lcg.below(300));
    let turns = lcg.below(2) == 0;
    let items = (0..1 + lcg.below(40))
        .map(|_| {
            let (width, height) = (MM + lcg.below(60 * MM), MM + lcg.below(40 * MM));
            Item { size: NmSize { width, height }, inset: lcg.below(3) * MM / 2, turns }
        })
        .collect();
    (items, area)
}

fn assert_sound(items: &[Item], area: NmRect, sheets: &[Vec<LaidItem>]) {
    let mut laid: Vec<usize> = sheets.iter().flatten().map(|one| one.item).collect();
    laid.sort_unstable();
    assert_eq!(laid, (0..items.len()).collect::<Vec<_>>(), "every piece once");
    for sheet in sheets {
        let cells: Vec<NmRect> = sheet.iter().map(|one| one.covers(items)).collect();
        for (at, one) in sheet.iter().enumerate() {
            let inset = items[one.item].inset;
            let NmRect { y0, x0, y1, x1 } = area;
            let inner = NmRect { y0: y0 + inset, x0: x0 + inset, y1: y1 - inset, x1: x1 - inset };
            assert!(inner.holds(&cells[at]), "{one:?} leaves {inner:?}");
            assert!(items[one.item].turns || !one.turned);
            assert!(!cells[..at].iter().any(|other| other.meets(&cells[at])), "{one:?}");
        }
    }
}

/// Whether straight cuts, each through all of what it cuts, set every cell free (by definition of guillotine).
fn cuts_apart(cells: &[NmRect]) -> bool {
    if cells.len() < 2 {
        return true;
    }
    let split = |start: fn(&NmRect) -> i64, end: fn(&NmRect) -> i64| {
        cells.iter().map(end).find_map(|line| {
            let (before, after): (Vec<NmRect>, Vec<NmRect>) =
                cells.iter().partition(|cell| end(cell) <= line);
            let clean = !after.is_empty() && after.iter().all(|cell| start(cell) >= line);
            clean.then_some((before, after))
        })
    };
    let parts = split(|c| c.x0, |c| c.x1).or_else(|| split(|c| c.y0, |c| c.y1));
    parts.is_some_and(|(before, after)| cuts_apart(&before) && cuts_apart(&after))
}

#[test]
fn pieces_stay_inside_and_apart_on_two_hundred_random_jobs() {
    let mut lcg = Lcg(7);
    for _ in 0..200 {
        let (items, area) = random_job(&mut lcg);
        for cuts in [Cuts::Free, Cuts::Straight] {
            let sheets = tile(&items, area, cuts);
            assert_sound(&items, area, &sheets);
            assert!(sheets.len() >= fewest(&items, area));
            if cuts == Cuts::Straight {
                for sheet in &sheets {
                    let cells: Vec<NmRect> = sheet.iter().map(|one| one.covers(&items)).collect();
                    assert!(cuts_apart(&cells));
                }
            }
        }
    }
}

#[test]
fn a_pinwheel_cannot_be_cut_apart() {
    // The textbook arrangement of four rectangles round a fifth that no straight cut divides.
    let pinwheel =
        [rect(0, 0, 2, 1), rect(2, 0, 1, 2), rect(1, 2, 2, 1), rect(0, 1, 1, 2), rect(1, 1, 1, 1)];
    assert!(!cuts_apart(&pinwheel));
}

#[test]
fn a_tram_job_takes_one_sheet() {
    // Counts published with the tram job: 190 x 277 mm, gap 2 mm, one sheet reached by a plain packer.
    for cuts in [Cuts::Free, Cuts::Straight] {
        let kinds = [(12.0, 5.0, 60), (152.0, 2.6, 28), (15.5, 3.2, 28), (8.0, 1.6, 27)];
        let items: Vec<Item> = kinds
            .iter()
            .flat_map(|(w, h, n)| std::iter::repeat_n(item(w + 2.0, h + 2.0, true), *n))
            .collect();
        let area = rect(0, 0, 192, 279);
        let sheets = tile(&items, area, cuts);
        assert_eq!(sheets.len(), 1);
        assert_sound(&items, area, &sheets);
    }
}

#[test]
fn perfect_fits_fit() {
    // A hundred squares of 10 mm are 100 x 100 mm (arithmetic); so are 25 times four of 4 x 25 mm.
    let area = rect(0, 0, 100, 100);
    for cuts in [Cuts::Free, Cuts::Straight] {
        assert_eq!(tile(&vec![item(10.0, 10.0, false); 100], area, cuts).len(), 1);
        assert_eq!(tile(&vec![item(4.0, 25.0, true); 100], area, cuts).len(), 1);
        assert_eq!(tile(&[item(100.0, 100.0, false)], area, cuts).len(), 1);
    }
}

#[test]
fn small_pieces_take_no_more_than_level_packing_promises() {
    // Next-fit by falling height needs at most twice the area's height and one level more (Coffman, Garey,
    // Johnson, Tarjan 1980); in sheets, with pieces up to a tenth of the side: twice the bound and one.
    let mut lcg = Lcg(11);
    for count in [50, 400, 2500] {
        let area = rect(0, 0, 190, 277);
        let items: Vec<Item> = (0..count)
            .map(|_| {
                let (width, height) = (2 * MM + lcg.below(17 * MM), 2 * MM + lcg.below(20 * MM));
                Item { size: NmSize { width, height }, inset: 0, turns: false }
            })
            .collect();
        for cuts in [Cuts::Free, Cuts::Straight] {
            let sheets = tile(&items, area, cuts);
            assert_sound(&items, area, &sheets);
            assert!(sheets.len() <= 2 * fewest(&items, area) + 1, "{count}: {}", sheets.len());
        }
    }
}

#[test]
fn the_same_job_is_laid_the_same_way() {
    let mut lcg = Lcg(3);
    let (items, area) = random_job(&mut lcg);
    assert_eq!(tile(&items, area, Cuts::Free), tile(&items, area, Cuts::Free));
}

#[test]
fn the_last_sheet_keeps_its_waste_in_one_piece() {
    // Ten of 30 x 20 mm on 190 x 277: two rows of six leave 190 x 237 (arithmetic).
    let items = vec![item(30.0, 20.0, false); 10];
    let area = rect(0, 0, 190, 277);
    let sheets = tile(&items, area, Cuts::Free);
    assert!(offcut(&sheets[0], &items, area) >= i128::from(190 * MM) * i128::from(237 * MM));
}

#[test]
fn scattered_pieces_are_drawn_up() {
    // Two of 30 x 20 mm in opposite corners of 190 x 277; side by side they leave 190 x 257 (arithmetic).
    let items = [item(30.0, 20.0, false); 2];
    let area = rect(0, 0, 190, 277);
    let low = LaidItem { item: 1, x: 160 * MM, y: 257 * MM, turned: false };
    let scattered = vec![LaidItem { item: 0, x: 0, y: 0, turned: false }, low];
    let drawn = draw_up(vec![scattered], &items, area, Cuts::Free);
    assert_sound(&items, area, &drawn);
    assert_eq!(offcut(&drawn[0], &items, area), i128::from(190 * MM) * i128::from(257 * MM));
}

#[test]
fn a_full_height_beside_one_that_keeps_from_the_edge_stays_inside() {
    // In 192 x 279 one piece is as high as the area; the other keeps 1 mm from its edges: a row of both would be
    // 279 mm high from 1 mm on.
    let area = rect(0, 0, 192, 279);
    let items = [item(20.0, 279.0, false), Item { inset: MM, ..item(20.0, 100.0, false) }];
    for cuts in [Cuts::Free, Cuts::Straight] {
        assert_sound(&items, area, &tile(&items, area, cuts));
    }
}

#[test]
fn a_piece_that_cannot_be_drawn_up_stays_inside() {
    // 200 x 140 in 281 x 194: it lies only one way, and no lower strip than 140 takes it.
    let area = rect(0, 0, 281, 194);
    let item = item(200.0, 140.0, true);
    for cuts in [Cuts::Free, Cuts::Straight] {
        let sheets = tile(&[item], area, cuts);
        assert!(area.holds(&sheets[0][0].covers(&[item])), "{:?}", sheets[0][0]);
    }
}
