//! The layout of a job as JSON: what lies where on which sheet.
//!
//! `<job>.layout.json` is for other programs, and for a person who has to find a label on a sheet. All
//! lengths are millimetres with three decimals, from the sheet's top left corner, x right and y down.
//!
//! ```text
//! made_by          always "decalwright": how we know the file again
//! layout           the version of this file's format; 1
//! unit             always "mm"
//! job              title of the job
//! revision, date   as the job gives them, or null
//! correction       how the PDFs are corrected for their printer, or null; this file and SVGs are true to size
//!   printer, paper, date   whose, for which paper, and when, as the profile says
//!   x, y           factors across and down the sheet as it lies in the printer
//!   skew           how far left the lower end of 100 mm is moved, in mm
//!   shift          how far right and down all is moved, in mm
//! sheets           one entry a sheet, film by film
//!   film           "clear", "white", "sticker" or "paper"
//!   sheet, of      number within its film from 1, and how many that film takes
//!   paper          name, w, h
//!   margins        top, right, bottom, left: where nothing may be printed
//!   reads_backwards  whether every label on the sheet is mirrored
//!   placements     one entry a piece, in reading order
//!     label        the label's name in the job
//!     design       its drawing: the name again, or with a suffix for a hand or a part of a split label
//!     piece, n     "copy" or "spare", and which one from 1
//!     x, y, w, h   bounds of the trim
//!     turned       degrees clockwise: 0, 90, 180 or 270
//!     mirrored     whether it is printed reading backwards
//!     sheet, film  those of the sheet it is on
//! ```

use super::MADE_BY;
use crate::design::Design;
use crate::known::item;
use crate::sheet::{CopyOrSpare, Placement, Sheet};
use crate::spec::{Correction, Profile, Spec};
use serde::Serialize;

/// The version of the file's format; raised when a reader would have to change.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct JobEntry<'a> {
    made_by: &'static str,
    layout: u32,
    unit: &'static str,
    job: &'a str,
    revision: Option<&'a str>,
    date: Option<&'a str>,
    correction: Option<CorrectionEntry<'a>>,
}

#[derive(Serialize)]
struct CorrectionEntry<'a> {
    printer: &'a str,
    paper: &'a str,
    date: Option<&'a str>,
    x: f64,
    y: f64,
    skew: f64,
    shift: [f64; 2],
}

#[derive(Serialize)]
struct SheetEntry<'a> {
    film: &'static str,
    sheet: usize,
    of: usize,
    paper: PaperEntry<'a>,
    margins: MarginsEntry,
    reads_backwards: bool,
}

#[derive(Serialize)]
struct PaperEntry<'a> {
    name: &'a str,
    w: f64,
    h: f64,
}

#[derive(Serialize)]
struct MarginsEntry {
    top: f64,
    right: f64,
    bottom: f64,
    left: f64,
}

#[derive(Serialize)]
struct PlacementEntry<'a> {
    label: &'a str,
    design: &'a str,
    piece: &'static str,
    n: u32,
    x: f64,
    y: f64,
    w: f64,
    h: f64,
    turned: u32,
    mirrored: bool,
    sheet: usize,
    film: &'static str,
}

/// The layout file; the module says what is in it. One line a placement, for people and for comparing.
#[must_use]
pub(crate) fn write(spec: &Spec, designs: &[Design], sheets: &[Sheet]) -> String {
    let job = JobEntry {
        made_by: MADE_BY,
        layout: VERSION,
        unit: "mm",
        job: &spec.title,
        revision: spec.revision.as_deref(),
        date: spec.date.as_deref(),
        correction: spec.printer.profile.as_ref().and_then(correction),
    };
    let sheets = sheets.iter().map(|sheet| {
        let placements = sheet.placements.iter();
        let entries =
            placements.filter_map(|placement| placement_entry(spec, designs, sheet, placement));
        let lines = entries.map(|entry| json(&entry));
        with_list(&json(&sheet_entry(spec, sheet)), "placements", "    ", lines)
    });
    with_list(&json(&job), "sheets", "  ", sheets) + "\n"
}

fn correction(profile: &Profile) -> Option<CorrectionEntry<'_>> {
    let Correction { across, down, skew_mm, shift } = profile.correction()?;
    // Six decimals: 0.3 µm over a sheet.
    let factor = |value: f64| (value * 1e6).round() / 1e6;
    Some(CorrectionEntry {
        printer: &profile.printer,
        paper: &profile.paper.name,
        date: profile.date.as_deref(),
        x: factor(across),
        y: factor(down),
        skew: thousandths(skew_mm),
        shift: [thousandths(-shift.x), thousandths(-shift.y)],
    })
}

