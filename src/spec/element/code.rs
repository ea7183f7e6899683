//! Codes for machines to read, with every choice made that does not need the printer's dots.

use super::{AnyElement, Around, Element, Keys, Paint, Part, placed};
use crate::finding::Place;
use crate::spec::Mm;
use crate::spec::choice::choice;
use crate::spec::reader::{Least, Reader};
use crate::spec::{Printer, Process};
use crate::yaml::{OneOrList, Scalar, keys};

/// The most modules anybody would keep free.
const MOST_QUIET: f64 = 50.0;

choice! {
    /// The kinds of code.
    pub enum CodeKind {
        /// QR code (ISO/IEC 18004).
        Qr = "qr",
        /// Data Matrix ECC 200 (ISO/IEC 16022).
        DataMatrix = "data-matrix",
        /// Code 128 (ISO/IEC 15417).
        Code128 = "code-128",
    }
}

impl CodeKind {
    /// Its name in messages.
    #[must_use]
    pub fn name(self) -> &'static str {
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
pub(crate) fn least_module_mm(printer: &Printer) -> f64 {
    LEAST_MM.max(LEAST_DOTS * printer.dot_mm())
}

/// The narrowest module that also survives the spread of ink, mm: 0.5 mm on an ink-jet.
#[must_use]
pub(crate) fn safe_module_mm(printer: &Printer) -> f64 {
    let spread = match printer.process {
        Process::Laser => LEAST_MM,
        Process::InkJet => LEAST_INK_JET_MM,
    };
    least_module_mm(printer).max(spread)
}

choice! {
    /// How much of a QR code may be lost before it no longer reads (ISO/IEC 18004).
    pub enum CodeLevel {
        /// About 7 %.
        L = "L",
        /// About 15 %.
        M = "M",
        /// About 25 %.
        Q = "Q",
        /// About 30 %.
        H = "H",
    }
}

keys! {
    /// A code for machines to read.
    pub(in crate::spec) struct CodeKeys;

    /// A code on a label, drawn upright with its quiet zone centred on the part's point.
    pub struct Code {
        /// What it says.
        text: Option<Scalar> => String,
        /// `qr`, `data-matrix` or `code-128`.
        kind: Option<Scalar>,
        /// Width of one module; rounded up to whole dots of the printer.
        module: Option<Scalar> => Option<Mm>,
        /// Error correction of a QR code: `L`, `M`, `Q` or `H`.
        level: Option<Scalar>,
        /// The room it may take, quiet zone and all: one length, or [width, height].
        size: Option<OneOrList>,
        /// Modules kept free round it, if not those the standard asks for.
        quiet: Option<Scalar> => f64,
        /// A colour, or `clear`, of the dark modules.
        paint: Option<Scalar>,
        /// Where its middle is: [right, down] from the middle of the label.
        at: Option<OneOrList>,
        /// Degrees clockwise.
        turned: Option<Scalar>,
        /// Its kind.
        kind => CodeKind,
        /// Error correction; only QR codes have a choice.
        level => CodeLevel,
        /// The width it may take, quiet zone and all, mm; without a module the largest that fits is taken.
        width => Option<Mm>,
        /// The height it may take, mm; the height of Code 128's bars.
        height => Option<Mm>,
        /// Ink or clear, of the dark modules.
        paint => Paint,
        /// Where its text is written.
        place => Place,
    }
}

impl AnyElement for Code {
    fn paints(&self) -> Vec<Paint> {
        vec![self.paint]
    }
}

impl Keys for CodeKeys {
    /// `None` when it says nothing or is of no known kind.
    fn part(&self, place: Place, _: &Around, reader: &mut Reader) -> Option<Part> {
        let place = self.text.as_ref().map_or(place, |text| text.place);
        let text = self.text.as_ref().map(Scalar::trimmed).unwrap_or_default();
        if text.is_empty() {
            let message = "the code has no text";
            reader.wrong("empty-text", place, message, "write what it says: `text: PROP-0412`");
        }
        if self.kind.is_none() {
            let help = "add `kind: qr`, `kind: data-matrix` or `kind: code-128`";
            reader.wrong("missing", place, "a code needs `kind`".to_owned(), help);
        }
        let kind = reader.word(&self.kind);
        let level = self.level(kind, reader);
        let module = reader.length(&self.module, Least::Something);
        let size = reader.one_or_pair(&self.size, Least::Something);
        // One length for bars is how wide they may be, not how high they are.
        let both = self.size.as_ref().is_some_and(|size| size.items.len() == 2);
        let quiet = reader.number(&self.quiet, 0.0..=MOST_QUIET);
        let paint = reader.paint_or_black(&self.paint);
        let kind: CodeKind = kind.filter(|_| !text.is_empty())?;
        let code = Code {
            text: text.to_owned(),
            kind,
            level,
            module,
            width: size.map(|(width, _)| width),
            height: size.map(|(_, height)| height).filter(|_| kind != CodeKind::Code128 || both),
            quiet: quiet.unwrap_or_else(|| kind.quiet_modules()),
            paint,
            place,
        };
        Some(placed(Element::Code(code), place, &self.at, &self.turned, reader))
    }
}

impl CodeKeys {
    fn level(&self, kind: Option<CodeKind>, reader: &mut Reader) -> CodeLevel {
        let level = reader.word(&self.level);
        if let (Some(scalar), Some(kind)) = (&self.level, kind)
            && kind != CodeKind::Qr
        {
            let message = format!("a {} has no levels", kind.name());
            let help = "take `level` out, or write `kind: qr`";
            reader.wrong("bad-value", scalar.place, message, help);
        }
        level.unwrap_or(CodeLevel::M)
    }
}
