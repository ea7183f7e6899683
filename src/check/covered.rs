//! Words of one decal of a panel where another covers them: which is seen is decided by who lays them.

use super::{Checked, Labelled};
use crate::design::{Design, Role, TOUCHED, hidden};
use crate::finding::{Finding, Findings, Place};
use crate::shape::{Outline, rectangle};
use crate::spec::Film;
use kurbo::{Affine, Rect};
use std::collections::BTreeSet;

/// A decal where it lies on its panel.
struct Decal<'j> {
    one: Labelled<'j>,
    panel: usize,
    /// Round all of it.
    bounds: Rect,
    /// What it covers: all of it on white film, its grounds on clear film.
    cover: Vec<Outline>,
    words: Vec<DecalWords>,
}

/// What words say, where they were asked for, and their ink; of clear ones the capitals' box.
struct DecalWords {
    text: String,
    from: Place,
    outline: Outline,
}

pub(super) fn covered_words(job: Checked<'_>, findings: &mut Findings) {
    let mut decals: Vec<Decal<'_>> = job.labelled().filter_map(Decal::of).collect();
    decals.sort_by(|a, b| a.panel.cmp(&b.panel).then(a.bounds.x0.total_cmp(&b.bounds.x0)));
    // Each is reported once: a table read in a wrong unit lays all of them on one spot.
    let mut reported = BTreeSet::new();
    for (at, one) in decals.iter().enumerate() {
        let right_of_it = decals.iter().enumerate().skip(at + 1);
        let near = right_of_it
            .take_while(|(_, next)| next.panel == one.panel && next.bounds.x0 < one.bounds.x1);
        for (next, other) in near.filter(|(_, other)| other.bounds.overlaps(one.bounds)) {
            for (number, under, over) in [(at, one, other), (next, other, one)] {
                if !reported.contains(&number)
                    && let Some(finding) = under.hidden_under(over)
                {
                    reported.insert(number);
                    findings.push(finding);
                }
            }
        }
    }
}

impl<'j> Decal<'j> {
    /// `None` for what goes on no panel, and for backings, which are made to lie under their decals.
    fn of(one: Labelled<'j>) -> Option<Decal<'j>> {
        let Labelled { label, design } = one;
        let on = design.on_panel.filter(|_| !label.is_backing())?;
        let there = Affine::translate(on.at);
        let cover = if label.film == Film::Clear {
            let grounds = design.marks.iter().filter(|mark| mark.role == Role::Fill);
            grounds.map(|mark| mark.path.placed(there)).collect()
        } else {
            vec![design.trim.placed(there)]
        };
        let bounds = design.size().union(design.reach()) + on.at;
        Some(Decal { one, panel: on.panel, bounds, cover, words: words(design, there) })
    }

    /// The finding about words of this one that lie where another covers.
    fn hidden_under(&self, other: &Decal<'_>) -> Option<Finding> {
        if self.one.design.label == other.one.design.label {
            return None;
        }
        let is_hidden = |words: &&DecalWords| hidden(&words.outline, other.cover.iter()) >= TOUCHED;
        let DecalWords { text, from, .. } = self.words.iter().find(is_hidden)?;
        let over = &other.one.design.name;
        let message = format!(
            "{text} lies where the decal {over} covers: it is hidden unless it is laid last"
        );
        let help = "lay it last, move one of them, or draw both as one label";
        let finding = Finding::warning("covered-words", message).at(*from);
        Some(finding.label(&self.one.label.name).help(help))
    }
}

fn words(design: &Design, there: Affine) -> Vec<DecalWords> {
    let quoted = |text: &str| format!("`{text}`");
    let inked = design.marks.iter().filter(|mark| mark.role == Role::Text).map(|mark| {
        let words = design.words.iter().find(|words| words.part == mark.part);
        let text = words.map_or_else(|| "a sign".to_owned(), |words| quoted(&words.text));
        DecalWords { text, from: mark.from, outline: mark.path.placed(there) }
    });
    let clear = design.words.iter().filter(|words| words.reversed).map(|words| {
        let turn = Affine::rotate_about(words.turned_deg.to_radians(), words.area.center());
        let outline = rectangle(words.area).placed(there * turn);
        DecalWords { text: quoted(&words.text), from: words.from, outline }
    });
    inked.chain(clear).collect()
}
