//! A picture from top to bottom: head, the labels at true size, the labels enlarged, what was found.

use super::writer::draw_label;
use super::{APRON_MM, Level, SurfacePicture};
use crate::design::Design;
use crate::proof::pins::{Pin, side_by_side};
use crate::proof::shelf::shelves;
use crate::units::fixed;
use kurbo::{Point, Size};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// A row of a picture, as wide as the picture is inside its margins.
#[derive(Default)]
pub(super) struct PictureRow {
    /// mm.
    pub(super) height: f64,
    /// What is drawn, from its top left corner.
    pub(super) body: String,
    /// The designs on it.
    pub(super) labels: Vec<usize>,
}

impl PictureRow {
    /// A row without anything drawn yet.
    fn of_height(height: f64) -> PictureRow {
        PictureRow { height, ..PictureRow::default() }
    }
}

/// Between labels at true size, mm.
const GAP_MM: f64 = 5.0;

/// Labels are shown enlarged this much where they fit.
const ENLARGED: f64 = 3.0;

/// An enlarged label is no higher than this, mm, unless it is so at true size.
const HIGHEST_MM: f64 = 150.0;

/// From an enlarged label to the edge of its ground, mm: room for numbers.
const ROOM_MM: f64 = 4.5;

/// The most labels shown enlarged, those first that something was found on: more would only make the picture
/// slow to open, and the page for a browser enlarges every one.
const MOST_ENLARGED: usize = 60;

/// The most findings listed; a longer list is read in the browser.
const MOST_LISTED: usize = 200;

