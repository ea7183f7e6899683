//! Pages as bytes, one file a format.
//!
//! A [`Page`] is what every format writes: designs placed on it, and marks of its own.

pub(crate) mod layout;
pub(crate) mod pdf;
pub(crate) mod png;
pub(crate) mod svg;

#[cfg(test)]
pub(crate) mod samples;

use crate::design::{Design, Mark, Words};
use crate::known::item;
use crate::sheet::Sheet;
use kurbo::{Affine, Rect, Size};
use std::borrow::{Borrow, Cow};

/// Our name in every file, by which we know it again.
pub(crate) const MADE_BY: &str = "decalwright";

/// What a file says about itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct About {
    /// Title of the document.
    pub title: String,
    /// Revision and date as given in the spec, for the document's subject.
    pub subject: String,
}

/// One placing of a design on a page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Which design: an index into the list the pages go with.
    pub design: usize,
    /// From the design's frame to the page's, in mm.
    pub transform: Affine,
}

/// A page: a film sheet, or a page of the placement list.
#[derive(Clone, Debug, PartialEq)]
pub struct Page<'a> {
    /// Width and height in mm.
    pub size: Size,
    /// The designs on it, painted in order.
    pub placed: Vec<Placed>,
    /// Marks of the page itself, painted after the designs on the marks layer.
    pub marks: Cow<'a, [Mark]>,
    /// The words among `marks`, for searching.
    pub words: Vec<Words>,
    /// Whether the white under the designs is printed in the same pass, as a plate of its own.
    pub has_white: bool,
}

impl<'p> Page<'p> {
    /// What is placed on it, each with its design, in painting order.
    pub fn placed_designs<'d, D: Borrow<Design>>(
        &'p self,
        designs: &'d [D],
    ) -> impl Iterator<Item = (&'p Placed, &'d Design)> {
        let find = |placed: &'p Placed| Some((placed, item(designs, placed.design)?.borrow()));
        self.placed.iter().filter_map(find)
    }
}

impl Page<'_> {
    /// The page a film sheet is printed as.
    #[must_use]
    pub fn of_sheet(sheet: &Sheet) -> Page<'_> {
        let placed = sheet
            .placements
            .iter()
            .map(|placement| Placed { design: placement.design, transform: placement.transform() });
        Page {
            size: sheet.paper.size,
            placed: placed.collect(),
            marks: if sheet.registration.is_empty() {
                Cow::Borrowed(&sheet.marks)
            } else {
                Cow::Owned([sheet.marks.as_slice(), &sheet.registration].concat())
            },
            words: sheet.words.clone(),
            has_white: sheet.white.is_some() && !sheet.fed_twice,
        }
    }

    /// The page of a film sheet's white, printed in a pass of its own: black in the file is white on the film.
    #[must_use]
    pub fn of_white(sheet: &Sheet) -> Page<'_> {
        Page {
            marks: Cow::Borrowed(&sheet.registration),
            words: Vec::new(),
            has_white: false,
            ..Page::of_sheet(sheet)
        }
    }
}

/// A design's searchable words where a page shows them: never mirrored, whatever the placing is.
///
/// A placing turns and scales the words about the middle of their area, so that areas stay upright.
#[must_use]
pub(crate) fn words_on<D: Borrow<Design>>(page: &Page<'_>, designs: &[D]) -> Vec<Words> {
    let mut all = page.words.clone();
    for (placed, design) in page.placed_designs(designs) {
        all.extend(design.words.iter().map(|words| words_at(placed.transform, words)));
        let codes = design.codes.iter();
        all.extend(codes.map(|code| words_at(placed.transform, &code.as_words())));
    }
    all
}

fn words_at(transform: Affine, words: &Words) -> Words {
    let mirrored = transform.determinant() < 0.0;
    // A flip about the vertical axis before turning: what was turned clockwise is now turned back.
    let (turn, turned_deg) = if mirrored {
        (transform * Affine::FLIP_X, -words.turned_deg)
    } else {
        (transform, words.turned_deg)
    };
    let [a, b, ..] = turn.as_coeffs();
    let scale = transform.determinant().abs().sqrt();
    let middle = transform * words.area.center();
    Words {
        area: Rect::from_center_size(middle, words.area.size() * scale),
        turned_deg: turned_deg + libm::atan2(b, a).to_degrees(),
        cap_height_mm: words.cap_height_mm * scale,
        ..words.clone()
    }
}

/// A text on one line, each character that XML 1.0 cannot hold (section 2.2, "Char") as U+FFFD.
pub(crate) fn xml_text(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\t' | '\n' | '\r' => ' ',
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
            other => other,
        })
        .collect()
}
