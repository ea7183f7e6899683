//! CIE L*a*b* under D65, and how far two colours stand apart to the eye.

use super::{Colour, coded, linear, zip};

/// A colour in CIE L*a*b* (ISO/CIE 11664-4) under D65, 2° observer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lab {
    /// Lightness, 0 to 100.
    pub l: f64,
    /// Green (negative) to red.
    pub a: f64,
    /// Blue (negative) to yellow.
    pub b: f64,
}

/// Linear sRGB to CIE XYZ under D65: the primaries of IEC 61966-2-1 worked out to seven digits.
const TO_XYZ: [[f64; 3]; 3] = [
    [0.412_456_4, 0.357_576_1, 0.180_437_5],
    [0.212_672_9, 0.715_152_2, 0.072_175_0],
    [0.019_333_9, 0.119_192_0, 0.950_304_1],
];

/// The inverse of [`TO_XYZ`].
const FROM_XYZ: [[f64; 3]; 3] = [
    [3.240_454_2, -1.537_138_5, -0.498_531_4],
    [-0.969_266_0, 1.876_010_8, 0.041_556_0],
    [0.055_643_4, -0.204_025_9, 1.057_225_2],
];

/// XYZ of the D65 white the matrices are made for.
const WHITE: [f64; 3] = [0.950_47, 1.0, 1.088_83];

/// Where the cube root gives way to a straight line: (6/29)³ (ISO/CIE 11664-4).
const BEND: f64 = 216.0 / 24_389.0;

/// Slope of that line: (29/3)³.
const SLOPE: f64 = 24_389.0 / 27.0;

/// How far past 0 or 1 a linear channel may lie and still count as sRGB: a fifth of one step of 255.
const ROUNDING: f64 = 0.000_8;

impl Colour {
    /// The colour in L*a*b*.
    #[must_use]
    pub fn lab(self) -> Lab {
        let light = self.rgb.map(linear);
        let [x, y, z] = times(TO_XYZ, light);
        let [fx, fy, fz] = zip(|value, white| perceived(value / white), [x, y, z], WHITE);
        Lab { l: 116.0 * fy - 16.0, a: 500.0 * (fx - fy), b: 200.0 * (fy - fz) }
    }
}

impl Lab {
    /// The nearest sRGB colour; `None` when sRGB cannot show it.
    #[must_use]
    pub fn colour(self) -> Option<Colour> {
        let fy = (self.l + 16.0) / 116.0;
        let [x, y, z] = [fy + self.a / 500.0, fy, fy - self.b / 200.0].map(unperceived);
        let light = times(FROM_XYZ, zip(|value, white| value * white, [x, y, z], WHITE));
        let shown = light.iter().all(|channel| (-ROUNDING..=1.0 + ROUNDING).contains(channel));
        shown.then(|| Colour { rgb: light.map(coded) })
    }

    /// How far two colours stand apart: CIEDE2000 with all weights 1 (ISO/CIE 11664-6).
    ///
    /// About 1 is the least difference a trained eye sees side by side. The formula is written as in Sharma, Wu
    /// and Dalal, "The CIEDE2000 color-difference formula: implementation notes" (2005).
    #[must_use]
    pub fn difference(self, other: Lab) -> f64 {
        let chroma = |lab: Lab| libm::hypot(lab.a, lab.b);
        let mean_7 = libm::pow(f64::midpoint(chroma(self), chroma(other)), 7.0);
        let stretch = 1.5 - 0.5 * (mean_7 / (mean_7 + SEVENTH)).sqrt();
        let (one, two) = (Polar::of(self, stretch), Polar::of(other, stretch));

        let lightness = f64::midpoint(self.l, other.l);
        let mean = f64::midpoint(one.chroma, two.chroma);
        let no_hue = one.chroma * two.chroma == 0.0;
        let turn = if no_hue { 0.0 } else { wrapped(two.hue_deg - one.hue_deg) };
        let hue = if no_hue { one.hue_deg + two.hue_deg } else { mean_hue(one, two) };

        let d_chroma = two.chroma - one.chroma;
        let d_hue = 2.0 * (one.chroma * two.chroma).sqrt() * sin_deg(turn / 2.0);
        let t = 1.0 - 0.17 * cos_deg(hue - 30.0)
            + 0.24 * cos_deg(2.0 * hue)
            + 0.32 * cos_deg(3.0 * hue + 6.0)
            - 0.20 * cos_deg(4.0 * hue - 63.0);
        let off_50 = (lightness - 50.0) * (lightness - 50.0);
        let for_l = (other.l - self.l) / (1.0 + 0.015 * off_50 / (20.0 + off_50).sqrt());
        let for_c = d_chroma / (1.0 + 0.045 * mean);
        let for_h = d_hue / (1.0 + 0.015 * mean * t);

        let blue = (hue - 275.0) / 25.0;
        let mean_7 = libm::pow(mean, 7.0);
        let bend =
            -2.0 * (mean_7 / (mean_7 + SEVENTH)).sqrt() * sin_deg(60.0 * libm::exp(-blue * blue));
        (for_l * for_l + for_c * for_c + for_h * for_h + bend * for_c * for_h).max(0.0).sqrt()
    }
}

