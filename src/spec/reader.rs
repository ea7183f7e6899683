//! One value at a time: lengths, numbers, choices and colours, each mistake reported once, with its place.

use super::{Choice, ReadContext};
use crate::colour::Colour;
use crate::drawing::Read;
use crate::finding::{Finding, Place, quoted};
use crate::table::Table;
use crate::units::{Length, fixed};
use crate::yaml::{OneOrList, Scalar, Tree};
use kurbo::{Size, Vec2};
use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::RangeInclusive;
use std::rc::Rc;

/// The longest length anything in a job may have, mm: 5 m. More is a slip of the unit.
const LONGEST: f64 = 5000.0;

/// The nearest and the farthest anything is read from, mm.
const MOST_NEAR: f64 = 50.0;
const MOST_FAR: f64 = 100_000.0;

/// The most mistakes reported in one run: nobody reads more, and a hostile job could fill the memory.
const MOST_REPORTED: usize = 10_000;

/// The most mistakes whose message names the line of another place.
const MOST_LOOKED_UP: usize = 200;

/// Room for all labels with their styles laid under them, bytes: 20,000 labels of usual size take a
/// quarter of it, and a hostile job cannot fill the memory.
const ROOM: usize = 160 * 1024 * 1024;

/// A scalar, or one that may not be given.
pub(super) trait Given<'s>: Into<Option<&'s Scalar>> {}

impl<'s, T: Into<Option<&'s Scalar>>> Given<'s> for T {}

/// How small a length may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Least {
    /// Also negative: an offset.
    Any,
    /// 0 or more.
    Nought,
    /// More than 0.
    Something,
}

/// What the values of a job are read against, and where its mistakes go.
pub(super) struct Reader<'r, 'd> {
    pub(super) context: &'r mut ReadContext<'d>,
    /// The model's scale: 87 for 1:87.
    pub(super) scale: Option<f64>,
    pub(super) colours: BTreeMap<String, Colour>,
    pub(super) words: BTreeMap<String, String>,
    /// The label being read.
    pub(super) label: Option<String>,
    /// Mistakes reported already: a slip in a style is met again by each label that uses it.
    pub(super) reported: BTreeSet<(Place, String)>,
    /// Fonts asked for so far, and whether they are known.
    pub(super) fonts: BTreeMap<String, bool>,
    /// Tables read so far, by file name.
    pub(super) tables: BTreeMap<String, Rc<Table>>,
    /// Drawings read so far, by file name; `None` for those that cannot be used.
    pub(super) drawings: BTreeMap<String, Option<Read>>,
    /// Columns and counters of the label being filled in, for suggesting one that was meant.
    pub(super) columns: Vec<String>,
    /// How often a name that was meant has been looked for.
    pub(super) suggested: Cell<usize>,
    /// What is left of [`ROOM`].
    pub(super) room: usize,
}

impl<'r, 'd> Reader<'r, 'd> {
    /// A reader that knows nothing yet.
    pub(super) fn new(context: &'r mut ReadContext<'d>) -> Reader<'r, 'd> {
        Reader {
            context,
            scale: None,
            colours: BTreeMap::new(),
            words: BTreeMap::new(),
            label: None,
            reported: BTreeSet::new(),
            fonts: BTreeMap::new(),
            tables: BTreeMap::new(),
            drawings: BTreeMap::new(),
            columns: Vec::new(),
            suggested: Cell::new(0),
            room: ROOM,
        }
    }
}

impl Reader<'_, '_> {
    /// Reports a mistake at a place, once.
    pub(super) fn wrong(
        &mut self,
        code: &'static str,
        place: Place,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        let message = message.into();
        if self.reported.len() >= MOST_REPORTED || !self.reported.insert((place, message.clone())) {
            return;
        }
        let mut finding = Finding::error(code, message).at(place).help(help);
        finding.label.clone_from(&self.label);
        self.context.findings.push(finding);
    }

