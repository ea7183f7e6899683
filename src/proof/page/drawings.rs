//! What is drawn once and placed everywhere: designs, their trims and whites.

use super::super::seen;
use super::PageContext;
use crate::colour::Colour;
use crate::design::{Design, Mark, Plate};
use crate::output::svg::{path_data, plate_runs};
use crate::parallel::in_order;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// For each design `d<n>` (its marks, a group a run of one plate), `t<n>` (its trim), `w<n>` (its white), and
/// what cuts to those (`ct<n>`, `cw<n>`) where something has to be cut.
pub(super) fn write(context: &PageContext<'_>) -> String {
    let numbered: Vec<(usize, &Design)> = context.job.designs.iter().enumerate().collect();
    in_order(&numbered, |(index, design)| one(context, *index, design)).concat()
}

fn one(context: &PageContext<'_>, index: usize, design: &Design) -> String {
    let mut out = format!("<g id=\"d{index}\">");
    add_marks(&mut out, &design.marks, &context.inks);
    let trim = path_data(&design.trim);
    let _ = write!(out, "</g><path id=\"t{index}\" d=\"{trim}\"/>");
    if is_cut(design) {
        let _ = write!(out, "<clipPath id=\"ct{index}\"><path d=\"{trim}\"/></clipPath>");
    }
    let white = seen::white(context.job, design);
    if !white.is_empty() {
        let white = path_data(&white);
        let _ = write!(
            out,
            "<path id=\"w{index}\" d=\"{white}\"/><clipPath id=\"cw{index}\"><path d=\"{white}\"/></clipPath>"
        );
    }
    out.push('\n');
    out
}

/// Adds marks in painting order, a group for each run of one plate.
pub(super) fn add_marks(out: &mut String, marks: &[Mark], inks: &BTreeMap<Colour, usize>) {
    for (plate, paths) in plate_runs(marks) {
        let class = match plate {
            Plate::Ink(ink) => format!("p{}", inks.get(&ink).copied().unwrap_or_default()),
            Plate::Guide | Plate::Cut => "guide".to_owned(),
        };
        let paths: String = paths.map(|path| format!("<path d=\"{path}\"/>")).collect();
        let _ = write!(out, "<g class=\"{class}\">{paths}</g>");
    }
}

/// Whether the knife takes ink away.
pub(super) fn is_cut(design: &Design) -> bool {
    /// What path data is rounded to, mm.
    const ROUNDING_MM: f64 = 0.001;
    let trim = design.size().inflate(ROUNDING_MM, ROUNDING_MM);
    // Bounds alone are compared: ink that only the round corners of a trim take away is not noticed.
    design.bleed_mm > 0.0 || trim.union(design.reach()) != trim
}
