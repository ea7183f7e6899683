//! The steps at the bench for a film and a printer, with each caution beside the step it belongs to.
//!
//! Common practice, no source: times and temperatures are those most film makers print on their packs,
//! and the list says that the maker's own come first.

use super::entry::Section;
use crate::spec::{Applied, Film, Printer, Process, White};

/// One thing to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Step {
    pub(super) what: &'static str,
    pub(super) caution: Option<&'static str>,
}

/// What stands above the steps.
pub(super) const FIRST: &str =
    "Common practice, in short. Where the film maker's instructions differ, follow those.";

const SPRAY: &str = "Clear spray and lacquer burn easily. Work outdoors or with exhaust, away from \
     flames. Wear an organic-vapour respirator: a dust mask does nothing.";
const SPRAY_AGAIN: &str = "Clear spray: flames, air and respirator as before.";
const KNIFE: &str = "Put in a new blade, cut away from your hand, and use a cutting mat.";

const fn step(what: &'static str) -> Step {
    Step { what, caution: None }
}

const fn careful(what: &'static str, caution: &'static str) -> Step {
    Step { what, caution: Some(caution) }
}

/// What to do with the labels of one film, in order.
pub(super) fn steps(section: &Section<'_>, printer: &Printer) -> Vec<Step> {
    let process = printer.process;
    let mut steps = vec![step(
        "Print a test on plain paper at 100\u{a0}%, never \"fit to page\". Measure the 100\u{a0}mm bar both ways, \
         and hold the test against the part.",
    )];
    steps.push(printing(section.film, process));
    white(section, printer, &mut steps);
    if section.entries.iter().any(|entry| entry.label.applied.mirrored()) {
        steps.push(step(
            "Labels told as printed backwards look wrong on the sheet. They read right once applied.",
        ));
    }
    let by_heat = section.any(Applied::HeatTransfer);
    match section.film {
        Film::Clear | Film::White if by_heat && !by_water(section) => {
            steps.push(careful("Cut out one label at a time, on its trim line.", KNIFE));
        }
        Film::Clear | Film::White => water_slide(section, process, &mut steps),
        Film::Sticker | Film::Paper => dry(section.film, process, &mut steps),
    }
    if by_heat {
        steps.push(careful(
            "Heat-transfer labels take no water: printed side to the part; heat, pressure and time as the \
             film maker says. Peel as it says, hot or cold.",
            "Iron, press and part stay hot for minutes.",
        ));
    }
    steps.push(careful(
        "What looks like a safety sign on these labels is for models and props.",
        "A label made at home is no safety sign. Real ones follow ISO 3864 and ISO 7010, or ANSI Z535, and \
         local law.",
    ));
    steps
}

/// Whether any label is slid on with water rather than pressed on with heat.
fn by_water(section: &Section<'_>) -> bool {
    section.entries.iter().any(|entry| entry.label.applied != Applied::HeatTransfer)
}

/// What white under the ink, printed or cut from film, asks for.
fn white(section: &Section<'_>, printer: &Printer, steps: &mut Vec<Step>) {
    let any = |is_meant: fn(&White) -> bool, mirrored: bool| {
        let labels = section.entries.iter().map(|entry| entry.label);
        labels
            .filter(|label| is_meant(&label.white))
            .any(|label| label.applied.mirrored() == mirrored)
    };
    let printed = |white: &White| matches!(white, White::Under(_));
    let twice = printer.white_passes != Some(1);
    let (first, last) = (twice && any(printed, false), twice && any(printed, true));
    if first || last {
        steps.push(careful(
            "White takes a pass of its own. Try both passes on plain paper first, and hold it to the light: the \
             register marks must lie over each other.",
            "Let the first pass cool or dry before the sheet is fed again.",
        ));
    }
    if first {
        steps.push(step(
            "Sheets marked \"first the white\": print the file white-first, turn nothing, then the colours over it.",
        ));
    }
    if last {
        steps.push(step(
            "Sheets marked \"first the colours\": print the colours, turn nothing, then the file white-last over them.",
        ));
    }
    let backed = |white: &White| matches!(white, White::Backing { .. });
    if any(backed, true) {
        steps.push(step(
            "Labels with a backing that are seen through their film: lay the label, let it dry, then slide the piece of \
             white film named after it over its back.",
        ));
    }
    if any(backed, false) {
        steps.push(step(
            "Labels with a backing: cut the piece of white film named after them along the inside of its line, and \
             slide it on first. Let it dry, then lay the label over it with the same rim all round.",
        ));
    }
}

