//! Each label's name in the waste under it, so that it can be told from its twin once it is cut.

use super::lettering::Reads;
use super::{SheetDresser, Waste};
use crate::sheet::{CopyOrSpare, Placement, SheetContext};
use kurbo::{Point, Rect};

/// Cap heights to choose from, mm. The least is what a gap of 2 mm between bleeds of 0.5 mm holds with
/// descenders; smaller would be blots at 600 dpi.
const CAPS: [f64; 5] = [1.2, 1.0, 0.8, 0.7, 0.65];

/// Air above and below a name, mm.
const AIR: f64 = 0.05;

/// The most air above a name, mm, where there is plenty.
const LOOSE: f64 = 0.35;

/// How far a name keeps from the ends of its label, mm: the ticks stand there.
const INDENT: f64 = 0.4;

impl SheetDresser<'_, '_> {
    /// Draws the names of the labels that have room for one; returns where they are.
    pub(super) fn names(&mut self) -> Vec<Rect> {
        let mut taken = Vec::new();
        for (placement, trim) in self.context.trims(self.sheet) {
            let past = self.context.past(placement);
            let Some(room) = below(trim, past, &self.waste) else { continue };
            let Some((name, end)) = name(self.context, placement) else { continue };
            // The largest that fits, with its words and the height of their ink.
            let caps = CAPS.into_iter().filter(|cap| *cap <= room.height());
            let largest = caps.map(|cap| {
                let words = self.setter.shortened(name, &end, room.width() / cap)?;
                let high = words.ink.height() * cap;
                (high <= room.height()).then_some((cap, words, high))
            });
            let Some((cap, words, high)) = largest.flatten().next() else { continue };
            // The lettering's own middle is half way up its capitals.
            let top = room.y0 + ((room.height() - high) / 2.0).min(LOOSE - AIR);
            let at = Point::new(room.x0, top + (0.5 - words.ink.y0) * cap);
            let reads = if placement.mirrored { Reads::Mirrored } else { Reads::Plain };
            self.drawing.write(&words, at, cap, reads);
            taken.push(Rect::new(room.x0, top, room.x0 + words.width * cap, top + high));
        }
        for name in &taken {
            self.waste.take(*name);
        }
        taken
    }
}

/// The free room right under a label, air taken off.
fn below(trim: Rect, past: f64, waste: &Waste) -> Option<Rect> {
    let top = trim.y1 + past;
    let wanted = Rect::new(trim.x0, top, trim.x1, top + 2.5);
    let bottom = waste
        .taken
        .near(wanted)
        .filter(|taken| taken.x0 < trim.x1 && trim.x0 < taken.x1 && taken.y0 > top - 1e-6)
        .map(|taken| taken.y0)
        .fold(wanted.y1.min(waste.printable.y1), f64::min);
    let room = Rect::new(trim.x0 + INDENT, top + AIR, trim.x1 - INDENT, bottom - AIR);
    (room.width() > 0.0 && room.height() > 0.0).then_some(room)
}

/// A piece's name and what tells it from its twins.
fn name<'a>(context: &SheetContext<'a>, placement: &Placement) -> Option<(&'a str, String)> {
    let design = context.design(placement)?;
    let label = context.spec.labels.get(design.label);
    debug_assert!(label.is_some(), "what is placed has a label");
    let label = label?;
    let end = match placement.piece {
        CopyOrSpare::Copy(_) if label.copies == 1 => String::new(),
        CopyOrSpare::Copy(copy) => format!(" {copy}/{}", label.copies),
        CopyOrSpare::Spare(_) if label.spares == 1 => " spare".to_owned(),
        CopyOrSpare::Spare(spare) => format!(" spare {spare}"),
    };
    Some((&design.name, end))
}
