//! Panels: holes off the plate or in each other, legends hidden by what is fitted, rows gone uneven.

use super::knife::reaches_past;
use super::{Checked, Labelled};
use crate::design::{Design, Mark, OnPanel, Role, Words};
use crate::finding::{Finding, Findings, Place, Severity};
use crate::shape::{self, Outline};
use crate::spec::panel::{Hole, Panel};
use crate::spec::{Element, Part, PartId};
use crate::units::fixed;
use kurbo::{Affine, Circle, ParamCurveNearest as _, Point, Rect, Shape as _, Vec2};
use std::collections::{BTreeMap, BTreeSet};

/// Holes nearer to each other than this leave a web that breaks, mm (common practice, no source).
const WEB_MM: f64 = 1.0;

/// Rounding of places, mm.
const ROUNDING_MM: f64 = 0.01;

pub(super) fn hole_off_panel(job: Checked<'_>, findings: &mut Findings) {
    for panel in &job.spec.panels {
        let plate = shape::rounded(plate(panel), panel.corner_mm);
        for hole in &panel.holes {
            let radius = hole.diameter_mm / 2.0;
            let inside = plate.contains(hole.at);
            let edge = nearest(plate.segments(), hole.at);
            if inside && edge >= radius - ROUNDING_MM {
                continue;
            }
            let over = if inside { radius - edge } else { radius + edge };
            let (name, mm) = (&hole.name, fixed(over, 2));
            let message = format!("hole {name} reaches {mm} mm past the edge of the panel");
            let help = "check its place, the panel's `size` and where `origin` counts from";
            let finding = Finding::error("hole-off-panel", message).at(hole.place);
            findings.push(finding.label(&panel.name).measured(over, 0.0).help(help));
        }
    }
}

/// The plate without its rounded corners, from the panel's middle.
fn plate(panel: &Panel) -> Rect {
    Rect::from_center_size(Point::ORIGIN, panel.size)
}

pub(super) fn holes_meet(job: Checked<'_>, findings: &mut Findings) {
    for panel in &job.spec.panels {
        // One finding a hole is enough, and keeps a table full of slips from filling the screen.
        let mut told = BTreeSet::new();
        for (one, other) in near_each_other(panel) {
            if !told.contains(&other.name)
                && let Some(finding) = meeting(one, other)
            {
                told.insert(&other.name);
                let help = "move one of them, or fit something smaller";
                findings.push(finding.at(other.place).label(&panel.name).help(help));
            }
        }
    }
}

/// Every two holes that can be near each other: sorted from left to right.
fn near_each_other(panel: &Panel) -> Vec<(&Hole, &Hole)> {
    let reach = |hole: &Hole| hole.keep_out().0 / 2.0 + WEB_MM;
    let widest = panel.holes.iter().map(reach).fold(0.0, f64::max);
    let mut holes: Vec<&Hole> = panel.holes.iter().collect();
    holes.sort_by(|a, b| a.at.x.total_cmp(&b.at.x));
    let pairs = holes.iter().enumerate().flat_map(|(at, one)| {
        let next = holes.iter().skip(at + 1);
        let near = next.take_while(move |other| other.at.x - one.at.x <= widest + reach(one));
        near.map(|other| (*one, *other))
    });
    pairs.collect()
}

/// The finding about two holes, or what is fitted in them, that come too near.
fn meeting(one: &Hole, other: &Hole) -> Option<Finding> {
    let apart = one.at.distance(other.at);
    let web = apart - (one.diameter_mm + other.diameter_mm) / 2.0;
    let ((own, what), (others, with)) = (one.keep_out(), other.keep_out());
    let covered = (own + others) / 2.0;
    let (one, other) = (&one.name, &other.name);
    if web < WEB_MM {
        let (severity, what) = if web <= 0.0 {
            (Severity::Error, format!("overlap by {} mm", fixed(-web, 2)))
        } else {
            (Severity::Warning, format!("leave {} mm between them", fixed(web, 2)))
        };
        let message = format!("holes {one} and {other} {what}");
        Some(Finding::new(severity, "holes-meet", message).measured(apart, WEB_MM))
    } else if apart < covered - ROUNDING_MM {
        let mm = fixed(covered - apart, 2);
        let message = format!("the {what} of {one} and the {with} of {other} overlap by {mm} mm");
        Some(Finding::warning("holes-meet", message).measured(apart, covered))
    } else {
        None
    }
}

