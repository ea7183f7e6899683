//! From the labels of a spec to their designs.

use super::element::{Bench, arrange};
use super::piece::Drawn;
use super::{Design, OnPanel, backing, covered, edge, hand, holes, inside, paint, split, white};
use crate::finding::{Finding, Findings};
use crate::font::Faces;
use crate::parallel::in_order;
use crate::spec::{Label, Spec};
use kurbo::Vec2;

/// Draws every label of a spec, in its order: one design each, more for handed pairs and split labels.
///
/// What is wrong goes into `findings`; a label that draws nothing is told and left out.
#[must_use]
pub(crate) fn make(spec: &Spec, faces: &Faces, findings: &mut Findings) -> Vec<Design> {
    let numbered: Vec<(usize, &Label)> = spec.labels.iter().enumerate().collect();
    let drawn = in_order(&numbered, |(index, label)| of_label(spec, (*index, label), faces));
    let mut designs = Vec::with_capacity(spec.labels.len());
    for (of_label, found) in drawn {
        designs.extend(of_label);
        findings.extend(found);
    }
    designs
}

/// The designs of one label and what is wrong with them.
fn of_label(
    spec: &Spec,
    (index, label): (usize, &Label),
    faces: &Faces,
) -> (Vec<Design>, Findings) {
    let mut findings = Findings::default();
    let room = edge::room(label);
    let printer = &spec.printer;
    let mut bench = Bench { faces, findings: &mut findings, label: &label.name, room, printer };
    let mut drawn = arrange(&label.parts, None, &mut bench);
    if let Some(marker) = label.marker_of() {
        drawn = drawn.stretched(marker.stretch);
    }
    if split::draws_nothing(&drawn) && label.overlay_of().is_none() {
        // When letters are missing, that has been said already.
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
    let mut designs = Vec::new();
    if label.handed_pair {
        let left = hand::mirrored(&drawn);
        designs.extend(finished(spec, (index, label), "-right", drawn, &mut findings));
        designs.extend(finished(spec, (index, label), LEFT, left, &mut findings));
    } else {
        designs.extend(finished(spec, (index, label), "", drawn, &mut findings));
    }
    (designs, findings)
}

/// Where on a panel a label goes: an overlay's middle is the panel's, a legend stands by what it takes up.
fn on_panel(label: &Label, drawn: &Drawn) -> Option<OnPanel> {
    let Some(stands) = label.stands() else {
        return label.overlay_of().map(|panel| OnPanel { panel, at: Vec2::ZERO });
    };
    let at = stands.at.to_vec2() + stands.side.shift(drawn.area);
    Some(OnPanel { panel: stands.panel, at })
}

/// What the second hand of a pair is called after its label.
const LEFT: &str = "-left";

/// Edges, clear areas and joints.
fn finished(
    spec: &Spec,
    (index, label): (usize, &Label),
    hand: &str,
    mut drawn: Drawn,
    findings: &mut Findings,
) -> Vec<Design> {
    let mut edges = edge::finish(label, &mut drawn);
    // Of a pair, what is wrong with one hand is wrong with both.
    if hand != LEFT {
        covered::tell(label, &drawn.pieces, edges.trim.bounds().origin(), findings);
    }
    let on_panel = on_panel(label, &drawn);
    if let Some(on) = on_panel
        && let Some(panel) = spec.panels.get(on.panel)
    {
        edges.trim = holes::apply(panel, on.at, &edges.trim, &mut drawn);
    }
    let joints = split::joints(spec, label, &drawn, &edges, findings);
    let words = drawn.pieces.iter().flat_map(|piece| piece.words.iter().cloned()).collect();
    let codes = drawn.pieces.iter().filter_map(|piece| piece.code.clone()).collect();
    let painted = white::painted(label, &drawn.pieces);
    let marks = paint::paint(drawn.pieces);
    let design = Design {
        name: format!("{}{hand}", label.name),
        label: index,
        white: white::plate(label, &painted, &marks, &edges.trim),
        backing: backing::whole(label, &painted, &marks),
        trim: edges.trim,
        bleed_mm: edges.bleed_mm,
        marks,
        words,
        codes,
        on_panel,
        from: label.place,
    };
    split::cut(design, &joints)
}
