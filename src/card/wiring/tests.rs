use super::*;
use crate::design::{Design, Plate, Words};
use crate::finding::{Findings, Place, Sources};
use crate::output::Page;
use crate::spec;
use crate::spec::wiring::{End, Terminal, Wire, WireColour};
use crate::wire::{self, Reason};
use kurbo::{Point, Rect};
use std::collections::BTreeSet;

/// The harbour-signal console of an amateur theatre.
const CONSOLE: &str = r#"id,from,to,colour,gauge,diameter,length,function,note
W01,U1:P2,X1:1,BU,30 AWG,,180,"lever, signal arm",
W02,U1:P3,X1:2,BU,30 AWG,,180,"lever, storm cone",
W03,U1:P4,X1:3,BU,30 AWG,,180,"lever, tide ball",
W04,U1:P5,X1:4,BU,30 AWG,,180,"lever, fog horn",
W05,U1:P6,X2:1,YE,30 AWG,,180,"lamp, red",
W06,U1:P7,X2:2,YE,30 AWG,,180,"lamp, green",
W07,U1:P8,X2:3,YE,30 AWG,,180,"lamp, white",
W08,U1:P9,X2:10,OG,30 AWG,,180,"servo, signal arm",keep clear of the arm
W09,U1:P10,-K1:IN,VT,22 AWG,,,"relay, horn",
W10,U1:P11,B1:1,WH,22 AWG,,,"bell of the harbour office, struck every quarter hour",
W11,U1:A0,X4:1,GN,22 AWG,,,"dial, tide",
W12,U1:A1,X4:2,GN,22 AWG,,,"dial, wind",
W13,U1:A2,X4:3,GNWH,22 AWG,,,"dial, dusk",
W14,U1:V5,X1:5,RD,22 AWG,,,5 V,
W15,U1:V5,X4:4,RD,22 AWG,,,5 V,
W16,U1:V5,-K1:VCC,RD,22 AWG,,,5 V,
W17,U1:GND,X1:6,BK,22 AWG,,,ground,
W18,U1:GND,X2:4,BK,22 AWG,,,ground,
W19,U1:GND,X4:5,BK,22 AWG,,,ground,
W20,U1:GND,-K1:GND,BK,22 AWG,,,ground,
W21,PS1:V12,U1:VIN,RDBU,16 AWG,2.26,180,12 V,
W22,PS1:GND,U1:GND,BK,16 AWG,2.26,180,ground,
W23,PS1:V12,-K1:COM,RDBU,16 AWG,2.26,180,12 V,
W24,-K1:NO,Y1:1,BN,16 AWG,2.26,180,horn,
W25,Y1:2,PS1:GND,BK,16 AWG,2.26,180,"horn, return",
W26,PS1:PE,XE:1,GNYE,16 AWG,2.26,180,chassis,
W27,B1:2,U1:GND,BK,22 AWG,,,ground,
W28,X2:11,U1:GND,BKWHGY,22 AWG,,,shield of the servo's lead,
W29,-K1:GND,PS1:GND,BK,22 AWG,,,"ground, second way",
"#;

fn console() -> (Spec, Wiring) {
    let job = b"title: Harbour signal console\ndate: 3 March 2031\nwires: {table: console.csv, rails: [GND, V5, V12]}\n";
    let (sources, findings) = (&mut Sources::default(), &mut Findings::default());
    let (faces, fetch) = (&mut Faces::bundled(), &mut |_: &str| Ok(CONSOLE.as_bytes().to_vec()));
    let mut context = spec::ReadContext { faces, fetch, sources, findings };
    let spec = spec::read("console.yaml", job, &mut context).unwrap();
    let wiring = spec.wiring.clone().unwrap();
    (spec, wiring)
}

fn terminal(text: &str) -> Option<Terminal> {
    Some(Terminal::parse(text, Place::default()))
}

fn sheets(spec: &Spec, wiring: &Wiring) -> Card {
    wiring_pages(spec, wiring, &wire::plan(wiring), &Faces::bundled())
}

fn words(card: &Card) -> Vec<&Words> {
    card.pages.iter().flat_map(|page| &page.words).collect()
}

fn times(card: &Card, text: &str) -> usize {
    words(card).iter().filter(|words| words.text == text).count()
}

/// A tram depot's signal box: many wires, each with a name of its own.
fn many(count: usize) -> Wiring {
    let mut wiring = console().1;
    let like = std::mem::take(&mut wiring.wires);
    let wire_at = |at: usize| Wire {
        id: format!("C{at:04}"),
        from: terminal(&format!("U{}:{}", at / 40, at % 40)),
        to: terminal(&format!("X{}:{}", at / 12, at % 12)),
        ..like[at % like.len()].clone()
    };
    wiring.wires = (0..count).map(wire_at).collect();
    wiring
}

