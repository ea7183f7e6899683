//! What the markers should be.

use crate::finding::Place;
use crate::spec::choice::choice;
use crate::spec::reader::{Least, Reader, quoted};
use crate::spec::{Choice, Film, series};
use crate::yaml::{OneOrList, Scalar};
use kurbo::{Point, Size, Vec2};
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeSet;

/// Thickness of sticker stock and of film, mm (common practice, no source).
const USUAL_THICKNESS: f64 = 0.1;
/// Height of a flag, mm (common practice, no source).
const USUAL_HEIGHT: f64 = 7.0;
/// Most length along the wire, mm (common practice, no source).
const USUAL_ALONG: f64 = 40.0;
/// Clear tail of a laminated wrap, in turns (common practice, no source).
const USUAL_TAIL: f64 = 1.5;
/// The role of the face whose letters and figures are told apart.
const USUAL_FONT: &str = "wire";
/// The most stickers on a sheet either way.
const MOST_CELLS: u32 = 100;

/// What the markers should be.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
#[schemars(extend("x-short" = "kind"))]
pub(super) struct MarkerKeys {
    /// `auto`, `wrap`, `laminated`, `flag`, `flag-along` or `sleeve`; a column `marker` may say so for one wire.
    kind: Option<Scalar>,
    /// Another kind on thin wires.
    thin: Option<ThinKeys>,
    /// `sticker`, `paper`, `clear` or `white`.
    film: Option<Scalar>,
    /// Thickness of that.
    thickness: Option<Scalar>,
    /// Cap height; without it the largest that fits.
    cap_height: Option<Scalar>,
    /// The font.
    font: Option<Scalar>,
    /// Length of a flag's face; without it as long as its words.
    face: Option<Scalar>,
    /// Height of a flag.
    height: Option<Scalar>,
    /// Most length along the wire of a wrap or sleeve.
    along: Option<Scalar>,
    /// Clear tail of a laminated wrap, in turns.
    tail_turns: Option<Scalar>,
    /// A mark at least every so far along wires whose length is given.
    every: Option<Scalar>,
    /// Pre-cut stickers to print on.
    grid: Option<GridKeys>,
}

/// Another kind on thin wires.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
struct ThinKeys {
    /// Wires thinner than this.
    under: Option<Scalar>,
    /// The kind they get.
    kind: Option<Scalar>,
}

/// A sheet of pre-cut stickers.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
struct GridKeys {
    /// How many stickers side by side.
    columns: Option<Scalar>,
    /// How many one under another.
    rows: Option<Scalar>,
    /// [width, height] of a sticker.
    size: Option<OneOrList>,
    /// From corner to corner of neighbours, [right, down]; without it they touch.
    pitch: Option<OneOrList>,
    /// Top left corner of the first sticker, [right, down] from the paper's.
    first: Option<OneOrList>,
    /// Stickers of the first sheet that are gone, counted along the rows: `1..12`.
    used: Option<OneOrList>,
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

/// What the markers of a job should be.
#[derive(Clone, Debug, PartialEq)]
pub struct Markers {
    /// Their kind; `None`: a flag where no wrap could be read, a laminated wrap elsewhere.
    pub kind: Option<MarkerKind>,
    /// On wires thinner than this, mm, another kind.
    pub thin: Option<(f64, MarkerKind)>,
    /// What they are printed on.
    pub film: Film,
    /// Thickness of that, mm.
    pub thickness: f64,
    /// Cap height, mm; `None`: the largest that fits.
    pub cap: Option<f64>,
    /// The font.
    pub font: String,
    /// Length of a flag's face, mm; `None`: as long as its words.
    pub face: Option<f64>,
    /// Height of a flag, mm.
    pub height: f64,
    /// Most length along the wire of a wrap or sleeve, mm.
    pub along: f64,
    /// Clear tail of a laminated wrap, in turns.
    pub tail_turns: f64,
    /// A mark at least every so many mm along a wire whose length is given.
    pub every: Option<f64>,
    /// Pre-cut stickers to print on, where there are any.
    pub grid: Option<Grid>,
    /// Where the markers are described.
    pub place: Place,
}

/// A sheet of pre-cut stickers.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Columns and rows.
    pub cells: (u32, u32),
    /// The size of a sticker, mm.
    pub size: Size,
    /// From corner to corner of neighbours, mm right and down.
    pub pitch: Vec2,
    /// Top left corner of the first sticker, mm from the paper's top left.
    pub first: Point,
    /// Stickers that are gone, counted along the rows from 1; of the first sheet.
    pub used: BTreeSet<u32>,
    /// Where the grid is described.
    pub place: Place,
}

