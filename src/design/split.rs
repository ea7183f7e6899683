//! Cutting a label too long for its film into pieces, in gaps and never through a letter.

use super::drawing::PartDrawing;
use super::edge::Edges;
use super::{Design, Mark, OnPanel, WhitePlate, Words};
use crate::finding::{Finding, Findings};
use crate::shape::{Outline, rectangle};
use crate::spec::{Label, Spec, Split};
use kurbo::{Affine, Rect, Shape as _, Vec2};

/// A gap in the letters at least this share of the cap height is a gap between words.
///
/// Letters of the bundled faces stand at most 0.29 H apart (gap_HH in faces.yaml); a word space is over
/// 0.5 H. Less would cut words apart, more would miss tight spaces.
const WORD_GAP: f64 = 0.4;

/// Where a label is cut, from left to right.
#[derive(Debug)]
pub(super) struct Joint {
    /// In the label's frame, mm.
    x: f64,
    /// Free of letters on either side, mm.
    free: f64,
}

/// The joints a label needs; none when it fits or may not be cut.
pub(super) fn joints(
    spec: &Spec,
    label: &Label,
    drawn: &PartDrawing,
    edges: &Edges,
    findings: &mut Findings,
) -> Vec<Joint> {
    let (trim, letters) = (edges.trim.bounds(), lettered(drawn));
    match &label.split {
        Split::Never => Vec::new(),
        Split::At(distances) => {
            let mut report = |problem| {
                let finding = Finding::error("bad-split", problem).at(label.place);
                let help = "move the split into a gap, or write split: words";
                findings.push(finding.label(&label.name).help(help));
            };
            let joints = distances.iter().map(|distance| marked_joint(trim, *distance, &letters));
            joints.filter_map(|joint| joint.map_err(&mut report).ok()).collect()
        }
        Split::BetweenWords => {
            between_words(&UsableArea::of(spec, edges.bleed_mm), trim, &word_gaps(drawn, &letters))
        }
    }
}

/// A joint at a distance from the left edge of the trim, mm.
///
/// # Errors
/// What is wrong with it, when it runs through letters or misses the label.
fn marked_joint(trim: Rect, distance_mm: f64, letters: &[(f64, f64)]) -> Result<Joint, String> {
    let x = trim.x0 + distance_mm;
    if x <= trim.x0 || x >= trim.x1 {
        let width = trim.width();
        return Err(format!(
            "the split at {distance_mm:.1} mm is not on the label, {width:.1} mm wide"
        ));
    }
    if let Some((from, to)) = letters.iter().find(|(from, to)| *from < x && x < *to) {
        return Err(format!(
            "the split at {distance_mm:.1} mm runs through letters that reach from {:.1} to {:.1} mm",
            from - trim.x0,
            to - trim.x0
        ));
    }
    let free = letters.iter().map(|(from, to)| (from - x).max(x - to));
    Ok(Joint { x, free: free.fold(f64::INFINITY, f64::min) })
}

/// Fewest pieces that fit: each as long as it can be, cut in the gaps between words.
fn between_words(usable: &UsableArea, trim: Rect, gaps: &[(f64, f64)]) -> Vec<Joint> {
    let (mut from, mut joints) = (trim.x0, Vec::new());
    while !usable.takes(trim.x1 - from, trim.height()) {
        let cuts = gaps.iter().rev().map(|(left, right)| Joint {
            x: f64::midpoint(*left, *right),
            free: (right - left) / 2.0,
        });
        let mut fitting =
            cuts.filter(|cut| cut.x > from && usable.takes(cut.x - from, trim.height()));
        // No gap leaves a piece that fits: the sheets report how much is missing.
        let Some(joint) = fitting.next() else { return Vec::new() };
        from = joint.x;
        joints.push(joint);
    }
    joints
}

/// What a sheet of film can take, mm.
struct UsableArea {
    width: f64,
    height: f64,
    turn: bool,
}

impl UsableArea {
    fn of(spec: &Spec, bleed_mm: f64) -> UsableArea {
        let printable = spec.printable();
        UsableArea {
            width: printable.width() - 2.0 * bleed_mm + 1e-6,
            height: printable.height() - 2.0 * bleed_mm + 1e-6,
            turn: spec.sheet.turn,
        }
    }

    fn takes(&self, width: f64, height: f64) -> bool {
        (width <= self.width && height <= self.height)
            || (self.turn && width <= self.height && height <= self.width)
    }
}

