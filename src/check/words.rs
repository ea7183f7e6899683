//! Words beside each other: legends that touch, one word shortened two ways.

use super::Checked;
use crate::design::{Mark, Role, Words};
use crate::finding::{Finding, Findings, Place};
use crate::shape::Outline;
use crate::spec::PartId;
use kurbo::{Affine, Rect};
use std::collections::{BTreeMap, BTreeSet};

/// Letters of two legends nearer than this cannot be kept apart by eye or printer, mm: the thinnest clear
/// gap of common printers (the class's own number is used where it is larger).
const APART_MM: f64 = 0.25;

/// Words or lines, in the frame of their panel or label.
struct Legend<'j> {
    part: PartId,
    from: Place,
    path: Outline,
    role: Role,
    label: &'j str,
}

pub(super) fn legends_touch(job: Checked<'_>, findings: &mut Findings) {
    let apart = APART_MM.max(job.spec.printer.thinnest_clear);
    let mut by_panel: BTreeMap<usize, Vec<Legend<'_>>> = BTreeMap::new();
    for design in job.designs {
        let own = |by: Affine| {
            let read = |mark: &&Mark| matches!(mark.role, Role::Text | Role::Line);
            let legend = move |mark: &Mark| Legend {
                part: mark.part,
                from: mark.from,
                path: mark.path.placed(by),
                role: mark.role,
                label: &design.name,
            };
            design.marks.iter().filter(read).map(legend).collect::<Vec<_>>()
        };
        match design.on_panel {
            Some(on) => {
                by_panel.entry(on.panel).or_default().extend(own(Affine::translate(on.at)));
            }
            None if design.words.len() > 1 => touching(&own(Affine::IDENTITY), apart, findings),
            None => {}
        }
    }
    for all in by_panel.values() {
        touching(all, apart, findings);
    }
    reversed_touch(job, findings);
}

/// Words, their capitals' box in the frame of their panel or label, and the label's name.
type Stood<'j> = (&'j Words, Rect, &'j str);

/// Tells of words over each other of which one is clear in ink: no mark of it is left to touch.
fn reversed_touch(job: Checked<'_>, findings: &mut Findings) {
    let mut by_frame: BTreeMap<(bool, usize), Vec<Stood<'_>>> = BTreeMap::new();
    for (number, design) in job.designs.iter().enumerate() {
        let at = design.on_panel.map(|on| on.at).unwrap_or_default();
        let frame = design.on_panel.map_or((false, number), |on| (true, on.panel));
        let level = design.words.iter().filter(|words| words.turned_deg.abs() < 0.05);
        let placed = level.map(|words| (words, words.area + at, design.name.as_str()));
        by_frame.entry(frame).or_default().extend(placed);
    }
    for all in by_frame.values_mut() {
        all.sort_by(|a, b| a.1.x0.total_cmp(&b.1.x0));
        for (at, (one, area, _)) in all.iter().enumerate() {
            let near = all.iter().skip(at + 1).take_while(|next| next.1.x0 < area.x1);
            for (other, next, label) in near {
                let share = area.intersect(*next);
                let over = share.width() > 0.0 && share.height() > 0.0;
                if !over || one.part == other.part || !(one.reversed || other.reversed) {
                    continue;
                }
                let message = format!("the legends {:?} and {:?} overlap", one.text, other.text);
                let finding = Finding::warning("legends-touch", message).at(other.from);
                let help = "move one of them, or make it smaller";
                findings.push(finding.label(*label).help(help));
            }
        }
    }
}

/// Tells of every two, one of them words, that are nearer than `apart` mm.
fn touching(all: &[Legend<'_>], apart: f64, findings: &mut Findings) {
    let mut sorted: Vec<(Rect, &Legend<'_>)> =
        all.iter().map(|legend| (legend.path.bounds(), legend)).collect();
    sorted.sort_by(|(a, _), (b, _)| a.x0.total_cmp(&b.x0));
    for (at, (bounds, one)) in sorted.iter().enumerate() {
        let reach = bounds.inflate(apart, apart);
        let near = sorted.iter().skip(at + 1);
        for (bounds, other) in near.take_while(|(next, _)| next.x0 <= reach.x1) {
            // Numbers and marks of one dial have a finding of their own.
            let words = [one, other].into_iter().find(|legend| legend.role == Role::Text);
            let Some(words) = words.filter(|_| one.part != other.part) else { continue };
            if !reach.overlaps(*bounds) {
                continue;
            }
            if one.path.touches(&other.path) || one.path.grown(apart).touches(&other.path) {
                let what = if one.role == other.role { "another legend" } else { "a line" };
                let message = format!("the legend is nearer than {apart:.2} mm to {what}");
                let finding = Finding::warning("legends-touch", message).at(words.from);
                let help = "move one of them, or make it smaller";
                findings.push(finding.label(words.label).help(help));
            }
        }
    }
}

pub(super) fn two_spellings(job: Checked<'_>, findings: &mut Findings) {
    let mut first: BTreeMap<String, (Place, &str)> = BTreeMap::new();
    let all = job.designs.iter().flat_map(|design| {
        let label = job.spec.labels.get(design.label).map_or("", |label| &label.name);
        design.words.iter().map(move |words| (words, label))
    });
    for (words, label) in all {
        for word in words.text.split(|letter: char| !letter.is_alphabetic()) {
            if word.chars().count() >= 2 {
                first.entry(word.to_uppercase()).or_insert((words.from, label));
            }
        }
    }
    let mut by_bones: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
    for word in first.keys() {
        by_bones.entry(bones(word)).or_default().insert(word);
    }
    for (bare, words) in &by_bones {
        // A word written without its vowels, beside one that has some of them. Two letters alone are a word of
        // their own as often as not: DC is not short for DEC.
        if bare.chars().count() < 3 || words.len() < 2 || !words.contains(bare.as_str()) {
            continue;
        }
        for word in words.iter().filter(|word| **word != bare) {
            let (Some(one), Some(other)) = (first.get(*word), first.get(bare)) else { continue };
            let (place, label) = (*one).max(*other);
            let message = format!("{bare} and {word} look like one word shortened two ways");
            let help = "use one form of it everywhere; `words:` keeps it in one place";
            findings
                .push(Finding::note("two-spellings", message).at(place).label(label).help(help));
        }
    }
}

/// A word's first letter and what follows it but vowels: how words are shortened by hand (ASME Y14.38
/// shortens so; from memory).
fn bones(word: &str) -> String {
    let mut letters = word.chars();
    let first = letters.next();
    first.into_iter().chain(letters.filter(|letter| !"AEIOUY".contains(*letter))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bones_are_what_is_left_without_vowels() {
        assert_eq!(bones("PUMP"), bones("PMP"));
        assert_eq!(bones("AUTO"), "AT");
        assert_ne!(bones("VENT"), bones("VOLT"));
    }
}
