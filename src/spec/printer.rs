//! The printer: a class of its own kind, and whatever the user has measured.

use super::choice::choice;
use super::profile::{self, Profile};
use super::reader::{Least, Reader};
use crate::yaml::Scalar;
use schemars::JsonSchema;
use serde::Deserialize;

/// The printer's class or process, and what it can do.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct PrinterKeys {
    /// A profile beside the job, made by `decalwright printer` from test prints; keys here win over it.
    profile: Option<Scalar>,
    /// Your own name for it, printed at the foot.
    name: Option<Scalar>,
    /// `laser` or `ink-jet`.
    process: Option<Scalar>,
    /// `laser-1200`, `laser-600`, `ink-jet`, `ink-jet-uncoated` or `white-ink`.
    class: Option<Scalar>,
    /// Thinnest line of ink it prints.
    thinnest_ink: Option<Scalar>,
    /// Thinnest clear gap it keeps open.
    thinnest_clear: Option<Scalar>,
    /// Smallest cap height it prints in ink.
    smallest_cap: Option<Scalar>,
    /// Smallest cap height it keeps clear in ink.
    smallest_cap_reversed: Option<Scalar>,
    /// Dots to the inch; codes are made of whole dots.
    dots_per_inch: Option<Scalar>,
    /// `dye`, `pigment` or `toner`: how much of what is under it the ink lets through.
    inks: Option<Scalar>,
    /// Share of its own colour that ink keeps on any ground: `20 %`.
    opacity: Option<Scalar>,
    /// The same for white ink or toner.
    white_opacity: Option<Scalar>,
    /// Thinnest line of white it prints.
    thinnest_white: Option<Scalar>,
    /// 1 when white and colours are printed in one pass, 2 when the sheet is fed twice.
    white_passes: Option<Scalar>,
}

choice! {
    /// How a printer makes its image.
    pub enum Process {
        /// Toner and heat.
        Laser = "laser",
        /// Liquid ink.
        InkJet = "ink-jet",
    }
}

/// What the printer can do, all of it settable.
#[derive(Clone, Debug, PartialEq)]
pub struct Printer {
    /// The class the numbers started from, or the user's own name for the printer; for the foot line.
    pub name: String,
    /// How it makes its image.
    pub process: Process,
    /// Thinnest line of ink it prints, mm.
    pub thinnest_ink: f64,
    /// Thinnest clear gap it keeps open, mm.
    pub thinnest_clear: f64,
    /// Smallest cap height in ink, mm.
    pub smallest_cap: f64,
    /// Smallest cap height left clear in ink, mm.
    pub smallest_cap_reversed: f64,
    /// Dots to the inch: codes are made of whole dots.
    pub dots_per_inch: f64,
    /// Share of its own colour that ink keeps on any ground, 0 to 1.
    pub ink_opacity: f64,
    /// The same for its white, where it has one.
    pub white_opacity: f64,
    /// Thinnest white it prints, mm.
    pub thinnest_white: f64,
    /// In how many passes it prints white and colours; `None` where it has no white.
    pub white_passes: Option<u32>,
    /// What was read off its test prints, when the job names a profile.
    pub profile: Option<Profile>,
}

impl Printer {
    /// Width of one dot, mm.
    #[must_use]
    pub fn dot_mm(&self) -> f64 {
        25.4 / self.dots_per_inch
    }
}

/// What printers of one class can do, mm.
#[derive(Clone, Copy)]
struct Class {
    word: &'static str,
    process: Process,
    thinnest_ink: f64,
    thinnest_clear: f64,
    smallest_cap: f64,
    smallest_cap_reversed: f64,
    dots_per_inch: f64,
    inks: Inks,
    white_passes: Option<u32>,
}

choice! {
    /// What colours a film.
    enum Inks {
        /// Dissolved in the ink.
        Dye = "dye",
        /// Fine solids in the ink.
        Pigment = "pigment",
        /// Melted on.
        Toner = "toner",
    }
}

impl Inks {
    /// Share of its own colour it keeps on any ground: common practice, no source; a test print measures it.
    fn opacity(self) -> f64 {
        match self {
            Inks::Dye => 0.0,
            Inks::Pigment => 0.1,
            Inks::Toner => 0.2,
        }
    }
}

/// Thinnest white under colour, mm: printers' published minima, the most careful of them.
const THINNEST_WHITE: f64 = 0.50;

/// The same for white ink and toner: common practice, no source; a test print measures it.
const WHITE_OPACITY: f64 = 0.85;

