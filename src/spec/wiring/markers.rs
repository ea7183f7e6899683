//! What the markers should be.

use crate::finding::{Place, quoted};
use crate::spec::Mm;
use crate::spec::choice::choice;
use crate::spec::reader::{Given, Least, Reader};
use crate::spec::{Choice, Film, series};
use crate::yaml::{OneOrList, Scalar, keys};
use kurbo::{Point, Size, Vec2};
use std::collections::BTreeSet;

/// Thickness of sticker stock and of film, mm (common practice, no source).
const USUAL_THICKNESS: f64 = 0.1;
/// Height of a flag, mm (common practice, no source).
const USUAL_HEIGHT: f64 = 7.0;
/// Most length along the wire, mm (common practice, no source).
const USUAL_ALONG: f64 = 40.0;
/// Clear tail of a laminated wrap, in turns (common practice, no source).
const USUAL_TAIL: f64 = 1.5;
/// The role of the face whose letters and figures cannot be mistaken for each other.
const USUAL_FONT: &str = "wire";
/// The most stickers on a sheet either way.
const MOST_CELLS: u32 = 100;

keys! {
    /// What the markers should be.
    #[schemars(extend("x-short" = "kind"))]
    pub(super) struct MarkerKeys;

    /// What the markers of a job should be.
    pub struct Markers {
        /// `auto`, `wrap`, `laminated`, `flag`, `flag-along` or `sleeve`; a column `marker` may say so for one wire.
        kind: Option<Scalar>,
        /// Another kind on thin wires.
        thin: Option<ThinKeys> => Option<(f64, MarkerKind)>,
        /// `sticker`, `paper`, `clear` or `white`.
        film: Option<Scalar>,
        /// Thickness of that.
        thickness: Option<Scalar> => Mm,
        /// Cap height; without it the largest that fits.
        cap_height: Option<Scalar>,
        /// The font.
        font: Option<Scalar> => String,
        /// Length of a flag's face; without it as long as its words.
        face: Option<Scalar> => Option<Mm>,
        /// Height of a flag.
        height: Option<Scalar> => Mm,
        /// Most length along the wire of a wrap or sleeve.
        along: Option<Scalar> => Mm,
        /// Clear tail of a laminated wrap, in turns.
        tail_turns: Option<Scalar> => f64,
        /// A mark at least every so far along wires whose length is given.
        every: Option<Scalar> => Option<Mm>,
        /// Pre-cut stickers to print on.
        grid: Option<GridKeys> => Option<Grid>,
        /// Their kind; `None`: a flag where no wrap could be read, a laminated wrap elsewhere.
        kind => Option<MarkerKind>,
        /// What they are printed on.
        film => Film,
        /// Cap height, mm; `None`: the largest that fits.
        cap => Option<Mm>,
        /// Where the markers are described.
        place => Place,
    }
}

keys! {
    /// Another kind on thin wires.
    pub(super) struct ThinKeys {
        /// Wires thinner than this.
        under: Option<Scalar>,
        /// The kind they get.
        kind: Option<Scalar>,
    }
}

keys! {
    /// A sheet of pre-cut stickers.
    pub(super) struct GridKeys;

    /// A sheet of pre-cut stickers.
    pub struct Grid {
        /// How many stickers side by side.
        columns: Option<Scalar>,
        /// How many one under another.
        rows: Option<Scalar>,
        /// [width, height] of a sticker.
        size: Option<OneOrList> => Size,
        /// From corner to corner of neighbours, [right, down]; without it they touch.
        pitch: Option<OneOrList>,
        /// Top left corner of the first sticker, [right, down] from the paper's.
        first: Option<OneOrList> => Point,
        /// Stickers of the first sheet that are gone, counted along the rows: `1..12`.
        used: Option<OneOrList> => BTreeSet<u32>,
        /// Columns and rows.
        cells => (u32, u32),
        /// From corner to corner of neighbours, mm right and down.
        pitch => Vec2,
        /// Where the grid is described.
        place => Place,
    }
}
choice! {
    /// Kinds of wire marker.
    pub enum MarkerKind {
        /// A strip once round the wire and a little over itself.
        Wrap = "wrap",
        /// A printed turn with a clear tail wound over it.
        Laminated = "laminated",
        /// A strip round the wire with two faces back to back, hung across the wire.
        Flag = "flag",
        /// The same, folded along the wire.
        FlagAlong = "flag-along",
        /// Heat-shrink sleeve.
        Sleeve = "sleeve",
    }
}

