//! A page as SVG: one unit is one millimetre, one group a layer, one group a label with its name.
//!
//! Layers are `ink`, `cut` (the trims as thin lines, switched off) and `marks`. A label that stands on the
//! page more than once is drawn once, as a `<g>` in `<defs>`, and placed by `<use>`: a plain group is what
//! every editor and browser can place and take apart again, while a `<symbol>` brings a viewport and clips
//! by default. Letters are outlines: no font is needed to open the file.

mod outline;

pub(crate) use outline::path_data;

use super::{About, MADE_BY, Page, Placed, xml_text};
use crate::colour::Colour;
use crate::design::{Design, Mark, Plate};
use crate::units::fixed;
use ::svg::Document;
use ::svg::node::element::{Definitions, Description, Group, Path, Title, Use};
use ::svg::node::{Node, Text};
use kurbo::Affine;
use std::collections::{BTreeMap, BTreeSet};

/// What every SVG file of ours starts with.
pub(crate) fn file_head() -> String {
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- Made by {MADE_BY} -->\n")
}

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
    let repeated = repeated(designs, page);
    let (width, height) = (fixed(page.size.width, 3), fixed(page.size.height, 3));
    let mut document = Document::new()
        .set("xmlns:xlink", "http://www.w3.org/1999/xlink")
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .add(Title::new(xml_text(&about.title)));
    if !about.subject.is_empty() {
        document.append(Description::new().add(Text::new(xml_text(&about.subject))));
    }
    if !repeated.is_empty() {
        document.append(drawn_once(&repeated));
    }
    if let Some(white) = white(designs, page) {
        document.append(white);
    }
    document.append(ink(designs, page, names, &repeated));
    document.append(cut(designs, page, &repeated));
    document.append(with_marks(layer("marks"), &page.marks));
    format!("{}{document}\n", file_head())
}

/// Designs that stand on the page more than once, by their number.
type Repeated<'a> = BTreeMap<usize, &'a Design>;

fn repeated<'a>(designs: &'a [Design], page: &Page<'_>) -> Repeated<'a> {
    let mut seen = BTreeSet::new();
    let placed = page.placed_designs(designs).map(|(placed, design)| (placed.design, design));
    placed.filter(|(index, _)| !seen.insert(*index)).collect()
}

/// The designs that are placed more than once, and their trims.
fn drawn_once(repeated: &Repeated<'_>) -> Definitions {
    let mut definitions = Definitions::new();
    for (index, design) in repeated {
        let group = Group::new().set("id", format!("design-{index}"));
        definitions.append(with_marks(group, &design.marks));
        if !design.trim.is_empty() {
            definitions.append(trim(design).set("id", format!("trim-{index}")));
        }
    }
    definitions
}

/// The layer with every label on it, each a group with its name.
fn ink(designs: &[Design], page: &Page<'_>, names: &[String], repeated: &Repeated<'_>) -> Group {
    let mut ink = layer("ink");
    for (at, (placed, design)) in page.placed_designs(designs).enumerate() {
        let name = xml_text(names.get(at).unwrap_or(&design.name));
        let label = Group::new()
            .set("id", format!("label-{}{}", at + 1, id_part(&design.name)))
            .set("aria-label", name.as_str())
            .add(Title::new(name));
        ink.append(if repeated.contains_key(&placed.design) {
            label.add(used("design", placed))
        } else {
            with_marks(moved(label, placed.transform), &design.marks)
        });
    }
    ink
}

/// The layer with the white of every label, under the ink whenever it is printed: white over it would hide it.
fn white(designs: &[Design], page: &Page<'_>) -> Option<Group> {
    let whites = page.placed_designs(designs).filter_map(|(placed, design)| {
        let white = design.white.as_ref()?;
        let mut path = Path::new().set("d", path_data(&white.path));
        if white.tint < 1.0 {
            path.assign("fill-opacity", fixed(white.tint, 3).to_string());
        }
        Some(moved(path, placed.transform))
    });
    let mut whites = whites.peekable();
    whites.peek()?;
    Some(whites.fold(layer("white").set("fill", Colour::WHITE.to_string()), Group::add))
}

/// The layer with every trim; switched off, for the person who opens the file to switch on.
fn cut(designs: &[Design], page: &Page<'_>, repeated: &Repeated<'_>) -> Group {
    let mut cut = layer("cut")
        .set("style", "display:none")
        .set("fill", "none")
        .set("stroke", GUIDE)
        .set("stroke-width", fixed(TRIM_LINE_MM, 3).to_string());
    let trims = page.placed_designs(designs).filter(|(_, design)| !design.trim.is_empty());
    for (placed, design) in trims {
        if repeated.contains_key(&placed.design) {
            cut.append(used("trim", placed));
        } else {
            cut.append(moved(trim(design), placed.transform));
        }
    }
    cut
}

/// Adds marks to a group in painting order, one inner group for each run of marks of one plate.
fn with_marks(mut group: Group, marks: &[Mark]) -> Group {
    for (plate, paths) in plate_runs(marks) {
        let (name, fill) = match plate {
            Plate::Ink(colour) => (format!("ink {colour}"), colour.to_string()),
            Plate::Guide | Plate::Cut => ("guide".to_owned(), GUIDE.to_owned()),
        };
        let inner = Group::new().set("data-plate", name).set("fill", fill);
        group.append(paths.fold(inner, |inner, path| inner.add(Path::new().set("d", path))));
    }
    group
}

/// The printed marks in painting order: for each run of marks of one plate, that plate and their path data.
pub(crate) fn plate_runs(
    marks: &[Mark],
) -> impl Iterator<Item = (Plate, impl Iterator<Item = String>)> {
    marks.chunk_by(|a, b| a.plate == b.plate).filter_map(|run| {
        let plate = run.first()?.plate;
        let drawn = run.iter().filter(|mark| !mark.path.is_empty());
        (plate != Plate::Cut).then(|| (plate, drawn.map(|mark| path_data(&mark.path))))
    })
}

fn trim(design: &Design) -> Path {
    Path::new().set("d", path_data(&design.trim))
}

fn layer(name: &str) -> Group {
    Group::new().set("id", name).set("aria-label", name)
}

/// A placing of something drawn once. `xlink:href` is the form both SVG 1.1 and SVG 2 readers follow.
fn used(kind: &str, placed: &Placed) -> Use {
    let link = format!("#{kind}-{}", placed.design);
    moved(Use::new().set("xlink:href", link), placed.transform)
}

/// A node with its transform attribute, where that changes anything.
fn moved<N: Node>(mut node: N, by: Affine) -> N {
    let matrix = matrix(by);
    let upright = matrix.strip_prefix("matrix(1 0 0 1 ");
    if upright != Some("0 0)") {
        node.assign("transform", upright.map_or(matrix.clone(), |by| format!("translate({by}")));
    }
    node
}

/// A transform as an attribute: offsets with three decimals (µm), the rest with six.
pub(crate) fn matrix(by: Affine) -> String {
    let [a, b, c, d, x, y] = by.as_coeffs();
    let [a, b, c, d] = [a, b, c, d].map(|share| fixed(share, 6));
    format!("matrix({a} {b} {c} {d} {} {})", fixed(x, 3), fixed(y, 3))
}

/// A name as the tail of an XML id: `-run-left`; empty when nothing of it can stand there.
fn id_part(name: &str) -> String {
    let words = name.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    words.map(|word| format!("-{word}")).collect()
}

#[cfg(test)]
mod tests;
