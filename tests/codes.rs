//! Codes for machines, from YAML to a printed sheet that a reader of other people reads.
//!
//! Sheets are rendered from the PDF by hayro at 600 dpi and read by rxing, which shares nothing with our
//! encoders. The scenario: the shelves of an amateur theatre's prop store.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a code that does not come out as asked fails the test"
)]
#![allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "dots of small pages")]

use super::rendered::pdf_picture;
use decalwright::finding::{Finding, Severity};
use decalwright::job::{self, Outcome, Previews};
use rxing::common::HybridBinarizer;
use rxing::{
    BarcodeFormat, BinaryBitmap, DecodeHints, Luma8LuminanceSource, MultiFormatReader, Reader,
};
use std::collections::HashSet;

const SHELF: &str = "sheet: {paper: [100 mm, 100 mm], margin: 3 mm, guides: no, turn: no}\nprinter: {class: laser-600}\n";

fn run(job: &str) -> Outcome {
    let mut fetch = |name: &str| match name {
        "props.csv" => Ok(b"number,what\nP-0412,lantern\nP-0413,ship's bell\n".to_vec()),
        _ => Err(decalwright::files::Error::Outside(name.into())),
    };
    job::lay("props.yaml", job.as_bytes(), &mut fetch)
}

fn found(outcome: &Outcome, code: &str) -> Vec<Finding> {
    outcome.findings.list().iter().filter(|one| one.code == code).cloned().collect()
}

/// A page at 600 dpi: its width in dots and its grey dots, row by row.
fn printed(outcome: &Outcome) -> (u32, Vec<u8>) {
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let files = job::files(outcome.laid.as_ref().unwrap(), "p", Previews::Skipped).all().unwrap();
    let pdf = files.into_iter().find(|(name, _)| name == "p-clear.pdf").unwrap().1;
    let picture = pdf_picture(pdf);
    (picture.rows[0].len() as u32, picture.rows.concat())
}

fn flipped(width: u32, dots: &[u8]) -> Vec<u8> {
    dots.chunks(width as usize).flat_map(|row| row.iter().rev().copied()).collect()
}

/// What the outside reader reads.
fn read((width, dots): (u32, Vec<u8>), format: BarcodeFormat) -> Option<String> {
    let height = dots.len() as u32 / width;
    let source = Luma8LuminanceSource::new(dots, width, height).unwrap();
    let hints = DecodeHints {
        PossibleFormats: Some(HashSet::from([format])),
        TryHarder: Some(true),
        AlsoInverted: Some(false),
        ..DecodeHints::default()
    };
    let mut page = BinaryBitmap::new(HybridBinarizer::new(source));
    let read = MultiFormatReader::default().decode_with_hints(&mut page, &hints).ok()?;
    Some(read.getText().to_owned())
}

/// Each kind, and the side in mm of a sheet it has room on, bars in both directions; a larger one takes longer to
/// render.
const KINDS: [(&str, BarcodeFormat, u32); 3] = [
    ("qr", BarcodeFormat::QR_CODE, 40),
    ("data-matrix", BarcodeFormat::DATA_MATRIX, 40),
    ("code-128", BarcodeFormat::CODE_128, 100),
];

/// A job on a sheet of this side.
fn on_sheet(side: u32, labels: &str) -> Outcome {
    run(&format!("{}{labels}", SHELF.replace("100 mm", &format!("{side} mm"))))
}

#[test]
fn an_outside_reader_reads_every_kind_plain_and_turned() {
    for (kind, format, side) in KINDS {
        for turned in [0, 90, 180] {
            let outcome = on_sheet(
                side,
                &format!(
                    "labels:\n  - name: shelf\n    parts:\n      - code: {{text: PROP-0412/B7, kind: {kind}, turned: {turned}}}\n"
                ),
            );
            let text = read(printed(&outcome), format);
            assert_eq!(text.as_deref(), Some("PROP-0412/B7"), "{kind} {turned}");
        }
    }
}