fn printing(film: Film, process: Process) -> Step {
    match (film, process) {
        (Film::Clear | Film::White, Process::Laser) => careful(
            "Print on the coated side of the film, one sheet at a time, with the setting for thick or \
             special paper.",
            "Use only film rated for laser heat: other film melts in the printer. Never feed a wet \
             sheet or one with labels cut out of it.",
        ),
        (Film::Clear | Film::White, Process::InkJet) => careful(
            "Print on the coated side of the film, one sheet at a time, with the setting for photo \
             paper. Touch the sheet by its edges.",
            "Ink-jet film must not go through a laser printer: its heat melts the film.",
        ),
        (Film::Sticker, Process::Laser) => careful(
            "Print on the face of the sheet, one at a time.",
            "Use only sheets rated for laser heat: other glue and film melt in the printer.",
        ),
        (Film::Sticker | Film::Paper, _) => step("Print on the face of the sheet, one at a time."),
    }
}

fn water_slide(section: &Section<'_>, process: Process, steps: &mut Vec<Step>) {
    steps.push(match process {
        Process::InkJet => careful(
            "Let the ink dry until it no longer smears. Then two or three light clear coats, each dry \
             before the next: without them the ink runs in water.",
            SPRAY,
        ),
        Process::Laser => careful(
            "Toner often needs no coat before water. Soak one spare first; if toner lifts, give the \
             sheet two light clear coats and let them dry.",
            SPRAY,
        ),
    });
    steps.push(careful(
        "Clean the part. On a matt surface spray a gloss coat and let it dry for 24\u{a0}hours: on matt, air \
         under the film shows as silver.",
        SPRAY_AGAIN,
    ));
    let cut = if section.film == Film::White {
        "Cut out one label at a time, on its trim line. Where ink runs past the trim, cut through \
         the ink, so that no white edge is left."
    } else {
        "Cut out one label at a time, on its trim line, and leave the clear border round the ink."
    };
    steps.push(careful(cut, KNIFE));
    steps.push(step(
        "Soak it for 15 to 60\u{a0}seconds in water of 20 to 35\u{a0}°C, as the film maker says. Lay it on a cloth \
         for 30\u{a0}seconds until it slides on its paper.",
    ));
    steps.push(step(
        "Wet the spot, slide the label from its paper onto the part and push it into place. Blot from \
         the middle outwards. On curves, brush setting solution over it and leave it alone.",
    ));
    if section.any(Applied::InsideWindow) || section.any(Applied::FaceDown) {
        steps.push(step(
            "Labels for inside a window or face down: turn them over in the water and lay the printed \
             side against the part.",
        ));
    }
    steps.push(careful(
        "Let it dry for 24\u{a0}hours, wipe off traces of gum with a damp cloth, and seal it with a clear \
         coat of the finish you want.",
        SPRAY_AGAIN,
    ));
    steps.push(step("Torn or lost one? Use a spare. Keep the rest flat and dry."));
}

/// Stock that is stuck or glued on.
fn dry(film: Film, process: Process, steps: &mut Vec<Step>) {
    if process == Process::InkJet {
        steps.push(step("Let the ink dry until it no longer smears."));
    }
    steps.push(careful("Cut out one label at a time, on its trim line.", KNIFE));
    if film == Film::Paper {
        steps.push(step("Fix it with thin double-sided tape or glue, right to the edges."));
        return;
    }
    steps.push(step("Clean the part of dust and grease and let it dry."));
    steps.push(step(
        "Peel back one edge, set it against the part, and press the label down from there with a cloth.",
    ));
}
