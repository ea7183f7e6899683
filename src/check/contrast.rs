//! Whether letters, lines and areas stand out on the part, and whether inks keep their colours there.

use super::across::{Across, CORE, Run, Stack};
use super::seen::{Pair, Shade, under_printed};
use super::{Checked, Labelled};
use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role, Seen, Words};
use crate::finding::{Finding, Findings, Severity};
use crate::parallel::in_order;
use crate::spec::{Film, Label, PartId, Spec, White};
use kurbo::{Affine, ParamCurve as _, ParamCurveDeriv as _, Rect, Vec2};
use std::collections::{BTreeMap, BTreeSet};

/// Contrasts as ratios: what can be made out, and what is plain to see.
#[derive(Clone, Copy)]
struct Limits {
    least: f64,
    plain: f64,
}

/// Contrast of letters (WCAG 2.2, 1.4.3, made for screens).
const LETTERS: Limits = Limits { least: 3.0, plain: 4.5 };

/// Contrast of lines and areas: the least is common practice, no source; plain is WCAG 2.2, 1.4.11.
const SHAPES: Limits = Limits { least: 1.5, plain: 3.0 };

/// Share of what is round a part that counts as its ground: less is a line that crosses it.
const LEAST_SHARE: f64 = 0.15;

/// How exactly curves are followed when looking for what is on top, mm; contrast does not need more.
const FOLLOWED_MM: f64 = 0.01;

/// How far beside an edge its ground is looked for, mm: beyond the joint of two areas, within the thinnest line.
const BESIDE_MM: f64 = 0.03;

/// How many marks of one ink from one part are looked at: a drawing may have thousands, and they lie alike.
const MOST_ALIKE: usize = 8;

/// Places along an edge where its ground is looked for.
const LOOKS: usize = 24;

pub(super) fn low_contrast(job: Checked<'_>, findings: &mut Findings) {
    let all: Vec<Labelled<'_>> = job.labelled().collect();
    let found = in_order(&all, |one| of_design(job.spec, *one));
    findings.extend(found.into_iter().flatten());
}

fn of_design(spec: &Spec, one: Labelled<'_>) -> Vec<Finding> {
    let design = one.design;
    let Some(on) = Seen::of(spec, one.label) else { return Vec::new() };
    if plainly_dark(design, &on) {
        return Vec::new();
    }
    let judged = |pair: &Pair, limits, what: &str| judged(spec, one.label, pair, limits, what);
    let stack = Stack::of(design);
    let words = design.words.iter().filter_map(|words| {
        let pair = around_words(&stack, words, &on)?;
        let finding = judged(&pair, LETTERS, &format!("`{}`", words.text))?;
        Some(one.on_words(finding, words))
    });
    let mut looked_at: BTreeMap<(PartId, Plate), usize> = BTreeMap::new();
    let shapes = stack.marks().filter(|(mark, bounds)| {
        let alike = looked_at.entry((mark.part, mark.plate)).or_default();
        *alike += 1;
        *alike <= MOST_ALIKE && is_shape(design, mark) && !carries_words(design, mark, *bounds)
    });
    let shapes = shapes.filter_map(|(mark, bounds)| {
        let pair = around_edge(&stack, mark, bounds, &on)?;
        let what = match mark.role {
            Role::Line => "the line",
            Role::Text => "the symbol",
            Role::Fill | Role::Code => "the area",
        };
        Some(one.found(judged(&pair, SHAPES, what)?, mark.from, bounds.center()))
    });
    words.chain(shapes).collect()
}

/// A quick yes for most labels: one ink straight on a ground from which it stands out.
fn plainly_dark(design: &Design, on: &Seen<'_>) -> bool {
    let mut inks = design.marks.iter().map(|mark| mark.plate);
    let Some(first @ Plate::Ink(ink)) = inks.next() else { return design.words.is_empty() };
    let reversed = design.words.iter().any(|words| words.reversed);
    !reversed
        && design.white.is_none()
        && inks.all(|plate| plate == first)
        && on.ink(ink).contrast(on.bare) >= LETTERS.plain
}

