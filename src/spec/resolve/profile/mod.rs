//! A printer's profile, or the answers it is made of: read off by a person, and questioned where no printer
//! does such a thing.

mod fitted;
mod scale;
#[cfg(test)]
mod tests;

use super::printer::classes;
use super::reader::{Least, Reader, quoted};
use super::{Desk, sheet};
use crate::colour::{Colour, neighbours};
use crate::finding::{Finding, Place};
use crate::spec::profile_draft::{PickedDraft, ProfileDraft};
use crate::spec::typed::{Many, Typed};
use crate::spec::{Margins, Measured, Picked, Profile};
use crate::units::fixed;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// Widths of lines and heights of capitals anybody reads off a test print, mm: the ladders, and some more.
const LINES_MM: RangeInclusive<f64> = 0.02..=2.0;
const CAPS_MM: RangeInclusive<f64> = 0.5..=10.0;

/// The most colours of one profile; each is a page that was printed and picked from.
const MOST_COLOURS: usize = 200;

/// An ink that reflects more of the light by itself than this share is read off wrong: inks let the paper
/// through (common practice, no source).
const MOST_OPAQUE: f64 = 0.5;

/// The widest margin of a printer, mm: a quarter of A5 would be more than any leaves.
const WIDEST_MARGIN_MM: f64 = 30.0;

/// Reads a profile, or answers: `name` is the file's name as messages show it, `bytes` what it holds.
///
/// With errors among the findings it holds what could be made of it; nothing may be printed by it.
pub fn read(name: &str, bytes: &[u8], desk: &mut Desk<'_>) -> Option<Profile> {
    let draft = crate::spec::read::profile(name, bytes, desk.sources, desk.findings)?;
    let file = desk.sources.last();
    Some(profile(draft, Place { file, start: 0, end: 0 }, &mut Reader::new(desk)))
}

/// The profile a job names, from the file beside it.
pub(super) fn named(typed: &Typed, reader: &mut Reader<'_, '_>) -> Option<Profile> {
    let name = typed.text.trim();
    match (reader.desk.fetch)(name) {
        Ok(bytes) => {
            let profile = read(name, &bytes, reader.desk)?;
            Some(Profile { place: typed.place, ..profile })
        }
        Err(error) => {
            let help = "put the profile beside the job, or correct its name";
            reader.wrong("profile-file", typed.place, error.to_string(), help);
            None
        }
    }
}

fn profile(draft: ProfileDraft, start: Place, reader: &mut Reader<'_, '_>) -> Profile {
    let paper = sheet::paper(draft.paper.as_ref(), reader);
    let measured = Measured {
        bars: reader.pair(draft.bars.as_ref(), Least::Something),
        square: reader.pair(draft.square.as_ref(), Least::Something),
        diagonals: reader.pair(draft.diagonals.as_ref(), Least::Something),
        middle: reader.pair(draft.middle.as_ref(), Least::Something),
    };
    let sound = scale::Answers { draft: &draft, measured, paper: &paper }.check(reader);
    let class = draft.class.as_ref().and_then(|typed| {
        reader.choice(Some(typed), &classes().map(|word| (word, word))).map(str::to_owned)
    });
    let printer = super::line(draft.printer, reader).filter(|name| !name.is_empty());
    let margins = draft.margins.as_ref().and_then(|many| margins(many, reader));
    let [thinnest_ink, thinnest_clear] = [&draft.thinnest_ink, &draft.thinnest_clear]
        .map(|typed| within(typed.as_ref(), LINES_MM, reader));
    let [smallest_cap, smallest_cap_reversed] = [&draft.smallest_cap, &draft.smallest_cap_reversed]
        .map(|typed| within(typed.as_ref(), CAPS_MM, reader));
    let opacity = reader.number(draft.opacity.as_ref(), 0.0..=1.0);
    let clear = (draft.thinnest_clear.as_ref(), thinnest_clear, "a clear line");
    filled_up(clear, (thinnest_ink, "an inked one"), reader);
    let reversed = (draft.smallest_cap_reversed.as_ref(), smallest_cap_reversed, "a clear capital");
    filled_up(reversed, (smallest_cap, "an inked one"), reader);
    if let (Some(opacity), Some(typed)) = (opacity, &draft.opacity)
        && opacity > MOST_OPAQUE
    {
        let message = format!("an opacity of {} % is that of paint", fixed(100.0 * opacity, 2));
        let help = "take the step of the ladder on the ink page that yellow looks like over black"
            .to_owned();
        warn(reader, typed.place, message, help);
    }
    Profile {
        printer: printer.unwrap_or_else(|| "printer".to_owned()),
        date: super::line(draft.date, reader),
        class,
        measured: if sound { measured } else { Measured::default() },
        margins,
        thinnest_ink,
        thinnest_clear,
        smallest_cap,
        smallest_cap_reversed,
        opacity,
        picked: picked(draft.colours, start, reader),
        paper,
        place: start,
    }
}

