//! Holes from the list, the drill table and the drawing, all read alike.

use super::super::reader::{Least, Reader, quoted};
use super::{drawing, drill_table};
use crate::finding::{Place, Severity};
use crate::spec::panel::{CLEAR_RING_MM, FITTINGS, Hole, Origin};
use crate::spec::panel_draft::{FittingDraft, HoleDraft, PanelDraft};
use crate::spec::typed::{Many, Typed};
use kurbo::{Size, Vec2};
use std::collections::{BTreeMap, BTreeSet};

/// The most holes of one panel.
const MOST_HOLES: usize = 2000;

/// The most holes that may run into one: more are a slip of a table, and merging them never ends.
const MOST_MEETING: usize = 50;

/// How far a drawn hole may be from a fitting's diameter to be taken for its hole, mm.
const SAME_DIAMETER_MM: f64 = 0.05;

/// Holes that were asked for and told as wrong: nothing more is said of legends that name them.
#[derive(Debug, Default)]
pub(super) struct Lost {
    /// Their names, and the kinds of fitting they were for.
    names: BTreeSet<String>,
    /// Whether there may be others: a table or drawing could not be read.
    others: bool,
}

impl Lost {
    pub(super) fn may_hold(&self, name: &str) -> bool {
        self.others || self.names.contains(name)
    }
}

