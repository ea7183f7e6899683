//! The sheet: paper, margins, and what holds for every label on it.

use super::reader::{Least, Reader, quoted};
use crate::finding::Place;
use crate::spec::draft::SheetDraft;
use crate::spec::typed::{Many, Typed};
use crate::spec::{Applied, Cuts, Film, Margins, Paper, Profile, SheetSetup};
use crate::units::fixed;
use kurbo::Size;

/// Sheets by name, upright, mm: ISO 216 for the A series; Letter is 8.5 × 11 in, Legal 8.5 × 14 in.
pub(super) const PAPERS: [(&str, f64, f64); 6] = [
    ("A3", 297.0, 420.0),
    ("A4", 210.0, 297.0),
    ("A5", 148.0, 210.0),
    ("A6", 105.0, 148.0),
    ("Letter", 215.9, 279.4),
    ("Legal", 215.9, 355.6),
];

/// What decal stock leaves unprinted at each edge, mm: common practice, no source.
const USUAL_MARGIN: f64 = 10.0;

/// Between the trims of neighbours, mm: room for a knife; common practice, no source.
const USUAL_GAP: f64 = 2.0;

/// The smallest and the largest side of a sheet, mm: a stamp and a roll plotter's two metres.
const SHEET_SIDES: (f64, f64) = (10.0, 2000.0);

/// Words for film.
pub(super) const FILMS: [(&str, Film); 4] = [
    ("clear", Film::Clear),
    ("white", Film::White),
    ("sticker", Film::Sticker),
    ("paper", Film::Paper),
];

/// Words for how a label gets onto its part.
pub(super) const APPLIED: [(&str, Applied); 4] = [
    ("face-up", Applied::FaceUp),
    ("face-down", Applied::FaceDown),
    ("inside-window", Applied::InsideWindow),
    ("heat-transfer", Applied::HeatTransfer),
];

/// What the sheet says for labels that do not say it themselves.
#[derive(Clone, Debug, Default)]
pub(super) struct ForAll {
    pub(super) film: Option<(Film, Place)>,
    pub(super) spares: Option<Typed>,
    pub(super) applied: Option<Applied>,
}

/// The sheet's setup, and what it says for all labels.
pub(super) fn sheet(
    draft: Option<SheetDraft>,
    job: Place,
    profile: Option<&Profile>,
    reader: &mut Reader<'_, '_>,
) -> (SheetSetup, ForAll) {
    let draft = draft.unwrap_or_default();
    let place = first_place(&draft).unwrap_or(job);
    let film = reader.choice(draft.film.as_ref(), &FILMS);
    let for_all = ForAll {
        film: film.zip(draft.film.as_ref().map(|typed| typed.place)),
        applied: reader.choice(draft.applied.as_ref(), &APPLIED),
        spares: draft.spares,
    };
    let paper = paper(draft.paper.as_ref(), reader);
    let measured = profile.and_then(|profile| profile.margins_on(paper.size));
    let margins = margins(draft.margin.as_ref(), measured, paper.size, reader);
    let cuts = [("free", Cuts::Free), ("straight", Cuts::Straight)];
    let setup = SheetSetup {
        paper,
        margins,
        gap: reader.length(draft.gap.as_ref(), Least::Nought).unwrap_or(USUAL_GAP),
        cuts: reader.choice(draft.cuts.as_ref(), &cuts).unwrap_or(Cuts::Free),
        turn: reader.yes(draft.turn.as_ref()).unwrap_or(true),
        guides: reader.yes(draft.guides.as_ref()).unwrap_or(true),
        place,
    };
    (setup, for_all)
}

fn first_place(draft: &SheetDraft) -> Option<Place> {
    let lists = [&draft.paper, &draft.margin];
    let in_lists = lists.into_iter().flatten().flat_map(|list| &list.items);
    let singles = [
        &draft.film,
        &draft.gap,
        &draft.cuts,
        &draft.turn,
        &draft.guides,
        &draft.spares,
        &draft.applied,
    ];
    in_lists.chain(singles.into_iter().flatten()).map(|typed| typed.place).min()
}

pub(super) fn paper(draft: Option<&Many>, reader: &mut Reader<'_, '_>) -> Paper {
    let usual = Paper { name: "A4".into(), size: Size::new(210.0, 297.0) };
    let Some(many) = draft else { return usual };
    let found = match many.items.as_slice() {
        [named] if !many.listed => named_paper(named, reader),
        _ => own_paper(many, reader),
    };
    found.unwrap_or(usual)
}

