//! Words beside each other: legends that touch, one word shortened two ways.

use super::Job;
use crate::design::{Mark, Role};
use crate::finding::{Finding, Findings, Place};
use crate::shape::Outline;
use kurbo::Affine;
use std::collections::{BTreeMap, BTreeSet};

/// Letters of two legends nearer than this cannot be kept apart by eye or printer, mm: the thinnest clear
/// gap of common printers (the class's own number is used where it is larger).
const APART_MM: f64 = 0.25;

pub(super) fn legends_touch(job: Job<'_>, findings: &mut Findings) {
    let apart = APART_MM.max(job.spec.printer.thinnest_clear);
    let mut by_panel: BTreeMap<usize, Vec<(Place, Outline, &str)>> = BTreeMap::new();
    for design in job.designs {
        let own = design.marks.iter().filter(|mark| mark.role == Role::Text);
        let Some(on) = design.on_panel else {
            let all: Vec<_> =
                own.map(|mark| (mark.from, mark.path.clone(), &*design.name)).collect();
            touching(&all, apart, findings);
            continue;
        };
        let there = Affine::translate(on.at);
        let all = own.map(|mark: &Mark| (mark.from, mark.path.placed(there), &*design.name));
        by_panel.entry(on.panel).or_default().extend(all);
    }
    for all in by_panel.values() {
        touching(all, apart, findings);
    }
}

/// Tells of every two texts that are nearer than `apart` mm.
fn touching(all: &[(Place, Outline, &str)], apart: f64, findings: &mut Findings) {
    let mut sorted: Vec<&(Place, Outline, &str)> = all.iter().collect();
    sorted.sort_by(|a, b| a.1.bounds().x0.total_cmp(&b.1.bounds().x0));
    for (at, (from, one, label)) in sorted.iter().map(|it| (it.0, &it.1, it.2)).enumerate() {
        let reach = one.bounds().inflate(apart, apart);
        let near = sorted.iter().skip(at + 1);
        for (other_from, other, _) in near.take_while(|next| next.1.bounds().x0 <= reach.x1) {
            // Numbers of one dial have a finding of their own.
            if *other_from == from || !reach.overlaps(other.bounds()) {
                continue;
            }
            if one.touches(other) || one.grown(apart).touches(other) {
                let message = format!("two legends are nearer than {apart:.2} mm to each other");
                let finding = Finding::warning("legends-touch", message).at(*other_from);
                findings.push(finding.label(label).help("move one of them, or make it smaller"));
            }
        }
    }
}

pub(super) fn two_spellings(job: Job<'_>, findings: &mut Findings) {
    let mut first: BTreeMap<String, Place> = BTreeMap::new();
    for words in job.designs.iter().flat_map(|design| &design.words) {
        for word in words.text.split(|letter: char| !letter.is_alphabetic()) {
            if word.chars().count() >= 2 {
                first.entry(word.to_uppercase()).or_insert(words.from);
            }
        }
    }
    let mut by_bones: BTreeMap<String, BTreeSet<&str>> = BTreeMap::new();
    for word in first.keys() {
        by_bones.entry(bones(word)).or_default().insert(word);
    }
    for (bare, words) in &by_bones {
        // A word written without its vowels, beside one that has some of them.
        if bare.chars().count() < 2 || words.len() < 2 || !words.contains(bare.as_str()) {
            continue;
        }
        for word in words.iter().filter(|word| **word != bare) {
            let (Some(one), Some(other)) = (first.get(*word), first.get(bare)) else { continue };
            let place = (*one).max(*other);
            let message = format!("{bare} and {word} look like one word shortened two ways");
            let help = "use one form of it everywhere; `words:` keeps it in one place";
            findings.push(Finding::note("two-spellings", message).at(place).help(help));
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
