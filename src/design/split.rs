//! Cutting a label too long for its film into pieces, in gaps and never through a letter.

use super::edge::Edges;
use super::piece::{Drawn, bounds};
use super::{Design, Mark, OnPanel, WhitePlate, Words};
use crate::finding::{Finding, Findings};
use crate::shape::{Outline, rectangle};
use crate::spec::{Label, Spec, Split};
use kurbo::{Affine, Rect, Vec2};

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
    drawn: &Drawn,
    edges: &Edges,
    findings: &mut Findings,
) -> Vec<Joint> {
    let trim = edges.trim.bounds();
    match &label.split {
        Split::Never => Vec::new(),
        Split::At(distances) => distances
            .iter()
            .filter_map(|distance| marked_joint(trim, *distance, drawn, label, findings))
            .collect(),
        Split::BetweenWords => between_words(&Room::of(spec, edges.bleed_mm), trim, drawn),
    }
}

/// A joint where the spec says, unless it runs through letters or misses the label.
fn marked_joint(
    trim: Rect,
    distance_mm: f64,
    drawn: &Drawn,
    label: &Label,
    findings: &mut Findings,
) -> Option<Joint> {
    let x = trim.x0 + distance_mm;
    let text = lettered(drawn).into_iter().find(|(from, to)| *from < x && x < *to);
    let problem = if x <= trim.x0 || x >= trim.x1 {
        format!("the split at {distance_mm:.1} mm is not on the label, {:.1} mm wide", trim.width())
    } else if let Some((from, to)) = text {
        format!(
            "the split at {distance_mm:.1} mm runs through letters that reach from {:.1} to {:.1} mm",
            from - trim.x0,
            to - trim.x0
        )
    } else {
        let free = lettered(drawn)
            .iter()
            .map(|(from, to)| (from - x).max(x - to))
            .fold(f64::INFINITY, f64::min);
        return Some(Joint { x, free });
    };
    findings.push(
        Finding::error("bad-split", problem)
            .at(label.place)
            .label(&label.name)
            .help("move the split into a gap, or write split: words"),
    );
    None
}

/// Fewest pieces that fit: each as long as it can be, cut in the gaps between words.
fn between_words(room: &Room, trim: Rect, drawn: &Drawn) -> Vec<Joint> {
    if room.takes(trim.width(), trim.height()) {
        return Vec::new();
    }
    let gaps = word_gaps(drawn);
    let (mut from, mut joints) = (trim.x0, Vec::new());
    while !room.takes(trim.x1 - from, trim.height()) {
        let fits = |gap: &&(f64, f64)| {
            let x = f64::midpoint(gap.0, gap.1);
            x > from && room.takes(x - from, trim.height())
        };
        // No gap leaves a piece that fits: the sheets will say how much is missing.
        let Some((left, right)) = gaps.iter().rfind(fits) else { return Vec::new() };
        let x = f64::midpoint(*left, *right);
        joints.push(Joint { x, free: (right - left) / 2.0 });
        from = x;
    }
    joints
}

/// The largest label a sheet takes, mm.
struct Room {
    width: f64,
    height: f64,
    turn: bool,
}

