//! What the labels will look like on the part, to be looked at before film is spent.
//!
//! Two ways to look: [`pictures`] of the labels of each surface, at true size and enlarged, and one [`page`]
//! that a browser opens from disk, with everything on it to be switched, measured and tried out. Both show a
//! label cut to its trim and ink as [`crate::design::Seen`] works it out. A proof is no output to print from: it
//! reads designs and sheets and changes nothing.

mod html_escape;
mod page;
mod picture;
mod pins;
mod seen;
mod shelf;
mod surfaces;

pub(crate) use page::page;
pub(crate) use picture::pictures;

use crate::design::Design;
use crate::finding::{Findings, Sources};
use crate::font::Faces;
use crate::known::item;
use crate::sheet::Sheet;
use crate::spec::{Label, Spec};
use crate::units::fixed;

/// What a proof shows.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Proofed<'a> {
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

impl<'a> Proofed<'a> {
    fn label(&self, design: &Design) -> Option<&'a Label> {
        item(&self.spec.labels, design.label)
    }

    /// The designs of these numbers, each with its number.
    fn numbered(&self, numbers: &[usize]) -> Vec<(usize, &'a Design)> {
        numbers.iter().filter_map(|at| Some((*at, item(self.designs, *at)?))).collect()
    }

    /// `15.0 x 6.2 mm, clear film, 3 copies`.
    fn caption(&self, design: &Design) -> String {
        let trim = design.size();
        let size = format!("{} x {} mm", fixed(trim.width(), 1), fixed(trim.height(), 1));
        let Some(label) = self.label(design) else { return size };
        let copies = match label.copies {
            1 => String::new(),
            copies => format!(", {copies} copies"),
        };
        format!("{size}, {}{copies}", label.film.name())
    }
}
