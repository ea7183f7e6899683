//! The foot of a sheet: what it is, how to print it, a bar across, and a word when it reads backwards.

use super::SheetDresser;
use super::bars::{self, bar, longest};
use super::lettering::{Lettering, LetteringSetter, Reads};
use crate::design::WhiteOrder;
use crate::sheet::{Parting, Sheet, SheetContext};
use crate::spec::{Film, Profile, Spec};
use crate::units::fixed;
use kurbo::{Affine, Point, Rect};
use std::collections::BTreeSet;
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
    pub(super) fn most(setter: &mut LetteringSetter, spec: &Spec, film: Film, width: f64) -> Foot {
        let marked = spec.wiring.as_ref().is_some_and(|wiring| wiring.markers.film == film);
        let mut which = vec![film.name().to_owned(), "sheet 888 of 888".to_owned()];
        which.extend(assumed(spec).filter(|_| marked));
        Foot::of(setter, spec, &which, width)
    }

    /// The foot with these words about which sheet it is.
    fn of(setter: &mut LetteringSetter, spec: &Spec, which: &[String], width: f64) -> Foot {
        let bar = longest(width);
        let howto = "print at 100 %, no scaling";
        // Beside the bar stand its length and, where there is room, how to print.
        let (mut beside, mut howto_beside) = (None, false);
        if let Some(length) = bar {
            let fits = |words: &Rc<Lettering>| length + BESIDE + words.width * bars::CAP <= width;
            let long = setter.set(&format!("{length} mm · {howto}"));
            howto_beside = fits(&long);
            beside = if howto_beside {
                Some(long)
            } else {
                Some(setter.set(&format!("{length} mm"))).filter(fits)
            };
        }
        let mut segments = vec![spec.title.clone()];
        segments.extend(spec.revision.iter().map(|revision| format!("revision {revision}")));
        segments.extend(spec.date.clone());
        segments.extend_from_slice(which);
        let corrected = spec.printer.profile.as_ref().and_then(Profile::words);
        segments.push(match corrected {
            Some(words) => format!("{words} (the PDF; the SVG is true to size)"),
            None => spec.printer.name.clone(),
        });
        if !howto_beside {
            segments.push(howto.to_owned());
        }
        Foot { rows: wrapped(setter, &segments, width), bar, beside }
    }

    /// Its height, mm, the air above it included.
    pub(super) fn height(&self) -> f64 {
        let rows: f64 = self.rows.iter().map(|_| PITCH).sum();
        AIR + rows + if self.bar.is_some() { bars::HEIGHT } else { 0.0 }
    }
}

/// The most assumed thicknesses that are listed in a foot.
const MOST_ASSUMED: usize = 4;

