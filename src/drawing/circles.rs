//! Circles of a drawing, for drill patterns: every painted path that is one, whatever element drew it.

use super::outlines::{affine, bez, page_size, to_page, tree};
use super::page::Page;
use super::{Refused, gate, svg_text};
use kurbo::{Affine, ParamCurve as _, Point, Shape as _, Size};
use usvg::roxmltree::Document;
use usvg::{Group, Node, Path};

/// How far a path may stray from a circle, as a share of its radius: what programs draw with four curves
/// strays by 0.03 %, a polygon of sixteen sides by 2 %.
const ROUND: f64 = 0.002;

/// A circle on the drawing's page, mm from its top left corner, y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct DrawnCircle {
    pub middle: Point,
    pub radius: f64,
}

/// The circles of a drawing, only those within the group of this id or label when one is given, and the
/// page they lie on.
///
/// # Errors
/// All that stands against the drawing.
pub(crate) fn circles(
    bytes: &[u8],
    layer: Option<&str>,
) -> Result<(Vec<DrawnCircle>, Page, Size), Vec<Refused>> {
    let text = svg_text(bytes, "leave only the holes in it")?;
    let document = gate::passed(text, gate::Notes::PassedOver)?;
    let page = Page::of(document.root_element());
    let tree = tree(&document)?;
    let size = page_size(&tree, page);
    let wanted = layer.map(|layer| ids(&document, layer));
    if wanted.as_ref().is_some_and(Vec::is_empty) {
        let what = format!("it has no group called {:?}", layer.unwrap_or_default());
        return Err(Refused::whole(what, "correct `layer`, or leave it out"));
    }
    let mut found = Vec::new();
    let corner = Affine::translate(size.to_vec2() / 2.0) * to_page(&tree, page);
    walk(tree.root(), wanted.as_deref(), corner, &mut found);
    Ok((found, page, size))
}

/// Ids of the groups that are called so, by id or by a program's label.
fn ids(document: &Document<'_>, layer: &str) -> Vec<String> {
    let groups = document.descendants().filter(|node| node.tag_name().name() == "g");
    let called = groups.filter(|node| {
        node.attributes().any(|one| ["id", "label"].contains(&one.name()) && one.value() == layer)
    });
    called.filter_map(|node| Some(node.attribute("id")?.to_owned())).collect()
}

/// Gathers circles; `wanted` is `None` where every circle counts.
fn walk(group: &Group, wanted: Option<&[String]>, to_page: Affine, found: &mut Vec<DrawnCircle>) {
    let inside = wanted.filter(|ids| !ids.iter().any(|id| id == group.id()));
    for node in group.children() {
        match node {
            Node::Group(inner) => walk(inner, inside, to_page, found),
            Node::Path(path) if inside.is_none() => found.extend(circle(path, to_page)),
            Node::Path(_) | Node::Image(_) | Node::Text(_) => {}
        }
    }
}

/// The circle a path is, if it is one closed round.
fn circle(path: &Path, to_page: Affine) -> Option<DrawnCircle> {
    let by = to_page * affine(path.abs_transform());
    let outline = by * bez(path);
    let bounds = outline.bounding_box();
    let (middle, radius) = (bounds.center(), bounds.width() / 2.0);
    let round = |at: Point| ((at - middle).hypot() / radius - 1.0).abs() < ROUND;
    let mut steps =
        outline.segments().flat_map(|one| (0..8).map(move |n| one.eval(f64::from(n) / 8.0)));
    // Half a circle has the width but not the height of one.
    let full = (bounds.height() / bounds.width() - 1.0).abs() < ROUND;
    (radius > 0.0 && full && steps.all(round)).then_some(DrawnCircle { middle, radius })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn svg(body: &str) -> String {
        format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="160mm" height="90mm" viewBox="0 0 320 180">{body}</svg>"#
        )
    }

    #[test]
    fn circles_are_found_by_shape_and_layer_in_millimetres() {
        // Two units to the millimetre by the viewBox (SVG 2, 8.2); the second circle is shifted by its group.
        let body = r#"<circle cx="40" cy="60" r="7" fill="none" stroke="red"/>
            <g id="drill"><g transform="translate(100 20)"><ellipse cx="20" cy="20" rx="10" ry="10"/>
            <path d="M 0 0 a 5 5 0 1 0 10 0 a 5 5 0 1 0 -10 0 z"/>
            <rect width="9" height="9"/><ellipse cx="5" cy="5" rx="4" ry="3"/></g></g>"#;
        let (all, page, size) = circles(svg(body).as_bytes(), None).unwrap();
        assert_eq!((page, size), (Page::Sized(160.0, 90.0), Size::new(160.0, 90.0)));
        assert_eq!(all.len(), 3);
        let (some, ..) = circles(svg(body).as_bytes(), Some("drill")).unwrap();
        let near = |one: &DrawnCircle, x: f64, y: f64, r: f64| {
            (one.middle - Point::new(x, y)).hypot() < 1e-3 && (one.radius - r).abs() < 1e-3
        };
        assert!(near(&some[0], 60.0, 20.0, 5.0) && near(&some[1], 52.5, 10.0, 2.5), "{some:?}");
        assert!(near(&all[0], 20.0, 30.0, 3.5));
        // Notes to the drawing are no holes, and no reason to refuse it.
        let noted = svg(&format!("{body}<text x=\"4\" y=\"9\">4 x M3</text>"));
        assert_eq!(circles(noted.as_bytes(), None).unwrap().0.len(), 3);
        assert!(circles(svg(body).as_bytes(), Some("holes")).is_err());
    }
}
