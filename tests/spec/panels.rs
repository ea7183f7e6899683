//! What the keys of a panel come to.

use super::{Outcome, job as read, read_with};
use decalwright::{Element, Hole, Side, TextSize};

fn codes(outcome: &Outcome) -> Vec<&'static str> {
    outcome.findings.iter().map(|one| one.code).collect()
}

fn hole<'o>(outcome: &'o Outcome, name: &str) -> &'o Hole {
    outcome.spec.panels[0].holes.iter().find(|hole| hole.name == name).unwrap()
}

const TABLE: &str = "id,kind,x,y,hole_d,keepout_d,text\nP1,pot,20,80,7.4,22,GAIN\nL1,led-5,50,80,,8,READY\nS1,toggle,80,20,12.2,,PUMP\n";

const JOB: &str = "
labels:
- name: front
  size: [100 mm, 100 mm]
  corner: 3 mm
  panel:
    origin: bottom-left
    drill_table: drill.csv
    fittings: {pot: {knob: 20 mm}, toggle: {nut: 15 mm}}
    holes: [{name: X1, at: [90, 90], diameter: 0.125 in, clear: 0}]
    gap: 2 mm
    legends:
    - {rows: drill.csv, hole: '{id}', text: '{text}', level: 2}
    - {hole: toggle, side: below, text: ON, level: 1}
    - {text: PANEL, at: [50, 95], level: 4}
";

#[test]
fn holes_come_from_table_and_list_with_what_covers_them() {
    let outcome = read_with(JOB, &[("drill.csv", TABLE.as_bytes())]);
    assert_eq!(codes(&outcome), [""; 0]);
    // From the bottom left of a square of 100: x - 50 and 50 - y from the middle, y down.
    let pot = hole(&outcome, "P1");
    assert_eq!((pot.at.x, pot.at.y, pot.diameter_mm), (-30.0, -30.0, 7.4));
    assert_eq!(pot.keep_out(), (22.0, "keep-clear circle"));
    // A 5 mm lamp's hole, common practice: 5.1 mm; its window one millimetre wider.
    let lamp = hole(&outcome, "L1");
    assert!((lamp.diameter_mm - 5.1).abs() < 1e-9 && (lamp.clear_mm - 6.1).abs() < 1e-9);
    assert_eq!(hole(&outcome, "S1").keep_out(), (15.0, "nut"));
    // 25.4 mm to the inch: 3.175 mm.
    let drilled = hole(&outcome, "X1");
    assert!((drilled.diameter_mm - 3.175).abs() < 1e-9 && drilled.clear_mm == 0.0);
}

