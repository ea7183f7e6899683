//! Answers to fill in, and the profile that is made of them. Both are YAML, and the same keys.

use crate::spec::{Correction, Margins, Measured, Paper, Profile};
use crate::units::fixed;
use std::fmt::Write as _;

/// Answers to fill in: every key with what to write, behind a `#`.
#[must_use]
pub fn template(paper: &Paper) -> String {
    let (x, y) = (fixed(paper.size.width / 2.0, 2), fixed(paper.size.height / 2.0, 2));
    format!(
        "# What you read off the test prints. Take the # off a line once you have its numbers (mm), then:
#   decalwright printer NAME --from answers.yaml

paper: {}
# date: 14 March                   # as you write it; it is printed on corrected sheets
# class: laser-600                 # or laser-1200, ink-jet, ink-jet-uncoated, white-ink

# From the scale page: test-print scale
# bars: [100.0, 100.0]             # across, down
# square: [50.0, 50.0]             # across, down
# diagonals: [70.7, 70.7]          # from top left, from top right
# middle: [{x}, {y}]         # where they cross: from the left, from the top edge of the paper
# margins: [4, 4, 4, 4]            # first step clear of the edge: top, right, bottom, left

# From the line pages: test-print lines
# thinnest_ink: 0.15
# thinnest_clear: 0.25

# From the type pages: test-print type
# smallest_cap: 1.2
# smallest_cap_reversed: 1.6

# From the ink page: test-print inks
# opacity: 8 %

# From colour pages: test-print colour NAME --job JOB
# colours:
#   beacon: {{shown: \"#ad2b24\", print: D2}}
",
        paper_words(paper)
    )
}

/// A profile as YAML: what was measured, with what follows from it in remarks. `file` is what it is called.
#[must_use]
pub fn profile_file(profile: &Profile, file: &str) -> String {
    let mut out = format!(
        "# What test prints showed of one printer on one paper; made by decalwright. In a job beside this file:
#   printer: {{profile: {}}}
printer: {}
paper: {}
",
        double_quoted(file),
        double_quoted(&profile.printer),
        paper_words(&profile.paper)
    );
    let date = profile.date.as_deref().map(double_quoted);
    keys(&mut out, &[("date", date), ("class", profile.class.clone())]);
    let pair = |pair: Option<(f64, f64)>| Some(listed(&[pair?.0, pair?.1]));
    let Measured { bars, square, diagonals, middle } = profile.measured;
    let lengths = [
        ("bars", pair(bars)),
        ("square", pair(square)),
        ("diagonals", pair(diagonals)),
        ("middle", pair(middle)),
    ];
    if group(&mut out, "Measured on the scale page, mm.", &lengths) {
        out.push_str(&correction(profile));
    }
    let margins = profile.margins.map(|sides| {
        let Margins { top, right, bottom, left } = sides;
        listed(&[top, right, bottom, left])
    });
    let remark = "Where nothing was printed, mm: top, right, bottom, left.";
    group(&mut out, remark, &[("margins", margins)]);
    let mm = |mm: Option<f64>| Some(fixed(mm?, 3).to_string());
    let smallest = [
        ("thinnest_ink", mm(profile.thinnest_ink)),
        ("thinnest_clear", mm(profile.thinnest_clear)),
        ("smallest_cap", mm(profile.smallest_cap)),
        ("smallest_cap_reversed", mm(profile.smallest_cap_reversed)),
    ];
    group(&mut out, "Thinnest lines and smallest capitals that came out, mm.", &smallest);
    let opacity = profile.opacity.map(|opacity| format!("{} %", fixed(100.0 * opacity, 2)));
    let remark = "How much of the light its ink reflects by itself.";
    group(&mut out, remark, &[("opacity", opacity)]);
    if !profile.picked.is_empty() {
        out.push_str(
            "\n# As wanted, and as it has to be printed to look so on the part.\ncolours:\n",
        );
    }
    for (name, picked) in &profile.picked {
        let (shown, print) = (picked.shown, picked.print);
        let _ =
            writeln!(out, "  {}: {{shown: \"{shown}\", print: \"{print}\"}}", double_quoted(name));
    }
    out
}

/// What the measured lengths come to, as a remark.
fn correction(profile: &Profile) -> String {
    let Some(Correction { across, down, skew_mm, shift }) = profile.correction() else {
        return "# No correction is needed: it prints true.\n".to_owned();
    };
    format!(
        "# PDFs are corrected: x times {}, y times {}, lower end of 100 mm {} mm right, all {} mm right and {} mm down.\n",
        fixed(across, 5),
        fixed(down, 5),
        fixed(-skew_mm, 2),
        fixed(-shift.x, 2),
        fixed(-shift.y, 2)
    )
}

/// Writes the keys that have a value.
fn keys(out: &mut String, keys: &[(&str, Option<String>)]) {
    for (key, value) in keys {
        if let Some(value) = value {
            // Writing to a string cannot fail.
            let _ = writeln!(out, "{key}: {value}");
        }
    }
}

/// The same under a remark, which stands only where there are any; returns whether there are.
fn group(out: &mut String, remark: &str, values: &[(&str, Option<String>)]) -> bool {
    let any = values.iter().any(|(_, value)| value.is_some());
    if any {
        let _ = write!(out, "\n# {remark}\n");
    }
    keys(out, values);
    any
}

/// Lengths in mm as a list: `[97.3, 99.1]`.
fn listed(lengths: &[f64]) -> String {
    let lengths: Vec<String> = lengths.iter().map(|mm| fixed(*mm, 3).to_string()).collect();
    format!("[{}]", lengths.join(", "))
}

/// The paper as a job or profile says it.
fn paper_words(paper: &Paper) -> String {
    if Paper::named(&paper.name).is_some() {
        return paper.name.clone();
    }
    listed(&[paper.size.width, paper.size.height])
}

/// A text in YAML's double quotes (YAML 1.2.2, 7.3.1).
pub(super) fn double_quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for sign in text.chars() {
        match sign {
            '"' | '\\' => out.extend(['\\', sign]),
            sign if sign.is_control() => out.push(' '),
            sign => out.push(sign),
        }
    }
    out.push('"');
    out
}

/// What a profile's file is called: printer and paper, `lodge-laser-a4.yaml`.
#[must_use]
pub fn file_name(profile: &Profile) -> String {
    format!("{}.yaml", plain_name(&format!("{} {}", profile.printer, profile.paper.name)))
}

/// Words as a file name: small letters and figures, a hyphen for all else.
pub(super) fn plain_name(words: &str) -> String {
    let parts = words.split(|sign: char| !sign.is_alphanumeric()).filter(|part| !part.is_empty());
    let name = parts.map(str::to_lowercase).collect::<Vec<_>>().join("-");
    let short: String = name.chars().take(60).collect();
    if short.is_empty() { "printer".to_owned() } else { short }
}
