//! How large the markers of a group of wires are, and where their words and folds go.

use super::{Group, MarkerContext};
use crate::finding::Findings;
use crate::spec::Film;
use crate::spec::wiring::MarkerKind;
use crate::wire::geometry::{self, SMALLEST_MM, Sleeve};
use crate::wire::remarks;
use kurbo::{Size, Vec2};

/// Cap heights to prefer, mm: the series of ISO 3098.
const SERIES: [f64; 6] = [10.0, 7.0, 5.0, 3.5, 2.5, 1.8];

/// Steps of cap heights below the series, mm.
const STEP: f64 = 0.05;

/// Base line to base line as a multiple of the cap height: half the height between lines
/// (NUREG-0700 11.4.1.5).
pub(super) const PITCH: f64 = 1.5;

/// Air between the words and the ends of a marker along the wire, mm (common practice, no source).
const AIR_ALONG: f64 = 1.5;

/// Air above and below the words of a marker, mm (common practice, no source).
const AIR_ROUND: f64 = 0.3;

/// Air above and below the words of a flag, mm: it is cut by hand (common practice, no source).
const AIR_FLAG: f64 = 0.8;

/// Length of the dashes that show a fold, and from middle to middle, mm (common practice, no source).
pub(super) const DASH: f64 = 0.7;
const DASHES: f64 = 1.4;

/// Rounding that no printer shows, mm.
const SLACK_MM: f64 = 1e-9;

/// Kinds to name as another choice when words do not fit, the plainest first.
const OTHER_KINDS: [MarkerKind; 4] =
    [MarkerKind::Wrap, MarkerKind::Flag, MarkerKind::FlagAlong, MarkerKind::Sleeve];

/// The size of a group's markers, and what goes where on them.
#[derive(Clone, Debug)]
pub(super) struct MarkerLayout {
    pub(super) kind: MarkerKind,
    /// Cap height, mm.
    pub(super) cap: f64,
    /// Width and height of the marker as printed, mm.
    pub(super) size: Size,
    /// Where its words go.
    pub(super) words: Vec<Pose>,
    /// Where the dashes of its fold go.
    pub(super) folds: Vec<Pose>,
    /// How much larger than it ends up everything is drawn.
    pub(super) stretch: Vec2,
}

/// Where words or a dash go.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pose {
    /// Their middle, mm from the marker's.
    pub(super) at: Vec2,
    /// Degrees clockwise.
    pub(super) turned: f64,
}

fn pose(x: f64, y: f64, turned: f64) -> Pose {
    Pose { at: Vec2::new(x, y), turned }
}

/// The space a kind of marker has for words, mm.
#[derive(Clone, Copy, Debug)]
struct WordSpace {
    /// Round the wire, or across a flag.
    block: f64,
    /// Along the wire.
    along: f64,
    /// Diameter of what the letters go round; infinite on a flag, which is flat.
    round: f64,
}

