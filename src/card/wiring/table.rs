//! Tables of the sheets: columns, row heights, and what stands in a cell.

use super::writer::{SWATCH, SheetWriter};
use crate::card::page::section;
use crate::card::strip::{RULE, RunningHead, Strip, tick_box};
use crate::card::typeset::{DARK, Level, QUIET, SetLine, Typesetter};
use crate::output::Placed;
use crate::shape;
use crate::spec::wiring::WireColour;
use kurbo::{Affine, Point, Rect};
use std::borrow::Cow;
use std::rc::Rc;

/// Side of a tick box, mm.
const TICK_MM: f64 = 3.4;
/// Free space between the text of a column and the next column, mm.
const GUTTER_MM: f64 = 2.0;
/// Most lines in a cell, about 20 mm of them.
const MOST_LINES: usize = 6;
/// From the start of a swatch to the code beside it, mm.
const CODE_MM: f64 = SWATCH.width + 1.6;
/// Least from the start of a code to the name after it, mm: names line up after codes of two letters.
const LEAST_CODE_MM: f64 = 4.8;
/// From the top of the names of columns to the first row, mm.
const NAMES_MM: f64 = 6.6;
/// White above a section, mm.
const SECTION_GAP_MM: f64 = 7.0;
/// Height of a row to read, mm.
pub(super) const READ_MM: f64 = 5.4;
/// Height of a row to write in, mm: room for a pencil.
pub(super) const WRITE_MM: f64 = 6.4;

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum ColumnHolds {
    /// Words, a row's own.
    Words,
    /// A box to tick in every row.
    Tick,
    /// A line to write on in every row.
    Line,
}

/// A column of a table.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    name: &'static str,
    /// Its width on a form 178 mm wide.
    width_mm: f64,
    holds: ColumnHolds,
}

impl Column {
    /// A column of words.
    pub(super) const fn words(name: &'static str, width_mm: f64) -> Column {
        Column { name, width_mm, holds: ColumnHolds::Words }
    }

    /// A column of boxes to tick.
    pub(super) const fn ticks(width_mm: f64) -> Column {
        Column { name: "", width_mm, holds: ColumnHolds::Tick }
    }

    /// A column of lines to write on.
    pub(super) const fn lines(name: &'static str, width_mm: f64) -> Column {
        Column { name, width_mm, holds: ColumnHolds::Line }
    }
}

