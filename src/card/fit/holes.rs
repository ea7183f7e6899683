//! The list of holes, to check against the part and to drill by.

use crate::card::page::section;
use crate::card::strip::{Rule, RunningHead, Strip, StripWriter, tick_box};
use crate::card::typeset::{Level, QUIET};
use crate::spec::panel::{Hole, Panel};
use crate::units::{counted, fixed};
use kurbo::{Affine, Point};
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
pub(super) fn list(panel: &Panel, writer: &mut StripWriter<'_>) -> Vec<Strip> {
    if panel.holes.is_empty() {
        return Vec::new();
    }
    let scale = writer.width / 178.0;
    let columns = COLUMNS.map(|(x, name)| (x * scale, name));
    let title = format!("Holes of {}", panel.name);
    let totals = counted(panel.holes.len(), "hole");
    let note =
        format!("In mm {}. Tick a hole when it is measured on the part.", panel.origin.words());
    let mut strips = Vec::from(section(&title, &totals, &note, writer));
    let running = Rc::new(RunningHead { title, columns: columns.to_vec() });
    writer.strip = Strip::held(6.4);
    writer.column_names(&columns, 3.0);
    strips.push(writer.take());
    for hole in &panel.holes {
        let running = Some(Rc::clone(&running));
        writer.strip = Strip { height: ROW_MM, running, ..Strip::default() };
        writer.strip.rule(Rule::Thin, 0.0, 0.0, writer.width);
        writer.strip.fill(tick_box(3.4).placed(Affine::translate((0.0, 1.2))), QUIET);
        for ((x, _), text) in columns.iter().zip(row(panel, hole)) {
            writer.set_first(1, Level::Body, &text, Point::new(*x, 1.9), 36.0 * scale);
        }
        strips.push(writer.take());
    }
    strips.push(Strip::gap(8.0));
    strips
}

fn row(panel: &Panel, hole: &Hole) -> [String; 6] {
    let at = panel.origin.from_panel(hole.at, panel.size);
    let [x, y, diameter] = [at.x, at.y, hole.diameter_mm].map(|mm| fixed(mm, 2).to_string());
    let (covered, by) = hole.keep_out();
    let covered = if by == "hole" { String::new() } else { format!("{by} {}", fixed(covered, 2)) };
    [hole.name.clone(), x, y, diameter, hole.kind.clone().unwrap_or_default(), covered]
}
