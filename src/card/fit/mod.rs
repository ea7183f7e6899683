//! The fit print: every panel at true size on plain paper, to tape on the part before film is spent.
//!
//! A panel larger than the paper is spread over pages that butt against each other at marked edges. After
//! the drawing comes the list of holes, to check against the part.

mod draw;
mod holes;
#[cfg(test)]
mod tests;
mod tiles;

use super::Card;
use super::page::{self, RUNNING_MM};
use super::strip::{Rule, Strip};
use super::typeset::{Level, Typesetter};
use crate::design::Design;
use crate::font::Faces;
use crate::output::{Page, Placed};
use crate::shape;
use crate::spec::panel::Panel;
use crate::spec::{Profile, Spec};
use kurbo::{Affine, Point, Rect, Size, Vec2};
use tiles::{Tile, Tiling};

/// White round the drawing, mm: narrower than a form's, wider than any home printer needs.
const MARGIN_MM: f64 = 10.0;
/// Kept for the head and for the measuring line and foot, mm.
const HEAD_MM: f64 = 13.0;
const FOOT_MM: f64 = 27.0;

/// Fills the fit print of all panels.
pub(super) fn fill(spec: &Spec, designs: &[Design], faces: &Faces) -> Card {
    let mut setter = Typesetter::new(faces, 0);
    let mut front = Vec::new();
    let mut strips = Vec::new();
    for (number, panel) in spec.panels.iter().enumerate() {
        let on_it: Vec<&Design> = designs
            .iter()
            .filter(|design| design.on_panel.is_some_and(|on| on.panel == number))
            .collect();
        front.extend(drawing(spec, panel, &on_it, &mut setter));
        strips.extend(holes::list(spec, panel, &mut setter));
    }
    let pages = page::bind(spec, front, strips, &mut setter);
    Card { pages, drawings: setter.into_drawings() }
}

/// The pages one panel is drawn on.
fn drawing(
    spec: &Spec,
    panel: &Panel,
    designs: &[&Design],
    setter: &mut Typesetter<'_>,
) -> Vec<Page<'static>> {
    let drawn = draw::panel(spec, panel, designs, setter);
    let tiling = Tiling::of(drawn.area, page::paper(spec), room);
    let mut pages = Vec::new();
    for tile in &tiling.tiles {
        let name = format!("{} fit {}", panel.name, tile.number);
        let clip = shape::rectangle(tile.part);
        let within = |path: &shape::Outline| {
            let inside = path.bounds().union(tile.part) == tile.part;
            if inside { path.clone() } else { path.common(&clip) }
        };
        let near = drawn.paths.iter().filter(|(path, _)| path.bounds().overlaps(tile.part));
        let paths = near.map(|(path, colour)| (within(path), *colour));
        let paths = paths.filter(|(path, _)| !path.is_empty()).collect();
        let design = setter.keep_all(&name, paths);
        let mut page = Page {
            has_white: false,
            size: tiling.paper,
            placed: vec![Placed { design, transform: Affine::translate(tile.shift) }],
            marks: Vec::new().into(),
            words: Vec::new(),
        };
        let mut strip = Strip::default();
        for (line, at) in drawn.lines.iter().filter(|(_, at)| tile.part.contains(*at)) {
            strip.write_line(line, Level::Quiet, *at + tile.shift);
        }
        if let Some((line, at)) = drawn.height.as_ref().filter(|(_, at)| tile.part.contains(*at)) {
            strip.write_upwards(line, Level::Quiet, *at + tile.shift);
        }
        let profile = spec.printer.profile.as_ref();
        head((panel, profile), (tile, &tiling), &mut strip, setter);
        strip.lay(&mut page, Vec2::ZERO);
        pages.push(page);
    }
    pages
}

/// The room for the drawing on paper of this size.
fn room(paper: Size) -> Rect {
    Rect::new(MARGIN_MM, HEAD_MM, paper.width - MARGIN_MM, paper.height - FOOT_MM - 3.0)
}

/// What stands round the drawing: what to do, which page this is, a line to measure.
fn head(
    (panel, profile): (&Panel, Option<&Profile>),
    (tile, tiling): (&Tile, &Tiling),
    strip: &mut Strip,
    setter: &mut Typesetter<'_>,
) {
    let of = tiling.tiles.len();
    let what = if of > 1 {
        format!("Fit print of {}, part {} of {of}", panel.name, tile.number)
    } else {
        format!("Fit print of {}", panel.name)
    };
    let mut right =
        "plain paper, 100 %, no scaling; tape it on the part and try the holes".to_owned();
    if of > 1 {
        right.push_str("; cut at the broken lines and butt the parts together");
    }
    let at = Point::new(MARGIN_MM, RUNNING_MM - 4.5);
    for line in setter.lines(Level::Strong, &what, 80.0).get(..1).unwrap_or_default() {
        strip.write_line(line, Level::Strong, at);
    }
    let width = tiling.paper.width - 2.0 * MARGIN_MM;
    for line in setter.lines(Level::Quiet, &right, width - 60.0).get(..1).unwrap_or_default() {
        let x = MARGIN_MM + width - line.width;
        strip.write_line(line, Level::Quiet, Point::new(x, at.y));
    }
    // A hundred millimetres to measure on this very page.
    let y = tiling.paper.height - FOOT_MM;
    let (x0, x1) = (MARGIN_MM, MARGIN_MM + 100.0);
    strip.rule(Rule::Strong, y - 0.15, x0, x1);
    for x in [x0, x1] {
        let end = Rect::new(x - 0.15, y - 1.5, x + 0.15, y + 1.5);
        strip.fill(shape::rectangle(end), super::typeset::DARK);
    }
    let measure = setter.phrase(Level::Quiet, "100 mm: measure it before you trust this page");
    strip.write_line(&measure, Level::Quiet, Point::new(x1 + 3.0, y - 0.95));
    if let Some(words) = profile.and_then(Profile::words) {
        for line in setter.lines(Level::Quiet, &words, width).get(..1).unwrap_or_default() {
            strip.write_line(line, Level::Quiet, Point::new(x0, y + 3.0));
        }
    }
    for edge in tile.joints(tiling) {
        for dash in draw::dashes(edge) {
            strip.fill(dash.placed(Affine::translate(tile.shift)), super::typeset::QUIET);
        }
    }
}
