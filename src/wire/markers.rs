//! Every marker of a wiring as a label: sized to its wire, as large as can be read, or told why not.

use super::geometry::{self, SMALLEST_MM, Sleeve};
use super::remarks::Remarks;
use crate::finding::{Finding, Findings, Place};
use crate::font::Faces;
use crate::parallel::in_order;
use crate::spec::wiring::{End, MarkerKind, MarkerOf, Spot, Wire, Wiring};
use crate::spec::{
    Applied, Edge, Element, Film, Label, LabelKind, Line, Paint, Part, Printer, Split, Text, White,
};
use crate::text;
use kurbo::{Size, Vec2};
use std::collections::{BTreeMap, BTreeSet};

/// Cap heights to prefer, mm: the series of ISO 3098.
const SERIES: [f64; 6] = [10.0, 7.0, 5.0, 3.5, 2.5, 1.8];

/// Steps of cap heights below the series, mm.
const STEP: f64 = 0.05;

/// Base line to base line as a multiple of the cap height: half the height between lines
/// (NUREG-0700 11.4.1.5).
const PITCH: f64 = 1.5;

/// Air between the words and the ends of a marker along the wire, mm (common practice, no source).
const AIR_ALONG: f64 = 1.5;

/// Air above and below the words of a marker, mm (common practice, no source).
const AIR_ROUND: f64 = 0.3;

/// Air above and below the words of a flag, mm: it is cut by hand (common practice, no source).
const AIR_FLAG: f64 = 0.8;

/// Length of the dashes that show a fold, and from middle to middle, mm (common practice, no source).
const DASH: f64 = 0.7;
const DASHES: f64 = 1.4;

/// The most markers of a job.
const MOST_MARKERS: u64 = 40_000;

/// From the end of a wire to its first mark, mm (common practice, no source).
const FROM_END: f64 = 25.0;

/// Under this length, mm, a wire gets no mark of its own between its ends, and up to the next one only
/// (FAA AC 43.13-1B 11-208: none under 3 in, one at the centre up to 7 in).
const SHORT: f64 = 76.0;
const MIDDLING: f64 = 178.0;

/// The markers of all wires as labels, a wire's together; `taken` are names other labels have.
///
/// What cannot be read is told in `findings`, with a kind of marker that can.
#[must_use]
pub(crate) fn markers(
    wiring: &Wiring,
    printer: &Printer,
    faces: &Faces,
    taken: &BTreeSet<String>,
    findings: &mut Findings,
) -> Vec<Label> {
    let mut remarks = Remarks::default();
    let bench = Bench { wiring, printer, faces };
    let measured = bench.measured();
    // Wires of one kind and thickness share a size, so that straight cuts part them.
    let mut groups: BTreeMap<(MarkerKind, u64, usize), Vec<usize>> = BTreeMap::new();
    for (index, wire) in wiring.wires.iter().enumerate() {
        groups.entry(bench.group(wire)).or_default().push(index);
    }
    let mut sizes: BTreeMap<(MarkerKind, u64, usize), Build> = BTreeMap::new();
    for (key, members) in &groups {
        let widest = members.iter().filter_map(|index| measured.get(*index)).copied();
        let widest = widest.fold(0.0, f64::max);
        sizes.insert(*key, bench.build(*key, widest, members, &mut remarks));
    }
    let marks = |wire: &Wire| 2 + u64::from(between(wire.length_mm, wiring.markers.every));
    let count: u64 = wiring.wires.iter().map(marks).sum();
    // Told, and printed by nobody: marks at the ends alone do for the checks.
    let every = wiring.markers.every.filter(|_| count <= MOST_MARKERS);
    if count > MOST_MARKERS {
        let message = format!("the wires take {count} markers; {MOST_MARKERS} is the most");
        let help = "make `every` larger, or two jobs of it";
        findings.push(Finding::error("too-many", message).at(wiring.markers.place).help(help));
    }
    let mut labels = Vec::with_capacity(2 * wiring.wires.len());
    for (index, wire) in wiring.wires.iter().enumerate() {
        let Some(build) = sizes.get(&bench.group(wire)) else { continue };
        for (name, spot) in spots(wire, every) {
            let plain = format!("{} {name}", wire.id);
            let name = if taken.contains(&plain) { format!("wire {plain}") } else { plain };
            labels.push(bench.label((index, wire), name, spot, build));
        }
    }
    remarks.report(wiring, findings);
    labels
}

