//! The fit print: every panel at true size on plain paper, to tape on the part before film is spent.
//!
//! A panel larger than the paper is spread over pages that butt against each other at marked edges. After
//! the drawing comes the list of holes, to check against the part.

mod draw;
mod holes;
mod page_parts;
#[cfg(test)]
mod tests;

use super::Card;
use super::page::{self, Binder, RUNNING_MM};
use super::strip::{Rule, StripWriter};
use super::typeset::{DARK, Level, QUIET};
use crate::design::Design;
use crate::font::Faces;
use crate::output::{Page, Placed};
use crate::shape;
use crate::spec::panel::Panel;
use crate::spec::{Profile, Spec};
use kurbo::{Affine, Point, Rect, Size};
use page_parts::spread;

/// White round the drawing, mm: narrower than a form's, wider than any home printer needs.
const MARGIN_MM: f64 = 10.0;
/// Kept for the head and for the measuring line and foot, mm.
const HEAD_MM: f64 = 13.0;
const FOOT_MM: f64 = 27.0;

/// The fit print of the job's panels: each at true size in lines, on as many pages as it needs, and the list
/// of its holes.
///
/// It places no designs of the job: the drawings are numbered from 0.
#[must_use]
pub(crate) fn fit_pages(spec: &Spec, designs: &[Design], faces: &Faces) -> Card {
    let mut writer = StripWriter::new(faces, 0, page::width(spec));
    let mut front = Vec::new();
    let mut strips = Vec::new();
    for (number, panel) in spec.panels.iter().enumerate() {
        let is_on_it = |design: &&Design| design.on_panel.is_some_and(|on| on.panel == number);
        let on_it: Vec<&Design> = designs.iter().filter(is_on_it).collect();
        front.extend(drawing(spec, panel, &on_it, &mut writer));
        strips.extend(holes::list(panel, &mut writer));
    }
    let mut binder = Binder::new(spec, front);
    for strip in strips {
        binder.add(strip);
    }
    binder.bound(spec, writer)
}

/// The pages one panel is drawn on.
fn drawing(
    spec: &Spec,
    panel: &Panel,
    designs: &[&Design],
    writer: &mut StripWriter<'_>,
) -> Vec<Page<'static>> {
    let drawn = draw::panel(spec, panel, designs, &mut writer.setter);
    let (paper, parts) = spread(drawn.area, page::paper(spec), room);
    let mut pages = Vec::new();
    for page in &parts {
        let clip = shape::rectangle(page.part);
        let within = |path: &shape::Outline| {
            let inside = path.bounds().union(page.part) == page.part;
            if inside { path.clone() } else { path.common(&clip) }
        };
        let near = drawn.paths.iter().filter(|(path, _)| path.bounds().overlaps(page.part));
        let paths = near.map(|(path, colour)| (within(path), *colour));
        let paths = paths.filter(|(path, _)| !path.is_empty()).collect();
        let name = format!("{} fit {}", panel.name, page.number);
        let design = writer.setter.keep_all(&name, paths);
        let transform = Affine::translate(page.shift);
        writer.strip.placed.push(Placed { design, transform });
        for (line, at) in drawn.lines.iter().filter(|(_, at)| page.part.contains(*at)) {
            writer.strip.write_line(line, Level::Quiet, *at + page.shift);
        }
        if let Some((line, at)) = drawn.height.as_ref().filter(|(_, at)| page.part.contains(*at)) {
            writer.strip.write_upwards(line, Level::Quiet, *at + page.shift);
        }
        let which = (parts.len() > 1).then(|| format!(", part {} of {}", page.number, parts.len()));
        head(&panel.name, which.as_deref(), paper.width, writer);
        foot(spec.printer.profile.as_ref(), paper, writer);
        for (from, to) in &page.joints {
            for dash in draw::dashes(*from, *to) {
                writer.strip.fill(dash.placed(transform), QUIET);
            }
        }
        pages.push(writer.take().into_page(paper));
    }
    pages
}

/// The room for the drawing on paper of this size.
fn room(paper: Size) -> Rect {
    Rect::new(MARGIN_MM, HEAD_MM, paper.width - MARGIN_MM, paper.height - FOOT_MM - 3.0)
}

/// What stands over the drawing: which page this is, and what to do; `part` when there are several.
fn head(panel: &str, part: Option<&str>, paper_width: f64, writer: &mut StripWriter<'_>) {
    let what = format!("Fit print of {panel}{}", part.unwrap_or_default());
    let mut how =
        "plain paper, 100 %, no scaling; tape it on the part and try the holes".to_owned();
    if part.is_some() {
        how.push_str("; cut at the broken lines and butt the parts together");
    }
    let at = Point::new(MARGIN_MM, RUNNING_MM - 4.5);
    writer.set_first(1, Level::Strong, &what, at, 80.0);
    let width = paper_width - 2.0 * MARGIN_MM;
    if let Some(line) = writer.setter.lines(Level::Quiet, &how, width - 60.0).first() {
        let x = MARGIN_MM + width - line.width;
        writer.strip.write_line(line, Level::Quiet, Point::new(x, at.y));
    }
}

/// What stands under the drawing: a hundred millimetres to measure on this very page, and what its printer's
/// profile corrects.
fn foot(profile: Option<&Profile>, paper: Size, writer: &mut StripWriter<'_>) {
    let y = paper.height - FOOT_MM;
    let (x0, x1) = (MARGIN_MM, MARGIN_MM + 100.0);
    writer.strip.rule(Rule::Strong, y - 0.15, x0, x1);
    for x in [x0, x1] {
        let end = Rect::new(x - 0.15, y - 1.5, x + 0.15, y + 1.5);
        writer.strip.fill(shape::rectangle(end), DARK);
    }
    let measure = "100 mm: measure it before you trust this page";
    writer.phrase(Level::Quiet, measure, Point::new(x1 + 3.0, y - 0.95), 0.0);
    if let Some(words) = profile.and_then(Profile::words) {
        let width = paper.width - 2.0 * MARGIN_MM;
        writer.set_first(1, Level::Quiet, &words, Point::new(x0, y + 3.0), width);
    }
}