impl SurfacePicture<'_> {
    /// All rows of the pictures, from top to bottom.
    pub(super) fn rows(&mut self) -> Vec<PictureRow> {
        let mut head = PictureRow::of_height(2.5);
        self.write(&mut head, Level::Title, self.shown.title(), 0.0);
        let under = format!("{}, as seen on {}", self.job.spec.title, self.shown.description());
        self.write(&mut head, Level::Quiet, &under, 0.0);
        head.height += 2.0;
        let mut rows = vec![head];
        rows.extend(self.true_size());
        rows.extend(self.enlarged());
        rows.extend(self.found());
        rows
    }

    /// The head of a section.
    fn section(&mut self, title: &str, note: &str) -> PictureRow {
        let mut row = PictureRow::of_height(6.0);
        self.write(&mut row, Level::Head, title, 0.0);
        self.write(&mut row, Level::Quiet, note, 0.0);
        row
    }

    /// All labels on one stretch of the surface.
    fn true_size(&mut self) -> Vec<PictureRow> {
        let note = "Printed at 100 %, the picture is as large as the labels are.";
        let mut rows = vec![self.section("At true size", note)];
        let designs = self.job.numbered(&self.shown.designs);
        let sized = designs.iter().map(|label| (label, label.1.size().size()));
        let shelves = shelves(sized, self.width - 2.0 * APRON_MM, GAP_MM);
        let last = shelves.len().saturating_sub(1);
        for (at, shelf) in shelves.iter().enumerate() {
            let above = if at == 0 { APRON_MM } else { GAP_MM / 2.0 };
            let below = if at == last { APRON_MM } else { GAP_MM / 2.0 };
            let height = above + shelf.height + below;
            // The ground of all rows but the last is a little higher than the row, so that no hairline opens
            // above the next one.
            let over = if at == last { 0.0 } else { 0.2 };
            let body = self.ground(Size::new(self.width, height + over));
            let mut row = PictureRow { body, ..PictureRow::of_height(height) };
            for cell in &shelf.boxes {
                let (index, design) = *cell.item;
                let down = above + (shelf.height - design.size().height()) / 2.0;
                let corner = Point::new(APRON_MM + cell.left, down);
                draw_label(&mut row.body, index, design, corner, 1.0);
                row.labels.push(index);
            }
            rows.push(row);
        }
        rows
    }

    /// The surface under labels.
    fn ground(&self, size: Size) -> String {
        let (width, height) = (fixed(size.width, 3), fixed(size.height, 3));
        let colour = self.shown.ground();
        // Where the labels are on paper, a line shows where it ends.
        let line = match self.shown.surface {
            Some(_) => "",
            None => " stroke=\"#c4c9cd\" stroke-width=\".2\"",
        };
        format!(
            "<path class=\"ground\" fill=\"{colour}\"{line} d=\"M0 0h{width}v{height}h-{width}z\"/>"
        )
    }

    /// The labels one by one, enlarged, with the numbers of what was found on them.
    fn enlarged(&mut self) -> Vec<PictureRow> {
        /// Names, sizes and scale, over a label.
        const CAPTION_MM: f64 = 8.0;
        /// The least width for a caption.
        const NARROWEST_MM: f64 = 56.0;
        let chosen = self.job.numbered(&self.to_enlarge());
        let note = match self.shown.designs.len() - chosen.len() {
            0 => "Numbers are those of the list below.".to_owned(),
            more => format!("{more} more labels are enlarged on the page for a browser."),
        };
        let mut rows = vec![self.section("Enlarged", &note)];
        let sized = chosen.into_iter().map(|(index, design)| {
            let label = Enlarged::of(index, design, self.width);
            let ground = label.ground();
            (label, Size::new(ground.width.max(NARROWEST_MM), ground.height))
        });
        for shelf in shelves(sized, self.width, GAP_MM) {
            let mut row = PictureRow::of_height(CAPTION_MM + shelf.height + GAP_MM);
            let out = &mut row.body;
            for cell in shelf.boxes {
                let label = cell.item;
                let Enlarged { index, design, scale } = label;
                row.labels.push(index);
                let _ = write!(out, "<g transform=\"translate({} 0)\">", fixed(cell.left, 3));
                self.write_first_line(out, Level::Strong, &design.name, 2.0, cell.width);
                let caption = format!("{}, shown {} x", self.job.caption(design), fixed(scale, 1));
                self.write_first_line(out, Level::Quiet, &caption, 5.4, cell.width);
                let _ = write!(out, "<g transform=\"translate(0 {})\">", fixed(CAPTION_MM, 3));
                out.push_str(&self.ground(label.ground()));
                draw_label(out, index, design, Point::new(ROOM_MM, ROOM_MM), scale);
                self.draw_pins(out, &label);
                out.push_str("</g></g>");
            }
            rows.push(row);
        }
        rows
    }

    /// The labels shown enlarged, in their order.
    fn to_enlarge(&self) -> Vec<usize> {
        let found: BTreeSet<usize> = self.pins.iter().map(|pin| pin.design).collect();
        let (with, without): (Vec<usize>, Vec<usize>) =
            self.shown.designs.iter().partition(|index| found.contains(index));
        let mut chosen: Vec<usize> = with.into_iter().chain(without).take(MOST_ENLARGED).collect();
        chosen.sort_unstable();
        chosen
    }

    /// The numbered marks of what was found on a label.
    fn draw_pins(&mut self, out: &mut String, label: &Enlarged<'_>) {
        let corner = label.design.size().origin();
        let place = |pin: &Pin<'_>| {
            let spot = pin.at.map(|at| (at - corner) * label.scale);
            Point::new(ROOM_MM, ROOM_MM) + spot.unwrap_or_default()
        };
        let own = self.pins.iter().filter(|pin| pin.design == label.index);
        for (pin, at, before) in side_by_side(own, place, 0) {
            let has_spot = pin.at.is_some();
            if has_spot && before == 0 {
                let (x, y) = (fixed(at.x, 3), fixed(at.y, 3));
                for (colour, line) in [("#ffffff", ".7"), ("#1c2126", ".25")] {
                    let _ = write!(
                        out,
                        "<circle cx=\"{x}\" cy=\"{y}\" r=\"1.5\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{line}\"/>"
                    );
                }
            }
            let beside = Point::new(at.x + 3.4 + 5.4 * f64::from(before), at.y - 3.0);
            let middle = if has_spot { beside } else { at };
            self.draw_badge(out, pin.finding.severity, pin.index + 1, middle);
        }
    }

    /// The findings on the labels shown: number, what it is and what to do.
    fn found(&mut self) -> Vec<PictureRow> {
        /// Where the words start, mm.
        const INDENT_MM: f64 = 9.0;
        let note = match self.pins.len().saturating_sub(MOST_LISTED) {
            _ if self.pins.is_empty() => "None on these labels.".to_owned(),
            0 => "A round mark is a note, a triangle a warning, an octagon an error.".to_owned(),
            more => format!("The first {MOST_LISTED}; {more} more are in the page for a browser."),
        };
        let mut rows = vec![self.section("Findings", &note)];
        for pin in self.pins.iter().take(MOST_LISTED) {
            let mut row = PictureRow::of_height(2.6);
            let (finding, middle) = (pin.finding, Point::new(3.5, 4.0));
            self.draw_badge(&mut row.body, finding.severity, pin.index + 1, middle);
            let label = finding.label.as_deref().unwrap_or_default();
            let title = format!(
                "{} {} on {label}: {}",
                finding.severity.word(),
                finding.code,
                finding.message
            );
            self.write(&mut row, Level::Body, &title, INDENT_MM);
            self.write(&mut row, Level::Quiet, &finding.help, INDENT_MM);
            row.height = (row.height + 1.0).max(8.0);
            rows.push(row);
        }
        rows
    }
}

/// A label to be shown enlarged.
struct Enlarged<'a> {
    index: usize,
    design: &'a Design,
    scale: f64,
}

impl<'a> Enlarged<'a> {
    fn of(index: usize, design: &'a Design, width: f64) -> Enlarged<'a> {
        let size = design.size();
        let fits = ((width - 2.0 * ROOM_MM) / size.width()).min(HIGHEST_MM / size.height());
        // In halves: a scale to be named.
        let scale = ((ENLARGED.min(fits) * 2.0).floor() / 2.0).max(1.0);
        Enlarged { index, design, scale }
    }

    /// The ground it lies on.
    fn ground(&self) -> Size {
        self.design.size().size() * self.scale + Size::new(2.0 * ROOM_MM, 2.0 * ROOM_MM)
    }
}
