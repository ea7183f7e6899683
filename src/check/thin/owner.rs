//! What a thin place belongs to: letters, a line, the gap between two parts.

use super::{Kind, ink};
use crate::colour::Colour;
use crate::design::{Design, Mark, Role, Words};
use crate::finding::Place;
use crate::shape::ThinPlace;
use crate::spec::{Element, Label, Part, PartId, Stroke, Text};
use kurbo::{Point, Rect, Vec2};

/// What is too thin there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum What {
    /// A stroke of letters, in ink or clear.
    Stroke,
    /// A counter or an opening of a letter: clear in ink letters, ink in clear ones.
    Opening,
    /// Between two letters.
    BetweenLetters,
    /// A line, border, ring, mark or symbol, by the word for it.
    Line(&'static str),
    /// A gap between two parts, or in one, by the words for it.
    Gap(&'static str),
    /// Ink by the word for it: a box, a drawing.
    Area(&'static str),
}

/// What a thin place belongs to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Owner<'j> {
    pub(super) what: What,
    /// Where in the job it is asked for.
    pub(super) from: Place,
    /// The words it is part of.
    pub(super) words: Option<&'j Words>,
    /// How they are set.
    pub(super) text: Option<&'j Text>,
    pub(super) kind: Kind,
    /// Whether another rule says the same.
    pub(super) told_elsewhere: bool,
}

/// How far from an edge, mm, to look for the mark on its other side.
const INTO_INK_MM: f64 = 0.004;

/// A part's own width and the measured one agree within this, mm: corners and curves cost a little.
const SAME_WIDTH_MM: f64 = 0.015;

/// A design, its label, and the bounds of its marks, worked out once for all its thin places.
pub(super) struct Drawing<'j> {
    design: &'j Design,
    label: &'j Label,
    bounds: Vec<Rect>,
}

impl<'j> Drawing<'j> {
    pub(super) fn of(design: &'j Design, label: &'j Label) -> Drawing<'j> {
        let bounds = design.marks.iter().map(|mark| mark.path.bounds()).collect();
        Drawing { design, label, bounds }
    }

    /// The marks with their bounds, the topmost first.
    fn marks(&self) -> impl Iterator<Item = (&'j Mark, Rect)> + '_ {
        self.design.marks.iter().zip(self.bounds.iter().copied()).rev()
    }
}

pub(super) fn of<'j>(
    place: &ThinPlace,
    drawing: &Drawing<'j>,
    (kind, colour): (Kind, Option<Colour>),
) -> Owner<'j> {
    let place_of = Found { place, design: drawing.design, label: drawing.label, drawing, kind };
    match kind {
        Kind::Ink => place_of.ink(colour),
        Kind::Clear => place_of.gap(),
    }
}

struct Found<'j, 'p> {
    place: &'p ThinPlace,
    design: &'j Design,
    label: &'j Label,
    drawing: &'p Drawing<'j>,
    kind: Kind,
}

