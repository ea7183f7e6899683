//! Legends: labels that know where on their panel they stand.

use super::holes::middle;
use super::{Hole, PanelContext, Side, Stands};
use crate::finding::{Place, quoted};
use crate::spec::element::bracket::{Bracket, USUAL_WIDTH_MM};
use crate::spec::element::{Element, Paint, Part};
use crate::spec::fill;
use crate::spec::job::{Role, WantedLabel, repeated};
use crate::spec::label::{LabelKeys, place_of};
use crate::spec::merge;
use crate::spec::names::{self, RequestedName};
use crate::spec::reader::{Least, Reader};
use crate::spec::styles::{self, Styles};
use crate::units::rounded;
use crate::yaml::{OneOrList, Scalar, Tree, keys, read};
use kurbo::{Point, Rect};
use std::rc::Rc;

/// Levels there are: positions, names, groups, title, and two more.
const MOST_LEVELS: u32 = 6;

/// How far a bracket reaches past the outermost keep-out circles when not said, mm, and its bent ends in
/// cap heights of level 1 (common practice, no source).
const USUAL_REACH_MM: f64 = 1.0;
const USUAL_ENDS: f64 = 0.6;

/// Level of a bracket's title when not said.
const USUAL_GROUP_LEVEL: &str = "3";

/// Decimals of a millimetre a bracket is worked out to.
const DECIMALS: i32 = 4;

/// What a legend takes from its panel: how it is printed and put on, never what is on it.
const LIKE_ITS_PANEL: [&str; 7] =
    ["on", "film", "spares", "applied", "viewed_from", "white", "lift"];

keys! {
    /// A bracket over several holes, with a title.
    pub(super) struct GroupingKeys {
        /// Its words.
        title: Option<OneOrList>,
        /// The holes it spans.
        holes: Option<OneOrList>,
        /// `above` or `below` them.
        side: Option<Scalar>,
        /// From the line through the outermost holes' middles to the bracket.
        from_middle: Option<Scalar>,
        /// How far it reaches past the outermost holes' keep-out circles.
        reach: Option<Scalar>,
        /// Style of its title.
        style: Option<Scalar>,
        /// Level of its title; 3 when not said.
        level: Option<Scalar>,
        /// Width of its line.
        width: Option<Scalar>,
        /// A colour, or `clear`: of the line, and of the title unless its style says otherwise.
        paint: Option<Scalar>,
    }
}

/// The bracket that a legend's words are the title of.
#[derive(Clone, Debug)]
pub(in crate::spec) struct Span {
    length_mm: f64,
    ends_mm: f64,
    width_mm: f64,
    paint: Paint,
}

impl Span {
    /// The bracket in place of the words alone.
    pub(in crate::spec) fn over(&self, parts: Vec<Part>, place: Place) -> Vec<Part> {
        let (mut title, mut others) = (None, Vec::with_capacity(parts.len()));
        for part in parts {
            match part.element {
                Element::Text(text) if title.is_none() => title = Some((text, part.place)),
                _ => others.push(part),
            }
        }
        let place = title.as_ref().map_or(place, |(_, place)| *place);
        let bracket = Bracket {
            length: self.length_mm,
            ends: self.ends_mm,
            width: self.width_mm,
            paint: self.paint,
            title: title.map(|(text, _)| text),
        };
        others.push(Part::new(Element::Bracket(Box::new(bracket)), place));
        others
    }
}

/// Adds a legend: one label, or one for each of its holes or rows.
pub(super) fn add(
    legend: &Rc<Tree>,
    panel: &PanelContext,
    styles: &Styles,
    all: &mut Vec<WantedLabel>,
    reader: &mut Reader,
) {
    let Some((label, place)) = whole(legend, panel, styles, reader) else { return };
    for label in for_each_hole(&label, panel) {
        for mut one in repeated(&label, place, &Role::Decal, reader) {
            let stands = stands(&one.keys, one.place, panel, reader);
            let level_cap_mm = level_cap_mm(&one.keys, panel, reader);
            // A dial or symbol without words is named after its hole.
            if let (RequestedName::Made(words), Some(Stands { hole: Some(hole), .. })) =
                (&one.name, &stands)
                && words.is_empty()
            {
                one.name = RequestedName::Made(names::slug(hole));
            }
            all.push(WantedLabel {
                role: Role::Legend { stands, level_cap_mm, span: None },
                ..one
            });
        }
    }
}

