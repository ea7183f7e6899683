//! Legends: labels that know where on their panel they stand.

use super::super::names::{self, Wish};
use super::super::reader::{Least, Reader, quoted};
use super::super::{Wanted, choices, repeated, style};
use super::holes::{Lost, pair};
use crate::finding::Place;
use crate::spec::draft::{LabelDraft, PartDraft, TextDraft};
use crate::spec::panel::{Hole, Panel, Side, Stands};
use crate::spec::panel_draft::{BracketDraft, GroupingDraft};
use crate::spec::typed::{Many, Shorthand, Typed};
use crate::spec::{cascade, fill, scalars};
use crate::units::fixed;
use kurbo::{Point, Rect, Vec2};
use std::collections::BTreeMap;

/// Each level of legends is larger than the one under it by this (common practice, no source).
const LEVEL: f64 = 1.25;

/// Levels there are: positions, names, groups, title, and two more.
const MOST_LEVELS: u32 = 6;

/// How far a bracket reaches past the outermost keep-out circles when not said, mm, and its bent ends in
/// cap heights of level 1 (common practice, no source).
const USUAL_REACH_MM: f64 = 1.0;
const USUAL_ENDS: f64 = 0.6;

/// What the legends of one panel share.
pub(super) struct Board<'b> {
    pub(super) panel: &'b Panel,
    pub(super) lost: &'b Lost,
    /// The panel's own label, for what its legends take from it.
    pub(super) label: &'b LabelDraft,
    /// Where the panel's label stands among the wanted ones.
    pub(super) index: usize,
    pub(super) styles: &'b BTreeMap<String, LabelDraft>,
    /// From a knob, nut or hole to its legend, mm.
    pub(super) gap_mm: f64,
    /// Cap height of level 1, mm.
    pub(super) cap_mm: f64,
}

impl Board<'_> {
    /// Cap height of a level, mm.
    fn cap(&self, level: u32) -> f64 {
        (1..level).fold(self.cap_mm, |cap, _| cap * LEVEL)
    }

    fn hole(&self, name: &str) -> Option<&Hole> {
        self.panel.holes.iter().find(|hole| hole.name == name)
    }
}

/// Adds a legend: one label, or one for each of its holes or rows.
pub(super) fn add(
    mut draft: LabelDraft,
    board: &Board<'_>,
    all: &mut Vec<Wanted>,
    reader: &mut Reader<'_, '_>,
) {
    choices::check(&draft, reader);
    let place = scalars::label_place(&mut draft).unwrap_or(board.panel.place);
    if draft.panel.is_some() {
        let message = "a legend cannot be a panel itself".to_owned();
        reader.wrong("bad-panel", place, message, "write the other panel as a label of its own");
        return;
    }
    level(&mut draft, board, reader);
    if let Some(style) = style(&draft, board.styles, reader) {
        cascade::lay_over(&mut draft, style);
    }
    super::one_hand(&draft, reader);
    cascade::legend_over(&mut draft, board.label);
    for draft in for_each_hole(draft, board) {
        let from = all.len();
        repeated(draft, place, all, reader);
        for one in all.iter_mut().skip(from) {
            one.stands = stands(&one.draft, one.place, board, reader);
            name_by_hole(one);
            one.stands_on = Some(board.index);
        }
    }
}

/// A dial or symbol without words is named after its hole.
fn name_by_hole(one: &mut Wanted) {
    let hole = one.stands.as_ref().and_then(|stands| stands.hole.as_deref());
    if let (Wish::Made(words), Some(hole)) = (&one.wish, hole)
        && words.is_empty()
    {
        one.wish = Wish::Made(names::slug(hole));
    }
}

/// Sets the cap height of a level, unless the legend gives its own.
fn level(draft: &mut LabelDraft, board: &Board<'_>, reader: &mut Reader<'_, '_>) {
    let Some(typed) = draft.level.clone() else { return };
    let Some(level) = reader.count(Some(&typed), 1..=MOST_LEVELS) else { return };
    let mut text = draft.text.take().map(cascade::text_long).unwrap_or_default();
    if text.cap_height.is_some() || text.em.is_some() || text.fit.is_some() {
        let message = "a level sets the cap height, and the text gives another size".to_owned();
        reader.wrong("two-sizes", typed.place, message, "keep one of them");
    } else {
        let cap = format!("{} mm", fixed(board.cap(level), 3));
        text.cap_height = Some(Typed { text: cap, place: typed.place });
    }
    draft.text = Some(Shorthand::Long(Box::new(text)));
}

