//! One label's row: tick box, thumbnail, words, facts.

use super::entry::{Entry, title};
use super::strip::{Rule, Running, Strip, tick_box};
use super::typeset::{DARK, Level, Line, Typesetter};
use crate::colour::Colour;
use crate::design::Design;
use crate::output::Placed;
use crate::shape;
use crate::spec::Film;
use crate::units::fixed;
use kurbo::{Affine, Point, Rect, Size};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The cell a thumbnail fits into, mm.
const THUMBNAIL: Size = Size::new(30.0, 13.0);
/// Least space between the drawing and the edge of its cell, mm.
const THUMBNAIL_MARGIN_MM: f64 = 1.2;
/// Side of a tick box, mm: room for a pencil.
const TICK_MM: f64 = 4.0;
/// Space above and below what is in a row, mm.
const PADDING_MM: f64 = 2.8;
/// Most lines of one column in one strip, about 190 mm of them; more run on in strips below.
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
    /// The drawing of the box to tick.
    tick: usize,
    swatches: BTreeMap<Colour, usize>,
}

impl Rows {
    pub(super) fn new(columns: Columns, setter: &mut Typesetter<'_>) -> Rows {
        let tick = setter.keep("tick box", tick_box(TICK_MM), DARK);
        Rows { columns, tick, swatches: BTreeMap::new() }
    }

    /// The strips of one label: one, unless something in it is longer than any page allows.
    pub(super) fn row(
        &mut self,
        entry: &Entry<'_>,
        design: &Design,
        setter: &mut Typesetter<'_>,
    ) -> Vec<Strip> {
        let title = title(entry.label.film).to_owned();
        let running = Some(Rc::new(Running { title, columns: Vec::new() }));
        let mut first = Strip { running: running.clone(), ..Strip::default() };
        first.rule(Rule::Thin, 0.0, 0.0, self.columns.width);
        let transform = Affine::translate((0.0, PADDING_MM));
        first.placed.push(Placed { design: self.tick, transform });
        let number = entry.number.to_string();
        let number = setter.lines(Level::Quiet, &number, self.columns.thumbnail);
        first.write(&number, Level::Quiet, Point::new(0.0, PADDING_MM + TICK_MM + 1.8));
        let scale = self.thumbnail(&mut first, entry, design, setter);
        first.height = PADDING_MM + THUMBNAIL.height;

        let columns = self.texts(entry, scale, setter);
        let mut strips = vec![first];
        for (x, lines) in &columns {
            for (at, lines) in lines.chunks(MOST_LINES).enumerate() {
                if strips.len() <= at {
                    strips.push(Strip { running: running.clone(), ..Strip::default() });
                }
                if let Some(strip) = strips.get_mut(at) {
                    strip.height = write_column(strip, lines, *x).max(strip.height);
                }
            }
        }
        for strip in &mut strips {
            strip.height += PADDING_MM;
        }
        strips
    }

    /// The columns of text, each with where it starts: words, facts, counts.
    fn texts(
        &self,
        entry: &Entry<'_>,
        scale: f64,
        setter: &mut Typesetter<'_>,
    ) -> [(f64, Vec<(Level, Line)>); 3] {
        let note = entry.label.note.as_ref().map(|note| format!("Note: {note}"));
        let spoken = if entry.words.is_empty() { Level::Quiet } else { Level::Spoken };
        let shown = if scale < 1.0 {
            format!("shown at {}\u{a0}%", fixed(scale * 100.0, 0))
        } else {
            "shown at true size".to_owned()
        };
        let words = [
            (Level::Strong, entry.name.to_owned()),
            (spoken, entry.spoken()),
            (Level::Quiet, note.unwrap_or_default()),
        ];
        let facts = [
            (Level::Body, entry.measures()),
            (Level::Body, entry.goes_on()),
            (Level::Body, entry.applied().to_owned()),
            (Level::Quiet, shown),
        ];
        let counts = [(Level::Strong, entry.count()), (Level::Body, entry.found_on())];
        let columns = self.columns;
        [
            (columns.words, words.as_slice()),
            (columns.facts, facts.as_slice()),
            (columns.count, counts.as_slice()),
        ]
        .map(|((x, width), texts)| {
            let mut lines = Vec::new();
            for (level, text) in texts {
                let set = setter.lines(*level, text, width);
                lines.extend(set.into_iter().map(|line| (*level, line)));
            }
            (x, lines)
        })
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
