//! The numbers and words of a scale, each in its place.

use super::{reach, track};
use crate::design::element::{Bench, text};
use crate::design::piece::Drawn;
use crate::spec::Text;
use crate::spec::scale::{Scale, Side, Track};
use kurbo::{Rect, Vec2};

/// One number, drawn in its place.
pub(super) struct Number {
    pub(super) text: String,
    pub(super) drawn: Drawn,
}

pub(super) fn draw(scale: &Scale, bench: &mut Bench<'_>) -> Vec<Number> {
    let Some(side) = scale.numbers.side else { return Vec::new() };
    let mut numbers = Vec::new();
    for mark in &scale.marks {
        let Some(words) = &mark.text else { continue };
        let asked = Text {
            lines: words.lines().map(str::to_owned).collect(),
            place: scale.place,
            ..scale.numbers.set.clone()
        };
        let drawn = text::draw(&asked, bench);
        let turned =
            if scale.numbers.radial { track::outwards_deg(&scale.track, mark.share) } else { 0.0 };
        let level = drawn.placed(Vec2::ZERO, turned);
        let (middle, out) = middle(scale, side, mark.share, level.area);
        let drawn = level.placed(middle + track::outwards(&scale.track, mark.share) * out, 0.0);
        numbers.push(Number { text: words.clone(), drawn });
    }
    numbers
}

/// The point on the base line a number belongs to (the centre of a dial), and how far outwards from there
/// its middle is.
fn middle(scale: &Scale, side: Side, share: f64, area: Rect) -> (Vec2, f64) {
    let sign = if side == Side::Inside { -1.0 } else { 1.0 };
    let edge = edge(scale, side);
    match scale.track {
        Track::Round { radius, .. } => {
            let out = scale.numbers.at.unwrap_or_else(|| {
                let unit = track::outwards(&scale.track, share);
                nearest(unit, area, (side, radius + edge + sign * scale.numbers.gap))
            });
            (Vec2::ZERO, out)
        }
        Track::Straight { .. } => {
            let foot = track::at(&scale.track, share, 0.0).to_vec2();
            let unit = track::outwards(&scale.track, share);
            let half = (unit.x.abs() * area.width() + unit.y.abs() * area.height()) / 2.0;
            let out = scale.numbers.at.map(|at| at * sign);
            (foot, out.unwrap_or(edge + sign * (scale.numbers.gap + half)))
        }
    }
}

/// How far marks, line and zones reach on the side of the numbers, mm outwards.
fn edge(scale: &Scale, side: Side) -> f64 {
    let marks = scale.marks.iter().filter_map(|mark| mark.size);
    let marks = marks.map(|size| reach(scale.side, size.of(&scale.sizes).0));
    let edges = marks.chain(scale.zones.iter().map(|zone| zone.across));
    edges.fold(0.0, |edge: f64, (low, high)| match side {
        Side::Inside => edge.min(low),
        Side::Outside | Side::Both => edge.max(high),
    })
}

/// The distance from the centre, along `unit`, at which a box keeps clear of a circle: wholly outside of
/// it, or wholly inside.
fn nearest(unit: Vec2, area: Rect, (side, circle): (Side, f64)) -> f64 {
    let half = Vec2::new(area.width() / 2.0, area.height() / 2.0);
    let size = half.hypot();
    let clear = |out: f64| {
        let middle = unit * out;
        let (x, y) = (middle.x.abs(), middle.y.abs());
        match side {
            Side::Inside => Vec2::new(x + half.x, y + half.y).hypot() <= circle,
            Side::Outside | Side::Both => {
                Vec2::new((x - half.x).max(0.0), (y - half.y).max(0.0)).hypot() >= circle
            }
        }
    };
    let (mut low, mut high) = ((circle - size).max(0.0), circle.max(0.0) + size);
    // Halved to a nanometre.
    for _ in 0..40 {
        let half_way = f64::midpoint(low, high);
        if clear(half_way) == (side == Side::Inside) {
            low = half_way;
        } else {
            high = half_way;
        }
    }
    f64::midpoint(low, high)
}
