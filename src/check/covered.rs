//! Words of one decal of a panel under another: which of them is seen is decided by who lays them.

use super::Job;
use crate::design::{Design, Role, TOUCHED, hidden};
use crate::finding::{Finding, Findings, Place};
use crate::shape::{Outline, rectangle};
use crate::spec::Film;
use kurbo::{Affine, Rect, Vec2};

/// A decal where it lies on its panel.
struct Laid<'d> {
    design: &'d Design,
    panel: usize,
    by: Vec2,
    /// Round all of it.
    bounds: Rect,
    is_white: bool,
}

pub(super) fn covered_words(job: Job<'_>, findings: &mut Findings) {
    let laid = job.designs.iter().filter_map(|design| {
        let (on, label) = (design.on_panel?, job.spec.labels.get(design.label)?);
        let bounds = design.size().union(design.reach()) + on.at;
        let is_white = label.film != Film::Clear;
        Some(Laid { design, panel: on.panel, by: on.at, bounds, is_white })
    });
    let mut laid: Vec<Laid<'_>> = laid.collect();
    laid.sort_by(|one, other| {
        one.panel.cmp(&other.panel).then(one.bounds.x0.total_cmp(&other.bounds.x0))
    });
    for (at, one) in laid.iter().enumerate() {
        let near = laid
            .iter()
            .skip(at + 1)
            .take_while(|next| next.panel == one.panel && next.bounds.x0 < one.bounds.x1);
        for other in near.filter(|other| other.bounds.overlaps(one.bounds)) {
            // Once a pair is enough.
            let _ = meet(one, other, findings) || meet(other, one, findings);
        }
    }
}

/// Tells when words of `one` share their place with what `other` covers; says whether it did.
fn meet(one: &Laid<'_>, other: &Laid<'_>, findings: &mut Findings) -> bool {
    let there = Affine::translate(other.by - one.by);
    let cover: Vec<Outline> = if other.is_white {
        vec![other.design.trim.placed(there)]
    } else {
        let fills = other.design.marks.iter().filter(|mark| mark.role == Role::Fill);
        fills.map(|mark| mark.path.placed(there)).collect()
    };
    let under = |outline: &Outline| hidden(outline, cover.iter()) >= TOUCHED;
    let Some((words, from)) = legends(one.design)
        .find(|(_, _, outline)| under(outline))
        .map(|(words, from, _)| (words, from))
    else {
        return false;
    };
    let message = format!(
        "{words} and the decal {} lie on each other: the one laid last covers the other",
        other.design.name
    );
    let help = "move one of them, make one smaller, or draw both as one label";
    findings.push(
        Finding::warning("covered-words", message).at(from).label(&one.design.name).help(help),
    );
    true
}

/// The legends of a design: what they say, where they are from, and their ink; of clear ones the capitals' box.
fn legends(design: &Design) -> impl Iterator<Item = (String, Place, Outline)> + '_ {
    let inked = design.marks.iter().filter(|mark| mark.role == Role::Text).map(|mark| {
        let words = design.words.iter().find(|words| words.from == mark.from);
        let words =
            words.map_or_else(|| "a legend".to_owned(), |words| format!("`{}`", words.text));
        (words, mark.from, mark.path.clone())
    });
    let clear = design.words.iter().filter(|words| words.reversed).map(|words| {
        let turn = Affine::rotate_about(words.turned_deg.to_radians(), words.area.center());
        (format!("`{}`", words.text), words.from, rectangle(words.area).placed(turn))
    });
    inked.chain(clear)
}

#[cfg(test)]
mod tests {
    use crate::job;

    #[test]
    fn decals_that_lie_on_each_others_words_are_told_once_a_pair() {
        let said = |paint: &str, apart: u32| -> Vec<String> {
            let job = format!(
                "sheet: {{film: white}}\nlabels:\n  - name: front\n    size: [80 mm, 40 mm]\n    panel:\n      deliver: pieces\n      legends:\n        - {{at: [20 mm, 20 mm], text: {{text: TIDE, paint: {paint}}}, box: {{size: [14 mm, 6 mm], fill: '#1d5c4a'}}}}\n        - at: [{} mm, 20 mm]\n          name: bar\n          parts: [{{box: {{size: [12 mm, 6 mm], fill: '#24382e'}}}}]\n",
                20 + apart
            );
            let mut nothing = |name: &str| Err(crate::files::Error::Outside(name.into()));
            let outcome = job::lay("test.yaml", job.as_bytes(), &mut nothing);
            assert!(outcome.laid.is_some(), "{:#?}", outcome.findings.list());
            let found = outcome.findings.list().iter().filter(|one| one.code == "covered-words");
            found.map(|one| one.message.clone()).collect()
        };
        let told =
            ["`TIDE` and the decal bar lie on each other: the one laid last covers the other"];
        assert_eq!(said("black", 6), told);
        assert_eq!(said("clear", 6), told);
        assert_eq!(said("black", 30), Vec::<String>::new());
    }
}