#[test]
fn a_mirrored_label_is_read_through_the_window() {
    for (kind, format, side) in KINDS {
        let outcome = on_sheet(
            side,
            &format!(
                "labels:\n  - name: shelf\n    applied: inside-window\n    parts:\n      - code: {{text: PROP-0412, kind: {kind}}}\n"
            ),
        );
        let (width, dots) = printed(&outcome);
        let seen = flipped(width, &dots);
        assert_eq!(read((width, seen), format).as_deref(), Some("PROP-0412"), "{kind}");
    }
}

#[test]
fn rows_of_a_table_give_each_label_its_own_code() {
    let outcome = run(&format!(
        "{SHELF}words: {{store: HARBOUR}}\nlabels:\n  - name: shelf\n    rows: props.csv\n    parts:\n      - code: {{text: '{{store}} {{number}}', kind: qr}}\n  - name: box\n    series: 7..9\n    parts:\n      - code: {{text: 'BOX-{{n}}', kind: data-matrix}}\n"
    ));
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let designs = outcome.laid.unwrap().designs;
    let texts: Vec<&str> = designs.iter().map(|design| design.codes[0].text.as_str()).collect();
    assert_eq!(texts, ["HARBOUR P-0412", "HARBOUR P-0413", "BOX-7", "BOX-8", "BOX-9"]);
}

#[test]
fn a_pair_for_left_and_right_keeps_its_codes_readable() {
    let outcome = run(&format!(
        "{SHELF}labels:\n  - name: shelf\n    handed: pair\n    parts:\n      - code: {{text: P-0412, kind: qr, at: [4 mm, 0], turned: 30}}\n"
    ));
    assert!(!outcome.findings.any_error(), "{:#?}", outcome.findings.list());
    let designs = outcome.laid.unwrap().designs;
    let middles: Vec<f64> =
        designs.iter().map(|design| design.marks[0].path.bounds().center().x).collect();
    assert_eq!(middles.len(), 2);
    assert!((middles[0] + middles[1]).abs() < 1e-6 && middles[0].abs() > 1.0, "{middles:?}");
}

#[test]
fn modules_too_small_for_the_printer_are_refused_and_risky_ones_told() {
    let job = |printer: &str, module: &str| {
        run(&format!(
            "sheet: {{paper: A6}}\nprinter: {{class: {printer}}}\nlabels:\n  - name: shelf\n    parts:\n      - code: {{text: P-0412, kind: qr, module: {module}}}\n"
        ))
    };
    let severity =
        |outcome: &Outcome| found(outcome, "small-module").first().map(|one| one.severity);
    // 0.3 mm is 7.1 dots at 600 dpi, rounded up to 8: 0.339 mm, under the decal's 0.4 mm.
    assert_eq!(severity(&job("laser-600", "0.3 mm")), Some(Severity::Error));
    assert_eq!(severity(&job("laser-600", "0.4 mm")), None);
    assert_eq!(severity(&job("ink-jet", "0.42 mm")), Some(Severity::Warning));
    assert_eq!(severity(&job("ink-jet", "0.5 mm")), None);
    // Four dots at 150 to the inch are 0.677 mm (ISO/IEC 18004: 4 dots a module).
    let coarse = job("laser-600, dots_per_inch: 150", "0.5 mm");
    assert_eq!(severity(&coarse), Some(Severity::Error));
}

#[test]
fn the_quiet_zone_is_kept_free() {
    let job = |code: &str, more: &str| {
        run(&format!(
            "{SHELF}labels:\n  - name: shelf\n    size: [40 mm, 30 mm]\n    parts:\n      - code: {{text: P-0412, kind: qr, {code}}}\n{more}"
        ))
    };
    let zone = |outcome: &Outcome| found(outcome, "quiet-zone");
    assert_eq!(zone(&job("at: [0, 0]", "")), []);
    let cut = zone(&job("at: [14.5 mm, 0]", ""));
    assert!(cut.len() == 1 && cut[0].message.contains("passes the trim"), "{cut:?}");
    // 21 modules of 0.423 mm are 8.9 mm, 12.3 mm with four free ones on either side (ISO/IEC 18004).
    let line =
        |at: f64| format!("      - line: {{length: 10 mm, width: 0.5 mm, at: [0, {at} mm]}}\n");
    let near = zone(&job("at: [0, 0]", &line(5.5)));
    assert!(near.len() == 1 && near[0].message.contains("within the quiet zone"), "{near:?}");
    assert_eq!(zone(&job("at: [0, 0]", &line(6.5))), []);
    let less = zone(&job("quiet: 2", ""));
    assert_eq!((less.len(), less[0].severity), (1, Severity::Warning));
    // A box round the code leaves the quiet zone by itself.
    let boxed = run(&format!(
        "{SHELF}colours: {{straw: '#f2e6a8'}}\nlabels:\n  - name: shelf\n    box: {{fill: straw, padding: 0.5 mm}}\n    parts:\n      - code: {{text: P-0412, kind: qr}}\n"
    ));
    assert_eq!(zone(&boxed), []);
    assert!(!boxed.findings.any_error(), "{:#?}", boxed.findings.list());
}

