//! What the keys and columns of a wiring come to.

use super::{Outcome, read_with};
use decalwright::{MarkerKind, Wiring};

fn table(job: &str, table: &str) -> Outcome {
    read_with(job, &[("wiring.csv", table.as_bytes())])
}

fn wiring(outcome: &Outcome) -> &Wiring {
    outcome.spec.wiring.as_ref().unwrap()
}

const JOB: &str = "wires: {table: wiring.csv}\n";

#[test]
fn a_table_is_read_however_its_columns_are_called_and_ordered() {
    let outcome = table(
        JOB,
        "Color;To;No.;From;AWG;Signal;Length (cm)\nRD;X1:5;W01;-U1:V5;22;5 V supply;12,5\nBK;K1:NO;W02;U1.GND;;GND;\n",
    );
    assert_eq!(outcome.slips(), []);
    let [first, second] = wiring(&outcome).wires.as_slice() else { panic!() };
    assert_eq!(first.id, "W01");
    assert_eq!(first.from.as_ref().unwrap().to_string(), "-U1:V5");
    assert_eq!(first.to.as_ref().unwrap().to_string(), "X1:5");
    assert_eq!(first.colour.as_ref().unwrap().name(), "red");
    // Published typical diameter of 22 AWG with a PVC wall of 0.38 mm.
    assert_eq!((first.diameter.mm, first.diameter.assumed), (1.52, true));
    assert_eq!(first.length_mm, Some(125.0));
    assert_eq!(first.function, "5 V supply");
    assert_eq!(first.texts, [["W01", "-U1:V5 > X1:5"], ["W01", "X1:5 > -U1:V5"]]);
    // NO is a name, whatever YAML or a spreadsheet may think.
    assert_eq!(second.to.as_ref().unwrap().pin, "NO");
    assert_eq!(second.from.as_ref().unwrap().to_string(), "U1:GND");
}

#[test]
fn wires_may_be_listed_in_the_job_with_texts_of_their_own() {
    let outcome = read_with(
        "wires:\n  text: ['{wire}', '{local}']\n  text_to: '{wire} {rack}'\n  rails: [GND, 'PS1:V12']\n  takes: {'K1:COM': 2}\n  marker: {kind: laminated, thin: {under: 1.21 mm, kind: flag}}\n  list:\n    - {wire: W1, from: 'A1:ON', to: 'B1:NO', od: 1.07, rack: 7}\n",
        &[],
    );
    assert_eq!(outcome.slips(), []);
    let wiring = wiring(&outcome);
    let wire = &wiring.wires[0];
    assert_eq!(wire.texts, [vec!["W1".to_owned(), "A1:ON".to_owned()], vec!["W1 7".to_owned()]]);
    assert_eq!((wire.diameter.mm, wire.diameter.assumed), (1.07, false));
    assert_eq!(wiring.markers.kind, Some(MarkerKind::Laminated));
    assert_eq!(wiring.markers.thin, Some((1.21, MarkerKind::Flag)));
    assert_eq!(wiring.takes.get("K1:COM"), Some(&2));
    assert_eq!(wiring.rails.len(), 2);
}

#[test]
fn all_slips_of_a_table_are_told_at_once_with_their_rows() {
    let outcome = table(
        "wires: {table: wiring.csv, marker: {film: felt}}\n",
        "wire,from,to,colour,gauge,od\nW1,A:1,B:1,mauve,22,\nW2,A:2,B:2,YEGN,,0\n,A:3,B:3,RD,,\nW4,A:4,B:4,RD,22 AWG,900\nW5,A:5,B:5,,8 AWG,\n",
    );
    assert_eq!(
        outcome.slips(),
        [
            ("bad-value", 1),
            ("unknown-wire-colour", 2),
            ("bad-gauge", 2),
            ("unknown-wire-colour", 3),
            ("absurd-length", 3),
            ("no-wire-name", 4),
            ("absurd-length", 5),
            ("no-diameter", 6),
        ]
    );
}

#[test]
fn missing_and_doubled_columns_are_named() {
    let outcome = table(JOB, "wire,form,to,colour,color\nW1,A:1,B:1,RD,RD\n");
    let messages: Vec<&str> = outcome.findings.iter().map(|one| one.message.as_str()).collect();
    assert_eq!(messages, ["there is no column for from", "`colour` and `color` both mean colour"]);
    assert_eq!(outcome.findings[0].help, "rename `form` to `from`");
}

#[test]
fn tables_come_as_spreadsheets_save_them() {
    let text = "wire\tfrom\tto\nW1\tA:1\tB:1\n";
    let utf16: Vec<u8> =
        [0xff, 0xfe].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    for bytes in [utf16, format!("\u{feff}{}", text.replace('\t', ",")).into_bytes()] {
        let outcome = read_with(JOB, &[("wiring.csv", &bytes)]);
        assert_eq!(outcome.slips(), []);
        assert_eq!(wiring(&outcome).wires.len(), 1);
    }
}

#[test]
fn the_grid_shown_for_a_missing_one_is_read_and_fits_on_a4() {
    let rows = "wire,from,to\nW1,A:1,B:1\n";
    let asked = table("wires: {table: wiring.csv, marker: {grid: {columns: 4}}}\n", rows);
    let [finding] = asked.findings.as_slice() else { panic!("{:#?}", asked.findings) };
    let shown = finding.help.strip_prefix("write ").unwrap();
    let outcome = table(&format!("wires: {{table: wiring.csv, marker: {{{shown}}}}}\n"), rows);
    assert_eq!(outcome.slips(), []);
    let grid = wiring(&outcome).markers.grid.as_ref().unwrap();
    // 15 + 4 x 45 = 195 mm and 16 + 11 x 24 = 280 mm; A4 is 210 x 297 mm (ISO 216).
    let far = (
        grid.first.x + f64::from(grid.cells.0) * grid.pitch.x,
        grid.first.y + f64::from(grid.cells.1) * grid.pitch.y,
    );
    assert_eq!(far, (195.0, 280.0));
}