impl Room {
    fn of(spec: &Spec, bleed_mm: f64) -> Room {
        let printable = spec.printable();
        Room {
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

/// Where letters stand, as stretches along x, merged and from left to right.
fn lettered(drawn: &Drawn) -> Vec<(f64, f64)> {
    use kurbo::Shape as _;
    let mut stretches: Vec<(f64, f64)> = drawn
        .pieces
        .iter()
        .filter(|piece| !piece.words.is_empty())
        .flat_map(|piece| piece.outline.contours().collect::<Vec<_>>())
        .map(|contour| (contour.bounding_box().x0, contour.bounding_box().x1))
        .collect();
    let codes = drawn.pieces.iter().filter(|piece| piece.code.is_some());
    stretches.extend(codes.map(|piece| (piece.outline.bounds().x0, piece.outline.bounds().x1)));
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
fn word_gaps(drawn: &Drawn) -> Vec<(f64, f64)> {
    let cap = drawn.texts.iter().map(|text| text.cap_height_mm).fold(f64::INFINITY, f64::min);
    let stretches = lettered(drawn);
    stretches
        .iter()
        .zip(stretches.iter().skip(1))
        .map(|(left, right)| (left.1, right.0))
        .filter(|(from, to)| to - from >= cap * WORD_GAP)
        .collect()
}

/// The pieces of a design cut at its joints; each keeps the height of the base line.
pub(super) fn cut(design: Design, joints: &[Joint]) -> Vec<Design> {
    if joints.is_empty() {
        return vec![design];
    }
    let reach = design.reach();
    let trim = design.size();
    let starts = std::iter::once((reach.x0 - 1.0, 0.0))
        .chain(joints.iter().map(|joint| (joint.x, joint.free)));
    let ends = joints
        .iter()
        .map(|joint| (joint.x, joint.free))
        .chain(std::iter::once((reach.x1 + 1.0, 0.0)));
    starts
        .zip(ends)
        .enumerate()
        .map(|(at, ((from, free_before), (to, free_after)))| {
            let knife = Rect::new(from, reach.y0 - 1.0, to, reach.y1 + 1.0);
            // At a joint the ink runs on into the bleed as far as no letter comes in.
            let ink = Rect {
                x0: from - design.bleed_mm.min(free_before),
                x1: to + design.bleed_mm.min(free_after),
                ..knife
            };
            let middle = f64::midpoint(from.max(trim.x0), to.min(trim.x1));
            let cut = Cut {
                knife: rectangle(knife),
                ink: rectangle(ink),
                letters: (from + free_before, to - free_after),
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
    Design {
        name: format!("{}-part-{number}", design.name),
        trim: design.trim.common(&cut.knife).placed(shift),
        marks: design
            .marks
            .iter()
            .map(|mark| Mark { path: mark.path.common(&cut.ink).placed(shift), ..mark.clone() })
            .filter(|mark| !mark.path.is_empty())
            .collect(),
        white: design.white.as_ref().map(|white| WhitePlate {
            path: white.path.common(&cut.ink).placed(shift),
            ..white.clone()
        }),
        backing: design.backing.as_ref().map(|whole| whole.common(&cut.ink).placed(shift)),
        codes: design
            .codes
            .iter()
            .filter(|code| cut.knife.contains(code.to_label * kurbo::Point::ORIGIN))
            .map(|code| code.clone().placed(shift))
            .collect(),
        words: design
            .words
            .iter()
            .filter_map(|words| words_within(words, cut.letters.0, cut.letters.1))
            .map(|words| Words { area: words.area + cut.shift, ..words })
            .collect(),
        on_panel: design.on_panel.map(|on| OnPanel { at: on.at - cut.shift, ..on }),
        ..design.clone()
    }
}

/// The words of a line whose middles lie between two places, going by their share of the letters.
fn words_within(line: &Words, from: f64, to: f64) -> Option<Words> {
    let total = line.text.chars().count().max(1);
    #[allow(clippy::cast_precision_loss, reason = "letters of a line")]
    let at = |letters: f64| line.area.x0 + line.area.width() * letters / total as f64;
    let mut before = 0;
    let mut kept = Vec::new();
    for word in line.text.split(' ') {
        let letters = word.chars().count();
        #[allow(clippy::cast_precision_loss, reason = "letters of a line")]
        let middle = at(before as f64 + letters as f64 / 2.0);
        if from <= middle && middle < to {
            kept.push(word);
        }
        before += letters + 1;
    }
    let area = Rect { x0: line.area.x0.max(from), x1: line.area.x1.min(to), ..line.area };
    let text = kept.join(" ");
    (!text.is_empty()).then(|| Words { text, area, ..line.clone() })
}

/// Whether anything is drawn at all; an empty label cannot be cut or printed.
pub(super) fn draws_nothing(drawn: &Drawn) -> bool {
    bounds(&drawn.pieces).is_zero_area()
}
