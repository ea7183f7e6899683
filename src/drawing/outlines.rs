//! From usvg's tree to filled outlines in millimetres.

use super::page::Page;
use super::{ArtShape, Artwork, Refused};
use crate::colour::Colour;
use crate::shape::{CURVE_ERROR_MM, Outline, rectangle};
use kurbo::{Affine, BezPath, Cap, Join, PathEl, Point, Rect, Shape as _, Size, Stroke};
use usvg::tiny_skia_path::PathSegment;
use usvg::{
    BlendMode, FillRule, Group, ImageHrefResolver, LineCap, LineJoin, Node, Paint, PaintOrder,
    Path, Transform, Tree, roxmltree::Document,
};

/// The most segments of a drawing; real logos have a few thousand.
const MOST_SEGMENTS: usize = 60_000;

/// The most pairs of segments of one shape whose boxes meet: what the sweep has to look at.
const MOST_MEETINGS: usize = 400_000;

/// The most dashes of one stroke.
const MOST_DASHES: f64 = 5_000.0;

const SIMPLER: &str = "simplify its paths";

/// usvg's tree of a drawing; nothing but the drawing is read.
pub(super) fn tree(document: &Document<'_>) -> Result<Tree, Vec<Refused>> {
    let options = usvg::Options {
        image_href_resolver: ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    };
    Tree::from_xmltree(document, &options).map_err(|_| {
        Refused::whole("its page has no size and no viewBox", "give it a width, height and viewBox")
    })
}

fn drawn_size(tree: &Tree) -> Size {
    Size::new(f64::from(tree.size().width()), f64::from(tree.size().height()))
}

/// The page's width and height, mm; in units of its own where it has no size.
pub(super) fn page_size(tree: &Tree, page: Page) -> Size {
    match page {
        Page::Sized(width, height) | Page::Unitless(width, height) => Size::new(width, height),
        Page::Open => drawn_size(tree),
    }
}

/// From the tree's frame to the page's, mm, its middle at the origin.
pub(super) fn to_page(tree: &Tree, page: Page) -> Affine {
    let (drawn, size) = (drawn_size(tree), page_size(tree, page));
    Affine::translate(-size.to_vec2() / 2.0)
        * Affine::scale_non_uniform(size.width / drawn.width, size.height / drawn.height)
}

/// All painted shapes, the page's middle at the origin.
pub(super) fn artwork(document: &Document<'_>, page: Page) -> Result<Artwork, Vec<Refused>> {
    let tree = tree(document)?;
    let (drawn, size, to_page) = (drawn_size(&tree), page_size(&tree, page), to_page(&tree, page));
    // A page without a size is made some centimetres large: curves are taken as exactly as there.
    let error = CURVE_ERROR_MM * if page == Page::Open { drawn.max_side() / 50.0 } else { 1.0 };
    let paper = Rect::from_center_size(Point::ORIGIN, size);
    let mut reading = Reading { to_page, error, segments: 0, shapes: Vec::new() };
    reading.group(tree.root(), None).map_err(|refused| vec![refused])?;
    let mut shapes = reading.shapes;
    for shape in &mut shapes {
        let bounds = shape.outline.bounds();
        if bounds.union(paper) != paper {
            shape.outline = shape.outline.common(&rectangle(paper));
        }
    }
    shapes.retain(|shape| !shape.outline.is_empty());
    if shapes.is_empty() {
        let help = "check that its shapes have a fill or stroke";
        return Err(Refused::whole("it draws nothing", help));
    }
    let silhouette = silhouette(&shapes);
    Ok(Artwork { size, shapes, silhouette })
}

/// The shapes in one colour, joined in as few sweeps as their order allows.
fn silhouette(shapes: &[ArtShape]) -> Option<Outline> {
    let all_white = shapes.iter().all(|shape| shape.colour == Colour::WHITE);
    let open = |shape: &ArtShape| shape.colour == Colour::WHITE && !all_white;
    let mut drawn = Outline::default();
    for run in shapes.chunk_by(|one, next| open(one) == open(next)) {
        let mut path = BezPath::new();
        for shape in run {
            path.extend(shape.outline.elements());
        }
        if meets_often(&path) {
            return None;
        }
        let joined = if let [only] = run { only.outline.clone() } else { Outline::of(&path) };
        drawn =
            if run.first().is_some_and(open) { drawn.minus(&joined) } else { drawn.union(&joined) };
    }
    Some(drawn)
}

