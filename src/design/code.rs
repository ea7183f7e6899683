//! Where a code lies on a label, for the checks and for searching.

use super::Words;
use crate::finding::Place;
use crate::spec::{CodeKind, Paint, PartId};
use kurbo::{Affine, Point, Rect, Size, Vec2};

/// A code as drawn. Its own frame has its origin in the middle of the symbol and y down.
#[derive(Clone, Debug, PartialEq)]
pub struct DrawnCode {
    /// What it must say when it is read.
    pub text: String,
    /// Its kind.
    pub kind: CodeKind,
    /// Modules from left to right.
    pub columns: usize,
    /// Modules from top to bottom; 1 for Code 128.
    pub rows: usize,
    /// Size of a module in the code's own frame, mm.
    pub module: Size,
    /// Modules that were asked to stay free round it (Code 128: left and right).
    pub quiet: f64,
    /// Ink or clear, of the dark modules.
    pub paint: Paint,
    /// From the code's own frame to the label's.
    pub to_label: Affine,
    /// The part that draws it.
    pub part: PartId,
    /// Where in the job it was asked for, for messages alone.
    pub from: Place,
}

impl DrawnCode {
    /// The symbol without its quiet zone, in its own frame.
    #[must_use]
    pub fn symbol(&self) -> Rect {
        #[allow(clippy::cast_precision_loss, reason = "a symbol has some hundred modules a side")]
        let modules = (self.columns as f64, self.rows as f64);
        let size = Size::new(modules.0 * self.module.width, modules.1 * self.module.height);
        Rect::from_center_size(Point::ORIGIN, size)
    }

    /// The symbol with its quiet zone, in its own frame.
    #[must_use]
    pub fn with_quiet(&self) -> Rect {
        let free = self.quiet * self.module.width;
        match self.kind {
            CodeKind::Qr | CodeKind::DataMatrix => self.symbol().inflate(free, free),
            CodeKind::Code128 => self.symbol().inflate(free, 0.0),
        }
    }

    /// Width of a module on the label, mm: across the bars, and the lesser side where both count.
    #[must_use]
    pub fn module_mm(&self) -> f64 {
        let [a, b, c, d, ..] = self.to_label.as_coeffs();
        let across = self.module.width * Vec2::new(a, b).hypot();
        match self.kind {
            CodeKind::Qr | CodeKind::DataMatrix => {
                across.min(self.module.height * Vec2::new(c, d).hypot())
            }
            CodeKind::Code128 => across,
        }
    }

    /// The same after the label was moved, turned or stretched.
    #[must_use]
    pub fn placed(self, by: Affine) -> DrawnCode {
        DrawnCode { to_label: by * self.to_label, ..self }
    }

    /// What it says as words over it, so that it is found when searched for.
    #[must_use]
    pub fn spoken(&self) -> Words {
        let [a, b, c, d, ..] = self.to_label.as_coeffs();
        let (across, down) = (Vec2::new(a, b), Vec2::new(c, d));
        let symbol = self.symbol();
        let size = Size::new(symbol.width() * across.hypot(), symbol.height() * down.hypot());
        Words {
            text: self.text.clone(),
            area: Rect::from_center_size(self.to_label * Point::ORIGIN, size),
            turned_deg: libm::atan2(b, a).to_degrees(),
            cap_height_mm: size.height,
            reversed: self.paint == Paint::Clear,
            part: self.part,
            from: self.from,
        }
    }
}
