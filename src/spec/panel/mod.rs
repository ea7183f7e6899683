//! Panels: their holes gathered, and each legend made a label that knows where it stands.
//!
//! The same legends serve both ways of printing: for an overlay they become parts of the panel's own
//! label, as pieces they stay labels.

mod drawing;
mod drill_table;
mod holes;
mod legends;
mod plate;

pub use plate::{Deliver, Hole, HoleMark, Origin, Panel, Side, Stands};

use super::element::legend::Legend;
use super::element::{Element, Part};
use super::job::{Role, WantedLabel, repeated};
use super::label::{Label, LabelKeys, LabelKind, codes};
use super::reader::{Least, Reader};
use super::styles::Styles;
use crate::finding::{Finding, Place, quoted};
use crate::yaml::{AsTree, Placed, Scalar, Tree, keys, read};
use drawing::DrawingKeys;
use holes::{FittingKeys, HoleKeys, LostHoles};
use kurbo::Size;
use legends::GroupingKeys;
pub(super) use legends::Span;
use std::collections::BTreeMap;
use std::rc::Rc;

/// From a knob, nut or bezel to its legend when not said, mm (common practice, no source).
const USUAL_GAP_MM: f64 = 2.0;

/// Cap height of level 1 when not said, mm: that of the bundled style for legends.
const USUAL_CAP_MM: f64 = 2.5;

/// Each level of legends is larger than the one under it by this (common practice, no source).
const LEVEL: f64 = 1.25;

keys! {
    /// The holes of a panel and the legends at them.
    pub(super) struct PanelKeys {
        /// `top-left`, `bottom-left` or `middle`: where places on the panel are counted from.
        origin: Option<Scalar>,
        /// `mm` or `in`: unit of plain numbers in the drill table and of a drawing that does not say.
        unit: Option<Scalar>,
        /// The holes one by one.
        holes: Vec<Placed<HoleKeys>>,
        /// A drill table beside the job: columns x, y, diameter, name, kind; also nut, knob, clear, keep_clear.
        drill_table: Option<Scalar>,
        /// A DXF or SVG drawing beside the job whose circles are holes.
        drawing: Option<DrawingKeys>,
        /// Kinds of parts by name: what hole they need and what they cover.
        fittings: BTreeMap<String, FittingKeys>,
        /// `cut`, `centre` or `none`: how holes show on an overlay.
        mark: Option<Scalar>,
        /// `overlay` for one decal, `pieces` for a small decal for each legend.
        deliver: Option<Scalar>,
        /// Between a legend and the knob, nut or hole it stands at.
        gap: Option<Scalar>,
        /// Cap height of level 1; each level above is a quarter larger.
        cap_height: Option<Scalar>,
        /// What is written on it: labels with `hole` and `side`, or `at`.
        #[allow(dead_code, reason = "laid over their styles as trees")]
        legends: AsTree<Vec<LabelKeys>>,
        /// Brackets over several holes, with a title.
        #[allow(dead_code, reason = "their titles are laid over styles as trees")]
        groups: AsTree<Vec<GroupingKeys>>,
    }
}

/// A panel before its label is read: what its legends need of it.
pub(super) struct PanelContext {
    keys: PanelKeys,
    /// The panel's own label, for what its legends take from it.
    label: Rc<Tree>,
    /// Which panel it is: its legends say so.
    index: usize,
    size: Size,
    origin: Origin,
    holes: Vec<Hole>,
    lost: LostHoles,
    place: Place,
    /// From a knob, nut or hole to its legend, mm.
    gap_mm: f64,
    /// Cap height of level 1, mm.
    cap_mm: f64,
}

impl PanelContext {
    /// The panel that a label is; `None`, and reported, when it has no size.
    fn read(
        label: &Rc<Tree>,
        place: Place,
        index: usize,
        reader: &mut Reader,
    ) -> Option<PanelContext> {
        let keys: PanelKeys = read(label.get("panel")?)?;
        let own = LabelKeys::of(label)?;
        if own.size.is_none() {
            let help = "add `size: [200 mm, 120 mm]` to the label, beside `panel:`";
            reader.wrong("missing", place, "a panel needs the size of its plate", help);
        }
        let origin = reader.word(&keys.origin).unwrap_or(Origin::TopLeft);
        let size = reader.size(&own.size)?;
        let (holes, lost) = holes::holes(&keys, origin, size, place, reader);
        let gap_mm = reader.length(&keys.gap, Least::Nought).unwrap_or(USUAL_GAP_MM);
        let cap_mm = reader.length(&keys.cap_height, Least::Something).unwrap_or(USUAL_CAP_MM);
        let label = Rc::clone(label);
        Some(PanelContext { keys, label, index, size, origin, holes, lost, place, gap_mm, cap_mm })
    }

