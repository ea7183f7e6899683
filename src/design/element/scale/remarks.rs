//! What is to be said about a drawn scale: numbers that touch, marks under the knob, zones alike.

use super::numbers::Number;
use crate::design::element::Bench;
use crate::design::piece::{Drawn, Piece};
use crate::finding::{Finding, Findings};
use crate::shape::{CURVE_ERROR_MM, Outline};
use crate::spec::scale::{Scale, Zone};
use crate::spec::{Paint, TextSize};
use crate::units::fixed;
use kurbo::{Line, ParamCurveNearest as _, PathEl, Point, Rect};

/// Least clear space as a share of the cap height: one stroke, 1/6 of the height (NUREG-0700 11.4.1.5 asks
/// for one stroke between letters, DOD-HDBK-791 gives the stroke).
const STROKE: f64 = 1.0 / 6.0;

pub(super) fn report(scale: &Scale, pieces: &[Piece], numbers: &[Number], bench: &mut Bench<'_>) {
    let mut found = Findings::default();
    touching(scale, pieces, numbers, &mut found);
    under_knob(scale, pieces, numbers, &mut found);
    zones_alike(scale, &mut found);
    for finding in found.list() {
        bench.findings.push(finding.clone().at(scale.place).label(bench.label));
    }
}

/// The most places told on one scale where numbers touch: the cure is the same for all.
const MOST_TOLD: usize = 5;

/// Numbers nearer to each other, or to the marks, than one stroke.
fn touching(scale: &Scale, pieces: &[Piece], numbers: &[Number], findings: &mut Findings) {
    let TextSize::CapHeight(cap) = scale.numbers.set.size else { return };
    let needed = cap * STROKE;
    for (what, apart) in too_close(pieces, numbers, needed) {
        let (apart_mm, need) = (fixed(apart, 2), fixed(needed, 2));
        let message = if apart <= 0.0 {
            format!("{what} touch; keep {need} mm, one stroke, between them")
        } else {
            format!("{what} are {apart_mm} mm apart; keep {need} mm, one stroke")
        };
        let help = "make the radius or step larger, the numbers smaller, or change `number_radius`";
        let finding = Finding::warning("numbers-touch", message).measured(apart, needed);
        findings.push(finding.help(help));
    }
}

/// What is nearer than `needed` mm, and how near.
fn too_close(pieces: &[Piece], numbers: &[Number], needed: f64) -> Vec<(String, f64)> {
    let boxes: Vec<(&str, Rect, Vec<&Outline>)> = numbers
        .iter()
        .map(|one| (one.text.as_str(), ink(&one.drawn), outlines(&one.drawn).collect()))
        .collect();
    let mut close = Vec::new();
    for (nth, (text, bounds, figures)) in boxes.iter().enumerate() {
        for (other, other_bounds, other_figures) in boxes.iter().skip(nth + 1) {
            if close.len() < MOST_TOLD
                && near(*bounds, *other_bounds, needed)
                && let Some(apart) = closest(figures, other_figures, needed)
            {
                close.push((format!("the numbers {text} and {other}"), apart));
            }
        }
        let marks = pieces.iter().map(|piece| &piece.outline);
        let marks: Vec<&Outline> =
            marks.filter(|mark| near(*bounds, mark.bounds(), needed)).collect();
        if close.len() < MOST_TOLD
            && let Some(apart) = closest(figures, &marks, needed)
        {
            close.push((format!("the number {text} and the marks"), apart));
        }
    }
    close
}

fn outlines(drawn: &Drawn) -> impl Iterator<Item = &Outline> {
    drawn.pieces.iter().map(|piece| &piece.outline)
}

fn ink(drawn: &Drawn) -> Rect {
    crate::design::piece::bounds(&drawn.pieces)
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
fn under_knob(scale: &Scale, pieces: &[Piece], numbers: &[Number], findings: &mut Findings) {
    let Some(diameter) = scale.knob else { return };
    let marks = pieces.iter().map(|piece| &piece.outline);
    let figures = numbers.iter().flat_map(|number| outlines(&number.drawn));
    let hidden = [("marks", nearest_to_centre(marks)), ("numbers", nearest_to_centre(figures))];
    for (what, nearest) in hidden {
        let Some(nearest) = nearest.filter(|nearest| *nearest < diameter / 2.0 - 1e-6) else {
            continue;
        };
        let message = format!(
            "{what} start {} mm from the centre; a knob of {} mm covers {} mm",
            fixed(nearest, 2),
            fixed(diameter, 2),
            fixed(diameter / 2.0, 2)
        );
        let help = format!(
            "move them outwards, so that they start at {} mm",
            fixed(diameter / 2.0 + 1.0, 2)
        );
        let finding = Finding::warning("under-knob", message).help(help);
        findings.push(finding.measured(nearest, diameter / 2.0));
    }
}

fn nearest_to_centre<'o>(outlines: impl Iterator<Item = &'o Outline>) -> Option<f64> {
    let distance = |line: &Line| line.nearest(Point::ORIGIN, 1e-6).distance_sq.sqrt();
    outlines.flat_map(edges).map(|line| distance(&line)).reduce(f64::min)
}

/// Zones that differ in nothing but their colour.
fn zones_alike(scale: &Scale, findings: &mut Findings) {
    let same = |a: &Zone, b: &Zone| {
        let width = |zone: &Zone| zone.across.1 - zone.across.0;
        a.look == b.look && (width(a) - width(b)).abs() < 0.2 * width(a).max(width(b))
    };
    let inked = |zone: &Zone| matches!(zone.paint, Paint::Ink(_));
    let alike = scale.zones.iter().enumerate().any(|(nth, zone)| {
        let mut others = scale.zones.iter().skip(nth + 1);
        others.any(|other| {
            inked(zone) && inked(other) && zone.paint != other.paint && same(zone, other)
        })
    });
    if alike {
        let message = "zones of this scale differ in colour only".to_owned();
        let help =
            "make one `look: hatched`, or a fifth wider, so that they can be told without colour";
        findings.push(Finding::warning("zones-alike", message).help(help));
    }
}
