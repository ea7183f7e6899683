//! Where a wire ends: a device and one of its terminals, as people write them.

use crate::finding::Place;
use std::fmt;

/// A terminal of a device.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Terminal {
    /// The device, as typed: `J2`, `-K1`, `=A1+B2-K1`.
    pub device: String,
    /// The terminal of it, as typed: `4`, `NO`, `GND`; empty when the device has but one.
    pub pin: String,
    /// Where it is written.
    pub place: Place,
}

impl Terminal {
    /// Reads `J2:4` or `-K1:13` (IEC 81346: a colon before the terminal), and the habits `J2.4`, `J2/4`
    /// and `J2-4`. Words without any of these are a device with one terminal.
    #[must_use]
    pub fn parse(text: &str, place: Place) -> Terminal {
        let text = text.trim();
        // A sign at the start is a prefix of the device, no separator.
        let split = [':', '.', '/', '-'].into_iter().find_map(|sign| {
            let (device, pin) = text.rsplit_once(sign)?;
            let whole = |part: &str| part.chars().any(char::is_alphanumeric);
            (whole(device) && !pin.trim().is_empty()).then_some((device.trim(), pin.trim()))
        });
        let (device, pin) = split.unwrap_or((text, ""));
        Terminal { device: device.to_owned(), pin: pin.to_owned(), place }
    }

    /// What tells it from others: a lone product prefix (IEC 81346 `-`) makes no difference.
    #[must_use]
    pub fn key(&self) -> String {
        let device = self.device.strip_prefix('-').unwrap_or(&self.device);
        if self.pin.is_empty() { device.to_owned() } else { format!("{device}:{}", self.pin) }
    }

    /// The device of [`Terminal::key`].
    #[must_use]
    pub fn device_key(&self) -> &str {
        self.device.strip_prefix('-').unwrap_or(&self.device)
    }
}

impl fmt::Display for Terminal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.pin.is_empty() {
            f.write_str(&self.device)
        } else {
            write!(f, "{}:{}", self.device, self.pin)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn terminals_are_read_as_people_and_the_standard_write_them() {
        // IEC 81346: = function, + location, - product, : terminal; the rest are habits (no source).
        for (text, device, pin) in [
            ("J2:4", "J2", "4"),
            ("-K1:13", "-K1", "13"),
            ("=A1+B2-K1:13", "=A1+B2-K1", "13"),
            ("K1:NO", "K1", "NO"),
            ("J2.4", "J2", "4"),
            ("J2-4", "J2", "4"),
            ("U1:D+", "U1", "D+"),
            ("-K1", "-K1", ""),
            ("BAT+", "BAT+", ""),
            (" X1 : 7 ", "X1", "7"),
        ] {
            let found = Terminal::parse(text, Place::default());
            assert_eq!((found.device.as_str(), found.pin.as_str()), (device, pin), "{text}");
        }
        let key = |text| Terminal::parse(text, Place::default()).key();
        assert_eq!(key("-K1:13"), key("K1:13"));
    }
}
