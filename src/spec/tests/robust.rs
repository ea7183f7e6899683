//! Hostile bytes of jobs, tables, drawings and profiles: no panic, and an answer in bounded time.
//!
//! Read alone, thousands take seconds; `tests/robust.rs` sends some of them through the library's door.

use crate::files::Error;
use crate::finding::{Findings, Sources, Styling, as_json, as_text};
use crate::font::Faces;
use crate::spec::{self, ReadContext};
use std::time::{Duration, Instant};

/// A job with a bit of everything, about a kilobyte.
const GOOD: &str = include_str!("../../../tests/robust/good.yaml");

/// Every file the job names, whatever its name.
const TABLE: &str = "name,text\nrun,RUN\nrest,\"RE\"\"ST\"\n";

/// Reads a job on its own: code and line of each finding, in the order of the file.
fn slips(job: &str) -> Vec<(&'static str, usize)> {
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    let mut context = ReadContext {
        faces: &mut Faces::bundled(),
        fetch: &mut |name: &str| Err(Error::Outside(name.into())),
        sources: &mut sources,
        findings: &mut findings,
    };
    assert!(spec::read("job.yaml", job.as_bytes(), &mut context).is_some());
    findings.sort();
    let line = |place| sources.position(place).map_or(0, |(_, line, _)| line);
    findings.list().iter().map(|one| (one.code, one.place.map_or(0, line))).collect()
}

/// Reads a job and shows what is wrong with it, in time: the report, empty when nothing is.
fn read(job: &[u8], table: &[u8], faces: &mut Faces) -> String {
    let began = Instant::now();
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    let mut fetch = |_: &str| Ok::<_, Error>(table.to_vec());
    let mut context =
        ReadContext { faces, fetch: &mut fetch, sources: &mut sources, findings: &mut findings };
    let spec = spec::read("job.yaml", job, &mut context);
    assert!(spec.is_some() || findings.any_error(), "refused without a word");
    findings.sort();
    let text = as_text(&findings, &sources, Styling::Plain);
    let json = as_json(&findings, &sources);
    assert!(!text.contains('\u{1b}') && !json.is_empty());
    let took = began.elapsed();
    assert!(took < Duration::from_secs(2), "{took:?} for {:?}...", job.get(..60).unwrap_or(job));
    text
}

#[test]
fn the_good_job_is_good() {
    let mut faces = Faces::bundled();
    assert_eq!(read(GOOD.as_bytes(), TABLE.as_bytes(), &mut faces), "");
    let bom = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
    assert_eq!(read(bom.as_bytes(), TABLE.as_bytes(), &mut faces), "");
}

#[test]
fn a_hostile_job_ends_in_a_message() {
    let long = "x".repeat(1_000_000);
    let outcome = slips(&format!("labels: [{}]", "{text: A, stile: b}, ".repeat(5_000)));
    assert_eq!(outcome.last(), Some(&("too-many-slips", 1)));
    // A long style under many labels, a long word many times, a long chain, a product of series.
    let many = "- {text: A, style: s}\n".repeat(3000);
    let outcome = slips(&format!("styles:\n  s: {{note: {long}}}\nlabels:\n{many}"));
    assert_eq!(outcome[0].0, "too-long");
    let words = "{w}".repeat(10_000);
    let outcome = slips(&format!("words: {{w: {long}}}\nlabels:\n- '{words}'\n"));
    assert_eq!(outcome, [("too-long", 3)]);
    let mut chain = String::from("styles:\n  s0: {copies: 1}\n");
    for n in 1..200 {
        chain.push_str(&format!("  s{n}: {{style: s{}}}\n", n - 1));
    }
    let outcome = slips(&format!("{chain}labels: [A]\n"));
    assert!(outcome.iter().any(|one| one.0 == "style-circle"));
    let outcome = slips("labels:\n- {text: '{a}{b}', series: {a: 1..9000, b: 1..9000}}\n");
    assert_eq!(outcome, [("too-many", 2)]);
    let outcome = slips("labels:\n- {text: A, copies: 100000}\n- {text: B, copies: 100000}\n");
    assert_eq!(outcome, [("too-many", 0)]);
}