#[test]
fn every_wire_stands_in_each_table_as_often_as_it_must() {
    let (spec, wiring) = console();
    let card = sheets(&spec, &wiring);
    for wire in &wiring.wires {
        // Once to test it, once at each of its two ends, once in the list.
        assert_eq!(times(&card, &wire.id), 4, "{}", wire.id);
    }
    let unlike: BTreeSet<&str> = words(&card).iter().map(|words| words.text.as_str()).collect();
    for wire in &wiring.wires {
        for end in [End::From, End::To] {
            let terminal = wire.at(end).unwrap().to_string();
            assert!(unlike.contains(terminal.as_str()), "{terminal}");
        }
    }
}

#[test]
fn every_test_of_the_plan_is_a_row_with_its_step() {
    let (spec, wiring) = console();
    let plan = wire::plan(&wiring);
    let card = wiring_pages(&spec, &wiring, &plan, &Faces::bundled());
    assert_eq!(times(&card, probes::BEEPS), plan.joined.len());
    assert_eq!(times(&card, probes::SILENT), plan.apart.len());
    let steps = plan.joined.len() + plan.apart.len();
    // The steps' own column starts 5.6 mm into the form, whose margin is 16 mm.
    let at_step = |words: &&&Words| (words.area.x0 - 21.6).abs() < 0.01 && words.text != "step";
    let found: Vec<String> =
        words(&card).iter().filter(at_step).map(|it| it.text.clone()).collect();
    assert_eq!(found, (1..=steps).map(|step| step.to_string()).collect::<Vec<_>>());
    let loops = plan.joined.iter().filter(|test| test.one_end_off).count();
    assert_eq!((loops, times(&card, "end B left off")), (1, 1));
    for test in &plan.apart {
        assert!(times(&card, &test.reason.to_string()) > 0, "{}", test.reason);
    }
    let boxes = card.pages.iter().flat_map(|page| &page.placed).filter(|placed| {
        let drawing = &card.drawings[placed.design];
        drawing.name == "row" && drawing.marks.len() > 1
    });
    assert_eq!(boxes.count(), steps);
}

#[test]
fn cautions_come_before_the_first_test() {
    let (spec, wiring) = console();
    let card = sheets(&spec, &wiring);
    let read: Vec<&str> = words(&card).iter().map(|words| words.text.as_str()).collect();
    let read = read.join(" ");
    let tests = read.find("Must beep").unwrap();
    // Common practice, no source.
    for caution in [
        "mains unplugged and isolated",
        "Lithium cells disconnected before any probe",
        "Never check continuity on live wiring",
        "the local code",
        "licensed electrician where the law asks",
        "chirp for a moment",
        "lowest range of ohms",
        "Touch the probes together first",
    ] {
        assert!(read.find(caution).is_some_and(|at| at < tests), "{caution}");
    }
}

#[test]
fn colours_are_told_by_name_code_and_swatch() {
    let (spec, wiring) = console();
    let card = sheets(&spec, &wiring);
    for wire in &wiring.wires {
        let colour = wire.colour.as_ref().unwrap();
        assert!(times(&card, &colour.code()) > 0, "{colour:?}");
        let name = colour.name();
        assert!(name.len() > 20 || times(&card, &name) > 0, "{name}");
        let shows = |design: &Design| {
            let plates: Vec<Plate> = design.marks.iter().skip(1).map(|mark| mark.plate).collect();
            let shown: Vec<Plate> = colour.shown().into_iter().map(Plate::Ink).collect();
            design.name == "swatch" && plates == shown
        };
        assert!(card.drawings.iter().any(shows), "{colour:?}");
    }
}

#[test]
fn an_assumed_diameter_is_told_as_assumed() {
    let (spec, mut wiring) = console();
    let card = sheets(&spec, &wiring);
    // Published typical diameters over PVC of 0.38 mm: 22 AWG 1.52, 30 AWG 1.07.
    assert_eq!(times(&card, "1.52 mm, assumed: measure yours"), 15);
    assert_eq!(times(&card, "1.07 mm, assumed: measure yours"), 8);
    assert_eq!(times(&card, "2.26 mm"), 6);
    for wire in &mut wiring.wires {
        wire.diameter.assumed = false;
    }
    let card = sheets(&spec, &wiring);
    assert!(words(&card).iter().all(|words| !words.text.contains("measure yours")));
}

