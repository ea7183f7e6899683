//! `marker:` resolved: what the markers should be.

use super::super::reader::{Least, Reader, quoted};
use super::super::sheet::FILMS;
use crate::finding::Place;
use crate::spec::Film;
use crate::spec::series;
use crate::spec::typed::{Shorthand, Typed};
use crate::spec::wires_draft::{GridDraft, MarkerDraft, ThinDraft};
use crate::spec::wiring::{Grid, Kind, Markers};
use kurbo::{Point, Vec2};
use std::collections::BTreeSet;

/// Words for kinds of marker; `auto` leaves it to the wire.
pub(super) const KINDS: [(&str, Option<Kind>); 6] = [
    ("auto", None),
    ("wrap", Some(Kind::Wrap)),
    ("laminated", Some(Kind::Laminated)),
    ("flag", Some(Kind::Flag)),
    ("flag-along", Some(Kind::FlagAlong)),
    ("sleeve", Some(Kind::Sleeve)),
];

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
pub(super) fn markers(
    draft: Option<&Shorthand<MarkerDraft>>,
    place: Place,
    reader: &mut Reader<'_, '_>,
) -> Markers {
    let short;
    let draft = match draft {
        Some(Shorthand::Long(map)) => map,
        Some(Shorthand::Short(kind)) => {
            short = Box::new(MarkerDraft {
                kind: kind.items.first().cloned(),
                ..MarkerDraft::default()
            });
            &short
        }
        None => &Box::default(),
    };
    let places = [&draft.kind, &draft.film, &draft.cap_height, &draft.font, &draft.height];
    let place = places.into_iter().flatten().map(|typed| typed.place).min().unwrap_or(place);
    Markers {
        kind: reader.choice(draft.kind.as_ref(), &KINDS).flatten(),
        thin: draft.thin.as_ref().and_then(|thin| self::thin(thin, place, reader)),
        film: reader.choice(draft.film.as_ref(), &FILMS).unwrap_or(Film::Sticker),
        thickness: length(draft.thickness.as_ref(), reader).unwrap_or(USUAL_THICKNESS),
        cap: length(draft.cap_height.as_ref(), reader),
        font: draft.font.as_ref().map_or(USUAL_FONT.to_owned(), |typed| reader.font(typed)),
        face: length(draft.face.as_ref(), reader),
        height: length(draft.height.as_ref(), reader).unwrap_or(USUAL_HEIGHT),
        along: length(draft.along.as_ref(), reader).unwrap_or(USUAL_ALONG),
        tail_turns: reader.number(draft.tail_turns.as_ref(), 0.5..=5.0).unwrap_or(USUAL_TAIL),
        every: length(draft.every.as_ref(), reader),
        grid: draft.grid.as_ref().and_then(|grid| self::grid(grid, place, reader)),
        place,
    }
}

fn length(typed: Option<&Typed>, reader: &mut Reader<'_, '_>) -> Option<f64> {
    reader.length(typed, Least::Something)
}

fn thin(draft: &ThinDraft, place: Place, reader: &mut Reader<'_, '_>) -> Option<(f64, Kind)> {
    let under = length(draft.under.as_ref(), reader);
    let kind = reader.choice(draft.kind.as_ref(), &KINDS);
    if draft.under.is_none() || draft.kind.is_none() {
        let message = "`thin:` needs a thickness and a kind".to_owned();
        reader.wrong("bad-value", place, message, "write thin: {under: 1.2 mm, kind: flag}");
    }
    under.zip(kind.flatten())
}

fn grid(draft: &GridDraft, place: Place, reader: &mut Reader<'_, '_>) -> Option<Grid> {
    if draft.columns.is_none() || draft.rows.is_none() || draft.size.is_none() {
        let message = "`grid:` needs columns, rows and the size of a sticker".to_owned();
        let help =
            "write grid: {columns: 4, rows: 11, size: [45 mm, 24 mm], first: [15 mm, 16 mm]}";
        reader.wrong("bad-grid", place, message, help);
        return None;
    }
    let columns = reader.count(draft.columns.as_ref(), 1..=MOST_CELLS);
    let rows = reader.count(draft.rows.as_ref(), 1..=MOST_CELLS);
    let size = reader.size(draft.size.as_ref())?;
    let pitch = reader.pair(draft.pitch.as_ref(), Least::Something);
    let pitch = pitch.map_or(size.to_vec2(), |(right, down)| Vec2::new(right, down));
    let (right, down) = reader.pair(draft.first.as_ref(), Least::Nought).unwrap_or_default();
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
fn used(draft: &GridDraft, most: u32, reader: &mut Reader<'_, '_>) -> BTreeSet<u32> {
    let mut used = BTreeSet::new();
    for range in draft.used.iter().flat_map(|many| &many.items) {
        let text = range.text.trim();
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