#[test]
fn a_job_may_end_anywhere() {
    let mut faces = Faces::bundled();
    for end in 0..GOOD.len() {
        read(&GOOD.as_bytes()[..end], TABLE.as_bytes(), &mut faces);
    }
}

#[test]
fn any_byte_may_be_wrong() {
    let mut faces = Faces::bundled();
    let mut next = seeded(2026);
    for _ in 0..1_000 {
        let (mut job, mut table) = (GOOD.as_bytes().to_vec(), TABLE.as_bytes().to_vec());
        let bytes = if next().is_multiple_of(4) { &mut table } else { &mut job };
        let at = next() % bytes.len();
        bytes[at] = match next() % 2 {
            0 => next().to_le_bytes()[0],
            // What YAML and tables are made of finds more than any byte does.
            _ => b"{}[]:,-#&*!|>'\"%@` \n\t\r;0"[next() % 24],
        };
        read(&job, &table, &mut faces);
    }
}

#[test]
fn any_drawing_of_holes_may_be_wrong() {
    // A DXF text and an SVG of two circles each; a byte is changed, or the file ends early.
    let circle = |x: u32| format!("0\nCIRCLE\n8\nDRILL\n10\n{x}.5\n20\n20\n40\n3.25\n");
    let dxf = format!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{}{}0\nENDSEC\n0\nEOF\n",
        circle(10),
        circle(60)
    );
    let svg = r#"<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="50mm" viewBox="0 0 80 50"><g id="DRILL" transform="scale(1)"><circle cx="10" cy="20" r="3"/><path d="M60 20a3 3 0 1 0 6 0a3 3 0 1 0-6 0z"/></g></svg>"#;
    let mut faces = Faces::bundled();
    let mut next = seeded(1987);
    for (file, good) in [("d.dxf", dxf.as_bytes()), ("d.svg", svg.as_bytes())] {
        let job = format!(
            "labels:\n- {{name: f, size: [80 mm, 50 mm], text: A, panel: {{drawing: {{file: {file}, layer: DRILL}}}}}}\n"
        );
        assert_eq!(read(job.as_bytes(), good, &mut faces), "");
        for end in 0..good.len() {
            read(job.as_bytes(), &good[..end], &mut faces);
        }
        for _ in 0..500 {
            let mut bytes = good.to_vec();
            let at = next() % bytes.len();
            bytes[at] = next().to_le_bytes()[0];
            read(job.as_bytes(), &bytes, &mut faces);
        }
    }
}

#[test]
fn any_profile_may_be_wrong() {
    let job = b"printer: {profile: p.yaml}\nsheet: {paper: A5}\nlabels: [RUN]\n";
    let good = "printer: Lodge\npaper: A5\ndate: May\nclass: laser-600\nbars: [97.3, 99.1]\nsquare: [48.6, 49.6]\n\
                diagonals: [69.5, 69.4]\nmiddle: [74.5, 104.6]\nmargins: [4, 3, 6, 3]\nthinnest_ink: 0.1\n\
                opacity: 8 %\ncolours: {beacon: {shown: \"#ad2b24\", print: C2}}\n";
    let mut faces = Faces::bundled();
    assert_eq!(read(job, good.as_bytes(), &mut faces), "");
    for end in 0..good.len() {
        read(job, &good.as_bytes()[..end], &mut faces);
    }
    let mut next = seeded(18);
    for _ in 0..1_000 {
        let mut bytes = good.as_bytes().to_vec();
        let at = next() % bytes.len();
        bytes[at] = match next() % 2 {
            0 => next().to_le_bytes()[0],
            _ => b"{}[]:,-#0123456789.%\" \n"[next() % 23],
        };
        read(job, &bytes, &mut faces);
    }
    let many: String =
        (0..5_000).map(|n| format!("  c{n}: {{shown: \"#ad2b24\", print: C2}}\n")).collect();
    assert!(read(job, format!("colours:\n{many}").as_bytes(), &mut faces).starts_with("error"));
}

/// Numbers that are the same on every run (Knuth's MMIX generator, TAOCP vol. 2, 3.3.4, from memory).
fn seeded(mut state: u64) -> impl FnMut() -> usize {
    move || {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize
    }
}