/// 25⁷, from the formula.
const SEVENTH: f64 = 6_103_515_625.0;

/// Chroma and hue after the formula's stretch of a*.
#[derive(Clone, Copy)]
struct Polar {
    chroma: f64,
    hue_deg: f64,
}

impl Polar {
    fn of(lab: Lab, stretch: f64) -> Polar {
        let a = lab.a * stretch;
        let hue_deg = libm::atan2(lab.b, a).to_degrees().rem_euclid(360.0);
        Polar { chroma: libm::hypot(a, lab.b), hue_deg }
    }
}

/// An angle between -180 and 180 degrees.
fn wrapped(degrees: f64) -> f64 {
    if degrees > 180.0 {
        degrees - 360.0
    } else if degrees < -180.0 {
        degrees + 360.0
    } else {
        degrees
    }
}

/// The mean of two hues, on the shorter way round.
fn mean_hue(one: Polar, two: Polar) -> f64 {
    let sum = one.hue_deg + two.hue_deg;
    if (one.hue_deg - two.hue_deg).abs() <= 180.0 {
        sum / 2.0
    } else if sum < 360.0 {
        (sum + 360.0) / 2.0
    } else {
        (sum - 360.0) / 2.0
    }
}

fn sin_deg(degrees: f64) -> f64 {
    libm::sin(degrees.to_radians())
}

fn cos_deg(degrees: f64) -> f64 {
    libm::cos(degrees.to_radians())
}

/// The scale of L*a*b*: a cube root with a straight foot.
fn perceived(value: f64) -> f64 {
    if value > BEND { libm::cbrt(value) } else { (SLOPE * value + 16.0) / 116.0 }
}

/// The inverse of [`perceived`].
fn unperceived(value: f64) -> f64 {
    let cube = value * value * value;
    if cube > BEND { cube } else { (116.0 * value - 16.0) / SLOPE }
}

