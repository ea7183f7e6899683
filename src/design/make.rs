//! From the labels of a spec to their designs.

use super::drawing::PartDrawing;
use super::element::{DrawContext, arrange};
use super::{Design, OnPanel, backing, edge, handed_pair, hidden_words};
use super::{holes, inside, paint, split, white};
use crate::finding::{Finding, Findings};
use crate::font::Faces;
use crate::parallel::in_order;
use crate::spec::{Label, Spec};
use kurbo::Vec2;

/// Draws every label of a spec, in its order: one design each, more for handed pairs and split labels.
///
/// What is wrong goes into `findings`; a label that draws nothing is reported and left out.
#[must_use]
pub(crate) fn make(spec: &Spec, faces: &Faces, findings: &mut Findings) -> Vec<Design> {
    let numbered: Vec<(usize, &Label)> = spec.labels.iter().enumerate().collect();
    let drawn = in_order(&numbered, |(index, label)| of_label(spec, *index, label, faces));
    let mut designs = Vec::with_capacity(spec.labels.len());
    for ((of_label, mut found), label) in drawn.into_iter().zip(&spec.labels) {
        designs.extend(of_label);
        found.label(&label.name);
        findings.extend(found);
    }
    designs
}

/// The designs of one label and what is wrong with them.
fn of_label(spec: &Spec, index: usize, label: &Label, faces: &Faces) -> (Vec<Design>, Findings) {
    let mut findings = Findings::default();
    let (box_size, printer) = (edge::box_size(label), &spec.printer);
    let mut context =
        DrawContext { faces, findings: &mut findings, label: &label.name, box_size, printer };
    let mut drawn = arrange(&label.parts, None, &mut context);
    if let Some(marker) = label.marker_of() {
        drawn = drawn.stretched(marker.stretch);
    }
    if drawn.draws_nothing() && label.overlay_of().is_none() {
        // Missing letters are reported already.
        if !findings.any_error() {
            findings.push(
                Finding::error("empty-label", format!("label {} draws nothing", label.name))
                    .at(label.place)
                    .label(&label.name)
                    .help("give it a text, a box with a fill or line, or parts"),
            );
        }
        return (Vec::new(), findings);
    }
    inside::check(label, &drawn, &mut findings);
    let hands = if label.handed_pair {
        let left = handed_pair::mirrored(&drawn);
        vec![("-right", drawn), (LEFT, left)]
    } else {
        vec![("", drawn)]
    };
    let finish = |(hand, drawn)| finished(spec, index, label, hand, drawn, &mut findings);
    (hands.into_iter().flat_map(finish).collect(), findings)
}

/// Where on a panel a label goes: an overlay's middle is the panel's, a legend stands by what it takes up.
fn on_panel(label: &Label, drawn: &PartDrawing) -> Option<OnPanel> {
    let Some(stands) = label.stands() else {
        return label.overlay_of().map(|panel| OnPanel { panel, at: Vec2::ZERO });
    };
    let at = stands.at.to_vec2() + stands.side.shift(drawn.area);
    Some(OnPanel { panel: stands.panel, at })
}

/// What the second hand of a pair is called after its label.
const LEFT: &str = "-left";

/// The designs of one hand of a label: edges worked out, clear areas taken out, cut at its joints.
fn finished(
    spec: &Spec,
    index: usize,
    label: &Label,
    hand: &str,
    mut drawn: PartDrawing,
    findings: &mut Findings,
) -> Vec<Design> {
    let mut edges = edge::finish(label, &mut drawn);
    // Of a pair, what is wrong with one hand is wrong with both.
    if hand != LEFT {
        hidden_words::report(label, &drawn.shapes, edges.trim.bounds().origin(), findings);
    }
    let on_panel = on_panel(label, &drawn);
    if let Some(on) = on_panel
        && let Some(panel) = spec.panels.get(on.panel)
    {
        edges.trim = holes::apply(panel, on.at, &edges.trim, &mut drawn);
    }
    let joints = split::joints(spec, label, &drawn, &edges, findings);
    let words = drawn.shapes.iter().flat_map(|shape| shape.words.iter().cloned()).collect();
    let codes = drawn.shapes.iter().filter_map(|shape| shape.code.clone()).collect();
    let painted = white::painted(label, &drawn.shapes);
    let marks = paint::paint(drawn.shapes);
    let design = Design {
        name: format!("{}{hand}", label.name),
        label: index,
        white: white::plate(label, &painted, &marks, &edges.trim),
        backing: backing::covered_area(label, &painted, &marks),
        trim: edges.trim,
        bleed_mm: edges.bleed_mm,
        marks,
        words,
        codes,
        on_panel,
        from: label.place,
    };
    split::cut(design, joints)
}
