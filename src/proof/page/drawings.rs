//! What is drawn once and placed everywhere: designs, their trims and whites.

use super::super::seen;
use super::Bench;
use crate::design::{Design, Mark, Plate};
use crate::output::svg::path_data;
use crate::parallel::in_order;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// For each design `d<n>` (its marks, a group a run of one plate), `t<n>` (its trim), `w<n>` (its white), and
/// what cuts to those (`ct<n>`, `cw<n>`) where something has to be cut.
pub(super) fn write(bench: &Bench<'_>) -> String {
    let numbered: Vec<(usize, &Design)> = bench.job.designs.iter().enumerate().collect();
    in_order(&numbered, |(index, design)| one(bench, *index, design)).concat()
}

fn one(bench: &Bench<'_>, index: usize, design: &Design) -> String {
    let mut out = format!("<g id=\"d{index}\">");
    runs(&mut out, &design.marks, &bench.inks);
    let trim = path_data(&design.trim);
    let _ = write!(out, "</g><path id=\"t{index}\" d=\"{trim}\"/>");
    if is_cut(design) {
        let _ = write!(out, "<clipPath id=\"ct{index}\"><path d=\"{trim}\"/></clipPath>");
    }
    let white = seen::white(bench.job, design);
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

/// Marks in painting order, a group for each run of one plate.
pub(super) fn runs(
    out: &mut String,
    marks: &[Mark],
    inks: &BTreeMap<crate::colour::Colour, usize>,
) {
    for run in marks.chunk_by(|a, b| a.plate == b.plate) {
        let class = match run.first().map(|mark| mark.plate) {
            Some(Plate::Ink(colour)) => {
                format!("p{}", inks.get(&colour).copied().unwrap_or_default())
            }
            Some(Plate::Guide) => "guide".to_owned(),
            _ => continue,
        };
        let _ = write!(out, "<g class=\"{class}\">");
        for mark in run.iter().filter(|mark| !mark.path.is_empty()) {
            let _ = write!(out, "<path d=\"{}\"/>", path_data(&mark.path));
        }
        out.push_str("</g>");
    }
}

/// Whether the knife takes ink away.
pub(super) fn is_cut(design: &Design) -> bool {
    /// What path data is rounded to, mm.
    const ROUNDING_MM: f64 = 0.001;
    let trim = design.size().inflate(ROUNDING_MM, ROUNDING_MM);
    // Where the trim is no rectangle its bounds tell nothing of its corners.
    design.bleed_mm > 0.0 || trim.union(design.reach()) != trim
}