/// Classes and what to expect of them: common practice, no source; a test print overrides each number.
const CLASSES: [Class; 5] = [
    Class {
        word: "laser-1200",
        process: Process::Laser,
        thinnest_ink: 0.10,
        thinnest_clear: 0.20,
        smallest_cap: 1.0,
        smallest_cap_reversed: 1.5,
        dots_per_inch: 1200.0,
        inks: Inks::Toner,
        white_passes: None,
    },
    Class {
        word: "laser-600",
        process: Process::Laser,
        thinnest_ink: 0.15,
        thinnest_clear: 0.25,
        smallest_cap: 1.2,
        smallest_cap_reversed: 1.6,
        dots_per_inch: 600.0,
        inks: Inks::Toner,
        white_passes: None,
    },
    INK_JET,
    Class {
        word: "ink-jet-uncoated",
        process: Process::InkJet,
        thinnest_ink: 0.25,
        thinnest_clear: 0.50,
        smallest_cap: 1.8,
        smallest_cap_reversed: 2.5,
        dots_per_inch: 600.0,
        inks: Inks::Dye,
        white_passes: None,
    },
    Class {
        word: "white-ink",
        process: Process::InkJet,
        thinnest_ink: 0.50,
        thinnest_clear: 0.50,
        smallest_cap: 2.0,
        smallest_cap_reversed: 2.8,
        dots_per_inch: 600.0,
        inks: Inks::Pigment,
        white_passes: Some(1),
    },
];

/// An ink-jet on coated film: what is taken when the job says nothing.
const INK_JET: Class = Class {
    word: "ink-jet",
    process: Process::InkJet,
    thinnest_ink: 0.20,
    thinnest_clear: 0.35,
    smallest_cap: 1.5,
    smallest_cap_reversed: 2.1,
    dots_per_inch: 600.0,
    inks: Inks::Dye,
    white_passes: None,
};

/// The words for classes.
pub(super) fn classes() -> [&'static str; 5] {
    CLASSES.map(|class| class.word)
}

/// The job's printer with no number left open: what the job says, then what its profile says, then its class.
pub(super) fn printer(keys: Option<PrinterKeys>, reader: &mut Reader<'_, '_>) -> Printer {
    let keys = keys.unwrap_or_default();
    let profile = keys.profile.as_ref().and_then(|file| profile::named(file, reader));
    let words = CLASSES.map(|class| (class.word, class));
    let said = reader.choice(&keys.class, &words);
    let process: Option<Process> = reader.word(&keys.process);
    let of_profile = profile.as_ref().and_then(|profile| {
        CLASSES.into_iter().find(|class| profile.class.as_deref() == Some(class.word))
    });
    let fits = |class: &Class| process.is_none_or(|process| process == class.process);
    let said = said.or(of_profile.filter(fits));
    let known = said.is_some() || process.is_some();
    let class = said.unwrap_or_else(|| usual(process));
    let name = match (&keys.name, &profile) {
        (Some(name), _) => name.trimmed().to_owned(),
        (None, Some(profile)) => profile.printer.clone(),
        (None, None) if known => class.word.to_owned(),
        (None, None) => format!("{} (assumed)", class.word),
    };
    let inks = reader.word(&keys.inks).unwrap_or(class.inks);
    let seen = profile.as_ref().and_then(|profile| profile.opacity);
    let ink_opacity = reader.number(&keys.opacity, 0.0..=1.0);
    let white_opacity = reader.number(&keys.white_opacity, 0.0..=1.0);
    let white_passes = reader.count(&keys.white_passes, 1..=2);
    let dots_per_inch = reader.number(&keys.dots_per_inch, 72.0..=9600.0);
    let mut measured = |said: &Option<Scalar>, seen: fn(&Profile) -> Option<f64>, usual: f64| {
        let said = reader.length(said, Least::Something);
        said.or(profile.as_ref().and_then(seen)).unwrap_or(usual)
    };
    Printer {
        name,
        process: process.unwrap_or(class.process),
        thinnest_ink: measured(&keys.thinnest_ink, |p| p.thinnest_ink, class.thinnest_ink),
        thinnest_clear: measured(&keys.thinnest_clear, |p| p.thinnest_clear, class.thinnest_clear),
        smallest_cap: measured(&keys.smallest_cap, |p| p.smallest_cap, class.smallest_cap),
        smallest_cap_reversed: measured(
            &keys.smallest_cap_reversed,
            |p| p.smallest_cap_reversed,
            class.smallest_cap_reversed,
        ),
        dots_per_inch: dots_per_inch.unwrap_or(class.dots_per_inch),
        ink_opacity: ink_opacity.or(seen).unwrap_or(inks.opacity()),
        white_opacity: white_opacity.unwrap_or(WHITE_OPACITY),
        thinnest_white: measured(&keys.thinnest_white, |_| None, THINNEST_WHITE),
        white_passes: white_passes.or(class.white_passes),
        profile,
    }
}

/// The class of a process when only that is known: the more careful one of lasers.
fn usual(process: Option<Process>) -> Class {
    let careful = |class: &&Class| process == Some(Process::Laser) && class.word == "laser-600";
    CLASSES.iter().find(careful).copied().unwrap_or(INK_JET)
}
