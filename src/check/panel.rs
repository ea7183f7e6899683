//! Panels: holes off the plate or in each other, legends hidden by what is fitted, rows gone uneven.

use super::Job;
use crate::design::{Design, Mark, OnPanel, Role, Words};
use crate::finding::{Finding, Findings, Place, Severity};
use crate::shape::{self, Outline};
use crate::spec::panel::{Hole, Panel};
use crate::spec::{Element, Label, Part, PartId};
use crate::units::fixed;
use kurbo::{Affine, Circle, ParamCurveNearest as _, Point, Rect, Shape as _, Vec2};
use std::collections::{BTreeMap, BTreeSet};

/// Holes nearer to each other than this leave a web that breaks, mm (common practice, no source).
const WEB_MM: f64 = 1.0;

/// Rounding of places, mm.
const ROUNDING_MM: f64 = 0.01;

pub(super) fn hole_off_panel(job: Job<'_>, findings: &mut Findings) {
    for panel in &job.spec.panels {
        let plate =
            shape::rounded(Rect::from_center_size(Point::ORIGIN, panel.size), panel.corner_mm);
        for hole in &panel.holes {
            let radius = hole.diameter_mm / 2.0;
            let inside = plate.contains(hole.at);
            let edge = nearest(plate.segments(), hole.at);
            if inside && edge >= radius - ROUNDING_MM {
                continue;
            }
            let over = if inside { radius - edge } else { radius + edge };
            let message = format!(
                "hole {} reaches {} mm past the edge of the panel",
                hole.name,
                fixed(over, 2)
            );
            let help = "check its place, the panel's `size` and where `origin` counts from";
            let finding = Finding::error("hole-off-panel", message).at(hole.place);
            findings.push(finding.label(&panel.name).measured(over, 0.0).help(help));
        }
    }
}

pub(super) fn holes_meet(job: Job<'_>, findings: &mut Findings) {
    for panel in &job.spec.panels {
        // One finding a hole is enough, and keeps a table full of slips from filling the screen.
        let mut told = BTreeSet::new();
        each_pair(panel, |one, other| {
            if told.contains(other.name.as_str()) {
                return;
            }
            let apart = one.at.distance(other.at);
            let web = apart - (one.diameter_mm + other.diameter_mm) / 2.0;
            let covered = (one.keep_out().0 + other.keep_out().0) / 2.0;
            let (severity, message, needed) = if web < WEB_MM {
                let message = format!(
                    "holes {} and {} leave {} mm between them",
                    one.name,
                    other.name,
                    fixed(web, 2)
                );
                let worst = if web <= 0.0 { Severity::Error } else { Severity::Warning };
                (worst, message, WEB_MM)
            } else if apart < covered - ROUNDING_MM {
                let message = format!(
                    "the {} of {} and the {} of {} overlap by {} mm",
                    one.keep_out().1,
                    one.name,
                    other.keep_out().1,
                    other.name,
                    fixed(covered - apart, 2)
                );
                (Severity::Warning, message, covered)
            } else {
                return;
            };
            told.insert(other.name.clone());
            let finding = Finding::warning("holes-meet", message).at(other.place);
            let mut finding = finding.label(&panel.name).measured(apart, needed);
            finding.severity = severity;
            findings.push(finding.help("move one of them, or fit something smaller"));
        });
    }
}

/// Visits every two holes that can be near each other: sorted from left to right.
fn each_pair(panel: &Panel, mut visit: impl FnMut(&Hole, &Hole)) {
    let reach = |hole: &Hole| hole.keep_out().0 / 2.0 + WEB_MM;
    let widest = panel.holes.iter().map(reach).fold(0.0, f64::max);
    let mut holes: Vec<&Hole> = panel.holes.iter().collect();
    holes.sort_by(|a, b| a.at.x.total_cmp(&b.at.x));
    for (at, one) in holes.iter().enumerate() {
        let near = holes.iter().skip(at + 1);
        for other in near.take_while(|other| other.at.x - one.at.x <= widest + reach(one)) {
            visit(one, other);
        }
    }
}

/// Least distance from a point to a run of segments, mm.
fn nearest(segments: impl Iterator<Item = kurbo::PathSeg>, point: Point) -> f64 {
    let distances = segments.map(|segment| segment.nearest(point, 1e-4).distance_sq.sqrt());
    distances.fold(f64::INFINITY, f64::min)
}

/// Every design that goes on a panel, with the panel and where it lies there.
fn placed<'j>(job: Job<'j>) -> impl Iterator<Item = (&'j Design, &'j Panel, Vec2)> {
    job.designs.iter().filter_map(move |design| {
        let OnPanel { panel, at } = design.on_panel?;
        Some((design, job.spec.panels.get(panel)?, at))
    })
}

