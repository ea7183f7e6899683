//! Panels: their holes gathered, and each legend made a label that knows where it stands.
//!
//! The same legends serve both ways of printing: for an overlay they become parts of the panel's own
//! label, as pieces they stay labels.

mod bracket;
mod drawing;
mod drill_table;
mod holes;
mod legends;
#[cfg(test)]
mod tests;

use holes::Lost;

pub(super) use bracket::part as bracket;

use super::reader::{Least, Reader, quoted};
use super::{Wanted, repeated};
use crate::finding::{Finding, Place};
use crate::spec::draft::LabelDraft;
use crate::spec::panel::{Deliver, HoleMark, Origin, Panel};
use crate::spec::panel_draft::PanelDraft;
use crate::spec::{Element, Label, Legend, Part};
use std::collections::BTreeMap;

/// From a knob, nut or bezel to its legend when not said, mm (common practice, no source).
const USUAL_GAP_MM: f64 = 2.0;

/// Cap height of level 1 when not said, mm: that of the bundled style for legends.
const USUAL_CAP_MM: f64 = 2.5;

/// Adds a panel's label and its legends to what is wanted.
pub(super) fn wanted(
    mut draft: LabelDraft,
    styles: &BTreeMap<String, LabelDraft>,
    place: Place,
    all: &mut Vec<Wanted>,
    reader: &mut Reader<'_, '_>,
) {
    let Some(mut said) = draft.panel.take() else { return };
    for repeats in [draft.rows.take().is_some(), draft.series.take().is_some()] {
        if repeats {
            let message = "a panel is made once; `rows` and `series` do not go with it".to_owned();
            let help = "give them to its legends, or write a panel for each";
            reader.wrong("bad-panel", place, message, help);
        }
    }
    one_hand(&draft, reader);
    let (legends, groups) = (std::mem::take(&mut said.legends), std::mem::take(&mut said.groups));
    let Some((panel, lost)) = panel(&draft, &said, place, reader) else { return };
    let at = legends::Board {
        gap_mm: reader.length(said.gap.as_ref(), Least::Nought).unwrap_or(USUAL_GAP_MM),
        cap_mm: reader.length(said.cap_height.as_ref(), Least::Something).unwrap_or(USUAL_CAP_MM),
        panel: &panel,
        lost: &lost,
        label: &draft,
        index: all.len(),
        styles,
    };
    let mut with_it = Vec::new();
    for legend in legends {
        legends::add(legend, &at, &mut with_it, reader);
    }
    for group in groups {
        legends::add_group(&group, &at, &mut with_it, reader);
    }
    // The panel's own label comes first, so that its legends can name it.
    repeated(draft, place, all, reader);
    if let Some(own) = all.last_mut() {
        own.panel = Some(panel);
    }
    all.extend(with_it);
}

/// Tells of a handed pair on a panel: its holes are where they are, for one hand only.
fn one_hand(draft: &LabelDraft, reader: &mut Reader<'_, '_>) {
    let Some(handed) = draft.handed.as_ref().filter(|handed| handed.text.trim() == "pair") else {
        return;
    };
    let message = "a panel has one hand: its holes would not move over with a pair".to_owned();
    let help = "write the other hand as a panel of its own, with its own holes";
    reader.wrong("bad-panel", handed.place, message, help);
}

fn panel(
    label: &LabelDraft,
    draft: &PanelDraft,
    place: Place,
    reader: &mut Reader<'_, '_>,
) -> Option<(Panel, Lost)> {
    if label.size.is_none() {
        let message = "a panel needs the size of its plate".to_owned();
        let help = "add `size: [200 mm, 120 mm]` to the label, beside `panel:`";
        reader.wrong("missing", place, message, help);
    }
    let origins = [
        ("top-left", Origin::TopLeft),
        ("bottom-left", Origin::BottomLeft),
        ("middle", Origin::Middle),
    ];
    let origin = reader.choice(draft.origin.as_ref(), &origins).unwrap_or(Origin::TopLeft);
    let marks = [("cut", HoleMark::Cut), ("centre", HoleMark::Centre), ("none", HoleMark::Nothing)];
    let mark = reader.choice(draft.mark.as_ref(), &marks).unwrap_or(HoleMark::Cut);
    let ways = [("overlay", Deliver::Overlay), ("pieces", Deliver::Pieces)];
    let deliver = reader.choice(draft.deliver.as_ref(), &ways).unwrap_or(Deliver::Overlay);
    let size = reader.size(label.size.as_ref())?;
    let corner_mm = reader.length(label.corner.as_ref(), Least::Nought).unwrap_or(0.0);
    let (holes, lost) = holes::holes(draft, (origin, size), place, reader);
    let on = label.on.as_ref().map(|on| on.text.trim().to_owned());
    // Its name and what it allows are its label's, which is read later.
    let (name, allow) = (String::new(), Vec::new());
    Some((Panel { name, size, corner_mm, on, holes, mark, deliver, origin, allow, place }, lost))
}

/// Tells of keys that only a panel's legend can have, on a label that is none.
pub(super) fn only_on_panels(draft: &LabelDraft, reader: &mut Reader<'_, '_>) {
    let first = |many: &Option<crate::spec::typed::Many>| {
        many.as_ref().and_then(|many| many.items.first()).map(|item| item.place)
    };
    let one = |typed: &Option<crate::spec::typed::Typed>| typed.as_ref().map(|typed| typed.place);
    let keys = [
        ("hole", first(&draft.hole)),
        ("at", first(&draft.at)),
        ("side", one(&draft.side)),
        ("gap", one(&draft.gap)),
        ("from_middle", one(&draft.from_middle)),
        ("level", one(&draft.level)),
    ];
    for (key, place) in keys {
        let Some(place) = place else { continue };
        let message = format!("{} is for the legends of a panel", quoted(key));
        let help = "list this label under `panel: {legends: …}`, or take the key out";
        reader.wrong("not-on-a-panel", place, message, help);
    }
}

/// Settles which labels are printed: on an overlay the legends become its parts, as pieces the panel's own
/// label falls away.
pub(super) fn delivered(
    labels: Vec<Label>,
    panels: &[Panel],
    reader: &mut Reader<'_, '_>,
) -> Vec<Label> {
    let way = |panel: usize| panels.get(panel).map(|panel| panel.deliver);
    let mut kept: Vec<Label> = Vec::with_capacity(labels.len());
    for label in labels {
        if let Some(panel) = label.overlay_of
            && way(panel) == Some(Deliver::Pieces)
        {
            if let Some(part) = label.parts.first() {
                let message = "the panel's own text, box and parts are printed only on an overlay";
                let help = "write them under `legends:` with `at`, or `deliver: overlay`";
                let finding = Finding::note("not-printed", message).at(part.place).help(help);
                reader.desk.findings.push(finding.label(&label.name));
            }
            continue;
        }
        let Some(stands) = &label.stands else {
            kept.push(label);
            continue;
        };
        if way(stands.panel) == Some(Deliver::Pieces) {
            kept.push(label);
            continue;
        }
        let overlay = kept.iter_mut().rev().find(|one| one.overlay_of == Some(stands.panel));
        let Some(overlay) = overlay else { continue };
        overlay.allow.extend(label.allow);
        overlay.parts.push(Part {
            at: stands.at.to_vec2(),
            turned: 0.0,
            place: label.place,
            element: Element::Legend(Legend {
                side: stands.side,
                size: label.size,
                parts: label.parts,
            }),
        });
    }
    kept
}