    /// Adds what is worth knowing about the label being read, once a place and code.
    pub(super) fn note(&mut self, finding: Finding) {
        let known = self.context.findings.list();
        if !known.iter().any(|one| one.place == finding.place && one.code == finding.code) {
            let label = self.label.clone();
            self.context.findings.push(Finding { label, ..finding });
        }
    }

    /// Takes the room a label needs; `false`, and reported once, when there is none left.
    pub(super) fn make_room(&mut self, label: &Tree, place: Place) -> bool {
        let mut bytes = 1000;
        label.each_text(&mut |text| bytes += text.len() + 40);
        if bytes <= self.room {
            self.room -= bytes;
            return true;
        }
        if self.room > 0 {
            let message = "the labels and their styles are too much for one job";
            self.wrong("too-many", place, message, "make two jobs of it");
        }
        self.room = 0;
        false
    }

    /// The bytes of a file beside the job; `None`, and reported under this code, when there is no such file.
    pub(super) fn fetch(
        &mut self,
        code: &'static str,
        what: &str,
        file: &Scalar,
    ) -> Option<Vec<u8>> {
        let error = match (self.context.fetch)(file.trimmed()) {
            Ok(bytes) => return Some(bytes),
            Err(error) => error.to_string(),
        };
        let help = format!("put the {what} beside the job, or correct its name");
        self.wrong(code, file.place, error, help);
        None
    }

