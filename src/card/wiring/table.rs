//! Tables of the sheets: columns, row heights, and what stands in a cell.

use super::pen::{Pen, SWATCH};
use crate::card::strip::{RULE, Running, Strip, tick_box};
use crate::card::typeset::{DARK, Level, Line, QUIET, Typesetter};
use crate::output::Placed;
use crate::shape;
use crate::spec::wiring::WireColour;
use kurbo::{Affine, Point, Rect};
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

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    /// Words, a row's own.
    Words,
    /// A box to tick in every row.
    Tick,
    /// A line to write on in every row.
    Line,
}

/// A column: its name, its width on a form 178 mm wide, what it holds.
pub(super) type Column = (&'static str, f64, Holds);

/// What a row has to say in a column.
#[derive(Clone, Copy, Debug)]
pub(super) enum Cell<'a> {
    /// Nothing of its own.
    Blank,
    /// Words, broken where they are too long.
    Text(Level, &'a str),
    /// Words that stand in many rows and fit their column.
    Often(Level, &'a str),
    /// A wire's swatch and code.
    Code(&'a WireColour),
    /// A wire's swatch, code and name.
    Colour(&'a WireColour),
}

/// A table across the form.
pub(super) struct Table {
    /// Where each column starts and how wide its text may be, mm.
    columns: Vec<(f64, f64)>,
    names: Vec<(f64, &'static str)>,
    /// Height of a row of single lines, mm.
    row_mm: f64,
    /// Rule, tick boxes and lines to write on: the same in every row.
    frame: usize,
    running: Rc<Running>,
}

impl Table {
    /// A table as wide as the form, its rows of single lines this high, mm.
    pub(super) fn new(title: &str, columns: &[Column], row_mm: f64, pen: &mut Pen<'_>) -> Table {
        let width = pen.width;
        let scale = width / columns.iter().map(|(_, width, _)| width).sum::<f64>();
        let mut frame = vec![(shape::rectangle(Rect::new(0.0, 0.0, width, 0.12)), RULE)];
        let mut places = Vec::new();
        let mut names = Vec::new();
        let mut x = 0.0;
        for (name, share, holds) in columns {
            let text = share * scale - GUTTER_MM;
            match holds {
                Holds::Words => {}
                Holds::Tick => {
                    let at = Affine::translate((x, (row_mm - TICK_MM) / 2.0));
                    frame.push((tick_box(TICK_MM).placed(at), DARK));
                }
                Holds::Line => {
                    let y = row_mm - 1.6;
                    frame.push((shape::rectangle(Rect::new(x, y, x + text, y + 0.15)), QUIET));
                }
            }
            places.push((x, text));
            if !name.is_empty() {
                names.push((x, *name));
            }
            x += share * scale;
        }
        let running = Running { title: title.to_owned(), columns: names.clone() };
        let frame = pen.setter.keep_all("row", frame);
        Table { columns: places, names, row_mm, frame, running: Rc::new(running) }
    }

    /// The head of a page that starts amid these rows.
    pub(super) fn running(&self, title: &str) -> Rc<Running> {
        Rc::new(Running { title: title.to_owned(), columns: self.names.clone() })
    }

    /// Writes the names of the columns, over the first row.
    pub(super) fn names(&self, pen: &mut Pen<'_>) {
        let mut strip = Strip { holds_next: true, height: NAMES_MM, ..Strip::default() };
        for (x, name) in &self.names {
            let line = pen.setter.phrase(Level::Quiet, name);
            strip.write_line(&line, Level::Quiet, Point::new(*x, 3.3));
        }
        pen.put(strip);
    }

    /// One row; as high as its longest cell.
    pub(super) fn row(&self, cells: &[Cell<'_>], pen: &mut Pen<'_>) -> Strip {
        let mut strip = Strip { running: Some(Rc::clone(&self.running)), ..Strip::default() };
        strip.placed.push(Placed { design: self.frame, transform: Affine::IDENTITY });
        let mut most = 1;
        for ((x, width), cell) in self.columns.iter().zip(cells) {
            most = most.max(self.cell(&mut strip, (*x, *width), *cell, pen));
        }
        #[allow(clippy::cast_precision_loss, reason = "at most MOST_LINES")]
        let more = (most - 1) as f64;
        strip.height = self.row_mm + more * Level::Body.pitch();
        strip
    }

    /// Writes a cell; says how many lines it took.
    fn cell(
        &self,
        strip: &mut Strip,
        (x, width): (f64, f64),
        cell: Cell<'_>,
        pen: &mut Pen<'_>,
    ) -> usize {
        let top = (self.row_mm - Level::Body.cap()) / 2.0;
        match cell {
            Cell::Blank => 1,
            Cell::Text(level, text) => {
                let lines = fitted(level, text, width, &mut pen.setter);
                strip.write(&lines, level, Point::new(x, top));
                lines.len()
            }
            Cell::Often(level, text) => {
                let line = pen.setter.phrase(level, text);
                strip.write_line(&line, level, Point::new(x, top));
                1
            }
            Cell::Code(colour) => {
                self.swatch(strip, x, colour, pen);
                let code = colour.code();
                let beside = (x + CODE_MM, width - CODE_MM);
                self.cell(strip, beside, Cell::Text(Level::Strong, &code), pen)
            }
            Cell::Colour(colour) => {
                self.swatch(strip, x, colour, pen);
                let (code, name) = (colour.code(), colour.name());
                let beside = (x + CODE_MM, width - CODE_MM);
                let set = pen.setter.phrase(Level::Strong, &code);
                let by = (set.width + 1.4).max(LEAST_CODE_MM);
                if by > beside.1 / 2.0 {
                    // A code of many colours takes lines of its own.
                    let all = format!("{code} {name}");
                    return self.cell(strip, beside, Cell::Text(Level::Body, &all), pen);
                }
                strip.write_line(&set, Level::Strong, Point::new(beside.0, top));
                let after = (beside.0 + by, beside.1 - by);
                self.cell(strip, after, Cell::Text(Level::Body, &name), pen)
            }
        }
    }

    fn swatch(&self, strip: &mut Strip, x: f64, colour: &WireColour, pen: &mut Pen<'_>) {
        let to = (x, (self.row_mm - SWATCH.height) / 2.0);
        strip.placed.push(Placed { design: pen.swatch(colour), transform: Affine::translate(to) });
    }
}

/// The text in lines of this width; a text that takes too many ends in an ellipsis.
fn fitted(level: Level, text: &str, width: f64, setter: &mut Typesetter<'_>) -> Vec<Line> {
    let mut lines = setter.lines(level, text, width);
    if lines.len() > MOST_LINES {
        lines.truncate(MOST_LINES - 1);
        lines.push(setter.phrase(level, "…"));
    }
    lines
}
