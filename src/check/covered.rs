//! Words of one decal of a panel where another covers them: which is seen is decided by who lays them.

use super::Job;
use crate::design::{Design, Role, TOUCHED, hidden};
use crate::finding::{Finding, Findings, Place};
use crate::shape::{Outline, rectangle};
use crate::spec::{Film, Label};
use kurbo::{Affine, Rect};

/// A decal where it lies on its panel.
struct Laid<'j> {
    design: &'j Design,
    label: &'j Label,
    panel: usize,
    /// Round all of it.
    bounds: Rect,
    /// What it covers: all of it on white film, its grounds on clear film.
    cover: Vec<Outline>,
    legends: Vec<Legend>,
}

/// What a legend says, where it was asked for, and its ink; of a clear one the capitals' box.
struct Legend {
    words: String,
    from: Place,
    outline: Outline,
}

pub(super) fn covered_words(job: Job<'_>, findings: &mut Findings) {
    let mut laid: Vec<Laid<'_>> = job
        .designs
        .iter()
        .filter_map(|design| Laid::of(design, job.spec.labels.get(design.label)?))
        .collect();
    laid.sort_by(|one, other| {
        one.panel.cmp(&other.panel).then(one.bounds.x0.total_cmp(&other.bounds.x0))
    });
    // Each is told once: a table read in a wrong unit lays all of them on one spot.
    let mut told = vec![false; laid.len()];
    for (at, one) in laid.iter().enumerate() {
        let near = laid
            .iter()
            .enumerate()
            .skip(at + 1)
            .take_while(|(_, next)| next.panel == one.panel && next.bounds.x0 < one.bounds.x1);
        for (next, other) in near.filter(|(_, other)| other.bounds.overlaps(one.bounds)) {
            for (number, under, over) in [(at, one, other), (next, other, one)] {
                if let Some(told) = told.get_mut(number).filter(|told| !**told) {
                    *told = tell(under, over, findings);
                }
            }
        }
    }
}

/// Tells when words of `one` lie where `other` covers; says whether it did.
fn tell(one: &Laid<'_>, other: &Laid<'_>, findings: &mut Findings) -> bool {
    let under = |legend: &&Legend| hidden(&legend.outline, other.cover.iter()) >= TOUCHED;
    if one.design.label == other.design.label {
        return false;
    }
    let Some(Legend { words, from, .. }) = one.legends.iter().find(under) else { return false };
    let message = format!(
        "{words} lies where the decal {} covers: it is hidden unless it is laid last",
        other.design.name
    );
    let help = "lay it last, move one of them, or draw both as one label";
    let finding = Finding::warning("covered-words", message).at(*from);
    findings.push(finding.label(&one.label.name).help(help));
    true
}

impl<'j> Laid<'j> {
    /// `None` for what goes on no panel, and for backings, which are made to lie under their decals.
    fn of(design: &'j Design, label: &'j Label) -> Option<Laid<'j>> {
        let on = design.on_panel.filter(|_| !label.is_backing())?;
        let there = Affine::translate(on.at);
        let cover = if label.film == Film::Clear {
            let grounds = design.marks.iter().filter(|mark| mark.role == Role::Fill);
            grounds.map(|mark| mark.path.placed(there)).collect()
        } else {
            vec![design.trim.placed(there)]
        };
        let bounds = design.size().union(design.reach()) + on.at;
        let legends = legends(design, there);
        Some(Laid { design, label, panel: on.panel, bounds, cover, legends })
    }
}

fn legends(design: &Design, there: Affine) -> Vec<Legend> {
    let inked = design.marks.iter().filter(|mark| mark.role == Role::Text).map(|mark| {
        let words = design.words.iter().find(|words| words.part == mark.part);
        Legend {
            words: words.map_or_else(|| "a sign".to_owned(), |words| format!("`{}`", words.text)),
            from: mark.from,
            outline: mark.path.placed(there),
        }
    });
    let clear = design.words.iter().filter(|words| words.reversed).map(|words| {
        let turn = Affine::rotate_about(words.turned_deg.to_radians(), words.area.center());
        Legend {
            words: format!("`{}`", words.text),
            from: words.from,
            outline: rectangle(words.area).placed(there * turn),
        }
    });
    inked.chain(clear).collect()
}
