//! One label's row: tick box, thumbnail, words, facts.

use super::entry::{Entry, title};
use super::strip::{Rule, RunningHead, Strip, StripWriter, tick_box};
use super::typeset::{DARK, Level, SetLine, Typesetter};
use crate::colour::Colour;
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
/// Where the thumbnails start, mm.
const THUMBNAIL_X_MM: f64 = TICK_MM + 4.5;
/// Space above and below what is in a row, mm.
const PADDING_MM: f64 = 2.8;
/// Most lines of one column in one strip, about 190 mm of them; more run on in strips below.
const MOST_LINES: usize = 40;
/// What stands for a surface whose colour is not given.
const ANY_SURFACE: Colour = Colour { rgb: [233, 236, 238] };

/// Where a column starts and how wide the text in it may be, mm.
#[derive(Clone, Copy, Debug)]
struct Column {
    x: f64,
    width: f64,
}

/// The columns of the list; the thumbnails start at [`THUMBNAIL_X_MM`].
#[derive(Clone, Copy, Debug)]
struct Columns {
    words: Column,
    facts: Column,
    count: Column,
}

impl Columns {
    /// Columns of a form this wide.
    fn of(width: f64) -> Columns {
        let count = Column { x: width - 26.0, width: 26.0 };
        let facts = Column { x: count.x - 43.0, width: 39.0 };
        let x = THUMBNAIL_X_MM + THUMBNAIL.width + 5.0;
        let words = Column { x, width: facts.x - 4.0 - x };
        Columns { words, facts, count }
    }
}

/// Makes the rows of labels; keeps the swatches it has drawn.
pub(super) struct LabelRows {
    columns: Columns,
    /// The drawing of the box to tick.
    tick: usize,
    swatches: BTreeMap<Colour, usize>,
}

impl LabelRows {
    pub(super) fn new(writer: &mut StripWriter<'_>) -> LabelRows {
        let tick = writer.setter.keep("tick box", tick_box(TICK_MM), DARK);
        LabelRows { columns: Columns::of(writer.width), tick, swatches: BTreeMap::new() }
    }

    /// The strips of one label: one, unless something in it is longer than any page allows.
    pub(super) fn row(&mut self, entry: &Entry<'_>, writer: &mut StripWriter<'_>) -> Vec<Strip> {
        let title = title(entry.label.film).to_owned();
        let running = Rc::new(RunningHead { title, columns: Vec::new() });
        let strip = || Strip { running: Some(Rc::clone(&running)), ..Strip::default() };
        writer.strip = strip();
        writer.strip.rule(Rule::Thin, 0.0, 0.0, writer.width);
        let transform = Affine::translate((0.0, PADDING_MM));
        writer.strip.placed.push(Placed { design: self.tick, transform });
        let at = Point::new(0.0, PADDING_MM + TICK_MM + 1.8);
        writer.set(Level::Quiet, &entry.number.to_string(), at, THUMBNAIL_X_MM);
        let scale = self.thumbnail(entry, writer);
        writer.strip.height = PADDING_MM + THUMBNAIL.height;
        let mut strips = vec![writer.take()];
        let columns = self.texts(entry, scale, &mut writer.setter);
        for (x, lines) in &columns {
            for (at, lines) in lines.chunks(MOST_LINES).enumerate() {
                if strips.len() <= at {
                    strips.push(strip());
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
    ) -> [(f64, Vec<(Level, SetLine)>); 3] {
        let note = entry.label.note.as_ref().map(|note| format!("Note: {note}"));
        let spoken = if entry.words.is_empty() { Level::Quiet } else { Level::Spoken };
        let shown = if scale < 1.0 {
            format!("shown at {}\u{a0}%", fixed(scale * 100.0, 0))
        } else {
            "shown at true size".to_owned()
        };
        let words = vec![
            (Level::Strong, entry.design.name.clone()),
            (spoken, entry.spoken()),
            (Level::Quiet, note.unwrap_or_default()),
        ];
        let facts = vec![
            (Level::Body, entry.measures()),
            (Level::Body, entry.goes_on()),
            (Level::Body, entry.applied().to_owned()),
            (Level::Quiet, shown),
        ];
        let counts = vec![(Level::Strong, entry.count()), (Level::Body, entry.found_on())];
        let columns = self.columns;
        [(columns.words, words), (columns.facts, facts), (columns.count, counts)].map(
            |(column, texts)| {
                let lines = texts.into_iter().flat_map(|(level, text)| {
                    let lines = setter.lines(level, &text, column.width);
                    lines.into_iter().map(move |line| (level, line))
                });
                (column.x, lines.collect())
            },
        )
    }

    /// The design over a swatch of its surface, never larger than true size; returns its scale.
    fn thumbnail(&mut self, entry: &Entry<'_>, writer: &mut StripWriter<'_>) -> f64 {
        let StripWriter { setter, strip, .. } = writer;
        let colour = entry.surface.map_or(ANY_SURFACE, |(_, surface)| surface.colour);
        let cell = Rect::from_center_size(Point::ORIGIN, THUMBNAIL);
        let trim = entry.design.size();
        let scale = ((THUMBNAIL.width - 2.0 * THUMBNAIL_MARGIN_MM) / trim.width().max(0.01))
            .min((THUMBNAIL.height - 2.0 * THUMBNAIL_MARGIN_MM) / trim.height().max(0.01))
            .min(1.0);
        let to_cell = Affine::scale(scale) * Affine::translate(-trim.center().to_vec2());
        let to_strip = Affine::translate((
            THUMBNAIL_X_MM + THUMBNAIL.width / 2.0,
            PADDING_MM + THUMBNAIL.height / 2.0,
        ));
        let shown = Placed { design: entry.index, transform: to_strip * to_cell };
        let swatch = |design| Placed { design, transform: to_strip };
        match entry.label.film {
            // Clear parts show the surface: the swatch lies under the label.
            Film::Clear => {
                let drawn = self.swatches.entry(colour);
                let drawn = drawn
                    .or_insert_with(|| setter.keep("swatch", shape::rounded(cell, 1.0), colour));
                strip.placed.extend([swatch(*drawn), shown]);
            }
            // The stock is white: the surface shows only round the trim, and hides the bleed.
            Film::White | Film::Sticker | Film::Paper => {
                let trim = entry.design.trim.placed(to_cell);
                let round = shape::rounded(cell, 1.0).minus(&trim);
                let drawn = setter.keep("swatch", round, colour);
                strip.placed.extend([shown, swatch(drawn)]);
            }
        }
        scale
    }
}

/// Writes lines of several levels under each other from the top of a row; returns the bottom.
fn write_column(strip: &mut Strip, lines: &[(Level, SetLine)], x: f64) -> f64 {
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
