//! The sheet: paper, margins, and what holds for every label on it.

use super::choice::choice;
use super::profile::Profile;
use super::reader::{Least, Reader};
use crate::finding::{Place, quoted};
use crate::spec::Mm;
use crate::units::fixed;
use crate::yaml::{OneOrList, Placed, Scalar, keys};
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

choice! {
    /// The kind of film (or paper) a label is printed on.
    pub enum Film {
        /// Clear water-slide film: no ink means the surface shows.
        Clear = "clear",
        /// White water-slide film: no ink means white.
        White = "white",
        /// Self-adhesive stock, white.
        Sticker = "sticker",
        /// Plain paper.
        Paper = "paper",
    }
}

impl Film {
    /// What people call it: `clear film`, `sticker stock`.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Film::Clear => "clear film",
            Film::White => "white film",
            Film::Sticker => "sticker stock",
            Film::Paper => "paper",
        }
    }
}

choice! {
    /// How a label gets onto its part; decides whether it is mirrored.
    pub enum Applied {
        /// Slid on with the ink up: not mirrored.
        FaceUp = "face-up",
        /// Laid with the ink down: mirrored.
        FaceDown = "face-down",
        /// Inside glass, read through it: mirrored.
        InsideWindow = "inside-window",
        /// Transferred by heat: mirrored.
        HeatTransfer = "heat-transfer",
    }
}

impl Applied {
    /// Whether labels applied so are printed reading backwards.
    #[must_use]
    pub fn mirrored(self) -> bool {
        match self {
            Applied::FaceUp => false,
            Applied::FaceDown | Applied::InsideWindow | Applied::HeatTransfer => true,
        }
    }
}

/// A sheet size, upright or lying as given.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    /// `A4`, `Letter`, or `120 x 80 mm` for a size of the user's own.
    pub name: String,
    /// Width and height in mm.
    pub size: Size,
}

impl Paper {
    /// The paper of this name: `A4`, `Letter`, `A5 landscape`; upper and lower case are alike.
    #[must_use]
    pub fn named(name: &str) -> Option<Paper> {
        paper_called(name)
    }
}

/// Margins in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// From the top edge.
    pub top: f64,
    /// From the right edge.
    pub right: f64,
    /// From the bottom edge.
    pub bottom: f64,
    /// From the left edge.
    pub left: f64,
}

choice! {
    /// How the sheets are cut apart.
    pub enum Cuts {
        /// Any way: each label is cut round on its own.
        Free = "free",
        /// Edge to edge with knife and ruler: every cut runs straight through what is left.
        Straight = "straight",
    }
}

keys! {
    /// Film, paper and how the sheets are filled and cut.
    pub(super) struct SheetKeys;

    /// The `sheet:` part of a job.
    pub struct SheetSetup {
        /// `clear`, `white`, `sticker` or `paper`; a label may choose another.
        film: Option<Scalar>,
        /// `A3` to `A6`, `Letter`, `Legal`, with `landscape` if lying, or [width, height].
        paper: Option<OneOrList>,
        /// Where nothing can be printed: one length, [top and bottom, left and right], or [top, right, bottom, left].
        margin: Option<OneOrList>,
        /// Least distance between the trims of neighbours.
        gap: Option<Scalar> => Mm,
        /// `free`, or `straight` for knife and ruler from edge to edge.
        cuts: Option<Scalar>,
        /// Whether labels may be laid with a quarter turn: `yes` or `no`.
        turn: Option<Scalar> => bool,
        /// Whether names, ticks and bars are printed in the waste: `yes` or `no`.
        guides: Option<Scalar> => bool,
        /// Spares of each label: a number, or a share such as `10 %`.
        spares: Option<Scalar>,
        /// `face-up`, `face-down`, `inside-window` or `heat-transfer`: decides what is mirrored.
        applied: Option<Scalar>,
        /// Paper to print on.
        paper => Paper,
        /// Where nothing may be printed.
        margins => Margins,
        /// How the sheets are cut.
        cuts => Cuts,
        /// Where `sheet:` stands.
        place => Place,
    }
}

/// What the sheet says for labels that do not say it themselves.
#[derive(Clone, Debug, Default)]
pub(super) struct SheetDefaults {
    pub(super) film: Option<(Film, Place)>,
    pub(super) spares: Option<Scalar>,
    pub(super) applied: Option<Applied>,
}

