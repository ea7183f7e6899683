//! Holes from the list, the drill table and the drawing, all made alike.

use super::{Hole, Origin, PanelKeys, drawing, drill_table};
use crate::finding::{Place, Severity, quoted};
use crate::spec::Mm;
use crate::spec::panel::plate::{CLEAR_RING_MM, FITTINGS};
use crate::spec::reader::{Least, Reader};
use crate::yaml::{OneOrList, Placed, Scalar, keys};
use kurbo::{Point, Size, Vec2};
use std::collections::{BTreeMap, BTreeSet};

/// The most holes of one panel.
const MOST_HOLES: usize = 2000;

/// The most holes that may run into one: more are a slip of a table, and joining so many outlines takes minutes.
const MOST_MEETING: usize = 50;

/// How far a drawn hole may be from a fitting's diameter to be taken for its hole, mm.
const SAME_DIAMETER_MM: f64 = 0.05;

keys! {
    /// A round hole.
    pub(super) struct HoleKeys {
        /// Its name, for legends to stand at.
        name: Option<Scalar>,
        /// Its middle, [x, y] from the panel's origin.
        at: Option<OneOrList>,
        /// The kind of part: one of `fittings`, or a usual one such as `led-5`.
        kind: Option<Scalar>,
        /// Its diameter, if not the kind's.
        diameter: Option<Scalar>,
        /// Diameter of the window without ink round it; 0 lets ink run to the hole.
        clear: Option<Scalar>,
        /// Largest diameter of the nut or washer.
        nut: Option<Scalar>,
        /// Diameter of the knob, cap or bezel.
        knob: Option<Scalar>,
        /// Diameter of a circle that nothing to be read may enter.
        keep_clear: Option<Scalar>,
    }
}

keys! {
    /// What a kind of part needs and covers.
    pub(super) struct FittingKeys;

    /// What a kind of part needs and covers, where it is given.
    #[derive(Copy, Default)]
    pub(super) struct Fitting {
        /// Diameter of its hole.
        diameter: Option<Scalar> => Option<Mm>,
        /// Diameter of the window without ink round it.
        clear: Option<Scalar> => Option<Mm>,
        /// Largest diameter of the nut or washer.
        nut: Option<Scalar> => Option<Mm>,
        /// Diameter of the knob, cap or bezel.
        knob: Option<Scalar> => Option<Mm>,
        /// Diameter of a circle that nothing to be read may enter.
        keep_clear: Option<Scalar> => Option<Mm>,
    }
}

impl Fitting {
    /// The same, what it leaves open taken from another.
    fn or(self, other: Fitting) -> Fitting {
        Fitting {
            diameter: self.diameter.or(other.diameter),
            clear: self.clear.or(other.clear),
            nut: self.nut.or(other.nut),
            knob: self.knob.or(other.knob),
            keep_clear: self.keep_clear.or(other.keep_clear),
        }
    }
}

/// A fitting of its diameters: hole, clear window, nut, knob, and what is to be kept clear.
fn fitting(
    [diameter, clear, nut, knob, keep_clear]: [&Option<Scalar>; 5],
    reader: &mut Reader,
) -> Fitting {
    Fitting {
        diameter: reader.length(diameter, Least::Something),
        clear: reader.length(clear, Least::Nought),
        nut: reader.length(nut, Least::Nought),
        knob: reader.length(knob, Least::Nought),
        keep_clear: reader.length(keep_clear, Least::Nought),
    }
}

/// A hole that is asked for, wherever that is written.
#[derive(Clone, Debug, Default)]
pub(super) struct AskedHole {
    pub(super) name: Option<Scalar>,
    pub(super) kind: Option<Scalar>,
    /// Its middle, from the panel's middle, y down, mm; `None` where it was reported as wrong.
    pub(super) at: Option<Point>,
    /// What is given for it alone.
    pub(super) own: Fitting,
    /// Whether a diameter was given, sound or not.
    pub(super) has_diameter: bool,
    pub(super) place: Place,
}

