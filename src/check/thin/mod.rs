//! Ink and clear gaps thinner than the printer can make, found on the final outlines.
//!
//! What thin means, and what is a mere corner, is said in `shape::thin`. Marks of one colour that touch are
//! one ink. A gap is clear between any inks; black letters on yellow leave none. White counts as clear: on a
//! printer without white it is film left bare. Codes have a rule of their own and are passed over.

mod cure;
mod memo;
mod owner;

use super::{Job, size};
use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role};
use crate::finding::{Finding, Findings, Place};
use crate::parallel::in_order;
use crate::shape::{Outline, ThinPlace};
use crate::spec::{Label, Printer};
use kurbo::Rect;
pub(super) use memo::Memo;
use owner::{Drawing, Owner, What};
use std::borrow::Cow;
use std::cell::LazyCell;
use std::collections::BTreeMap;

/// What is too thin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    /// Ink that may break or not print at all.
    Ink,
    /// Clear that may fill up.
    Clear,
}

pub(super) fn thin_ink(job: Job<'_>, findings: &mut Findings) {
    tell(job, Kind::Ink, findings);
}

pub(super) fn clear_gap(job: Job<'_>, findings: &mut Findings) {
    tell(job, Kind::Clear, findings);
}

fn needed(kind: Kind, printer: &Printer) -> f64 {
    match kind {
        Kind::Ink => printer.thinnest_ink,
        Kind::Clear => printer.thinnest_clear,
    }
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
    design: &'j Design,
    label: &'j Label,
    places: usize,
    /// Designs that have one, each counted once.
    designs: usize,
    last: usize,
}

/// Where it comes from, what it is, and whether the label lets it be.
type Cause = (Place, What, bool);

fn tell(job: Job<'_>, kind: Kind, findings: &mut Findings) {
    let needed_mm = needed(kind, &job.spec.printer);
    let code = match kind {
        Kind::Ink => "thin-ink",
        Kind::Clear => "clear-gap",
    };
    let designs: Vec<&Design> = job.designs.iter().collect();
    let memo = Memo::new(kind, needed_mm);
    let found = in_order(&designs, |design| of_design(job, design, (kind, &memo)));
    let mut groups: BTreeMap<Cause, Group<'_>> = BTreeMap::new();
    for (number, (design, found)) in designs.into_iter().zip(found).enumerate() {
        let Some(label) = job.spec.labels.get(design.label) else { continue };
        let allowed = label.allow.iter().any(|allowed| allowed == code);
        for (place, owner) in found {
            // Ten thousand markers are of one kind: told once for the wiring.
            let from = if label.marker_of().is_some() { Place::default() } else { owner.from };
            let group = groups.entry((from, owner.what, allowed)).or_insert_with(|| Group {
                worst: place.clone(),
                owner,
                design,
                label,
                places: 0,
                designs: 0,
                last: usize::MAX,
            });
            group.places += 1;
            group.designs += usize::from(group.last != number);
            group.last = number;
            if place.width_mm < group.worst.width_mm {
                *group = Group { worst: place, owner, design, label, ..*group };
            }
        }
    }
    let groups: Vec<Group<'_>> = groups.into_values().collect();
    for finding in in_order(&groups, |group| finding(job, group, (code, needed_mm))) {
        findings.push(finding);
    }
}

/// The thin places of a design that are worth a finding, with what they belong to.
fn of_design<'j>(
    job: Job<'j>,
    design: &'j Design,
    (kind, memo): (Kind, &Memo),
) -> Vec<(ThinPlace, Owner<'j>)> {
    let printer = &job.spec.printer;
    let needed_mm = needed(kind, printer);
    let mut all = Vec::new();
    let Some(label) = job.spec.labels.get(design.label) else { return all };
    let drawing = LazyCell::new(|| Drawing::of(design, label));
    for layer in layers(design, kind) {
        for place in memo.thin(&layer.outline) {
            let owner = owner::of(&place, &drawing, (kind, layer.colour));
            // Text that is too small to begin with is told so; what larger text would mend is not told again.
            let mended = owner.words.is_some_and(|words| {
                size::too_low(words, printer)
                    .is_some_and(|cap| place.width_mm * cap / words.cap_height_mm >= needed_mm)
            });
            // Letters may come near each other in a spot, as T and O do, and A and V: that is their shape.
            let spot = owner.what == What::BetweenLetters
                && kind == Kind::Clear
                && place.length_mm < needed_mm
                && place.width_mm > needed_mm / 2.0;
            let speck = kind == Kind::Clear && place.width_mm * place.length_mm < SPECK_MM2;
            if !mended && !spot && !speck && !owner.told_elsewhere {
                all.push((place, owner));
            }
        }
    }
    all
}

fn finding(job: Job<'_>, group: &Group<'_>, (code, needed_mm): (&'static str, f64)) -> Finding {
    let (worst, owner) = (&group.worst, &group.owner);
    let printer = &job.spec.printer.name;
    let (width, what) = (worst.width_mm, owner.words_for());
    let mut message = match code {
        "thin-ink" => format!("{what} {width:.2} mm wide; {printer} needs {needed_mm:.2} mm"),
        _ => format!("{what} {width:.2} mm wide; {printer} keeps {needed_mm:.2} mm open"),
    };
    if group.designs > 1 {
        message.push_str(&format!(
            " (the thinnest of {} places on {} labels)",
            group.places, group.designs
        ));
    } else if group.places > 1 {
        message.push_str(&format!(" (the thinnest of {} places)", group.places));
    }
    let spot = worst.at - group.design.size().origin();
    let finding = match owner.what {
        // Ink letters that run together here and there, or counters that close a little, can still be read.
        What::BetweenLetters if owner.kind == Kind::Clear => Finding::note(code, message),
        What::Opening if owner.kind == Kind::Clear && width > needed_mm / 2.0 => {
            Finding::note(code, message)
        }
        _ => Finding::warning(code, message),
    };
    finding
        .at(owner.from)
        .label(&group.label.name)
        .spot(spot.x, spot.y)
        .measured((width * 100.0).round() / 100.0, needed_mm)
        .help(cure::cure(job.faces, worst, owner, needed_mm))
}