/// What a row has to say in a column.
#[derive(Clone, Debug)]
pub(super) enum TableCell<'a> {
    /// Nothing of its own.
    Blank,
    /// Words, broken where they are too long.
    Text(Level, Cow<'a, str>),
    /// Words that stand in many rows and fit their column.
    Often(Level, &'static str),
    /// A wire's swatch and code.
    Code(&'a WireColour),
    /// A wire's swatch, code and name.
    Colour(&'a WireColour),
}

impl<'a> TableCell<'a> {
    /// Words that name the row.
    pub(super) fn strong(words: impl Into<Cow<'a, str>>) -> TableCell<'a> {
        TableCell::Text(Level::Strong, words.into())
    }

    /// Words of the row.
    pub(super) fn body(words: impl Into<Cow<'a, str>>) -> TableCell<'a> {
        TableCell::Text(Level::Body, words.into())
    }

    /// Words that stand back.
    pub(super) fn quiet(words: impl Into<Cow<'a, str>>) -> TableCell<'a> {
        TableCell::Text(Level::Quiet, words.into())
    }
}

/// A table across the form.
pub(super) struct Table {
    /// Where each column starts and how wide its text may be, mm.
    columns: Vec<(f64, f64)>,
    /// Height of a row of single lines, mm.
    row_mm: f64,
    /// Rule, tick boxes and lines to write on: the same in every row.
    frame: usize,
    running: Rc<RunningHead>,
}

impl Table {
    /// Starts a section with a table as wide as the form, its rows of single lines this high, mm.
    pub(super) fn start(
        title: &str,
        totals: &str,
        note: &str,
        columns: &[Column],
        row_mm: f64,
        writer: &mut SheetWriter<'_>,
    ) -> Table {
        let width = writer.strips.width;
        let scale = width / columns.iter().map(|column| column.width_mm).sum::<f64>();
        let mut frame = vec![(shape::rectangle(Rect::new(0.0, 0.0, width, 0.12)), RULE)];
        let mut places = Vec::new();
        let mut names = Vec::new();
        let mut x = 0.0;
        for Column { name, width_mm, holds } in columns {
            let text = width_mm * scale - GUTTER_MM;
            match holds {
                ColumnHolds::Words => {}
                ColumnHolds::Tick => {
                    let at = Affine::translate((x, (row_mm - TICK_MM) / 2.0));
                    frame.push((tick_box(TICK_MM).placed(at), DARK));
                }
                ColumnHolds::Line => {
                    let y = row_mm - 1.6;
                    frame.push((shape::rectangle(Rect::new(x, y, x + text, y + 0.15)), QUIET));
                }
            }
            places.push((x, text));
            if !name.is_empty() {
                names.push((x, *name));
            }
            x += width_mm * scale;
        }
        let frame = writer.strips.setter.keep_all("row", frame);
        writer.put(Strip::gap(SECTION_GAP_MM));
        let heads = section(title, totals, note, &mut writer.strips);
        heads.into_iter().for_each(|strip| writer.put(strip));
        writer.strips.strip = Strip::held(NAMES_MM);
        writer.strips.column_names(&names, 3.3);
        writer.put_written();
        let running = RunningHead { title: title.to_owned(), columns: names };
        Table { columns: places, row_mm, frame, running: Rc::new(running) }
    }

    /// Changes the head of pages that start amid the rows from here on, and returns it.
    pub(super) fn run_on_as(&mut self, title: &str) -> Rc<RunningHead> {
        let columns = self.running.columns.clone();
        self.running = Rc::new(RunningHead { title: title.to_owned(), columns });
        Rc::clone(&self.running)
    }

    /// Puts the next row on the page; it is as high as its longest cell.
    pub(super) fn put<const N: usize>(
        &self,
        cells: [TableCell<'_>; N],
        writer: &mut SheetWriter<'_>,
    ) {
        debug_assert_eq!(N, self.columns.len(), "a cell for each column");
        let mut strip = Strip { running: Some(Rc::clone(&self.running)), ..Strip::default() };
        strip.placed.push(Placed { design: self.frame, transform: Affine::IDENTITY });
        writer.strips.strip = strip;
        let mut most = 1;
        for ((x, width), cell) in self.columns.iter().zip(cells) {
            most = most.max(self.cell(*x, *width, cell, writer));
        }
        #[allow(clippy::cast_precision_loss, reason = "at most MOST_LINES")]
        let more = (most - 1) as f64;
        writer.strips.strip.height = self.row_mm + more * Level::Body.pitch();
        writer.put_written();
    }

    /// Writes a cell; returns how many lines it took.
    fn cell(&self, x: f64, width: f64, cell: TableCell<'_>, writer: &mut SheetWriter<'_>) -> usize {
        let at = Point::new(x, (self.row_mm - Level::Body.cap()) / 2.0);
        match cell {
            TableCell::Blank => 1,
            TableCell::Text(level, text) => {
                let lines = fitted(level, &text, width, &mut writer.strips.setter);
                writer.strips.strip.write(&lines, level, at);
                lines.len()
            }
            TableCell::Often(level, text) => {
                writer.strips.phrase(level, text, at, 0.0);
                1
            }
            TableCell::Code(colour) => {
                self.swatch(x, colour, writer);
                let code = TableCell::strong(colour.code());
                self.cell(x + CODE_MM, width - CODE_MM, code, writer)
            }
            TableCell::Colour(colour) => {
                self.swatch(x, colour, writer);
                let (x, width) = (x + CODE_MM, width - CODE_MM);
                let (code, name) = (colour.code(), colour.name());
                let set = writer.strips.setter.phrase(Level::Strong, &code);
                let by = (set.width + 1.4).max(LEAST_CODE_MM);
                if by > width / 2.0 {
                    // A code of many colours takes lines of its own.
                    let all = TableCell::body(format!("{code} {name}"));
                    return self.cell(x, width, all, writer);
                }
                writer.strips.strip.write_line(&set, Level::Strong, Point::new(x, at.y));
                self.cell(x + by, width - by, TableCell::body(name), writer)
            }
        }
    }

    fn swatch(&self, x: f64, colour: &WireColour, writer: &mut SheetWriter<'_>) {
        let transform = Affine::translate((x, (self.row_mm - SWATCH.height) / 2.0));
        let design = writer.swatch(colour);
        writer.strips.strip.placed.push(Placed { design, transform });
    }
}

/// The text in lines of this width; a text that takes too many ends in an ellipsis.
fn fitted(level: Level, text: &str, width: f64, setter: &mut Typesetter<'_>) -> Vec<SetLine> {
    let mut lines = setter.lines(level, text, width);
    if lines.len() > MOST_LINES {
        lines.truncate(MOST_LINES - 1);
        lines.push(setter.phrase(level, "…"));
    }
    lines
}