fn named_paper(typed: &Typed, reader: &mut Reader<'_, '_>) -> Option<Paper> {
    let found = paper_called(&typed.text);
    if found.is_none() {
        let help = match reader.nearest(typed.text.trim(), PAPERS.iter().map(|(known, ..)| *known))
        {
            Some(near) => format!("did you mean `{near}`?"),
            None => "use A3, A4, A5, A6, Letter or Legal, or [width, height]".into(),
        };
        let message = format!("no paper is called {}", quoted(&typed.text));
        reader.wrong("unknown-paper", typed.place, message, help);
    }
    found
}

/// The paper of this name, upright or `landscape`.
pub(in crate::spec) fn paper_called(text: &str) -> Option<Paper> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (name, lying) = match words.as_slice() {
        [name] => (*name, false),
        [name, way] if way.eq_ignore_ascii_case("landscape") => (*name, true),
        [name, way] if way.eq_ignore_ascii_case("portrait") => (*name, false),
        _ => return None,
    };
    let (name, width, height) =
        PAPERS.iter().find(|(known, ..)| known.eq_ignore_ascii_case(name))?;
    Some(if lying {
        Paper { name: format!("{name} landscape"), size: Size::new(*height, *width) }
    } else {
        Paper { name: (*name).to_owned(), size: Size::new(*width, *height) }
    })
}

fn own_paper(many: &Many, reader: &mut Reader<'_, '_>) -> Option<Paper> {
    let size = reader.size(Some(many))?;
    let (least, most) = SHEET_SIDES;
    for (side, typed) in [size.width, size.height].into_iter().zip(&many.items) {
        if side < least || side > most {
            let message = format!("a sheet of {} is no sheet", quoted(&typed.text));
            reader.wrong("bad-length", typed.place, message, "give 10 mm to 2 m for each side");
            return None;
        }
    }
    let name = format!("{} x {} mm", fixed(size.width, 3), fixed(size.height, 3));
    Some(Paper { name, size })
}

/// The job's own margins, else those its printer was measured to need, else the usual ones.
fn margins(
    draft: Option<&Many>,
    measured: Option<Margins>,
    paper: Size,
    reader: &mut Reader<'_, '_>,
) -> Margins {
    let usual = all(USUAL_MARGIN.min(paper.width.min(paper.height) / 4.0));
    let Some(many) = draft else { return measured.unwrap_or(usual) };
    let Some(margins) = some_margins(many, reader) else { return usual };
    let (across, down) = (margins.left + margins.right, margins.top + margins.bottom);
    if across >= paper.width || down >= paper.height {
        let message = format!(
            "margins of {} and {} mm leave nothing of {} x {} mm",
            fixed(across, 3),
            fixed(down, 3),
            fixed(paper.width, 3),
            fixed(paper.height, 3)
        );
        let place = many.items.first().map(|item| item.place).unwrap_or_default();
        reader.wrong("bad-margin", place, message, "make the margins smaller");
        return usual;
    }
    margins
}

/// The same margin all round.
fn all(mm: f64) -> Margins {
    Margins { top: mm, right: mm, bottom: mm, left: mm }
}

/// One, two or four margins; `None` when they cannot be read.
pub(super) fn some_margins(many: &Many, reader: &mut Reader<'_, '_>) -> Option<Margins> {
    let mm: Vec<Option<f64>> =
        many.items.iter().map(|item| reader.length(Some(item), Least::Nought)).collect();
    let place = many.items.first().map(|item| item.place).unwrap_or_default();
    match mm.as_slice() {
        [Some(one)] => Some(all(*one)),
        [Some(down), Some(across)] => {
            Some(Margins { top: *down, right: *across, bottom: *down, left: *across })
        }
        [Some(top), Some(right), Some(bottom), Some(left)] => {
            Some(Margins { top: *top, right: *right, bottom: *bottom, left: *left })
        }
        [_] | [_, _] | [_, _, _, _] => None,
        _ => {
            let message = format!("{} margins where one, two or four are needed", mm.len());
            let help =
                "write one length, [top and bottom, left and right] or all four from the top";
            reader.wrong("bad-margin", place, message, help);
            None
        }
    }
}
