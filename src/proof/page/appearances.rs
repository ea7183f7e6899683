//! The colours labels show: one appearance for all labels that share surface, film and white.

use super::super::seen;
use super::{Proofed, ShownSurface};
use crate::colour::Colour;
use crate::design::{Design, Plate, Seen};
use crate::spec::{Film, Label, White};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// How some labels appear, as the script reads it to work the colours out for another paint.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Appearance<'a> {
    /// Which of the surfaces shown.
    surface: usize,
    /// Whether its film is white of its own.
    film: bool,
    /// `none`, `under` or `backing`.
    white: &'static str,
    /// Share of an under-print that is printed.
    tint: f64,
    /// The inks its labels have, by number.
    inks: BTreeSet<usize>,
    /// For the table of contrasts: `on clear film`.
    name: String,
    #[serde(skip)]
    seen: Seen<'a>,
}

/// All appearances of a page.
pub(super) struct Appearances<'a> {
    list: Vec<Appearance<'a>>,
    /// The appearance of each label, by its number in the job.
    of_label: BTreeMap<usize, usize>,
    inks: Vec<Colour>,
    job: Proofed<'a>,
    grounds: Vec<Colour>,
}

#[derive(Serialize)]
struct ScriptData<'a> {
    looks: &'a [Appearance<'a>],
    inks: Vec<String>,
    grounds: Vec<String>,
    ink_opacity: f64,
    white_opacity: f64,
}

impl<'a> Appearances<'a> {
    pub(super) fn of(
        job: Proofed<'a>,
        surfaces: &[ShownSurface<'_>],
        inks: &BTreeMap<Colour, usize>,
    ) -> Appearances<'a> {
        let mut list: Vec<Appearance<'a>> = Vec::new();
        let mut of_label = BTreeMap::new();
        for (surface, shown) in surfaces.iter().enumerate() {
            for (_, design) in job.numbered(&shown.designs) {
                let Some(label) = job.label(design) else { continue };
                let new = appearance(job, surface, label);
                let is_same = |known: &Appearance<'_>| {
                    Appearance { inks: BTreeSet::new(), ..known.clone() } == new
                };
                let at = list.iter().position(is_same).unwrap_or(list.len());
                if at == list.len() {
                    list.push(new);
                }
                of_label.insert(design.label, at);
                if let Some(known) = list.get_mut(at) {
                    known.inks.extend(inks_of(design).filter_map(|ink| inks.get(&ink)));
                }
            }
        }
        let grounds = surfaces.iter().map(ShownSurface::ground).collect();
        Appearances { list, of_label, inks: inks.keys().copied().collect(), job, grounds }
    }

    /// The class of a label's appearance: `k2`.
    pub(super) fn class(&self, design: &Design) -> String {
        format!("k{}", self.of_label.get(&design.label).copied().unwrap_or_default())
    }

    /// The colours as the job has them, as style rules; the script sets the same properties.
    pub(super) fn rules(&self) -> String {
        let mut out = String::new();
        for (number, Appearance { inks, white, seen, .. }) in self.list.iter().enumerate() {
            let inks_as = |shown: &dyn Fn(Colour) -> Colour| -> String {
                let inks = inks.iter().filter_map(|at| Some((at, shown(*self.inks.get(*at)?))));
                inks.map(|(at, colour)| format!(";--p{at}:{colour}")).collect()
            };
            let (on_film, on_white) =
                (inks_as(&|ink| seen.ink(ink)), inks_as(&|ink| seen.ink_on_white(ink)));
            let (film, white_seen) = (seen.bare, seen.white);
            let _ = writeln!(out, ".k{number}{{--film:{film};--white:{white_seen}{on_film}}}");
            if *white != "none" {
                let _ = writeln!(out, ".k{number}w{{--white:{white_seen}{on_white}}}");
            }
        }
        out
    }

    /// The same for the script, safe between tags.
    pub(super) fn json(&self) -> String {
        let texts = |colours: &[Colour]| colours.iter().map(Colour::to_string).collect();
        // What the printer is sent for a colour, where that is another.
        let sent = |ink: &Colour| self.job.spec.printed.get(ink).copied().unwrap_or(*ink);
        let sent: Vec<Colour> = self.inks.iter().map(sent).collect();
        let json = serde_json::to_string(&ScriptData {
            looks: &self.list,
            inks: texts(&sent),
            grounds: texts(&self.grounds),
            ink_opacity: self.job.spec.printer.ink_opacity,
            white_opacity: self.job.spec.printer.white_opacity,
        });
        debug_assert!(json.is_ok(), "plain structs always serialise");
        json.unwrap_or_default().replace('<', "\\u003c")
    }
}

/// How a label appears, no inks counted yet.
fn appearance<'a>(job: Proofed<'a>, surface: usize, label: &Label) -> Appearance<'a> {
    let (white, tint, under) = match &label.white {
        White::None => ("none", 1.0, ""),
        White::Under(under) => ("under", under.tint, ", on printed white"),
        White::Backing { .. } => ("backing", 1.0, ", on a white backing"),
    };
    Appearance {
        surface,
        film: label.film != Film::Clear,
        white,
        tint,
        inks: BTreeSet::new(),
        name: format!("{}{under}", label.film.name()),
        seen: seen::seen(job, label),
    }
}

fn inks_of(design: &Design) -> impl Iterator<Item = Colour> + '_ {
    design.marks.iter().filter_map(|mark| match mark.plate {
        Plate::Ink(colour) => Some(colour),
        Plate::Guide | Plate::Cut => None,
    })
}

/// A rule a plate: its colour as printed, and the properties that change or hide it.
pub(super) fn plates(inks: &BTreeMap<Colour, usize>) -> String {
    let mut out = String::from("\n");
    for (ink, number) in inks {
        let _ = writeln!(
            out,
            ".p{number}{{fill:var(--p{number},{ink});visibility:var(--v{number},inherit)}}"
        );
    }
    out
}
