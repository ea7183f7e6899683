//! Legends covered by what their own label paints after them.

use super::Role;
use super::piece::Piece;
use crate::finding::{Finding, Findings, Severity};
use crate::shape::Outline;
use crate::spec::{Label, Paint, White};
use crate::units::fixed;
use kurbo::{BezPath, Point};

/// Less of a legend than this under something else is a touch, which is told as such (common practice, no
/// source).
pub(crate) const TOUCHED: f64 = 0.02;

/// With so much of it gone, nobody can have meant it (common practice, no source).
const LOST: f64 = 0.9;

/// Tells of the legends of a label that later pieces cover, fill up or take away.
///
/// `corner` is the label's top left corner, in the frame of its pieces.
pub(super) fn tell(label: &Label, pieces: &[Piece], corner: Point, findings: &mut Findings) {
    let has_white = label.white != White::None;
    for (at, legend) in pieces.iter().enumerate().filter(|(_, piece)| piece.role == Role::Text) {
        let Some(words) = legend.words.first() else { continue };
        let after = pieces.iter().skip(at + 1).filter(|piece| hides(piece, legend, has_white));
        let share = hidden(&legend.outline, after.map(|piece| &piece.outline));
        if share < TOUCHED {
            continue;
        }
        let share_text = fixed(share * 100.0, 0);
        let message =
            format!("{share_text} % of `{}` is lost to what is painted after it", words.text);
        let mut finding = Finding::warning("covered-words", message).at(legend.place);
        if share >= LOST {
            finding.severity = Severity::Error;
        }
        let spot = legend.outline.bounds().center() - corner;
        let help =
            "parts are painted in their order: write it after what covers it, or move one of them";
        findings.push(finding.label(&label.name).spot(spot.x, spot.y).help(help));
    }
}

/// Whether a piece that is painted after a legend takes some of it where they meet.
fn hides(piece: &Piece, legend: &Piece, has_white: bool) -> bool {
    let same_ink = piece.paint == legend.paint && piece.role != Role::Fill;
    // Once more the same words: a shadow, or an outline.
    let said =
        |piece: &Piece| piece.words.iter().map(|words| words.text.clone()).collect::<Vec<_>>();
    let same_words = piece.role == Role::Text && said(piece) == said(legend);
    // What is clear is cut out of ink, and adds to what is clear already.
    let inks = |piece: &Piece| piece.inks() || has_white && piece.paint != Paint::Clear;
    let meets = inks(piece) || inks(legend);
    piece.part != legend.part && meets && !same_ink && !same_words
}

/// Share of an outline that lies under others.
pub(crate) fn hidden<'o>(outline: &Outline, over: impl Iterator<Item = &'o Outline>) -> f64 {
    let bounds = outline.bounds();
    let mut near = BezPath::new();
    over.filter(|over| over.bounds().overlaps(bounds))
        .for_each(|over| near.extend(over.elements()));
    if near.elements().is_empty() {
        return 0.0;
    }
    // All in one sweep: one after the other, hundreds of them would take minutes.
    outline.common(&Outline::of(&near)).area() / outline.area().max(f64::MIN_POSITIVE)
}
