//! How two neighbouring areas of a label look on the part, and what would make them look farther apart.

use crate::colour::{Colour, seen};
use crate::design::{Mark, Plate, Seen};
use crate::spec::{Film, Label, Spec, UnderPrint, White, WhiteArea, usual_choke_mm};

/// One area of a label: ink or none, on white or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Shade {
    pub(super) ink: Option<Colour>,
    pub(super) on_white: bool,
}

impl Shade {
    /// The shade of what a mark, or nothing, shows.
    pub(super) fn of(top: Option<&Mark>, on_white: bool) -> Shade {
        let ink = top.and_then(|mark| match mark.plate {
            Plate::Ink(colour) => Some(colour),
            Plate::Cut | Plate::Guide => None,
        });
        Shade { ink, on_white }
    }

    /// What it looks like.
    pub(super) fn colour(self, on: &Seen<'_>) -> Colour {
        match (self.ink, self.on_white) {
            (Some(ink), true) => on.ink_on_white(ink),
            (Some(ink), false) => on.ink(ink),
            (None, true) => on.white,
            (None, false) => on.bare,
        }
    }

    fn under_printed(self) -> Shade {
        Shade { on_white: self.ink.is_some(), ..self }
    }

    fn without_white(self) -> Shade {
        Shade { on_white: false, ..self }
    }

    fn darker(self, share: f64) -> Shade {
        Shade { ink: self.ink.map(|ink| seen::mixed(ink, Colour::BLACK, share)), ..self }
    }
}

/// Two areas that meet: what is to be made out, and what is round it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pair {
    pub(super) part: Shade,
    pub(super) ground: Shade,
}

impl Pair {
    /// Contrast of the two as they look, 1 to 21.
    pub(super) fn contrast(&self, on: &Seen<'_>) -> f64 {
        self.part.colour(on).contrast(self.ground.colour(on))
    }

    fn each(&self, change: impl Fn(Shade) -> Shade) -> Pair {
        Pair { part: change(self.part), ground: change(self.ground) }
    }

    /// Ways to reach a contrast, each with what it would give; a sentence for the help of a finding.
    pub(super) fn cures(&self, spec: &Spec, label: &Label, needed: f64) -> String {
        let Some(on) = Seen::of(spec, label) else { return String::new() };
        let mut ways: Vec<String> = Vec::new();
        if matches!(label.white, White::Under(_)) && self.part.ink.is_some() && !self.part.on_white
        {
            let part = Shade { on_white: true, ..self.part };
            let contrast = Pair { part, ..*self }.contrast(&on);
            if contrast >= needed && self.left_out_of_white(label) {
                ways.push(format!(
                    "white under this ink too gives {contrast:.1}:1: add it to `of`"
                ));
            } else if contrast >= needed {
                ways.push(format!(
                    "most of it has no white under it; white all through gives {contrast:.1}:1: bolder letters, or \
                     a smaller choke"
                ));
            }
        }
        let clear = label.film == Film::Clear;
        if clear && label.white == White::None {
            let contrast = self.each(Shade::under_printed).contrast(&under_printed(spec, label));
            if contrast >= needed {
                // One choke on each side, and the white that is left has to be printed.
                let printer = &spec.printer;
                let strokes = 2.0 * usual_choke_mm(printer) + printer.thinnest_white;
                ways.push(format!(
                    "a white under-print gives {contrast:.1}:1 where strokes are {strokes:.2} mm or wider"
                ));
            }
        }
        if clear && !label.applied.mirrored() {
            let on_film = Seen::on(spec, label, Colour::WHITE);
            let contrast = self.each(Shade::without_white).contrast(&on_film);
            if contrast >= needed {
                ways.push(format!("white film gives {contrast:.1}:1"));
            }
        }
        ways.extend(self.darker_ink(&on, needed));
        if clear {
            ways.extend(self.lighter_base(spec, label, needed));
        }
        match ways.as_slice() {
            [] => "choose an ink and a paint that stand farther apart".to_owned(),
            ways => ways.join("; "),
        }
    }

    /// Whether the label has white under other inks only.
    fn left_out_of_white(&self, label: &Label) -> bool {
        let White::Under(UnderPrint { area: WhiteArea::Of(colours), .. }) = &label.white else {
            return false;
        };
        self.part.ink.is_some_and(|ink| !colours.contains(&ink))
    }

    /// The least darkening of the darker ink that reaches the contrast.
    fn darker_ink(&self, on: &Seen<'_>, needed: f64) -> Option<String> {
        let letters = self.part.ink.is_some()
            && (self.ground.ink.is_none()
                || self.part.colour(on).luminance() <= self.ground.colour(on).luminance());
        let with = |share: f64| match letters {
            true => Pair { part: self.part.darker(share), ..*self },
            false => Pair { ground: self.ground.darker(share), ..*self },
        };
        let share = least(|share| with(share).contrast(on) >= needed)?;
        let ink = if letters { with(share).part.ink } else { with(share).ground.ink }?;
        let contrast = with(share).contrast(on);
        let what = if letters { "" } else { " round it" };
        Some(format!("darker ink{what}, {ink}, gives {contrast:.1}:1"))
    }

    /// The least lightening of the surface that reaches the contrast.
    fn lighter_base(&self, spec: &Spec, label: &Label, needed: f64) -> Option<String> {
        let bare = Seen::of(spec, label)?.bare;
        let base = |share: f64| seen::mixed(bare, Colour::WHITE, share);
        let contrast = |share: f64| self.contrast(&Seen::on(spec, label, base(share)));
        let share = least(|share| contrast(share) >= needed)?;
        Some(format!("a lighter base, {}, gives {:.1}:1", base(share), contrast(share)))
    }
}

/// How a label would be seen with white printed under its ink.
pub(super) fn under_printed<'s>(spec: &'s Spec, label: &Label) -> Seen<'s> {
    let under = UnderPrint { area: WhiteArea::Ink, tint: 1.0, choke_mm: 0.0 };
    let printed = Label { white: White::Under(under), parts: Vec::new(), ..label.clone() };
    Seen::of(spec, &printed).unwrap_or_else(|| Seen::on(spec, &printed, Colour::WHITE))
}

/// The least share, in hundredths, at which something holds, when it holds at 1.
fn least(holds: impl Fn(f64) -> bool) -> Option<f64> {
    (1..=100).map(|hundredth| f64::from(hundredth) / 100.0).find(|share| holds(*share))
}
