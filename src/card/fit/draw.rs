//! A panel as lines: plate, holes, what covers it, legends in outline, dimensions.

use crate::card::typeset::{DARK, Level, Line, QUIET, Typesetter};
use crate::colour::Colour;
use crate::design::{Design, Role};
use crate::shape::{self, Outline};
use crate::spec::Spec;
use crate::spec::panel::{Hole, Panel};
use crate::units::fixed;
use kurbo::{Affine, Point, Rect, Size, Vec2};

/// Widths of lines, mm: edges to work to, and what is only shown.
const EDGE_MM: f64 = 0.25;
const SHOWN_MM: f64 = 0.15;

/// From the plate to its dimension lines, and what is kept beyond them for their figures, mm.
const DIMENSION_MM: f64 = 4.0;
const FIGURES_MM: f64 = 9.0;

/// From a corner of the plate to the figures of its dimensions, mm.
const NEAR_MM: f64 = 6.0;

/// How far a hole's cross reaches past its edge, mm.
const CROSS_MM: f64 = 1.5;

/// From dash to dash of a broken line and the dash itself, mm.
const DASH_MM: (f64, f64) = (2.0, 1.2);

/// A panel drawn about its middle.
pub(super) struct Drawn {
    /// Everything of it, mm.
    pub(super) area: Rect,
    pub(super) paths: Vec<(Outline, Colour)>,
    /// Names and figures, each with its left end and the top of its capitals.
    pub(super) lines: Vec<(Line, Point)>,
    /// The plate's height, read from the right: its left end and the left edge of its capitals.
    pub(super) height: Option<(Line, Point)>,
}

pub(super) fn panel(
    spec: &Spec,
    panel: &Panel,
    designs: &[&Design],
    setter: &mut Typesetter<'_>,
) -> Drawn {
    let plate = Rect::from_center_size(Point::ORIGIN, panel.size);
    let area = Rect::new(
        plate.x0 - FIGURES_MM,
        plate.y0 - FIGURES_MM,
        plate.x1 + EDGE_MM,
        plate.y1 + EDGE_MM,
    );
    let mut drawn = Drawn { area, paths: Vec::new(), lines: Vec::new(), height: None };
    let edge = |by: f64| shape::rounded(plate.inflate(by, by), (panel.corner_mm + by).max(0.0));
    drawn.paths.push((edge(EDGE_MM / 2.0).minus(&edge(-EDGE_MM / 2.0)), DARK));
    for design in designs {
        legends(design, &mut drawn.paths);
        let label = spec.labels.get(design.label);
        if label.is_some_and(|label| label.stands().is_some()) {
            trim(design, &mut drawn.paths);
        }
    }
    for one in &panel.holes {
        hole(one, &mut drawn, setter);
    }
    dimensions(plate, &mut drawn, setter);
    drawn
}

/// A design's marks as thin outlines.
fn legends(design: &Design, paths: &mut Vec<(Outline, Colour)>) {
    let Some(on) = design.on_panel else { return };
    let there = Affine::translate(on.at);
    for mark in &design.marks {
        // A stroke thinner than two lines is drawn whole.
        let line = if mark.role == Role::Text { SHOWN_MM * 0.8 } else { SHOWN_MM };
        let outline = mark.path.rim(line);
        paths.push((outline.placed(there), DARK));
    }
}

/// Where the knife goes round a legend that is a decal of its own.
fn trim(design: &Design, paths: &mut Vec<(Outline, Colour)>) {
    let Some(on) = design.on_panel else { return };
    let trim = design.trim.placed(Affine::translate(on.at));
    paths.push((trim.rim(SHOWN_MM), QUIET));
}

fn ring(middle: Point, diameter_mm: f64, line_mm: f64) -> Outline {
    let inner = shape::disc(middle, (diameter_mm - line_mm / 2.0).max(0.0));
    shape::disc(middle, diameter_mm + line_mm / 2.0).minus(&inner)
}

