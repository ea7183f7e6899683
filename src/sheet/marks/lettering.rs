//! Lettering and lines for the waste: set once, used as often as wanted.

use crate::colour::Colour;
use crate::design::{Mark, Plate, Role, Words};
use crate::finding::{Findings, Place};
use crate::font::Faces;
use crate::shape::Outline;
use crate::sheet::{Sheet, SheetContext};
use crate::spec::{Align, Paint, PartId, Text, TextSize};
use crate::text;
use kurbo::{Affine, Point, Rect};
use std::collections::BTreeMap;
use std::rc::Rc;

/// Space after each letter as a share of the cap height: what the condensed face needs.
const TRACKING: f64 = 0.10;

/// How many lines of words are remembered; those of the foot and the bars come again on every sheet.
const MOST_KNOWN: usize = 200;

/// A line of words with a cap height of 1 mm; its origin is its left end, half way up the capitals.
#[derive(Debug, Default)]
pub(super) struct Lettering {
    pub(super) text: String,
    outline: Outline,
    /// Bounds of the ink.
    pub(super) ink: Rect,
    /// Advance width.
    pub(super) width: f64,
}

/// Which way words read on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reads {
    /// As the sheet lies there.
    Plain,
    /// Backwards, until seen from behind or applied.
    Mirrored,
    /// Turned to read upwards.
    Upwards,
}

/// Sets words in the small face of the waste.
pub(super) struct LetteringSetter<'a> {
    faces: &'a Faces,
    place: Place,
    known: BTreeMap<String, Rc<Lettering>>,
}

impl<'a> LetteringSetter<'a> {
    pub(super) fn new(context: &SheetContext<'a>) -> LetteringSetter<'a> {
        let place = context.spec.sheet.place;
        LetteringSetter { faces: context.faces, place, known: BTreeMap::new() }
    }

    /// A line of words, set now or known from before.
    pub(super) fn set(&mut self, words: &str) -> Rc<Lettering> {
        if let Some(known) = self.known.get(words) {
            return Rc::clone(known);
        }
        let wanted = Text {
            tracking: TRACKING,
            place: self.place,
            ..one_line(words.to_owned(), "condensed", 1.0)
        };
        // A sign the small face lacks is no fault of the job: the label that has it reports it.
        let block = text::set(self.faces, &wanted, &mut Findings::default());
        let lettering = Rc::new(Lettering {
            text: words.to_owned(),
            ink: block.outline.bounds(),
            width: block.area().width(),
            outline: block.outline,
        });
        if self.known.len() >= MOST_KNOWN {
            self.known.clear();
        }
        self.known.insert(words.to_owned(), Rc::clone(&lettering));
        lettering
    }

    /// The words if they are at most `width` cap heights wide, else their beginning, an ellipsis and
    /// `end`; `None` when not even three letters fit.
    pub(super) fn shortened(
        &mut self,
        words: &str,
        end: &str,
        width: f64,
    ) -> Option<Rc<Lettering>> {
        let whole = self.set(&format!("{words}{end}"));
        if whole.width <= width {
            return Some(whole);
        }
        let mut kept: Vec<char> = words.chars().collect();
        while kept.len() > 3 {
            kept.pop();
            let beginning: String = kept.iter().collect();
            let short = self.set(&format!("{}…{end}", beginning.trim_end()));
            if short.width <= width {
                return Some(short);
            }
            // Cut to about the right length at once, then letter by letter.
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                clippy::cast_precision_loss,
                reason = "a share of a count of letters"
            )]
            let near = (kept.len() as f64 * width / short.width) as usize + 1;
            kept.truncate(near.max(3));
        }
        None
    }
}

/// A line of words as wide as it comes, flush left, in black.
pub(crate) fn one_line(words: String, font: &str, cap_mm: f64) -> Text {
    Text {
        lines: vec![words],
        font: font.to_owned(),
        size: TextSize::CapHeight(cap_mm),
        tracking: 0.0,
        line_pitch: 1.5,
        align: Align::Left,
        width: None,
        spread: None,
        arc: None,
        tabular: false,
        paint: Paint::Ink(Colour::BLACK),
        place: Place::default(),
    }
}

/// The guide marks of one sheet, by kind.
pub(super) struct GuideDrawing {
    pub(super) lines: Outline,
    pub(super) ticks: Outline,
    letters: Outline,
    words: Vec<Words>,
    place: Place,
}

impl GuideDrawing {
    pub(super) fn new(place: Place) -> GuideDrawing {
        let empty = Outline::default;
        GuideDrawing { lines: empty(), ticks: empty(), letters: empty(), words: Vec::new(), place }
    }

