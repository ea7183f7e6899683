//! What one printer did to a test print on one paper, and how files make up for it.
//!
//! A profile holds what was read off with a ruler, never factors: the correction is worked out from it, so
//! that the file can be checked by hand. Lengths are millimetres, x across and y down the sheet as it lies in
//! the printer.

use crate::colour::Colour;
use crate::finding::Place;
use crate::spec::sheet::{Margins, Paper};
use crate::units::fixed;
use kurbo::{Affine, Rect, Size, Vec2};
use std::collections::BTreeMap;

/// Length of the bars of a test print, mm.
pub(crate) const BAR_MM: f64 = 100.0;

/// Side of the square of a test print, mm.
pub(crate) const SQUARE_MM: f64 = 50.0;

/// What was read off the test prints of one printer on one paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// The user's name for the printer.
    pub printer: String,
    /// The paper of the test print.
    pub paper: Paper,
    /// The date as given; never the clock.
    pub date: Option<String>,
    /// The printer's class, for what was not read off.
    pub class: Option<String>,
    /// What was measured.
    pub measured: Measured,
    /// Where nothing was printed.
    pub margins: Option<Margins>,
    /// Thinnest line of ink seen whole, mm.
    pub thinnest_ink: Option<f64>,
    /// Thinnest clear line seen open, mm.
    pub thinnest_clear: Option<f64>,
    /// Smallest cap height read in ink, mm.
    pub smallest_cap: Option<f64>,
    /// Smallest cap height read in clear, mm.
    pub smallest_cap_reversed: Option<f64>,
    /// How much of the light its ink reflects by itself, 0 to 1.
    pub opacity: Option<f64>,
    /// Colours picked on the part, by name.
    pub picked: BTreeMap<String, Picked>,
    /// Where it was asked for.
    pub place: Place,
}

/// A colour as wanted, and the one that looked so once it was printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Picked {
    /// As it shall look.
    pub shown: Colour,
    /// As it has to be printed.
    pub print: Colour,
}

/// Lengths on the printed scale page, mm.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Measured {
    /// The bars of 100 mm, across and down.
    pub bars: Option<(f64, f64)>,
    /// The square of 50 mm, across and down.
    pub square: Option<(f64, f64)>,
    /// The square's diagonals, from its top left and its top right corner.
    pub diagonals: Option<(f64, f64)>,
    /// The square's middle, from the left and the top edge of the paper.
    pub middle: Option<(f64, f64)>,
}

impl Measured {
    /// What a length of 1 in the file becomes on paper, across and down: of the bars, else of the square.
    #[must_use]
    pub fn scale(&self) -> Option<(f64, f64)> {
        let of = |(across, down): (f64, f64), length: f64| (across / length, down / length);
        let bars = self.bars.map(|bars| of(bars, BAR_MM));
        bars.or(self.square.map(|square| of(square, SQUARE_MM)))
    }

    /// How far right a point comes out for each mm it lies further down.
    ///
    /// The square's sides are printed as u across and v down; its diagonals are |u + v| and |u - v|, so that
    /// the difference of their squares is 4 u·v (parallelogram law).
    fn lean(&self, across: f64) -> f64 {
        let Some((one, two)) = self.diagonals else { return 0.0 };
        (one * one - two * two) / (4.0 * SQUARE_MM * SQUARE_MM * across)
    }
}

/// What files do to come out right: the printer's own doing, undone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correction {
    /// What lengths in the file are multiplied by across the sheet as it lies in the printer.
    pub across: f64,
    /// The same down the sheet.
    pub down: f64,
    /// How far right the lower end of an upright 100 mm comes out by itself, mm.
    pub skew_mm: f64,
    /// How far right and down everything comes out by itself, mm.
    pub shift: Vec2,
}

/// What no ruler shows: factors and lengths nearer than this to doing nothing are nothing.
const UNSEEN: f64 = 1e-5;

impl Profile {
    /// What the printer is sent for a colour, where that was picked.
    #[must_use]
    pub fn picks(&self) -> BTreeMap<Colour, Colour> {
        self.picked.values().map(|picked| (picked.shown, picked.print)).collect()
    }

