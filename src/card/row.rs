//! One label's row: tick box, thumbnail, words, facts.

use super::entry::Entry;
use super::strip::{Rule, Strip, TICK_MM};
use super::typeset::{Level, Line, Typesetter};
use crate::colour::Colour;
use crate::design::Design;
use crate::output::Placed;
use crate::shape;
use crate::spec::Film;
use crate::units::fixed;
use kurbo::{Affine, Point, Rect, Size};
use std::collections::BTreeMap;

/// The cell a thumbnail fits into, mm.
const THUMBNAIL: Size = Size::new(30.0, 13.0);
/// Least space between the drawing and the edge of its cell, mm.
const THUMBNAIL_MARGIN_MM: f64 = 1.2;
/// Space above and below what is in a row, mm.
const PADDING_MM: f64 = 2.8;
/// Lines of words or note that stay beside the thumbnail; more run on in rows below.
const MOST_LINES: usize = 40;
/// What stands for a surface whose colour is not given.
const ANY_SURFACE: Colour = Colour { rgb: [233, 236, 238] };

/// Where the columns start and how wide the text in them may be, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Columns {
    pub(super) width: f64,
    thumbnail: f64,
    words: (f64, f64),
    facts: (f64, f64),
    count: (f64, f64),
}

impl Columns {
    /// Columns of a form this wide.
    pub(super) fn of(width: f64) -> Columns {
        let (count, facts, thumbnail) = (width - 26.0, width - 26.0 - 43.0, TICK_MM + 4.5);
        let words = thumbnail + THUMBNAIL.width + 5.0;
        Columns {
            width,
            thumbnail,
            words: (words, facts - 4.0 - words),
            facts: (facts, 39.0),
            count: (count, 26.0),
        }
    }
}

/// Makes rows; keeps the swatches it has drawn.
pub(super) struct Rows {
    columns: Columns,
    swatches: BTreeMap<Colour, usize>,
}

impl Rows {
    pub(super) fn new(columns: Columns) -> Rows {
        Rows { columns, swatches: BTreeMap::new() }
    }

    /// The strips of one label: one, unless its words are longer than any page allows.
    pub(super) fn row(
        &mut self,
        entry: &Entry<'_>,
        design: &Design,
        setter: &mut Typesetter<'_>,
    ) -> Vec<Strip> {
        let columns = self.columns;
        let mut strip = Strip::default();
        strip.rule(Rule::Thin, 0.0, 0.0, columns.width);
        strip.tick_box(Point::new(0.0, PADDING_MM));
        let number = setter.lines(Level::Quiet, &entry.number.to_string(), columns.thumbnail);
        let mut bottom =
            strip.write(&number, Level::Quiet, Point::new(0.0, PADDING_MM + TICK_MM + 1.8));
        let scale = self.thumbnail(&mut strip, entry, design, setter);
        bottom = bottom.max(PADDING_MM + THUMBNAIL.height);

        let mut lines = self.words(entry, setter);
        let rest = lines.split_off(lines.len().min(MOST_LINES));
        bottom = bottom.max(write_column(&mut strip, &lines, columns.words.0));
        bottom = bottom.max(self.facts(&mut strip, entry, scale, setter));
        strip.height = bottom + PADDING_MM;

        let more = rest.chunks(MOST_LINES).map(|lines| {
            let mut strip = Strip::default();
            strip.height = write_column(&mut strip, lines, columns.words.0) + PADDING_MM;
            strip
        });
        let more: Vec<Strip> = more.collect();
        std::iter::once(strip).chain(more).collect()
    }

    /// Name, words and note.
    fn words(&self, entry: &Entry<'_>, setter: &mut Typesetter<'_>) -> Vec<(Level, Line)> {
        let note = entry.label.note.as_ref().map(|note| format!("Note: {note}"));
        let texts = [
            (Level::Strong, entry.name.to_owned()),
            (if entry.words.is_empty() { Level::Quiet } else { Level::Spoken }, entry.spoken()),
            (Level::Quiet, note.unwrap_or_default()),
        ];
        let mut lines = Vec::new();
        for (level, text) in texts {
            let set = setter.lines(level, &text, self.columns.words.1);
            lines.extend(set.into_iter().map(|line| (level, line)));
        }
        lines
    }

