//! Where the knife goes, and how ink gets past it or stays inside it.

use super::element::FrameShape;
use super::piece::{Drawn, Rim, bounds};
use crate::shape::{self, Outline};
use crate::spec::{Edge, Film, Label};
use kurbo::{BezPath, PathEl, Point, Rect};

/// Bleed where a filled box meets white film and nothing was said: hand-cut bleed (common practice, no source).
const USUAL_BLEED_MM: f64 = 1.0;

/// Clear film left round the ink when nothing was said (common practice, no source).
const USUAL_BORDER_MM: f64 = 1.0;

/// Two edges nearer than this are the same edge: a tenth of what a 1200 dpi printer can tell apart.
const SAME_EDGE_MM: f64 = 0.002;

/// The trim of a label, and how far ink may run past it.
#[derive(Debug)]
pub(super) struct Edges {
    pub(super) trim: Outline,
    pub(super) bleed_mm: f64,
}

/// Works out the trim, and runs ink that ends at it out into the bleed.
pub(super) fn finish(label: &Label, drawn: &mut Drawn) -> Edges {
    let base_frame = base_frame(label, drawn);
    let edge = match label.edge {
        Edge::Usual => usual(label, base_frame.as_ref()),
        said => said,
    };
    let base = Base { frame: base_frame, rect: base_rect(label, drawn), label };
    match edge {
        Edge::FilmBorder(border) if label.size.is_none() => {
            Edges { trim: base.outline(border), bleed_mm: 0.0 }
        }
        // With a fixed size the border lies inside it.
        Edge::FilmBorder(border) => Edges { trim: base.sized(border), bleed_mm: 0.0 },
        Edge::Bleed(bleed) => {
            let trim = base.outline(0.0);
            if bleed > 0.0 {
                run_out(drawn, &base, &trim, bleed);
            }
            keep_inside(drawn, &base.outline(bleed));
            Edges { trim, bleed_mm: bleed }
        }
        Edge::Usual => {
            debug_assert!(false, "the usual edge was chosen above");
            Edges { trim: base.outline(0.0), bleed_mm: 0.0 }
        }
    }
}

/// What a box without a size of its own must fill when the label's size is fixed.
pub(super) fn room(label: &Label) -> Option<kurbo::Size> {
    let border = match label.edge {
        Edge::FilmBorder(border) => border,
        Edge::Bleed(_) | Edge::Usual => 0.0,
    };
    let size = label.size?;
    Some(kurbo::Size::new(
        (size.width - 2.0 * border).max(0.0),
        (size.height - 2.0 * border).max(0.0),
    ))
}

/// The shape the trim is made from: a box's own, or a rectangle.
struct Base<'a> {
    frame: Option<FrameShape>,
    rect: Rect,
    label: &'a Label,
}

impl Base<'_> {
    /// The outline, its edge moved outwards.
    fn outline(&self, by_mm: f64) -> Outline {
        match &self.frame {
            Some(frame) => frame.outline(by_mm),
            None => {
                let corner = match (self.label.corner, self.label.size) {
                    (Some(corner), _) => corner + by_mm.min(0.0),
                    (None, Some(_)) => 0.0,
                    // Film corners as round as the border is wide: sharp ones lift first.
                    (None, None) => by_mm,
                };
                shape::rounded(self.rect.inflate(by_mm, by_mm), corner.max(0.0))
            }
        }
    }

    /// The outline of a label of fixed size, a film border outside its box.
    fn sized(&self, border_mm: f64) -> Outline {
        match &self.frame {
            Some(frame) => frame.outline(border_mm),
            None => self.outline(0.0),
        }
    }
}

/// The lowest box that holds everything else: the trim follows it.
fn base_frame(label: &Label, drawn: &Drawn) -> Option<FrameShape> {
    let all = bounds(&drawn.pieces);
    let wanted = room(label);
    drawn
        .frames
        .iter()
        .find(|frame| {
            let outline = frame.outline(SAME_EDGE_MM).bounds();
            match wanted {
                Some(size) => (frame.rect.size() - size).to_vec2().hypot() < SAME_EDGE_MM,
                None => outline.union(all) == outline,
            }
        })
        .cloned()
}

fn base_rect(label: &Label, drawn: &Drawn) -> Rect {
    if let Some(size) = label.size {
        return Rect::from_center_size(Point::ORIGIN, size);
    }
    let ink = bounds(&drawn.pieces);
    // Capitals' box and ink: a row of labels then has borders of one height wherever it can.
    if drawn.area.is_zero_area() { ink } else { ink.union(drawn.area) }
}

