//! The foot of a sheet: what it is, how to print it, a bar across, and a word when it reads backwards.

use super::bars::{self, bar, longest, moved};
use super::pen::{Drawing, Lettering, Pen, Reads};
use super::{Job, Waste};
use crate::design::WhiteOrder;
use crate::sheet::{Parting, Sheet};
use crate::spec::{Film, Profile, Spec};
use crate::units::fixed;
use kurbo::{Point, Rect};
use std::rc::Rc;

/// Cap height of the foot line, mm: above what the finest printer class needs.
const CAP: f64 = 1.8;

/// Base line to base line, mm.
const PITCH: f64 = 3.4;

/// Air between the labels and the foot, mm.
const AIR: f64 = 1.6;

/// Air between the bar and the words beside it, mm.
const BESIDE: f64 = 2.5;

/// Room for descenders below a base line as a share of the cap height.
const DESCENT: f64 = 0.35;

/// How much higher the foot is with the two lines about reading backwards, mm.
pub(super) const BACKWARDS_HEIGHT: f64 = 2.0 * PITCH;

/// How the foot fills a given width.
pub(super) struct Foot {
    rows: Vec<Rc<Lettering>>,
    /// Length of the bar across, mm.
    bar: Option<f64>,
    /// Words beside the bar.
    beside: Option<Rc<Lettering>>,
}

impl Foot {
    /// The highest foot any sheet of this film has.
    pub(super) fn most(pen: &mut Pen, spec: &Spec, film: Film, width: f64) -> Foot {
        let marked = spec.wiring.as_ref().is_some_and(|wiring| wiring.markers.film == film);
        let which = format!("{} · sheet 888 of 888", film.name());
        let which = if marked { with_assumed(which, spec) } else { which };
        Foot::of(pen, spec, &which, width)
    }

    fn of(pen: &mut Pen, spec: &Spec, which: &str, width: f64) -> Foot {
        let bar = longest(width);
        let howto = "print at 100 %, no scaling";
        // Beside the bar stand its length and, where there is room, how to print.
        let (mut beside, mut howto_beside) = (None, false);
        if let Some(length) = bar {
            let fits = |words: &Rc<Lettering>| length + BESIDE + words.width * bars::CAP <= width;
            let long = pen.set(&format!("{length} mm · {howto}"));
            howto_beside = fits(&long);
            beside = if howto_beside {
                Some(long)
            } else {
                Some(pen.set(&format!("{length} mm"))).filter(fits)
            };
        }
        let mut segments = vec![spec.title.clone()];
        segments.extend(spec.revision.iter().map(|revision| format!("revision {revision}")));
        segments.extend(spec.date.clone());
        segments.extend(which.split(" · ").map(str::to_owned));
        let corrected = spec.printer.profile.as_ref().and_then(Profile::words);
        segments.push(match corrected {
            Some(words) => format!("{words} (the PDF; the SVG is true to size)"),
            None => spec.printer.name.clone(),
        });
        if !howto_beside {
            segments.push(howto.to_owned());
        }
        Foot { rows: wrapped(pen, &segments, width), bar, beside }
    }

    /// Its height, mm, the air above it included.
    pub(super) fn height(&self) -> f64 {
        let rows: f64 = self.rows.iter().map(|_| PITCH).sum();
        AIR + rows + if self.bar.is_some() { bars::HEIGHT } else { 0.0 }
    }
}

/// The most assumed thicknesses that are listed in a foot.
const MOST_ASSUMED: usize = 4;

/// Adds how thick wires were taken to be where nobody measured them: markers are cut to that.
fn with_assumed(which: String, spec: &Spec) -> String {
    let wires = spec.wiring.iter().flat_map(|wiring| &wiring.wires);
    let assumed = wires.filter(|wire| wire.diameter.assumed);
    let mut taken: Vec<String> = Vec::new();
    for wire in assumed {
        let gauge =
            wire.gauge.map_or("wire of no given gauge".to_owned(), |gauge| gauge.to_string());
        let words = format!("{gauge} as {} mm", fixed(wire.diameter.mm, 2));
        if !taken.contains(&words) {
            taken.push(words);
        }
    }
    if taken.is_empty() {
        return which;
    }
    let more = if taken.len() > MOST_ASSUMED { " and more" } else { "" };
    taken.truncate(MOST_ASSUMED);
    format!("{which} · outside diameters assumed, measure yours: {}{more}", taken.join(", "))
}

/// What the foot says about white.
fn white_words(order: WhiteOrder, fed_twice: bool) -> &'static str {
    match (order, fed_twice) {
        (WhiteOrder::First, true) => "two passes: first the white, then the colours over it",
        (WhiteOrder::Last, true) => "two passes: first the colours, then the white over them",
        (WhiteOrder::First, false) => "white under the colours",
        (WhiteOrder::Last, false) => "white over the colours",
    }
}

