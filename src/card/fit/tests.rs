use super::fit_pages;
use crate::font::Faces;
use crate::job::lay;

const CONSOLE: &str = include_str!("../../../tests/jobs/console.yaml");

/// Its drill table: the first column names the holes.
const HOLES: &str = include_str!("../../../tests/jobs/console.csv");

#[test]
fn the_fit_print_shows_plate_holes_and_names_without_grounds() {
    let mut fetch = |_: &str| Ok(HOLES.as_bytes().to_vec());
    let laid = lay("job.yaml", CONSOLE.as_bytes(), &mut fetch).laid.unwrap();
    let card = fit_pages(&laid.spec, &laid.designs, &Faces::bundled());
    let words: Vec<_> =
        card.pages.iter().flat_map(|page| page.words.iter().map(|one| one.text.clone())).collect();
    let holes: Vec<&str> =
        HOLES.lines().skip(1).filter_map(|line| line.split(',').next()).collect();
    assert_eq!(holes.len(), 16);
    for hole in holes {
        assert!(words.iter().filter(|text| **text == hole).count() >= 2, "{hole} drawn and listed");
    }
    assert!(words.iter().any(|text| text == "400 mm") && words.iter().any(|text| text == "260 mm"));
    // No area of ink larger than a line: the plate is 104,000 mm², its lines some hundreds.
    let drawn = card.drawings.iter().filter(|one| one.name.starts_with("top fit"));
    let ink: f64 = drawn.flat_map(|one| &one.marks).map(|mark| mark.path.area()).sum();
    assert!(ink > 100.0 && ink < 2000.0, "{ink} mm² of ink");
}
