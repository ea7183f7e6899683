//! Ink as it looks on what is under it.
//!
//! Light passes ink on its way in and out, so a clear ink's colour on white is already what two passes leave of
//! each channel. Over a ground that reflects less, the two multiply, in linear light. An ink that also scatters
//! light (toner, pigment) shows that share of its own colour whatever is under it.

use super::{Colour, coded, linear, zip};

/// What `ink` looks like on `ground`, where `opacity` (0 to 1) is the share of its own colour it keeps.
///
/// seen = T (o + (1 - o) G) in linear light for each channel, T the ink on white, G the ground: o = 0 is the
/// product of the two (Beer-Lambert law, light passing twice), o = 1 the ink alone. White ink (T = 1) of opacity o
/// gives o + (1 - o) G.
#[must_use]
pub(crate) fn over(ink: Colour, opacity: f64, ground: Colour) -> Colour {
    let keeps = opacity.clamp(0.0, 1.0);
    in_light(ink, ground, |ink, ground| ink * (keeps + (1.0 - keeps) * ground))
}

/// `from` with a share (0 to 1) of `to` mixed in, in linear light: paint thinned with another.
#[must_use]
pub(crate) fn mixed(from: Colour, to: Colour, share: f64) -> Colour {
    let share = share.clamp(0.0, 1.0);
    in_light(from, to, |from, to| from + (to - from) * share)
}

/// Two colours joined channel by channel, in linear light.
fn in_light(a: Colour, b: Colour, join: impl Fn(f64, f64) -> f64) -> Colour {
    Colour { rgb: zip(join, a.rgb.map(linear), b.rgb.map(linear)).map(coded) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn colour(text: &str) -> Colour {
        Colour::parse(text).unwrap()
    }

    #[test]
    fn clear_ink_multiplies_with_its_ground_in_linear_light() {
        // By hand with IEC 61966-2-1: 0x80 is 0.215861 of full light; squared 0.046596, which is 0x3d (60.98).
        // 0xbc is 0.502886; times 0x80 it is 0.108553, 0x5d (92.96).
        for (ink, ground, seen) in [
            ("#808080", "#808080", "#3d3d3d"),
            ("#bcbcbc", "#808080", "#5d5d5d"),
            ("#ff0000", "#00ff00", "#000000"),
            ("#ffff00", "#ff00ff", "#ff0000"),
            ("#ffffff", "#aeb4b8", "#aeb4b8"),
            ("#ad2b24", "#ffffff", "#ad2b24"),
        ] {
            assert_eq!(over(colour(ink), 0.0, colour(ground)), colour(seen), "{ink} on {ground}");
        }
    }

    #[test]
    fn opaque_ink_hides_its_ground_and_half_opaque_ink_half_of_it() {
        let (white, black) = (Colour::WHITE, Colour::BLACK);
        assert_eq!(over(colour("#ad2b24"), 1.0, black), colour("#ad2b24"));
        // 0.5 of full light is 0xbc: 187.5 by IEC 61966-2-1.
        assert_eq!(over(white, 0.5, black), colour("#bcbcbc"));
        assert_eq!(mixed(black, white, 0.5), colour("#bcbcbc"));
    }
}