impl MarkerContext<'_> {
    /// The kind of a wire's marker: its own, that of thin wires, that of the job, else one that can be read.
    pub(super) fn kind(&self, kind: Option<MarkerKind>, diameter_mm: f64) -> MarkerKind {
        let markers = &self.wiring.markers;
        let thin = markers.thin.filter(|(under, _)| diameter_mm < *under);
        let usual = || {
            if geometry::readable_cap_mm(diameter_mm) < SMALLEST_MM {
                MarkerKind::Flag
            } else if markers.film == Film::Clear {
                MarkerKind::Laminated
            } else {
                MarkerKind::Wrap
            }
        };
        kind.or(thin.map(|(_, kind)| kind)).or(markers.kind).unwrap_or_else(usual)
    }

    /// The space for words on a marker of this kind; `None` when no sleeve fits the wire.
    fn word_space(&self, kind: MarkerKind, diameter_mm: f64) -> Option<WordSpace> {
        let markers = &self.wiring.markers;
        let turn = geometry::turn_mm(diameter_mm, markers.thickness);
        let along = markers.along - 2.0 * AIR_ALONG;
        Some(match kind {
            MarkerKind::Wrap | MarkerKind::Laminated => {
                WordSpace { block: turn - 2.0 * AIR_ROUND, along, round: diameter_mm }
            }
            MarkerKind::Flag | MarkerKind::FlagAlong => WordSpace {
                block: markers.height - 2.0 * AIR_FLAG,
                along: markers.face.map_or(along, |face| face - 2.0 * AIR_ALONG),
                round: f64::INFINITY,
            },
            MarkerKind::Sleeve => {
                let round = Sleeve::for_wire(diameter_mm)?.outside_on_mm(diameter_mm);
                // One side of it pressed flat.
                let block = geometry::turn_mm(round, 0.0) / 2.0 - 2.0 * AIR_ROUND;
                WordSpace { block, along, round }
            }
        })
    }

    /// The smallest cap height that should be printed, mm.
    fn least(&self) -> f64 {
        SMALLEST_MM.max(self.printer.smallest_cap)
    }

    /// Another kind on which the words of a group can be read, for messages.
    fn other(&self, group: &Group) -> Option<MarkerKind> {
        OTHER_KINDS.into_iter().filter(|other| *other != group.kind).find(|other| {
            let space = self.word_space(*other, group.diameter_mm);
            space.is_some_and(|space| space.largest_cap(group) >= self.least())
        })
    }

    /// The layout of a group's markers; reports what cannot be read or does not fit.
    pub(super) fn layout(&self, group: &Group, findings: &mut Findings) -> MarkerLayout {
        let markers = &self.wiring.markers;
        let other = self.other(group);
        let mut report = |finding| findings.push(remarks::on_wires(finding, group, self.wiring));
        let Some(space) = self.word_space(group.kind, group.diameter_mm) else {
            report(remarks::no_sleeve(group, other));
            return self.shaped(group.kind, group, SMALLEST_MM);
        };
        let cap = markers.cap.unwrap_or_else(|| space.largest_cap(group));
        let (high, wide) = (block(cap, group.lines), group.widest * cap);
        if cap < self.least() - SLACK_MM {
            report(remarks::too_small(group, cap, self.least(), other));
        }
        if high > space.block + SLACK_MM || wide > space.along + SLACK_MM {
            let lacking = (high - space.block).max(0.0).max(wide - space.along);
            report(remarks::no_space(group, cap, lacking, other));
        }
        if cap > geometry::readable_cap_mm(space.round) + SLACK_MM {
            report(remarks::turn_to_read(group, cap, space.round));
        }
        if group.kind == MarkerKind::Laminated && markers.film != Film::Clear {
            report(remarks::tail_not_clear(markers.film));
        }
        self.shaped(group.kind, group, cap)
    }

    /// Size, and where words and folds go.
    fn shaped(&self, kind: MarkerKind, group: &Group, cap: f64) -> MarkerLayout {
        let markers = &self.wiring.markers;
        let turn = geometry::turn_mm(group.diameter_mm, markers.thickness);
        let width = rounded_up(group.widest * cap + 2.0 * AIR_ALONG);
        let face = markers.face.unwrap_or(width);
        let (size, words, folds) = match kind {
            MarkerKind::Wrap | MarkerKind::Laminated => {
                let length = if kind == MarkerKind::Wrap {
                    geometry::wrap_mm(turn)
                } else {
                    geometry::laminated_mm(turn, markers.tail_turns)
                };
                // The printed turn is the top of the strip; the rest goes over it.
                let middles = round(turn, block(cap, group.lines), cap).into_iter();
                let words = middles.map(|y| pose(0.0, y - length / 2.0, 0.0)).collect();
                (Size::new(width, length), words, Vec::new())
            }
            MarkerKind::Flag => {
                let off = (turn + face) / 2.0;
                // Folded over the wire that runs across it, both faces stand upright.
                let words = vec![pose(-off, 0.0, 0.0), pose(off, 0.0, 0.0)];
                let folds = dashes(markers.height).map(|along| pose(0.0, along, 90.0)).collect();
                (Size::new(geometry::flag_mm(face, turn), markers.height), words, folds)
            }
            MarkerKind::FlagAlong => {
                let off = (turn + markers.height) / 2.0;
                // Folded along the wire, the far face comes round upside down: it is turned to read right.
                let words = vec![pose(0.0, -off, 0.0), pose(0.0, off, 180.0)];
                let folds = dashes(face).map(|along| pose(along, 0.0, 0.0)).collect();
                (Size::new(face, geometry::flag_mm(markers.height, turn)), words, folds)
            }
            MarkerKind::Sleeve => {
                let Some(sleeve) = Sleeve::for_wire(group.diameter_mm) else {
                    // An error is reported already; a flag stands in so that the rest can be checked.
                    return self.shaped(MarkerKind::Flag, group, cap);
                };
                let (along, round) = sleeve.stretch(group.diameter_mm);
                let size = Size::new(width * along, sleeve.flat_mm());
                let (words, folds) = (vec![pose(0.0, 0.0, 0.0)], Vec::new());
                let stretch = Vec2::new(along, round);
                return MarkerLayout { kind, cap, size, words, folds, stretch };
            }
        };
        MarkerLayout { kind, cap, size, words, folds, stretch: Vec2::new(1.0, 1.0) }
    }
}

impl WordSpace {
    /// The largest cap height for the words of a group, mm: of the series, else in steps below it.
    fn largest_cap(&self, group: &Group) -> f64 {
        let along = if group.widest > 0.0 { self.along / group.widest } else { f64::INFINITY };
        let round = self.block / block(1.0, group.lines);
        let limit = round.min(geometry::readable_cap_mm(self.round)).min(along) + SLACK_MM;
        let in_series = SERIES.into_iter().find(|cap| *cap <= limit);
        in_series.unwrap_or_else(|| (limit / STEP).floor().max(1.0) * STEP)
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

/// The middles of the dashes of a fold line this long, evenly, none in the cut.
fn dashes(length: f64) -> impl Iterator<Item = f64> {
    let times = count(length / DASHES);
    let each = length / f64::from(times);
    (0..times).map(move |time| (f64::from(time) + 0.5) * each - length / 2.0)
}

/// How often something goes into a length, at least once.
pub(super) fn count(times: f64) -> u32 {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "wires are 100 m long at most, and parts half a millimetre at least"
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
