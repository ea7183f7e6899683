//! A label as flat areas of the colours it shows on its part.

use super::Proofed;
use crate::colour::Colour;
use crate::design::{Design, Plate, Seen};
use crate::shape::Outline;
use crate::spec::{Film, Label, White};

/// An area of one colour.
pub(super) struct Area {
    pub(super) path: Outline,
    pub(super) colour: Colour,
}

/// How a label is seen, on white where the job does not say what it goes on.
pub(super) fn seen<'a>(job: Proofed<'a>, label: &Label) -> Seen<'a> {
    let seen = Seen::of(job.spec, label);
    seen.unwrap_or_else(|| Seen::on(job.spec, label, Colour::WHITE))
}

/// The areas a design shows inside its trim, painted in order; nothing where the surface shows through.
///
/// They read as they do from the front: how the film was printed does not matter any more.
pub(super) fn areas(job: Proofed<'_>, design: &Design) -> Vec<Area> {
    let Some(label) = job.label(design) else { return Vec::new() };
    let seen = seen(job, label);
    let mut areas = Vec::new();
    let mut paint = |path: Outline, colour: Colour| {
        if !path.is_empty() {
            areas.push(Area { path, colour });
        }
    };
    if label.film != Film::Clear {
        paint(design.trim.clone(), seen.bare);
    }
    let white = white(job, design).common(&design.trim);
    paint(white.clone(), seen.white);
    for mark in &design.marks {
        let Plate::Ink(ink) = mark.plate else { continue };
        let inside = mark.path.common(&design.trim);
        let on_white = inside.common(&white);
        if on_white != inside {
            paint(inside, seen.ink(ink));
        }
        // Painted over the whole mark and not beside it, so that no hairline opens between the two.
        paint(on_white, seen.ink_on_white(ink));
    }
    areas
}

/// Where there is white under a design's ink: its plate of white, or the piece of white film laid first.
pub(super) fn white(job: Proofed<'_>, design: &Design) -> Outline {
    let Some(label) = job.label(design) else { return Outline::default() };
    match &label.white {
        White::None => Outline::default(),
        White::Under(_) => {
            design.white.as_ref().map_or_else(Outline::default, |white| white.path.clone())
        }
        White::Backing { choke_mm } => {
            let whole = design.backing.as_ref();
            whole.map(|whole| whole.common(&design.trim).grown(-choke_mm)).unwrap_or_default()
        }
    }
}