#[test]
fn legends_of_an_overlay_become_parts_of_it() {
    let outcome = read_with(JOB, &[("drill.csv", TABLE.as_bytes())]);
    let labels = &outcome.spec.labels;
    assert_eq!(labels.len(), 1);
    let legends: Vec<_> = labels[0]
        .parts
        .iter()
        .map(|part| match &part.element {
            Element::Legend(legend) => (part.at, legend),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(legends.len(), 5);
    // Above the keep-clear circle of 22 and a gap of 2.
    assert_eq!((legends[0].0.x, legends[0].0.y), (-30.0, -30.0 - 11.0 - 2.0));
    assert_eq!(legends[0].1.side, Side::Above);
    // Below the nut of 15.
    assert_eq!((legends[3].0.x, legends[3].0.y), (30.0, 30.0 + 7.5 + 2.0));
    // Level 4 is three quarters' steps above level 1: 2.5 x 1.25^3 = 4.8828.
    let Element::Text(text) = &legends[4].1.parts[0].element else { panic!() };
    let TextSize::CapHeight(cap) = text.size else { panic!() };
    assert!((cap - 4.883).abs() < 1e-3, "{cap}");
    assert_eq!((legends[4].0.x, legends[4].0.y), (0.0, -45.0));
}

#[test]
fn as_pieces_each_legend_is_a_label_and_the_panel_none() {
    let job = JOB.replace("    gap: 2 mm", "    gap: 2 mm\n    deliver: pieces");
    let outcome = read_with(&job, &[("drill.csv", TABLE.as_bytes())]);
    assert_eq!(codes(&outcome), [""; 0]);
    let names: Vec<&str> = outcome.spec.labels.iter().map(|label| label.name.as_str()).collect();
    assert_eq!(names, ["gain", "ready", "pump", "on", "panel"]);
    let stands = outcome.spec.labels[0].stands().expect("a place");
    assert_eq!((stands.panel, stands.hole.as_deref()), (0, Some("P1")));
}

#[test]
fn what_is_wrong_with_a_panel_is_told_in_one_run() {
    let outcome = read(
        "
labels:
- {text: STRAY, hole: P1}
- name: front
  size: [100 mm, 60 mm]
  panel:
    holes:
    - {name: P1, at: [10, 10], diameter: 7 mm}
    - {name: P1, at: [30, 10], diameter: 7 mm}
    - {name: S1, at: [50, 10], kind: mini-togle}
    - {name: S2, diameter: 4 mm}
    legends:
    - {text: GAIN, hole: P2}
    - {text: LOST}
    - {text: BOTH, hole: P1, gap: 1 mm, from_middle: 9 mm}
- {name: back, text: B, panel: {}}
",
    );
    let mut found = codes(&outcome);
    found.sort_unstable();
    let mut wanted = [
        "not-on-a-panel",
        "same-name",
        "unknown-fitting",
        "missing",
        "unknown-hole",
        "missing",
        "two-gaps",
        "missing",
    ];
    wanted.sort_unstable();
    assert_eq!(found, wanted);
}

#[test]
fn a_slip_in_the_drill_table_is_told_once_and_not_again_for_each_legend() {
    let job = "labels:\n- name: f\n  size: [100 mm, 60 mm]\n  panel:\n    drill_table: t.csv\n    legends:\n    - {hole: [A, B], text: \"{hole}\"}\n    - {hole: B, text: TIDE, side: below}\n    - {hole: C, text: FOG}\n";
    let told = |table: &str| read_with(job, &[("t.csv", table.as_bytes())]).slips();
    assert_eq!(told("id,x,y,dia\nA,10,10,5\nB,3o,10,5\nC,50,10,5\n"), [("bad-length", 3)]);
    // What names no hole at all is still told; a table of nothing is told as such.
    assert_eq!(told("id,x,y,dia\nA,10,10,5\nB,30,10,5\n"), [("unknown-hole", 9)]);
    assert_eq!(told("id,x,y,dia\n"), [("bad-table", 1)]);
    assert_eq!(told("id,across\nA,10\n"), [("bad-table", 5)]);
}

#[test]
fn a_drill_table_without_its_columns_is_told_which_heading_is_nearest() {
    let job =
        "labels:\n- name: f\n  size: [100 mm, 60 mm]\n  text: F\n  panel: {drill_table: t.csv}\n";
    let told = |headings: &str| {
        let outcome = read_with(job, &[("t.csv", format!("{headings}\n10,10,5,P\n").as_bytes())]);
        let all = outcome.findings.iter();
        all.map(|one| format!("{}: {}; {}", one.code, one.message, one.help)).collect::<Vec<_>>()
    };
    let missing =
        |word: &str, help: &str| format!("bad-table: `t.csv` has no column `{word}`; {help}");
    assert_eq!(
        told("middle x,yy (mm),dia,id"),
        [missing("x", "rename `middle x` to `x`"), missing("y", "rename `yy (mm)` to `y`")]
    );
    let usual = "name its columns in the first row: x, y, diameter, name, kind";
    assert_eq!(told("x left,y,dia,id"), [missing("x", "rename `x left` to `x`")]);
    assert_eq!(told("left,y,dia,id"), [missing("x", usual)]);
    // A table may do without names, but not by a slip; other columns are the user's own.
    assert_eq!(
        told("x,y,dia,refrence"),
        [
            "no-column: the holes of `t.csv` have no names: no column of it is called `name`; rename `refrence` to `name`"
        ]
    );
    for headings in ["x,y,dia,what", "across,down,dia,reference", "x,y,dia,hole name"] {
        assert_eq!(told(headings), [""; 0], "{headings}");
    }
}

/// A DXF of one hole of diameter 6.5 at (12, 8), in the unit of this number.
fn dxf(unit: &str) -> String {
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{unit}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nCIRCLE\n8\nDRILL\n10\n12\n20\n8\n40\n3.25\n0\nENDSEC\n0\nEOF\n"
    )
}

#[test]
fn a_drawing_without_a_unit_is_asked_about() {
    let job = |more: &str| {
        format!(
            "labels:\n- name: f\n  size: [100 mm, 60 mm]\n  box: black\n  panel: {{drawing: {{file: d.dxf, layer: DRILL}}{more}}}\n"
        )
    };
    let in_mm = read_with(&job(""), &[("d.dxf", dxf("4").as_bytes())]);
    // From the bottom left corner, y up: 12 - 50 and 30 - 8.
    let middle = hole(&in_mm, "H1").at;
    assert_eq!((middle.x, middle.y), (-38.0, 22.0));
    assert!((hole(&in_mm, "H1").diameter_mm - 6.5).abs() < 1e-6);
    let unsaid = read_with(&job(""), &[("d.dxf", dxf("0").as_bytes())]);
    assert_eq!(codes(&unsaid), ["drawing-unit"]);
    let said = read_with(&job(", unit: mm"), &[("d.dxf", dxf("0").as_bytes())]);
    assert_eq!(hole(&said, "H1").at, middle);
    let wrong = job("").replace("DRILL", "DRIL");
    assert_eq!(codes(&read_with(&wrong, &[("d.dxf", dxf("4").as_bytes())])), ["drawing-layer"]);
}

#[test]
fn a_handed_pair_is_refused_on_a_panel_and_its_legends() {
    let job = "labels:\n- name: f\n  size: [100 mm, 60 mm]\n  handed: pair\n  panel:\n    holes: [{name: A, at: [20, 20], diameter: 8}]\n    legends: [{hole: A, text: GO, handed: pair}]\n";
    assert_eq!(codes(&read(job)), ["bad-panel", "bad-panel"]);
    assert_eq!(codes(&read(&job.replace("pair", "no"))), [""; 0]);
}

#[test]
fn a_table_that_puts_all_holes_in_one_place_is_refused_at_once() {
    use std::fmt::Write as _;
    let mut table = "x,y,diameter\n".to_owned();
    for number in 0..2000 {
        writeln!(table, "{},20,5", 20.0 + f64::from(number) * 0.01).expect("a string takes all");
    }
    let job =
        "labels:\n- name: f\n  size: [100 mm, 60 mm]\n  text: F\n  panel: {drill_table: t.csv}\n";
    assert_eq!(codes(&read_with(job, &[("t.csv", table.as_bytes())])), ["too-many"]);
}

#[test]
fn a_drawing_with_numbers_beyond_all_measure_is_told() {
    let job = "labels:\n- name: f\n  size: [100 mm, 60 mm]\n  text: F\n  panel: {drawing: {file: d.dxf}}\n";
    for (from, to) in [("12", "1e300"), ("8\n40", "-1e308\n40"), ("3.25", "1e308"), ("12", "60000")]
    {
        let drawing = dxf("2").replacen(&format!("\n{from}"), &format!("\n{to}"), 1);
        assert_ne!(drawing, dxf("2"), "{from}");
        let outcome = read_with(job, &[("d.dxf", drawing.as_bytes())]);
        assert_eq!(codes(&outcome), ["bad-drawing"], "{to}");
    }
}