/// Asks about clear that stays open where ink of the same width no longer shows: ink spreads, so the answers
/// were most likely swapped.
fn filled_up(
    (typed, clear_mm, clear): (Option<&Typed>, Option<f64>, &str),
    (ink_mm, ink): (Option<f64>, &str),
    reader: &mut Reader<'_, '_>,
) {
    if let (Some(typed), Some(clear_mm), Some(ink_mm)) = (typed, clear_mm, ink_mm)
        && clear_mm < ink_mm
    {
        let message = format!(
            "{clear} of {} mm came out, but {ink} only from {} mm on",
            fixed(clear_mm, 3),
            fixed(ink_mm, 3)
        );
        let help = "ink spreads into what is clear: were the two answers swapped?".to_owned();
        warn(reader, typed.place, message, help);
    }
}

/// A length that can be read off a ladder.
fn within(
    typed: Option<&Typed>,
    bounds: RangeInclusive<f64>,
    reader: &mut Reader<'_, '_>,
) -> Option<f64> {
    let mm = reader.length(typed, Least::Something)?;
    if bounds.contains(&mm) {
        return Some(mm);
    }
    let typed = typed?;
    let message = format!("{} is on no test print", quoted(&typed.text));
    let help = format!("read it off in mm, from {} to {}", bounds.start(), bounds.end());
    reader.wrong("bad-length", typed.place, message, help);
    None
}

fn margins(many: &Many, reader: &mut Reader<'_, '_>) -> Option<Margins> {
    let margins = sheet::some_margins(many, reader)?;
    let sides = [margins.top, margins.right, margins.bottom, margins.left];
    if sides.iter().all(|side| *side <= WIDEST_MARGIN_MM) {
        return Some(margins);
    }
    let place = many.items.first().map(|item| item.place).unwrap_or_default();
    let message = format!("a margin of more than {WIDEST_MARGIN_MM} mm is no printer's");
    reader.wrong("bad-margin", place, message, "read the steps at the four edges again");
    None
}

fn picked(
    drafts: BTreeMap<String, PickedDraft>,
    start: Place,
    reader: &mut Reader<'_, '_>,
) -> BTreeMap<String, Picked> {
    let mut all = BTreeMap::new();
    if drafts.len() > MOST_COLOURS {
        let message = format!("{} colours; a profile holds {MOST_COLOURS}", drafts.len());
        reader.wrong("too-many", start, message, "keep those you use");
        return all;
    }
    for (name, PickedDraft { shown, print }) in drafts {
        let (Some(shown), Some(print)) = (&shown, &print) else {
            let place = shown.as_ref().or(print.as_ref()).map_or(start, |typed| typed.place);
            let message = format!("the colour {} needs both `shown` and `print`", quoted(&name));
            let help = "write {shown: \"#ad2b24\", print: D2}: as on its test print";
            reader.wrong("missing", place, message, help);
            continue;
        };
        let Some(colour) = reader.colour(Some(shown)) else { continue };
        if let Some(print) = patch(colour, print, reader) {
            all.insert(name, Picked { shown: colour, print });
        }
    }
    all
}

/// The colour of a patch: by its code, or its value.
fn patch(shown: Colour, print: &Typed, reader: &mut Reader<'_, '_>) -> Option<Colour> {
    if print.text.trim().starts_with('#') {
        return reader.colour(Some(print));
    }
    let found = neighbours::by_code(shown, &print.text);
    if found.is_none() {
        let message = format!("{} is no patch of the test print of {shown}", quoted(&print.text));
        let help = "write a code from A1 to E5 that has a patch, or a value, quoted: \"#ad2b24\"";
        reader.wrong("bad-colour", print.place, message, help);
    }
    found
}

/// Tells something to think about; the profile can be used all the same.
fn warn(reader: &mut Reader<'_, '_>, place: Place, message: String, help: String) {
    let finding = Finding::warning("measured-oddly", message).at(place).help(help);
    reader.desk.findings.push(finding);
}
