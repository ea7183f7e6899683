//! The tests as a table for a spreadsheet (RFC 4180), with empty fields to fill in.

use super::probes::{BEEPS, END_OFF_WHY, SILENT};
use crate::spec::wiring::Wiring;
use crate::wire::Plan;

/// The names of the fields. By its last word a later run knows that it may write the file anew.
const HEADER: [&str; 10] = [
    "step",
    "test",
    "probe a",
    "probe b",
    "expect",
    "wire",
    "colour",
    "why",
    "reading",
    "done (plan by decalwright)",
];

/// One row a test, in the order of the sheets.
pub(in crate::card) fn csv(wiring: &Wiring, plan: &Plan) -> String {
    let mut out = String::new();
    record(&mut out, &HEADER);
    let mut step = 0;
    for test in &plan.joined {
        step += 1;
        let [a, b] = &test.probes;
        let wire = wiring.wires.get(test.wire);
        let id = wire.map(|wire| wire.id.as_str()).unwrap_or_default();
        let colour = wire.and_then(|wire| wire.colour.as_ref()).map(|colour| colour.code());
        let why = if test.one_end_off { END_OFF_WHY } else { "" };
        record(
            &mut out,
            &[
                &step.to_string(),
                "must beep",
                &a.to_string(),
                &b.to_string(),
                BEEPS,
                id,
                &colour.unwrap_or_default(),
                why,
                "",
                "",
            ],
        );
    }
    for test in &plan.apart {
        step += 1;
        let [a, b] = test.probes.each_ref().map(ToString::to_string);
        let why = test.reason.to_string();
        record(
            &mut out,
            &[&step.to_string(), "must not beep", &a, &b, SILENT, "", "", &why, "", ""],
        );
    }
    out
}

/// Fields with commas, quotes or line ends are quoted, quotes in them doubled; a row ends in CR LF.
///
/// A spreadsheet would compute a field that starts like a formula: an apostrophe in front keeps it as text.
fn record(out: &mut String, fields: &[&str; HEADER.len()]) {
    for (at, field) in fields.iter().enumerate() {
        if at > 0 {
            out.push(',');
        }
        let shielded;
        let field = if field.starts_with(['=', '+', '-', '@', '\t']) {
            shielded = format!("'{field}");
            &shielded
        } else {
            *field
        };
        if field.contains([',', '"', '\r', '\n']) {
            out.push('"');
            out.push_str(&field.replace('"', "\"\""));
            out.push('"');
        } else {
            out.push_str(field);
        }
    }
    out.push_str("\r\n");
}
