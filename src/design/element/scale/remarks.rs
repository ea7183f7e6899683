//! What is reported of a drawn scale: numbers that touch, marks under the knob, zones alike.

use super::numbers::Number;
use crate::design::drawing::{PaintedShape, PartDrawing};
use crate::design::element::DrawContext;
use crate::finding::Finding;
use crate::shape::{CURVE_ERROR_MM, Outline};
use crate::spec::scale::{Scale, Zone};
use crate::spec::{Paint, TextSize};
use crate::units::fixed;
use kurbo::{Line, ParamCurveNearest as _, PathEl, Point, Rect};

/// Least clear space as a share of the cap height: one stroke, 1/6 of the height (NUREG-0700 11.4.1.5 asks
/// for one stroke between letters, DOD-HDBK-791 gives the stroke).
const STROKE: f64 = 1.0 / 6.0;

pub(super) fn report(
    scale: &Scale,
    shapes: &[PaintedShape],
    numbers: &[Number],
    context: &mut DrawContext<'_>,
) {
    let found = touching(scale, shapes, numbers).into_iter();
    for finding in found.chain(under_knob(scale, shapes, numbers)).chain(zones_alike(scale)) {
        context.findings.push(finding.at(scale.place).label(context.label));
    }
}

/// The most places reported on one scale where numbers touch: the cure is the same for all.
const MOST_REPORTED: usize = 5;

/// Numbers nearer to each other, or to the marks, than one stroke.
fn touching(scale: &Scale, shapes: &[PaintedShape], numbers: &[Number]) -> Vec<Finding> {
    let TextSize::CapHeight(cap) = scale.numbers.set.size else { return Vec::new() };
    let needed = cap * STROKE;
    let finding = |(what, apart): (String, f64)| {
        let (apart_mm, need) = (fixed(apart, 2), fixed(needed, 2));
        let message = if apart <= 0.0 {
            format!("{what} touch; keep {need} mm, one stroke, between them")
        } else {
            format!("{what} are {apart_mm} mm apart; keep {need} mm, one stroke")
        };
        let help = "make the radius or step larger, the numbers smaller, or change `number_radius`";
        Finding::warning("numbers-touch", message).measured(apart, needed).help(help)
    };
    too_close(shapes, numbers, needed).into_iter().map(finding).collect()
}

/// What is nearer than `needed` mm, and how near.
fn too_close(shapes: &[PaintedShape], numbers: &[Number], needed: f64) -> Vec<(String, f64)> {
    let boxes: Vec<(&str, Rect, Vec<&Outline>)> = numbers
        .iter()
        .map(|one| (one.text.as_str(), ink(&one.drawn), outlines(&one.drawn).collect()))
        .collect();
    let mut close = Vec::new();
    for (nth, (text, bounds, figures)) in boxes.iter().enumerate() {
        for (other, other_bounds, other_figures) in boxes.iter().skip(nth + 1) {
            if close.len() < MOST_REPORTED
                && near(*bounds, *other_bounds, needed)
                && let Some(apart) = closest(figures, other_figures, needed)
            {
                close.push((format!("the numbers {text} and {other}"), apart));
            }
        }
        let marks = shapes.iter().map(|shape| &shape.outline);
        let marks: Vec<&Outline> =
            marks.filter(|mark| near(*bounds, mark.bounds(), needed)).collect();
        if close.len() < MOST_REPORTED
            && let Some(apart) = closest(figures, &marks, needed)
        {
            close.push((format!("the number {text} and the marks"), apart));
        }
    }
    close
}

fn outlines(drawn: &PartDrawing) -> impl Iterator<Item = &Outline> {
    drawn.shapes.iter().map(|shape| &shape.outline)
}

fn ink(drawn: &PartDrawing) -> Rect {
    crate::design::drawing::bounds(&drawn.shapes)
}

fn near(a: Rect, b: Rect, by: f64) -> bool {
    a.inflate(by, by).overlaps(b)
}