/// What the markers should be.
pub(super) fn markers(
    keys: &Option<MarkerKeys>,
    place: Place,
    reader: &mut Reader<'_, '_>,
) -> Markers {
    let none = MarkerKeys::default();
    let draft = keys.as_ref().unwrap_or(&none);
    let places = [&draft.kind, &draft.film, &draft.cap_height, &draft.font, &draft.height];
    let place = places.into_iter().flatten().map(|typed| typed.place).min().unwrap_or(place);
    Markers {
        kind: kind(&draft.kind, reader).flatten(),
        thin: draft.thin.as_ref().and_then(|thin| self::thin(thin, place, reader)),
        film: reader.word(&draft.film).unwrap_or(Film::Sticker),
        thickness: length(&draft.thickness, reader).unwrap_or(USUAL_THICKNESS),
        cap: length(&draft.cap_height, reader),
        font: reader.font_or(&draft.font, USUAL_FONT),
        face: length(&draft.face, reader),
        height: length(&draft.height, reader).unwrap_or(USUAL_HEIGHT),
        along: length(&draft.along, reader).unwrap_or(USUAL_ALONG),
        tail_turns: reader.number(&draft.tail_turns, 0.5..=5.0).unwrap_or(USUAL_TAIL),
        every: length(&draft.every, reader),
        grid: draft.grid.as_ref().and_then(|grid| self::grid(grid, place, reader)),
        place,
    }
}

fn length(scalar: &Option<Scalar>, reader: &mut Reader<'_, '_>) -> Option<f64> {
    reader.length(scalar, Least::Something)
}

/// The kind a word stands for; `auto` leaves it to the wire.
pub(super) fn kind<'s>(
    scalar: impl Into<Option<&'s Scalar>>,
    reader: &mut Reader<'_, '_>,
) -> Option<Option<MarkerKind>> {
    let kinds = MarkerKind::WORDS.iter().map(|(word, kind)| (*word, Some(*kind)));
    let words: Vec<(&'static str, Option<MarkerKind>)> =
        [("auto", None)].into_iter().chain(kinds).collect();
    reader.choice(scalar, &words)
}

fn thin(draft: &ThinKeys, place: Place, reader: &mut Reader<'_, '_>) -> Option<(f64, MarkerKind)> {
    let under = length(&draft.under, reader);
    let known = kind(&draft.kind, reader);
    if draft.under.is_none() || draft.kind.is_none() {
        let message = "`thin:` needs a thickness and a kind".to_owned();
        reader.wrong("bad-value", place, message, "write thin: {under: 1.2 mm, kind: flag}");
    }
    under.zip(known.flatten())
}

fn grid(draft: &GridKeys, place: Place, reader: &mut Reader<'_, '_>) -> Option<Grid> {
    if draft.columns.is_none() || draft.rows.is_none() || draft.size.is_none() {
        let message = "`grid:` needs columns, rows and the size of a sticker".to_owned();
        let help =
            "write grid: {columns: 4, rows: 11, size: [45 mm, 24 mm], first: [15 mm, 16 mm]}";
        reader.wrong("bad-grid", place, message, help);
        return None;
    }
    let columns = reader.count(&draft.columns, 1..=MOST_CELLS);
    let rows = reader.count(&draft.rows, 1..=MOST_CELLS);
    let size = reader.size(&draft.size)?;
    let pitch = reader.pair(&draft.pitch, Least::Something);
    let pitch = pitch.map_or(size.to_vec2(), |(right, down)| Vec2::new(right, down));
    let (right, down) = reader.pair(&draft.first, Least::Nought).unwrap_or_default();
    if pitch.x < size.width || pitch.y < size.height {
        let message = "the stickers of the grid overlap".to_owned();
        reader.wrong(
            "bad-grid",
            place,
            message,
            "a pitch is a sticker's size and the gap after it",
        );
        return None;
    }
    let cells = (columns?, rows?);
    let used = used(draft, cells.0 * cells.1, reader);
    Some(Grid { cells, size, pitch, first: Point::new(right, down), used, place })
}

/// Stickers that are gone: numbers, or runs of them.
fn used(draft: &GridKeys, most: u32, reader: &mut Reader<'_, '_>) -> BTreeSet<u32> {
    let mut used = BTreeSet::new();
    for range in draft.used.iter().flat_map(|many| &many.items) {
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