    /// Cap height of a level, mm.
    fn level_cap_mm(&self, level: u32) -> f64 {
        (1..level).fold(self.cap_mm, |cap, _| cap * LEVEL)
    }

    fn hole(&self, name: &str) -> Option<&Hole> {
        self.holes.iter().find(|hole| hole.name == name)
    }

    /// The panel, under the name of its label.
    pub(super) fn panel(self, name: String, label: &LabelKeys, reader: &mut Reader) -> Panel {
        Panel {
            name,
            size: self.size,
            corner_mm: reader.length(&label.corner, Least::Nought).unwrap_or(0.0),
            on: label.on.as_ref().map(|on| on.trimmed().to_owned()),
            holes: self.holes,
            mark: reader.word(&self.keys.mark).unwrap_or(HoleMark::Cut),
            deliver: reader.word(&self.keys.deliver).unwrap_or(Deliver::Overlay),
            origin: self.origin,
            allow: codes(&label.allow),
            place: self.place,
        }
    }
}

/// Adds a panel's label and its legends to what is wanted.
pub(super) fn wanted(
    label: &Rc<Tree>,
    place: Place,
    styles: &Styles,
    panels: &mut Vec<PanelContext>,
    all: &mut Vec<WantedLabel>,
    reader: &mut Reader,
) {
    if label.get("rows").or(label.get("series")).is_some() {
        let message = "a panel is made once; `rows` and `series` do not go with it";
        let help = "give them to its legends, or write a panel for each";
        reader.wrong("bad-panel", place, message, help);
    }
    let label = label.only(|key| key != "rows" && key != "series");
    one_hand(&label, reader);
    let Some(context) = PanelContext::read(&label, place, panels.len(), reader) else { return };
    // The panel's own label comes first, so that its legends can name it.
    all.extend(repeated(&label, place, &Role::Panel(context.index), reader));
    let panel = label.get("panel");
    let list = |key: &str| panel.and_then(|panel| panel.get(key)).map(|list| list.items().to_vec());
    for legend in list("legends").unwrap_or_default() {
        legends::add(&legend, &context, styles, all, reader);
    }
    for group in list("groups").unwrap_or_default() {
        legends::add_group(&group, &context, styles, all, reader);
    }
    panels.push(context);
}

/// Reports a handed pair on a panel: its holes are where they are, for one hand only.
fn one_hand(label: &Tree, reader: &mut Reader) {
    if let Some(handed) = label.scalar("handed").filter(|handed| handed.trimmed() == "pair") {
        let message = "a panel has one hand: its holes would not move over with a pair";
        let help = "write the other hand as a panel of its own, with its own holes";
        reader.wrong("bad-panel", handed.place, message, help);
    }
}

/// Reports keys that only a panel's legend can have, on a label that is none.
pub(super) fn only_on_panels(label: &Tree, reader: &mut Reader) {
    for key in ["hole", "at", "side", "gap", "from_middle", "level"] {
        let Some(place) = label.get(key).and_then(|value| value.first_place()) else { continue };
        let message = format!("{} is for the legends of a panel", quoted(key));
        let help = "list this label under `panel: {legends: …}`, or take the key out";
        reader.wrong("not-on-a-panel", place, message, help);
    }
}

/// Decides which labels are printed: on an overlay the legends become its parts, as pieces the panel's own
/// label falls away.
pub(super) fn delivered(labels: Vec<Label>, panels: &[Panel], reader: &mut Reader) -> Vec<Label> {
    let way = |panel: usize| panels.get(panel).map(|panel| panel.deliver);
    let mut kept: Vec<Label> = Vec::with_capacity(labels.len());
    for label in labels {
        if let Some(panel) = label.overlay_of()
            && way(panel) == Some(Deliver::Pieces)
        {
            if let Some(part) = label.parts.first() {
                let message = "the panel's own text, box and parts are printed only on an overlay";
                let help = "write them under `legends:` with `at`, or `deliver: overlay`";
                let finding = Finding::note("not-printed", message).at(part.place).help(help);
                reader.context.findings.push(finding.label(&label.name));
            }
            continue;
        }
        let LabelKind::Legend(stands) = &label.kind else {
            kept.push(label);
            continue;
        };
        if way(stands.panel) == Some(Deliver::Pieces) {
            kept.push(label);
            continue;
        }
        let overlay = kept.iter_mut().rev().find(|one| one.overlay_of() == Some(stands.panel));
        let Some(overlay) = overlay else { continue };
        overlay.allow.extend(label.allow);
        let at = stands.at.to_vec2();
        let legend = Legend { side: stands.side, size: label.size, parts: label.parts };
        overlay.parts.push(Part::new(Element::Legend(legend), label.place).at(at, 0.0));
    }
    kept
}
