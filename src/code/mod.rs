//! Codes for machines to read: from a text to modules, and from modules back to the text.
//!
//! The encoders are general-purpose crates for QR and Data Matrix and a page of our own for Code 128; no
//! other room knows them. [`read_back`] reads QR codes with a decoder that shares nothing with the encoder;
//! for the other two none is light enough, so Data Matrix is read by its encoder's crate and Code 128 by the
//! other half of our page. The tests read all three with an outside reader.

mod code128;

use crate::spec::{CodeKind, CodeLevel};
use datamatrix::{DataMatrix, SymbolList};
use qrcode::bits::Bits;
use qrcode::{EcLevel, QrCode, Version};

/// Dark and light modules, row by row from the top; Code 128 has one row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Modules {
    columns: usize,
    dark: Vec<bool>,
}

impl Modules {
    /// Rows of `columns` modules each, `true` where dark.
    ///
    /// `None` when they do not fill whole rows.
    #[must_use]
    pub(crate) fn new(columns: usize, dark: Vec<bool>) -> Option<Modules> {
        let whole = columns > 0 && !dark.is_empty() && dark.len().is_multiple_of(columns);
        whole.then_some(Modules { columns, dark })
    }

    /// Modules from left to right.
    #[must_use]
    pub(crate) fn columns(&self) -> usize {
        self.columns
    }

    /// Modules from top to bottom.
    #[must_use]
    pub(crate) fn rows(&self) -> usize {
        self.dark.len() / self.columns
    }

    /// Whether a module is dark; outside all are light.
    #[must_use]
    pub(crate) fn dark(&self, column: usize, row: usize) -> bool {
        column < self.columns
            && self.dark.get(row * self.columns + column).copied().unwrap_or(false)
    }
}

/// Why a text cannot be made into a code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unencodable {
    /// There is no symbol as large as it needs.
    TooLong,
    /// The kind has no such character.
    Character(char),
}

/// The modules of a code, in the smallest symbol that holds the text.
///
/// # Errors
/// [`Unencodable`] when the text is too long or has characters the kind lacks.
pub(crate) fn encode(kind: CodeKind, level: CodeLevel, text: &str) -> Result<Modules, Unencodable> {
    let (columns, dark) = match kind {
        CodeKind::Qr => qr(level, text)?,
        CodeKind::DataMatrix => {
            printable(text)?;
            let symbol = DataMatrix::encode(text.as_bytes(), SymbolList::default());
            let bitmap = symbol.map_err(|_| Unencodable::TooLong)?.bitmap();
            (bitmap.width(), bitmap.bits().to_vec())
        }
        CodeKind::Code128 => {
            printable(text)?;
            let bars = code128::encode(text).ok_or(Unencodable::TooLong)?;
            (bars.len(), bars)
        }
    };
    Modules::new(columns, dark).ok_or(Unencodable::TooLong)
}

/// What a reader reads in the modules; `None` when they are no code of that kind.
#[must_use]
pub(crate) fn read_back(kind: CodeKind, modules: &Modules) -> Option<String> {
    match kind {
        CodeKind::Qr => {
            let side = modules.columns();
            // The sizes of ISO/IEC 18004: 21 to 177 in steps of 4. Others must not reach the reader.
            if side != modules.rows() || !(21..=177).contains(&side) || side % 4 != 1 {
                return None;
            }
            let grid = rqrr::SimpleGrid::from_func(side, |x, y| modules.dark(x, y));
            rqrr::Grid::new(grid).decode().ok().map(|(_, text)| text)
        }
        CodeKind::DataMatrix => {
            let bytes = DataMatrix::decode(&modules.dark, modules.columns).ok()?;
            String::from_utf8(bytes).ok()
        }
        CodeKind::Code128 => code128::decode(&modules.dark),
    }
}

/// Only printable ASCII reads the same in every reader of Data Matrix and Code 128.
fn printable(text: &str) -> Result<(), Unencodable> {
    match text.chars().find(|letter| !(' '..='~').contains(letter)) {
        Some(letter) => Err(Unencodable::Character(letter)),
        None => Ok(()),
    }
}

