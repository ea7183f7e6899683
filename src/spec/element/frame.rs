//! Boxes, with their outline, fill and border decided.

use super::{AnyElement, Around, Element, Keys, Paint, Part, Stroke, placed};
use crate::finding::{Place, quoted};
use crate::spec::Mm;
use crate::spec::choice::choice;
use crate::spec::reader::{Least, Reader};
use crate::yaml::{OneOrList, Scalar, keys};
use kurbo::{Size, Vec2};

choice! {
    /// The word for an outline, before its measure is read.
    enum Outline {
        Rounded = "rounded",
        RoundEnded = "round-ended",
        Ellipse = "ellipse",
        Slanted = "slanted",
        Pointed = "pointed",
    }
}

/// What a round-ended box was called: reported by name for one release, so that old jobs are put right with ease.
const FORMER_ROUND_ENDED: &str = "pill";

/// How far a slanted box leans when it does not say, degrees: as italic letters of the bold kind do.
const USUAL_SLANT: f64 = 15.0;

/// The usual point of a pointed box, mm.
const USUAL_POINT: f64 = 2.0;

/// Width of a border that does not say, mm: what every class of printer can print.
const USUAL_LINE: f64 = 0.5;

keys! {
    /// A box or an ellipse.
    #[schemars(extend("x-short" = "fill", "x-none" = true))]
    pub(in crate::spec) struct FrameKeys {
        /// [width, height], or one length for both; without it the box goes round the other parts.
        size: Option<OneOrList>,
        /// Space between the box and what it holds: one length, or [across, down].
        padding: Option<OneOrList>,
        /// Least [width, height] when it goes round other parts.
        least: Option<OneOrList>,
        /// `rounded`, `round-ended`, `ellipse`, `slanted` or `pointed`.
        shape: Option<Scalar>,
        /// Corner radius of a rounded box.
        radius: Option<Scalar>,
        /// How far a slanted box leans right, degrees from upright.
        slant: Option<Scalar>,
        /// Length of the point of a pointed box.
        point: Option<Scalar>,
        /// A colour, `clear`, or `none`.
        fill: Option<Scalar>,
        /// The border: its width, or a map; `none` takes a style's away.
        line: Option<FrameLineKeys>,
        /// Where its middle is: [right, down] from the middle of the label.
        at: Option<OneOrList>,
        /// Degrees clockwise.
        turned: Option<Scalar>,
    }
}

keys! {
    /// The border of a box.
    #[schemars(extend("x-short" = "width", "x-none" = true))]
    struct FrameLineKeys;

    /// The border of a box.
    #[derive(Copy)]
    pub struct FrameLine {
        /// Its width.
        width: Option<Scalar> => Mm,
        /// How far inside the box's edge it starts.
        inset: Option<Scalar> => Mm,
        /// A colour, or `clear`.
        paint: Option<Scalar>,
        /// Ink or clear.
        paint => Paint,
    }
}

/// The outline of a box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Corners {
    /// Rounded by this radius, mm; 0 is square.
    Radius(f64),
    /// Half a circle at each end.
    RoundEnded,
    /// An ellipse; a circle when as wide as high.
    Ellipse,
    /// Both ends slanted like a parallelogram, degrees from upright, leaning right when positive.
    Slanted(f64),
    /// The right-hand end drawn to a point this long, mm.
    Pointed(f64),
}

/// A box round the text, or of its own size.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// Width and height, mm; `None`: the other parts' bounds plus padding.
    pub size: Option<Size>,
    /// Across and down, mm, when the size follows from the text.
    pub padding: Vec2,
    /// Least size, mm, when it follows from the text.
    pub least: Size,
    /// Its outline.
    pub corners: Corners,
    /// Its fill, if any.
    pub fill: Option<Paint>,
    /// Its border, if any.
    pub line: Option<FrameLine>,
}

impl AnyElement for Frame {
    fn strokes(&self) -> Vec<Stroke> {
        let stroke =
            |line: FrameLine| Stroke { width: line.width, paint: line.paint, word: "border" };
        self.line.map(stroke).into_iter().collect()
    }

