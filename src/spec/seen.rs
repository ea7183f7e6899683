//! How far off a label is read, and the white that may lie under its ink.

use super::Printer;
use crate::colour::Colour;

/// From where words are read, and by which rule they are judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Viewed {
    /// From the eye to the words, mm.
    pub distance_mm: f64,
    /// What the eye has to do.
    pub reading: Reading,
}

/// How carefully words are read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reading {
    /// At ease, in good light: a panel at arm's length.
    Panel,
    /// A few words in good light, known to be there: a sign.
    Sign,
    /// In a poor light.
    PoorLight,
}

impl Viewed {
    /// The lowest capitals that can be read, mm.
    ///
    /// A panel: 16 arc minutes (ISO 9241-303). A sign: a three-hundredth of the distance (ANSI Z535.2, favourable
    /// light: one inch for 25 feet). In poor light: 24 arc minutes, common practice, no source.
    #[must_use]
    pub fn least_cap_mm(&self) -> f64 {
        match self.reading {
            Reading::Panel => cap_height_at(self.distance_mm, 16.0),
            Reading::Sign => self.distance_mm / 300.0,
            Reading::PoorLight => cap_height_at(self.distance_mm, 24.0),
        }
    }

    /// The lowest capitals that are read at ease, mm: 20 arc minutes (NUREG-0700, 11.4.1.5; ISO 9241-303 has
    /// 20 to 22), and 24 in poor light.
    #[must_use]
    pub fn easy_cap_mm(&self) -> f64 {
        match self.reading {
            Reading::Panel | Reading::Sign => cap_height_at(self.distance_mm, 20.0),
            Reading::PoorLight => cap_height_at(self.distance_mm, 24.0),
        }
    }
}

/// Height that a capital has when it is seen under an angle of so many arc minutes: h = 2 d tan(a / 2).
#[must_use]
pub fn cap_height_at(distance_mm: f64, arc_minutes: f64) -> f64 {
    2.0 * distance_mm * libm::tan((arc_minutes / 60.0).to_radians() / 2.0)
}

/// White that lies under a label's ink.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum White {
    /// None: the film, or what is under it, is what the ink lies on.
    #[default]
    None,
    /// A plate of white printed under the ink.
    Under(UnderPrint),
    /// A piece of white film of the same shape, laid on the part first.
    Backing {
        /// How far its edge stays inside the ink's, mm.
        choke_mm: f64,
    },
}

/// How far white stays inside the ink when the job does not say, mm: 0.15 in one pass, 0.30 when the sheet is fed
/// twice (common practice, no source). Less shows a white rim when the sheet shifts, more a dark one.
#[must_use]
pub fn usual_choke_mm(printer: &Printer) -> f64 {
    if printer.white_passes == Some(1) { 0.15 } else { 0.30 }
}

/// A plate of white printed under the ink.
#[derive(Clone, Debug, PartialEq)]
pub struct UnderPrint {
    /// What of the label it lies under.
    pub area: WhiteArea,
    /// Share of the area that is printed, above 0 and up to 1.
    pub tint: f64,
    /// How far its edge stays inside the ink's, mm.
    pub choke_mm: f64,
}

/// What of a label has white under it.
#[derive(Clone, Debug, PartialEq)]
pub enum WhiteArea {
    /// All ink.
    Ink,
    /// The whole label up to its trim, ink or not.
    Label,
    /// The ink of these colours.
    Of(Vec<Colour>),
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_match_the_published_angles() {
        // h = 2 d tan(a / 2), rounded to a micrometre, as tables for 15 to 24 arc minutes give it.
        for (distance, heights) in [
            (300.0, [1.309, 1.396, 1.745, 1.920, 2.094]),
            (500.0, [2.182, 2.327, 2.909, 3.200, 3.491]),
            (710.0, [3.098, 3.304, 4.131, 4.544, 4.957]),
            (1000.0, [4.363, 4.654, 5.818, 6.400, 6.981]),
            (2000.0, [8.727, 9.308, 11.636, 12.799, 13.963]),
        ] {
            for (angle, height) in [15.0, 16.0, 20.0, 22.0, 24.0].into_iter().zip(heights) {
                let found = cap_height_at(distance, angle);
                assert!((found - height).abs() < 0.000_6, "{distance} {angle}: {found}");
            }
        }
    }

    #[test]
    fn a_sign_is_judged_by_the_foot() {
        // ANSI Z535.2: 1 in for 25 ft, so 12 ft (3657.6 mm) need 0.48 in.
        let sign = Viewed { distance_mm: 3657.6, reading: Reading::Sign };
        assert!((sign.least_cap_mm() - 0.48 * 25.4).abs() < 1e-9);
    }
}