/// A legend with its style and what it takes from its panel under it, and where it is written; `None`, and
/// reported, when it cannot be one.
fn whole(
    legend: &Rc<Tree>,
    panel: &PanelContext,
    styles: &Styles,
    reader: &mut Reader,
) -> Option<(Rc<Tree>, Place)> {
    merge::check(legend, reader);
    let place = place_of(legend).unwrap_or(panel.place);
    let mut label = Rc::clone(legend);
    if let Some(style) = styles::of(legend, styles, reader) {
        label = merge::over(legend, style);
    }
    if label.get("panel").is_some() {
        let message = "a legend cannot be a panel itself";
        reader.wrong("bad-panel", place, message, "write the other panel as a label of its own");
        return None;
    }
    super::one_hand(&label, reader);
    let of_panel = panel.label.only(|key| LIKE_ITS_PANEL.contains(&key));
    Some((merge::over(&label, &of_panel), place))
}

/// The cap height that a legend's level gives its texts, mm.
fn level_cap_mm(keys: &LabelKeys, panel: &PanelContext, reader: &mut Reader) -> Option<f64> {
    let level = reader.count(&keys.level, 1..=MOST_LEVELS)?;
    // To a micrometre, as a person would write it.
    Some(rounded(panel.level_cap_mm(level), 3))
}

/// A legend for each hole it names, `{hole}` filled in; a name may also be a kind of hole. Names that a
/// table fills in later, and unknown ones, are left to [`stands`].
fn for_each_hole(label: &Rc<Tree>, panel: &PanelContext) -> Vec<Rc<Tree>> {
    let Some(named) = label.get("hole").and_then(|hole| read::<OneOrList>(hole)) else {
        return vec![Rc::clone(label)];
    };
    let mut holes: Vec<Scalar> = Vec::new();
    for item in named.items {
        let of_kind =
            panel.holes.iter().filter(|hole| hole.kind.as_deref() == Some(item.trimmed()));
        let of_kind: Vec<Scalar> =
            of_kind.map(|hole| Scalar { text: hole.name.clone(), place: item.place }).collect();
        if of_kind.is_empty() || panel.hole(item.trimmed()).is_some() {
            holes.push(item);
        } else {
            holes.extend(of_kind);
        }
    }
    let one = |hole: Scalar| {
        let mut one = Rc::clone(label);
        if !hole.text.contains('{') {
            let lookup = |name: &str| (name == "hole").then(|| hole.clone());
            one = Tree::mapped(&one, &mut |text, place| fill::columns(text, place, &lookup));
        }
        one.with("hole", hole.tree())
    };
    holes.into_iter().map(one).collect()
}

/// Where a legend stands; `None`, and reported, when that cannot be known.
fn stands(
    keys: &LabelKeys,
    place: Place,
    panel: &PanelContext,
    reader: &mut Reader,
) -> Option<Stands> {
    let side = reader.word(&keys.side);
    let Some(item) = keys.hole.as_ref().and_then(|hole| hole.items.first()) else {
        if keys.at.is_none() {
            let help = "add `hole: P1` and `side: above`, or `at: [40 mm, 12 mm]`";
            reader.wrong("missing", place, "the legend has no place on its panel", help);
        }
        let at = middle(&keys.at, panel.origin, panel.size, reader)?;
        let side = side.unwrap_or(Side::Centre);
        return Some(Stands { panel: panel.index, at, side, hole: None });
    };
    let Some(hole) = panel.hole(item.trimmed()) else {
        unknown_hole(item, panel, reader);
        return None;
    };
    let side = side.unwrap_or(if keys.has_dial() { Side::Centre } else { Side::Above });
    let gap = reader.length(&keys.gap, Least::Any).unwrap_or(panel.gap_mm);
    let from_middle = reader.length(&keys.from_middle, Least::Nought);
    let away = from_middle.unwrap_or(hole.keep_out().0 / 2.0 + gap);
    let at = hole.at + side.away() * away + reader.at(&keys.at);
    Some(Stands { panel: panel.index, at, side, hole: Some(hole.name.clone()) })
}