fn qr(level: CodeLevel, text: &str) -> Result<(usize, Vec<bool>), Unencodable> {
    let level = match level {
        CodeLevel::L => EcLevel::L,
        CodeLevel::M => EcLevel::M,
        CodeLevel::Q => EcLevel::Q,
        CodeLevel::H => EcLevel::H,
    };
    let symbol = if text.is_ascii() {
        QrCode::with_error_correction_level(text, level).ok()
    } else {
        (1..=40).find_map(|version| as_utf8(Version::Normal(version), level, text))
    };
    let symbol = symbol.ok_or(Unencodable::TooLong)?;
    let width = symbol.width();
    Ok((width, symbol.into_colors().into_iter().map(|it| it.select(true, false)).collect()))
}

/// As bytes that are declared to be UTF-8 (ECI 26): without that, the encoder may take some of them for Kanji.
fn as_utf8(version: Version, level: EcLevel, text: &str) -> Option<QrCode> {
    let mut bits = Bits::new(version);
    bits.push_eci_designator(26).ok()?;
    bits.push_byte_data(text.as_bytes()).ok()?;
    bits.push_terminator(level).ok()?;
    QrCode::with_bits(bits, level).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    const KINDS: [CodeKind; 3] = [CodeKind::Qr, CodeKind::DataMatrix, CodeKind::Code128];

    #[test]
    fn fifty_alphanumeric_characters_at_level_m_make_version_3() {
        // ISO/IEC 18004, worked example: version 3, 29 modules.
        let text = "PROP STORE 04/12 SHELF B7 LANTERN BRASS NO: 000001";
        assert_eq!(text.len(), 50);
        let modules = encode(CodeKind::Qr, CodeLevel::M, text).unwrap();
        assert_eq!((modules.columns(), modules.rows()), (29, 29));
    }

    #[test]
    fn all_kinds_read_back_at_every_length() {
        for kind in KINDS {
            for length in 1..=60 {
                let text: String = "Prop 0412/B-7~x!93".chars().cycle().take(length).collect();
                let modules = encode(kind, CodeLevel::Q, &text).unwrap();
                assert_eq!(read_back(kind, &modules).as_deref(), Some(text.as_str()), "{kind:?}");
            }
        }
    }

    #[test]
    fn letters_of_other_scripts_are_read_as_typed() {
        for text in ["Requisite Nr. 12 – Schürze", "прибор 7", "港の灯", "ß"] {
            let modules = encode(CodeKind::Qr, CodeLevel::M, text).unwrap();
            assert_eq!(read_back(CodeKind::Qr, &modules).as_deref(), Some(text));
        }
        let refused = encode(CodeKind::Code128, CodeLevel::M, "Schürze");
        assert_eq!(refused, Err(Unencodable::Character('ü')));
    }

    #[test]
    fn a_text_beyond_the_largest_symbol_is_refused() {
        // Most bytes at level L: 2,953 (ISO/IEC 18004, table 7); most in a Data Matrix: 2,335 (ISO/IEC 16022).
        for (kind, most) in [(CodeKind::Qr, 2953), (CodeKind::DataMatrix, 2335)] {
            let refused = encode(kind, CodeLevel::L, &"a~".repeat(most));
            assert_eq!(refused, Err(Unencodable::TooLong));
        }
        assert!(encode(CodeKind::Qr, CodeLevel::L, &"a".repeat(2953)).is_ok());
        assert!(encode(CodeKind::Qr, CodeLevel::L, &"a".repeat(2954)).is_err());
    }

    #[test]
    fn modules_that_are_no_code_are_not_read() {
        for kind in KINDS {
            for columns in [1, 2, 21, 22, 30, 200] {
                let modules = Modules::new(columns, vec![true; columns * columns]).unwrap();
                assert_eq!(read_back(kind, &modules), None, "{kind:?} {columns}");
            }
        }
    }
}
