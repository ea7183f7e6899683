use super::*;
use crate::font::Faces;
use crate::spec::wiring::{Diameter, Grid, Markers, Terminal};
use crate::spec::{Process, TextSize};

fn wire(id: &str, diameter: f64) -> Wire {
    let at = |text| Some(Terminal::parse(text, Place::default()));
    let lines = |text: &str| vec![id.to_owned(), text.to_owned()];
    Wire {
        id: id.to_owned(),
        from: at("U1:P2"),
        to: at("X1:1"),
        colour: None,
        gauge: None,
        diameter: Diameter { mm: diameter, assumed: false },
        length_mm: None,
        function: String::new(),
        note: String::new(),
        kind: None,
        texts: [lines("U1:P2 > X1:1"), lines("X1:1 > U1:P2")],
        place: Place::default(),
    }
}

fn wiring(wires: Vec<Wire>) -> Wiring {
    Wiring {
        wires,
        rails: Vec::new(),
        takes: BTreeMap::new(),
        markers: Markers {
            kind: None,
            thin: None,
            film: Film::Clear,
            thickness: 0.05,
            cap: Some(1.6),
            font: "wire".to_owned(),
            face: None,
            height: 6.0,
            along: 40.0,
            tail_turns: 1.5,
            every: None,
            grid: None::<Grid>,
            place: Place::default(),
        },
        allow: Vec::new(),
        place: Place::default(),
    }
}

fn made(wiring: &Wiring) -> (Vec<Label>, Findings) {
    let printer = Printer {
        name: "laser-600".into(),
        process: Process::Laser,
        thinnest_ink: 0.15,
        thinnest_clear: 0.25,
        smallest_cap: 1.2,
        smallest_cap_reversed: 1.6,
        dots_per_inch: 600.0,
        ink_opacity: 0.2,
        white_opacity: 0.85,
        thinnest_white: 0.5,
        white_passes: None,
        profile: None,
    };
    let mut findings = Findings::default();
    let faces = Faces::bundled();
    let labels = markers(wiring, &printer, &faces, &BTreeSet::new(), &mut findings);
    (labels, findings)
}

fn near(found: f64, wanted: f64, slack: f64) {
    assert!((found - wanted).abs() <= slack, "{found} is not {wanted}");
}

#[test]
fn a_laminated_wrap_prints_one_turn_and_covers_it() {
    // Worked by hand: pi (1.52 + 0.05) = 4.932, 2.5 turns 12.331.
    let (labels, findings) = made(&wiring(vec![wire("W1", 1.52)]));
    assert_eq!(labels.len(), 2);
    let [a, b] = labels.as_slice() else { panic!() };
    assert_eq!((a.name.as_str(), b.name.as_str()), ("W1 a", "W1 b"));
    assert_eq!(a.size, b.size);
    near(a.size.unwrap().height, 12.331, 0.002);
    // The words sit in the middle of the printed turn, which is the top of the strip.
    assert_eq!(a.parts.len(), 1);
    near(a.parts[0].at.y + 12.331 / 2.0, 4.932 / 2.0, 0.002);
    let codes: Vec<_> = findings.list().iter().map(|one| one.code).collect();
    assert_eq!(codes, ["turn-to-read"]);
    assert!(findings.list()[0].message.contains("120.6 degrees"), "{:?}", findings.list());
}

#[test]
fn a_flag_has_two_upright_faces_and_a_fold_between() {
    // Worked by hand: 2 x 22 + pi (1.07 + 0.05) = 47.519, folded at 23.759.
    let mut wiring = wiring(vec![wire("W1", 1.07)]);
    wiring.markers.face = Some(22.0);
    let (labels, findings) = made(&wiring);
    assert!(findings.list().is_empty(), "{:?}", findings.list());
    let flag = &labels[0];
    near(flag.size.unwrap().width, 47.519, 0.002);
    near(flag.size.unwrap().height, 6.0, 1e-9);
    let texts: Vec<&Part> =
        flag.parts.iter().filter(|part| matches!(part.element, Element::Text(_))).collect();
    assert_eq!(texts.len(), 2);
    assert!(texts.iter().all(|part| part.turned.abs() < 1e-9));
    near(texts[0].at.x, -(22.0 + 3.519) / 2.0, 0.002);
    // The fold is the middle of the strip.
    assert!(flag.parts[2..].iter().all(|part| part.at.x.abs() < 1e-9));
    wiring.markers.kind = Some(MarkerKind::FlagAlong);
    let (labels, _) = made(&wiring);
    let turned: Vec<f64> = labels[0].parts.iter().take(2).map(|part| part.turned).collect();
    assert_eq!(turned, [0.0, 180.0]);
    near(labels[0].size.unwrap().height, 2.0 * 6.0 + 3.519, 0.002);
}

