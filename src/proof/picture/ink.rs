//! The strokes pictures are made of: words, labels as seen, numbered marks.

use super::{Job, Level, Shown, Typesetter, word};
use crate::card::typeset::SetLine;
use crate::design::{Design, Plate};
use crate::finding::Severity;
use crate::output::svg::path_data;
use crate::parallel::in_order;
use crate::proof::seen;
use crate::proof::shield::escaped;
use crate::units::fixed;
use kurbo::Point;
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// What writes: the faces, and how wide a picture is inside its margins, mm.
pub(super) struct Ink<'a> {
    pub(super) setter: Typesetter<'a>,
    pub(super) width: f64,
}

impl Ink<'_> {
    /// Words in lines no wider than `width`, from the middle of the first line's capitals at `at`; says how high.
    pub(super) fn write(
        &mut self,
        out: &mut String,
        (level, text): (Level, &str),
        at: Point,
        width: f64,
    ) -> f64 {
        /// More of one text is no caption any more.
        const MOST_LINES: usize = 8;
        let mut lines = self.setter.lines(level, text, width);
        lines.truncate(MOST_LINES);
        let mut height = 0.0;
        for line in &lines {
            write_line(out, line, Point::new(at.x, at.y + height));
            height += level.pitch();
        }
        height
    }

    /// A number in the shape of its severity, its middle at `at`: a note is round, a warning a triangle, an error
    /// an octagon.
    pub(super) fn badge(&mut self, out: &mut String, severity: Severity, number: usize, at: Point) {
        let text = number.to_string();
        let line = self.setter.phrase(Level::Strong, &text);
        // Three figures need a larger shape.
        let scale = fixed((line.width / 2.9).max(1.0), 3);
        let (shape, tint, down) = match severity {
            Severity::Error => {
                ("M-.95-2.3h1.9l1.35 1.35v1.9l-1.35 1.35h-1.9l-1.35-1.35v-1.9z", "#f7c9c2", 0.0)
            }
            Severity::Warning => ("M0-3.3l3.5 6h-7z", "#f7dd9c", 0.9),
            Severity::Note => ("M-2.2 0a2.2 2.2 0 1 0 4.4 0a2.2 2.2 0 1 0-4.4 0z", "#cde2ee", 0.0),
        };
        let _ = write!(
            out,
            "<g data-severity=\"{}\" data-finding=\"{number}\" transform=\"translate({} {})\"><path transform=\"scale({scale})\" \
             fill=\"{tint}\" stroke=\"#1c2126\" stroke-width=\".25\" d=\"{shape}\"/>",
            word(severity),
            fixed(at.x, 3),
            fixed(at.y, 3)
        );
        write_line(out, &line, Point::new(-line.width / 2.0, down));
        out.push_str("</g>");
    }
}

fn write_line(out: &mut String, line: &SetLine, at: Point) {
    let _ = write!(
        out,
        "<g aria-label=\"{}\" transform=\"translate({} {})\">",
        escaped(&line.text),
        fixed(at.x, 3),
        fixed(at.y, 3)
    );
    for (x, letter) in &line.drawn {
        let _ = write!(out, "<use xlink:href=\"#l{letter}\" x=\"{}\"/>", fixed(*x, 3));
    }
    out.push_str("</g>");
}

/// A letter or word, drawn once.
pub(super) fn letter(index: usize, letter: &Design) -> String {
    let mut out = format!("<g id=\"l{index}\">");
    for mark in &letter.marks {
        let Plate::Ink(colour) = mark.plate else { continue };
        let _ = write!(out, "<path fill=\"{colour}\" d=\"{}\"/>", path_data(&mark.path));
    }
    out.push_str("</g>\n");
    out
}

/// Every design of a surface as seen, by its number; a line round the trim where no surface shows where it ends.
pub(super) fn designs(job: Job<'_>, shown: &Shown<'_>) -> BTreeMap<usize, String> {
    let drawn = in_order(&shown.designs, |index| {
        let mut out = format!("<g id=\"d{index}\">");
        let Some(design) = job.designs.get(*index) else { return String::new() };
        for area in seen::areas(job, design) {
            let _ = write!(out, "<path fill=\"{}\" d=\"{}\"/>", area.colour, path_data(&area.path));
        }
        if shown.surface.is_none() {
            let trim = path_data(&design.trim);
            let _ = write!(
                out,
                "<path fill=\"none\" stroke=\"#8a9299\" stroke-width=\".1\" stroke-dasharray=\".6 .4\" d=\"{trim}\"/>"
            );
        }
        out.push_str("</g>\n");
        out
    });
    shown.designs.iter().copied().zip(drawn).collect()
}

/// A label as seen, its trim's top left corner at `at`.
pub(super) fn label(out: &mut String, index: usize, design: &Design, at: Point, scale: f64) {
    let move_by = at.to_vec2() - design.size().origin().to_vec2() * scale;
    let by = if (scale - 1.0).abs() < 1e-9 {
        String::new()
    } else {
        format!(" scale({})", fixed(scale, 3))
    };
    let _ = write!(
        out,
        "<use data-label=\"{}\" xlink:href=\"#d{index}\" transform=\"translate({} {}){by}\"/>",
        escaped(&design.name),
        fixed(move_by.x, 3),
        fixed(move_by.y, 3)
    );
}