/// What the markers should be.
pub(super) fn markers(keys: &Option<MarkerKeys>, place: Place, reader: &mut Reader) -> Markers {
    let none = MarkerKeys::default();
    let keys = keys.as_ref().unwrap_or(&none);
    let places = [&keys.kind, &keys.film, &keys.cap_height, &keys.font, &keys.height];
    let place = places.into_iter().flatten().map(|typed| typed.place).min().unwrap_or(place);
    Markers {
        kind: kind(&keys.kind, reader).flatten(),
        thin: keys.thin.as_ref().and_then(|thin| self::thin(thin, place, reader)),
        film: reader.word(&keys.film).unwrap_or(Film::Sticker),
        thickness: length(&keys.thickness, reader).unwrap_or(USUAL_THICKNESS),
        cap: length(&keys.cap_height, reader),
        font: reader.font_or(&keys.font, USUAL_FONT),
        face: length(&keys.face, reader),
        height: length(&keys.height, reader).unwrap_or(USUAL_HEIGHT),
        along: length(&keys.along, reader).unwrap_or(USUAL_ALONG),
        tail_turns: reader.number(&keys.tail_turns, 0.5..=5.0).unwrap_or(USUAL_TAIL),
        every: length(&keys.every, reader),
        grid: keys.grid.as_ref().and_then(|grid| self::grid(grid, place, reader)),
        place,
    }
}

fn length(scalar: &Option<Scalar>, reader: &mut Reader) -> Option<f64> {
    reader.length(scalar, Least::Something)
}

/// The kind a word stands for; `auto` leaves it to the wire.
pub(super) fn kind<'s>(scalar: impl Given<'s>, reader: &mut Reader) -> Option<Option<MarkerKind>> {
    let kinds = MarkerKind::WORDS.iter().map(|(word, kind)| (*word, Some(*kind)));
    let words: Vec<(&'static str, Option<MarkerKind>)> =
        [("auto", None)].into_iter().chain(kinds).collect();
    reader.choice(scalar, &words)
}

fn thin(keys: &ThinKeys, place: Place, reader: &mut Reader) -> Option<(f64, MarkerKind)> {
    let under = length(&keys.under, reader);
    let known = kind(&keys.kind, reader);
    if keys.under.is_none() || keys.kind.is_none() {
        let message = "`thin:` needs a thickness and a kind";
        reader.wrong("bad-value", place, message, "write thin: {under: 1.2 mm, kind: flag}");
    }
    under.zip(known.flatten())
}

fn grid(keys: &GridKeys, place: Place, reader: &mut Reader) -> Option<Grid> {
    if keys.columns.is_none() || keys.rows.is_none() || keys.size.is_none() {
        let message = "`grid:` needs columns, rows and the size of a sticker";
        let help =
            "write grid: {columns: 4, rows: 11, size: [45 mm, 24 mm], first: [15 mm, 16 mm]}";
        reader.wrong("bad-grid", place, message, help);
        return None;
    }
    let columns = reader.count(&keys.columns, 1..=MOST_CELLS);
    let rows = reader.count(&keys.rows, 1..=MOST_CELLS);
    let size = reader.size(&keys.size)?;
    let pitch = reader.pair(&keys.pitch, Least::Something);
    let pitch = pitch.map_or(size.to_vec2(), |(right, down)| Vec2::new(right, down));
    let (right, down) = reader.pair(&keys.first, Least::Nought).unwrap_or_default();
    if pitch.x < size.width || pitch.y < size.height {
        let message = "the stickers of the grid overlap";
        let help = "a pitch is a sticker's size and the gap after it";
        reader.wrong("bad-grid", place, message, help);
        return None;
    }
    let cells = (columns?, rows?);
    let used = used(keys, cells.0 * cells.1, reader);
    Some(Grid { cells, size, pitch, first: Point::new(right, down), used, place })
}

/// Stickers that are gone: numbers, or runs of them.
fn used(keys: &GridKeys, most: u32, reader: &mut Reader) -> BTreeSet<u32> {
    let mut used = BTreeSet::new();
    for range in keys.used.iter().flat_map(|many| &many.items) {
        let text = range.trimmed();
        let single = text.parse::<u32>().is_ok();
        let numbers = if single { Ok(vec![text.to_owned()]) } else { series::parse(text) };
        let numbers = match numbers {
            Ok(numbers) => numbers,
            Err(not) => {
                let message = format!("{} {}", quoted(text), not.what);
                reader.wrong("bad-grid", range.place, message, not.help);
                continue;
            }
        };
        let sticker = |number: &String| {
            number.parse::<u32>().ok().filter(|number| (1..=most).contains(number))
        };
        match numbers.iter().map(sticker).collect::<Option<Vec<u32>>>() {
            Some(numbers) => used.extend(numbers),
            None => {
                let message = format!("{} is not among the stickers 1 to {most}", quoted(text));
                let help = "count along the rows from the top left: 1..12";
                reader.wrong("bad-grid", range.place, message, help);
            }
        }
    }
    used
}