#[test]
fn a_sleeve_is_drawn_larger_by_what_it_shrinks() {
    let mut wiring = wiring(vec![wire("W1", 2.4)]);
    wiring.markers.kind = Some(MarkerKind::Sleeve);
    wiring.markers.cap = None;
    let (labels, _) = made(&wiring);
    let marks = *labels[0].marker_of().unwrap();
    // Published 2:1 sizes: 3.2/1.6 grips 2.40 (1.6 < 2.16, 3.2 > 2.64); length kept 0.9.
    near(labels[0].size.unwrap().height, 5.60, 0.012);
    near(marks.stretch.x, 1.0 / 0.9, 1e-9);
    assert!(marks.stretch.y > 1.0);
    wiring.wires[0].diameter.mm = 0.51;
    let (_, findings) = made(&wiring);
    assert_eq!(findings.list()[0].code, "no-sleeve");
    assert!(findings.list()[0].help.contains("flag"), "{}", findings.list()[0].help);
}

#[test]
fn the_largest_height_of_the_series_is_taken_and_illegible_kinds_are_told() {
    // ISO 3098 series 1.8 2.5 3.5 5 7 10.
    let mut one = wire("W1", 5.0);
    one.texts = [vec!["W1".to_owned()], vec!["W1".to_owned()]];
    let mut wiring =
        wiring(vec![one.clone(), Wire { diameter: Diameter { mm: 0.9, assumed: false }, ..one }]);
    wiring.wires[1].id = "W2".to_owned();
    wiring.markers.cap = None;
    wiring.markers.kind = Some(MarkerKind::Laminated);
    let (labels, findings) = made(&wiring);
    let cap = |label: &Label| match &label.parts[0].element {
        Element::Text(text) => text.size,
        _ => panic!(),
    };
    // pi 5 / 3 = 5.24 leaves 5; 2.5 lines of air round 5 mm do not fit twice into 15.9 mm.
    assert_eq!(cap(&labels[0]), TextSize::CapHeight(5.0));
    // pi 0.9 / 3 = 0.94: below 1.27 mm, so it is told, with a kind that can.
    let finding = findings.list().iter().find(|one| one.code == "small-marker").unwrap();
    assert!(finding.message.starts_with("W2:"), "{}", finding.message);
    assert!(finding.help.contains("flag"), "{}", finding.help);
}

#[test]
fn small_words_are_repeated_round_a_thick_wire() {
    let mut one = wire("W1", 5.0);
    one.texts = [vec!["W1".to_owned()], vec!["W1".to_owned()]];
    let mut wiring = wiring(vec![one]);
    wiring.markers.cap = Some(1.8);
    let (labels, _) = made(&wiring);
    // A turn of pi 5.05 = 15.87 mm; h < C / 2, so the words are read from any side.
    assert_eq!(labels[0].parts.len(), 4);
}

#[test]
fn long_wires_are_marked_along_their_way() {
    // FAA AC 43.13-1B 11-208: each end and every 381 mm; none under 76 mm, one at the centre to 178 mm.
    for (length, marks) in [(50.0, 0), (100.0, 1), (178.0, 1), (400.0, 0), (800.0, 1), (1500.0, 3)]
    {
        assert_eq!(between(Some(length), Some(381.0)), marks, "{length}");
    }
    assert_eq!(between(None, Some(381.0)), 0);
    let mut wiring = wiring(vec![wire("W1", 1.52)]);
    wiring.wires[0].length_mm = Some(800.0);
    wiring.markers.every = Some(381.0);
    let (labels, _) = made(&wiring);
    let names: Vec<&str> = labels.iter().map(|label| label.name.as_str()).collect();
    assert_eq!(names, ["W1 a", "W1 1", "W1 b"]);
    // A slip of the unit must not fill the memory: 50 m of marks a millimetre apart.
    wiring.wires[0].length_mm = Some(50_000.0);
    wiring.markers.every = Some(1.0);
    let (labels, findings) = made(&wiring);
    assert_eq!((labels.len(), findings.list()[0].code), (2, "too-many"));
}
