//! A printer's profile, or the answers it is made of: read off by a person, and questioned where no printer
//! does such a thing.

mod correction;
mod page_scaling;
mod scale;

pub(crate) use correction::{BAR_MM, SQUARE_MM};
pub use correction::{Correction, Measured, Picked, Profile};

use super::ReadContext;
use super::job::line;
use super::printer::classes;
use super::reader::{Least, Reader};
use super::sheet::{self, Margins};
use crate::colour::{Colour, neighbours};
use crate::finding::{Finding, Place, quoted};
use crate::units::fixed;
use crate::yaml::{self, Form, OneOrList, Scalar, keys, read as keys_of};
use std::collections::BTreeMap;
use std::ops::RangeInclusive;
use std::sync::OnceLock;

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

keys! {
    /// What was read off the test prints of one printer on one paper.
    pub(super) struct ProfileKeys {
        /// Your name for the printer.
        printer: Option<Scalar>,
        /// The paper of the test print: `A3` to `A6`, `Letter`, `Legal`, with `landscape` if lying.
        paper: Option<OneOrList>,
        /// Date as you write it, printed on corrected sheets; never the computer's clock.
        date: Option<Scalar>,
        /// `laser-1200`, `laser-600`, `ink-jet`, `ink-jet-uncoated` or `white-ink`: for what is not said here.
        class: Option<Scalar>,
        /// The bars of 100 mm as measured: [across, down].
        bars: Option<OneOrList>,
        /// The square of 50 mm as measured: [across, down].
        square: Option<OneOrList>,
        /// The square's diagonals as measured: [from top left, from top right].
        diagonals: Option<OneOrList>,
        /// Where the square's middle came out: [from the left edge, from the top edge].
        middle: Option<OneOrList>,
        /// The steps where printing stops: [top, right, bottom, left].
        margins: Option<OneOrList>,
        /// Thinnest line of ink you see whole.
        thinnest_ink: Option<Scalar>,
        /// Thinnest clear line you see open.
        thinnest_clear: Option<Scalar>,
        /// Smallest cap height you can read in ink.
        smallest_cap: Option<Scalar>,
        /// Smallest cap height you can read in clear.
        smallest_cap_reversed: Option<Scalar>,
        /// The step of the ladder that yellow over black looks like: `10 %`.
        opacity: Option<Scalar>,
        /// Colours picked on the part: `beacon: {shown: "#ad2b24", print: D2}`.
        colours: BTreeMap<String, PickedKeys>,
    }

    /// A colour picked on the part.
    struct PickedKeys {
        /// The colour that was wanted, as on the head of its page.
        shown: Option<Scalar>,
        /// The patch that looks like it: its code, or its value.
        print: Option<Scalar>,
    }
}
/// What the file of a profile holds.
pub(crate) fn form() -> &'static Form {
    static FORM: OnceLock<Form> = OnceLock::new();
    FORM.get_or_init(|| Form::of::<ProfileKeys>("profile", "bars:", "paper: A4"))
}

/// Reads a profile, or answers: `name` is the file's name as messages show it, `bytes` what it holds.
///
/// With errors among the findings it holds what could be made of it; nothing may be printed by it.
pub(crate) fn read_profile(
    name: &str,
    bytes: &[u8],
    context: &mut ReadContext<'_>,
) -> Option<Profile> {
    let root = yaml::tree(name, bytes, form(), context.sources, context.findings)?;
    let start = Place { file: context.sources.last(), start: 0, end: 0 };
    Some(profile(keys_of(&root)?, start, &mut Reader::new(context)))
}

/// The profile a job names, from the file beside it.
pub(super) fn named(file: &Scalar, reader: &mut Reader) -> Option<Profile> {
    let bytes = reader.fetch("profile-file", "profile", file)?;
    let profile = read_profile(file.trimmed(), &bytes, reader.context)?;
    Some(Profile { place: file.place, ..profile })
}

