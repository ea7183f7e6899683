//! What elements draw, before edges and clear areas are worked out.

use super::element::FrameShape;
use super::{DrawnCode, Role, Words};
use crate::finding::Place;
use crate::shape::Outline;
use crate::spec::{Paint, PartId};
use kurbo::{Affine, Rect, Vec2};

/// Rounding that nobody can see or cut, mm.
pub(super) const SLACK_MM: f64 = 0.005;

/// One painted outline.
#[derive(Clone, Debug)]
pub(super) struct PaintedShape {
    pub(super) outline: Outline,
    pub(super) paint: Paint,
    pub(super) role: Role,
    /// The part that draws it; none for what the panel's holes draw.
    pub(super) part: PartId,
    pub(super) place: Place,
    /// The words it spells, when it is text.
    pub(super) words: Vec<Words>,
    /// The code it is, if it is one.
    pub(super) code: Option<DrawnCode>,
    /// Set when it reaches the edge of its part's box all round, so that bleed grows it with the box: what stays
    /// open inside, a border's inner edge, empty for a fill.
    pub(super) hollow: Option<Outline>,
}

/// The letters of one text part and the box they take up.
#[derive(Clone, Copy, Debug)]
pub(super) struct SetText {
    /// Bounds of the ink before turning, about the part's own point.
    pub(super) ink: Rect,
    /// From base line to cap height, over the widest line, before turning.
    pub(super) area: Rect,
    /// From the part's own frame to the label's.
    pub(super) to_label: Affine,
    pub(super) cap_height_mm: f64,
    pub(super) place: Place,
}

/// What a part draws.
#[derive(Clone, Debug, Default)]
pub(super) struct PartDrawing {
    pub(super) shapes: Vec<PaintedShape>,
    /// The box it takes up in a row, a column or a padded box; text counts from base line to cap height.
    pub(super) area: Rect,
    pub(super) frames: Vec<FrameShape>,
    pub(super) texts: Vec<SetText>,
}

impl PaintedShape {
    /// A shape that is neither read nor the edge of a box.
    pub(super) fn plain(outline: Outline, paint: Paint, role: Role, place: Place) -> PaintedShape {
        PaintedShape {
            outline,
            paint,
            role,
            part: PartId::default(),
            place,
            words: Vec::new(),
            code: None,
            hollow: None,
        }
    }

    /// Whether it is read, by people or machines: its shape is never changed to suit an edge.
    pub(super) fn is_read(&self) -> bool {
        !self.words.is_empty() || self.code.is_some()
    }

    /// The same in another frame; `words` moves each line of words along.
    pub(super) fn mapped(self, by: Affine, words: impl Fn(&Words) -> Words) -> PaintedShape {
        PaintedShape {
            outline: self.outline.placed(by),
            words: self.words.iter().map(words).collect(),
            code: self.code.map(|code| code.placed(by)),
            hollow: self.hollow.map(|hollow| hollow.placed(by)),
            ..self
        }
    }

    /// Whether it lays down ink; white is none on a printer without white.
    pub(super) fn inks(&self) -> bool {
        !self.paint.leaves_bare()
    }
}

impl PartDrawing {
    /// Shapes that take up as much as they reach.
    pub(super) fn of(shapes: Vec<PaintedShape>) -> PartDrawing {
        let area = bounds(&shapes);
        PartDrawing::taking_up(area, shapes)
    }

    /// Shapes that take up this area.
    pub(super) fn taking_up(area: Rect, shapes: Vec<PaintedShape>) -> PartDrawing {
        PartDrawing { shapes, area, ..PartDrawing::default() }
    }

    /// The same, turned clockwise about its own point and moved to `at`.
    pub(super) fn placed(self, at: Vec2, turned_deg: f64) -> PartDrawing {
        let by = Affine::translate(at) * turn(turned_deg);
        let words = |words: &Words| words.moved(by, words.turned_deg + turned_deg);
        self.mapped(by, |shape| shape.mapped(by, words))
    }

    /// The same, made this much larger across and down.
    pub(super) fn stretched(self, by: Vec2) -> PartDrawing {
        debug_assert!(by.x > 0.0 && by.y > 0.0, "a stretch never mirrors");
        let to = Affine::scale_non_uniform(by.x, by.y);
        let words = |words: &Words| Words {
            area: to.transform_rect_bbox(words.area),
            cap_height_mm: words.cap_height_mm * by.y,
            ..words.clone()
        };
        self.mapped(to, |shape| shape.mapped(to, words))
    }

    /// Everything in another frame; `shape` moves each shape there.
    pub(super) fn mapped(
        self,
        by: Affine,
        shape: impl Fn(PaintedShape) -> PaintedShape,
    ) -> PartDrawing {
        let texts = self.texts.into_iter();
        PartDrawing {
            shapes: self.shapes.into_iter().map(shape).collect(),
            area: by.transform_rect_bbox(self.area),
            frames: self.frames.into_iter().map(|frame| frame.placed(by)).collect(),
            texts: texts.map(|text| SetText { to_label: by * text.to_label, ..text }).collect(),
        }
    }

    /// The same with this part named as the one that drew it; what its own members drew stays theirs.
    pub(super) fn of_part(mut self, part: PartId) -> PartDrawing {
        let own = |known: &mut PartId| {
            if *known == PartId::default() {
                *known = part;
            }
        };
        for shape in &mut self.shapes {
            own(&mut shape.part);
            shape.words.iter_mut().for_each(|words| own(&mut words.part));
            shape.code.iter_mut().for_each(|code| own(&mut code.part));
        }
        self.frames.iter_mut().for_each(|frame| own(&mut frame.part));
        self
    }

    /// Whether it has no area at all: an empty label cannot be cut or printed.
    pub(super) fn draws_nothing(&self) -> bool {
        bounds(&self.shapes).is_zero_area()
    }

    /// Adds what another part drew.
    pub(super) fn add(&mut self, other: PartDrawing) {
        self.area = if self.area.is_zero_area() && self.shapes.is_empty() {
            other.area
        } else {
            self.area.union(other.area)
        };
        self.shapes.extend(other.shapes);
        self.frames.extend(other.frames);
        self.texts.extend(other.texts);
    }
}

/// Bounds of all shapes; a zero rectangle when there are none.
pub(super) fn bounds(shapes: &[PaintedShape]) -> Rect {
    let drawn = shapes.iter().filter(|shape| !shape.outline.is_empty());
    round_all(drawn.map(|shape| shape.outline.bounds()))
}

/// The rectangle round all of some; a zero one when there are none.
pub(super) fn round_all(rects: impl Iterator<Item = Rect>) -> Rect {
    rects.reduce(|all, one| all.union(one)).unwrap_or_default()
}

/// A turn clockwise as seen (y down), exact for quarter turns.
pub(super) fn turn(degrees: f64) -> Affine {
    let quarters = degrees / 90.0;
    let (sin, cos) = if quarters.fract() == 0.0 {
        match quarters.rem_euclid(4.0) {
            0.0 => (0.0, 1.0),
            1.0 => (1.0, 0.0),
            2.0 => (0.0, -1.0),
            _ => (-1.0, 0.0),
        }
    } else {
        let radians = degrees.to_radians();
        (libm::sin(radians), libm::cos(radians))
    };
    Affine::new([cos, sin, -sin, cos, 0.0, 0.0])
}
