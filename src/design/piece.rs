//! What elements draw, before edges and clear areas are worked out.

use super::element::FrameShape;
use super::{DrawnCode, Role, Words};
use crate::finding::Place;
use crate::shape::Outline;
use crate::spec::{Paint, PartId};
use kurbo::{Affine, Point, Rect, Vec2};

/// One painted outline.
#[derive(Clone, Debug)]
pub(super) struct Piece {
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
    /// Set when it reaches the edge of a box all round: bleed grows it with the box.
    pub(super) rim: Option<Rim>,
}

/// A fill or border that reaches its box's edge all round.
#[derive(Clone, Debug)]
pub(super) struct Rim {
    /// The box it is the edge of.
    pub(super) of: PartId,
    /// What stays open inside (a border's inner edge); empty for a fill.
    pub(super) hollow: Outline,
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
pub(super) struct Drawn {
    pub(super) pieces: Vec<Piece>,
    /// The box it takes up in a row, a column or a padded box; text counts from base line to cap height.
    pub(super) area: Rect,
    pub(super) frames: Vec<FrameShape>,
    pub(super) texts: Vec<SetText>,
}

impl Piece {
    pub(super) fn plain(outline: Outline, paint: Paint, role: Role, place: Place) -> Piece {
        Piece {
            outline,
            paint,
            role,
            part: PartId::default(),
            place,
            words: Vec::new(),
            code: None,
            rim: None,
        }
    }

    /// Whether it is read, by people or machines: its shape is never changed to suit an edge.
    pub(super) fn is_read(&self) -> bool {
        !self.words.is_empty() || self.code.is_some()
    }

    /// Whether it lays down ink. White is no ink on a printer without white.
    pub(super) fn inks(&self) -> bool {
        match self.paint {
            Paint::Ink(colour) => colour != crate::colour::Colour::WHITE,
            Paint::Clear => false,
        }
    }
}

impl Drawn {
    /// The same, turned clockwise about its own point and moved to `at`.
    pub(super) fn placed(self, at: Vec2, turned_deg: f64) -> Drawn {
        let by = Affine::translate(at) * turn(turned_deg);
        self.mapped(by, |words| turned_words(words, by, turned_deg))
    }

    /// The same, made this much larger across and down.
    pub(super) fn stretched(self, by: Vec2) -> Drawn {
        debug_assert!(by.x > 0.0 && by.y > 0.0, "a stretch never mirrors");
        let to = Affine::scale_non_uniform(by.x, by.y);
        self.mapped(to, |words| Words {
            area: to.transform_rect_bbox(words.area),
            cap_height_mm: words.cap_height_mm * by.y,
            ..words.clone()
        })
    }

    /// Everything in another frame; words say for themselves what becomes of their boxes.
    fn mapped(self, by: Affine, words: impl Fn(&Words) -> Words) -> Drawn {
        let pieces = self.pieces.into_iter().map(|piece| Piece {
            outline: piece.outline.placed(by),
            words: piece.words.iter().map(&words).collect(),
            code: piece.code.map(|code| code.placed(by)),
            rim: piece.rim.map(|rim| Rim { hollow: rim.hollow.placed(by), ..rim }),
            ..piece
        });
        let texts = self.texts.into_iter();
        Drawn {
            pieces: pieces.collect(),
            area: by.transform_rect_bbox(self.area),
            frames: self.frames.into_iter().map(|frame| frame.placed(by)).collect(),
            texts: texts.map(|text| SetText { to_label: by * text.to_label, ..text }).collect(),
        }
    }

    /// The same as what this part drew; what its own members drew stays theirs.
    pub(super) fn of_part(mut self, part: PartId) -> Drawn {
        let own = |known: &mut PartId| {
            if *known == PartId::default() {
                *known = part;
            }
        };
        for piece in &mut self.pieces {
            own(&mut piece.part);
            piece.words.iter_mut().for_each(|words| own(&mut words.part));
            piece.code.iter_mut().for_each(|code| own(&mut code.part));
            piece.rim.iter_mut().for_each(|rim| own(&mut rim.of));
        }
        self.frames.iter_mut().for_each(|frame| own(&mut frame.part));
        self
    }

    /// Adds what another part drew.
    pub(super) fn add(&mut self, other: Drawn) {
        self.area = if self.area.is_zero_area() && self.pieces.is_empty() {
            other.area
        } else {
            self.area.union(other.area)
        };
        self.pieces.extend(other.pieces);
        self.frames.extend(other.frames);
        self.texts.extend(other.texts);
    }
}

/// Bounds of all pieces; a zero rectangle when there are none.
pub(super) fn bounds(pieces: &[Piece]) -> Rect {
    pieces
        .iter()
        .filter(|piece| !piece.outline.is_empty())
        .map(|piece| piece.outline.bounds())
        .reduce(|all, one| all.union(one))
        .unwrap_or_default()
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

/// Words keep their own box; its middle moves and the turn adds up.
fn turned_words(words: &Words, by: Affine, turned_deg: f64) -> Words {
    let middle: Point = by * words.area.center();
    let area = Rect::from_center_size(middle, words.area.size());
    Words { area, turned_deg: words.turned_deg + turned_deg, ..words.clone() }
}