/// The finding for a part that does not stand out enough.
fn judged(spec: &Spec, label: &Label, pair: &Pair, limits: Limits, what: &str) -> Option<Finding> {
    let on = Seen::of(spec, label)?;
    let (contrast, plain) = (pair.contrast(&on), limits.plain);
    if contrast >= plain {
        return None;
    }
    let (part, ground) = (pair.part.colour(&on), pair.ground.colour(&on));
    let place = match (&label.on, label.film) {
        (Some(surface), Film::Clear) => format!("on {surface}"),
        _ => format!("on {} film", label.film.word()),
    };
    let message = format!(
        "{what} looks {part} against {ground} {place}: contrast {contrast:.1}:1, {plain}:1 is plain"
    );
    let severity = if contrast < limits.least { Severity::Error } else { Severity::Warning };
    let finding = Finding::new(severity, "low-contrast", message);
    Some(finding.measured(contrast, plain).help(pair.cures(spec, label, plain)))
}

/// The letters of a line of words and the ground they stand out least from.
fn around_words(stack: &Stack<'_>, words: &Words, on: &Seen<'_>) -> Option<Pair> {
    let runs: Vec<Run<'_>> = stack.through(words, FOLLOWED_MM).concat();
    // White letters with no ink round them are found by the white that is printed.
    let by_white = words.reversed && runs.iter().all(|run| run.top.is_none());
    let (mut letters, mut ground) = (BTreeMap::new(), BTreeMap::new());
    for run in runs {
        let is_letter = run.is_letter_of(words) && (run.top.is_some() || run.white || !by_white);
        let shades = if is_letter { &mut letters } else { &mut ground };
        *shades.entry(Shade::of(run.top, run.white)).or_insert(0.0) += run.length();
    }
    let part = core(&letters)?;
    let worst = |shade: &Shade| Pair { part, ground: *shade }.contrast(on);
    let ground = common(&ground).min_by(|a, b| worst(a).total_cmp(&worst(b)))?;
    Some(Pair { part, ground })
}

/// The shade letters are seen by: that of their core where white is printed under it.
fn core(letters: &BTreeMap<Shade, f64>) -> Option<Shade> {
    let all: f64 = letters.values().sum();
    let on_white = |(shade, length): &(&Shade, &f64)| shade.on_white && **length >= CORE * all;
    letters.iter().find(on_white).map(|(shade, _)| *shade).or_else(|| most(letters))
}

/// A mark and the ground along its edge that it stands out from best: a line between two areas is seen when it
/// differs from either.
fn around_edge(stack: &Stack<'_>, mark: &Mark, bounds: Rect, on: &Seen<'_>) -> Option<Pair> {
    let near = bounds.inflate(2.0 * BESIDE_MM, 2.0 * BESIDE_MM);
    let across = stack.across(Affine::IDENTITY, near, FOLLOWED_MM);
    let (mut own, mut ground) = (BTreeMap::new(), BTreeMap::new());
    for (inside, outside) in beside(mark, stack, &across) {
        *own.entry(inside).or_insert(0.0) += 1.0;
        *ground.entry(outside).or_insert(0.0) += 1.0;
    }
    let part = most(&own)?;
    let best = |shade: &Shade| Pair { part, ground: *shade }.contrast(on);
    let ground = common(&ground).max_by(|a, b| best(a).total_cmp(&best(b)))?;
    Some(Pair { part, ground })
}

/// What is seen on both sides of a mark's edge, at places all along it where the mark itself is on top.
fn beside(mark: &Mark, stack: &Stack<'_>, across: &Across<'_>) -> Vec<(Shade, Shade)> {
    let count = mark.path.segments().count();
    let step = count.div_ceil(LOOKS).max(1);
    let is_own = |top: Option<&Mark>| top.is_some_and(|top| std::ptr::eq(top, mark));
    let looks = mark.path.segments().step_by(step).filter_map(|segment| {
        let middle = segment.eval(0.5);
        let along = match segment {
            kurbo::PathSeg::Line(line) => line.p1 - line.p0,
            kurbo::PathSeg::Quad(quad) => quad.deriv().eval(0.5).to_vec2(),
            kurbo::PathSeg::Cubic(cubic) => cubic.deriv().eval(0.5).to_vec2(),
        };
        let length = along.hypot();
        if length < f64::EPSILON {
            return None;
        }
        // Outer contours run from +x to +y, so the inside is on the right as seen, y down.
        let inward = Vec2::new(-along.y, along.x) * (BESIDE_MM / length);
        let (top, _) = across.at(middle + inward);
        let (next, white) = across.at(middle - inward);
        // White stays inside the edge of its ink: what counts is what most of a mark lies on.
        (is_own(top) && !is_own(next)).then(|| {
            let next_white = next.map_or(white, |next| stack.lies_on_white(next));
            (Shade::of(top, stack.lies_on_white(mark)), Shade::of(next, next_white))
        })
    });
    looks.collect()
}