pub(super) fn under_knob(job: Job<'_>, findings: &mut Findings) {
    for (design, panel, at) in placed(job) {
        let reach = design.reach();
        let marks: Vec<(&Mark, Rect)> =
            design.marks.iter().map(|mark| (mark, mark.path.bounds())).collect();
        let drawings = job
            .spec
            .labels
            .get(design.label)
            .map_or_else(BTreeMap::new, |label| Drawing::all(design, label));
        for hole in &panel.holes {
            let (diameter, what) = covered(hole);
            let middle = hole.at - at;
            let keep_out = Circle::new(middle, diameter / 2.0);
            if !keep_out.bounding_box().overlaps(reach) {
                continue;
            }
            if let Some(words) = design.words.iter().find(|one| words_enter(one, keep_out)) {
                let message =
                    format!("the {what} at {} covers the legend {:?}", hole.name, words.text);
                let finding = Finding::error("under-knob", message).at(words.from);
                findings.push(told(finding, design, words.area.center()).help(HIDDEN));
                continue;
            }
            let near = marks.iter().filter(|(_, rect)| rect.overlaps(keep_out.bounding_box()));
            let hidden = near.map(|(mark, _)| mark).find(|mark| mark_enters(mark, keep_out));
            if let Some(mark) = hidden {
                let message = format!("the {what} at {} covers marks", hole.name);
                let finding = Finding::warning("under-knob", message).at(mark.from);
                findings.push(told(finding, design, middle).help(HIDDEN));
            }
            for drawing in drawings.values() {
                let share = drawing.share_in(keep_out);
                if share < HIDDEN_SHARE {
                    continue;
                }
                let share = fixed(share * 100.0, 0);
                let message =
                    format!("the {what} at {} covers {share} % of the drawing", hole.name);
                let finding = Finding::warning("under-knob", message).at(drawing.from);
                findings.push(told(finding, design, middle).help(HIDDEN));
            }
        }
    }
}

/// Less of a drawing than this under a knob is seen by no one to be missing (common practice, no source).
const HIDDEN_SHARE: f64 = 0.05;

/// What one part from a file drew.
#[derive(Default)]
struct Drawing<'d> {
    paths: Vec<&'d Outline>,
    area: f64,
    from: Place,
}

