//! Lengths as people write them, and the one way numbers are written out.
//!
//! A [`Length`] is a whole number of nanometres, so that `0.1 in` and `2.54 mm` are the same length
//! and sums do not drift. Geometry takes it as `f64` millimetres through [`Length::mm`].

use std::fmt;

/// A length as written in a spec: exact for mm, cm, µm and inches; points are rounded to 1 nm.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Length {
    nanometres: i64,
}

/// The longest length a spec may name, nm: 100 m. More comes of a wrong unit; no decal is as long.
const LONGEST_NM: f64 = 100.0e9;

/// Units a length may carry, with their size in nanometres.
///
/// The inch is 25.4 mm exactly and the point 1/72 of it (0.352 778 mm).
const UNITS: [(&str, f64); 8] = [
    ("mm", 1.0e6),
    ("cm", 1.0e7),
    ("um", 1.0e3),
    ("µm", 1.0e3),
    ("μm", 1.0e3),
    ("in", 25.4e6),
    ("pt", 25.4e6 / 72.0),
    ("m", 1.0e9),
];

/// Why a piece of text is not a length; says what to write instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct NotALength {
    /// What is wrong, as the end of a sentence that starts with the text: "has no number".
    pub what: &'static str,
    /// What to do about it.
    pub help: String,
}

impl Length {
    /// Reads `3 mm`, `3mm`, `0.1in`, `8 pt`, `250 um`, `-2 mm`, or a bare number of millimetres.
    ///
    /// # Errors
    /// [`NotALength`] for a comma as decimal point, an exponent, digits of other scripts, an unknown
    /// or missing number or unit, and anything beyond 100 m.
    pub(crate) fn parse(text: &str) -> Result<Length, NotALength> {
        const EXAMPLE: &str = "write a number and a unit, for example 3 mm";
        let text = text.trim();
        let wrong = |what, help: &str| Err(NotALength { what, help: help.to_owned() });
        let digits_end = text
            .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+')))
            .unwrap_or(text.len());
        let (number, unit) = (&text[..digits_end], text[digits_end..].trim());
        if unit.starts_with(',') {
            let fixed = text.replacen(',', ".", 1);
            return wrong("has a comma in the number", &format!("write {fixed}"));
        }
        if text.chars().any(|c| c.is_numeric() && !c.is_ascii_digit()) {
            return wrong("has digits that are not 0-9", "type the number with plain digits");
        }
        if number.is_empty() {
            return wrong("has no number", EXAMPLE);
        }
        let exponent = unit.strip_prefix(['e', 'E']).is_some_and(|rest| {
            rest.starts_with(|c: char| c.is_ascii_digit() || c == '-' || c == '+')
        });
        if exponent {
            return wrong("has an exponent", "write the number out, for example 0.001 mm");
        }
        let Ok(number) = number.parse::<f64>() else {
            return wrong("is not a number", EXAMPLE);
        };
        let size = match UNITS.iter().find(|(name, _)| *name == unit) {
            Some((_, size)) => *size,
            None if unit.is_empty() => 1.0e6,
            None => return wrong("has an unknown unit", "use mm, cm, um, in or pt"),
        };
        let nanometres = number * size;
        if !nanometres.is_finite() || nanometres.abs() > LONGEST_NM {
            return wrong("is longer than 100 m", "check the number and its unit");
        }
        #[allow(clippy::cast_possible_truncation, reason = "bounded by LONGEST_NM just above")]
        let nanometres = nanometres.round() as i64;
        Ok(Length { nanometres })
    }

    /// The length in millimetres.
    #[must_use]
    pub(crate) fn mm(self) -> f64 {
        #[allow(clippy::cast_precision_loss, reason = "at most 1e11 nm, exact in an f64")]
        let nanometres = self.nanometres as f64;
        nanometres / 1.0e6
    }
}

/// A length in mm to this many decimals, as if it had been written so.
#[must_use]
pub(crate) fn rounded(mm: f64, decimals: i32) -> f64 {
    let unit = 10.0_f64.powi(decimals);
    (mm * unit).round() / unit
}

/// A number written with at most `decimals` decimals, without trailing noughts and never as `-0`.
///
/// Every number in every output goes through here, so that the same geometry gives the same bytes.
#[must_use]
pub(crate) fn fixed(value: f64, decimals: usize) -> Fixed {
    Fixed { value, decimals }
}

/// See [`fixed`].
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fixed {
    value: f64,
    decimals: usize,
}

impl fmt::Display for Fixed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const POWERS: [f64; 7] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6];
        let decimals = self.decimals.min(6);
        let power = POWERS.get(decimals).copied().unwrap_or(1.0);
        let scaled = whole(self.value * power);
        debug_assert!(scaled.abs() < 1 << 53, "too large to write exactly: {}", self.value);
        let mut number = NumberText::new();
        number.prepend_decimal(scaled, decimals);
        f.write_str(str::from_utf8(number.bytes()).unwrap_or_default())
    }
}