struct Reading {
    to_page: Affine,
    error: f64,
    segments: usize,
    shapes: Vec<ArtShape>,
}

fn refused(what: impl Into<String>, help: &'static str) -> Refused {
    Refused::new(0, what, help)
}

pub(super) fn affine(by: Transform) -> Affine {
    Affine::new([by.sx, by.ky, by.kx, by.sy, by.tx, by.ty].map(f64::from))
}

impl Reading {
    fn group(&mut self, group: &Group, clip: Option<&Outline>) -> Result<(), Refused> {
        if group.opacity().get() < 1.0 || group.blend_mode() != BlendMode::Normal {
            return Err(refused(
                "a group is see-through or blended",
                "flatten it to plain colours",
            ));
        }
        if group.mask().is_some() || !group.filters().is_empty() {
            return Err(refused("a group has a mask or filter", "cut the shapes themselves"));
        }
        let own = match group.clip_path() {
            Some(path) => Some(self.clip(path, affine(group.abs_transform()), clip)?),
            None => None,
        };
        for node in group.children() {
            match node {
                Node::Group(inner) => self.group(inner, own.as_ref().or(clip))?,
                Node::Path(path) => self.path(path, own.as_ref().or(clip))?,
                Node::Image(_) | Node::Text(_) => {
                    return Err(refused("it holds text or a picture", "convert it to paths"));
                }
            }
        }
        Ok(())
    }

    /// The region a clip path leaves, inside the region that is left already.
    fn clip(
        &mut self,
        path: &usvg::ClipPath,
        user: Affine,
        outer: Option<&Outline>,
    ) -> Result<Outline, Refused> {
        let user = user * affine(path.transform());
        let mut region = Outline::default();
        self.clip_shapes(path.root(), user, &mut region)?;
        if let Some(also) = path.clip_path() {
            region = region.common(&self.clip(also, user, None)?);
        }
        Ok(outer.map_or_else(|| region.clone(), |outer| outer.common(&region)))
    }

    fn clip_shapes(
        &mut self,
        group: &Group,
        user: Affine,
        region: &mut Outline,
    ) -> Result<(), Refused> {
        for node in group.children() {
            match node {
                Node::Group(inner) => {
                    if inner.clip_path().is_some() {
                        let help = "cut the shapes themselves with path operations";
                        return Err(refused("a clip path is clipped itself", help));
                    }
                    self.clip_shapes(inner, user, region)?;
                }
                Node::Path(path) => {
                    if let Some(fill) = path.fill() {
                        let by = self.to_page * user * affine(path.abs_transform());
                        *region = region.union(&self.filled(&(by * bez(path)), fill.rule())?);
                    }
                }
                Node::Image(_) | Node::Text(_) => {}
            }
        }
        Ok(())
    }

    fn path(&mut self, path: &Path, clip: Option<&Outline>) -> Result<(), Refused> {
        if !path.is_visible() {
            return Ok(());
        }
        let by = self.to_page * affine(path.abs_transform());
        let fill = path.fill().map(|fill| (fill.paint(), fill.opacity().get()));
        let stroke = path.stroke().map(|stroke| (stroke.paint(), stroke.opacity().get()));
        let strokes_first = path.paint_order() == PaintOrder::StrokeAndFill;
        for stroking in [strokes_first, !strokes_first] {
            let Some((paint, opacity)) = (if stroking { stroke } else { fill }) else { continue };
            let Some(colour) = plain(paint, opacity)? else { continue };
            let outline = match (stroking, path.fill(), path.stroke()) {
                (true, _, Some(stroke)) => self.stroked(path, stroke, by)?,
                (false, Some(fill), _) => self.filled(&(by * bez(path)), fill.rule())?,
                _ => continue,
            };
            let outline = clip.map_or_else(|| outline.clone(), |clip| outline.common(clip));
            self.shapes.push(ArtShape { outline, colour });
        }
        Ok(())
    }

    fn filled(&mut self, path: &BezPath, rule: FillRule) -> Result<Outline, Refused> {
        self.afford(path)?;
        Ok(match rule {
            FillRule::NonZero => Outline::of(path),
            FillRule::EvenOdd => Outline::of_even_odd(path),
        })
    }