    /// A value that a thing cannot do without, as typed; `None`, and reported with an example, when it is not given.
    pub(super) fn needed<'s>(
        &mut self,
        scalar: &'s Option<Scalar>,
        thing: &str,
        (key, example): (&str, &str),
        place: Place,
    ) -> Option<&'s Scalar> {
        if scalar.is_none() {
            let help = format!("add it, for example `{key}: {example}`");
            self.wrong("missing", place, format!("{thing} needs `{key}`"), help);
        }
        scalar.as_ref()
    }

    /// Reports a key that changes nothing where it is given.
    pub(super) fn no_effect(
        &mut self,
        scalar: &Option<Scalar>,
        message: impl Into<String>,
        help: &str,
    ) {
        if let Some(scalar) = scalar {
            self.wrong("no-effect", scalar.place, message, help);
        }
    }

    /// A length in mm; `None` when not given or wrong.
    pub(super) fn length<'s>(&mut self, scalar: impl Given<'s>, least: Least) -> Option<f64> {
        let scalar = scalar.into()?;
        let text = scalar.trimmed();
        let (text, prototype) = match text.strip_suffix("prototype") {
            Some(real) => (real.trim_end(), true),
            None => (text, false),
        };
        let mut mm = match Length::parse(text) {
            Ok(length) => length.mm(),
            Err(not) => {
                let message = format!("{} {}", quoted(&scalar.text), not.what);
                self.wrong("bad-length", scalar.place, message, not.help);
                return None;
            }
        };
        if prototype {
            mm /= self.scale_for(scalar)?;
        }
        self.bounded(scalar, mm, least)
    }

    /// A length of a table, mm, in this unit where it has none of its own.
    pub(super) fn length_in(&mut self, cell: &Scalar, unit: &str, least: Least) -> Option<f64> {
        let text = with_unit(cell.trimmed(), unit);
        self.length(&Scalar { text, place: cell.place }, least)
    }

    fn scale_for(&mut self, scalar: &Scalar) -> Option<f64> {
        if self.scale.is_none() {
            let message = format!("{} needs the job's scale", quoted(&scalar.text));
            let help = "add `scale: 1:87` (your model's own) at the top of the job";
            self.wrong("no-scale", scalar.place, message, help);
        }
        self.scale
    }

    fn bounded(&mut self, scalar: &Scalar, mm: f64, least: Least) -> Option<f64> {
        let text = quoted(&scalar.text);
        let (message, help) = if mm.abs() > LONGEST {
            (format!("{text} is longer than 5 m"), "check the number and its unit")
        } else if mm < 0.0 && least != Least::Any {
            (format!("{text} is negative"), "give 0 mm or more")
        } else if mm <= 0.0 && least == Least::Something {
            (format!("{text} is no length"), "give more than 0 mm")
        } else {
            return Some(mm);
        };
        self.wrong("bad-length", scalar.place, message, help);
        None
    }

    /// A distance to look from, mm: up to a kilometre.
    pub(super) fn far<'s>(&mut self, scalar: impl Given<'s>) -> Option<f64> {
        let scalar = scalar.into()?;
        let text = quoted(&scalar.text);
        let (message, help) = match Length::parse(scalar.trimmed()) {
            Ok(length) if (MOST_NEAR..=MOST_FAR).contains(&length.mm()) => {
                return Some(length.mm());
            }
            Ok(_) => (format!("nobody reads from {text}"), "give 50 mm to 100 m".to_owned()),
            Err(not) => (format!("{text} {}", not.what), not.help),
        };
        self.wrong("bad-length", scalar.place, message, help);
        None
    }

    /// Two lengths, [across, down] or [right, down].
    pub(super) fn pair<'s>(
        &mut self,
        list: impl Into<Option<&'s OneOrList>>,
        least: Least,
    ) -> Option<(f64, f64)> {
        let list = list.into()?;
        let [first, second] = list.items.as_slice() else {
            self.not_two(list);
            return None;
        };
        let first = self.length(first, least);
        let second = self.length(second, least);
        Some((first?, second?))
    }

    /// Two lengths, or one for both.
    pub(super) fn one_or_pair<'s>(
        &mut self,
        list: impl Into<Option<&'s OneOrList>>,
        least: Least,
    ) -> Option<(f64, f64)> {
        let list = list.into()?;
        match list.items.as_slice() {
            [both] => self.length(both, least).map(|both| (both, both)),
            _ => self.pair(list, least),
        }
    }

    fn not_two(&mut self, list: &OneOrList) {
        let place = list.place().unwrap_or_default();
        let message = match list.items.len() {
            1 => "one length where two are needed".to_owned(),
            count => format!("{count} lengths where two are needed"),
        };
        self.wrong("bad-pair", place, message, "write both in a list: [20 mm, 5 mm]");
    }

    /// A size, mm.
    pub(super) fn size<'s>(&mut self, list: impl Into<Option<&'s OneOrList>>) -> Option<Size> {
        self.pair(list, Least::Something).map(|(width, height)| Size::new(width, height))
    }

    /// Where something stands, mm right and down of the middle; the middle when not given.
    pub(super) fn at<'s>(&mut self, list: impl Into<Option<&'s OneOrList>>) -> Vec2 {
        self.pair(list, Least::Any).map(|(right, down)| Vec2::new(right, down)).unwrap_or_default()
    }

    /// A plain number or a percentage within bounds.
    pub(super) fn number<'s>(
        &mut self,
        scalar: impl Given<'s>,
        bounds: RangeInclusive<f64>,
    ) -> Option<f64> {
        let scalar = scalar.into()?;
        self.number_in(scalar, plain_number(scalar.trimmed()), &bounds)
    }

    /// An angle in degrees: `45`, `45 deg` or `45°`.
    pub(super) fn degrees<'s>(
        &mut self,
        scalar: impl Given<'s>,
        bounds: RangeInclusive<f64>,
    ) -> Option<f64> {
        let scalar = scalar.into()?;
        let text = scalar.trimmed();
        let text = text.strip_suffix("deg").or_else(|| text.strip_suffix('°')).unwrap_or(text);
        self.number_in(scalar, plain_number(text.trim_end()), &bounds)
    }

    /// How far something is turned, degrees clockwise; not at all when it does not say.
    pub(super) fn turn(&mut self, scalar: &Option<Scalar>) -> f64 {
        self.degrees(scalar, -360.0..=360.0).unwrap_or(0.0)
    }

    fn number_in(
        &mut self,
        scalar: &Scalar,
        number: Option<f64>,
        bounds: &RangeInclusive<f64>,
    ) -> Option<f64> {
        let text = quoted(&scalar.text);
        let (low, high) = (fixed(*bounds.start(), 3), fixed(*bounds.end(), 3));
        let message = match number {
            Some(number) if bounds.contains(&number) => return Some(number),
            Some(_) => format!("{text} is out of bounds"),
            None => format!("{text} is not a number"),
        };
        let help = format!("give a number from {low} to {high}");
        self.wrong("bad-number", scalar.place, message, help);
        None
    }

    /// A whole number within bounds.
    pub(super) fn count<'s>(
        &mut self,
        scalar: impl Given<'s>,
        bounds: RangeInclusive<u32>,
    ) -> Option<u32> {
        let scalar = scalar.into()?;
        let text = scalar.trimmed();
        let plain = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        let number = if plain { text.parse::<u32>().ok() } else { None };
        match number {
            Some(number) if bounds.contains(&number) => return Some(number),
            _ => {}
        }
        let what = if plain { "is out of bounds" } else { "is not a whole number" };
        let help = format!("give a whole number from {} to {}", bounds.start(), bounds.end());
        self.wrong("bad-number", scalar.place, format!("{} {what}", quoted(text)), help);
        None
    }

    /// What a word stands for.
    pub(super) fn word<'s, T: Choice>(&mut self, scalar: impl Given<'s>) -> Option<T> {
        self.choice(scalar, T::WORDS)
    }

    /// One word of a short list.
    pub(super) fn choice<'s, T: Copy>(
        &mut self,
        scalar: impl Given<'s>,
        choices: &[(&'static str, T)],
    ) -> Option<T> {
        let scalar = scalar.into()?;
        let text = scalar.trimmed();
        if let Some((_, meant)) = choices.iter().find(|(word, _)| *word == text) {
            return Some(*meant);
        }
        let words: Vec<String> = choices.iter().map(|(word, _)| format!("`{word}`")).collect();
        let message = format!("{} is not one of {}", quoted(text), words.join(", "));
        let known = choices.iter().map(|(word, _)| *word);
        let help = self.did_you_mean(text, known, "write one of them");
        self.wrong("bad-value", scalar.place, message, help);
        None
    }

    /// `yes` or `no`.
    pub(super) fn yes<'s>(&mut self, scalar: impl Given<'s>) -> Option<bool> {
        self.choice(scalar, &[("yes", true), ("no", false), ("true", true), ("false", false)])
    }

    /// Where a place is, to follow a word in a message about two places: ` in line 7`, or
    /// ` in job.yaml line 7` from another file; nothing once so many are reported that nobody would read it.
    pub(super) fn in_line(&self, place: Place, from: Place) -> String {
        // Each look-up counts the lines from the top of the file.
        if self.reported.len() >= MOST_LOOKED_UP {
            return String::new();
        }
        match self.context.sources.position(place) {
            Some((_, line, _)) if place.file == from.file => format!(" in line {line}"),
            Some((name, line, _)) => format!(" in {name} line {line}"),
            None => String::new(),
        }
    }
}

/// A number with this unit where it has none of its own; an empty unit adds none.
pub(super) fn with_unit(text: &str, unit: &str) -> String {
    let bare = text.bytes().all(|byte| byte.is_ascii_digit() || b".,+-".contains(&byte));
    if bare && !unit.is_empty() { format!("{text} {unit}") } else { text.to_owned() }
}

/// A finite number written plainly, or a percentage as a share of 1.
pub(super) fn plain_number(text: &str) -> Option<f64> {
    let (digits, share) = match text.strip_suffix('%') {
        Some(percent) => (percent.trim_end(), 100.0),
        None => (text, 1.0),
    };
    let plain = digits.bytes().all(|byte| byte.is_ascii_digit() || b".+-".contains(&byte));
    if !plain {
        return None;
    }
    digits.parse::<f64>().ok().filter(|number| number.is_finite()).map(|number| number / share)
}
