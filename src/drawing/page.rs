//! What a drawing says about its own size.

use usvg::roxmltree::Node;

/// Millimetres to the CSS pixel: 96 to the inch (CSS Values 4, 6.2).
const PIXEL_MM: f64 = 25.4 / 96.0;

/// Width and height as the drawing gives them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Page {
    /// In units of length, mm.
    Sized(f64, f64),
    /// In plain numbers, taken as pixels at 96 to the inch, mm: some programs mean 72.
    Unitless(f64, f64),
    /// In percent, or not at all.
    Open,
}

impl Page {
    /// What the root element says.
    pub(super) fn of(root: Node<'_, '_>) -> Page {
        let side = |name| root.attribute(name).and_then(length);
        match (side("width"), side("height")) {
            (Some((w, true)), Some((h, true))) => Page::Sized(w, h),
            (Some((w, _)), Some((h, _))) => Page::Unitless(w, h),
            _ => Page::Open,
        }
    }
}

/// A length in mm and whether it came with a unit; `None` for percent and for units of a font.
fn length(text: &str) -> Option<(f64, bool)> {
    let text = text.trim();
    let digits = text.trim_end_matches(|c: char| c.is_ascii_alphabetic() || c == '%');
    let number: f64 = digits.trim_end().parse().ok()?;
    let unit = match text.get(digits.len()..)? {
        "" => return in_bounds(number * PIXEL_MM).map(|mm| (mm, false)),
        "mm" => 1.0,
        "cm" => 10.0,
        "Q" => 0.25,
        "in" => 25.4,
        "pt" => 25.4 / 72.0,
        "pc" => 25.4 / 6.0,
        "px" => PIXEL_MM,
        _ => return None,
    };
    in_bounds(number * unit).map(|mm| (mm, true))
}

/// Lengths that a page can have: up to the 5 m that a job may ask for.
fn in_bounds(mm: f64) -> Option<f64> {
    (mm > 1e-3 && mm <= 5000.0).then_some(mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_are_those_of_css() {
        // CSS Values 4, 6.2: 1in = 2.54cm = 96px = 72pt = 6pc, 1Q = 1/40 cm.
        for text in ["25.4mm", "2.54cm", "1in", "96px", "72pt", "6pc", "101.6Q", "96"] {
            let (mm, _) = length(text).unwrap();
            assert!((mm - 25.4).abs() < 1e-9, "{text}: {mm}");
        }
        for text in ["100%", "10em", "", "mm", "-3mm", "NaN", "inf", "1e9mm"] {
            assert_eq!(length(text), None, "{text}");
        }
    }
}