/// A legend for each hole it names, `{hole}` filled in; a name may also be a kind of hole. Names that a
/// table fills in later, and unknown ones, are left to [`stands`].
fn for_each_hole(draft: LabelDraft, board: &Board<'_>) -> Vec<LabelDraft> {
    let Some(named) = &draft.hole else { return vec![draft] };
    let mut holes: Vec<Typed> = Vec::new();
    for item in &named.items {
        let name = item.text.trim();
        let of_kind = board.panel.holes.iter().filter(|hole| hole.kind.as_deref() == Some(name));
        let of_kind: Vec<Typed> =
            of_kind.map(|hole| Typed { text: hole.name.clone(), place: item.place }).collect();
        if of_kind.is_empty() || board.hole(name).is_some() {
            holes.push(item.clone());
        } else {
            holes.extend(of_kind);
        }
    }
    let one = |hole: Typed| {
        let mut draft = draft.clone();
        if !hole.text.contains('{') {
            scalars::each_of_label(&mut draft, &mut |typed| {
                fill::columns(typed, |name| (name == "hole").then_some(&hole));
            });
        }
        draft.hole = Some(Many { items: vec![hole], listed: false });
        draft
    };
    holes.into_iter().map(one).collect()
}

/// Where a legend stands; `None`, and told, when that cannot be known.
fn stands(
    draft: &LabelDraft,
    place: Place,
    board: &Board<'_>,
    reader: &mut Reader<'_, '_>,
) -> Option<Stands> {
    let sides = [
        ("above", Side::Above),
        ("below", Side::Below),
        ("left", Side::Left),
        ("right", Side::Right),
        ("centre", Side::Centre),
    ];
    let side = reader.choice(draft.side.as_ref(), &sides);
    let Some(item) = draft.hole.as_ref().and_then(|many| many.items.first()) else {
        let Some((x, y)) = reader.pair(draft.at.as_ref(), Least::Any) else {
            if draft.at.is_none() {
                let message = "the legend has no place on its panel".to_owned();
                let help = "add `hole: P1` and `side: above`, or `at: [40 mm, 12 mm]`";
                reader.wrong("missing", place, message, help);
            }
            return None;
        };
        let at = board.panel.origin.to_panel(Vec2::new(x, y), board.panel.size);
        return Some(Stands { panel: 0, at, side: side.unwrap_or(Side::Centre), hole: None });
    };
    let name = item.text.trim();
    let Some(hole) = board.hole(name) else {
        unknown_hole(item, board, reader);
        return None;
    };
    let is_dial = draft.parts.iter().flatten().any(|part| part.dial.is_some());
    let side = side.unwrap_or(if is_dial { Side::Centre } else { Side::Above });
    let gap = reader.length(draft.gap.as_ref(), Least::Any).unwrap_or(board.gap_mm);
    let from_middle = reader.length(draft.from_middle.as_ref(), Least::Nought);
    let away = from_middle.unwrap_or(hole.keep_out().0 / 2.0 + gap);
    let shift = reader.at(draft.at.as_ref());
    let at = hole.at + side.away() * away + shift;
    Some(Stands { panel: 0, at, side, hole: Some(hole.name.clone()) })
}

/// Tells of a name that is neither a hole's nor a kind's.
fn unknown_hole(item: &Typed, board: &Board<'_>, reader: &mut Reader<'_, '_>) {
    let name = item.text.trim();
    if board.lost.may_hold(name) {
        return;
    }
    let holes = &board.panel.holes;
    let kinds = holes.iter().filter_map(|hole| hole.kind.as_deref());
    let help = match reader.nearest(name, holes.iter().map(|hole| hole.name.as_str()).chain(kinds))
    {
        Some(near) => format!("did you mean `{near}`?"),
        None => "name holes of this panel, or a kind of them".to_owned(),
    };
    let message = format!("the panel has no hole called {}", quoted(name));
    reader.wrong("unknown-hole", item.place, message, help);
}

