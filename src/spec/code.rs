//! Codes for machines to read, as asked for.

use super::{Paint, Printer, Process};
use crate::finding::Place;

/// The kinds of code.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CodeKind {
    /// QR code (ISO/IEC 18004).
    Qr,
    /// Data Matrix ECC 200 (ISO/IEC 16022).
    DataMatrix,
    /// Code 128 (ISO/IEC 15417).
    Code128,
}

impl CodeKind {
    /// Its name in messages.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            CodeKind::Qr => "QR code",
            CodeKind::DataMatrix => "Data Matrix",
            CodeKind::Code128 => "Code 128",
        }
    }

    /// Modules that must stay free round it (Code 128: left and right).
    ///
    /// QR: 4 (ISO/IEC 18004). Data Matrix: 1 (ISO/IEC 16022) and Code 128: 10 (ISO/IEC 15417), from memory.
    #[must_use]
    pub fn quiet_modules(self) -> f64 {
        match self {
            CodeKind::Qr => 4.0,
            CodeKind::DataMatrix => 1.0,
            CodeKind::Code128 => 10.0,
        }
    }
}

/// Least dots to a module (ISO/IEC 18004, annex on printing).
const LEAST_DOTS: f64 = 4.0;

/// Least module on a decal, mm, and the least an ink-jet prints without filling in (common practice, no source).
const LEAST_MM: f64 = 0.4;
const LEAST_INK_JET_MM: f64 = 0.5;

/// The narrowest module readers can be trusted with, mm: four dots of the printer or 0.4 mm.
#[must_use]
pub fn least_module_mm(printer: &Printer) -> f64 {
    LEAST_MM.max(LEAST_DOTS * printer.dot_mm())
}

/// The narrowest module that also survives the spread of ink, mm: 0.5 mm on an ink-jet.
#[must_use]
pub fn safe_module_mm(printer: &Printer) -> f64 {
    let spread = match printer.process {
        Process::Laser => LEAST_MM,
        Process::InkJet => LEAST_INK_JET_MM,
    };
    least_module_mm(printer).max(spread)
}

/// How much of a QR code may be lost before it no longer reads (ISO/IEC 18004).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CodeLevel {
    /// About 7 %.
    L,
    /// About 15 %.
    M,
    /// About 25 %.
    Q,
    /// About 30 %.
    H,
}

/// A code on a label, drawn upright with its quiet zone centred on the part's point.
#[derive(Clone, Debug, PartialEq)]
pub struct Code {
    /// What it says.
    pub text: String,
    /// Its kind.
    pub kind: CodeKind,
    /// Error correction; only QR codes have a choice.
    pub level: CodeLevel,
    /// Width of one module as asked for, mm; the printer's dots round it up.
    pub module: Option<f64>,
    /// The width it may take, quiet zone and all, mm; without a module the largest that fits is taken.
    pub width: Option<f64>,
    /// The height it may take, mm; the height of Code 128's bars.
    pub height: Option<f64>,
    /// Modules kept free round it.
    pub quiet: f64,
    /// Ink or clear, of the dark modules.
    pub paint: Paint,
    /// Where its text is written.
    pub place: Place,
}
