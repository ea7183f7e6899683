//! From designs to sheets: what each film must hold, tiled, marked, in reading order.

use super::marks::{self, Job, Strips};
use super::tile::{Cell, Item, Spot, fewest, tile};
use super::{Parting, Piece, Placement, Sheet, rows, too_large};
use crate::design::{Design, WhiteOrder};
use crate::finding::Findings;
use crate::font::Faces;
use crate::spec::{Cuts, Film, Label, Spec};
use kurbo::{Point, Rect};
use std::collections::BTreeMap;

/// The films in the order their sheets come.
const FILMS: [Film; 4] = [Film::Clear, Film::White, Film::Sticker, Film::Paper];

/// Lays every copy and spare of every design onto sheets of its label's film.
///
/// Designs too large for the sheet are told in `findings` and left out; nothing else is refused.
#[must_use]
pub(crate) fn lay(
    spec: &Spec,
    designs: &[Design],
    faces: &Faces,
    findings: &mut Findings,
) -> Vec<Sheet> {
    let past: Vec<f64> = designs.iter().map(super::past_trim).collect();
    let job = Job { spec, designs, past: &past, faces };
    let mut sheets = Vec::new();
    for film in FILMS {
        let mut fitting = Vec::new();
        for wanted in wanted(&job, film) {
            match too_large::found(spec, wanted.design, wanted.label, wanted.past) {
                Some(finding) => findings.push(finding),
                None => fitting.push(wanted),
            }
        }
        let (markers, labels): (Vec<Wanted>, Vec<Wanted>) =
            fitting.into_iter().partition(|wanted| wanted.label.marker_of().is_some());
        // White that is printed last and white that is printed first would need the sheet fed three times.
        let (last, first): (Vec<Wanted>, Vec<Wanted>) =
            labels.into_iter().partition(|wanted| wanted.is_white(WhiteOrder::Last));
        let mut of_film = on_film(&job, film, &first);
        of_film.append(&mut on_film(&job, film, &last));
        of_film.append(&mut of_markers(&job, film, &markers, findings));
        let of = of_film.len();
        for (at, sheet) in of_film.iter_mut().enumerate() {
            (sheet.number, sheet.of) = (at + 1, of);
        }
        marks::add(&job, &mut of_film, findings);
        sheets.append(&mut of_film);
    }
    sheets
}

/// A design and the label that says how many are needed.
pub(super) struct Wanted<'a> {
    pub(super) index: usize,
    pub(super) design: &'a Design,
    pub(super) label: &'a Label,
    /// How far its ink reaches past the trim, mm.
    pub(super) past: f64,
}

impl Wanted<'_> {
    /// How wide its cell is round the trim, mm: half the gap, but never less than the ink needs.
    fn round(&self, gap: f64) -> f64 {
        (gap / 2.0).max(self.past)
    }

    /// Whether it has white that is printed then.
    fn is_white(&self, order: WhiteOrder) -> bool {
        self.design.white.as_ref().is_some_and(|white| white.order == order)
    }
}

fn wanted<'a>(job: &Job<'a>, film: Film) -> Vec<Wanted<'a>> {
    job.designs
        .iter()
        .zip(job.past)
        .enumerate()
        .filter_map(|(index, (design, past))| {
            let label = job.spec.labels.get(design.label)?;
            (label.film == film).then_some(Wanted { index, design, label, past: *past })
        })
        .collect()
}

fn on_film(job: &Job, film: Film, wanted: &[Wanted]) -> Vec<Sheet> {
    if wanted.is_empty() {
        return Vec::new();
    }
    let spec = job.spec;
    let mirrored = wanted.iter().any(|wanted| wanted.label.applied.mirrored());
    let has_white = wanted.iter().any(|wanted| wanted.design.white.is_some());
    let twice = has_white && job.fed_twice();
    let strips = marks::strips(job, film, mirrored);
    let strips = if twice { strips.with_registration() } else { strips };
    let ground = Ground::of(spec, wanted);
    let pieces = ground.pieces(wanted, spec.sheet.turn);
    // What reads backwards must say so in the foot, and passes need their marks, whatever that costs.
    let foot_given_up = if mirrored || twice { 0 } else { FEW_SHEETS };
    let right_given_up = if twice { 0 } else { FEW_SHEETS };
    let areas = [
        (ground.area(strips), usize::MAX),
        (ground.area(Strips { right: 0.0, ..strips }), right_given_up),
        (ground.area(Strips::NONE), foot_given_up),
    ];
    let tiled = tile_beside(&pieces, spec.sheet.cuts, areas);
    let mut laid: BTreeMap<usize, u32> = BTreeMap::new();
    tiled
        .into_iter()
        .map(|mut spots| {
            // Cells of one row share their top, so this reads row by row.
            spots.sort_by_key(|spot| (spot.y, spot.x));
            let placements = spots
                .iter()
                .filter_map(|spot| {
                    let owner = wanted.get(*pieces.owners.get(spot.item)?)?;
                    let used = laid.entry(owner.index).or_default();
                    *used += 1;
                    Some(ground.placement(owner, spot, *used))
                })
                .collect();
            sheet(job, film, Parting::Apart, placements)
        })
        .collect()
}