fn hole(hole: &Hole, drawn: &mut Drawn, setter: &mut Typesetter<'_>) {
    let (covered, _) = hole.keep_out();
    drawn.paths.push((ring(hole.at, hole.diameter_mm, EDGE_MM * 2.0), DARK));
    let reach = hole.diameter_mm / 2.0 + CROSS_MM;
    for arm in [Size::new(2.0 * reach, SHOWN_MM), Size::new(SHOWN_MM, 2.0 * reach)] {
        drawn.paths.push((shape::rectangle(Rect::from_center_size(hole.at, arm)), DARK));
    }
    if covered > hole.diameter_mm {
        drawn.paths.extend(broken_ring(hole.at, covered).into_iter().map(|dash| (dash, QUIET)));
    }
    // Below right of the hole, where the cross and the keep-out circle leave room.
    let name = setter.lines(Level::Quiet, &hole.name, 40.0);
    let out = hole.diameter_mm / 2.0 * std::f64::consts::FRAC_1_SQRT_2 + 0.7;
    if let Some(name) = name.into_iter().next() {
        drawn.lines.push((name, hole.at + Vec2::new(out, out)));
    }
}

/// A circle of dashes.
fn broken_ring(middle: Point, diameter_mm: f64) -> Vec<Outline> {
    let whole = ring(middle, diameter_mm, SHOWN_MM * 2.0);
    let turn = std::f64::consts::PI * diameter_mm;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some hundreds")]
    let count = (turn / DASH_MM.0).round().clamp(8.0, 400.0) as u32;
    let reach = diameter_mm;
    let dash = |number: u32| {
        let start = f64::from(number) / f64::from(count) * std::f64::consts::TAU;
        let sweep = std::f64::consts::TAU / f64::from(count) * DASH_MM.1 / DASH_MM.0;
        let ray = |angle: f64| middle + Vec2::new(libm::sin(angle), -libm::cos(angle)) * reach;
        whole.common(&shape::polygon(&[middle, ray(start), ray(start + sweep)]))
    };
    (0..count).map(dash).collect()
}

/// Dashes along a line that is level or upright.
pub(super) fn dashes((from, to): (Point, Point)) -> Vec<Outline> {
    let length = from.distance(to);
    let along = (to - from) / length.max(1e-9);
    let across = Vec2::new(-along.y, along.x) * (SHOWN_MM / 2.0);
    let mut dashes = Vec::new();
    let mut at = 0.0;
    while at < length && dashes.len() < 1000 {
        let (a, b) = (from + along * at, from + along * (at + DASH_MM.1).min(length));
        dashes.push(shape::polygon(&[a - across, b - across, b + across, a + across]));
        at += DASH_MM.0;
    }
    dashes
}

/// Width above and height to the left of the plate.
fn dimensions(plate: Rect, drawn: &mut Drawn, setter: &mut Typesetter<'_>) {
    let (x, y) = (plate.x0 - DIMENSION_MM, plate.y0 - DIMENSION_MM);
    let level = [Point::new(plate.x0, y), Point::new(plate.x1, y)];
    let upright = [Point::new(x, plate.y0), Point::new(x, plate.y1)];
    for [from, to] in [level, upright] {
        let along = (to - from).normalize();
        let across = Vec2::new(-along.y, along.x);
        let bar = across * (SHOWN_MM / 2.0);
        let mut line = shape::polygon(&[from - bar, to - bar, to + bar, from + bar]);
        for (tip, back) in [(from, along), (to, -along)] {
            let base = tip + back * 2.2;
            let head = shape::polygon(&[tip, base + across * 0.55, base - across * 0.55]);
            line = line.union(&head);
            let end = [tip - across * 1.5, tip + across * 1.5];
            let half = along * (SHOWN_MM / 2.0);
            let [a, b] = end;
            line = line.union(&shape::polygon(&[a - half, a + half, b + half, b - half]));
        }
        drawn.paths.push((line, QUIET));
    }
    let cap = Level::Quiet.cap();
    let width = setter.phrase(Level::Quiet, &format!("{} mm", fixed(plate.width(), 2)));
    // Near a corner: the middle may lie where two pages meet.
    let at = Point::new(plate.x0 + NEAR_MM, y - cap - 0.9);
    drawn.lines.push((width, at));
    let height = setter.phrase(Level::Quiet, &format!("{} mm", fixed(plate.height(), 2)));
    let at = Point::new(x - cap - 0.9, plate.y0 + NEAR_MM + height.width);
    drawn.height = Some((height, at));
}
