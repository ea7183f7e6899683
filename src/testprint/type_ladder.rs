//! The type page: capitals from 0.8 to 3.0 mm in ink and in clear, for each face.

use super::Error;
use super::page_writer::PageWriter;
use crate::card::strip::Rule;
use crate::card::typeset::Level;
use crate::colour::Colour;
use crate::finding::Findings;
use crate::font::Faces;
use crate::shape::{Outline, rounded};
use crate::sheet::one_line;
use crate::text;
use kurbo::{Affine, Point, Rect};

/// Cap heights of the ladder, mm.
const CAPS: [f64; 12] = [0.8, 0.9, 1.0, 1.1, 1.2, 1.4, 1.6, 1.8, 2.0, 2.2, 2.5, 3.0];

/// Letters and figures that are taken for each other when they fill in; as many words as there is room for.
const SAMPLE: [&str; 6] = ["BUOY", "38B", "5S", "eao", "017", "RESET"];

/// For the figures at the left, mm.
const FIGURES_MM: f64 = 11.0;

/// For the words under the last ladder, mm.
const ADVICE_MM: f64 = 24.0;

/// Air above and below a line's capitals, mm.
const AIR_MM: f64 = 1.15;

/// Room for a face's name over its ladder, mm.
const NAME_MM: f64 = 90.0;

pub(super) fn fill(
    names: &[String],
    faces: &Faces,
    page: &mut PageWriter<'_>,
) -> Result<(), Error> {
    if let Some(unknown) = names.iter().find(|name| faces.find(name).is_none()) {
        return Err(Error::Font(unknown.clone()));
    }
    let mut top = head(page);
    let ladder: f64 = CAPS.iter().map(|cap| cap + 2.0 * AIR_MM).sum();
    let area = page.area();
    for name in names {
        // Words under the last ladder need room as well.
        if top + 8.0 + ladder > area.y1 - ADVICE_MM {
            advice(page, top);
            page.next_page();
            top = head(page);
        }
        top = face(name, faces, top, page) + 5.0;
    }
    advice(page, top);
    Ok(())
}

fn head(page: &mut PageWriter<'_>) -> f64 {
    page.head(
        "Test print: type",
        "Print at 100 %, no scaling: on plain paper first, then on the film with its own settings. Read it at the \
         distance you will read the labels from.",
    ) + 2.0
}

fn advice(page: &mut PageWriter<'_>, top: f64) {
    let rows = [
        ("smallest_cap", "The smallest line in ink whose every letter you can tell."),
        ("smallest_cap_reversed", "The same of the clear lines."),
    ];
    page.advice(&rows, top);
}

/// One face's ladder; returns its bottom, mm.
fn face(name: &str, faces: &Faces, top: f64, page: &mut PageWriter<'_>) -> f64 {
    let area = page.area();
    let half = (area.width() - FIGURES_MM) / 2.0;
    let (ink, clear) = (area.x0 + FIGURES_MM, area.x0 + FIGURES_MM + half);
    let at = Point::new(area.x0, top);
    page.strips.set_first(1, Level::Head, name, at, NAME_MM);
    page.strips.strip.rule(Rule::Thin, top + 4.4, area.x0, area.x1);
    let words = words(name, faces, half - 6.0);
    let block_top = top + 6.4;
    let mut y = block_top;
    let mut letters = Vec::new();
    for cap in CAPS {
        let middle = y + AIR_MM + cap / 2.0;
        page.write_beside(Level::Quiet, &format!("{cap:.1}"), area.x0, middle);
        let outline = sample(name, &words, cap, faces);
        let at = |x: f64| outline.placed(Affine::translate((x, middle)));
        page.fill(at(ink), Colour::BLACK);
        letters.push(at(clear + 3.0));
        y += cap + 2.0 * AIR_MM;
    }
    let block = rounded(Rect::new(clear, block_top, area.x1, y), 1.0);
    let block = letters.iter().fold(block, |block, line| block.minus(line));
    page.fill(block, Colour::BLACK);
    y
}

/// The words of the sample whose largest line fits this width, mm; the first in any case.
fn words(font: &str, faces: &Faces, width: f64) -> String {
    let largest = CAPS.iter().copied().fold(0.0, f64::max);
    let fits = |words: &String| sample(font, words, largest, faces).bounds().x1 <= width;
    let first = |count: usize| SAMPLE.iter().take(count).copied().collect::<Vec<_>>().join(" ");
    (2..=SAMPLE.len()).rev().map(first).find(fits).unwrap_or_else(|| first(1))
}

/// The sample from its left end and the middle of its capitals.
fn sample(font: &str, words: &str, cap: f64, faces: &Faces) -> Outline {
    let text = one_line(words.to_owned(), font, cap);
    text::set(faces, &text, &mut Findings::default()).outline
}
