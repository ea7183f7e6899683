//! What is printed to work by: the placement list (what goes where, to read aloud before printing and to
//! work down at the bench), the wiring sheets, and the fit print of panels.
//!
//! The same entries and steps become pages (a printed form) and plain text. The list is common practice
//! in short words; the film maker's own instructions come first, and the list says so.

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

pub(crate) use fit::fit_pages;
pub(crate) use form::pages;
pub(crate) use text::text;
pub(crate) use wiring::{continuity_csv, wiring_pages};

use crate::design::Design;
use crate::output::Page;

/// A printed form.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Card {
    /// The pages. They place the job's designs, and the drawings below after them.
    pub pages: Vec<Page<'static>>,
    /// Letters and swatches the pages place: append them to the job's designs before writing the pages.
    pub drawings: Vec<Design>,
}

#[cfg(test)]
mod tests;
