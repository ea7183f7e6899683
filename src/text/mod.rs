//! Words as outlines: shaped, overlaps removed, measured, centred by their capitals.

use crate::{finding::Findings, font::Faces, shape::Outline, spec};
use kurbo::Rect;

/// One line of set text.
#[derive(Clone, Debug, PartialEq)]
pub struct SetLine {
    /// The words as they read.
    pub text: String,
    /// From base line to cap height, over the advance width.
    pub area: Rect,
}

/// Set text. The origin is its alignment point: left edge, middle or right edge of the lines across, and
/// down the middle between the first line's cap height and the last line's base line.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Block {
    /// All letters, overlaps removed.
    pub outline: Outline,
    /// The lines, top to bottom.
    pub lines: Vec<SetLine>,
    /// Height of a flat capital, mm.
    pub cap_height_mm: f64,
}

impl Block {
    /// From the first line's cap height to the last line's base line, over the widest line: the box that
    /// padding and centring go by. Accents and descenders reach out of it.
    #[must_use]
    pub fn area(&self) -> Rect {
        let mut areas = self.lines.iter().map(|line| line.area);
        let first = areas.next().unwrap_or_default();
        areas.fold(first, |all, area| all.union(area))
    }
}

/// Sets text; what is wrong with it (no such glyph, too wide) goes into `findings`.
#[must_use]
pub fn set(_faces: &Faces, _text: &spec::Text, _findings: &mut Findings) -> Block {
    Block::default()
}