impl<'d> Drawing<'d> {
    /// Those of a label, by the part that draws each.
    fn all(design: &'d Design, label: &Label) -> BTreeMap<PartId, Drawing<'d>> {
        let mut drawings: BTreeMap<PartId, Drawing<'d>> = BTreeMap::new();
        let mut parts = BTreeSet::new();
        Part::each(&label.parts, &mut |part| {
            if matches!(part.element, Element::Art(_)) {
                parts.insert(part.id);
            }
        });
        for mark in design.marks.iter().filter(|mark| parts.contains(&mark.part)) {
            let drawing = drawings.entry(mark.part).or_default();
            drawing.paths.push(&mark.path);
            drawing.area += mark.path.area();
            drawing.from = mark.from;
        }
        drawings
    }

    /// Share of it that lies in a circle; nothing of one that reaches all round it, which is a ground.
    fn share_in(&self, circle: Circle) -> f64 {
        let round = circle.bounding_box();
        let near = self.paths.iter().filter(|path| path.bounds().overlaps(round));
        let Some(bounds) = self.paths.iter().map(|path| path.bounds()).reduce(|a, b| a.union(b))
        else {
            return 0.0;
        };
        if bounds.union(round) == bounds {
            return 0.0;
        }
        let disc = shape::disc(circle.center, circle.radius * 2.0);
        near.map(|path| path.common(&disc).area()).sum::<f64>() / self.area.max(f64::MIN_POSITIVE)
    }
}

/// The diameter in which nothing can be read, mm, and why: covered, or a window that takes the ink away.
fn covered(hole: &Hole) -> (f64, &'static str) {
    let (diameter, what) = hole.keep_out();
    if hole.clear_mm > diameter { (hole.clear_mm, "window without ink") } else { (diameter, what) }
}

const HIDDEN: &str = "move it out: a larger gap, radius or `from_middle`, or a smaller knob";

fn told(finding: Finding, design: &Design, spot: Point) -> Finding {
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

pub(super) fn legend_off_panel(job: Job<'_>, findings: &mut Findings) {
    for (design, panel, at) in placed(job) {
        let plate = Rect::from_center_size(Point::ORIGIN, panel.size);
        let trim = design.size() + at;
        let over = (plate.x0 - trim.x0)
            .max(trim.x1 - plate.x1)
            .max(plate.y0 - trim.y0)
            .max(trim.y1 - plate.y1);
        if over <= ROUNDING_MM {
            continue;
        }
        let message =
            format!("the legend reaches {} mm past the edge of the panel", fixed(over, 2));
        let finding = Finding::warning("legend-off-panel", message).at(design.from);
        let finding = finding.label(&design.name).measured(over, 0.0);
        findings.push(finding.help("move it in, or stand it on another side of its hole"));
    }
}

pub(super) fn turned_legend(job: Job<'_>, findings: &mut Findings) {
    for (design, _, _) in placed(job) {
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
            let finding = Finding::note("turned-legend", message).at(words.from);
            let help = "level words are read fastest; make room and take `turned` out";
            findings.push(told(finding, design, words.area.center()).help(help));
        }
    }
}

/// A row has at least so many members.
const ROW: usize = 4;

/// Gaps that differ by less than this were meant to be equal or can be seen by no one, mm; by more than
/// this share of the gap they were meant to differ (common practice, no source).
const EVEN_MM: f64 = 0.15;
const MEANT: f64 = 0.3;

pub(super) fn uneven_gap(job: Job<'_>, findings: &mut Findings) {
    for panel in &job.spec.panels {
        for down in [false, true] {
            let along = |hole: &Hole| if down { hole.at.y } else { hole.at.x };
            let across = |hole: &Hole| if down { hole.at.x } else { hole.at.y };
            let mut holes: Vec<&Hole> = panel.holes.iter().collect();
            holes.sort_by(|a, b| {
                let row = |hole: &Hole| (across(hole) / EVEN_MM).round();
                let kind = a.kind.cmp(&b.kind);
                row(a).total_cmp(&row(b)).then(kind).then(along(a).total_cmp(&along(b)))
            });
            let same_row = |a: &&Hole, b: &&Hole| {
                (across(a) - across(b)).abs() < EVEN_MM
                    && a.kind == b.kind
                    && (a.diameter_mm - b.diameter_mm).abs() < EVEN_MM
            };
            for row in holes.chunk_by(same_row).filter(|row| row.len() >= ROW) {
                let next = row.iter().skip(1);
                let gaps: Vec<f64> =
                    row.iter().zip(next).map(|(one, next)| along(next) - along(one)).collect();
                let Some((at, usual)) = odd_one(&gaps) else { continue };
                let (Some(one), Some(other), Some(gap)) =
                    (row.get(at), row.get(at + 1), gaps.get(at))
                else {
                    continue;
                };
                let message = format!(
                    "{} and {} are {} mm apart, the others of their row {} mm",
                    one.name,
                    other.name,
                    fixed(*gap, 2),
                    fixed(usual, 2)
                );
                let finding = Finding::note("uneven-gap", message).at(other.place);
                let finding = finding.label(&panel.name).measured(*gap, usual);
                findings.push(finding.help("check the hole's place"));
            }
        }
    }
}

/// The one gap that is a little off where all others are equal, and what the others are.
fn odd_one(gaps: &[f64]) -> Option<(usize, f64)> {
    let mut sorted = gaps.to_vec();
    sorted.sort_by(f64::total_cmp);
    let usual = *sorted.get(sorted.len() / 2)?;
    let off = |gap: &f64| (gap - usual).abs() > EVEN_MM;
    // A hole out of its place makes two gaps odd, a short end one.
    let odd: Vec<usize> =
        gaps.iter().enumerate().filter(|(_, gap)| off(gap)).map(|(at, _)| at).collect();
    let near = |at: &usize| gaps.get(*at).is_some_and(|gap| (gap - usual).abs() < usual * MEANT);
    match odd.as_slice() {
        [only] if near(only) => Some((*only, usual)),
        [one, next] if *next == one + 1 && near(one) && near(next) => Some((*one, usual)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_gap_that_slipped_is_found_and_groups_are_not() {
        assert_eq!(odd_one(&[20.0, 20.0, 19.0, 21.0, 20.0]), Some((2, 20.0)));
        assert_eq!(odd_one(&[20.0, 20.0, 20.1]), None);
        assert_eq!(odd_one(&[20.0, 20.0, 45.0, 20.0]), None);
        assert_eq!(odd_one(&[18.0, 20.0, 22.0, 24.0]), None);
        assert_eq!(odd_one(&[20.0, 20.0, 18.0]), Some((2, 20.0)));
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
