//! One line: where its letters stand. All lengths in cap heights, from the line's own left edge.

use super::coverage::{Coverage, is_ignorable};
use crate::font::{Glyph, ShapingOptions};
use kurbo::{Affine, Rect, Vec2};

/// A letter in its place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Letter<'f> {
    glyph: &'f Glyph,
    /// Its origin.
    at: Vec2,
    /// Where the middle of its advance is; letters of one cluster share it.
    middle: f64,
    /// Cap heights to the em of its face: so the H of every face is of one height.
    scale: f64,
}

impl Letter<'_> {
    /// From the glyph's em to the label's mm; `origin` is the line's left end of the base line.
    pub(super) fn place(&self, cap_height_mm: f64, origin: Vec2) -> Affine {
        let at = origin + self.at * cap_height_mm;
        Affine::translate(at) * Affine::scale(self.scale * cap_height_mm)
    }

    /// Where the middle of its advance lies, from the line's left edge.
    pub(super) fn middle(&self) -> f64 {
        self.middle
    }

    pub(super) fn glyph(&self) -> &Glyph {
        self.glyph
    }
}

/// A line's letters in their places.
#[derive(Debug, Default)]
pub(super) struct PlacedLine<'f> {
    /// Left to right; without those that have no outline.
    pub(super) letters: Vec<Letter<'f>>,
    /// Advance width without the last letter's tracking.
    pub(super) width: f64,
    /// Characters that turned out to have no outline.
    pub(super) hollow: Vec<char>,
}

/// Places a line's letters one after the other.
pub(super) fn place<'f>(
    coverage: &Coverage<'f>,
    options: ShapingOptions,
    tracking: f64,
) -> PlacedLine<'f> {
    let mut line = PlacedLine::default();
    let mut pen = 0.0;
    let mut order: Vec<_> = coverage.runs.iter().collect();
    if order.iter().any(|run| run.text.chars().any(runs_right_to_left)) {
        order.reverse();
    }
    for run in order {
        let scale = 1.0 / run.face.measures().cap_height;
        let shaped = run.face.shape(&run.text, options);
        for cluster in shaped.chunk_by(|a, b| a.cluster == b.cluster) {
            let at = cluster.first().map_or(0, |glyph| glyph.cluster);
            let letter = run.text.get(at..).and_then(|rest| rest.chars().next()).unwrap_or(' ');
            let mut drawn = false;
            let advance: f64 = cluster.iter().map(|shaped| shaped.advance * scale).sum();
            let middle = pen + advance / 2.0;
            for shaped in cluster {
                let glyph = run.face.glyph(shaped.glyph);
                let at = Vec2::new(pen + shaped.right * scale, shaped.down * scale);
                pen += shaped.advance * scale;
                if shaped.glyph != 0 && !glyph.outline.is_empty() {
                    drawn = true;
                    line.letters.push(Letter { glyph, at, middle, scale });
                }
            }
            if is_ignorable(letter) {
                continue;
            }
            if !drawn && !letter.is_whitespace() && !line.hollow.contains(&letter) {
                line.hollow.push(letter);
            }
            line.width = pen;
            pen += tracking;
        }
    }
    line
}

/// Bounds of the ink; `None` when there is none.
pub(super) fn ink(line: &PlacedLine<'_>, origin: Vec2) -> Option<Rect> {
    let bounds =
        |letter: &Letter<'_>| letter.place(1.0, origin).transform_rect_bbox(letter.glyph.bounds);
    line.letters.iter().map(bounds).reduce(|all, one| all.union(one))
}

/// Whether a letter runs from right to left.
///
/// Blocks whose characters do so unless said otherwise: Unicode's DerivedBidiClass.txt, header.
pub(super) fn runs_right_to_left(letter: char) -> bool {
    matches!(letter,
        '\u{590}'..='\u{8FF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFE}'
        | '\u{10800}'..='\u{10FFF}' | '\u{1E800}'..='\u{1EFFF}')
}

/// Whether a line has letters of both directions, or figures among right-to-left letters.
pub(super) fn is_mixed(line: &str) -> bool {
    let letters = || line.chars().filter(|letter| letter.is_alphanumeric());
    letters().any(runs_right_to_left) && letters().any(|letter| !runs_right_to_left(letter))
}

/// How a face is asked to shape.
pub(super) fn shaping_options(text: &crate::spec::Text) -> ShapingOptions {
    ShapingOptions { apart: text.tracking.abs() > 0.0, tabular: text.tabular }
}