fn profile(keys: ProfileKeys, start: Place, reader: &mut Reader) -> Profile {
    let paper = sheet::paper(&keys.paper, reader);
    let measured = Measured {
        bars: reader.pair(&keys.bars, Least::Something),
        square: reader.pair(&keys.square, Least::Something),
        diagonals: reader.pair(&keys.diagonals, Least::Something),
        middle: reader.pair(&keys.middle, Least::Something),
    };
    let sound = scale::Answers { keys: &keys, measured, paper: &paper }.check(reader);
    let class = reader.choice(&keys.class, &classes().map(|word| (word, word)));
    let class = class.map(str::to_owned);
    let printer = line(&keys.printer, reader).filter(|name| !name.is_empty());
    let margins = keys.margins.as_ref().and_then(|list| margins(list, reader));
    let [thinnest_ink, thinnest_clear] =
        [&keys.thinnest_ink, &keys.thinnest_clear].map(|scalar| within(scalar, LINES_MM, reader));
    let [smallest_cap, smallest_cap_reversed] = [&keys.smallest_cap, &keys.smallest_cap_reversed]
        .map(|scalar| within(scalar, CAPS_MM, reader));
    let opacity = reader.number(&keys.opacity, 0.0..=1.0);
    filled_up("a clear line", &keys.thinnest_clear, thinnest_clear, thinnest_ink, reader);
    let reversed = &keys.smallest_cap_reversed;
    filled_up("a clear capital", reversed, smallest_cap_reversed, smallest_cap, reader);
    if let (Some(opacity), Some(typed)) = (opacity, &keys.opacity)
        && opacity > MOST_OPAQUE
    {
        let message = format!("an opacity of {} % is that of paint", fixed(100.0 * opacity, 2));
        let help = "take the step of the ladder on the ink page that yellow looks like over black"
            .to_owned();
        warn(reader, typed.place, message, help);
    }
    Profile {
        printer: printer.unwrap_or_else(|| "printer".to_owned()),
        date: line(&keys.date, reader),
        class,
        measured: if sound { measured } else { Measured::default() },
        margins,
        thinnest_ink,
        thinnest_clear,
        smallest_cap,
        smallest_cap_reversed,
        opacity,
        picked: picked(keys.colours, start, reader),
        paper,
        place: start,
    }
}

/// Asks about clear that stays open where ink of the same width no longer shows: ink spreads, so the answers
/// were most likely swapped.
fn filled_up(
    clear: &str,
    scalar: &Option<Scalar>,
    clear_mm: Option<f64>,
    ink_mm: Option<f64>,
    reader: &mut Reader,
) {
    if let (Some(scalar), Some(clear_mm), Some(ink_mm)) = (scalar, clear_mm, ink_mm)
        && clear_mm < ink_mm
    {
        let message = format!(
            "{clear} of {} mm came out, but an inked one only from {} mm on",
            fixed(clear_mm, 3),
            fixed(ink_mm, 3)
        );
        let help = "ink spreads into what is clear: were the two answers swapped?".to_owned();
        warn(reader, scalar.place, message, help);
    }
}

/// A length that can be read off a ladder.
fn within(scalar: &Option<Scalar>, range: RangeInclusive<f64>, reader: &mut Reader) -> Option<f64> {
    let mm = reader.length(scalar, Least::Something)?;
    if range.contains(&mm) {
        return Some(mm);
    }
    let scalar = scalar.as_ref()?;
    let message = format!("{} is on no test print", quoted(&scalar.text));
    let help = format!("read it off in mm, from {} to {}", range.start(), range.end());
    reader.wrong("bad-length", scalar.place, message, help);
    None
}

fn margins(list: &OneOrList, reader: &mut Reader) -> Option<Margins> {
    let margins = sheet::some_margins(list, reader)?;
    let sides = [margins.top, margins.right, margins.bottom, margins.left];
    if sides.iter().all(|side| *side <= WIDEST_MARGIN_MM) {
        return Some(margins);
    }
    let place = list.place().unwrap_or_default();
    let message = format!("a margin of more than {WIDEST_MARGIN_MM} mm is no printer's");
    reader.wrong("bad-margin", place, message, "read the steps at the four edges again");
    None
}

fn picked(
    picks: BTreeMap<String, PickedKeys>,
    start: Place,
    reader: &mut Reader,
) -> BTreeMap<String, Picked> {
    let mut all = BTreeMap::new();
    if picks.len() > MOST_COLOURS {
        let message = format!("{} colours; a profile holds {MOST_COLOURS}", picks.len());
        reader.wrong("too-many", start, message, "keep those you use");
        return all;
    }
    for (name, PickedKeys { shown, print }) in picks {
        let (Some(shown), Some(print)) = (&shown, &print) else {
            let place = shown.as_ref().or(print.as_ref()).map_or(start, |typed| typed.place);
            let message = format!("the colour {} needs both `shown` and `print`", quoted(&name));
            let help = "write {shown: \"#ad2b24\", print: D2}: as on its test print";
            reader.wrong("missing", place, message, help);
            continue;
        };
        let Some(colour) = reader.colour(shown) else { continue };
        if let Some(print) = patch(colour, print, reader) {
            all.insert(name, Picked { shown: colour, print });
        }
    }
    all
}

/// The colour of a patch: by its code, or its value.
fn patch(shown: Colour, print: &Scalar, reader: &mut Reader) -> Option<Colour> {
    if print.trimmed().starts_with('#') {
        return reader.colour(print);
    }
    let found = neighbours::by_code(shown, &print.text);
    if found.is_none() {
        let message = format!("{} is no patch of the test print of {shown}", quoted(&print.text));
        let help = "write a code from A1 to E5 that has a patch, or a value, quoted: \"#ad2b24\"";
        reader.wrong("bad-colour", print.place, message, help);
    }
    found
}

/// Warns of something to think about; the profile can be used all the same.
fn warn(reader: &mut Reader, place: Place, message: String, help: String) {
    let finding = Finding::warning("measured-oddly", message).at(place).help(help);
    reader.context.findings.push(finding);
}
