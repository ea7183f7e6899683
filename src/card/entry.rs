//! What the list says about each label, gathered once for pages and text.

use crate::design::Design;
use crate::sheet::{Piece, Sheet};
use crate::spec::panel::{Side, Stands};
use crate::spec::{Applied, Film, Label, Spec, Surface};
use crate::units::fixed;
use kurbo::Size;
use std::collections::{BTreeMap, BTreeSet};

/// All labels on one kind of film.
#[derive(Debug)]
pub(super) struct Section<'a> {
    pub(super) film: Film,
    pub(super) entries: Vec<Entry<'a>>,
    /// How many sheets the film takes.
    pub(super) sheets: usize,
}

/// One label, hand or part of a split label: everything that shares a design.
#[derive(Debug)]
pub(super) struct Entry<'a> {
    /// Its number in the list, from 1.
    pub(super) number: usize,
    /// Index of its design.
    pub(super) design: usize,
    pub(super) name: &'a str,
    pub(super) words: Vec<&'a str>,
    pub(super) size: Size,
    pub(super) surface: Option<(&'a str, &'a Surface)>,
    /// Where on its panel it goes, when it is a legend.
    pub(super) spot: Option<String>,
    pub(super) label: &'a Label,
    pub(super) copies: usize,
    pub(super) spares: usize,
    pub(super) sheets: BTreeSet<usize>,
}

/// Where the pieces of one design ended up.
#[derive(Default)]
struct Pieces {
    copies: usize,
    spares: usize,
    sheets: BTreeSet<usize>,
}

/// The labels film by film, each film in the order of the job.
pub(super) fn sections<'a>(
    spec: &'a Spec,
    designs: &'a [Design],
    sheets: &[Sheet],
) -> Vec<Section<'a>> {
    let mut pieces = pieces(sheets);
    let mut films: BTreeMap<Film, Vec<Entry<'a>>> = BTreeMap::new();
    for (index, design) in designs.iter().enumerate() {
        // Wire markers have sheets of their own to go with them.
        let label = spec.labels.get(design.label).filter(|label| label.marker_of().is_none());
        let Some(label) = label else { continue };
        let Pieces { copies, spares, sheets } = pieces.remove(&index).unwrap_or_default();
        let surface = label.on.as_deref();
        films.entry(label.film).or_default().push(Entry {
            number: 0,
            design: index,
            name: &design.name,
            words: design
                .words
                .iter()
                .map(|words| words.text.as_str())
                .chain(design.codes.iter().map(|code| code.text.as_str()))
                .collect(),
            size: design.size().size(),
            surface: surface.and_then(|name| Some((name, spec.surfaces.get(name)?))),
            spot: label.stands().and_then(|stands| spot(spec, stands)),
            label,
            copies,
            spares,
            sheets,
        });
    }
    let mut number = 0;
    let mut sections = Vec::new();
    for (film, mut entries) in films {
        for entry in &mut entries {
            number += 1;
            entry.number = number;
        }
        let sheets = sheets.iter().filter(|sheet| sheet.film == film).count();
        sections.push(Section { film, entries, sheets });
    }
    sections
}

/// `front, above S1`, or `front, at 80, 12 mm` counted as the panel's places are.
fn spot(spec: &Spec, stands: &Stands) -> Option<String> {
    let panel = spec.panels.get(stands.panel)?;
    let name = &panel.name;
    let Some(hole) = &stands.hole else {
        let at = panel.origin.from_panel(stands.at, panel.size);
        return Some(format!("{name}, at {}, {}\u{a0}mm", fixed(at.x, 1), fixed(at.y, 1)));
    };
    let side = match stands.side {
        Side::Above => "above",
        Side::Below => "below",
        Side::Left => "left of",
        Side::Right => "right of",
        Side::Centre => "round",
    };
    Some(format!("{name}, {side} {hole}"))
}

