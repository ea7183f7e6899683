//! Panels as meant: a plate with holes in it, and where its legends stand.

use crate::finding::Place;
use crate::spec::Allowed;
use crate::spec::choice::choice;
use kurbo::{Point, Rect, Size, Vec2};

/// A panel: the plate itself, whatever of it is printed.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// Its name: that of its label.
    pub name: String,
    /// Width and height, mm.
    pub size: Size,
    /// Corner radius, mm.
    pub corner_mm: f64,
    /// The surface it is: a key of `Spec::surfaces`.
    pub on: Option<String>,
    /// Every hole, in the order of the list, the drill table and the drawing.
    pub holes: Vec<Hole>,
    /// How holes show on an overlay.
    pub mark: HoleMark,
    /// What is printed.
    pub deliver: Deliver,
    /// Where the holes are counted from.
    pub origin: Origin,
    /// Codes of findings the user accepts on it, also where its own label is not printed.
    pub allow: Vec<Allowed>,
    /// Where `panel:` stands.
    pub place: Place,
}

choice! {
    /// How holes show on an overlay.
    pub enum HoleMark {
        /// They are cut out: part of the trim.
        Cut = "cut",
        /// A small cross in the middle, to prick or drill through; nothing is cut.
        Centre = "centre",
        /// No mark.
        Nothing = "none",
    }
}

choice! {
    /// What of a panel is printed on film.
    pub enum Deliver {
        /// One decal as large as the panel, legends and all.
        Overlay = "overlay",
        /// Each legend a small decal of its own.
        Pieces = "pieces",
    }
}

choice! {
    /// The point and direction hole places are counted from.
    pub enum Origin {
        /// The panel's top left corner; right and down.
        TopLeft = "top-left",
        /// The panel's bottom left corner; right and up.
        BottomLeft = "bottom-left",
        /// The panel's middle; right and down.
        Middle = "middle",
    }
}

impl Origin {
    /// A place counted from here as a point from the panel's middle, y down, mm. `size` is the panel's.
    #[must_use]
    pub fn to_panel(self, at: Vec2, size: Size) -> Point {
        let half = size.to_vec2() / 2.0;
        match self {
            Origin::TopLeft => (at - half).to_point(),
            Origin::BottomLeft => Point::new(at.x - half.x, half.y - at.y),
            Origin::Middle => at.to_point(),
        }
    }

    /// The other way: a point from the panel's middle as it is counted from here, mm.
    #[must_use]
    pub fn from_panel(self, at: Point, size: Size) -> Vec2 {
        let half = size.to_vec2() / 2.0;
        match self {
            Origin::TopLeft => at.to_vec2() + half,
            Origin::BottomLeft => Vec2::new(at.x + half.x, half.y - at.y),
            Origin::Middle => at.to_vec2(),
        }
    }

    /// The words for it on the fit print.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Origin::TopLeft => "from the top left corner, right and down",
            Origin::BottomLeft => "from the bottom left corner, right and up",
            Origin::Middle => "from the middle, right and down",
        }
    }
}

/// A round hole and what is fitted in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Its name, unique on the panel.
    pub name: String,
    /// The kind of part fitted, in the user's word or one of `FITTINGS`.
    pub kind: Option<String>,
    /// Its middle, from the panel's middle, y down, mm.
    pub at: Point,
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// Diameter of the window round it that stays free of ink, mm; 0 lets ink run over it.
    pub clear_mm: f64,
    /// Nut or washer, its largest diameter, mm.
    pub nut_mm: Option<f64>,
    /// Knob, cap or bezel, its diameter, mm.
    pub knob_mm: Option<f64>,
    /// What else is to be kept free, a diameter, mm.
    pub keep_clear_mm: Option<f64>,
    /// Where it is asked for.
    pub place: Place,
}

