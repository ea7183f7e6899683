//! Words on a label, with every choice about their setting made.

use super::{AnyElement, Around, Element, Keys, Paint, Part, placed};
use crate::finding::{Finding, Place};
use crate::spec::choice::choice;
use crate::spec::reader::{Least, Reader};
use crate::yaml::{OneOrList, Scalar};
use kurbo::Size;
use schemars::JsonSchema;
use serde::Deserialize;

/// What stands in where a value was wrong, and where nothing else is said; the values people get are those of the
/// style `plain`.
const CAP_HEIGHT: f64 = 3.0;
const LINE_PITCH: f64 = 1.7;

/// Words and how they are set.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
#[schemars(extend("x-short" = "text"))]
pub(in crate::spec) struct TextKeys {
    /// The words; a list is one entry a line.
    pub(in crate::spec) text: Option<OneOrList>,
    /// A role (`label`, `condensed`…), a family, or a name under `fonts`.
    font: Option<Scalar>,
    /// Height of a flat capital.
    pub(in crate::spec) cap_height: Option<Scalar>,
    /// Size of the font's em, instead of the cap height.
    em: Option<Scalar>,
    /// As large as fits into [width, height].
    fit: Option<OneOrList>,
    /// Extra space between letters, as a share of the cap height.
    tracking: Option<Scalar>,
    /// Base line to base line, as a multiple of the cap height.
    line_pitch: Option<Scalar>,
    /// `left`, `centre` or `right`.
    align: Option<Scalar>,
    /// The widest it may be; wider is an error.
    width: Option<Scalar>,
    /// Spaced out to be this wide; the letters keep their shape.
    spread: Option<Scalar>,
    /// The arc it stands on; `at` is then the arc's centre.
    arc: Option<ArcKeys>,
    /// Figures of one width: `yes` or `no`.
    tabular: Option<Scalar>,
    /// `as-typed` or `upper`.
    case: Option<Scalar>,
    /// A colour, or `clear`.
    paint: Option<Scalar>,
    /// Where it stands: [right, down] from the middle of the label.
    at: Option<OneOrList>,
    /// Degrees clockwise.
    turned: Option<Scalar>,
}

/// The arc a text stands on.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
struct ArcKeys {
    /// Radius of the base line.
    radius: Option<Scalar>,
    /// Where the middle of the text is: degrees clockwise from straight up.
    centre: Option<Scalar>,
    /// `outward` (feet to the centre, for the top) or `inward` (heads to the centre, for the bottom).
    reads: Option<Scalar>,
    /// Degrees the text is spaced out to fill; the letters keep their shape.
    sweep: Option<Scalar>,
}

/// Words on a label.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// One entry a line, as they will read.
    pub lines: Vec<String>,
    /// The font: a role, a family, or a file's name, known to `Faces`.
    pub font: String,
    /// How tall.
    pub size: TextSize,
    /// Extra space after each letter as a share of the cap height.
    pub tracking: f64,
    /// Base line to base line as a multiple of the cap height.
    pub line_pitch: f64,
    /// How lines lie to each other and to `at`.
    pub align: Align,
    /// The widest it may be, mm; wider is an error, never shrunk.
    pub width: Option<f64>,
    /// Spaced out to be this wide, mm; the letters keep their shape.
    pub spread: Option<f64>,
    /// The arc it stands on instead of a straight line.
    pub arc: Option<Arc>,
    /// Figures of one width.
    pub tabular: bool,
    /// Ink or clear.
    pub paint: Paint,
    /// Where the words are written.
    pub place: Place,
}

/// How tall text is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TextSize {
    /// By the height of a flat capital, mm.
    CapHeight(f64),
    /// By the font's em, mm.
    Em(f64),
    /// As large as fits into this width and height, mm: the widest line and the ink from top to bottom.
    FillBox(Size),
}

choice! {
    /// How lines of text lie to each other.
    pub enum Align {
        /// Flush left.
        Left = "left",
        /// Centred.
        Centre = "centre",
        /// Flush right.
        Right = "right",
    }
}

choice! {
    /// Which way letters on an arc stand.
    pub enum Reads {
        /// Feet towards the centre: reads from left to right over the top.
        Outward = "outward",
        /// Heads towards the centre: reads from left to right along the bottom.
        Inward = "inward",
    }
}

/// The arc a text stands on, round the text's own point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Radius of the first line's base line, mm.
    pub radius: f64,
    /// Where the alignment point is: degrees clockwise from straight up.
    pub centre: f64,
    /// Which way the letters stand.
    pub reads: Reads,
}

impl Text {
    /// Black words of this cap height, mm, centred, in a face.
    #[must_use]
    pub fn new(lines: Vec<String>, font: impl Into<String>, cap_mm: f64, place: Place) -> Text {
        Text {
            lines,
            font: font.into(),
            size: TextSize::CapHeight(cap_mm),
            tracking: 0.0,
            line_pitch: LINE_PITCH,
            align: Align::Centre,
            width: None,
            spread: None,
            arc: None,
            tabular: false,
            paint: Paint::BLACK,
            place,
        }
    }
}

