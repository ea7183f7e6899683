//! What the list says about each label, gathered once for pages and text.

use crate::design::Design;
use crate::sheet::{CopyOrSpare, Sheet};
use crate::spec::panel::{Side, Stands};
use crate::spec::{Applied, Film, Label, Spec, Surface};
use crate::units::{counted, fixed};
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
    pub(super) index: usize,
    pub(super) design: &'a Design,
    pub(super) words: Vec<&'a str>,
    pub(super) surface: Option<(&'a str, &'a Surface)>,
    /// Where on its panel it goes, when it is a legend.
    on_panel: Option<String>,
    pub(super) label: &'a Label,
    pieces: PlacedPieces,
}

/// Where the pieces of one design ended up.
#[derive(Debug, Default)]
struct PlacedPieces {
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
        // Wire markers are listed on the wiring sheets.
        let label = spec.labels.get(design.label);
        debug_assert!(label.is_some(), "a design is of one of the labels");
        let Some(label) = label.filter(|label| label.marker_of().is_none()) else { continue };
        let words = design.words.iter().map(|words| words.text.as_str());
        let codes = design.codes.iter().map(|code| code.text.as_str());
        let surface = label.on.as_deref();
        films.entry(label.film).or_default().push(Entry {
            number: 0,
            index,
            design,
            words: words.chain(codes).collect(),
            surface: surface.and_then(|name| Some((name, spec.surfaces.get(name)?))),
            on_panel: label.stands().and_then(|stands| on_panel(spec, stands)),
            label,
            pieces: pieces.remove(&index).unwrap_or_default(),
        });
    }
    let mut sections: Vec<Section> = Vec::new();
    for (film, entries) in films {
        let sheets = sheets.iter().filter(|sheet| sheet.film == film).count();
        sections.push(Section { film, entries, sheets });
    }
    let entries = sections.iter_mut().flat_map(|section| &mut section.entries);
    for (entry, number) in entries.zip(1..) {
        entry.number = number;
    }
    sections
}

/// `front, above S1`, or `front, at 80, 12 mm` counted as the panel's places are.
fn on_panel(spec: &Spec, stands: &Stands) -> Option<String> {
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

fn pieces(sheets: &[Sheet]) -> BTreeMap<usize, PlacedPieces> {
    let mut pieces: BTreeMap<usize, PlacedPieces> = BTreeMap::new();
    for sheet in sheets {
        for placement in &sheet.placements {
            let of = pieces.entry(placement.design).or_default();
            of.sheets.insert(sheet.number);
            match placement.piece {
                CopyOrSpare::Copy(_) => of.copies += 1,
                CopyOrSpare::Spare(_) => of.spares += 1,
            }
        }
    }
    pieces
}

/// `12 labels on 2 sheets`.
pub(super) fn totals(sections: &[Section<'_>]) -> String {
    let labels = sections.iter().map(|section| section.entries.len()).sum();
    let sheets = sections.iter().map(|section| section.sheets).sum();
    format!("{} on {}", counted(labels, "label"), counted(sheets, "sheet"))
}

impl Section<'_> {
    /// `3 labels, 8 pieces, 1 sheet`.
    pub(super) fn totals(&self) -> String {
        let pieces = self.entries.iter().map(|entry| entry.pieces.copies + entry.pieces.spares);
        format!(
            "{}, {}, {}",
            counted(self.entries.len(), "label"),
            counted(pieces.sum(), "piece"),
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
        let size = self.design.size();
        format!("{} x {}\u{a0}mm", fixed(size.width(), 1), fixed(size.height(), 1))
    }

    /// `on housing, metallic`, and where on a panel: `front, above S1`.
    pub(super) fn goes_on(&self) -> String {
        let on = match self.surface {
            Some((name, Surface { finish: Some(finish), .. })) => format!("on {name}, {finish}"),
            Some((name, _)) => format!("on {name}"),
            None => "surface not given".to_owned(),
        };
        match &self.on_panel {
            Some(place) => format!("{on}; {place}"),
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
        match self.pieces.spares {
            0 => format!("{}, no spare", self.pieces.copies),
            spares => format!("{} + {}", self.pieces.copies, counted(spares, "spare")),
        }
    }

    /// `sheet 1`, `sheets 1, 3 to 5`.
    pub(super) fn found_on(&self) -> String {
        let sheets: Vec<usize> = self.pieces.sheets.iter().copied().collect();
        let runs = sheets.chunk_by(|one, next| one + 1 == *next).map(|run| match run {
            [first, .., last] if run.len() > 2 => format!("{first} to {last}"),
            _ => run.iter().map(usize::to_string).collect::<Vec<_>>().join(", "),
        });
        let runs = runs.collect::<Vec<_>>().join(", ");
        match sheets.len() {
            0 => "on no sheet".to_owned(),
            1 => format!("sheet {runs}"),
            _ => format!("sheets {runs}"),
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

/// Revision and date as the job gives them, on one line; may be empty.
pub(super) fn issue(spec: &Spec) -> String {
    let revision = spec.revision.as_ref().map(|revision| format!("revision {revision}"));
    let parts: Vec<String> = revision.into_iter().chain(spec.date.clone()).collect();
    parts.join(", ")
}