    /// Size, surface and the like; count and sheets. Returns the bottom.
    fn facts(
        &self,
        strip: &mut Strip,
        entry: &Entry<'_>,
        scale: f64,
        setter: &mut Typesetter<'_>,
    ) -> f64 {
        let shown = if scale < 1.0 {
            format!("shown at {} %", fixed(scale * 100.0, 0))
        } else {
            "shown at true size".to_owned()
        };
        let facts = [
            (Level::Body, entry.measures()),
            (Level::Body, entry.goes_on()),
            (Level::Body, entry.applied().to_owned()),
            (Level::Quiet, shown),
        ];
        let counts = [(Level::Strong, entry.count()), (Level::Body, entry.found_on())];
        let mut bottom: f64 = 0.0;
        for ((x, width), texts) in
            [(self.columns.facts, facts.as_slice()), (self.columns.count, counts.as_slice())]
        {
            let mut lines = Vec::new();
            for (level, text) in texts {
                let set = setter.lines(*level, text, width);
                lines.extend(set.into_iter().map(|line| (*level, line)));
            }
            bottom = bottom.max(write_column(strip, &lines, x));
        }
        bottom
    }

    /// The design over a swatch of its surface, never larger than true size; returns its scale.
    fn thumbnail(
        &mut self,
        strip: &mut Strip,
        entry: &Entry<'_>,
        design: &Design,
        setter: &mut Typesetter<'_>,
    ) -> f64 {
        let colour = entry.surface.map_or(ANY_SURFACE, |(_, surface)| surface.colour);
        let cell = Rect::from_center_size(Point::ORIGIN, THUMBNAIL);
        let reach = design.size();
        let scale = ((THUMBNAIL.width - 2.0 * THUMBNAIL_MARGIN_MM) / reach.width().max(0.01))
            .min((THUMBNAIL.height - 2.0 * THUMBNAIL_MARGIN_MM) / reach.height().max(0.01))
            .min(1.0);
        let middle = Point::new(
            self.columns.thumbnail + THUMBNAIL.width / 2.0,
            PADDING_MM + THUMBNAIL.height / 2.0,
        );
        let to_cell = Affine::scale(scale) * Affine::translate(-reach.center().to_vec2());
        let to_strip = Affine::translate(middle.to_vec2());
        let shown = Placed { design: entry.design, transform: to_strip * to_cell };
        match entry.label.film {
            // Clear parts show the surface: the swatch lies under the label.
            Film::Clear => {
                let swatch = *self
                    .swatches
                    .entry(colour)
                    .or_insert_with(|| setter.keep("swatch", shape::rounded(cell, 1.0), colour));
                strip.placed.push(Placed { design: swatch, transform: to_strip });
                strip.placed.push(shown);
            }
            // The stock is white: the surface shows only round the trim, and hides the bleed.
            Film::White | Film::Sticker | Film::Paper => {
                let trim = design.trim.placed(to_cell);
                let round = shape::rounded(cell, 1.0).minus(&trim);
                let swatch = setter.keep("swatch", round, colour);
                strip.placed.push(shown);
                strip.placed.push(Placed { design: swatch, transform: to_strip });
            }
        }
        scale
    }
}

/// Writes lines of several levels under each other from the top of a row; returns the bottom.
fn write_column(strip: &mut Strip, lines: &[(Level, Line)], x: f64) -> f64 {
    let mut top = PADDING_MM;
    let mut bottom = top;
    let mut above: Option<Level> = None;
    for (level, line) in lines {
        if above.is_some_and(|above| above != *level) {
            top += level.cap() * 0.25;
        }
        strip.write_line(line, *level, Point::new(x, top));
        // Descenders reach about 0.35 of the cap height below the base line.
        bottom = top + level.cap() * 1.35;
        top += level.pitch();
        above = Some(*level);
    }
    bottom
}