/// Where letters and codes stand, as stretches along x, merged and from left to right.
fn lettered(drawn: &PartDrawing) -> Vec<(f64, f64)> {
    let mut stretches = Vec::new();
    for shape in drawn.shapes.iter().filter(|shape| shape.is_read()) {
        if shape.code.is_some() {
            stretches.push((shape.outline.bounds().x0, shape.outline.bounds().x1));
        } else {
            let letters = shape.outline.contours().map(|contour| contour.bounding_box());
            stretches.extend(letters.map(|letter| (letter.x0, letter.x1)));
        }
    }
    stretches.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut merged: Vec<(f64, f64)> = Vec::new();
    for (from, to) in stretches {
        match merged.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => merged.push((from, to)),
        }
    }
    merged
}

/// Gaps between words, from left to right.
fn word_gaps(drawn: &PartDrawing, letters: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let cap = drawn.texts.iter().map(|text| text.cap_height_mm).fold(f64::INFINITY, f64::min);
    let gaps = letters.iter().zip(letters.iter().skip(1)).map(|(left, right)| (left.1, right.0));
    gaps.filter(|(from, to)| to - from >= cap * WORD_GAP).collect()
}

/// The pieces of a design cut at its joints; each keeps the height of the base line.
pub(super) fn cut(design: Design, joints: Vec<Joint>) -> Vec<Design> {
    if joints.is_empty() {
        return vec![design];
    }
    let (reach, trim) = (design.reach(), design.size());
    let mut ends = vec![Joint { x: reach.x0 - 1.0, free: 0.0 }];
    ends.extend(joints);
    ends.push(Joint { x: reach.x1 + 1.0, free: 0.0 });
    let pairs = ends.iter().zip(ends.iter().skip(1)).enumerate();
    pairs
        .map(|(at, (from, to))| {
            let knife = Rect::new(from.x, reach.y0 - 1.0, to.x, reach.y1 + 1.0);
            // At a joint the ink runs on into the bleed as far as no letter comes in.
            let ink = Rect {
                x0: from.x - design.bleed_mm.min(from.free),
                x1: to.x + design.bleed_mm.min(to.free),
                ..knife
            };
            let middle = f64::midpoint(from.x.max(trim.x0), to.x.min(trim.x1));
            let cut = Cut {
                knife: rectangle(knife),
                ink: rectangle(ink),
                letters: (from.x + from.free, to.x - to.free),
                shift: Vec2::new(-middle, 0.0),
            };
            piece(&design, at + 1, &cut)
        })
        .collect()
}

/// How one piece is cut out of its label.
struct Cut {
    /// What the knife takes.
    knife: Outline,
    /// What ink may reach.
    ink: Outline,
    /// Where its letters lie, from left to right.
    letters: (f64, f64),
    /// From the label's frame to the piece's own.
    shift: Vec2,
}

fn piece(design: &Design, number: usize, cut: &Cut) -> Design {
    let shift = Affine::translate(cut.shift);
    let inked = |path: &Outline| path.common(&cut.ink).placed(shift);
    let marks = design.marks.iter().map(|mark| Mark { path: inked(&mark.path), ..mark.clone() });
    let white = design.white.as_ref();
    let codes = design.codes.iter().filter(|code| cut.knife.contains(code.middle()));
    let words =
        design.words.iter().filter_map(|line| words_within(line, cut.letters.0, cut.letters.1));
    Design {
        name: format!("{}-part-{number}", design.name),
        trim: design.trim.common(&cut.knife).placed(shift),
        marks: marks.filter(|mark| !mark.path.is_empty()).collect(),
        white: white.map(|white| WhitePlate { path: inked(&white.path), ..white.clone() }),
        backing: design.backing.as_ref().map(inked),
        codes: codes.map(|code| code.clone().placed(shift)).collect(),
        words: words.map(|line| Words { area: line.area + cut.shift, ..line }).collect(),
        on_panel: design.on_panel.map(|on| OnPanel { at: on.at - cut.shift, ..on }),
        ..*design
    }
}

/// The words of a line whose middles lie between two places, going by their share of the letters.
fn words_within(line: &Words, from: f64, to: f64) -> Option<Words> {
    #[allow(clippy::cast_precision_loss, reason = "letters of a line")]
    let count = |text: &str| text.chars().count() as f64;
    let total = count(&line.text).max(1.0);
    let (mut before, mut kept) = (0.0, Vec::new());
    for word in line.text.split(' ') {
        let letters = before + count(word) / 2.0;
        let middle = line.area.x0 + line.area.width() * letters / total;
        if from <= middle && middle < to {
            kept.push(word);
        }
        before += count(word) + 1.0;
    }
    let area = Rect { x0: line.area.x0.max(from), x1: line.area.x1.min(to), ..line.area };
    let text = kept.join(" ");
    (!text.is_empty()).then(|| Words { text, area, ..line.clone() })
}