/// The nearest whole number; halves are rounded away from nought.
///
/// Used in place of `f64::round`, which is a slow library call on the processors we build for by default.
pub(crate) fn whole(value: f64) -> i64 {
    #[allow(
        clippy::cast_possible_truncation,
        reason = "saturates; sizes are bounded, and the half makes truncation rounding"
    )]
    let whole = (value + if value < 0.0 { -0.5 } else { 0.5 }) as i64;
    whole
}

/// A few numbers as text, written from the last byte to the first, as dividing by ten yields their digits.
///
/// Our files are mostly numbers: this is several times as fast as formatting each with `write!`.
#[derive(Clone, Debug)]
pub(crate) struct NumberText {
    bytes: [u8; NumberText::CAPACITY],
    /// Where the first byte written so far stands.
    start: usize,
}

impl NumberText {
    /// Six numbers of any size, a sign and a point each, and what stands between.
    const CAPACITY: usize = 144;

    pub(crate) fn new() -> NumberText {
        NumberText { bytes: [0; NumberText::CAPACITY], start: NumberText::CAPACITY }
    }

    /// Puts a byte before what is there.
    pub(crate) fn prepend(&mut self, byte: u8) {
        debug_assert!(self.start > 0, "more than its capacity");
        self.start = self.start.saturating_sub(1);
        if let Some(free) = self.bytes.get_mut(self.start) {
            *free = byte;
        }
    }

    /// Puts `number` before what is there, its last `places` digits behind the point, without trailing noughts.
    pub(crate) fn prepend_decimal(&mut self, number: i64, mut places: usize) {
        let mut digits = number.unsigned_abs();
        if digits == 0 {
            return self.prepend(b'0');
        }
        while places > 0 && digits.is_multiple_of(10) {
            digits /= 10;
            places -= 1;
        }
        let mut written = 0;
        while digits > 0 || written <= places {
            if written == places && places > 0 {
                self.prepend(b'.');
            }
            self.prepend(b'0' + u8::try_from(digits % 10).unwrap_or(0));
            digits /= 10;
            written += 1;
        }
        if number < 0 {
            self.prepend(b'-');
        }
    }

    /// All of it, in reading order.
    pub(crate) fn bytes(&self) -> &[u8] {
        self.bytes.get(self.start..).unwrap_or_default()
    }
}

/// A number of things in words: `1 sheet`, `2 sheets`.
pub(crate) fn counted(number: usize, word: &str) -> String {
    if number == 1 { format!("1 {word}") } else { format!("{number} {word}s") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_lengths_as_people_write_them() {
        // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959); 1 pt = 1/72 in (ISO 32000-1 8.3.2.3).
        for (text, mm) in [
            ("3 mm", 3.0),
            ("3mm", 3.0),
            ("3", 3.0),
            ("0.1in", 2.54),
            ("8 in", 203.2),
            ("72 pt", 25.4),
            ("1 pt", 0.352_778),
            ("250 um", 0.25),
            ("250 µm", 0.25),
            ("1.5 cm", 15.0),
            ("-2 mm", -2.0),
        ] {
            assert_eq!(Length::parse(text).map(Length::mm), Ok(mm), "{text}");
        }
    }

    #[test]
    fn refuses_what_is_no_length_and_says_what_to_write() {
        for (text, what, help) in [
            ("1,5mm", "has a comma in the number", "write 1.5mm"),
            ("1e3mm", "has an exponent", "write the number out, for example 0.001 mm"),
            ("３mm", "has digits that are not 0-9", "type the number with plain digits"),
            ("mm", "has no number", "write a number and a unit, for example 3 mm"),
            ("3 furlong", "has an unknown unit", "use mm, cm, um, in or pt"),
            ("101 m", "is longer than 100 m", "check the number and its unit"),
            ("1.2.3 mm", "is not a number", "write a number and a unit, for example 3 mm"),
            ("", "has no number", "write a number and a unit, for example 3 mm"),
            (".nan", "is not a number", "write a number and a unit, for example 3 mm"),
        ] {
            let found = Length::parse(text).expect_err(text);
            assert_eq!((found.what, found.help.as_str()), (what, help), "{text}");
        }
    }

    #[test]
    fn writes_numbers_one_way() {
        for (value, decimals, text) in [
            (1.0, 3, "1"),
            (-0.0001, 3, "0"),
            (-0.5, 3, "-0.5"),
            (12.3456, 3, "12.346"),
            (0.05, 2, "0.05"),
            (100.1, 0, "100"),
            (2.004, 2, "2"),
        ] {
            assert_eq!(fixed(value, decimals).to_string(), text);
        }
    }
}
