//! The printer: a class of its own kind, and whatever the user has measured.

use super::profile;
use super::reader::{Least, Reader};
use crate::spec::draft::PrinterDraft;
use crate::spec::{Printer, Process, Profile};

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

/// What colours a film.
#[derive(Clone, Copy)]
enum Inks {
    Dye,
    Pigment,
    Toner,
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
pub(super) fn printer(draft: Option<PrinterDraft>, reader: &mut Reader<'_, '_>) -> Printer {
    let draft = draft.unwrap_or_default();
    let profile = draft.profile.as_ref().and_then(|typed| profile::named(typed, reader));
    let words = CLASSES.map(|class| (class.word, class));
    let said = reader.choice(draft.class.as_ref(), &words);
    let processes = [("laser", Process::Laser), ("ink-jet", Process::InkJet)];
    let process = reader.choice(draft.process.as_ref(), &processes);
    let of_profile = profile.as_ref().and_then(|profile| {
        CLASSES.into_iter().find(|class| profile.class.as_deref() == Some(class.word))
    });
    let fits = |class: &Class| process.is_none_or(|process| process == class.process);
    let said = said.or(of_profile.filter(fits));
    let known = said.is_some() || process.is_some();
    let class = said.unwrap_or_else(|| usual(process));
    let name = match (&draft.name, &profile) {
        (Some(name), _) => name.text.trim().to_owned(),
        (None, Some(profile)) => profile.printer.clone(),
        (None, None) if known => class.word.to_owned(),
        (None, None) => format!("{} (assumed)", class.word),
    };
    let words = [("dye", Inks::Dye), ("pigment", Inks::Pigment), ("toner", Inks::Toner)];
    let inks = reader.choice(draft.inks.as_ref(), &words).unwrap_or(class.inks);
    let seen = profile.as_ref().and_then(|profile| profile.opacity);
    let ink_opacity = reader.number(draft.opacity.as_ref(), 0.0..=1.0);
    let white_opacity = reader.number(draft.white_opacity.as_ref(), 0.0..=1.0);
    let white_passes = reader.count(draft.white_passes.as_ref(), 1..=2);
    let dots_per_inch = reader.number(draft.dots_per_inch.as_ref(), 72.0..=9600.0);
    let mut measured = |typed: &Option<_>, seen: fn(&Profile) -> Option<f64>, usual: f64| {
        let typed = reader.length(typed.as_ref(), Least::Something);
        typed.or(profile.as_ref().and_then(seen)).unwrap_or(usual)
    };
    Printer {
        name,
        process: process.unwrap_or(class.process),
        thinnest_ink: measured(&draft.thinnest_ink, |p| p.thinnest_ink, class.thinnest_ink),
        thinnest_clear: measured(&draft.thinnest_clear, |p| p.thinnest_clear, class.thinnest_clear),
        smallest_cap: measured(&draft.smallest_cap, |p| p.smallest_cap, class.smallest_cap),
        smallest_cap_reversed: measured(
            &draft.smallest_cap_reversed,
            |p| p.smallest_cap_reversed,
            class.smallest_cap_reversed,
        ),
        dots_per_inch: dots_per_inch.unwrap_or(class.dots_per_inch),
        ink_opacity: ink_opacity.or(seen).unwrap_or(inks.opacity()),
        white_opacity: white_opacity.unwrap_or(WHITE_OPACITY),
        thinnest_white: measured(&draft.thinnest_white, |_| None, THINNEST_WHITE),
        white_passes: white_passes.or(class.white_passes),
        profile,
    }
}

/// The class of a process when only that is known: the more careful one of lasers.
fn usual(process: Option<Process>) -> Class {
    let careful = |class: &&Class| process == Some(Process::Laser) && class.word == "laser-600";
    CLASSES.iter().find(careful).copied().unwrap_or(INK_JET)
}