/// Adds the bracket over a group of holes, its title in the middle.
pub(super) fn add_group(
    group: &GroupingDraft,
    board: &Board<'_>,
    all: &mut Vec<Wanted>,
    reader: &mut Reader<'_, '_>,
) {
    let items = group.holes.as_ref().map(|many| many.items.as_slice()).unwrap_or_default();
    let title = group.title.as_ref().and_then(|many| many.items.first());
    let place = title.or(items.first()).map_or(board.panel.place, |item| item.place);
    let mut spanned: Vec<&Hole> = Vec::new();
    for item in items {
        let name = item.text.trim();
        let named = |hole: &&Hole| hole.name == name || hole.kind.as_deref() == Some(name);
        let found: Vec<&Hole> = board.panel.holes.iter().filter(named).collect();
        if found.is_empty() {
            unknown_hole(item, board, reader);
        }
        spanned.extend(found);
    }
    let across = |hole: &&Hole| {
        let radius = hole.keep_out().0 / 2.0;
        Rect::new(hole.at.x - radius, hole.at.y, hole.at.x + radius, hole.at.y)
    };
    let Some(span) = spanned.iter().map(across).reduce(|all, one| all.union(one)) else {
        if items.is_empty() {
            let message = "a group needs the holes it spans".to_owned();
            reader.wrong("missing", place, message, "add `holes: [P1, P2]`");
        }
        return;
    };
    let tallest = spanned.iter().map(|hole| hole.keep_out().0 / 2.0).fold(0.0, f64::max);
    // Room for a name of level 2 between the holes and the bracket, whose title is of level 3.
    let usual = tallest + 2.0 * board.gap_mm + board.cap(2) + board.cap(3) / 2.0;
    let away = reader.length(group.from_middle.as_ref(), Least::Nought).unwrap_or(usual);
    let reach = reader.length(group.reach.as_ref(), Least::Any).unwrap_or(USUAL_REACH_MM);
    let below = reader.choice(group.side.as_ref(), &[("above", false), ("below", true)]);
    let below = below.unwrap_or(false);
    let y = if below { span.y1 + away } else { span.y0 - away };
    let draft = bracket_label(group, span.width() + 2.0 * reach, (below, place), board);
    let from = all.len();
    add(draft, board, all, reader);
    let at = Point::new(span.center().x, y);
    let words = group.title.iter().flat_map(|many| &many.items).map(|item| item.text.as_str());
    let words = names::slug(&words.collect::<Vec<_>>().join(" "));
    for one in all.iter_mut().skip(from) {
        one.stands = Some(Stands { panel: 0, at, side: Side::Centre, hole: None });
        one.wish = Wish::Made(words.clone());
    }
}

/// The label a bracket is: one part, set like the group's style.
fn bracket_label(
    group: &GroupingDraft,
    length_mm: f64,
    (below, place): (bool, Place),
    board: &Board<'_>,
) -> LabelDraft {
    let typed = |text: String| Some(Typed { text, place });
    let mm = |mm: f64| typed(format!("{} mm", fixed(mm, 4)));
    let title = group.title.clone().map(|title| {
        let paint = group.paint.clone();
        Shorthand::Long(Box::new(TextDraft { text: Some(title), paint, ..TextDraft::default() }))
    });
    let bracket = BracketDraft {
        length: mm(length_mm.max(0.01)),
        ends: mm(USUAL_ENDS * board.cap_mm),
        bent: typed(if below { "up" } else { "down" }.to_owned()),
        width: group.width.clone(),
        paint: group.paint.clone(),
        title,
        ..BracketDraft::default()
    };
    let zero = || Typed { text: "0".to_owned(), place };
    LabelDraft {
        // Found by its place; replaced by the bracket's own.
        at: Some(pair(zero(), zero())),
        name: None,
        style: group.style.clone(),
        level: group.level.clone().or_else(|| typed("3".to_owned())),
        parts: Some(vec![PartDraft { bracket: Some(bracket), ..PartDraft::default() }]),
        ..LabelDraft::default()
    }
}