/// The sheet's setup, and what it says for all labels.
pub(super) fn sheet(
    keys: Option<Placed<SheetKeys>>,
    job: Place,
    profile: Option<&Profile>,
    reader: &mut Reader,
) -> (SheetSetup, SheetDefaults) {
    let Placed { place, value: keys } =
        keys.unwrap_or_else(|| Placed { place: job, value: SheetKeys::default() });
    let film = reader.word(&keys.film);
    let for_all = SheetDefaults {
        film: film.zip(keys.film.as_ref().map(|film| film.place)),
        applied: reader.word(&keys.applied),
        spares: keys.spares,
    };
    let paper = paper(&keys.paper, reader);
    let measured = profile.and_then(|profile| profile.margins_on(paper.size));
    let margins = margins(&keys.margin, measured, paper.size, reader);
    let setup = SheetSetup {
        paper,
        margins,
        gap: reader.length(&keys.gap, Least::Nought).unwrap_or(USUAL_GAP),
        cuts: reader.word(&keys.cuts).unwrap_or(Cuts::Free),
        turn: reader.yes(&keys.turn).unwrap_or(true),
        guides: reader.yes(&keys.guides).unwrap_or(true),
        place,
    };
    (setup, for_all)
}

pub(super) fn paper(list: &Option<OneOrList>, reader: &mut Reader) -> Paper {
    let usual = Paper { name: "A4".into(), size: Size::new(210.0, 297.0) };
    let Some(list) = list else { return usual };
    let found = match list.items.as_slice() {
        [named] if !list.listed => named_paper(named, reader),
        _ => own_paper(list, reader),
    };
    found.unwrap_or(usual)
}

fn named_paper(scalar: &Scalar, reader: &mut Reader) -> Option<Paper> {
    let found = paper_called(&scalar.text);
    if found.is_none() {
        let papers = PAPERS.iter().map(|(known, ..)| *known);
        let otherwise = "use A3, A4, A5, A6, Letter or Legal, or [width, height]";
        let help = reader.did_you_mean(scalar.trimmed(), papers, otherwise);
        let message = format!("no paper is called {}", quoted(&scalar.text));
        reader.wrong("unknown-paper", scalar.place, message, help);
    }
    found
}

/// The paper of this name, upright or `landscape`.
fn paper_called(text: &str) -> Option<Paper> {
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

fn own_paper(list: &OneOrList, reader: &mut Reader) -> Option<Paper> {
    let size = reader.size(list)?;
    let (least, most) = SHEET_SIDES;
    for (side, scalar) in [size.width, size.height].into_iter().zip(&list.items) {
        if side < least || side > most {
            let message = format!("a sheet of {} is no sheet", quoted(&scalar.text));
            reader.wrong("bad-length", scalar.place, message, "give 10 mm to 2 m for each side");
            return None;
        }
    }
    let name = format!("{} x {} mm", fixed(size.width, 3), fixed(size.height, 3));
    Some(Paper { name, size })
}

/// The job's own margins, else those its printer was measured to need, else the usual ones.
fn margins(
    list: &Option<OneOrList>,
    measured: Option<Margins>,
    paper: Size,
    reader: &mut Reader,
) -> Margins {
    let usual = all(USUAL_MARGIN.min(paper.width.min(paper.height) / 4.0));
    let Some(list) = list else { return measured.unwrap_or(usual) };
    let Some(margins) = some_margins(list, reader) else { return usual };
    let (across, down) = (margins.left + margins.right, margins.top + margins.bottom);
    if across >= paper.width || down >= paper.height {
        let message = format!(
            "margins of {} and {} mm leave nothing of {} x {} mm",
            fixed(across, 3),
            fixed(down, 3),
            fixed(paper.width, 3),
            fixed(paper.height, 3)
        );
        let place = list.place().unwrap_or_default();
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
pub(super) fn some_margins(list: &OneOrList, reader: &mut Reader) -> Option<Margins> {
    let mm: Vec<Option<f64>> =
        list.items.iter().map(|item| reader.length(item, Least::Nought)).collect();
    let [top, right, bottom, left] = match mm.as_slice() {
        [one] => [*one; 4],
        [down, across] => [*down, *across, *down, *across],
        [top, right, bottom, left] => [*top, *right, *bottom, *left],
        _ => {
            let message = format!("{} margins where one, two or four are needed", mm.len());
            let help =
                "write one length, [top and bottom, left and right] or all four from the top";
            reader.wrong("bad-margin", list.place().unwrap_or_default(), message, help);
            return None;
        }
    };
    Some(Margins { top: top?, right: right?, bottom: bottom?, left: left? })
}
