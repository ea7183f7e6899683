//! The lists beside the drawing: what to look at, plates, findings.

use super::{Colour, PageContext, escaped};
use crate::finding::{Finding, Severity};
use crate::units::counted;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// One choice of a drawing each.
pub(super) fn choices(context: &PageContext<'_>) -> String {
    let mut out = String::new();
    group(&mut out, "Surfaces, as seen", |out| {
        for (index, shown) in context.surfaces.iter().enumerate() {
            let count = shown.designs.len();
            choice(out, &format!("surface-{index}"), shown.title(), Some((shown.ground(), count)));
        }
    });
    if !context.job.sheets.is_empty() {
        group(&mut out, "Sheets, as printed", |out| {
            for (index, sheet) in context.job.sheets.iter().enumerate() {
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
    let (swatch, count) = ground.map_or_else(Default::default, |(colour, count)| {
        (swatch(colour), format!("<span class=\"count\">{count}</span>"))
    });
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
pub(super) fn plates(context: &PageContext<'_>) -> String {
    let mut out = String::new();
    for (ink, number) in &context.inks {
        let swatch = swatch(*ink);
        let _ = writeln!(
            out,
            "<label><input type=\"checkbox\" data-plate=\"{number}\" checked>{swatch}ink {ink}</label>"
        );
    }
    out
}

/// A switch for each severity there is.
pub(super) fn counts(context: &PageContext<'_>) -> String {
    let mut out = String::new();
    for severity in Severity::ALL {
        let count = context.job.findings.count(severity);
        if count == 0 {
            continue;
        }
        let (word, sign) = (severity.word(), sign(severity));
        let counted = counted(count, word);
        let _ = writeln!(
            out,
            "<label><input type=\"checkbox\" data-severity=\"{word}\" checked>{sign}{counted}</label>"
        );
    }
    out
}

fn sign(severity: Severity) -> String {
    let word = severity.word();
    format!(
        "<svg class=\"sign {word}\" aria-hidden=\"true\" viewBox=\"-11 -11 22 22\"><use href=\"#shape-{word}\"/><use href=\"#sign-{word}\"/></svg>"
    )
}

/// Every finding: those about a label are buttons that lead to it.
pub(super) fn findings(context: &PageContext<'_>) -> String {
    let on: BTreeMap<usize, usize> =
        context.pins.iter().map(|pin| (pin.index, pin.design)).collect();
    let mut out = String::new();
    for (index, finding) in context.job.findings.list().iter().enumerate() {
        add_finding(&mut out, context, index, finding, on.get(&index).copied());
    }
    if out.is_empty() {
        return "<p class=\"quiet\">Nothing to mend.</p>".to_owned();
    }
    format!("<ol class=\"findings\" role=\"list\">\n{out}</ol>")
}

fn add_finding(
    out: &mut String,
    context: &PageContext<'_>,
    index: usize,
    finding: &Finding,
    design: Option<usize>,
) {
    let severity = finding.severity.word();
    let head = format!(
        "{}<span class=\"what\"><b>{} {severity}</b> <code>{}</code></span><span class=\"message\"><bdi>{}</bdi></span>",
        sign(finding.severity),
        index + 1,
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
    let place = finding.place.and_then(|place| context.job.sources.position(place));
    let place = place.map(|(file, line, column)| format!("{}:{line}:{column}", escaped(file)));
    let label = finding.label.as_deref().map(|label| format!("<bdi>{}</bdi>", escaped(label)));
    let where_: Vec<String> = label.into_iter().chain(place).collect();
    if !where_.is_empty() {
        let _ = write!(out, "<p class=\"where\">{}</p>", where_.join(" · "));
    }
    out.push_str("</li>\n");
}
