//! The list of holes, to check against the part and to drill by.

use crate::card::page::{section, width};
use crate::card::strip::{Rule, Running, Strip, tick_box};
use crate::card::typeset::{Level, Typesetter};
use crate::spec::Spec;
use crate::spec::panel::{Hole, Panel};
use crate::units::fixed;
use kurbo::Point;
use std::rc::Rc;

/// Where the columns start, mm, on a form 178 mm wide, and what they are.
const COLUMNS: [(f64, &str); 6] = [
    (7.0, "Hole"),
    (45.0, "x"),
    (65.0, "y"),
    (85.0, "Diameter"),
    (108.0, "Kind"),
    (140.0, "Covered by"),
];

/// Height of a row, mm.
const ROW_MM: f64 = 5.6;

/// The strips of one panel's list; none for a panel without holes.
pub(super) fn list(spec: &Spec, panel: &Panel, setter: &mut Typesetter<'_>) -> Vec<Strip> {
    if panel.holes.is_empty() {
        return Vec::new();
    }
    let scale = width(spec) / 178.0;
    let columns = COLUMNS.map(|(x, name)| (x * scale, name));
    let title = format!("Holes of {}", panel.name);
    let count = panel.holes.len();
    let totals = if count == 1 { "1 hole".to_owned() } else { format!("{count} holes") };
    let note =
        format!("In mm {}. Tick a hole when it is measured on the part.", panel.origin.words());
    let mut strips = section((&title, &totals), &note, width(spec), setter);
    let running = Rc::new(Running { title, columns: columns.to_vec() });
    let mut names = Strip { holds_next: true, height: 6.4, ..Strip::default() };
    for (x, name) in columns {
        let line = setter.phrase(Level::Quiet, name);
        names.write_line(&line, Level::Quiet, Point::new(x, 3.0));
    }
    strips.push(names);
    for hole in &panel.holes {
        let mut strip =
            Strip { height: ROW_MM, running: Some(Rc::clone(&running)), ..Strip::default() };
        strip.rule(Rule::Thin, 0.0, 0.0, width(spec));
        strip.fill(
            tick_box(3.4).placed(kurbo::Affine::translate((0.0, 1.2))),
            crate::card::typeset::QUIET,
        );
        let cells = row(panel, hole);
        for ((x, _), text) in columns.iter().zip(cells) {
            let lines = setter.lines(Level::Body, &text, 36.0 * scale);
            for line in lines.get(..1).unwrap_or_default() {
                strip.write_line(line, Level::Body, Point::new(*x, 1.9));
            }
        }
        strips.push(strip);
    }
    strips.push(Strip::gap(8.0));
    strips
}

fn row(panel: &Panel, hole: &Hole) -> [String; 6] {
    let at = panel.origin.from_panel(hole.at, panel.size);
    let (covered, by) = hole.keep_out();
    [
        hole.name.clone(),
        fixed(at.x, 2).to_string(),
        fixed(at.y, 2).to_string(),
        fixed(hole.diameter_mm, 2).to_string(),
        hole.kind.clone().unwrap_or_default(),
        if by == "hole" { String::new() } else { format!("{by} {}", fixed(covered, 2)) },
    ]
}