impl<'j> Found<'j, '_> {
    fn owner(&self, what: What, from: Place) -> Owner<'j> {
        Owner { what, from, words: None, text: None, kind: self.kind, told_elsewhere: false }
    }

    fn ink(&self, colour: Option<Colour>) -> Owner<'j> {
        let Some(mark) = self.mark_at(self.place.at, colour) else {
            return self.owner(What::Area("ink is"), self.label.place);
        };
        match mark.role {
            Role::Text => self.letters(mark),
            Role::Line => self.owner(What::Line(self.line_words(mark.part)), mark.from),
            Role::Fill | Role::Code => self.area(mark),
        }
    }

    /// Strokes of ink letters.
    fn letters(&self, mark: &Mark) -> Owner<'j> {
        let Some(words) = self.words_of(mark) else {
            return self.owner(What::Line(self.line_words(mark.part)), mark.from);
        };
        self.of_words(What::Stroke, words)
    }

    fn of_words(&self, what: What, words: &'j Words) -> Owner<'j> {
        let text = text_of(&self.label.parts, words.part);
        Owner { words: Some(words), text, ..self.owner(what, words.from) }
    }

    /// Ink of a filled area: between clear letters, in the bleed, or the area itself.
    fn area(&self, mark: &Mark) -> Owner<'j> {
        if let Some(words) = self.words(|words| words.reversed && self.is_within(words)) {
            let what = if self.place.between_parts { What::BetweenLetters } else { What::Opening };
            return self.of_words(what, words);
        }
        let inside = self.design.trim.contains(self.place.at);
        let word = match Part::numbered(&self.label.parts, mark.part) {
            _ if !inside => "ink of the bleed is",
            Some(part) => part.element.any().ink_words(),
            None => "ink is",
        };
        self.owner(What::Area(word), mark.from)
    }

    fn gap(&self) -> Owner<'j> {
        let [a, b] = self.place.sides;
        let (one, other) = (self.mark_beside(a, a - b), self.mark_beside(b, b - a));
        let Some(one) = one.or(other).or_else(|| self.mark_round()) else {
            return self.owner(What::Gap("a clear gap is"), self.label.place);
        };
        let other = other.unwrap_or(one);
        if let Some(words) = self.words(|words| words.reversed)
            && one.role != Role::Text
        {
            return self.of_words(What::Stroke, words);
        }
        if one.part == other.part && one.role == Role::Text && other.role == Role::Text {
            return self.in_letters(one);
        }
        if let Some((word, from)) = self.clear_line() {
            return self.owner(What::Line(word), from);
        }
        self.between(one, other)
    }

    /// A gap in ink letters.
    fn in_letters(&self, mark: &Mark) -> Owner<'j> {
        let Some(words) = self.words_of(mark) else {
            return self.owner(What::Gap("a clear gap in the symbol is"), mark.from);
        };
        let what = if self.place.between_parts { What::BetweenLetters } else { What::Opening };
        self.of_words(what, words)
    }

    fn between(&self, one: &Mark, other: &Mark) -> Owner<'j> {
        let letters = [one, other].into_iter().find(|mark| mark.role == Role::Text);
        let Some(letters) = letters else {
            let part = Part::numbered(&self.label.parts, one.part);
            let word = match part.filter(|_| one.part == other.part) {
                Some(part) => part.element.any().gap_words(),
                None if one.part == other.part => "a clear gap is",
                None => "the clear gap between two parts is",
            };
            return self.owner(What::Gap(word), one.from.max(other.from));
        };
        let lines_or_letters =
            [one, other].iter().all(|mark| matches!(mark.role, Role::Text | Role::Line));
        let several = self.design.words.len() > 1 || self.design.on_panel.is_some();
        let what = match (one.role, other.role) {
            (Role::Text, Role::Text) => "the clear gap between two texts is",
            (Role::Line, _) | (_, Role::Line) => "the clear gap between letters and a line is",
            _ => "the clear gap between letters and other ink is",
        };
        // Two legends, or a legend and a line, too near to each other: `legends-touch`.
        let told_elsewhere = lines_or_letters && several && one.part != other.part;
        Owner { told_elsewhere, ..self.owner(What::Gap(what), letters.from) }
    }

    /// The topmost mark of a colour (any, for `None`) that has ink at a point.
    fn mark_at(&self, point: Point, colour: Option<Colour>) -> Option<&'j Mark> {
        let judged =
            |mark: &Mark| ink(mark).is_some_and(|ink| colour.is_none_or(|colour| colour == ink));
        let near = |(mark, bounds): &(&'j Mark, Rect)| bounds.contains(point) && judged(mark);
        let mut candidates = self.drawing.marks().filter(near).map(|(mark, _)| mark);
        let first = candidates.next()?;
        let second = candidates.next();
        if second.is_none() && first.role == Role::Text {
            // The point lies at an edge of ink, and there is none near but these letters.
            return Some(first);
        }
        let mut all = std::iter::once(first).chain(second).chain(candidates);
        all.find(|mark| mark.path.contains(point))
    }

    /// The mark whose edge a point lies on, looked for first this way and then all round: at the corner of
    /// a letter straight on may be along its edge.
    fn mark_beside(&self, point: Point, way: Vec2) -> Option<&'j Mark> {
        let way = way.normalize() * INTO_INK_MM;
        let turns = [0.0, 45.0, -45.0, 90.0, -90.0, 135.0, -135.0, 180.0_f64];
        let ways = turns.into_iter().map(|turn| {
            let (sin, cos) = (libm::sin(turn.to_radians()), libm::cos(turn.to_radians()));
            Vec2::new(way.x * cos - way.y * sin, way.x * sin + way.y * cos)
        });
        ways.filter(|way| way.is_finite()).find_map(|way| self.mark_at(point + way, None))
    }

    /// The smallest mark round the place.
    fn mark_round(&self) -> Option<&'j Mark> {
        let round = |(mark, bounds): &(&'j Mark, Rect)| {
            let reach = bounds.inflate(INTO_INK_MM, INTO_INK_MM);
            ink(mark).is_some() && reach.contains(self.place.at)
        };
        let marks = self.drawing.marks().filter(round);
        marks.min_by(|a, b| a.1.area().total_cmp(&b.1.area())).map(|(mark, _)| mark)
    }

    /// The words the place lies in; accents and descenders reach out of their box by half a cap height.
    fn words(&self, wanted: impl Fn(&Words) -> bool) -> Option<&'j Words> {
        let holds = |words: &&'j Words| {
            let middle = words.area.center();
            let level = kurbo::Affine::rotate_about(-words.turned_deg.to_radians(), middle);
            let reach = words.cap_height_mm / 2.0;
            wanted(words) && words.area.inflate(reach, reach).contains(level * self.place.at)
        };
        self.nearest(self.design.words.iter().filter(holds))
    }

    /// The words of a text; on an arc letters stand outside the box of their line.
    fn words_of(&self, mark: &Mark) -> Option<&'j Words> {
        self.nearest(self.design.words.iter().filter(|words| words.part == mark.part))
    }

    fn nearest(&self, words: impl Iterator<Item = &'j Words>) -> Option<&'j Words> {
        words.min_by(|a, b| {
            let away = |words: &Words| words.area.center().distance(self.place.at);
            away(a).total_cmp(&away(b))
        })
    }

    /// Whether both sides are edges of level words, or the words are not level.
    fn is_within(&self, words: &Words) -> bool {
        let slack = words.cap_height_mm / 20.0;
        let area = words.area.inflate(slack, slack);
        words.turned_deg.abs() > 0.05 || self.place.sides.iter().all(|side| area.contains(*side))
    }

    fn line_words(&self, part: PartId) -> &'static str {
        let part = Part::numbered(&self.label.parts, part);
        part.map_or("a line", |part| part.element.any().line_words())
    }

    /// A clear line, border or symbol of the label as wide as the place.
    fn clear_line(&self) -> Option<(&'static str, Place)> {
        let mut found = None;
        Part::each(&self.label.parts, &mut |part| {
            let same = |stroke: &Stroke| {
                let off = (stroke.width - self.place.width_mm).abs();
                stroke.paint.leaves_bare() && off < SAME_WIDTH_MM
            };
            let element = part.element.any();
            if found.is_none() && element.strokes().iter().any(same) {
                found = Some((element.line_words(), part.place));
            }
        });
        found
    }
}

fn text_of(parts: &[Part], id: PartId) -> Option<&Text> {
    match &Part::numbered(parts, id)?.element {
        Element::Text(text) => Some(text),
        _ => None,
    }
}

impl Owner<'_> {
    /// The start of a sentence about it, up to its width.
    pub(super) fn words_for(&self) -> String {
        let (ink, clear) = match self.kind {
            Kind::Ink => ("ink", ""),
            Kind::Clear => ("clear", "clear "),
        };
        let text = self.words.map_or("", |words| words.text.as_str());
        match self.what {
            What::Stroke => format!("a {clear}stroke of {text:?} is"),
            What::Opening if self.kind == Kind::Ink => {
                format!("ink inside the clear letters of {text:?} is")
            }
            What::Opening => format!("an opening in the letters of {text:?} is"),
            What::BetweenLetters if self.kind == Kind::Ink => {
                format!("ink between the clear letters of {text:?} is")
            }
            What::BetweenLetters => format!("the gap between letters of {text:?} is"),
            What::Line(line) => format!("{line} of {ink} is"),
            What::Gap(gap) => gap.to_owned(),
            What::Area(area) => area.to_owned(),
        }
    }
}