    fn stroked(
        &mut self,
        path: &Path,
        stroke: &usvg::Stroke,
        by: Affine,
    ) -> Result<Outline, Refused> {
        let style = Stroke::new(f64::from(stroke.width().get()))
            .with_miter_limit(f64::from(stroke.miterlimit().get()))
            .with_join(match stroke.linejoin() {
                LineJoin::Miter | LineJoin::MiterClip => Join::Miter,
                LineJoin::Round => Join::Round,
                LineJoin::Bevel => Join::Bevel,
            })
            .with_caps(match stroke.linecap() {
                LineCap::Butt => Cap::Butt,
                LineCap::Round => Cap::Round,
                LineCap::Square => Cap::Square,
            });
        let middle = bez(path);
        let dashes: Vec<f64> =
            stroke.dasharray().unwrap_or_default().iter().map(|dash| f64::from(*dash)).collect();
        let period: f64 = dashes.iter().sum();
        if !dashes.is_empty() && middle.perimeter(1.0) > period * MOST_DASHES {
            return Err(refused("a stroke has too many dashes", "make the dashes longer"));
        }
        self.afford(&middle)?;
        let style = style.with_dashes(f64::from(stroke.dashoffset()), dashes);
        // The error is asked for in the units of the path.
        let scale = by.determinant().abs().sqrt().max(1e-9);
        let wide = kurbo::stroke(middle, &style, &kurbo::StrokeOpts::default(), self.error / scale);
        self.filled(&(by * wide), FillRule::NonZero)
    }

    /// Refuses what would take the sweep too long.
    fn afford(&mut self, path: &BezPath) -> Result<(), Refused> {
        self.segments += path.elements().len();
        if self.segments > MOST_SEGMENTS {
            let what = format!("its paths have more than {MOST_SEGMENTS} segments");
            return Err(refused(what, SIMPLER));
        }
        if !path.elements().iter().all(finite) {
            return Err(refused("a path leads to infinity", SIMPLER));
        }
        if meets_often(path) {
            return Err(refused("a path crosses itself too often", SIMPLER));
        }
        Ok(())
    }
}

/// Whether the boxes of a path's segments meet so often that the sweep could take seconds.
fn meets_often(path: &BezPath) -> bool {
    let mut boxes: Vec<Rect> = path.segments().map(|one| one.bounding_box()).collect();
    boxes.sort_by(|a, b| a.x0.total_cmp(&b.x0));
    let mut meetings = 0;
    for (at, one) in boxes.iter().enumerate() {
        let others = boxes.iter().skip(at + 1).take_while(|other| other.x0 <= one.x1);
        for other in others {
            meetings += usize::from(other.y0 <= one.y1 && one.y0 <= other.y1);
        }
        if meetings > MOST_MEETINGS {
            return true;
        }
    }
    false
}

fn finite(element: &PathEl) -> bool {
    // More than 100 m from the page is a slip, and too far for the sweep to be exact.
    let near = |point: &Point| point.x.abs() < 1e5 && point.y.abs() < 1e5;
    match element {
        PathEl::MoveTo(a) | PathEl::LineTo(a) => near(a),
        PathEl::QuadTo(a, b) => near(a) && near(b),
        PathEl::CurveTo(a, b, c) => near(a) && near(b) && near(c),
        PathEl::ClosePath => true,
    }
}

/// The colour of a plain, opaque paint; `None` when it does not show at all.
fn plain(paint: &Paint, opacity: f32) -> Result<Option<Colour>, Refused> {
    let Paint::Color(colour) = paint else {
        let what = "a shape is filled with a gradient or pattern";
        return Err(refused(what, "fill it with one colour"));
    };
    if opacity <= 0.0 {
        return Ok(None);
    }
    if opacity < 1.0 {
        return Err(refused("a shape is see-through", "give it a plain, opaque colour"));
    }
    Ok(Some(Colour { rgb: [colour.red, colour.green, colour.blue] }))
}

/// A path's own data, in its own frame.
pub(super) fn bez(path: &Path) -> BezPath {
    let mut out = BezPath::new();
    let to =
        |point: usvg::tiny_skia_path::Point| Point::new(f64::from(point.x), f64::from(point.y));
    for segment in path.data().segments() {
        match segment {
            PathSegment::MoveTo(a) => out.move_to(to(a)),
            PathSegment::LineTo(a) => out.line_to(to(a)),
            PathSegment::QuadTo(a, b) => out.quad_to(to(a), to(b)),
            PathSegment::CubicTo(a, b, c) => out.curve_to(to(a), to(b), to(c)),
            PathSegment::Close => out.close_path(),
        }
    }
    out
}
