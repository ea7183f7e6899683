//! Colours as printed and as seen: sRGB values, and how far two of them stand apart.

mod lab;
pub(crate) mod neighbours;
pub(crate) mod seen;

pub use lab::Lab;

use std::fmt;

/// A colour in sRGB (IEC 61966-2-1), eight bits a channel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Colour {
    /// Red, green and blue.
    pub rgb: [u8; 3],
}

impl Colour {
    /// Full black.
    pub const BLACK: Colour = Colour { rgb: [0, 0, 0] };
    /// White: no ink at all on a printer without white.
    pub const WHITE: Colour = Colour { rgb: [255, 255, 255] };

    /// Reads `#rrggbb` or `#rgb`; `None` for anything else.
    #[must_use]
    pub fn parse(text: &str) -> Option<Colour> {
        let digits = text.strip_prefix('#')?;
        let nibbles: Option<Vec<u8>> = digits
            .chars()
            .map(|c| c.to_digit(16).and_then(|digit| u8::try_from(digit).ok()))
            .collect();
        let rgb = match nibbles?.as_slice() {
            [r, g, b] => [r * 17, g * 17, b * 17],
            [r, s, g, h, b, c] => [r * 16 + s, g * 16 + h, b * 16 + c],
            _ => return None,
        };
        Some(Colour { rgb })
    }

    /// Relative luminance, 0 for black to 1 for white.
    ///
    /// L = 0.2126 R + 0.7152 G + 0.0722 B on linear light (WCAG 2.2, "relative luminance").
    #[must_use]
    pub fn luminance(self) -> f64 {
        let [r, g, b] = self.rgb.map(linear);
        0.2126 * r + 0.7152 * g + 0.0722 * b
    }

    /// Contrast ratio of two colours, 1 to 21: (L1 + 0.05) / (L2 + 0.05) (WCAG 2.2).
    #[must_use]
    pub fn contrast(self, other: Colour) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }
}

/// One sRGB channel as linear light, 0 to 1 (IEC 61966-2-1).
fn linear(channel: u8) -> f64 {
    let value = f64::from(channel) / 255.0;
    if value <= 0.040_45 { value / 12.92 } else { libm::pow((value + 0.055) / 1.055, 2.4) }
}

/// Linear light, 0 to 1, as the nearest sRGB channel (IEC 61966-2-1); beyond either end it is that end.
fn coded(light: f64) -> u8 {
    let light = light.clamp(0.0, 1.0);
    let value = if light <= 0.003_130_8 {
        12.92 * light
    } else {
        1.055 * libm::pow(light, 1.0 / 2.4) - 0.055
    };
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and 255")]
    let channel = (value * 255.0).round() as u8;
    channel
}

/// Two colours' channels joined one by one.
fn zip(join: impl Fn(f64, f64) -> f64, a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    let ([a0, a1, a2], [b0, b1, b2]) = (a, b);
    [join(a0, b0), join(a1, b1), join(a2, b2)]
}

impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [r, g, b] = self.rgb;
        write!(f, "#{r:02x}{g:02x}{b:02x}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn contrast_matches_the_published_pairs() {
        // WCAG 2.2 definitions; pairs as in common checkers, two decimals.
        for (a, b, ratio) in [
            ("#000", "#fff", 21.00),
            ("#00f", "#fff", 8.59),
            ("#f00", "#00f", 2.15),
            ("#f00", "#fff", 4.00),
            ("#767676", "#fff", 4.54),
            ("#777777", "#fff", 4.48),
            ("#ff0", "#000", 19.56),
        ] {
            let (a, b) = (Colour::parse(a).unwrap(), Colour::parse(b).unwrap());
            assert!((a.contrast(b) - ratio).abs() < 0.005, "{a} on {b}: {}", a.contrast(b));
        }
    }

    #[test]
    fn refuses_what_is_no_colour() {
        for text in ["ad2b24", "#ad2b2", "#gggggg", "#", "red", "#ad2b240", "#１１１"] {
            assert_eq!(Colour::parse(text), None, "{text}");
        }
    }
}