fn usual(label: &Label, base: Option<&FrameShape>) -> Edge {
    match (base, label.film) {
        (Some(frame), Film::White | Film::Sticker | Film::Paper) if frame.inked => {
            Edge::Bleed(USUAL_BLEED_MM)
        }
        // A box that is only an outline, or a size, is the trim itself.
        (Some(frame), _) if !frame.bordered => Edge::Bleed(0.0),
        (None, _) if label.size.is_some() => Edge::Bleed(0.0),
        // An overlay is as large as its plate, whatever lies on it.
        _ if label.overlay_of().is_some() => Edge::Bleed(0.0),
        _ => Edge::FilmBorder(USUAL_BORDER_MM),
    }
}

/// Runs ink and clear areas that end at the trim out into the bleed.
fn run_out(drawn: &mut Drawn, base: &Base<'_>, trim: &Outline, bleed_mm: f64) {
    let grown = base.outline(bleed_mm);
    let edges = trim.bounds();
    for piece in &mut drawn.pieces {
        let of_base = |rim: &&Rim| base.frame.as_ref().is_some_and(|frame| frame.part == rim.of);
        if let Some(rim) = piece.rim.as_ref().filter(of_base) {
            piece.outline = grown.minus(&rim.hollow);
        } else if !piece.is_read() {
            piece.outline = stretched(&piece.outline, edges, bleed_mm);
        }
    }
}

/// Upright rectangles that end at the trim's bounds, made longer by the bleed on those sides.
fn stretched(outline: &Outline, edges: Rect, bleed_mm: f64) -> Outline {
    let touches = |a: f64, b: f64| (a - b).abs() < SAME_EDGE_MM;
    let mut path = BezPath::new();
    let mut changed = false;
    for contour in outline.contours() {
        let Some(mut rect) = upright_rectangle(&contour) else {
            path.extend(contour);
            continue;
        };
        for (side, edge, by) in [
            (&mut rect.x0, edges.x0, -bleed_mm),
            (&mut rect.y0, edges.y0, -bleed_mm),
            (&mut rect.x1, edges.x1, bleed_mm),
            (&mut rect.y1, edges.y1, bleed_mm),
        ] {
            if touches(*side, edge) {
                *side += by;
                changed = true;
            }
        }
        path.extend(shape::rectangle(rect).elements());
    }
    if changed { Outline::of(&path) } else { outline.clone() }
}

/// The rectangle a contour draws, when it is an upright one and no hole.
fn upright_rectangle(contour: &BezPath) -> Option<Rect> {
    use kurbo::Shape as _;
    let corners: Option<Vec<Point>> = contour
        .elements()
        .iter()
        .filter(|element| **element != PathEl::ClosePath)
        .map(|element| match element {
            PathEl::MoveTo(point) | PathEl::LineTo(point) => Some(*point),
            PathEl::QuadTo(..) | PathEl::CurveTo(..) | PathEl::ClosePath => None,
        })
        .collect();
    let rect = contour.bounding_box();
    let at_corner = |point: &Point| {
        let near = |value: f64, a: f64, b: f64| (value - a).abs().min((value - b).abs()) < 1e-9;
        near(point.x, rect.x0, rect.x1) && near(point.y, rect.y0, rect.y1)
    };
    let upright = corners?.iter().all(at_corner) && (contour.area() - rect.area()).abs() < 1e-6;
    upright.then_some(rect)
}

/// Takes off ink beyond the bleed: what reaches further is meant to be cut through.
fn keep_inside(drawn: &mut Drawn, limit: &Outline) {
    for piece in &mut drawn.pieces {
        // Text cut through by the knife is a finding, not a design: leave it for the check to see.
        if !piece.is_read() && !piece.outline.is_empty() {
            piece.outline = piece.outline.common(limit);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_upright_rectangles_are_taken_for_rectangles() {
        let rect = Rect::new(1.0, 2.0, 5.0, 3.0);
        assert_eq!(upright_rectangle(&shape::rectangle(rect).path()), Some(rect));
        assert_eq!(upright_rectangle(&shape::rounded(rect, 0.2).path()), None);
        let turned = shape::rectangle(rect).placed(super::super::piece::turn(45.0));
        assert_eq!(upright_rectangle(&turned.path()), None);
    }

    #[test]
    fn a_stripe_across_the_label_runs_out_at_both_ends_only() {
        let stripe = shape::rectangle(Rect::new(-10.0, -1.0, 10.0, 1.0));
        let edges = Rect::new(-10.0, -4.0, 10.0, 4.0);
        let longer = stretched(&stripe, edges, 0.5).bounds();
        assert!((longer.width() - 21.0).abs() < 1e-9 && (longer.height() - 2.0).abs() < 1e-9);
    }
}