#[test]
fn light_on_dark_is_told_and_what_does_not_read_is_never_written() {
    let clear = run(&format!(
        "{SHELF}labels:\n  - name: shelf\n    box: {{fill: '#000000', padding: 0.5 mm}}\n    parts:\n      - code: {{text: P-0412, kind: qr, paint: clear}}\n"
    ));
    let reversed = found(&clear, "code-reversed");
    assert_eq!((reversed.len(), clear.findings.any_error()), (1, false), "{:?}", clear.findings);
    // With nothing to be clear in, there is no code.
    let bare = run(&format!(
        "{SHELF}labels:\n  - name: shelf\n    text: SHELF\n    allow: [code-unreadable]\n    parts:\n      - code: {{text: P-0412, kind: qr, paint: clear, at: [0, 12 mm]}}\n"
    ));
    assert_eq!(found(&bare, "code-unreadable")[0].severity, Severity::Error);
    let crossed = run(&format!(
        "{SHELF}labels:\n  - name: shelf\n    parts:\n      - code: {{text: P-0412, kind: code-128}}\n      - disc: {{diameter: 4 mm, paint: clear}}\n"
    ));
    assert!(found(&crossed, "code-unreadable").len() == 1 && crossed.findings.any_error());
    let dark = run(&format!(
        "{SHELF}surfaces: {{crate: {{colour: '#202428'}}}}\nlabels:\n  - name: shelf\n    on: crate\n    parts:\n      - code: {{text: P-0412, kind: qr}}\n"
    ));
    assert_eq!(found(&dark, "faint-code").len(), 1);
}

#[test]
fn what_a_code_cannot_say_is_told_with_its_place() {
    let outcome = run(&format!(
        "{SHELF}labels:\n  - name: shelf\n    parts:\n      - code: {{text: 'Schürze', kind: code-128}}\n      - code: {{kind: qr}}\n      - code: {{text: P-1}}\n      - code: {{text: P-1, kind: code-128, level: H}}\n      - code: {{text: P-0412, kind: qr, module: 0.5 mm, size: 10 mm}}\n"
    ));
    for code in ["code-text", "empty-text", "missing", "bad-value", "code-too-large"] {
        let told = found(&outcome, code);
        assert_eq!(told.len(), 1, "{code}: {:#?}", outcome.findings.list());
        assert!(told[0].place.is_some() && !told[0].help.is_empty());
    }
}

#[test]
fn words_from_the_codes_own_cell_are_no_part_of_it() {
    // One cell gives both the code and the words beside it; the words stand in the quiet zone of 4 modules
    // (ISO/IEC 18004).
    let job = |y: &str| {
        format!(
            "{SHELF}labels:\n- name: \"shelf-{{number}}\"\n  rows: props.csv\n  parts:\n  - code: {{kind: qr, text: \"{{number}}\", size: 20 mm}}\n  - text: {{text: \"{{number}}\", at: [0, {y}], cap_height: 1.8 mm}}\n"
        )
    };
    assert_eq!(found(&run(&job("9.5 mm")), "quiet-zone").len(), 2);
    assert_eq!(found(&run(&job("14 mm")), "quiet-zone"), []);
}

#[test]
fn a_code_without_a_quiet_zone_is_not_called_faint() {
    let outcome =
        run(&format!("{SHELF}labels:\n- parts: [{{code: {{kind: qr, text: B7, quiet: 0}}}}]\n"));
    assert_eq!(found(&outcome, "faint-code"), []);
    assert_eq!(found(&outcome, "quiet-zone").len(), 1);
}