/// Holes that were asked for and reported as wrong: nothing more is reported of legends that name them.
#[derive(Debug, Default)]
pub(super) struct LostHoles {
    /// Their names, and the kinds of fitting they were for.
    names: BTreeSet<String>,
    /// Whether there may be others: a table or drawing could not be read.
    others: bool,
}

impl LostHoles {
    pub(super) fn may_hold(&self, name: &str) -> bool {
        self.others || self.names.contains(name)
    }
}

/// Every hole of a panel that can be used, and what was lost.
pub(super) fn holes(
    keys: &PanelKeys,
    origin: Origin,
    size: Size,
    place: Place,
    reader: &mut Reader,
) -> (Vec<Hole>, LostHoles) {
    let mut lost = LostHoles::default();
    let inch = reader.choice(&keys.unit, &[("mm", false), ("in", true)]);
    let unit = inch.map_or("mm", |inch| if inch { "in" } else { "mm" });
    let mut fittings: BTreeMap<&str, Fitting> = BTreeMap::new();
    for (kind, FittingKeys { diameter, clear, nut, knob, keep_clear }) in &keys.fittings {
        fittings.insert(kind, fitting([diameter, clear, nut, knob, keep_clear], reader));
    }
    let mut all: Vec<AskedHole> =
        keys.holes.iter().map(|hole| listed(hole, origin, size, reader)).collect();
    if let Some(file) = &keys.drill_table {
        let before = errors(reader);
        let found = drill_table::holes(file, unit, origin, size, reader);
        lost.others |= found.is_empty() && errors(reader) > before;
        all.extend(found);
    }
    if let Some(drawing) = &keys.drawing {
        let unit_mm = inch.map(|inch| if inch { 25.4 } else { 1.0 });
        let before = errors(reader);
        let mut found = drawing::holes(drawing, unit_mm, origin, size, place, reader);
        lost.others |= found.is_empty() && errors(reader) > before;
        found.iter_mut().for_each(|hole| by_diameter(hole, &fittings));
        all.extend(found);
    }
    if all.len() > MOST_HOLES {
        let message = format!("the panel has {} holes; {MOST_HOLES} is the most", all.len());
        reader.wrong("too-many", place, message, "make two panels of it");
        return (Vec::new(), LostHoles { others: true, ..lost });
    }
    let (mut holes, mut seen) = (Vec::with_capacity(all.len()), BTreeMap::new());
    for (asked, number) in all.into_iter().zip(1_usize..) {
        let Some(mut hole) = hole(&asked, &fittings, reader) else {
            let names = [asked.name, asked.kind].into_iter().flatten();
            lost.names.extend(names.map(|name| name.trimmed().to_owned()));
            continue;
        };
        if hole.name.is_empty() {
            hole.name = format!("hole-{number}");
        }
        if let Some(first) = seen.insert(hole.name.clone(), hole.place) {
            let line = reader.in_line(first, hole.place);
            let message = format!("two holes are called {}, the other{line}", quoted(&hole.name));
            reader.wrong("same-name", hole.place, message, "give one of them another name");
            continue;
        }
        holes.push(hole);
    }
    if let Some(hole) = crowded(&holes) {
        let message = format!("more than {MOST_MEETING} other holes meet {}", quoted(&hole.name));
        let help = "check the columns x and y of the table, and its unit";
        reader.wrong("too-many", hole.place, message, help);
        return (Vec::new(), LostHoles { others: true, ..lost });
    }
    (holes, lost)
}

fn errors(reader: &Reader) -> usize {
    let all = reader.context.findings.list().iter();
    all.filter(|one| one.severity == Severity::Error).count()
}

/// A hole that more others run into than any slot drilled hole by hole needs.
fn crowded(holes: &[Hole]) -> Option<&Hole> {
    let meet = |one: &Hole, other: &Hole| {
        one.at.distance(other.at) < (one.diameter_mm + other.diameter_mm) / 2.0
    };
    holes
        .iter()
        .find(|one| holes.iter().filter(|other| meet(one, other)).count() > MOST_MEETING + 1)
}

