//! A page as SVG: one unit is one millimetre, one group a layer, one group a label with its name.
//!
//! Layers are `ink`, `cut` (the trims as thin lines, switched off) and `marks`. A label that stands on the
//! page more than once is drawn once, as a `<g>` in `<defs>`, and placed by `<use>`: a plain group is what
//! every editor and browser can place and take apart again, while a `<symbol>` brings a viewport and clips
//! by default. Letters are outlines: no font is needed to open the file.

mod outline;

pub(crate) use outline::path_data;

use super::{About, Page, Placed};
use crate::colour::Colour;
use crate::design::{Design, Mark, Plate};
use crate::units::fixed;
use ::svg::Document;
use ::svg::node::element::{Definitions, Description, Group, Path, Title, Use};
use kurbo::Affine;
use std::collections::BTreeSet;

/// The line near the top of every SVG file of ours, by which we know it again.
pub(crate) const MADE_BY: &str = "<!-- Made by decalwright -->";

/// Colour of guides: plain black, so that they cost one cartridge only.
const GUIDE: &str = "#000000";

/// Line width of the trims on the cut layer, mm. Only to be seen: a knife follows the middle.
const TRIM_LINE_MM: f64 = 0.1;

/// One page as an SVG document.
///
/// `names` says what each of `page.placed` is ("run 1/2"), in the same order; where it is short, the
/// design's own name stands in.
#[must_use]
pub(crate) fn write(
    about: &About,
    designs: &[Design],
    page: &Page<'_>,
    names: &[String],
) -> String {
    let repeated = repeated(page);
    let (width, height) = (fixed(page.size.width, 3), fixed(page.size.height, 3));
    let mut document = Document::new()
        .set("xmlns:xlink", "http://www.w3.org/1999/xlink")
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(Title::new(plain(&about.title)));
    if !about.subject.is_empty() {
        document =
            document.add(Description::new().add(::svg::node::Text::new(plain(&about.subject))));
    }
    if !repeated.is_empty() {
        document = document.add(drawn_once(designs, &repeated));
    }
    if let Some(white) = white(designs, page) {
        document = document.add(white);
    }
    document = document
        .add(ink(designs, page, names, &repeated))
        .add(cut(designs, page, &repeated))
        .add(runs(&page.marks, layer("marks")));
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{MADE_BY}\n{document}\n")
}

/// Designs that stand on the page more than once.
fn repeated(page: &Page<'_>) -> BTreeSet<usize> {
    let mut seen = BTreeSet::new();
    page.placed.iter().map(|placed| placed.design).filter(|design| !seen.insert(*design)).collect()
}

/// The designs that are placed more than once, and their trims.
fn drawn_once(designs: &[Design], repeated: &BTreeSet<usize>) -> Definitions {
    let mut definitions = Definitions::new();
    for index in repeated {
        let Some(design) = designs.get(*index) else { continue };
        let drawn = Group::new().set("id", format!("design-{index}"));
        definitions = definitions.add(runs(&design.marks, drawn));
        if !design.trim.is_empty() {
            let trim = trim(design).set("id", format!("trim-{index}"));
            definitions = definitions.add(trim);
        }
    }
    definitions
}

/// The layer with every label on it, each a group with its name.
fn ink(designs: &[Design], page: &Page<'_>, names: &[String], repeated: &BTreeSet<usize>) -> Group {
    let mut ink = layer("ink");
    for (at, placed) in page.placed.iter().enumerate() {
        let Some(design) = designs.get(placed.design) else { continue };
        let name = plain(names.get(at).unwrap_or(&design.name));
        let label = Group::new()
            .set("id", format!("label-{}{}", at + 1, id_part(&design.name)))
            .set("aria-label", name.as_str())
            .add(Title::new(name));
        ink = ink.add(if repeated.contains(&placed.design) {
            label.add(used("design", placed))
        } else {
            runs(&design.marks, transformed(label, placed.transform))
        });
    }
    ink
}