#[test]
fn long_texts_keep_to_their_columns() {
    let (spec, mut wiring) = console();
    let endless = "W".repeat(3000);
    let wordy = "high water at the outer mole ".repeat(60);
    wiring.wires[1].id = endless.clone();
    wiring.wires[2].from = terminal(&format!("=HARBOUR+MOLE-{endless}:13"));
    wiring.wires[3].to = terminal(&format!("J2:{endless}"));
    for wire in &mut wiring.wires {
        wire.function.clone_from(&wordy);
        wire.note.clone_from(&endless);
    }
    wiring.wires[5].to = None;
    wiring.wires[6].colour = WireColour::parse("BKBNRDOGYEBUVTGYWHPKTQGDSR").ok();
    let card = sheets(&spec, &wiring);
    for page in &card.pages {
        let inside = Rect::from_origin_size(Point::ORIGIN, page.size).inflate(-15.9, -8.3);
        for (at, words) in page.words.iter().enumerate() {
            assert!(inside.contains_rect(words.area), "{} at {:?}", words.text, words.area);
            let meets = |other: &&Words| other.area.overlaps(words.area);
            let other = page.words.iter().skip(at + 1).find(meets);
            assert!(other.is_none(), "{} meets {other:?}", words.text);
        }
    }
    assert_eq!(times(&card, "not given"), 1);
    assert!(times(&card, "…") > 0);
}

#[test]
fn pages_that_start_amid_rows_name_the_columns_again() {
    let (spec, wiring) = console();
    let card = sheets(&spec, &wiring);
    let of = card.pages.len();
    for (at, page) in card.pages.iter().enumerate() {
        let number = format!("{} of {of}", at + 1);
        assert!(page.words.iter().any(|words| words.text == number), "{number}");
        let first = &page.words[0].text;
        if first.ends_with(", continued") {
            let known = ["step", "terminal", "wire"];
            assert!(known.contains(&page.words[1].text.as_str()), "{}", page.words[1].text);
        }
    }
    let amid = |page: &Page| page.words[0].text.starts_with("By device: U1, continued");
    assert!(card.pages.iter().any(amid));
}

/// A terminal as a spreadsheet takes it for text: `-K1:13` would be computed.
fn shielded(terminal: &Terminal) -> String {
    let text = terminal.to_string();
    if text.starts_with('-') { format!("'{text}") } else { text }
}

#[test]
fn the_table_of_tests_reads_back_as_the_plan() {
    // The csv crate is the outside reader (RFC 4180).
    let (_, mut wiring) = console();
    wiring.wires[4].id = "the \"long\" one,\nred".to_owned();
    wiring.wires[4].to = terminal("Möwe, \"7\":3");
    let plan = wire::plan(&wiring);
    let written = continuity_csv(&wiring, &plan);
    assert!(written.lines().next().unwrap().contains("decalwright"));
    let mut reader = ::csv::Reader::from_reader(written.as_bytes());
    assert_eq!(reader.headers().unwrap().get(2), Some("probe a"));
    let rows: Vec<::csv::StringRecord> = reader.records().collect::<Result<_, _>>().unwrap();
    assert_eq!(rows.len(), plan.joined.len() + plan.apart.len());
    for (at, (row, test)) in rows.iter().zip(&plan.joined).enumerate() {
        let wire = &wiring.wires[test.wire];
        let [a, b] = test.probes.each_ref().map(shielded);
        let colour = wire.colour.as_ref().unwrap().code();
        let why = if test.one_end_off {
            "other wires join these as well: leave end b off until all tests are done, touch the loose wire"
        } else {
            ""
        };
        let step = (at + 1).to_string();
        let expect = "beeps, under 1 ohm";
        let fields = [&step, "must beep", &a, &b, expect, &wire.id, &colour, why, "", ""];
        assert_eq!(row.iter().collect::<Vec<_>>(), fields);
    }
    for (row, test) in rows.iter().skip(plan.joined.len()).zip(&plan.apart) {
        let [a, b] = test.probes.each_ref().map(shielded);
        let found: Vec<&str> = row.iter().skip(1).collect();
        let why = match &test.reason {
            Reason::Rails(one, other) => format!("rail {one} to rail {other}"),
            Reason::Neighbours(device) => format!("neighbours on {device}"),
        };
        assert_eq!(found, ["must not beep", &a, &b, "no beep", "", "", &why, "", ""]);
    }
}

#[test]
fn same_wiring_gives_same_sheets_and_thousands_stay_small() {
    let (spec, wiring) = console();
    assert_eq!(sheets(&spec, &wiring), sheets(&spec, &wiring));
    let many = many(5000);
    let plan = wire::plan(&many);
    let card = wiring_pages(&spec, &many, &plan, &Faces::bundled());
    assert!(card.drawings.len() < 600, "{}", card.drawings.len());
    assert_eq!(times(&card, "C4321"), 4);
}