/// Gives a drawn hole the only kind whose diameter it has.
fn by_diameter(hole: &mut AskedHole, fittings: &BTreeMap<&str, Fitting>) {
    let Some(drawn) = hole.own.diameter else { return };
    let fits = |kind: &&str| {
        let own = fittings.get(kind).and_then(|fitting| fitting.diameter);
        own.or_else(|| usual(kind)).is_some_and(|mm| (mm - drawn).abs() <= SAME_DIAMETER_MM)
    };
    let fitting: Vec<&str> = fittings.keys().copied().filter(fits).collect();
    if let [only] = fitting.as_slice() {
        hole.kind = Some(Scalar { text: (*only).to_owned(), place: hole.place });
    }
}

/// The hole of a usual part, mm.
fn usual(kind: &str) -> Option<f64> {
    FITTINGS.iter().find(|(name, _)| *name == kind).map(|(_, mm)| *mm)
}

/// A hole of the job's own list.
fn listed(
    Placed { place, value: keys }: &Placed<HoleKeys>,
    origin: Origin,
    size: Size,
    reader: &mut Reader,
) -> AskedHole {
    let named = keys.name.as_ref().map(|name| name.place);
    let place = named.or_else(|| keys.at.as_ref()?.place()).unwrap_or(*place);
    if keys.at.is_none() {
        let message = "the hole has no place";
        reader.wrong("missing", place, message, "add `at: [20 mm, 35 mm]`: its middle");
    }
    let own = [&keys.diameter, &keys.clear, &keys.nut, &keys.knob, &keys.keep_clear];
    AskedHole {
        name: keys.name.clone(),
        kind: keys.kind.clone(),
        at: middle(&keys.at, origin, size, reader),
        own: fitting(own, reader),
        has_diameter: keys.diameter.is_some(),
        place,
    }
}

/// A place counted from the panel's origin as a point from its middle, mm.
pub(super) fn middle(
    list: &Option<OneOrList>,
    origin: Origin,
    size: Size,
    reader: &mut Reader,
) -> Option<Point> {
    reader.pair(list, Least::Any).map(|(x, y)| origin.to_panel(Vec2::new(x, y), size))
}

fn hole(
    asked: &AskedHole,
    fittings: &BTreeMap<&str, Fitting>,
    reader: &mut Reader,
) -> Option<Hole> {
    let kind = asked.kind.as_ref().map(|kind| kind.trimmed()).filter(|kind| !kind.is_empty());
    let known = kind.and_then(|kind| fittings.get(kind)).copied().unwrap_or_default();
    let given = asked.own.or(known);
    if given.diameter.is_none() && !asked.has_diameter && kind.and_then(usual).is_none() {
        no_diameter(asked.kind.as_ref(), fittings, asked.place, reader);
    }
    let diameter_mm = match given.diameter {
        None if asked.has_diameter => None,
        given => given.or(kind.and_then(usual)),
    }?;
    Some(Hole {
        name: asked.name.as_ref().map(|name| name.trimmed().to_owned()).unwrap_or_default(),
        kind: kind.map(str::to_owned),
        at: asked.at?,
        diameter_mm,
        clear_mm: given.clear.unwrap_or(diameter_mm + CLEAR_RING_MM),
        nut_mm: given.nut,
        knob_mm: given.knob,
        keep_clear_mm: given.keep_clear,
        place: asked.place,
    })
}

/// Reports that a hole's diameter is neither given nor known from its kind.
fn no_diameter(
    kind: Option<&Scalar>,
    fittings: &BTreeMap<&str, Fitting>,
    place: Place,
    reader: &mut Reader,
) {
    let Some(kind) = kind.filter(|kind| !kind.trimmed().is_empty()) else {
        let message = "the hole has no diameter";
        reader.wrong("missing", place, message, "add `diameter: 6.5 mm`, or a `kind`");
        return;
    };
    let known = fittings.keys().copied().chain(FITTINGS.iter().map(|(name, _)| *name));
    let help = match reader.nearest(kind.trimmed(), known) {
        Some(near) => format!("did you mean `{near}`? or add `diameter`"),
        None => "add `diameter`, or the kind under `fittings:`".to_owned(),
    };
    let message = format!("no fitting called {} has a diameter", quoted(kind.trimmed()));
    reader.wrong("unknown-fitting", kind.place, message, help);
}
