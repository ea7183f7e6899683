//! The colours each kind of label shows: one look for all that share surface, film and white.

use super::super::seen;
use super::{Job, Shown};
use crate::colour::Colour;
use crate::design::{Design, Plate};
use crate::spec::{Label, White};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// A look, as the script reads it to work the colours out for another paint.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct Look {
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
    seen: seen::Look,
}

/// All looks of a page.
pub(super) struct Looks {
    looks: Vec<Look>,
    /// The look of each label, by its number in the job.
    of_label: BTreeMap<usize, usize>,
    inks: Vec<Colour>,
    /// What the printer is sent for a colour, where that is another.
    printed: BTreeMap<Colour, Colour>,
    ink_opacity: f64,
    white_opacity: f64,
    grounds: Vec<Colour>,
}

#[derive(Serialize)]
struct Json<'a> {
    looks: &'a [Look],
    inks: Vec<String>,
    grounds: Vec<String>,
    ink_opacity: f64,
    white_opacity: f64,
}

impl Looks {
    pub(super) fn of(job: Job<'_>, shown: &[Shown<'_>], inks: &BTreeMap<Colour, usize>) -> Looks {
        let mut looks: Vec<Look> = Vec::new();
        let mut of_label = BTreeMap::new();
        for (surface, shown) in shown.iter().enumerate() {
            for design in shown.designs.iter().filter_map(|index| job.designs.get(*index)) {
                let Some(label) = job.label(design) else { continue };
                let look = look(job, surface, label);
                let same = |known: &Look| Look { inks: look.inks.clone(), ..known.clone() } == look;
                let at = looks.iter().position(same).unwrap_or_else(|| {
                    looks.push(look);
                    looks.len() - 1
                });
                of_label.insert(design.label, at);
                if let Some(look) = looks.get_mut(at) {
                    look.inks.extend(inks_of(design).filter_map(|ink| inks.get(&ink)));
                }
            }
        }
        Looks {
            looks,
            of_label,
            inks: inks.keys().copied().collect(),
            printed: job.spec.printed.clone(),
            ink_opacity: job.spec.printer.ink_opacity,
            white_opacity: job.spec.printer.white_opacity,
            grounds: shown.iter().map(Shown::ground).collect(),
        }
    }

    /// The class of a label's look: `k2`.
    pub(super) fn class(&self, design: &Design) -> String {
        format!("k{}", self.of_label.get(&design.label).copied().unwrap_or_default())
    }

    /// The colours as the job has them, as style rules; the script sets the same properties.
    pub(super) fn rules(&self) -> String {
        let mut out = String::new();
        for (number, look) in self.looks.iter().enumerate() {
            let _ =
                write!(out, ".k{number}{{--film:{};--white:{}", look.seen.bare, look.seen.white);
            self.inks_seen(&mut out, look, |ink| look.seen.ink(ink));
            if look.white != "none" {
                let _ = write!(out, "}}\n.k{number}w{{--white:{}", look.seen.white);
                self.inks_seen(&mut out, look, |ink| look.seen.ink_on_white(ink));
            }
            out.push_str("}\n");
        }
        out
    }

    fn inks_seen(&self, out: &mut String, look: &Look, seen: impl Fn(Colour) -> Colour) {
        for number in &look.inks {
            if let Some(ink) = self.inks.get(*number) {
                let _ = write!(out, ";--p{number}:{}", seen(*ink));
            }
        }
    }

    /// The same for the script, safe between tags.
    pub(super) fn json(&self) -> String {
        let texts = |colours: &[Colour]| colours.iter().map(Colour::to_string).collect();
        let sent = |ink: &Colour| self.printed.get(ink).copied().unwrap_or(*ink);
        let sent: Vec<Colour> = self.inks.iter().map(sent).collect();
        let json = serde_json::to_string(&Json {
            looks: &self.looks,
            inks: texts(&sent),
            grounds: texts(&self.grounds),
            ink_opacity: self.ink_opacity,
            white_opacity: self.white_opacity,
        });
        debug_assert!(json.is_ok(), "plain structs always serialise");
        json.unwrap_or_default().replace('<', "\\u003c")
    }
}

fn look(job: Job<'_>, surface: usize, label: &Label) -> Look {
    let (white, tint) = match &label.white {
        White::None => ("none", 1.0),
        White::Under(under) => ("under", under.tint),
        White::Backing { .. } => ("backing", 1.0),
    };
    let under = match &label.white {
        White::None => "",
        White::Under(_) => ", on printed white",
        White::Backing { .. } => ", on a white backing",
    };
    Look {
        surface,
        film: !seen::is_clear(label.film),
        white,
        tint,
        inks: BTreeSet::new(),
        name: format!("{}{under}", label.film.name()),
        seen: seen::Look::of(job, label),
    }
}

fn inks_of(design: &Design) -> impl Iterator<Item = Colour> + '_ {
    design.marks.iter().filter_map(|mark| match mark.plate {
        Plate::Ink(colour) => Some(colour),
        _ => None,
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
