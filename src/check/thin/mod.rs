//! Ink and clear gaps thinner than the printer can make, found on the final outlines.
//!
//! What thin means, and what is a mere corner, is defined in `shape::thin`. Marks of one colour that touch are
//! one ink. A gap is clear between any inks; black letters on yellow leave none. White counts as clear: on a
//! printer without white it is film left bare. Codes have a rule of their own and are passed over.

mod cure;
mod memo;
mod owner;

use super::{Checked, Labelled, size};
use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role};
use crate::finding::{Finding, Findings, Place, Severity};
use crate::parallel::in_order;
use crate::shape::{Outline, ThinPlace};
use kurbo::Rect;
pub(super) use memo::Memo;
use owner::{Drawing, Owner, What};
use std::borrow::Cow;
use std::cell::LazyCell;
use std::collections::BTreeMap;

/// What is too thin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    /// Ink that may break or not print at all.
    Ink,
    /// Clear that may fill up.
    Clear,
}

pub(super) fn thin_ink(job: Checked<'_>, findings: &mut Findings) {
    let needed_mm = job.spec.printer.thinnest_ink;
    let memo = Memo::new(Kind::Ink, needed_mm);
    Judge { job, kind: Kind::Ink, code: "thin-ink", needed_mm, memo }.tell(findings);
}

pub(super) fn clear_gap(job: Checked<'_>, findings: &mut Findings) {
    let needed_mm = job.spec.printer.thinnest_clear;
    let memo = Memo::new(Kind::Clear, needed_mm);
    Judge { job, kind: Kind::Clear, code: "clear-gap", needed_mm, memo }.tell(findings);
}

fn thin(outline: &Outline, kind: Kind, width_mm: f64) -> Vec<ThinPlace> {
    match kind {
        Kind::Ink => outline.thin_places(width_mm),
        Kind::Clear => outline.thin_gaps(width_mm),
    }
}

/// A gap of less than this closes up unseen, mm²: a tenth of a full stop of 0.25 mm. Common practice, no source.
const SPECK_MM2: f64 = 0.005;

/// Ink that is judged as one.
struct Layer<'d> {
    outline: Cow<'d, Outline>,
    /// Its colour; `None` for all inks together.
    colour: Option<Colour>,
}

/// The inks of a design one by one, or all of them together when gaps are judged.
fn layers(design: &Design, kind: Kind) -> Vec<Layer<'_>> {
    let mut by_colour: BTreeMap<Option<Colour>, Vec<&Outline>> = BTreeMap::new();
    for mark in &design.marks {
        if let Some(colour) = ink(mark) {
            let colour = Some(colour).filter(|_| kind == Kind::Ink);
            by_colour.entry(colour).or_default().push(&mark.path);
        }
    }
    by_colour.into_iter().map(|(colour, all)| Layer { outline: together(&all), colour }).collect()
}

/// The colour of a mark that is judged.
fn ink(mark: &Mark) -> Option<Colour> {
    match mark.plate {
        Plate::Ink(colour) if colour != Colour::WHITE && mark.role != Role::Code => Some(colour),
        _ => None,
    }
}

/// Outlines as one, merged where they touch.
///
/// Those that touch are found first and merged in one go: one union after another takes its time squared.
fn together<'o>(all: &[&'o Outline]) -> Cow<'o, Outline> {
    if let [only] = all {
        return Cow::Borrowed(only);
    }
    let mut group_of: Vec<usize> = (0..all.len()).collect();
    let bounds: Vec<Rect> = all.iter().map(|outline| outline.bounds()).collect();
    for (at, (outline, own)) in all.iter().zip(&bounds).enumerate() {
        for (other, (earlier, near)) in all.iter().zip(&bounds).enumerate().take(at) {
            let (group, joined) = (group_of.get(at).copied(), group_of.get(other).copied());
            if group != joined
                && own.inflate(NEAR_MM, NEAR_MM).overlaps(*near)
                && earlier.touches(outline)
            {
                let merged = group_of.iter_mut().filter(|one| Some(**one) == joined);
                merged.for_each(|one| *one = group.unwrap_or_default());
            }
        }
    }
    let mut groups: BTreeMap<usize, Vec<&Outline>> = BTreeMap::new();
    for (outline, group) in all.iter().zip(&group_of) {
        groups.entry(*group).or_default().push(outline);
    }
    let merged = groups.into_values().map(|group| match group.as_slice() {
        [only] => (*only).clone(),
        many => Outline::of(&many.iter().flat_map(|outline| outline.elements()).collect()),
    });
    Cow::Owned(merged.reduce(|all, one| all.beside(&one)).unwrap_or_default())
}

/// How near bounds must come for their outlines to be looked at, mm.
const NEAR_MM: f64 = 0.001;