/// What each piece on a sheet is called: `run`, `run 1/2`, `run spare`, `run spare 2/3`.
#[must_use]
pub(crate) fn piece_names(spec: &Spec, designs: &[Design], sheet: &Sheet) -> Vec<String> {
    let name = |placement: &Placement| {
        let Some(design) = item(designs, placement.design) else { return String::new() };
        let label = spec.labels.get(design.label);
        let (word, n, of) = match placement.piece {
            CopyOrSpare::Copy(n) => ("", n, label.map_or(n, |label| label.copies)),
            CopyOrSpare::Spare(n) => (" spare", n, label.map_or(n, |label| label.spares)),
        };
        let name = &design.name;
        if of > 1 { format!("{name}{word} {n}/{of}") } else { format!("{name}{word}") }
    };
    sheet.placements.iter().map(name).collect()
}

fn sheet_entry<'a>(spec: &Spec, sheet: &'a Sheet) -> SheetEntry<'a> {
    let margins = spec.sheet.margins;
    SheetEntry {
        film: sheet.film.word(),
        sheet: sheet.number,
        of: sheet.of,
        paper: PaperEntry {
            name: &sheet.paper.name,
            w: thousandths(sheet.paper.size.width),
            h: thousandths(sheet.paper.size.height),
        },
        margins: MarginsEntry {
            top: thousandths(margins.top),
            right: thousandths(margins.right),
            bottom: thousandths(margins.bottom),
            left: thousandths(margins.left),
        },
        reads_backwards: sheet.reads_backwards,
    }
}

/// A placement as it is written.
fn placement_entry<'a>(
    spec: &'a Spec,
    designs: &'a [Design],
    sheet: &Sheet,
    placement: &Placement,
) -> Option<PlacementEntry<'a>> {
    let design = item(designs, placement.design)?;
    let trim = placement.footprint(design);
    let (piece, n) = match placement.piece {
        CopyOrSpare::Copy(n) => ("copy", n),
        CopyOrSpare::Spare(n) => ("spare", n),
    };
    Some(PlacementEntry {
        label: spec.labels.get(design.label).map_or(&design.name, |label| &label.name),
        design: &design.name,
        piece,
        n,
        x: thousandths(trim.x0),
        y: thousandths(trim.y0),
        w: thousandths(trim.width()),
        h: thousandths(trim.height()),
        turned: 90 * u32::from(placement.quarter_turns % 4),
        mirrored: placement.mirrored,
        sheet: sheet.number,
        film: sheet.film.word(),
    })
}

/// Millimetres rounded to three decimals, never `-0`.
fn thousandths(mm: f64) -> f64 {
    (mm * 1000.0).round() / 1000.0 + 0.0
}

fn json<T: Serialize>(value: &T) -> String {
    let text = serde_json::to_string(value);
    debug_assert!(text.is_ok(), "plain structs always serialise");
    text.unwrap_or_default()
}

/// A JSON object with one more member, a list with an item a line.
fn with_list(
    object: &str,
    member: &str,
    indent: &str,
    items: impl Iterator<Item = String>,
) -> String {
    let open = object.strip_suffix('}').unwrap_or(object);
    let items: Vec<String> = items.map(|item| format!("\n{indent}{item}")).collect();
    format!("{open},\"{member}\":[{}]}}", items.join(","))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::samples;
    use crate::spec::Film;

    #[test]
    fn says_where_every_piece_lies() {
        let (spec, designs, sheet) = samples::signal_job();
        // serde_json is the outside reader.
        let text = write(&spec, &designs, std::slice::from_ref(&sheet));
        let read: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(read["made_by"], "decalwright");
        assert_eq!(read["job"], "Signal lamp <test> & \"trial\"");
        assert_eq!(read["date"], serde_json::Value::Null);
        let one = &read["sheets"][0];
        assert_eq!(
            (&one["film"], &one["sheet"], &one["of"]),
            (&"clear".into(), &1.into(), &1.into())
        );
        assert_eq!(one["paper"]["w"], 148.0);
        let placements = one["placements"].as_array().unwrap();
        assert_eq!(placements.len(), sheet.placements.len());
        // The square: trim 10 x 6 mm, origin in its middle at (30, 40), a quarter turn: 6 x 10 from (27, 35).
        let turned = &placements[1];
        assert_eq!(turned["label"], "square");
        let at = ["x", "y", "w", "h"].map(|key| turned[key].to_string());
        assert_eq!(at, ["27.0", "35.0", "6.0", "10.0"]);
        assert_eq!((&turned["turned"], &turned["piece"]), (&90.into(), &"copy".into()));
        assert_eq!((&turned["n"], &turned["mirrored"]), (&2.into(), &false.into()));
        assert_eq!(placements[2]["piece"], "spare");
        assert_eq!(placements[3]["mirrored"], true);
    }

    #[test]
    fn numbers_have_three_decimals_and_no_minus_nought() {
        assert_eq!(thousandths(-0.0001).to_string(), "0");
        assert_eq!(thousandths(1.23456).to_string(), "1.235");
    }

    #[test]
    fn pieces_are_told_apart_by_name() {
        let (spec, designs, sheet) = samples::signal_job();
        assert_eq!(sheet.film, Film::Clear);
        assert_eq!(
            piece_names(&spec, &designs, &sheet),
            ["square 1/2", "square 2/2", "square spare", "a<b>&\"c'd"]
        );
    }
}