/// Least distance from a point to a run of segments, mm.
fn nearest(segments: impl Iterator<Item = kurbo::PathSeg>, point: Point) -> f64 {
    let distances = segments.map(|segment| segment.nearest(point, 1e-4).distance_sq.sqrt());
    distances.fold(f64::INFINITY, f64::min)
}

/// Every design that goes on a panel, with the panel and where it lies there.
fn placed<'j>(job: Checked<'j>) -> impl Iterator<Item = (Labelled<'j>, &'j Panel, Vec2)> {
    job.labelled().filter_map(move |one| {
        let OnPanel { panel, at } = one.design.on_panel?;
        Some((one, job.spec.panels.get(panel)?, at))
    })
}

pub(super) fn under_knob(job: Checked<'_>, findings: &mut Findings) {
    for (one, panel, at) in placed(job) {
        let design = one.design;
        let reach = design.reach();
        let marks: Vec<(&Mark, Rect)> =
            design.marks.iter().map(|mark| (mark, mark.path.bounds())).collect();
        let drawings = drawings(one);
        for hole in &panel.holes {
            let (diameter, what) = covered(hole);
            let (middle, name) = (hole.at - at, &hole.name);
            let keep_out = Circle::new(middle, diameter / 2.0);
            let round = keep_out.bounding_box();
            if !round.overlaps(reach) {
                continue;
            }
            let mut tell = |severity, covers: String, from: Place, spot: Point| {
                let message = format!("the {what} at {name} covers {covers}");
                let help = "move it out: a larger gap, radius or `from_middle`, or a smaller knob";
                let finding = Finding::new(severity, "under-knob", message).at(from).help(help);
                findings.push(on_design(finding, design, spot));
            };
            if let Some(words) = design.words.iter().find(|one| words_enter(one, keep_out)) {
                let covers = format!("the legend {:?}", words.text);
                tell(Severity::Error, covers, words.from, words.area.center());
                continue;
            }
            let mut near = marks.iter().filter(|(_, rect)| rect.overlaps(round));
            if let Some((mark, _)) = near.find(|(mark, _)| mark_enters(mark, keep_out)) {
                tell(Severity::Warning, "marks".to_owned(), mark.from, middle);
            }
            for (from, drawing) in drawings.values() {
                let share = share_in(keep_out, drawing);
                if share >= HIDDEN_SHARE {
                    let covers = format!("{} % of the drawing", fixed(share * 100.0, 0));
                    tell(Severity::Warning, covers, *from, middle);
                }
            }
        }
    }
}

/// Less of a drawing than this under a knob is seen by no one to be missing (common practice, no source).
const HIDDEN_SHARE: f64 = 0.05;

