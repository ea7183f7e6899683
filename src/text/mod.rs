//! Words as outlines: shaped, overlaps removed, measured, centred by their capitals.
//!
//! A line is as wide as its letters' advances: outer spaces and the tracking after the last letter do not
//! count, so they never push a line off its centre.

mod arc;
mod coverage;
mod line;
mod remarks;
#[cfg(test)]
mod tests;
mod width;

use crate::{
    finding::{Finding, Findings},
    font::{Face, Faces, Glyph},
    shape::Outline,
    spec::{Align, Text, TextSize},
};
use kurbo::{Affine, Rect, Vec2};
use line::PlacedLine;

/// One line of set text.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SetLine {
    /// The words as they read, exactly as they were typed.
    pub text: String,
    /// From base line to cap height, over the advance width, before turning.
    pub area: Rect,
    /// Degrees clockwise about the middle of `area`: not 0 on an arc only.
    pub turned_deg: f64,
}

/// Set text. The origin is its alignment point: left edge, middle or right edge of the lines across, and
/// down the middle between the first line's cap height and the last line's base line.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Block {
    /// All letters, overlaps removed.
    pub outline: Outline,
    /// The lines, top to bottom.
    pub lines: Vec<SetLine>,
    /// Height of a flat capital, mm.
    pub cap_height_mm: f64,
    /// The thinnest straight stroke among the letters of its face, mm.
    pub thinnest_stem_mm: f64,
    /// Whether it stands on an arc; the origin is then the arc's centre.
    pub on_arc: bool,
}

impl Block {
    /// From the first line's cap height to the last line's base line, over the widest line: the box that
    /// padding and centring go by. Accents and descenders reach out of it.
    #[must_use]
    pub(crate) fn area(&self) -> Rect {
        let mut areas = self.lines.iter().map(|line| line.area);
        let first = areas.next().unwrap_or_default();
        areas.fold(first, |all, area| all.union(area))
    }
}

/// Sets text; what is wrong with it (no such glyph, too wide) goes into `findings`.
#[must_use]
pub(crate) fn set(faces: &Faces, text: &Text, findings: &mut Findings) -> Block {
    let Some(face) = faces.find(&text.font).and_then(|id| faces.face(id)) else {
        findings.push(
            Finding::error("unknown-font", format!("there is no font {}", text.font))
                .at(text.place)
                .help("name a role such as label or wire, a family, or a font file of the job"),
        );
        return Block::default();
    };
    let lines = place_lines(faces, face, text, findings);
    let ink = ink(&lines, text);
    let cap = cap_height(face, text, ink);
    let spread = text
        .spread
        .and_then(|width| width::tracking_to_spread(faces, face, text, width, cap, findings));
    if let Some(tracking) = spread {
        let spaced = Text { tracking, ..text.clone() };
        // What is wrong with the letters is reported already.
        let lines = place_lines(faces, face, &spaced, &mut Findings::default());
        return build(face, &spaced, &lines, cap, findings);
    }
    width::check(faces, text, ink.width(), cap, findings);
    build(face, text, &lines, cap, findings)
}

/// How wide the widest line is, in cap heights, without drawing it; 0 for an unknown font.
///
/// What is wrong with the words is reported when they are set.
#[must_use]
pub(crate) fn width_in_caps(faces: &Faces, text: &Text) -> f64 {
    let Some(face) = faces.find(&text.font).and_then(|id| faces.face(id)) else { return 0.0 };
    let lines = place_lines(faces, face, text, &mut Findings::default());
    lines.iter().map(|line| line.width).fold(0.0, f64::max)
}

/// The lines' letters in their places; what is wrong with them goes into `findings`.
fn place_lines<'f>(
    faces: &'f Faces,
    face: &'f Face,
    text: &Text,
    findings: &mut Findings,
) -> Vec<PlacedLine<'f>> {
    let mut remarks = remarks::Remarks::new(faces, face, text);
    let mut lines = Vec::with_capacity(text.lines.len());
    for typed in &text.lines {
        let coverage = coverage::cover(faces, face, typed);
        let line = if line::is_mixed(typed) && coverage.missing.is_empty() {
            remarks.mixed(typed);
            PlacedLine::default()
        } else {
            line::place(&coverage, line::shaping_options(text), text.tracking)
        };
        remarks.line(&coverage, &line);
        lines.push(line);
    }
    remarks.report(findings);
    lines
}