/// Every hole of a panel that can be used, and what was lost.
pub(super) fn holes(
    draft: &PanelDraft,
    (origin, size): (Origin, Size),
    place: Place,
    reader: &mut Reader<'_, '_>,
) -> (Vec<Hole>, Lost) {
    let mut lost = Lost::default();
    let inch = reader.choice(draft.unit.as_ref(), &[("mm", false), ("in", true)]);
    let unit = inch.map_or("mm", |inch| if inch { "in" } else { "mm" });
    let mut drafts: Vec<HoleDraft> = draft.holes.clone();
    if let Some(file) = &draft.drill_table {
        let told = errors(reader);
        let found = drill_table::holes(file, unit, reader);
        lost.others |= found.is_empty() && errors(reader) > told;
        drafts.extend(found);
    }
    if let Some(drawn) = &draft.drawing {
        let said = inch.map(|inch| if inch { 25.4 } else { 1.0 });
        let told = errors(reader);
        let mut found = drawing::holes(drawn, said, (origin, size), place, reader);
        lost.others |= found.is_empty() && errors(reader) > told;
        found.iter_mut().for_each(|hole| by_diameter(hole, &draft.fittings));
        drafts.extend(found);
    }
    if drafts.len() > MOST_HOLES {
        let message = format!("the panel has {} holes; {MOST_HOLES} is the most", drafts.len());
        reader.wrong("too-many", place, message, "make two panels of it");
        return (Vec::new(), Lost { others: true, ..lost });
    }
    let (mut holes, mut seen) = (Vec::with_capacity(drafts.len()), BTreeMap::new());
    for (draft_of, number) in drafts.into_iter().zip(1_usize..) {
        let names = [&draft_of.name, &draft_of.kind]
            .map(|typed| typed.as_ref().map(|typed| typed.text.trim().to_owned()));
        let Some(mut hole) = hole(draft_of, &draft.fittings, (origin, size), place, reader) else {
            lost.names.extend(names.into_iter().flatten());
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
        return (Vec::new(), Lost { others: true, ..lost });
    }
    (holes, lost)
}

fn errors(reader: &Reader<'_, '_>) -> usize {
    let all = reader.desk.findings.list().iter();
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
fn by_diameter(hole: &mut HoleDraft, fittings: &BTreeMap<String, FittingDraft>) {
    let mm = |typed: &Option<Typed>| {
        crate::units::Length::parse(typed.as_ref()?.text.trim()).ok().map(|length| length.mm())
    };
    let Some(drawn) = mm(&hole.diameter) else { return };
    let fits = |kind: &&String| {
        let own = fittings.get(*kind).and_then(|fitting| mm(&fitting.diameter));
        own.or_else(|| usual(kind)).is_some_and(|mm| (mm - drawn).abs() <= SAME_DIAMETER_MM)
    };
    let fitting: Vec<&String> = fittings.keys().filter(fits).collect();
    let place = hole.diameter.as_ref().map(|typed| typed.place).unwrap_or_default();
    if let [only] = fitting.as_slice() {
        hole.kind = Some(Typed { text: (*only).clone(), place });
    }
}

/// The hole of a usual part, mm.
fn usual(kind: &str) -> Option<f64> {
    FITTINGS.iter().find(|(name, _)| *name == kind).map(|(_, mm)| *mm)
}

fn hole(
    mut draft: HoleDraft,
    fittings: &BTreeMap<String, FittingDraft>,
    (origin, size): (Origin, Size),
    fallback: Place,
    reader: &mut Reader<'_, '_>,
) -> Option<Hole> {
    let place = draft.name.as_ref().map(|name| name.place).filter(|place| place.end > place.start);
    let place = place.or_else(|| Some(draft.at.as_ref()?.items.first()?.place)).unwrap_or(fallback);
    let kind = draft.kind.as_ref().map(|kind| kind.text.trim().to_owned());
    let kind = kind.filter(|kind| !kind.is_empty());
    let known = kind.as_ref().and_then(|kind| fittings.get(kind));
    if let Some(fitting) = known {
        draft.under(fitting);
    }
    let at = match &draft.at {
        Some(many) => reader.pair(Some(many), Least::Any).map(|(x, y)| Vec2::new(x, y)),
        None => {
            let message = "the hole has no place".to_owned();
            reader.wrong("missing", place, message, "add `at: [20 mm, 35 mm]`: its middle");
            None
        }
    };
    let diameter_mm = match &draft.diameter {
        Some(typed) => reader.length(Some(typed), Least::Something),
        None => kind.as_deref().and_then(usual).or_else(|| {
            no_diameter(draft.kind.as_ref(), fittings, place, reader);
            None
        }),
    };
    let mut length = |typed: &Option<Typed>| reader.length(typed.as_ref(), Least::Nought);
    let clear = length(&draft.clear);
    let (nut_mm, knob_mm, keep_clear_mm) =
        (length(&draft.nut), length(&draft.knob), length(&draft.keep_clear));
    let diameter_mm = diameter_mm?;
    Some(Hole {
        name: draft.name.map(|name| name.text.trim().to_owned()).unwrap_or_default(),
        kind,
        at: origin.to_panel(at?, size),
        diameter_mm,
        clear_mm: clear.unwrap_or(diameter_mm + CLEAR_RING_MM),
        nut_mm,
        knob_mm,
        keep_clear_mm,
        place,
    })
}

/// Tells that a hole's diameter is neither given nor known from its kind.
fn no_diameter(
    kind: Option<&Typed>,
    fittings: &BTreeMap<String, FittingDraft>,
    place: Place,
    reader: &mut Reader<'_, '_>,
) {
    let Some(kind) = kind.filter(|kind| !kind.text.trim().is_empty()) else {
        let message = "the hole has no diameter".to_owned();
        reader.wrong("missing", place, message, "add `diameter: 6.5 mm`, or a `kind`");
        return;
    };
    let known = fittings.keys().map(String::as_str).chain(FITTINGS.iter().map(|(name, _)| *name));
    let help = match reader.nearest(kind.text.trim(), known) {
        Some(near) => format!("did you mean `{near}`? or add `diameter`"),
        None => "add `diameter`, or the kind under `fittings:`".to_owned(),
    };
    let message = format!("no fitting called {} has a diameter", quoted(kind.text.trim()));
    reader.wrong("unknown-fitting", kind.place, message, help);
}

/// A pair of lengths as a list of two values.
pub(super) fn pair(x: Typed, y: Typed) -> Many {
    Many { items: vec![x, y], listed: true }
}