/// The marks of a wire: both ends, and where it is long and that is asked for, between them.
fn spots(wire: &Wire, every: Option<f64>) -> Vec<(String, Spot)> {
    let mut spots = vec![("a".to_owned(), Spot::End(End::From))];
    for number in 1..=between(wire.length_mm, every) {
        spots.push((number.to_string(), Spot::Along(number)));
    }
    spots.push(("b".to_owned(), Spot::End(End::To)));
    spots
}

/// How many marks stand between those at the ends, so that none is further than `every` from the next.
fn between(length: Option<f64>, every: Option<f64>) -> u32 {
    let (Some(length), Some(every)) = (length, every) else { return 0 };
    if length < SHORT {
        return 0;
    }
    if length <= MIDDLING {
        return 1;
    }
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "at most 100 m at a millimetre"
    )]
    let spans = ((length - 2.0 * FROM_END) / every.max(1.0) - 1e-9).ceil().max(1.0) as u32;
    spans - 1
}

/// What a group of markers is: kind, cap height, size and where its words go.
#[derive(Clone, Debug)]
struct Build {
    kind: MarkerKind,
    cap: f64,
    size: Size,
    /// Middles of the words, and whether they stand on their heads.
    words: Vec<(Vec2, f64)>,
    /// Middle of each dash of the fold, and degrees.
    folds: Vec<(Vec2, f64)>,
    /// How much larger than it ends up everything is drawn.
    stretch: Vec2,
}

/// The room a kind of marker has for words, mm.
#[derive(Clone, Copy, Debug)]
struct Room {
    /// Round the wire, or across a flag.
    block: f64,
    /// Along the wire.
    along: f64,
    /// Thickness of what the letters go round; flags are flat.
    round: f64,
}

struct Bench<'a> {
    wiring: &'a Wiring,
    printer: &'a Printer,
    faces: &'a Faces,
}