/// The layer with the white of every label, under the ink whenever it is printed: white over it would hide it.
fn white(designs: &[Design], page: &Page<'_>) -> Option<Group> {
    let whites = page.placed.iter().filter_map(|placed| {
        let white = designs.get(placed.design)?.white.as_ref()?;
        let path = Path::new().set("d", path_data(&white.path));
        let path = if white.tint < 1.0 {
            path.set("fill-opacity", fixed(white.tint, 3).to_string())
        } else {
            path
        };
        Some(match matrix(placed.transform) {
            Some(matrix) => path.set("transform", matrix),
            None => path,
        })
    });
    let mut whites = whites.peekable();
    whites.peek()?;
    Some(whites.fold(layer("white").set("fill", Colour::WHITE.to_string()), Group::add))
}

/// The layer with every trim; switched off, for the person who opens the file to switch on.
fn cut(designs: &[Design], page: &Page<'_>, repeated: &BTreeSet<usize>) -> Group {
    let mut cut = layer("cut")
        .set("style", "display:none")
        .set("fill", "none")
        .set("stroke", GUIDE)
        .set("stroke-width", fixed(TRIM_LINE_MM, 3).to_string());
    for placed in &page.placed {
        let Some(design) = designs.get(placed.design) else { continue };
        if design.trim.is_empty() {
            continue;
        }
        cut = if repeated.contains(&placed.design) {
            cut.add(used("trim", placed))
        } else {
            let path = trim(design);
            match matrix(placed.transform) {
                Some(matrix) => cut.add(path.set("transform", matrix)),
                None => cut.add(path),
            }
        };
    }
    cut
}

/// Adds marks to a group in painting order, one inner group for each run of marks of one plate.
fn runs(marks: &[Mark], mut group: Group) -> Group {
    for run in marks.chunk_by(|a, b| a.plate == b.plate) {
        let Some(plate) = run.first().map(|mark| mark.plate) else { continue };
        let (name, fill) = match plate {
            Plate::Ink(colour) => (format!("ink {colour}"), colour.to_string()),
            Plate::Cut => continue,
            Plate::Guide => ("guide".to_owned(), GUIDE.to_owned()),
        };
        let mut inner = Group::new().set("data-plate", name).set("fill", fill);
        for mark in run.iter().filter(|mark| !mark.path.is_empty()) {
            inner = inner.add(Path::new().set("d", path_data(&mark.path)));
        }
        group = group.add(inner);
    }
    group
}

fn trim(design: &Design) -> Path {
    Path::new().set("d", path_data(&design.trim))
}

fn layer(name: &str) -> Group {
    Group::new().set("id", name).set("aria-label", name)
}

/// A placing of something drawn once. `xlink:href` is the form both SVG 1.1 and SVG 2 readers follow.
fn used(kind: &str, placed: &Placed) -> Use {
    let link = Use::new().set("xlink:href", format!("#{kind}-{}", placed.design));
    match matrix(placed.transform) {
        Some(matrix) => link.set("transform", matrix),
        None => link,
    }
}

fn transformed(group: Group, by: Affine) -> Group {
    match matrix(by) {
        Some(matrix) => group.set("transform", matrix),
        None => group,
    }
}

/// The transform attribute; `None` when it changes nothing.
fn matrix(by: Affine) -> Option<String> {
    let [a, b, c, d, x, y] = by.as_coeffs();
    let (x, y) = (fixed(x, 3), fixed(y, 3));
    let turn = [a, b, c, d].map(|share| fixed(share, 6).to_string());
    let [a, b, c, d] = &turn;
    let upright = turn == ["1", "0", "0", "1"];
    match (upright, x.to_string(), y.to_string()) {
        (true, x, y) if x == "0" && y == "0" => None,
        (true, x, y) => Some(format!("translate({x} {y})")),
        (false, x, y) => Some(format!("matrix({a} {b} {c} {d} {x} {y})")),
    }
}

/// A name as the tail of an XML id: `-run-left`; empty when nothing of it can stand there.
fn id_part(name: &str) -> String {
    let mut part = String::new();
    for word in name.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()) {
        part.push('-');
        part.push_str(word);
    }
    part
}

/// The text without characters that XML 1.0 cannot hold (section 2.2, "Char"), each shown as U+FFFD.
fn plain(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\t' | '\n' | '\r' => ' ',
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
            other => other,
        })
        .collect()
}

#[cfg(test)]
mod tests;