fn pieces(sheets: &[Sheet]) -> BTreeMap<usize, Pieces> {
    let mut pieces: BTreeMap<usize, Pieces> = BTreeMap::new();
    for sheet in sheets {
        for placement in &sheet.placements {
            let of = pieces.entry(placement.design).or_default();
            of.sheets.insert(sheet.number);
            match placement.piece {
                Piece::Copy(_) => of.copies += 1,
                Piece::Spare(_) => of.spares += 1,
            }
        }
    }
    pieces
}

impl Section<'_> {
    /// `3 labels, 8 pieces, 1 sheet`.
    pub(super) fn totals(&self) -> String {
        let pieces: usize = self.entries.iter().map(|entry| entry.copies + entry.spares).sum();
        format!(
            "{}, {}, {}",
            counted(self.entries.len(), "label"),
            counted(pieces, "piece"),
            counted(self.sheets, "sheet")
        )
    }

    /// Whether any label on this film is applied in this way.
    pub(super) fn any(&self, applied: Applied) -> bool {
        self.entries.iter().any(|entry| entry.label.applied == applied)
    }
}

impl Entry<'_> {
    /// The words as they are read aloud, lines told apart by a stroke.
    pub(super) fn spoken(&self) -> String {
        if self.words.is_empty() { "(no words)".to_owned() } else { self.words.join(" / ") }
    }

    /// `24.5 x 8 mm`, to a tenth.
    pub(super) fn measures(&self) -> String {
        format!("{} x {}\u{a0}mm", fixed(self.size.width, 1), fixed(self.size.height, 1))
    }

    /// `on housing, metallic`, and where on a panel: `front, above S1`.
    pub(super) fn goes_on(&self) -> String {
        let on = match self.surface {
            Some((name, Surface { finish: Some(finish), .. })) => format!("on {name}, {finish}"),
            Some((name, _)) => format!("on {name}"),
            None => "surface not given".to_owned(),
        };
        match &self.spot {
            Some(spot) => format!("{on}; {spot}"),
            None => on,
        }
    }

    /// How it is applied, and that it looks wrong on the sheet where it does.
    pub(super) fn applied(&self) -> &'static str {
        match self.label.applied {
            Applied::FaceUp => "face up",
            Applied::FaceDown => "face down; printed backwards",
            Applied::InsideWindow => "inside the window; printed backwards",
            Applied::HeatTransfer => "heat transfer; printed backwards",
        }
    }

    /// `2 + 1 spare`.
    pub(super) fn count(&self) -> String {
        match self.spares {
            0 => format!("{}, no spare", self.copies),
            spares => format!("{} + {}", self.copies, counted(spares, "spare")),
        }
    }

    /// `sheet 1`, `sheets 1, 3 to 5`.
    pub(super) fn found_on(&self) -> String {
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for sheet in &self.sheets {
            match runs.last_mut() {
                Some((_, last)) if *last + 1 == *sheet => *last = *sheet,
                _ => runs.push((*sheet, *sheet)),
            }
        }
        let runs: Vec<String> = runs
            .iter()
            .map(|(first, last)| match last - first {
                0 => format!("{first}"),
                1 => format!("{first}, {last}"),
                _ => format!("{first} to {last}"),
            })
            .collect();
        match self.sheets.len() {
            0 => "on no sheet".to_owned(),
            1 => format!("sheet {}", runs.concat()),
            _ => format!("sheets {}", runs.join(", ")),
        }
    }
}

/// The film's name at the head of its section.
pub(super) fn title(film: Film) -> &'static str {
    match film {
        Film::Clear => "Clear film",
        Film::White => "White film",
        Film::Sticker => "Sticker sheet",
        Film::Paper => "Paper",
    }
}

/// `1 sheet`, `2 sheets`.
pub(super) fn counted(number: usize, word: &str) -> String {
    if number == 1 { format!("1 {word}") } else { format!("{number} {word}s") }
}

/// Revision and date as the job gives them, on one line; may be empty.
pub(super) fn issue(spec: &Spec) -> String {
    let revision = spec.revision.as_ref().map(|revision| format!("revision {revision}"));
    let parts: Vec<String> = revision.into_iter().chain(spec.date.clone()).collect();
    parts.join(", ")
}