fn times(matrix: [[f64; 3]; 3], [x, y, z]: [f64; 3]) -> [f64; 3] {
    matrix.map(|[a, b, c]| a * x + b * y + c * z)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The test data of Sharma, Wu and Dalal (2005), all 34 pairs: L, a, b, L, a, b and the difference.
    const PAIRS: [[f64; 7]; 34] = [
        [50.0000, 2.6772, -79.7751, 50.0000, 0.0000, -82.7485, 2.0425],
        [50.0000, 3.1571, -77.2803, 50.0000, 0.0000, -82.7485, 2.8615],
        [50.0000, 2.8361, -74.0200, 50.0000, 0.0000, -82.7485, 3.4412],
        [50.0000, -1.3802, -84.2814, 50.0000, 0.0000, -82.7485, 1.0000],
        [50.0000, -1.1848, -84.8006, 50.0000, 0.0000, -82.7485, 1.0000],
        [50.0000, -0.9009, -85.5211, 50.0000, 0.0000, -82.7485, 1.0000],
        [50.0000, 0.0000, 0.0000, 50.0000, -1.0000, 2.0000, 2.3669],
        [50.0000, -1.0000, 2.0000, 50.0000, 0.0000, 0.0000, 2.3669],
        [50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0009, 7.1792],
        [50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0010, 7.1792],
        [50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0011, 7.2195],
        [50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0012, 7.2195],
        [50.0000, -0.0010, 2.4900, 50.0000, 0.0009, -2.4900, 4.8045],
        [50.0000, -0.0010, 2.4900, 50.0000, 0.0010, -2.4900, 4.8045],
        [50.0000, -0.0010, 2.4900, 50.0000, 0.0011, -2.4900, 4.7461],
        [50.0000, 2.5000, 0.0000, 50.0000, 0.0000, -2.5000, 4.3065],
        [50.0000, 2.5000, 0.0000, 73.0000, 25.0000, -18.0000, 27.1492],
        [50.0000, 2.5000, 0.0000, 61.0000, -5.0000, 29.0000, 22.8977],
        [50.0000, 2.5000, 0.0000, 56.0000, -27.0000, -3.0000, 31.9030],
        [50.0000, 2.5000, 0.0000, 58.0000, 24.0000, 15.0000, 19.4535],
        [50.0000, 2.5000, 0.0000, 50.0000, 3.1736, 0.5854, 1.0000],
        [50.0000, 2.5000, 0.0000, 50.0000, 3.2972, 0.0000, 1.0000],
        [50.0000, 2.5000, 0.0000, 50.0000, 1.8634, 0.5757, 1.0000],
        [50.0000, 2.5000, 0.0000, 50.0000, 3.2592, 0.3350, 1.0000],
        [60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644],
        [63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.2630],
        [61.2901, 3.7196, -5.3901, 61.4292, 2.2480, -4.9620, 1.8731],
        [35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645],
        [22.7233, 20.0904, -46.6940, 23.0331, 14.9730, -42.5619, 2.0373],
        [36.4612, 47.8580, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146],
        [90.8027, -2.0831, 1.4410, 91.1528, -1.6435, 0.0447, 1.4441],
        [90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381],
        [6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377],
        [2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082],
    ];

    #[test]
    fn differences_match_all_published_pairs() {
        for [l, a, b, m, c, d, difference] in PAIRS {
            let (one, two) = (Lab { l, a, b }, Lab { l: m, a: c, b: d });
            for found in [one.difference(two), two.difference(one)] {
                assert!((found - difference).abs() < 0.000_05, "{one:?} {two:?}: {found}");
            }
        }
    }

    #[test]
    fn srgb_becomes_lab_as_calculators_give_it() {
        // sRGB under D65 without adaptation, three decimals: worked from IEC 61966-2-1 and ISO/CIE 11664-4.
        for (colour, l, a, b) in [
            ("#f00", 53.241, 80.092, 67.203),
            ("#0f0", 87.735, -86.183, 83.179),
            ("#00f", 32.297, 79.188, -107.860),
            ("#808080", 53.585, 0.0, 0.0),
            ("#fff", 100.0, 0.0, 0.0),
            ("#000", 0.0, 0.0, 0.0),
        ] {
            let lab = Colour::parse(colour).unwrap().lab();
            for (found, wanted) in [(lab.l, l), (lab.a, a), (lab.b, b)] {
                assert!((found - wanted).abs() < 0.002, "{colour}: {lab:?}");
            }
        }
    }

    #[test]
    fn every_colour_comes_back_and_others_are_refused() {
        for r in (0..=255).step_by(15) {
            for g in (0..=255).step_by(15) {
                for b in (0..=255).step_by(15) {
                    let colour = Colour { rgb: [r, g, b] };
                    assert_eq!(colour.lab().colour(), Some(colour));
                }
            }
        }
        assert_eq!(Lab { l: 50.0, a: 120.0, b: 0.0 }.colour(), None);
        assert_eq!(Lab { l: 101.0, a: 0.0, b: 0.0 }.colour(), None);
    }
}