/// Thin places of one cause.
struct Group<'j> {
    worst: ThinPlace,
    owner: Owner<'j>,
    one: Labelled<'j>,
    places: usize,
    /// Designs that have one, each counted once.
    designs: usize,
    last: usize,
}

/// Where it comes from, what it is, and whether the label lets it be.
type Cause = (Place, What, bool);

/// Judges a job's ink, or what is clear.
struct Judge<'j> {
    job: Checked<'j>,
    kind: Kind,
    code: &'static str,
    needed_mm: f64,
    memo: Memo,
}

impl<'j> Judge<'j> {
    /// Reports the thinnest place of each cause.
    fn tell(&self, findings: &mut Findings) {
        let all: Vec<Labelled<'j>> = self.job.labelled().collect();
        let found = in_order(&all, |one| self.of_design(*one));
        let mut groups: BTreeMap<Cause, Group<'_>> = BTreeMap::new();
        for (number, (one, found)) in all.into_iter().zip(found).enumerate() {
            let allowed = one.label.allows(self.code);
            for (place, owner) in found {
                // Ten thousand markers are of one kind: reported once for all of them.
                let is_marker = one.label.marker_of().is_some();
                let from = if is_marker { Place::default() } else { owner.from };
                let group = groups.entry((from, owner.what, allowed)).or_insert_with(|| Group {
                    worst: place.clone(),
                    owner,
                    one,
                    places: 0,
                    designs: 0,
                    last: usize::MAX,
                });
                group.places += 1;
                group.designs += usize::from(group.last != number);
                group.last = number;
                if place.width_mm < group.worst.width_mm {
                    *group = Group { worst: place, owner, one, ..*group };
                }
            }
        }
        let groups: Vec<Group<'_>> = groups.into_values().collect();
        findings.extend(in_order(&groups, |group| self.finding(group)));
    }

    /// The thin places of a design that are worth a finding, with what they belong to.
    fn of_design(&self, one: Labelled<'j>) -> Vec<(ThinPlace, Owner<'j>)> {
        let drawing = LazyCell::new(|| Drawing::of(one.design, one.label));
        let mut all = Vec::new();
        for layer in layers(one.design, self.kind) {
            for place in self.memo.thin(&layer.outline) {
                let owner = owner::of(&place, &drawing, (self.kind, layer.colour));
                if self.is_worth_telling(&place, &owner) {
                    all.push((place, owner));
                }
            }
        }
        all
    }

    fn is_worth_telling(&self, place: &ThinPlace, owner: &Owner<'_>) -> bool {
        // Text that is too small is reported as such: what would be wide enough at the needed size is left out.
        let mended = owner.words.is_some_and(|words| {
            let cap = size::too_low(words, &self.job.spec.printer);
            cap.is_some_and(|cap| place.width_mm * cap / words.cap_height_mm >= self.needed_mm)
        });
        let is_clear = self.kind == Kind::Clear;
        // Letters may come near each other in a spot, as T and O do, and A and V: that is their shape.
        let spot = is_clear
            && owner.what == What::BetweenLetters
            && place.length_mm < self.needed_mm
            && place.width_mm > self.needed_mm / 2.0;
        let speck = is_clear && place.width_mm * place.length_mm < SPECK_MM2;
        !mended && !spot && !speck && !owner.told_elsewhere
    }

    fn finding(&self, group: &Group<'_>) -> Finding {
        let Group { worst, owner, one, places, designs, .. } = group;
        let (code, needed_mm, printer) = (self.code, self.needed_mm, &self.job.spec.printer.name);
        let (width, what) = (worst.width_mm, owner.words_for());
        let mut message = match self.kind {
            Kind::Ink => format!("{what} {width:.2} mm wide; {printer} needs {needed_mm:.2} mm"),
            Kind::Clear => {
                format!("{what} {width:.2} mm wide; {printer} keeps {needed_mm:.2} mm open")
            }
        };
        if *designs > 1 {
            message += &format!(" (the thinnest of {places} places on {designs} labels)");
        } else if *places > 1 {
            message += &format!(" (the thinnest of {places} places)");
        }
        // Ink letters that run together here and there, or counters that close a little, can still be read.
        let is_read = owner.kind == Kind::Clear
            && match owner.what {
                What::BetweenLetters => true,
                What::Opening => width > needed_mm / 2.0,
                What::Stroke | What::Line(_) | What::Gap(_) | What::Area(_) => false,
            };
        let severity = if is_read { Severity::Note } else { Severity::Warning };
        let finding = Finding::new(severity, code, message)
            .measured((width * 100.0).round() / 100.0, needed_mm);
        let help = cure::cure(self.job.faces, worst, owner, needed_mm);
        one.found(finding.help(help), owner.from, worst.at)
    }
}
