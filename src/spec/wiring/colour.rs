//! Colours of wires: codes and plain names (IEC 60757).

use crate::colour::Colour;

/// One colour of the standard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ColourCode {
    /// Two letters, or `GNYE`.
    pub code: &'static str,
    /// Its plain name.
    pub name: &'static str,
    /// How it is shown on screen and paper: an example of our own, the standard gives none.
    pub shown: [u8; 3],
}

const fn row(code: &'static str, name: &'static str, shown: [u8; 3]) -> ColourCode {
    ColourCode { code, name, shown }
}

/// The codes in the order in which combinations are written (IEC 60757).
pub(crate) const CODES: [ColourCode; 14] = [
    row("BK", "black", [24, 26, 28]),
    row("BN", "brown", [118, 74, 44]),
    row("RD", "red", [196, 40, 36]),
    row("OG", "orange", [238, 124, 32]),
    row("YE", "yellow", [246, 206, 48]),
    row("GN", "green", [46, 134, 68]),
    row("BU", "blue", [44, 92, 168]),
    row("VT", "violet", [124, 74, 152]),
    row("GY", "grey", [140, 146, 150]),
    row("WH", "white", [248, 248, 246]),
    row("PK", "pink", [240, 158, 178]),
    row("TQ", "turquoise", [48, 170, 172]),
    row("GD", "gold", [198, 160, 72]),
    row("SR", "silver", [188, 194, 198]),
];

/// Protective earth's own.
pub(crate) const GREEN_AND_YELLOW: ColourCode = row("GNYE", "green-and-yellow", [46, 134, 68]);

/// Other words for the same colours.
const ALSO: [(&str, &str); 9] = [
    ("purple", "VT"),
    ("gray", "GY"),
    ("slate", "GY"),
    ("light blue", "BU"),
    ("green/yellow", "GNYE"),
    ("green-yellow", "GNYE"),
    ("green yellow", "GNYE"),
    ("yellow/green", "GNYE"),
    ("violett", "VT"),
];

/// The colours of a wire's insulation, the ground colour first.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct WireColour {
    /// One, or more for a striped wire.
    pub codes: Vec<ColourCode>,
}

/// Why a colour could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum NotAColour {
    /// No such code or name: the part that is not known.
    Unknown(String),
    /// Green with yellow must be written as one code.
    GreenWithYellow,
}

impl WireColour {
    /// Reads a code (`RD`), a plain name (`red`), or a combination (`RDBU`, `red/blue`, `BK-WH`).
    pub(crate) fn parse(text: &str) -> Result<WireColour, NotAColour> {
        let text = text.trim();
        if let Some(one) = single(text) {
            return Ok(WireColour { codes: vec![one] });
        }
        let letters = text.bytes().all(|byte| byte.is_ascii_alphabetic());
        let parts: Vec<&str> = if letters && text.len().is_multiple_of(2) {
            let pairs = (0..text.len()).step_by(2);
            pairs.filter_map(|at| text.get(at..at + 2)).collect()
        } else {
            let stops = ['/', '-', '+', ' ', ','];
            text.split(stops).filter(|part| !part.is_empty() && *part != "and").collect()
        };
        let codes = parts.iter().map(|part| single(part)).collect::<Option<Vec<ColourCode>>>();
        let Some(codes) = codes.filter(|codes| !codes.is_empty()) else {
            return Err(NotAColour::Unknown(text.to_owned()));
        };
        let has = |code| codes.iter().any(|one| one.code == code);
        if has("GN") && has("YE") {
            return Err(NotAColour::GreenWithYellow);
        }
        Ok(WireColour { codes })
    }

    /// Its code, as the standard joins it: `RDBU`.
    #[must_use]
    pub fn code(&self) -> String {
        let mut codes: Vec<&ColourCode> = self.codes.iter().collect();
        let order = |code: &ColourCode| CODES.iter().position(|one| one.code == code.code);
        codes.sort_by_key(|code| order(code));
        codes.iter().map(|code| code.code).collect()
    }

    /// Its plain name: `red and blue`.
    #[must_use]
    pub fn name(&self) -> String {
        let names: Vec<&str> = self.codes.iter().map(|code| code.name).collect();
        names.join(" and ")
    }

    /// The colours to show it in.
    #[must_use]
    pub fn shown(&self) -> Vec<Colour> {
        let mut shown: Vec<Colour> =
            self.codes.iter().map(|code| Colour { rgb: code.shown }).collect();
        if self.is_earth() {
            let yellow = CODES.iter().filter(|one| one.code == "YE");
            shown.extend(yellow.map(|one| Colour { rgb: one.shown }));
        }
        shown
    }

    /// Whether it is protective earth's own green-and-yellow.
    #[must_use]
    pub fn is_earth(&self) -> bool {
        self.codes.iter().any(|code| code.code == GREEN_AND_YELLOW.code)
    }
}

fn single(text: &str) -> Option<ColourCode> {
    let text = text.trim();
    let all = || CODES.iter().chain([&GREEN_AND_YELLOW]);
    let known = all()
        .find(|one| one.code.eq_ignore_ascii_case(text) || one.name.eq_ignore_ascii_case(text));
    known.copied().or_else(|| {
        let (_, code) = ALSO.iter().find(|(word, _)| word.eq_ignore_ascii_case(text))?;
        all().find(|one| one.code == *code).copied()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_and_names_of_the_standard_are_read() {
        // IEC 60757: two-letter codes; combinations are joined in the standard's own order.
        for (text, code, name) in [
            ("BK", "BK", "black"),
            ("bn", "BN", "brown"),
            ("red", "RD", "red"),
            ("OG", "OG", "orange"),
            ("Yellow", "YE", "yellow"),
            ("GN", "GN", "green"),
            ("BU", "BU", "blue"),
            ("VT", "VT", "violet"),
            ("purple", "VT", "violet"),
            ("gray", "GY", "grey"),
            ("WH", "WH", "white"),
            ("PK", "PK", "pink"),
            ("TQ", "TQ", "turquoise"),
            ("gold", "GD", "gold"),
            ("SR", "SR", "silver"),
            ("GNYE", "GNYE", "green-and-yellow"),
            ("green/yellow", "GNYE", "green-and-yellow"),
            ("RDBU", "RDBU", "red and blue"),
            ("blue/red", "RDBU", "blue and red"),
            ("BK-WH", "BKWH", "black and white"),
        ] {
            let colour = WireColour::parse(text).unwrap();
            assert_eq!((colour.code().as_str(), colour.name().as_str()), (code, name), "{text}");
        }
        assert_eq!(WireColour::parse("YEGN"), Err(NotAColour::GreenWithYellow));
        assert_eq!(WireColour::parse("QQ"), Err(NotAColour::Unknown("QQ".into())));
        assert!(WireColour::parse("").is_err());
    }
}