    /// Writes words so that their ink starts flush at `at`.
    pub(super) fn write_flush(&mut self, words: &Lettering, at: Point, cap: f64, reads: Reads) {
        let bearing = match reads {
            Reads::Plain | Reads::Upwards => words.ink.x0,
            Reads::Mirrored => words.width - words.ink.x1,
        };
        self.write(words, Point::new(at.x - bearing * cap, at.y), cap, reads);
    }

    /// Adds a shape that overlaps no other line.
    pub(super) fn line(&mut self, shape: &Outline) {
        self.lines = std::mem::take(&mut self.lines).beside(shape);
    }

    /// Writes words with their base line starting at `at` (read upwards: the base line runs up from there).
    pub(super) fn write(&mut self, words: &Lettering, at: Point, cap: f64, reads: Reads) {
        if words.outline.is_empty() {
            return;
        }
        let long = words.width * cap;
        let (x, y) = (at.x - cap / 2.0, at.y - cap / 2.0);
        let across = Point::new(at.x + long / 2.0, y);
        let (place, middle, turned_deg) = match reads {
            Reads::Plain => ([cap, 0.0, 0.0, cap, at.x, y], across, 0.0),
            Reads::Mirrored => ([-cap, 0.0, 0.0, cap, at.x + long, y], across, 0.0),
            Reads::Upwards => {
                ([0.0, -cap, cap, 0.0, x, at.y], Point::new(x, at.y - long / 2.0), 270.0)
            }
        };
        let letters = words.outline.placed(Affine::new(place));
        self.letters = std::mem::take(&mut self.letters).beside(&letters);
        self.words.push(Words {
            text: words.text.clone(),
            area: Rect::from_center_size(middle, (long, cap)),
            turned_deg,
            cap_height_mm: cap,
            reversed: false,
            part: PartId::default(),
            from: self.place,
        });
    }

    /// Puts everything onto the sheet.
    pub(super) fn onto(self, sheet: &mut Sheet) {
        let kinds =
            [(self.lines, Role::Line), (self.ticks, Role::Line), (self.letters, Role::Text)];
        for (path, role) in kinds {
            if !path.is_empty() {
                // Grown letter by letter, it holds memory for up to twice as much as it has: give that back.
                let path = path.snug();
                let (part, from) = (PartId::default(), self.place);
                sheet.marks.push(Mark { path, plate: Plate::Guide, role, part, from });
            }
        }
        sheet.words.extend(self.words);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::testing::spec;

    fn drawn(faces: &Faces, reads: Reads) -> GuideDrawing {
        let spec = spec(0);
        let words = LetteringSetter::new(&SheetContext::new(&spec, &[], faces)).set("RUN");
        let mut drawing = GuideDrawing::new(Place::default());
        drawing.write(&words, Point::new(30.0, 40.0), 2.0, reads);
        drawing
    }

    #[test]
    fn mirrored_words_are_the_plain_ones_seen_from_behind() {
        let faces = Faces::bundled();
        let (plain, mirrored) = (drawn(&faces, Reads::Plain), drawn(&faces, Reads::Mirrored));
        let middle = plain.words[0].area.center().x;
        let seen = Affine::new([-1.0, 0.0, 0.0, 1.0, 2.0 * middle, 0.0]);
        let seen = mirrored.letters.placed(seen);
        let (seen_bounds, bounds) = (seen.bounds(), plain.letters.bounds());
        assert!(
            (seen_bounds.x0 - bounds.x0).abs() < 1e-9 && (seen_bounds.x1 - bounds.x1).abs() < 1e-9
        );
        assert!((seen.area() - plain.letters.area()).abs() < 1e-9);
        assert!(seen.common(&plain.letters).area() > 0.999 * seen.area());
        assert!(mirrored.letters.common(&plain.letters).area() < 0.9 * seen.area());
    }

    #[test]
    fn words_stand_on_their_base_line_with_their_cap_height() {
        let bounds = drawn(&Faces::bundled(), Reads::Plain).letters.bounds();
        // R and N are flat capitals, U dips a little below the base line.
        assert!((bounds.y0 - 38.0).abs() < 0.02, "{bounds:?}");
        assert!((40.0..40.1).contains(&bounds.y1), "{bounds:?}");
    }

    #[test]
    fn long_words_are_shortened_to_their_room() {
        let (faces, spec) = (Faces::bundled(), spec(0));
        let mut setter = LetteringSetter::new(&SheetContext::new(&spec, &[], &faces));
        let short = setter.shortened("harbour-light-east", " 1/2", 8.0).unwrap();
        assert!(short.width <= 8.0 && short.text.ends_with("… 1/2"), "{}", short.text);
        assert_eq!(setter.shortened("run", "", 99.0).unwrap().text, "run");
        assert!(setter.shortened("harbour-light-east", "", 0.5).is_none());
    }
}