/// Where a line's base line begins, in cap heights from the block's origin.
fn origin(lines: &[PlacedLine<'_>], at: usize, text: &Text) -> Vec2 {
    let width = lines.get(at).map_or(0.0, |line| line.width);
    let x = match text.align {
        Align::Left => 0.0,
        Align::Centre => -width / 2.0,
        Align::Right => -width,
    };
    let height = 1.0 + below(lines.len().saturating_sub(1), text);
    Vec2::new(x, 1.0 + below(at, text) - height / 2.0)
}

/// How far a line lies below the first, in cap heights.
fn below(line: usize, text: &Text) -> f64 {
    f64::from(u32::try_from(line).unwrap_or(u32::MAX)) * text.line_pitch
}

/// Bounds of all ink, in cap heights from the block's origin.
fn ink(lines: &[PlacedLine<'_>], text: &Text) -> Rect {
    let bounds = lines.iter().enumerate();
    let bounds = bounds.filter_map(|(at, line)| line::ink(line, origin(lines, at, text)));
    bounds.reduce(|all, one| all.union(one)).unwrap_or_default()
}

/// The cap height in mm that the spec's size comes to; outlines scale, so a fit is exact.
fn cap_height(face: &Face, text: &Text, ink: Rect) -> f64 {
    match text.size {
        TextSize::CapHeight(mm) => mm,
        TextSize::Em(mm) => mm * face.measures().cap_height,
        TextSize::FillBox(room) if ink.width() > 0.0 && ink.height() > 0.0 => {
            (room.width / ink.width()).min(room.height / ink.height())
        }
        TextSize::FillBox(room) => room.height,
    }
}

fn build(
    face: &Face,
    text: &Text,
    placed: &[PlacedLine<'_>],
    cap: f64,
    findings: &mut Findings,
) -> Block {
    let (mut letters, mut straight) = (MergedLetters::default(), MergedLetters::default());
    let mut lines = Vec::with_capacity(placed.len());
    for (at, (line, typed)) in placed.iter().zip(&text.lines).enumerate() {
        let start = origin(placed, at, text) * cap;
        let ends = (start.x, start.x + line.width * cap);
        let curve = text.arc.map(|arc| arc::Curve::of(arc, below(at, text) * cap));
        for letter in &line.letters {
            let level = letter.place(cap, start);
            let mut place = level;
            if let Some(curve) = curve {
                straight.add_at(letter.glyph(), level);
                place = curve.bend(start + Vec2::new(letter.middle() * cap, 0.0)) * level;
            }
            letters.add_at(letter.glyph(), place);
        }
        if let Some(curve) = curve {
            curve.check(text, ends.1 - ends.0, cap, findings);
            lines.push(curve.line(typed, ends, cap));
        } else {
            let area = Rect::new(ends.0, start.y - cap, ends.1, start.y);
            lines.push(SetLine { text: typed.clone(), area, turned_deg: 0.0 });
        }
    }
    if text.arc.is_some() {
        arc::check_crowding(text, straight.apart.len(), letters.apart.len(), findings);
    }
    let small = text.lines.iter().flat_map(|line| line.chars()).any(char::is_lowercase);
    let measures = face.measures();
    let stem = if small { measures.stem_all } else { measures.stem_capitals };
    let outline = letters.together();
    let on_arc = text.arc.is_some();
    Block { outline, lines, cap_height_mm: cap, thinnest_stem_mm: stem * cap, on_arc }
}

/// Letters with their bounds, those that touch merged into one.
#[derive(Default)]
struct MergedLetters {
    apart: Vec<(Rect, Outline)>,
}

impl MergedLetters {
    /// Adds a letter in its place.
    fn add_at(&mut self, glyph: &Glyph, place: Affine) {
        self.add(place.transform_rect_bbox(glyph.bounds), glyph.outline.placed(place));
    }

    /// Adds a letter, merged with those it touches.
    fn add(&mut self, mut bounds: Rect, mut outline: Outline) {
        while let Some(at) = self
            .apart
            .iter()
            .position(|(other, piece)| other.overlaps(bounds) && piece.touches(&outline))
        {
            let (other, piece) = self.apart.remove(at);
            outline = piece.union(&outline);
            bounds = bounds.union(other);
        }
        self.apart.push((bounds, outline));
    }

    fn together(&self) -> Outline {
        self.apart.iter().fold(Outline::default(), |all, (_, piece)| all.beside(piece))
    }
}