/// Segments in rows of at most this width, a middle dot between them.
fn wrapped(pen: &mut Pen, segments: &[String], width: f64) -> Vec<Rc<Lettering>> {
    let mut rows: Vec<String> = Vec::new();
    for segment in segments.iter().filter(|segment| !segment.is_empty()) {
        let longer = rows.last().map(|row| format!("{row} · {segment}"));
        match longer.filter(|longer| pen.set(longer).width * CAP <= width) {
            Some(longer) => {
                rows.pop();
                rows.push(longer);
            }
            None => rows.push(segment.clone()),
        }
    }
    rows.iter().filter_map(|row| pen.shortened(row, "", width / CAP)).collect()
}

/// Draws the foot at the bottom edge, else in the smallest waste that takes it. Whether there was room.
pub(super) fn draw(
    job: &Job,
    sheet: &Sheet,
    pen: &mut Pen,
    waste: &mut Waste,
    drawing: &mut Drawing,
) -> bool {
    let which = format!("{} · sheet {} of {}", sheet.film.name(), sheet.number, sheet.of);
    let shared = sheet.parting == Parting::Shared;
    let which = if shared { with_assumed(which, job.spec) } else { which };
    let which = match sheet.white {
        Some(order) => format!("{which} · {}", white_words(order, sheet.fed_twice)),
        None => which,
    };
    let backwards = Backwards::on(job, sheet);
    let extra = if backwards.is_some() { BACKWARDS_HEIGHT } else { 0.0 };
    let edge = Rect { y1: waste.base, ..waste.printable };
    let foot = Foot::of(pen, job.spec, &which, edge.width());
    let usual = Rect { y0: edge.y1 - foot.height() - extra, ..edge };
    let (foot, spot) = if waste.is_free(usual) {
        (foot, usual)
    } else {
        let narrow = longest(edge.width()).unwrap_or(edge.width() / 2.0);
        let found = waste.free(narrow, AIR + PITCH + extra).into_iter().find_map(|free| {
            let foot = Foot::of(pen, job.spec, &which, free.width());
            let high = foot.height() + extra;
            (high <= free.height()).then_some((foot, Rect { y0: free.y1 - high, ..free }))
        });
        let Some(found) = found else { return false };
        found
    };
    let mut base = spot.y0 + AIR + CAP;
    if let Some(backwards) = backwards {
        backwards.draw(pen, drawing, Point::new(spot.x0, base), spot.width());
        base += BACKWARDS_HEIGHT;
    }
    for row in &foot.rows {
        drawing.write_flush(row, Point::new(spot.x0, base), CAP, Reads::Plain);
        base += PITCH;
    }
    if let Some(length) = foot.bar {
        drawing.line(&moved(&bar(length), spot.x0, spot.y1 - bars::HEIGHT));
        if let Some(words) = foot.beside {
            let at = Point::new(spot.x0 + length + BESIDE, spot.y1 - DESCENT * bars::CAP);
            drawing.write(&words, at, bars::CAP, Reads::Plain);
        }
    }
    waste.take(spot);
    true
}

/// What a sheet says about labels on it that read backwards: once to be read as it lies there, once
/// mirrored like the labels themselves.
struct Backwards {
    plain: (String, String),
    mirrored: (String, String),
}

impl Backwards {
    fn on(job: &Job, sheet: &Sheet) -> Option<Backwards> {
        let mut which: Vec<usize> = sheet
            .placements
            .iter()
            .filter(|placement| placement.mirrored)
            .map(|placement| placement.design)
            .collect();
        which.sort_unstable();
        which.dedup();
        if which.is_empty() {
            return None;
        }
        let halves = |beginning: &str, rest: &str| (beginning.to_owned(), rest.to_owned());
        if sheet.reads_backwards {
            return Some(Backwards {
                plain: halves("THIS SHEET READS BACKWARDS until it is applied", ""),
                mirrored: halves("seen this way round, every label is as it will read", ""),
            });
        }
        let names: Vec<&str> = which
            .iter()
            .filter_map(|design| job.designs.get(*design))
            .map(|design| design.name.as_str())
            .collect();
        let names = names.join(", ");
        Some(Backwards {
            plain: halves("READS BACKWARDS until applied: ", &names),
            mirrored: halves("seen this way round, these read right: ", &names),
        })
    }

    fn draw(&self, pen: &mut Pen, drawing: &mut Drawing, at: Point, width: f64) {
        let lines = [(&self.plain, Reads::Plain), (&self.mirrored, Reads::Mirrored)];
        for (row, ((beginning, rest), reads)) in (0_u8..).zip(lines) {
            let at = Point::new(at.x, at.y + PITCH * f64::from(row));
            if let Some(words) = pen.shortened(&format!("{beginning}{rest}"), "", width / CAP) {
                drawing.write_flush(&words, at, CAP, reads);
            }
        }
    }
}
