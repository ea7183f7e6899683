//! What a label's ink looks like on its part.

use crate::colour::{Colour, seen};
use crate::spec::{Film, Label, Spec, White};
use std::collections::BTreeMap;

/// What lies under a label's ink, and how much of it the ink lets through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Seen<'s> {
    /// What shows where there is no ink and no white: the surface through clear film, or white film.
    pub bare: Colour,
    /// Share of its own colour the ink keeps on any ground.
    pub ink_opacity: f64,
    /// What a printed white, or a backing, looks like with no ink on it.
    pub white: Colour,
    /// What the printer is sent for a colour, where that is another than the one it should look like.
    pub printed: &'s BTreeMap<Colour, Colour>,
}

impl<'s> Seen<'s> {
    /// How a label is seen; `None` on clear film when the job does not say what it goes on.
    #[must_use]
    pub(crate) fn of(spec: &'s Spec, label: &Label) -> Option<Seen<'s>> {
        let on = label.on.as_ref().and_then(|on| spec.surfaces.get(on));
        let bare = match label.film {
            Film::Clear => on?.colour,
            Film::White | Film::Sticker | Film::Paper => Colour::WHITE,
        };
        Some(Seen::on(spec, label, bare))
    }

    /// How it would be seen on another ground.
    #[must_use]
    pub(crate) fn on(spec: &'s Spec, label: &Label, bare: Colour) -> Seen<'s> {
        let printer = &spec.printer;
        let white = match &label.white {
            White::None => bare,
            // White that is printed as a tint covers that share of the ground.
            White::Under(under) => {
                let covers = seen::over(Colour::WHITE, printer.white_opacity, bare);
                seen::mixed(bare, covers, under.tint)
            }
            White::Backing { .. } => Colour::WHITE,
        };
        Seen { bare, ink_opacity: printer.ink_opacity, white, printed: &spec.printed }
    }

    /// Ink straight on the film.
    #[must_use]
    pub(crate) fn ink(&self, ink: Colour) -> Colour {
        seen::over(self.sent(ink), self.ink_opacity, self.bare)
    }

    /// Ink with white under it.
    #[must_use]
    pub(crate) fn ink_on_white(&self, ink: Colour) -> Colour {
        seen::over(self.sent(ink), self.ink_opacity, self.white)
    }

    /// The ink that is laid down for a colour.
    fn sent(&self, ink: Colour) -> Colour {
        self.printed.get(&ink).copied().unwrap_or(ink)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spec::{UnderPrint, WhiteArea, samples};

    /// How red, red on white, and white look on grey.
    fn on_grey(white: White) -> [[u8; 3]; 3] {
        let mut spec = samples::spec();
        spec.printer.ink_opacity = 0.0;
        spec.printer.white_opacity = 0.5;
        spec.surfaces.values_mut().for_each(|part| part.colour = Colour { rgb: [128; 3] });
        let label = Label { white, ..samples::label("x") };
        let on = Seen::of(&spec, &label).unwrap();
        let red = Colour { rgb: [255, 0, 0] };
        [on.ink(red), on.ink_on_white(red), on.white].map(|colour| colour.rgb)
    }

    #[test]
    fn white_under_the_ink_lifts_its_ground() {
        // By hand with IEC 61966-2-1: 0x80 is 0.215861 of full light. Half-opaque white over it: 0.607930, 0xcd
        // (204.6). A half tint of that: 0.411896, 0xac (171.9). Full red keeps what the ground has of red.
        let [ink, ink_on_white, _] = on_grey(White::None);
        assert_eq!((ink, ink_on_white), ([128, 0, 0], [128, 0, 0]));
        let under = |tint| White::Under(UnderPrint { area: WhiteArea::Ink, tint, choke_mm: 0.0 });
        let [_, ink_on_white, white] = on_grey(under(1.0));
        assert_eq!((ink_on_white, white), ([205, 0, 0], [205; 3]));
        assert_eq!(on_grey(under(0.5))[2], [172; 3]);
        assert_eq!(on_grey(White::Backing { choke_mm: 0.3 })[1], [255, 0, 0]);
    }

    #[test]
    fn white_film_hides_the_surface_and_clear_film_needs_one() {
        let spec = samples::spec();
        let label = Label { on: None, film: Film::White, ..samples::label("x") };
        assert_eq!(Seen::of(&spec, &label).unwrap().bare, Colour::WHITE);
        assert_eq!(Seen::of(&spec, &Label { film: Film::Clear, ..label }), None);
    }
}
