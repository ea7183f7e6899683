//! What the labels will look like on the part, to be looked at before film is spent.
//!
//! Two ways to look: [`pictures`] of the labels of each surface, at true size and enlarged, and one [`page`]
//! that a browser opens from disk, with everything on it to be switched, measured and tried out. Both show a
//! label cut to its trim and ink as [`crate::design::Seen`] works it out. A proof is no output to print from: it
//! reads designs and sheets and changes nothing.

mod page;
mod picture;
mod pins;
mod seen;
mod shelf;
mod shield;
mod surfaces;

pub(crate) use page::page;
pub(crate) use picture::pictures;

use crate::design::Design;
use crate::finding::{Findings, Severity, Sources};
use crate::font::Faces;
use crate::sheet::Sheet;
use crate::spec::{Label, Spec};
use crate::units::fixed;
use kurbo::Rect;

/// What a proof shows.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Job<'a> {
    /// What was asked.
    pub spec: &'a Spec,
    /// What was drawn.
    pub designs: &'a [Design],
    /// Where it lies.
    pub sheets: &'a [Sheet],
    /// What was found.
    pub findings: &'a Findings,
    /// The job's files, to say where findings are.
    pub sources: &'a Sources,
    /// Faces for captions.
    pub faces: &'a Faces,
}

impl<'a> Job<'a> {
    fn label(&self, design: &Design) -> Option<&'a Label> {
        self.spec.labels.get(design.label)
    }

    /// `15.0 x 6.2 mm, clear film, 3 copies`.
    fn caption(&self, design: &Design) -> String {
        let Rect { x0, y0, x1, y1 } = design.size();
        let size = format!("{} x {} mm", fixed(x1 - x0, 1), fixed(y1 - y0, 1));
        let Some(label) = self.label(design) else { return size };
        let copies = match label.copies {
            1 => String::new(),
            copies => format!(", {copies} copies"),
        };
        format!("{size}, {}{copies}", label.film.name())
    }
}

/// The word for a severity.
fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Note => "note",
    }
}