/// The shade there is most of.
fn most(shades: &BTreeMap<Shade, f64>) -> Option<Shade> {
    shades.iter().max_by(|a, b| a.1.total_cmp(b.1)).map(|(shade, _)| *shade)
}

/// The shades there is enough of.
fn common(shades: &BTreeMap<Shade, f64>) -> impl Iterator<Item = Shade> + '_ {
    let all: f64 = shades.values().sum();
    shades.iter().filter(move |(_, length)| **length >= all * LEAST_SHARE).map(|(shade, _)| *shade)
}

/// Whether a mark is judged as a shape: symbols are drawn like letters, but no words speak for them.
fn is_shape(design: &Design, mark: &Mark) -> bool {
    match mark.role {
        Role::Line | Role::Fill => true,
        Role::Text => design.words.iter().all(|words| words.part != mark.part),
        Role::Code => false,
    }
}

/// Whether a mark is the ground of words, which are judged against it themselves.
fn carries_words(design: &Design, mark: &Mark, bounds: Rect) -> bool {
    mark.role == Role::Fill && design.words.iter().any(|words| bounds.contains(words.area.center()))
}

/// How far a colour may shift before it is worth knowing, and before it is another colour, in CIEDE2000: common
/// practice, no source; 1 is the least difference seen side by side.
const SHIFTS: (f64, f64) = (5.0, 15.0);

pub(super) fn colour_shift(job: Checked<'_>, findings: &mut Findings) {
    // Labels of one kind share their shifts: each ink is reported once for each colour it takes on.
    let mut reported = BTreeSet::new();
    for Labelled { label, design } in job.labelled() {
        let Some(on) = Seen::of(job.spec, label) else { continue };
        let allowed = label.allows("colour-shift");
        let stack = Stack::of(design);
        for mark in &design.marks {
            let Plate::Ink(ink) = mark.plate else { continue };
            // What was picked by eye on the part looks as it was picked.
            if job.spec.printed.contains_key(&ink) {
                continue;
            }
            let seen = Shade::of(Some(mark), stack.lies_on_white(mark)).colour(&on);
            if reported.insert((ink, seen, allowed)) {
                let finding = shifted(job.spec, label, ink, seen);
                findings.extend(finding.map(|finding| finding.at(mark.from)));
            }
        }
    }
}

fn shifted(spec: &Spec, label: &Label, ink: Colour, seen: Colour) -> Option<Finding> {
    let shift = |seen: Colour| ink.lab().difference(seen.lab());
    let moved = shift(seen);
    let (known, another) = SHIFTS;
    if moved < known {
        return None;
    }
    let place = label.on.as_deref().unwrap_or(label.film.word());
    let message = format!(
        "{ink} looks {seen} on {place}: {moved:.0} off in CIEDE2000, where {known:.0} is plain to see"
    );
    let severity = if moved < another { Severity::Note } else { Severity::Warning };
    let finding = Finding::new(severity, "colour-shift", message);
    let mut ways = Vec::new();
    if label.white == White::None {
        let under = shift(under_printed(spec, label).ink_on_white(ink));
        if under < moved {
            ways.push(format!("a white under-print leaves {under:.0}"));
        }
    }
    if !label.applied.mirrored() {
        ways.push("on white film it keeps its colour".to_owned());
    }
    ways.push("so it does on a white base".to_owned());
    Some(finding.label(&label.name).measured(moved, known).help(ways.join("; ")))
}

pub(super) fn surface_unknown(job: Checked<'_>, findings: &mut Findings) {
    let decals = job.spec.labels.iter().filter(|label| label.marker_of().is_none());
    let judged = decals.filter(|label| !label.allows("surface-unknown"));
    let mut unknown = judged.filter(|label| Seen::of(job.spec, label).is_none());
    let Some(first) = unknown.next() else { return };
    let others = match unknown.count() {
        0 => String::new(),
        1 => " (nor does 1 more label)".to_owned(),
        more => format!(" (nor do {more} more labels)"),
    };
    let message = format!("label {} does not say what it goes on{others}", first.name);
    let help = "add `on:` and the paint's colour under `surfaces:`, and contrast is checked";
    let finding = Finding::note("surface-unknown", message).help(help);
    findings.push(finding.at(first.place).label(&first.name));
}