    /// What corrects its printer; `None` when nothing has to be.
    #[must_use]
    pub fn correction(&self) -> Option<Correction> {
        let (across, down) = self.measured.scale().unwrap_or((1.0, 1.0));
        let paper = self.paper.size;
        let shift = self.measured.middle.map_or(Vec2::ZERO, |(left, top)| {
            Vec2::new(left - paper.width / 2.0, top - paper.height / 2.0)
        });
        let skew_mm = BAR_MM * self.measured.lean(across);
        let correction = Correction { across: 1.0 / across, down: 1.0 / down, skew_mm, shift };
        let nothing = [correction.across - 1.0, correction.down - 1.0, skew_mm, shift.x, shift.y];
        nothing.iter().any(|one| one.abs() > UNSEEN).then_some(correction)
    }

    /// The correction of a page, about its middle; none changes nothing.
    ///
    /// A page that lies where the test print stood upright (or the other way round) goes through the printer
    /// turned by a quarter: its x is then the printer's y. Which way it is turned is the driver's choice, so
    /// that the shift cannot be made up for there.
    #[must_use]
    pub fn on_page(&self, page: Size) -> Affine {
        let Some(Correction { across, down, skew_mm, shift }) = self.correction() else {
            return Affine::IDENTITY;
        };
        let lean = skew_mm / BAR_MM;
        let printed = Affine::new([1.0 / across, 0.0, lean, 1.0 / down, 0.0, 0.0]);
        let middle = page.to_vec2() / 2.0;
        let undone = if self.lies_across(page) {
            let turn = Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]);
            turn * printed.inverse() * turn.inverse()
        } else {
            printed.inverse() * Affine::translate(-shift)
        };
        Affine::translate(middle) * undone * Affine::translate(-middle)
    }

    /// The part of an area of a page that is still inside the area once it is corrected.
    #[must_use]
    pub fn keeps_inside(&self, area: Rect, page: Size) -> Rect {
        let [a, b, c, d, ..] = self.on_page(page).as_coeffs();
        let middle = page.to_rect().center();
        let moved = self.on_page(page) * middle - middle;
        // A slant moves a corner by its distance from the middle.
        let far =
            |one: f64, other: f64, middle: f64| (one - middle).abs().max((other - middle).abs());
        let slant_x = c.abs() * far(area.y0, area.y1, middle.y);
        let slant_y = b.abs() * far(area.x0, area.x1, middle.x);
        let x = |edge: f64, inwards: f64| middle.x + (edge - middle.x - moved.x + inwards) / a;
        let y = |edge: f64, inwards: f64| middle.y + (edge - middle.y - moved.y + inwards) / d;
        let kept = Rect::new(
            x(area.x0, slant_x),
            y(area.y0, slant_y),
            x(area.x1, -slant_x),
            y(area.y1, -slant_y),
        );
        kept.intersect(area)
    }

    /// Whether a page goes through the printer turned by a quarter, seen from the test print.
    fn lies_across(&self, page: Size) -> bool {
        let paper = self.paper.size;
        (page.width > page.height) != (paper.width > paper.height)
    }

    /// Where nothing is printed on a page, mm: of a page that lies across, the larger of both edges it may be.
    #[must_use]
    pub fn margins_on(&self, page: Size) -> Option<Margins> {
        let margins = self.margins?;
        if !self.lies_across(page) {
            return Some(margins);
        }
        let (ends, sides) = (margins.top.max(margins.bottom), margins.left.max(margins.right));
        Some(Margins { top: sides, right: ends, bottom: sides, left: ends })
    }

    /// Whether it was made for this paper, whichever way that lies.
    #[must_use]
    pub fn is_for(&self, page: Size) -> bool {
        let sides = |size: Size| (size.min_side(), size.max_side());
        let ((a, b), (c, d)) = (sides(page), sides(self.paper.size));
        (a - c).abs() < 0.5 && (b - d).abs() < 0.5
    }

    /// The correction in words for a foot line: `corrected x 1.02775, y 1.00908 for Lodge laser, A4, 14 March`;
    /// `None` when there is none.
    #[must_use]
    pub fn words(&self) -> Option<String> {
        let Correction { across, down, skew_mm, shift } = self.correction()?;
        let mut words = format!("corrected x {}, y {}", fixed(across, 5), fixed(down, 5));
        if skew_mm.abs() > UNSEEN {
            words.push_str(&format!(", skew {} mm in 100", fixed(-skew_mm, 2)));
        }
        if shift.hypot() > UNSEEN {
            words.push_str(&format!(", shift {}, {} mm", fixed(-shift.x, 2), fixed(-shift.y, 2)));
        }
        words.push_str(&format!(" for {}, {}", self.printer, self.paper.name));
        if let Some(date) = &self.date {
            words.push_str(&format!(", {date}"));
        }
        Some(words)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    pub(super) fn profile(measured: Measured) -> Profile {
        Profile {
            printer: "Lodge".into(),
            paper: Paper { name: "A4".into(), size: Size::new(210.0, 297.0) },
            date: None,
            class: None,
            measured,
            margins: Some(Margins { top: 4.0, right: 3.0, bottom: 6.0, left: 2.0 }),
            thinnest_ink: None,
            thinnest_clear: None,
            smallest_cap: None,
            smallest_cap_reversed: None,
            opacity: None,
            picked: BTreeMap::new(),
            place: Place::default(),
        }
    }

    #[test]
    fn factors_are_nominal_over_measured() {
        // School arithmetic: 100 / 97.3 = 1.02775, 100 / 99.1 = 1.00908, 100 / 100.4 = 0.99602.
        for (bars, across, down) in
            [((97.3, 99.1), 1.02775, 1.00908), ((100.4, 99.8), 0.99602, 1.00200)]
        {
            let measured = Measured { bars: Some(bars), ..Measured::default() };
            let found = profile(measured).correction().unwrap();
            assert!((found.across - across).abs() < 5e-5 && (found.down - down).abs() < 5e-5);
        }
        let square = Measured { square: Some((50.0, 50.0)), ..Measured::default() };
        assert_eq!(profile(square).correction(), None);
        assert_eq!(profile(square).words(), None);
    }

    #[test]
    fn what_a_printer_does_to_a_corrected_page_is_nothing() {
        // A printer of our own: 2 % short across, 1 % long down, 0.4 mm in 100 slanted, off by (0.6, -0.3) mm.
        let (sx, sy, lean, off) = (0.98, 1.01, 0.004, Vec2::new(0.6, -0.3));
        let middle = Vec2::new(105.0, 148.5);
        let print = |p: Point| {
            let d = p.to_vec2() - middle;
            (middle + off + Vec2::new(sx * d.x + lean * d.y, sy * d.y)).to_point()
        };
        // Measured on its print of the scale page, as a ruler would.
        let corner = |x: f64, y: f64| print((middle + Vec2::new(x, y) * 25.0).to_point());
        let measured = Measured {
            bars: Some((100.0 * sx, 100.0 * sy)),
            square: None,
            diagonals: Some((
                corner(-1.0, -1.0).distance(corner(1.0, 1.0)),
                corner(1.0, -1.0).distance(corner(-1.0, 1.0)),
            )),
            middle: Some((print(middle.to_point()).x, print(middle.to_point()).y)),
        };
        let corrected = profile(measured).on_page(Size::new(210.0, 297.0));
        for wanted in [Point::new(10.0, 10.0), Point::new(200.0, 20.0), Point::new(55.0, 280.0)] {
            assert!(print(corrected * wanted).distance(wanted) < 1e-9, "{wanted}");
        }
    }

    #[test]
    fn what_is_kept_inside_stays_inside() {
        let measured = Measured {
            bars: Some((97.3, 101.0)),
            diagonals: Some((70.3, 69.9)),
            middle: Some((105.7, 148.0)),
            ..Measured::default()
        };
        let (profile, page) = (profile(measured), Size::new(210.0, 297.0));
        let area = Rect::new(10.0, 12.0, 195.0, 280.0);
        let kept = profile.keeps_inside(area, page);
        let corrected = profile.on_page(page).transform_rect_bbox(kept);
        let slack = area.inflate(1e-9, 1e-9);
        assert_eq!(corrected.union(slack), slack);
        assert!(kept.width() > 175.0 && kept.height() > 260.0, "{kept}");
    }

    #[test]
    fn a_lying_page_takes_the_factors_crosswise_and_the_larger_margins() {
        let measured = Measured { bars: Some((97.3, 99.1)), ..Measured::default() };
        let profile = profile(measured);
        let page = Size::new(297.0, 210.0);
        let [a, b, c, d, ..] = profile.on_page(page).as_coeffs();
        assert!((a - 100.0 / 99.1).abs() < 1e-12 && (d - 100.0 / 97.3).abs() < 1e-12);
        assert!(b.abs() < 1e-15 && c.abs() < 1e-15);
        let margins = profile.margins_on(page).unwrap();
        assert_eq!(
            (margins.left, margins.right, margins.top, margins.bottom),
            (6.0, 6.0, 3.0, 3.0)
        );
        assert!(profile.is_for(page) && !profile.is_for(Size::new(148.0, 210.0)));
    }
}