impl Bench<'_> {
    fn kind(&self, wire: &Wire) -> MarkerKind {
        let markers = &self.wiring.markers;
        let thin = markers.thin.filter(|(under, _)| wire.diameter.mm < *under);
        let usual = || {
            if geometry::readable_cap_mm(wire.diameter.mm) < SMALLEST_MM {
                MarkerKind::Flag
            } else if markers.film == Film::Clear {
                MarkerKind::Laminated
            } else {
                MarkerKind::Wrap
            }
        };
        wire.kind.or(thin.map(|(_, kind)| kind)).or(markers.kind).unwrap_or_else(usual)
    }

    fn group(&self, wire: &Wire) -> (MarkerKind, u64, usize) {
        let lines = wire.texts.iter().map(Vec::len).max().unwrap_or(1).max(1);
        // Diameters are finite and above nought, so their bits are in their order.
        (self.kind(wire), wire.diameter.mm.to_bits(), lines)
    }

    /// For each wire the width of its widest line in cap heights.
    fn measured(&self) -> Vec<f64> {
        in_order(&self.wiring.wires, |wire| {
            let of = |lines: &Vec<String>| {
                let text = self.text(lines.clone(), 1.0, wire.place);
                text::width_in_caps(self.faces, &text)
            };
            wire.texts.iter().map(of).fold(0.0, f64::max)
        })
    }

    fn text(&self, lines: Vec<String>, cap: f64, place: Place) -> Text {
        let font = self.wiring.markers.font.as_str();
        Text { line_pitch: PITCH, ..Text::new(lines, font, cap, place) }
    }

    /// The room a kind gives on a wire.
    fn room(&self, kind: MarkerKind, diameter: f64) -> Option<Room> {
        let markers = &self.wiring.markers;
        let turn = geometry::turn_mm(diameter, markers.thickness);
        let along = markers.along - 2.0 * AIR_ALONG;
        Some(match kind {
            MarkerKind::Wrap | MarkerKind::Laminated => {
                Room { block: turn - 2.0 * AIR_ROUND, along, round: diameter }
            }
            MarkerKind::Flag | MarkerKind::FlagAlong => Room {
                block: markers.height - 2.0 * AIR_FLAG,
                along: markers.face.map_or(along, |face| face - 2.0 * AIR_ALONG),
                round: f64::INFINITY,
            },
            MarkerKind::Sleeve => {
                let round = Sleeve::for_wire(diameter)?.outside_on_mm(diameter);
                // One side of it pressed flat.
                let block = geometry::turn_mm(round, 0.0) / 2.0 - 2.0 * AIR_ROUND;
                Room { block, along, round }
            }
        })
    }

    /// The largest cap height for lines so wide (in cap heights): of the series, else in steps below it.
    fn largest(&self, room: Room, lines: usize, widest: f64) -> f64 {
        let along = if widest > 0.0 { room.along / widest } else { f64::INFINITY };
        let round = (room.block / block(1.0, lines)).min(geometry::readable_cap_mm(room.round));
        let limit = round.min(along);
        let in_series = SERIES.into_iter().find(|cap| *cap <= limit + 1e-9);
        in_series.unwrap_or_else(|| ((limit + 1e-9) / STEP).floor().max(1.0) * STEP)
    }

    /// The smallest cap height that should be printed.
    fn least(&self) -> f64 {
        SMALLEST_MM.max(self.printer.smallest_cap)
    }

    /// Another kind on which such words can be read, for messages.
    fn other(
        &self,
        kind: MarkerKind,
        (diameter, lines, widest): (f64, usize, f64),
    ) -> Option<MarkerKind> {
        [MarkerKind::Wrap, MarkerKind::Flag, MarkerKind::FlagAlong, MarkerKind::Sleeve]
            .into_iter()
            .find(|other| {
                let cap = self.room(*other, diameter).map(|room| self.largest(room, lines, widest));
                *other != kind && cap.is_some_and(|cap| cap >= self.least())
            })
    }

    fn build(
        &self,
        (kind, diameter, lines): (MarkerKind, u64, usize),
        widest: f64,
        members: &[usize],
        remarks: &mut Remarks,
    ) -> Build {
        let diameter = f64::from_bits(diameter);
        let markers = &self.wiring.markers;
        let other = self.other(kind, (diameter, lines, widest));
        let Some(room) = self.room(kind, diameter) else {
            remarks.no_sleeve(diameter, other, members);
            return self.shaped(kind, (diameter, lines, widest), SMALLEST_MM);
        };
        let cap = markers.cap.unwrap_or_else(|| self.largest(room, lines, widest));
        let (high, wide) = (block(cap, lines), widest * cap);
        if cap < self.least() - 1e-9 {
            remarks.small((kind, diameter), (cap, self.least()), other, members);
        }
        if high > room.block + 1e-9 || wide > room.along + 1e-9 {
            let needed = (high - room.block).max(0.0).max(wide - room.along);
            remarks.no_room((kind, diameter), (cap, needed), other, members);
        }
        if cap > geometry::readable_cap_mm(room.round) + 1e-9 {
            remarks.unturned((kind, room.round), cap, members);
        }
        if kind == MarkerKind::Laminated && markers.film != Film::Clear {
            remarks.tail_not_clear(markers.film, members);
        }
        self.shaped(kind, (diameter, lines, widest), cap)
    }

    /// Size, and where words and folds go.
    fn shaped(
        &self,
        kind: MarkerKind,
        (diameter, lines, widest): (f64, usize, f64),
        cap: f64,
    ) -> Build {
        let markers = &self.wiring.markers;
        let turn = geometry::turn_mm(diameter, markers.thickness);
        let width = rounded_up(widest * cap + 2.0 * AIR_ALONG);
        let face = markers.face.unwrap_or(width);
        let plain = Build {
            kind,
            cap,
            size: Size::ZERO,
            words: Vec::new(),
            folds: Vec::new(),
            stretch: Vec2::new(1.0, 1.0),
        };
        match kind {
            MarkerKind::Wrap | MarkerKind::Laminated => {
                let length = if kind == MarkerKind::Wrap {
                    geometry::wrap_mm(turn)
                } else {
                    geometry::laminated_mm(turn, markers.tail_turns)
                };
                // The printed turn is the top of the strip; the rest goes over it.
                let middle = |y: f64| (Vec2::new(0.0, y - length / 2.0), 0.0);
                let words = round(turn, block(cap, lines), cap).into_iter().map(middle).collect();
                Build { size: Size::new(width, length), words, ..plain }
            }
            MarkerKind::Flag => {
                let length = geometry::flag_mm(face, turn);
                let off = (turn + face) / 2.0;
                // Folded over the wire that runs across it, both faces stand upright.
                Build {
                    size: Size::new(length, markers.height),
                    words: vec![(Vec2::new(-off, 0.0), 0.0), (Vec2::new(off, 0.0), 0.0)],
                    folds: dashes(markers.height, |along| (Vec2::new(0.0, along), 90.0)),
                    ..plain
                }
            }
            MarkerKind::FlagAlong => {
                let length = geometry::flag_mm(markers.height, turn);
                let off = (turn + markers.height) / 2.0;
                // Folded along the wire, the far face comes round upside down: it is turned to read right.
                Build {
                    size: Size::new(face, length),
                    words: vec![(Vec2::new(0.0, -off), 0.0), (Vec2::new(0.0, off), 180.0)],
                    folds: dashes(face, |along| (Vec2::new(along, 0.0), 0.0)),
                    ..plain
                }
            }
            MarkerKind::Sleeve => {
                let Some(sleeve) = Sleeve::for_wire(diameter) else {
                    // That is an error, told already; a flag stands in so that the rest can be checked.
                    return self.shaped(MarkerKind::Flag, (diameter, lines, widest), cap);
                };
                let (along, round) = sleeve.stretch(diameter);
                Build {
                    size: Size::new(width * along, sleeve.flat_mm()),
                    words: vec![(Vec2::ZERO, 0.0)],
                    stretch: Vec2::new(along, round),
                    ..plain
                }
            }
        }
    }

    fn label(
        &self,
        (index, wire): (usize, &Wire),
        name: String,
        spot: Spot,
        build: &Build,
    ) -> Label {
        let end = match spot {
            Spot::End(end) => end,
            Spot::Along(_) => End::From,
        };
        let place = wire.at(end).map_or(wire.place, |terminal| terminal.place);
        let mut parts = Vec::with_capacity(build.words.len() + build.folds.len());
        for (at, turned) in &build.words {
            let text = self.text(wire.text(end).to_vec(), build.cap, wire.place);
            parts.push(Part::new(Element::Text(text), place).at(*at, *turned));
        }
        for (at, turned) in &build.folds {
            let line = Line::plain(DASH, self.printer.thinnest_ink, Paint::BLACK);
            parts.push(Part::new(Element::Line(line), place).at(*at, *turned));
        }
        Label {
            name,
            place: wire.place,
            film: self.wiring.markers.film,
            film_place: self.wiring.markers.place,
            on: None,
            copies: 1,
            spares: 0,
            applied: Applied::FaceUp,
            viewed: None,
            white: White::None,
            handed_pair: false,
            edge: Edge::FilmBorder(0.0),
            corner: Some(0.0),
            size: Some(build.size),
            parts,
            split: Split::Never,
            // Said of the whole wiring where it is so.
            allow: ["no-spare", "small-text", "near-cut"].map(str::to_owned).to_vec(),
            note: None,
            kind: LabelKind::Marker(MarkerOf {
                wire: index,
                spot,
                kind: build.kind,
                stretch: build.stretch,
            }),
        }
    }
}

