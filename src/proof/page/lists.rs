//! The lists beside the drawing: what to look at, plates, findings.

use super::{Bench, Colour, escaped, word};
use crate::finding::{Finding, Severity};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// One choice of a drawing each.
pub(super) fn choices(bench: &Bench<'_>) -> String {
    let mut out = String::new();
    group(&mut out, "Surfaces, as seen", |out| {
        for (index, shown) in bench.shown.iter().enumerate() {
            let count = shown.designs.len();
            choice(out, &format!("surface-{index}"), shown.title(), Some((shown.ground(), count)));
        }
    });
    if !bench.job.sheets.is_empty() {
        group(&mut out, "Sheets, as printed", |out| {
            for (index, sheet) in bench.job.sheets.iter().enumerate() {
                let title = format!("{} {} of {}", sheet.film.name(), sheet.number, sheet.of);
                choice(out, &format!("sheet-{index}"), &title, None);
            }
        });
    }
    out
}

fn group(out: &mut String, title: &str, fill: impl Fn(&mut String)) {
    let _ = write!(out, "<fieldset class=\"choices\"><legend>{title}</legend>");
    fill(out);
    out.push_str("</fieldset>\n");
}

/// The ground and how many labels are on it, or nothing for a sheet.
fn choice(out: &mut String, id: &str, title: &str, ground: Option<(Colour, usize)>) {
    let title = escaped(title);
    let (swatch, count) = match ground {
        Some((colour, count)) => (swatch(colour), format!("<span class=\"count\">{count}</span>")),
        None => (String::new(), String::new()),
    };
    let _ = writeln!(
        out,
        "<label><input type=\"radio\" name=\"view\" value=\"{id}\">{swatch}<bdi>{title}</bdi>{count}</label>"
    );
}

/// A patch of one colour, drawn and not styled: the page allows no style but its own.
fn swatch(colour: Colour) -> String {
    format!(
        "<svg class=\"swatch\" aria-hidden=\"true\" viewBox=\"0 0 10 10\"><rect width=\"10\" height=\"10\" fill=\"{colour}\"/></svg>"
    )
}

/// A switch for each ink, in the order of their numbers.
pub(super) fn plates(bench: &Bench<'_>) -> String {
    let mut out = String::new();
    for (ink, number) in &bench.inks {
        let swatch = swatch(*ink);
        let _ = writeln!(
            out,
            "<label><input type=\"checkbox\" data-plate=\"{number}\" checked>{swatch}ink {ink}</label>"
        );
    }
    out
}

const SEVERITIES: [Severity; 3] = [Severity::Error, Severity::Warning, Severity::Note];

/// A switch for each severity there is.
pub(super) fn counts(bench: &Bench<'_>) -> String {
    let mut out = String::new();
    for severity in SEVERITIES {
        let count = bench.job.findings.count(severity);
        if count == 0 {
            continue;
        }
        let word = word(severity);
        let plural = if count == 1 { "" } else { "s" };
        let _ = writeln!(
            out,
            "<label><input type=\"checkbox\" data-severity=\"{word}\" checked>{}{count} {word}{plural}</label>",
            sign(severity)
        );
    }
    out
}

fn sign(severity: Severity) -> String {
    let word = word(severity);
    format!(
        "<svg class=\"sign {word}\" aria-hidden=\"true\" viewBox=\"-11 -11 22 22\"><use href=\"#shape-{word}\"/><use href=\"#sign-{word}\"/></svg>"
    )
}

/// Every finding: those about a label are buttons that lead to it.
pub(super) fn findings(bench: &Bench<'_>) -> String {
    let on: BTreeMap<usize, usize> =
        bench.pins.iter().map(|pin| (pin.finding, pin.design)).collect();
    let mut out = String::new();
    for (index, finding) in bench.job.findings.list().iter().enumerate() {
        one(&mut out, bench, (index, finding), on.get(&index).copied());
    }
    if out.is_empty() {
        return "<p class=\"quiet\">Nothing to mend.</p>".to_owned();
    }
    format!("<ol class=\"findings\" role=\"list\">\n{out}</ol>")
}

fn one(
    out: &mut String,
    bench: &Bench<'_>,
    (index, finding): (usize, &Finding),
    design: Option<usize>,
) {
    let severity = word(finding.severity);
    let head = format!(
        "{}<span class=\"what\"><b>{} {}</b> <code>{}</code></span><span class=\"message\"><bdi>{}</bdi></span>",
        sign(finding.severity),
        index + 1,
        severity,
        finding.code,
        escaped(&finding.message)
    );
    let _ = write!(out, "<li class=\"{severity}\" data-finding=\"{index}\">");
    let _ = match design {
        Some(design) => {
            write!(out, "<button type=\"button\" data-design=\"{design}\">{head}</button>")
        }
        None => write!(out, "<div class=\"placeless\">{head}</div>"),
    };
    if !finding.help.is_empty() {
        let _ = write!(out, "<p class=\"help\"><bdi>{}</bdi></p>", escaped(&finding.help));
    }
    let place = finding.place.and_then(|place| bench.job.sources.position(place));
    let place = place.map(|(file, line, column)| format!("{}:{line}:{column}", escaped(file)));
    let label = finding.label.as_deref().map(|label| format!("<bdi>{}</bdi>", escaped(label)));
    let said: Vec<String> = label.into_iter().chain(place).collect();
    if !said.is_empty() {
        let _ = write!(out, "<p class=\"where\">{}</p>", said.join(" · "));
    }
    out.push_str("</li>\n");
}
