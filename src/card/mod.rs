//! What is printed to work by: the placement list (what goes where, to read aloud before printing and to
//! work down at the bench), the wiring sheets, and the fit print of panels.
//!
//! The same entries and steps become pages (a printed form) and plain text. The list is common practice
//! said in short words; the film maker's own instructions come first, and the list says so.

mod entry;
mod fit;
mod form;
mod page;
mod row;
mod steps;
pub(crate) mod strip;
mod text;
pub(crate) mod typeset;
mod wiring;

use crate::design::Design;
use crate::font::Faces;
use crate::output::Page;
use crate::sheet::Sheet;
use crate::spec::Spec;
use crate::spec::wiring::Wiring;
use crate::wire::Plan;

/// The placement list as pages.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Card {
    /// The pages. They place the job's designs, and the drawings below after them.
    pub pages: Vec<Page<'static>>,
    /// Letters and swatches the pages place: append them to the job's designs before writing the pages.
    pub drawings: Vec<Design>,
}

/// The placement list as pages of A4, or of Letter where the job's own paper is an American size.
///
/// Letters are drawn once and placed, so that a list of thousands stays small.
#[must_use]
pub(crate) fn pages(spec: &Spec, designs: &[Design], sheets: &[Sheet], faces: &Faces) -> Card {
    let sections = entry::sections(spec, designs, sheets);
    form::fill(spec, designs, &sections, faces)
}

/// The fit print of the job's panels: each at true size in lines, on as many pages as it needs, and the list
/// of its holes.
///
/// It places no designs of the job: the drawings are numbered from 0.
#[must_use]
pub(crate) fn fit_pages(spec: &Spec, designs: &[Design], faces: &Faces) -> Card {
    fit::fill(spec, designs, faces)
}

/// The placement list as plain text, 78 columns where words allow it.
#[must_use]
pub(crate) fn text(spec: &Spec, designs: &[Design], sheets: &[Sheet]) -> String {
    text::write(spec, &entry::sections(spec, designs, sheets))
}

/// The wiring sheets as pages of the same paper: cautions, the plan's tests with boxes to tick and room for
/// a reading, every device with its terminals, and the list of wires.
///
/// They place no designs of the job: the drawings are numbered from 0.
#[must_use]
pub(crate) fn wiring_pages(spec: &Spec, wiring: &Wiring, plan: &Plan, faces: &Faces) -> Card {
    wiring::fill(spec, wiring, plan, faces)
}

/// The plan's tests as a table for a spreadsheet (RFC 4180), one row a test, numbered as on the sheets.
#[must_use]
pub(crate) fn continuity_csv(wiring: &Wiring, plan: &Plan) -> String {
    wiring::csv(wiring, plan)
}

#[cfg(test)]
mod tests;
