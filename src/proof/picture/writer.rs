//! The strokes pictures are made of: words, labels as seen, numbered marks.

use super::rows::PictureRow;
use super::{Level, Proofed, ShownSurface, SurfacePicture};
use crate::card::typeset::SetLine;
use crate::design::{Design, Plate};
use crate::finding::Severity;
use crate::output::svg::path_data;
use crate::parallel::in_order;
use crate::proof::html_escape::escaped;
use crate::proof::seen;
use crate::units::fixed;
use kurbo::Point;
use std::collections::BTreeMap;
use std::fmt::Write as _;

impl SurfacePicture<'_> {
    /// Writes a text into a row, from `left` to the right edge, below what is written already.
    pub(super) fn write(&mut self, row: &mut PictureRow, level: Level, text: &str, left: f64) {
        /// More lines of one text than this are no caption any more.
        const MOST_LINES: usize = 8;
        for line in self.typesetter.lines(level, text, self.width - left).iter().take(MOST_LINES) {
            // The middle of the line's capitals is at the row's height.
            write_line(&mut row.body, line, Point::new(left, row.height));
            row.height += level.pitch();
        }
    }

    /// Writes what of a text fits on one line, from the left edge.
    pub(super) fn write_first_line(
        &mut self,
        out: &mut String,
        level: Level,
        text: &str,
        top: f64,
        width: f64,
    ) {
        let first = self.typesetter.lines(level, text, width).into_iter().next();
        let text = first.map(|line| line.text).unwrap_or_default();
        for line in self.typesetter.lines(level, &text, f64::INFINITY) {
            write_line(out, &line, Point::new(0.0, top));
        }
    }

    /// Draws a number in the shape of its severity, its middle at `at`: a note is round, a warning a triangle, an
    /// error an octagon.
    pub(super) fn draw_badge(
        &mut self,
        out: &mut String,
        severity: Severity,
        number: usize,
        at: Point,
    ) {
        let text = number.to_string();
        let line = self.typesetter.phrase(Level::Strong, &text);
        // Three figures need a larger shape.
        let scale = fixed((line.width / 2.9).max(1.0), 3);
        let (shape, tint, down) = match severity {
            Severity::Error => {
                ("M-.95-2.3h1.9l1.35 1.35v1.9l-1.35 1.35h-1.9l-1.35-1.35v-1.9z", "#f7c9c2", 0.0)
            }
            Severity::Warning => ("M0-3.3l3.5 6h-7z", "#f7dd9c", 0.9),
            Severity::Note => ("M-2.2 0a2.2 2.2 0 1 0 4.4 0a2.2 2.2 0 1 0-4.4 0z", "#cde2ee", 0.0),
        };
        let (word, x, y) = (severity.word(), fixed(at.x, 3), fixed(at.y, 3));
        let _ = write!(
            out,
            "<g data-severity=\"{word}\" data-finding=\"{number}\" transform=\"translate({x} {y})\"><path transform=\"scale({scale})\" \
             fill=\"{tint}\" stroke=\"#1c2126\" stroke-width=\".25\" d=\"{shape}\"/>"
        );
        write_line(out, &line, Point::new(-line.width / 2.0, down));
        out.push_str("</g>");
    }
}

fn write_line(out: &mut String, line: &SetLine, at: Point) {
    let (text, x, y) = (escaped(&line.text), fixed(at.x, 3), fixed(at.y, 3));
    let _ = write!(out, "<g aria-label=\"{text}\" transform=\"translate({x} {y})\">");
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
pub(super) fn designs(job: Proofed<'_>, shown: &ShownSurface<'_>) -> BTreeMap<usize, String> {
    let drawn = in_order(&job.numbered(&shown.designs), |(index, design)| {
        let mut out = format!("<g id=\"d{index}\">");
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
        (*index, out)
    });
    drawn.into_iter().collect()
}

/// A label as seen, its trim's top left corner at `at`.
pub(super) fn draw_label(out: &mut String, index: usize, design: &Design, at: Point, scale: f64) {
    let move_by = at.to_vec2() - design.size().origin().to_vec2() * scale;
    let (name, x, y) = (escaped(&design.name), fixed(move_by.x, 3), fixed(move_by.y, 3));
    let is_true_size = (scale - 1.0).abs() < 1e-9;
    let scaled = if is_true_size { String::new() } else { format!(" scale({})", fixed(scale, 3)) };
    let _ = write!(
        out,
        "<use data-label=\"{name}\" xlink:href=\"#d{index}\" transform=\"translate({x} {y}){scaled}\"/>"
    );
}