/// Reports a name that is neither a hole's nor a kind's.
fn unknown_hole(item: &Scalar, panel: &PanelContext, reader: &mut Reader) {
    let name = item.trimmed();
    if panel.lost.may_hold(name) {
        return;
    }
    let kinds = panel.holes.iter().filter_map(|hole| hole.kind.as_deref());
    let names = panel.holes.iter().map(|hole| hole.name.as_str()).chain(kinds);
    let help = reader.did_you_mean(name, names, "name holes of this panel, or a kind of them");
    let message = format!("the panel has no hole called {}", quoted(name));
    reader.wrong("unknown-hole", item.place, message, help);
}

/// Adds the bracket over a group of holes, its title in the middle.
pub(super) fn add_group(
    group: &Rc<Tree>,
    panel: &PanelContext,
    styles: &Styles,
    all: &mut Vec<WantedLabel>,
    reader: &mut Reader,
) {
    let Some(keys) = read::<GroupingKeys>(group) else { return };
    let items = OneOrList::all(&keys.holes);
    let title = keys.title.as_ref().and_then(OneOrList::place);
    let place = title.or(items.first().map(|item| item.place)).unwrap_or(panel.place);
    let mut spanned: Vec<&Hole> = Vec::new();
    for item in items {
        let name = item.trimmed();
        let named = |hole: &&Hole| hole.name == name || hole.kind.as_deref() == Some(name);
        let found: Vec<&Hole> = panel.holes.iter().filter(named).collect();
        if found.is_empty() {
            unknown_hole(item, panel, reader);
        }
        spanned.extend(found);
    }
    let across = |hole: &&Hole| {
        let radius = hole.keep_out().0 / 2.0;
        Rect::new(hole.at.x - radius, hole.at.y, hole.at.x + radius, hole.at.y)
    };
    let Some(span) = spanned.iter().map(across).reduce(|all, one| all.union(one)) else {
        if items.is_empty() {
            let message = "a group needs the holes it spans";
            reader.wrong("missing", place, message, "add `holes: [P1, P2]`");
        }
        return;
    };
    let tallest = spanned.iter().map(|hole| hole.keep_out().0 / 2.0).fold(0.0, f64::max);
    // Room for a name of level 2 between the holes and the bracket, whose title is of level 3.
    let names_and_title = panel.level_cap_mm(2) + panel.level_cap_mm(3) / 2.0;
    let usual = tallest + 2.0 * panel.gap_mm + names_and_title;
    let away = reader.length(&keys.from_middle, Least::Nought).unwrap_or(usual);
    let reach = reader.length(&keys.reach, Least::Any).unwrap_or(USUAL_REACH_MM);
    let below = reader.choice(&keys.side, &[("above", false), ("below", true)]).unwrap_or(false);
    let y = if below { span.y1 + away } else { span.y0 - away };
    let ends = rounded(USUAL_ENDS * panel.cap_mm, DECIMALS);
    let bracket = Span {
        length_mm: rounded((span.width() + 2.0 * reach).max(0.01), DECIMALS),
        ends_mm: if below { -ends } else { ends },
        width_mm: reader.length(&keys.width, Least::Something).unwrap_or(USUAL_WIDTH_MM),
        paint: reader.paint_or_black(&keys.paint),
    };
    let at = Point::new(span.center().x, y);
    let label = title_label(group, place);
    let Some((label, place)) = whole(&label, panel, styles, reader) else { return };
    for one in repeated(&label, place, &Role::Decal, reader) {
        let level_cap_mm = level_cap_mm(&one.keys, panel, reader);
        let stands = Some(Stands { panel: panel.index, at, side: Side::Centre, hole: None });
        let span = Some(bracket.clone());
        all.push(WantedLabel { role: Role::Legend { stands, level_cap_mm, span }, ..one });
    }
}

/// The label that a bracket's title is, set like the group's style.
fn title_label(group: &Tree, place: Place) -> Rc<Tree> {
    let get = |key: &str| group.get(key).cloned();
    let words = get("title")
        .map(|title| Tree::map([("text", Some(title)), ("paint", get("paint"))], place));
    let level = get("level").unwrap_or_else(|| Tree::text(USUAL_GROUP_LEVEL, place));
    Tree::map([("text", words), ("style", get("style")), ("level", Some(level))], place)
}