    fn widen(&mut self, width: &dyn Fn(f64, Paint) -> f64) {
        if let Some(line) = &mut self.line {
            line.width = width(line.width, line.paint);
        }
    }

    fn paints(&self) -> Vec<Paint> {
        self.fill.into_iter().chain(self.line.map(|line| line.paint)).collect()
    }

    fn line_words(&self) -> &'static str {
        "the border"
    }

    fn ink_words(&self) -> &'static str {
        "ink of the box is"
    }
}

impl Keys for FrameKeys {
    fn part(&self, place: Place, _: &Around, reader: &mut Reader) -> Option<Part> {
        let fill = match &self.fill {
            Some(fill) if fill.trimmed() == "none" => None,
            fill => reader.paint(fill),
        };
        let size = reader.one_or_pair(&self.size, Least::Something);
        let padding = reader.one_or_pair(&self.padding, Least::Nought).unwrap_or_default();
        let least = reader.one_or_pair(&self.least, Least::Nought).unwrap_or_default();
        let frame = Frame {
            size: size.map(|(width, height)| Size::new(width, height)),
            padding: Vec2::new(padding.0, padding.1),
            least: Size::new(least.0, least.1),
            corners: self.corners(reader),
            fill,
            line: self.line.as_ref().map(|line| line.border(reader)),
        };
        Some(placed(Element::Box(frame), place, &self.at, &self.turned, reader))
    }
}

impl FrameKeys {
    /// Whether it needs nothing inside it to have a size.
    pub(in crate::spec) fn has_size(&self) -> bool {
        self.size.is_some() || self.least.is_some()
    }

    /// The outline it asks for; `None` when it does not say, or names none.
    fn outline(&self, reader: &mut Reader) -> Option<Outline> {
        let former = |shape: &&Scalar| shape.trimmed() == FORMER_ROUND_ENDED;
        let Some(old) = self.shape.as_ref().filter(former) else { return reader.word(&self.shape) };
        let message = format!("the shape {} is now called `round-ended`", quoted(&old.text));
        reader.wrong("bad-value", old.place, message, "write `shape: round-ended`");
        Some(Outline::RoundEnded)
    }

    fn corners(&self, reader: &mut Reader) -> Corners {
        let outline = self.outline(reader).unwrap_or(match (&self.slant, &self.point) {
            (Some(_), _) => Outline::Slanted,
            (None, Some(_)) => Outline::Pointed,
            (None, None) => Outline::Rounded,
        });
        let radius = reader.length(&self.radius, Least::Nought);
        let slant = reader.degrees(&self.slant, -60.0..=60.0);
        let point = reader.length(&self.point, Least::Nought);
        for (scalar, key, its) in [
            (&self.radius, "radius", Outline::Rounded),
            (&self.slant, "slant", Outline::Slanted),
            (&self.point, "point", Outline::Pointed),
        ] {
            if outline != its {
                let message = format!("`{key}` has no effect on a box of this shape");
                reader.no_effect(scalar, message, "take it out, or choose the shape it is for");
            }
        }
        match outline {
            Outline::Rounded => Corners::Radius(radius.unwrap_or(0.0)),
            Outline::RoundEnded => Corners::RoundEnded,
            Outline::Ellipse => Corners::Ellipse,
            Outline::Slanted => Corners::Slanted(slant.unwrap_or(USUAL_SLANT)),
            Outline::Pointed => Corners::Pointed(point.unwrap_or(USUAL_POINT)),
        }
    }
}

impl FrameLineKeys {
    fn border(&self, reader: &mut Reader) -> FrameLine {
        FrameLine {
            width: reader.length(&self.width, Least::Something).unwrap_or(USUAL_LINE),
            inset: reader.length(&self.inset, Least::Nought).unwrap_or(0.0),
            paint: reader.paint_or_black(&self.paint),
        }
    }
}