/// The sheets of wire markers: pre-cut stickers where the job has them, else rows.
fn of_markers(job: &Job, film: Film, wanted: &[Wanted], findings: &mut Findings) -> Vec<Sheet> {
    let grid = job.spec.wiring.as_ref().and_then(|wiring| wiring.markers.grid.as_ref());
    let (parting, sheets) = match grid {
        Some(grid) => (Parting::PreCut, rows::stickers(grid, wanted, findings)),
        None => {
            let strips = marks::strips(job, film, false);
            (Parting::Shared, rows::rows(job, wanted, strips))
        }
    };
    sheets.into_iter().map(|placements| sheet(job, film, parting, placements)).collect()
}

/// A sheet without its number and marks.
fn sheet(job: &Job, film: Film, parting: Parting, placements: Vec<Placement>) -> Sheet {
    let of_white = |placement: &Placement| job.designs.get(placement.design)?.white.as_ref();
    let white = placements.iter().find_map(of_white).map(|white| white.order);
    Sheet {
        film,
        paper: job.spec.sheet.paper.clone(),
        number: 0,
        of: 0,
        parting,
        reads_backwards: placements.iter().all(|placement| placement.mirrored),
        placements,
        marks: Vec::new(),
        words: Vec::new(),
        fed_twice: white.is_some() && job.fed_twice(),
        white,
        registration: Vec::new(),
    }
}

/// Up to this many sheets the strips for marks are given up where that saves one. Of many sheets one
/// saved is not worth all their bars and foot lines.
const FEW_SHEETS: usize = 3;

/// Tiles into the first of the areas, which leaves room for marks; into a larger one only where a piece
/// fits no other way, or where that saves one of at most so many sheets.
fn tile_beside(pieces: &Pieces, cuts: Cuts, areas: [(Cell, usize); 3]) -> Vec<Vec<Spot>> {
    let [.., (whole, _)] = areas;
    let bound = fewest(&pieces.items, whole);
    let mut best: Option<Vec<Vec<Spot>>> = None;
    for (area, most) in areas {
        let settled = |best: &Vec<Vec<Spot>>| best.len() <= bound || best.len() > most;
        if best.as_ref().is_some_and(settled) || !pieces.items.iter().all(|item| item.fits(area)) {
            continue;
        }
        let tiled = tile(&pieces.items, area, cuts);
        if best.as_ref().is_none_or(|best| tiled.len() < best.len()) {
            best = Some(tiled);
        }
    }
    best.unwrap_or_default()
}

/// Pieces to tile, and whose they are.
struct Pieces {
    items: Vec<Item>,
    /// For each item an index into the list of what is wanted.
    owners: Vec<usize>,
}

/// The frame pieces are tiled in: the printable area, grown by the part of a cell that holds no ink.
struct Ground {
    printable: Rect,
    gap: f64,
    /// How far a cell may lie outside the printable area, mm: the most any of them needs.
    over: f64,
}

impl Ground {
    fn of(spec: &Spec, wanted: &[Wanted]) -> Ground {
        let gap = spec.sheet.gap.max(0.0);
        let over = wanted.iter().map(|wanted| wanted.round(gap) - wanted.past).fold(0.0, f64::max);
        Ground { printable: super::printable(spec), gap, over }
    }

    fn area(&self, strips: Strips) -> Cell {
        let width = self.printable.width() - strips.right + 2.0 * self.over;
        let height = self.printable.height() - strips.foot + 2.0 * self.over;
        Cell::at(0, 0, nanometres(width), nanometres(height))
    }

    fn pieces(&self, wanted: &[Wanted], turns: bool) -> Pieces {
        let mut pieces = Pieces { items: Vec::new(), owners: Vec::new() };
        for (owner, wanted) in wanted.iter().enumerate() {
            let size = wanted.design.size();
            let round = wanted.round(self.gap);
            let item = Item {
                width: nanometres(size.width() + 2.0 * round),
                height: nanometres(size.height() + 2.0 * round),
                inset: nanometres(self.over - (round - wanted.past)),
                turns,
            };
            let count = wanted.label.copies as usize + wanted.label.spares as usize;
            pieces.items.extend(std::iter::repeat_n(item, count));
            pieces.owners.extend(std::iter::repeat_n(owner, count));
        }
        pieces
    }

    /// Where a spot is on the sheet; `used` counts the pieces of this design so far, this one included.
    fn placement(&self, owner: &Wanted, spot: &Spot, used: u32) -> Placement {
        let copies = owner.label.copies;
        let piece = if used <= copies { Piece::Copy(used) } else { Piece::Spare(used - copies) };
        let mut placement = Placement {
            design: owner.index,
            piece,
            at: Point::ZERO,
            quarter_turns: u8::from(spot.turned),
            mirrored: owner.label.applied.mirrored(),
        };
        let round = owner.round(self.gap);
        let corner = Point::new(
            millimetres(spot.x) + self.printable.x0 - self.over + round,
            millimetres(spot.y) + self.printable.y0 - self.over + round,
        );
        placement.at = (corner - placement.footprint(owner.design).origin()).to_point();
        placement
    }
}

/// To whole nanometres, nearest: a millionth of a millimetre is the slack of every fit.
pub(super) fn nanometres(mm: f64) -> i64 {
    #[allow(clippy::cast_possible_truncation, reason = "lengths end at 100 m, 1e11 nm")]
    let nanometres = (mm * 1e6).round() as i64;
    nanometres
}

/// Back to millimetres.
pub(super) fn millimetres(nanometres: i64) -> f64 {
    #[allow(clippy::cast_precision_loss, reason = "at most 1e11 nm, exact in an f64")]
    let nanometres = nanometres as f64;
    nanometres / 1e6
}

#[cfg(test)]
mod tests;