/// How thick wires were taken to be where nobody measured them: markers are cut to that.
fn assumed(spec: &Spec) -> Option<String> {
    let wires = spec.wiring.iter().flat_map(|wiring| &wiring.wires);
    let mut taken: Vec<String> = Vec::new();
    for wire in wires.filter(|wire| wire.diameter.assumed) {
        let gauge =
            wire.gauge.map_or("wire of no given gauge".to_owned(), |gauge| gauge.to_string());
        let words = format!("{gauge} as {} mm", fixed(wire.diameter.mm, 2));
        if !taken.contains(&words) {
            taken.push(words);
        }
    }
    let more = if taken.len() > MOST_ASSUMED { " and more" } else { "" };
    taken.truncate(MOST_ASSUMED);
    let listed = taken.join(", ");
    let words = format!("outside diameters assumed, measure yours: {listed}{more}");
    (!taken.is_empty()).then_some(words)
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
fn wrapped(setter: &mut LetteringSetter, segments: &[String], width: f64) -> Vec<Rc<Lettering>> {
    let mut rows: Vec<String> = Vec::new();
    for segment in segments.iter().filter(|segment| !segment.is_empty()) {
        let longer = rows.last().map(|row| format!("{row} · {segment}"));
        match longer.filter(|longer| setter.set(longer).width * CAP <= width) {
            Some(longer) => {
                rows.pop();
                rows.push(longer);
            }
            None => rows.push(segment.clone()),
        }
    }
    rows.iter().filter_map(|row| setter.shortened(row, "", width / CAP)).collect()
}

impl SheetDresser<'_, '_> {
    /// Draws the foot at the bottom edge, else in the smallest waste that takes it. Returns whether there was
    /// room.
    pub(super) fn foot(&mut self) -> bool {
        let SheetDresser { context, sheet, setter, waste, drawing } = self;
        let spec = context.spec;
        let number = format!("sheet {} of {}", sheet.number, sheet.of);
        let mut which = vec![sheet.film.name().to_owned(), number];
        which.extend(assumed(spec).filter(|_| sheet.parting == Parting::Shared));
        which.extend(sheet.white.map(|order| white_words(order, sheet.fed_twice).to_owned()));
        let backwards = backwards(context, sheet);
        let extra = if backwards.is_some() { BACKWARDS_HEIGHT } else { 0.0 };
        let edge = Rect { y1: waste.base, ..waste.printable };
        let foot = Foot::of(setter, spec, &which, edge.width());
        let usual = Rect { y0: edge.y1 - foot.height() - extra, ..edge };
        let (foot, area) = if waste.is_free(usual) {
            (foot, usual)
        } else {
            let narrow = longest(edge.width()).unwrap_or(edge.width() / 2.0);
            let found = waste.free(narrow, AIR + PITCH + extra).into_iter().find_map(|free| {
                let foot = Foot::of(setter, spec, &which, free.width());
                let high = foot.height() + extra;
                (high <= free.height()).then_some((foot, Rect { y0: free.y1 - high, ..free }))
            });
            let Some(found) = found else { return false };
            found
        };
        let mut base = area.y0 + AIR + CAP;
        for (line, reads) in backwards.into_iter().flatten() {
            if let Some(words) = setter.shortened(&line, "", area.width() / CAP) {
                drawing.write_flush(&words, Point::new(area.x0, base), CAP, reads);
            }
            base += PITCH;
        }
        for row in &foot.rows {
            drawing.write_flush(row, Point::new(area.x0, base), CAP, Reads::Plain);
            base += PITCH;
        }
        if let Some(length) = foot.bar {
            let there = Affine::translate((area.x0, area.y1 - bars::HEIGHT));
            drawing.line(&bar(length).placed(there));
            if let Some(words) = foot.beside {
                let at = Point::new(area.x0 + length + BESIDE, area.y1 - DESCENT * bars::CAP);
                drawing.write(&words, at, bars::CAP, Reads::Plain);
            }
        }
        waste.take(area);
        true
    }
}

/// What a sheet says about labels on it that read backwards: once to be read as it lies there, once
/// mirrored like the labels themselves.
fn backwards(context: &SheetContext, sheet: &Sheet) -> Option<[(String, Reads); 2]> {
    let mirrored = sheet.placements.iter().filter(|placement| placement.mirrored);
    let which: BTreeSet<usize> = mirrored.map(|placement| placement.design).collect();
    if which.is_empty() {
        return None;
    }
    let (plain, mirrored) = if sheet.reads_backwards {
        let plain = "THIS SHEET READS BACKWARDS until it is applied".to_owned();
        (plain, "seen this way round, every label is as it will read".to_owned())
    } else {
        let designs = which.iter().filter_map(|index| context.designs.get(*index));
        let names: Vec<&str> = designs.map(|design| design.name.as_str()).collect();
        let names = names.join(", ");
        let plain = format!("READS BACKWARDS until applied: {names}");
        (plain, format!("seen this way round, these read right: {names}"))
    };
    Some([(plain, Reads::Plain), (mirrored, Reads::Mirrored)])
}
