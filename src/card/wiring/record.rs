//! The tests as a table for a spreadsheet (RFC 4180), with empty fields to fill in.

use super::probes::{BEEPS, END_OFF_WHY, SILENT};
use crate::spec::wiring::Wiring;
use crate::wire::Plan;

/// The names of the fields. By its last word a later run recognizes the file as its own and may replace it.
const HEADER: &str =
    "step,test,probe a,probe b,expect,wire,colour,why,reading,done (plan by decalwright)\r\n";

/// The plan's tests as a table for a spreadsheet (RFC 4180), one row a test, numbered as on the sheets.
#[must_use]
pub(crate) fn continuity_csv(wiring: &Wiring, plan: &Plan) -> String {
    let mut out = HEADER.to_owned();
    for (test, step) in plan.joined.iter().zip(1..) {
        let step = step.to_string();
        let [a, b] = test.probes.each_ref().map(ToString::to_string);
        let wire = wiring.wires.get(test.wire);
        let id = wire.map(|wire| wire.id.as_str()).unwrap_or_default();
        let colour = wire.and_then(|wire| wire.colour.as_ref()).map(|colour| colour.code());
        let colour = colour.unwrap_or_default();
        let why = if test.one_end_off { END_OFF_WHY } else { "" };
        record(&mut out, &[&step, "must beep", &a, &b, BEEPS, id, &colour, why, "", ""]);
    }
    for (test, step) in plan.apart.iter().zip(plan.joined.len() + 1..) {
        let step = step.to_string();
        let [a, b] = test.probes.each_ref().map(ToString::to_string);
        let why = test.reason.to_string();
        record(&mut out, &[&step, "must not beep", &a, &b, SILENT, "", "", &why, "", ""]);
    }
    out
}

/// Fields with commas, quotes or line ends are quoted, quotes in them doubled; a row ends in CR LF.
///
/// A spreadsheet would compute a field that starts like a formula: an apostrophe in front keeps it as text.
fn record(out: &mut String, fields: &[&str; 10]) {
    let written = fields.map(|field| {
        let as_text = if field.starts_with(['=', '+', '-', '@', '\t']) { "'" } else { "" };
        if field.contains([',', '"', '\r', '\n']) {
            format!("\"{as_text}{}\"", field.replace('"', "\"\""))
        } else {
            format!("{as_text}{field}")
        }
    });
    out.push_str(&written.join(","));
    out.push_str("\r\n");
}
