//! Dials and straight scales: marks, numbers, zones, line and ring, all along one track.

mod numbers;
mod remarks;
mod track;

use super::super::Role;
use super::super::drawing::{PaintedShape, PartDrawing};
use super::{DrawContext, text};
use crate::shape::{self, Outline};
use crate::spec::scale::{Look, Scale, Side, Zone};
use kurbo::{Point, Rect};

/// From bar to bar of a hatched zone, mm along the track, and the bars' share of it: coarse enough for
/// every class of printer (common practice, no source).
const HATCH_PITCH: f64 = 1.4;
const HATCH_INK: f64 = 0.45;

pub(super) fn draw(scale: &Scale, context: &mut DrawContext<'_>) -> PartDrawing {
    let mut shapes = zones(scale);
    shapes.extend(line(scale));
    shapes.extend(marks(scale));
    shapes.extend(ring(scale));
    let mut drawn = PartDrawing::of(shapes);
    let set = numbers::draw(scale, context);
    remarks::report(scale, &drawn.shapes, &set, context);
    for number in set {
        drawn.add(number.drawn);
    }
    if let Some((words, at)) = &scale.unit {
        drawn.add(text::draw(words, context).placed(*at, 0.0));
    }
    drawn
}

/// A mark or line in the scale's own paint.
fn lined(scale: &Scale, outline: Outline) -> PaintedShape {
    PaintedShape::plain(outline, scale.paint, Role::Line, scale.place)
}

/// How far marks reach to either side of the base line, mm outwards.
fn reach(side: Side, length: f64) -> (f64, f64) {
    match side {
        Side::Outside => (0.0, length),
        Side::Inside => (-length, 0.0),
        Side::Both => (-length, length),
    }
}

/// Whether a place along the track lies in the gap of a detent.
fn in_detent(scale: &Scale, share: f64) -> bool {
    let half = track::share_of(&scale.track, scale.detent_gap / 2.0);
    scale.detents.iter().any(|detent| (share - detent).abs() < half)
}

fn marks(scale: &Scale) -> Vec<PaintedShape> {
    let shown = scale.marks.iter().filter(|mark| !in_detent(scale, mark.share));
    let drawn = shown.filter_map(|mark| {
        let (length, width) = mark.size?.of(&scale.sizes);
        let (low, high) = reach(scale.side, length);
        let upright = shape::rectangle(Rect::new(-width / 2.0, -high, width / 2.0, -low));
        Some(lined(scale, upright.placed(track::to(&scale.track, mark.share))))
    });
    drawn.collect()
}

/// The line along the base line, broken at detents; flush with the feet of the marks.
fn line(scale: &Scale) -> Vec<PaintedShape> {
    let Some(width) = scale.line else { return Vec::new() };
    let across = match scale.side {
        Side::Outside => (0.0, width),
        Side::Inside => (-width, 0.0),
        Side::Both => (-width / 2.0, width / 2.0),
    };
    // As far as the outer edges of the end marks.
    let first = scale.marks.first().and_then(|mark| mark.size);
    let end = first.map_or(0.0, |size| size.of(&scale.sizes).1 / 2.0);
    let end = track::share_of(&scale.track, end);
    let stretches = stretches(scale, -end, 1.0 + end).into_iter();
    stretches.map(|shares| lined(scale, track::band(&scale.track, shares, across))).collect()
}

/// What detents leave of a stretch of the track.
fn stretches(scale: &Scale, from: f64, to: f64) -> Vec<(f64, f64)> {
    let half = track::share_of(&scale.track, scale.detent_gap / 2.0);
    let mut detents = scale.detents.clone();
    detents.sort_by(f64::total_cmp);
    let (mut start, mut left) = (from, Vec::new());
    for detent in detents {
        if detent - half > start {
            left.push((start, (detent - half).min(to)));
        }
        start = start.max(detent + half);
    }
    if start < to {
        left.push((start, to));
    }
    left.retain(|(from, to)| to - from > 1e-9);
    left
}

fn zones(scale: &Scale) -> Vec<PaintedShape> {
    let mut shapes = Vec::new();
    for zone in &scale.zones {
        for shares in stretches(scale, zone.shares.0, zone.shares.1) {
            let band = track::band(&scale.track, shares, zone.across);
            let outline = match zone.look {
                Look::Solid => band,
                Look::Hatched => hatched(scale, zone, shares, &band),
            };
            shapes.push(PaintedShape::plain(outline, zone.paint, Role::Fill, scale.place));
        }
    }
    shapes
}

/// The most gaps in one zone, about half a metre of them: the rest of a longer zone is filled.
const MOST_GAPS: u32 = 400;

/// A band with slanted gaps, a thin edge left all round.
fn hatched(scale: &Scale, zone: &Zone, shares: (f64, f64), band: &Outline) -> Outline {
    let (low, high) = zone.across;
    let edge = ((high - low) / 6.0).min(0.3);
    let (low, high) = (low + edge, high - edge);
    let end = track::share_of(&scale.track, edge);
    let (from, to) = (shares.0 + end, shares.1 - end);
    if from >= to {
        return band.clone();
    }
    let inner = track::band(&scale.track, (from, to), (low, high));
    let pitch = track::share_of(&scale.track, HATCH_PITCH);
    let (gap, slant) = (pitch * (1.0 - HATCH_INK), track::share_of(&scale.track, high - low));
    let (mut gaps, mut at, mut left) = (Outline::default(), from - slant, MOST_GAPS);
    while at <= to && left > 0 {
        let corner = |share: f64, out: f64| track::at(&scale.track, share, out);
        let one = shape::polygon(&[
            corner(at, low),
            corner(at + gap, low),
            corner(at + gap + slant, high),
            corner(at + slant, high),
        ]);
        // Gaps lie side by side, a bar between them.
        gaps = gaps.beside(&one.common(&inner));
        (at, left) = (at + pitch, left - 1);
    }
    band.minus(&gaps)
}

fn ring(scale: &Scale) -> Option<PaintedShape> {
    let outer = scale.pointer_ring?;
    let [.., (_, width)] = scale.sizes;
    let width = scale.line.unwrap_or(width);
    let inner = shape::disc(Point::ORIGIN, (outer - 2.0 * width).max(0.0));
    let outline = shape::disc(Point::ORIGIN, outer).minus(&inner);
    Some(lined(scale, outline))
}