/// What parts from files drew, by where they were asked for.
fn drawings<'d>(one: Labelled<'d>) -> BTreeMap<PartId, (Place, Vec<&'d Outline>)> {
    let mut drawings: BTreeMap<PartId, (Place, Vec<&'d Outline>)> = BTreeMap::new();
    Part::each(&one.label.parts, &mut |part| {
        if matches!(part.element, Element::Art(_)) {
            drawings.insert(part.id, (part.place, Vec::new()));
        }
    });
    for mark in &one.design.marks {
        if let Some((_, paths)) = drawings.get_mut(&mark.part) {
            paths.push(&mark.path);
        }
    }
    drawings
}

/// Share of a drawing that lies in a circle; nothing of one that reaches all round it, which is a ground.
fn share_in(circle: Circle, drawing: &[&Outline]) -> f64 {
    let round = circle.bounding_box();
    let bounds = drawing.iter().map(|path| path.bounds()).reduce(|a, b| a.union(b));
    if bounds.is_none_or(|bounds| bounds.union(round) == bounds || !bounds.overlaps(round)) {
        return 0.0;
    }
    let disc = shape::disc(circle.center, circle.radius * 2.0);
    let near = drawing.iter().filter(|path| path.bounds().overlaps(round));
    let hidden: f64 = near.map(|path| path.common(&disc).area()).sum();
    hidden / drawing.iter().map(|path| path.area()).sum::<f64>().max(f64::MIN_POSITIVE)
}

/// The diameter in which nothing can be read, mm, and why: covered, or a window that takes the ink away.
fn covered(hole: &Hole) -> (f64, &'static str) {
    let (diameter, what) = hole.keep_out();
    if hole.clear_mm > diameter { (hole.clear_mm, "window without ink") } else { (diameter, what) }
}

/// A finding about a spot of a design, under the design's own name.
fn on_design(finding: Finding, design: &Design, spot: Point) -> Finding {
    let spot = spot - design.size().origin();
    finding.label(&design.name).spot(spot.x, spot.y)
}

/// Whether the capitals' box enters a circle.
fn words_enter(words: &Words, circle: Circle) -> bool {
    let middle = words.area.center();
    let back = Affine::rotate_about(-words.turned_deg.to_radians(), middle);
    let at = back * circle.center;
    let near = Point::new(
        at.x.clamp(words.area.x0, words.area.x1),
        at.y.clamp(words.area.y0, words.area.y1),
    );
    near.distance(at) < circle.radius - ROUNDING_MM
}

/// Whether a line or a sign enters a circle; fills are grounds that may run under it, and a centre mark
/// is meant to be there.
fn mark_enters(mark: &Mark, circle: Circle) -> bool {
    let is_read = matches!(mark.role, Role::Line | Role::Text);
    if !is_read || mark.part == PartId::default() {
        return false;
    }
    nearest(mark.path.segments(), circle.center) < circle.radius - ROUNDING_MM
}

pub(super) fn legend_off_panel(job: Checked<'_>, findings: &mut Findings) {
    for (Labelled { design, .. }, panel, at) in placed(job) {
        let over = reaches_past(plate(panel), design.size() + at);
        if over <= ROUNDING_MM {
            continue;
        }
        let message =
            format!("the legend reaches {} mm past the edge of the panel", fixed(over, 2));
        let help = "move it in, or stand it on another side of its hole";
        let finding = Finding::warning("legend-off-panel", message).measured(over, 0.0).help(help);
        findings.push(finding.at(design.from).label(&design.name));
    }
}

pub(super) fn turned_legend(job: Checked<'_>, findings: &mut Findings) {
    for (Labelled { design, .. }, _, _) in placed(job) {
        // Words of a dial or an arc are turned because the dial is.
        let alone = |words: &&Words| {
            let mut lines = design.words.iter().filter(|other| other.part == words.part);
            lines.all(|other| (other.turned_deg - words.turned_deg).abs() < 1e-6)
        };
        for words in design.words.iter().filter(alone) {
            let off = words.turned_deg.rem_euclid(360.0);
            if off.min(360.0 - off) < 0.05 {
                continue;
            }
            let message = format!("the legend {:?} is not level", words.text);
            let help = "level words are read fastest; make room and take `turned` out";
            let finding = Finding::note("turned-legend", message).at(words.from).help(help);
            findings.push(on_design(finding, design, words.area.center()));
        }
    }
}

/// A row has at least so many members.
const ROW: usize = 4;

/// Gaps that differ by less than this were meant to be equal or can be seen by no one, mm; by more than
/// this share of the gap they were meant to differ (common practice, no source).
const EVEN_MM: f64 = 0.15;
const MEANT: f64 = 0.3;

pub(super) fn uneven_gap(job: Checked<'_>, findings: &mut Findings) {
    for panel in &job.spec.panels {
        for down in [false, true] {
            let along = |hole: &Hole| if down { hole.at.y } else { hole.at.x };
            let across = |hole: &Hole| if down { hole.at.x } else { hole.at.y };
            let row = |hole: &Hole| (across(hole) / EVEN_MM).round();
            let mut holes: Vec<&Hole> = panel.holes.iter().collect();
            holes.sort_by(|a, b| {
                let kind = a.kind.cmp(&b.kind);
                row(a).total_cmp(&row(b)).then(kind).then(along(a).total_cmp(&along(b)))
            });
            let same_row = |a: &&Hole, b: &&Hole| {
                (across(a) - across(b)).abs() < EVEN_MM
                    && a.kind == b.kind
                    && (a.diameter_mm - b.diameter_mm).abs() < EVEN_MM
            };
            for row in holes.chunk_by(same_row).filter(|row| row.len() >= ROW) {
                let pairs = || row.iter().zip(row.iter().skip(1));
                let gaps: Vec<f64> = pairs().map(|(a, b)| along(b) - along(a)).collect();
                let Some(OddGap { at, gap, usual }) = odd_one(&gaps) else { continue };
                findings.extend(pairs().nth(at).map(|(one, other)| {
                    let (is, others) = (fixed(gap, 2), fixed(usual, 2));
                    let message = format!(
                        "{} and {} are {is} mm apart, the others of their row {others} mm",
                        one.name, other.name
                    );
                    let finding = Finding::note("uneven-gap", message).at(other.place);
                    let finding = finding.label(&panel.name).measured(gap, usual);
                    finding.help("check the hole's place")
                }));
            }
        }
    }
}

/// One gap of a row that is a little off, where all others are equal.
#[derive(Debug, PartialEq)]
struct OddGap {
    /// How many gaps stand before it.
    at: usize,
    gap: f64,
    /// What the others are, mm.
    usual: f64,
}

fn odd_one(gaps: &[f64]) -> Option<OddGap> {
    let mut sorted = gaps.to_vec();
    sorted.sort_by(f64::total_cmp);
    let usual = *sorted.get(sorted.len() / 2)?;
    // A hole out of its place makes two gaps odd, a short end one.
    let off = gaps.iter().enumerate().filter(|(_, gap)| (**gap - usual).abs() > EVEN_MM);
    let odd: Vec<(usize, f64)> = off.map(|(at, gap)| (at, *gap)).collect();
    let is_near = |gap: f64| (gap - usual).abs() < usual * MEANT;
    match *odd.as_slice() {
        [(at, gap)] if is_near(gap) => Some(OddGap { at, gap, usual }),
        [(at, gap), (next, other)] if next == at + 1 && is_near(gap) && is_near(other) => {
            Some(OddGap { at, gap, usual })
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_gap_that_slipped_is_found_and_groups_are_not() {
        let odd = |gaps: &[f64]| odd_one(gaps).map(|odd| (odd.at, odd.usual));
        assert_eq!(odd(&[20.0, 20.0, 19.0, 21.0, 20.0]), Some((2, 20.0)));
        assert_eq!(odd(&[20.0, 20.0, 20.1]), None);
        assert_eq!(odd(&[20.0, 20.0, 45.0, 20.0]), None);
        assert_eq!(odd(&[18.0, 20.0, 22.0, 24.0]), None);
        assert_eq!(odd(&[20.0, 20.0, 18.0]), Some((2, 20.0)));
    }

    #[test]
    fn a_turned_box_enters_where_its_corner_does() {
        let words = |turned_deg| Words {
            text: "X".into(),
            area: Rect::new(-10.0, -1.0, 10.0, 1.0),
            turned_deg,
            cap_height_mm: 2.0,
            reversed: false,
            part: PartId::default(),
            from: Place::default(),
        };
        let circle = Circle::new((0.0, 8.0), 3.0);
        assert!(!words_enter(&words(0.0), circle));
        assert!(words_enter(&words(90.0), circle));
    }
}