/// The face for a paint where none is named: clear or white letters in ink look thinner than they are.
pub(super) fn usual_font(paint: Paint) -> &'static str {
    if paint.leaves_bare() { "label-reversed" } else { "label" }
}

impl AnyElement for Text {
    fn paints(&self) -> Vec<Paint> {
        vec![self.paint]
    }
}

impl Keys for TextKeys {
    /// `None` when it has no words.
    fn part(&self, place: Place, around: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        let place = self.text.as_ref().and_then(OneOrList::place).unwrap_or(place);
        let lines = self.lines(place, reader);
        let text = self.setting(lines, place, around, reader);
        let is_empty = text.lines.is_empty();
        let part = placed(Element::Text(text), place, &self.at, &self.turned, reader);
        (!is_empty).then_some(part)
    }
}

impl TextKeys {
    /// The words line by line; empty, and reported, when there is nothing to read.
    fn lines(&self, place: Place, reader: &mut Reader<'_, '_>) -> Vec<String> {
        let items = self.text.as_ref().map(|words| words.items.as_slice()).unwrap_or_default();
        let mut lines: Vec<String> = Vec::with_capacity(items.len());
        for item in items {
            match item.text.as_str() {
                "" => lines.push(String::new()),
                text => lines.extend(text.lines().map(str::to_owned)),
            }
        }
        if lines.iter().all(|line| line.trim().is_empty()) {
            let help = "write its words; quote them if they start with # or !";
            reader.wrong("empty-text", place, "the text has no words".into(), help);
            return Vec::new();
        }
        for item in items.iter().filter(|item| item.text.lines().any(|line| line != line.trim())) {
            blanks_outside(item, reader);
        }
        lines
    }

    fn setting(
        &self,
        lines: Vec<String>,
        place: Place,
        around: &Around,
        reader: &mut Reader<'_, '_>,
    ) -> Text {
        let paint = reader.paint_or_black(&self.paint);
        let font = reader.font_or(&self.font, usual_font(paint));
        let upper = reader.choice(&self.case, &[("as-typed", false), ("upper", true)]);
        let lines = match upper {
            Some(true) => lines.iter().map(|line| line.to_uppercase()).collect(),
            Some(false) | None => lines,
        };
        let arc = self.arc.as_ref().and_then(|arc| self.arc(arc, place, reader));
        Text {
            lines,
            font,
            size: self.size(around, reader),
            tracking: reader.number(&self.tracking, -0.5..=5.0).unwrap_or(0.0),
            line_pitch: reader.number(&self.line_pitch, 0.1..=20.0).unwrap_or(LINE_PITCH),
            align: reader.word(&self.align).unwrap_or(Align::Centre),
            width: reader.length(&self.width, Least::Something),
            spread: self.spread(arc, reader),
            arc,
            tabular: reader.yes(&self.tabular).unwrap_or(false),
            paint,
            place,
        }
    }

    /// The arc a text stands on.
    fn arc(&self, keys: &ArcKeys, place: Place, reader: &mut Reader<'_, '_>) -> Option<Arc> {
        if keys.radius.is_none() {
            let help = "add the radius of its base line: `arc: {radius: 20 mm}`";
            reader.wrong("missing", place, "an arc needs `radius`".into(), help);
        }
        if let Some(fit) = self.fit.as_ref().and_then(OneOrList::place) {
            let help = "give `cap_height` instead";
            reader.wrong("no-effect", fit, "`fit` has no effect on an arc".into(), help);
        }
        let centre = reader.degrees(&keys.centre, -360.0..=360.0).unwrap_or(0.0);
        let reads = reader.word(&keys.reads).unwrap_or(Reads::Outward);
        Some(Arc { radius: reader.length(&keys.radius, Least::Something)?, centre, reads })
    }

    /// How wide a text is spaced out to be, along its line or its arc.
    fn spread(&self, arc: Option<Arc>, reader: &mut Reader<'_, '_>) -> Option<f64> {
        let width = reader.length(&self.spread, Least::Something);
        let sweep = self.arc.as_ref().and_then(|arc| reader.degrees(&arc.sweep, 1.0..=360.0));
        width.or(sweep.zip(arc).map(|(sweep, arc)| sweep.to_radians() * arc.radius))
    }

    fn size(&self, around: &Around, reader: &mut Reader<'_, '_>) -> TextSize {
        let cap_height = reader.length(&self.cap_height, Least::Something);
        let em = reader.length(&self.em, Least::Something);
        let fit = reader.size(&self.fit);
        cap_height
            .map(TextSize::CapHeight)
            .or(em.map(TextSize::Em))
            .or(fit.map(TextSize::FillBox))
            .or(around.cap_mm.map(TextSize::CapHeight))
            .unwrap_or(TextSize::CapHeight(CAP_HEIGHT))
    }
}

/// Says that a text starts or ends with blanks: they stay, and shift it.
fn blanks_outside(item: &Scalar, reader: &mut Reader<'_, '_>) {
    let message = format!("the text {:?} starts or ends with blanks; they are kept", item.text);
    let help = "take them out of the quotes, or leave them if the words shall stand so";
    reader.note(Finding::note("outer-blanks", message).at(item.place).help(help));
}