/// The least distance between two groups of outlines where it is less than `under`, mm; 0 when they touch.
fn closest(a: &[&Outline], b: &[&Outline], under: f64) -> Option<f64> {
    let mut least = under;
    for one in a {
        for other in b {
            if one.touches(other) {
                return Some(0.0);
            }
            let (sides, other_sides) = (edges(one), edges(other));
            // Two polygons that do not cross are nearest at a corner of one of them.
            least = least.min(corner_to_edge(&sides, &other_sides));
            least = least.min(corner_to_edge(&other_sides, &sides));
        }
    }
    // A hundredth of a micrometre is rounding.
    (least < under - 1e-5).then_some(least)
}

fn corner_to_edge(from: &[Line], to: &[Line]) -> f64 {
    let mut least = f64::INFINITY;
    for corner in from.iter().map(|line| line.p0) {
        for line in to {
            least = least.min(line.nearest(corner, 1e-6).distance_sq);
        }
    }
    least.sqrt()
}

/// The outline as straight edges, true to a hundredth of a millimetre.
fn edges(outline: &Outline) -> Vec<Line> {
    let (mut lines, mut start, mut last) = (Vec::new(), Point::ORIGIN, Point::ORIGIN);
    kurbo::flatten(outline.elements(), 10.0 * CURVE_ERROR_MM, |element| match element {
        PathEl::MoveTo(point) => (start, last) = (point, point),
        PathEl::LineTo(point) => {
            lines.push(Line::new(last, point));
            last = point;
        }
        PathEl::ClosePath => lines.push(Line::new(last, start)),
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    lines
}

/// Marks, zones or numbers that the knob hides.
fn under_knob(scale: &Scale, shapes: &[PaintedShape], numbers: &[Number]) -> Vec<Finding> {
    let Some(diameter) = scale.knob else { return Vec::new() };
    let radius = diameter / 2.0;
    let marks = shapes.iter().map(|shape| &shape.outline);
    let figures = numbers.iter().flat_map(|number| outlines(&number.drawn));
    let nearest = [("marks", nearest_to_centre(marks)), ("numbers", nearest_to_centre(figures))];
    let hidden = nearest.into_iter().filter_map(|(what, nearest)| Some((what, nearest?)));
    let finding = |(what, nearest)| {
        let [from, covers] = [nearest, radius].map(|mm| fixed(mm, 2));
        let knob = fixed(diameter, 2);
        let message = format!(
            "{what} start {from} mm from the centre; a knob of {knob} mm covers {covers} mm"
        );
        let start = fixed(radius + 1.0, 2);
        let help = format!("move them outwards, so that they start at {start} mm");
        Finding::warning("under-knob", message).help(help).measured(nearest, radius)
    };
    hidden.filter(|(_, nearest)| *nearest < radius - 1e-6).map(finding).collect()
}

fn nearest_to_centre<'o>(outlines: impl Iterator<Item = &'o Outline>) -> Option<f64> {
    let distance = |line: &Line| line.nearest(Point::ORIGIN, 1e-6).distance_sq.sqrt();
    outlines.flat_map(edges).map(|line| distance(&line)).reduce(f64::min)
}

/// Zones that differ in nothing but their colour.
fn zones_alike(scale: &Scale) -> Option<Finding> {
    let width = |zone: &Zone| zone.across.1 - zone.across.0;
    let alike = |a: &Zone, b: &Zone| {
        a.paint != b.paint
            && a.look == b.look
            && (width(a) - width(b)).abs() < 0.2 * width(a).max(width(b))
    };
    let zones = scale.zones.iter().filter(|zone| matches!(zone.paint, Paint::Ink(_)));
    let zones: Vec<&Zone> = zones.collect();
    let mut pairs =
        zones.iter().enumerate().flat_map(|(nth, a)| zones.iter().skip(nth + 1).map(|b| (*a, *b)));
    pairs.any(|(a, b)| alike(a, b)).then(|| {
        let message = "zones of this scale differ in colour only".to_owned();
        let help =
            "make one `look: hatched`, or a fifth wider, so that they can be told without colour";
        Finding::warning("zones-alike", message).help(help)
    })
}
