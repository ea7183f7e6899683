//! What a job came to, in a few lines a person likes to read.

use super::{Laid, films};
use crate::finding::{Findings, Severity};
use crate::sheet::{self, CopyOrSpare, Sheet};
use crate::spec::Film;
use crate::units::counted;
use std::fmt::Write as _;

/// Title, film by film the sheets and what is left of them, labels and spares, and the findings counted.
#[must_use]
pub fn summary(laid: &Laid, findings: &Findings) -> String {
    let mut text = laid.spec.title.clone();
    for given in [&laid.spec.revision, &laid.spec.date].into_iter().flatten() {
        let _ = write!(text, ", {given}");
    }
    text.push('\n');
    for film in films(laid) {
        let _ = writeln!(text, "  {}", of_film(laid, film));
    }
    let _ = writeln!(text, "  {}", pieces(laid));
    let _ = writeln!(text, "  {}", in_words(findings));
    text
}

/// `clear film: 2 sheets of A5, 61 % of the film used, 110 x 45 mm left on the last`.
fn of_film(laid: &Laid, film: Film) -> String {
    let sheets: Vec<&Sheet> = laid.sheets.iter().filter(|sheet| sheet.film == film).collect();
    let used: Vec<sheet::Used> =
        sheets.iter().map(|sheet| sheet::used(&laid.spec, sheet, &laid.designs)).collect();
    #[allow(clippy::cast_precision_loss, reason = "far fewer than 2^52 sheets")]
    let share = used.iter().map(|used| used.share).sum::<f64>() / used.len().max(1) as f64;
    let left = used.last().map(|used| used.left).unwrap_or_default();
    let mut text = format!(
        "{}: {} of {}, {:.0} % of the film used",
        film.name(),
        counted(sheets.len(), "sheet"),
        laid.spec.sheet.paper.name,
        share * 100.0
    );
    if left.width > 0.0 {
        let _ = write!(text, ", {:.0} x {:.0} mm left on the last", left.width, left.height);
    }
    if sheets.iter().any(|sheet| sheet.reads_backwards) {
        text.push_str(", printed reading backwards");
    }
    text
}

fn pieces(laid: &Laid) -> String {
    let placed = || laid.sheets.iter().flat_map(|sheet| &sheet.placements);
    let spares =
        placed().filter(|placement| matches!(placement.piece, CopyOrSpare::Spare(_))).count();
    let all = placed().count();
    format!(
        "{}, {}: {} to apply and {}",
        counted(laid.designs.len(), "label"),
        counted(all, "piece"),
        all - spares,
        counted(spares, "spare")
    )
}

/// `1 error, 2 warnings and 3 notes`, or that there is nothing to mend.
fn in_words(findings: &Findings) -> String {
    let counts: Vec<String> =
        [(Severity::Error, "error"), (Severity::Warning, "warning"), (Severity::Note, "note")]
            .into_iter()
            .map(|(severity, word)| (findings.count(severity), word))
            .filter(|(count, _)| *count > 0)
            .map(|(count, word)| counted(count, word))
            .collect();
    match counts.as_slice() {
        [] => "nothing to mend".to_owned(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
