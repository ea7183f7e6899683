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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Role, WhiteOrder, WhitePlate};
    use crate::finding::Findings;
    use crate::output::samples;
    use crate::proof::proofed;
    use crate::shape::rectangle;
    use crate::spec::{Applied, UnderPrint, WhiteArea};
    use kurbo::{Rect, Size};

    /// What one design of 10 x 10 mm with one mark shows on a grey of 0x80.
    fn shown(label: Label, mark: Rect, white: Option<WhitePlate>) -> Vec<(Rect, String)> {
        let mut spec = samples::empty_spec();
        spec.printer.ink_opacity = 0.0;
        spec.printer.white_opacity = 0.5;
        for surface in spec.surfaces.values_mut() {
            surface.colour = Colour { rgb: [128; 3] };
        }
        spec.labels.push(label);
        let ink = samples::ink(rectangle(mark), Colour { rgb: [188; 3] }, Role::Fill);
        let mut designs = vec![samples::design("a", 0, Size::new(10.0, 10.0), vec![ink])];
        designs[0].white = white;
        designs[0].backing = Some(rectangle(mark));
        let findings = Findings::default();
        let areas = areas(proofed(&spec, &designs, &findings), &designs[0]);
        areas.iter().map(|area| (area.path.bounds(), area.colour.to_string())).collect()
    }

    const LEFT: Rect = Rect::new(-4.0, -4.0, 0.0, 4.0);

    #[test]
    fn clear_film_shows_ink_over_paint_cut_to_the_trim() {
        // By hand with IEC 61966-2-1: 0xbc is 0.502886 of full light, 0x80 0.215861; times each other 0.108553,
        // which is 0x5d (92.96).
        let label = samples::label("a");
        let past = Rect::new(-7.0, -4.0, 0.0, 4.0);
        let cut = Rect::new(-5.0, -4.0, 0.0, 4.0);
        assert_eq!(shown(label.clone(), past, None), [(cut, "#5d5d5d".to_owned())]);
        // Printed mirrored, it still reads from the front.
        let inside = Label { applied: Applied::InsideWindow, ..label };
        assert_eq!(shown(inside, LEFT, None), [(LEFT, "#5d5d5d".to_owned())]);
    }

    #[test]
    fn white_film_is_white_and_ink_on_it_is_of_its_own_colour() {
        let label = Label { film: Film::White, ..samples::label("a") };
        let trim = Rect::new(-5.0, -5.0, 5.0, 5.0);
        let wanted = [(trim, "#ffffff".to_owned()), (LEFT, "#bcbcbc".to_owned())];
        assert_eq!(shown(label, LEFT, None), wanted);
    }

    #[test]
    fn the_part_of_a_mark_that_lies_on_white_is_seen_on_white() {
        // Half-opaque white over 0.215861 is 0.607930 (0xcd, 204.6); coded 0xcd is 0.610496. The ink's 0.502886
        // times that is 0.307010, which is 0x96 (150.45): IEC 61966-2-1.
        let under = UnderPrint { area: WhiteArea::Ink, tint: 1.0, choke_mm: 0.0 };
        let label = Label { white: White::Under(under), ..samples::label("a") };
        let half = Rect::new(-2.0, -4.0, 2.0, 4.0);
        let plate = WhitePlate { path: rectangle(half), tint: 1.0, order: WhiteOrder::First };
        let found = shown(label, LEFT, Some(plate));
        let both = Rect::new(-2.0, -4.0, 0.0, 4.0);
        let wanted = [(half, "#cdcdcd"), (LEFT, "#5d5d5d"), (both, "#969696")];
        assert_eq!(found, wanted.map(|(area, colour)| (area, colour.to_owned())));
    }

    #[test]
    fn a_backing_hides_the_paint_under_its_ink() {
        let label = Label { white: White::Backing { choke_mm: 0.5 }, ..samples::label("a") };
        let found = shown(label, LEFT, None);
        let colours: Vec<&str> = found.iter().map(|(_, colour)| colour.as_str()).collect();
        assert_eq!(colours, ["#ffffff", "#5d5d5d", "#bcbcbc"]);
        let inner = found[2].0;
        assert!((inner.x0 + 3.5).abs() < 0.002 && (inner.y1 - 3.5).abs() < 0.002, "{inner:?}");
    }
}