impl Hole {
    /// The diameter nothing to be read may stand in, mm, and what takes it up.
    #[must_use]
    pub fn keep_out(&self) -> (f64, &'static str) {
        let all = [
            (Some(self.diameter_mm), "hole"),
            (self.nut_mm, "nut"),
            (self.knob_mm, "knob"),
            (self.keep_clear_mm, "keep-clear circle"),
        ];
        let given = all.into_iter().filter_map(|(mm, what)| Some((mm?, what)));
        given.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((self.diameter_mm, "hole"))
    }
}

choice! {
    /// On which side of its point a legend stands.
    pub enum Side {
        /// Its bottom edge on the point.
        Above = "above",
        /// Its top edge on the point.
        Below = "below",
        /// Its right edge on the point.
        Left = "left",
        /// Its left edge on the point.
        Right = "right",
        /// Its own middle on the point: dials.
        Centre = "centre",
    }
}

impl Side {
    /// How far a legend that takes up `area` about its own point moves to stand at a point on this side, mm.
    #[must_use]
    pub fn shift(self, area: Rect) -> Vec2 {
        let middle = area.center();
        match self {
            Side::Above => Vec2::new(-middle.x, -area.y1),
            Side::Below => Vec2::new(-middle.x, -area.y0),
            Side::Left => Vec2::new(-area.x1, -middle.y),
            Side::Right => Vec2::new(-area.x0, -middle.y),
            Side::Centre => Vec2::ZERO,
        }
    }

    /// The way from a hole to a legend on this side, length 1; nought for [`Side::Centre`].
    #[must_use]
    pub fn away(self) -> Vec2 {
        match self {
            Side::Above => Vec2::new(0.0, -1.0),
            Side::Below => Vec2::new(0.0, 1.0),
            Side::Left => Vec2::new(-1.0, 0.0),
            Side::Right => Vec2::new(1.0, 0.0),
            Side::Centre => Vec2::ZERO,
        }
    }
}

/// Where a legend stands on its panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Stands {
    /// Which panel: an index into `Spec::panels`.
    pub panel: usize,
    /// The point, from the panel's middle, y down, mm.
    pub at: Point,
    /// How it stands to that point.
    pub side: Side,
    /// The hole it belongs to.
    pub hole: Option<String>,
}

/// Hole diameters of usual parts, mm (common practice, no source: measure the part).
pub(crate) const FITTINGS: [(&str, f64); 10] = [
    ("mini-toggle", 6.5),
    ("toggle", 12.2),
    ("pot-m7", 7.5),
    ("pot-m9", 9.5),
    ("led-3", 3.1),
    ("led-5", 5.1),
    ("jack-3.5", 6.2),
    ("jack-6.35", 9.7),
    ("button-16", 16.2),
    ("button-22", 22.3),
];

/// How much wider than its hole the window without ink is, mm (common practice, no source).
pub(super) const CLEAR_RING_MM: f64 = 1.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_the_same_from_every_corner() {
        let size = Size::new(200.0, 100.0);
        let here = Origin::TopLeft.to_panel(Vec2::new(30.0, 20.0), size);
        assert_eq!(here, Origin::BottomLeft.to_panel(Vec2::new(30.0, 80.0), size));
        assert_eq!(here, Origin::Middle.to_panel(Vec2::new(-70.0, -30.0), size));
        for origin in [Origin::TopLeft, Origin::BottomLeft, Origin::Middle] {
            assert_eq!(origin.to_panel(origin.from_panel(here, size), size), here);
        }
    }

    #[test]
    fn what_is_largest_covers_the_panel() {
        let hole = Hole {
            name: "P1".into(),
            kind: None,
            at: Point::ORIGIN,
            diameter_mm: 7.5,
            clear_mm: 8.5,
            nut_mm: Some(11.0),
            knob_mm: Some(20.0),
            keep_clear_mm: None,
            place: Place::default(),
        };
        assert_eq!(hole.keep_out(), (20.0, "knob"));
        assert_eq!(Hole { knob_mm: None, nut_mm: None, ..hole }.keep_out(), (7.5, "hole"));
    }
}