/// Height of so many lines, mm.
fn block(cap: f64, lines: usize) -> f64 {
    let more = u32::try_from(lines.saturating_sub(1)).unwrap_or(u32::MAX);
    cap * (1.0 + f64::from(more) * PITCH)
}

/// To the next half millimetre, so that strips are cut at round measures.
fn rounded_up(mm: f64) -> f64 {
    (mm * 2.0 - 1e-9).ceil() / 2.0
}

/// The dashes of a fold line this long, evenly, none in the cut.
fn dashes(length: f64, place: impl Fn(f64) -> (Vec2, f64)) -> Vec<(Vec2, f64)> {
    let times = count(length / DASHES);
    let each = length / f64::from(times);
    (0..times).map(|time| place((f64::from(time) + 0.5) * each - length / 2.0)).collect()
}

/// How often something goes into a length, at least once.
fn count(times: f64) -> u32 {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "lengths are bounded at 5 m and parts are over half a millimetre"
    )]
    let times = times.floor().max(1.0) as u32;
    times
}

/// Middles of words repeated round a turn, from its start: as often as they fit with air between, so that
/// they can be read from any side.
fn round(turn: f64, block: f64, cap: f64) -> Vec<f64> {
    let times = count(turn / (block + cap.max(2.0 * AIR_ROUND)));
    let each = turn / f64::from(times);
    (0..times).map(|time| (f64::from(time) + 0.5) * each).collect()
}

#[cfg(test)]
mod tests;
