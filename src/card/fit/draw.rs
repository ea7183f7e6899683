//! A panel as lines: plate, holes, what covers it, legends in outline, dimensions.

use crate::card::strip::stroke;
use crate::card::typeset::{DARK, Level, QUIET, SetLine, Typesetter};
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
pub(super) struct PanelDrawing {
    /// Everything of it, mm.
    pub(super) area: Rect,
    pub(super) paths: Vec<(Outline, Colour)>,
    /// Names and figures, each with its left end and the top of its capitals.
    pub(super) lines: Vec<(SetLine, Point)>,
    /// The plate's height, read from the right: its left end and the left edge of its capitals.
    pub(super) height: Option<(SetLine, Point)>,
}

pub(super) fn panel(
    spec: &Spec,
    panel: &Panel,
    designs: &[&Design],
    setter: &mut Typesetter<'_>,
) -> PanelDrawing {
    let plate = Rect::from_center_size(Point::ORIGIN, panel.size);
    let area = Rect::new(
        plate.x0 - FIGURES_MM,
        plate.y0 - FIGURES_MM,
        plate.x1 + EDGE_MM,
        plate.y1 + EDGE_MM,
    );
    let mut drawn = PanelDrawing { area, paths: Vec::new(), lines: Vec::new(), height: None };
    let edge = |by: f64| shape::rounded(plate.inflate(by, by), (panel.corner_mm + by).max(0.0));
    drawn.paths.push((edge(EDGE_MM / 2.0).minus(&edge(-EDGE_MM / 2.0)), DARK));
    for design in designs {
        legend(spec, design, &mut drawn.paths);
    }
    for one in &panel.holes {
        hole(one, &mut drawn, setter);
    }
    dimensions(plate, &mut drawn, setter);
    drawn
}

/// A design's marks as thin outlines; where the knife goes round it when it is a decal of its own.
fn legend(spec: &Spec, design: &Design, paths: &mut Vec<(Outline, Colour)>) {
    debug_assert!(design.on_panel.is_some(), "only designs on the panel are drawn");
    let Some(on) = design.on_panel else { return };
    let there = Affine::translate(on.at);
    for mark in &design.marks {
        // `rim` fills a stroke that is thinner than two such lines.
        let line = if mark.role == Role::Text { SHOWN_MM * 0.8 } else { SHOWN_MM };
        paths.push((mark.path.rim(line).placed(there), DARK));
    }
    if spec.labels.get(design.label).is_some_and(|label| label.stands().is_some()) {
        paths.push((design.trim.placed(there).rim(SHOWN_MM), QUIET));
    }
}

fn ring(middle: Point, diameter_mm: f64, line_mm: f64) -> Outline {
    let inner = shape::disc(middle, (diameter_mm - line_mm / 2.0).max(0.0));
    shape::disc(middle, diameter_mm + line_mm / 2.0).minus(&inner)
}

fn hole(hole: &Hole, drawn: &mut PanelDrawing, setter: &mut Typesetter<'_>) {
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

/// Dashes along a line.
pub(super) fn dashes(from: Point, to: Point) -> Vec<Outline> {
    let length = from.distance(to);
    let along = (to - from).normalize();
    let starts = (0..1000).map(|number| f64::from(number) * DASH_MM.0);
    let dash = |at: f64| {
        let end = (at + DASH_MM.1).min(length);
        stroke(from + along * at, from + along * end, SHOWN_MM)
    };
    starts.take_while(|at| *at < length).map(dash).collect()
}

/// Width above and height to the left of the plate.
fn dimensions(plate: Rect, drawn: &mut PanelDrawing, setter: &mut Typesetter<'_>) {
    let (x, y) = (plate.x0 - DIMENSION_MM, plate.y0 - DIMENSION_MM);
    let level = [Point::new(plate.x0, y), Point::new(plate.x1, y)];
    let upright = [Point::new(x, plate.y0), Point::new(x, plate.y1)];
    for [from, to] in [level, upright] {
        let along = (to - from).normalize();
        let across = Vec2::new(-along.y, along.x);
        let mut line = stroke(from, to, SHOWN_MM);
        for (tip, back) in [(from, along), (to, -along)] {
            let base = tip + back * 2.2;
            let head = shape::polygon(&[tip, base + across * 0.55, base - across * 0.55]);
            let end = stroke(tip - across * 1.5, tip + across * 1.5, SHOWN_MM);
            line = line.union(&head).union(&end);
        }
        drawn.paths.push((line, QUIET));
    }
    let cap = Level::Quiet.cap();
    let mut figures = |mm: f64| setter.phrase(Level::Quiet, &format!("{} mm", fixed(mm, 2)));
    let (width, height) = (figures(plate.width()), figures(plate.height()));
    // Near a corner: the middle may lie where two pages meet.
    drawn.lines.push((width, Point::new(plate.x0 + NEAR_MM, y - cap - 0.9)));
    let at = Point::new(x - cap - 0.9, plate.y0 + NEAR_MM + height.width);
    drawn.height = Some((height, at));
}
