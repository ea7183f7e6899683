//! Pages as one PDF: art as vectors at true size, in layers, its words searchable.
//!
//! The only room that knows printpdf and lopdf. printpdf lays out the document (pages, layer marks, placed
//! forms); every drawing is bytes of our own ([`art`], [`words`]); [`finish`] then corrects printpdf's document
//! where it cannot express what is needed, and removes its dates and random identifiers. Same pages, same bytes.
//!
//! Drawings are written in whole numbers of a small unit ([`outline::Grid`]), y down like the sheet's frame; one
//! matrix a page turns that into points, y up.

mod art;
mod assemble;
mod finish;
mod forms;
mod metadata;
mod outline;
#[cfg(test)]
mod tests;
mod words;

use super::{About, Page, words_on};
use crate::design::Design;
use crate::spec::Profile;
use crate::units::fixed;
use forms::SharedDesigns;
use kurbo::{Affine, Size};
use std::{borrow::Borrow, io};
use words::Alphabet;

/// Points in a millimetre: 72 to the inch of 25.4 mm.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// The longest side a PDF page may have, mm: 14 400 points (ISO 32000-1 annex C.2).
const LONGEST_SIDE_MM: f64 = 14_400.0 / POINTS_PER_MM;

/// The shortest side a PDF page may have, mm: 3 points (ISO 32000-1 annex C.2).
const SHORTEST_SIDE_MM: f64 = 3.0 / POINTS_PER_MM;

/// Why no PDF was written.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// There is no page to write; the request's fault.
    #[error("there is no page to write: add a label")]
    NoPage,
    /// A page is larger or smaller than a page of a PDF may be; the request's fault.
    #[error(
        "page {page} is {} x {} mm; a PDF page has sides of 1.1 to 5080 mm: choose another paper",
        fixed(size.width, 2),
        fixed(size.height, 2)
    )]
    PageSize {
        /// The page, from 1.
        page: usize,
        /// Its width and height in mm.
        size: Size,
    },
    /// The document did not have the shape expected of it; this program's fault.
    #[error("the PDF could not be put together ({0}): please report this")]
    Structure(#[from] lopdf::Error),
    /// The bytes could not be gathered; the machine's fault.
    #[error("the PDF could not be written: {0}")]
    Write(#[from] io::Error),
}

/// All that a document is made from.
struct Composition<'a> {
    about: &'a About,
    pages: &'a [Page<'a>],
    /// For each page, from its millimetres to those that come out right on the printer.
    corrections: Vec<Affine>,
    designs: Vec<&'a Design>,
    shared: SharedDesigns,
    alphabet: Alphabet,
}

/// A finished PDF, not yet written.
///
/// It holds every page packed; that of thousands of labels is best written straight to where it goes.
#[derive(Debug)]
pub struct Pdf(lopdf::Document);

impl Pdf {
    /// Writes it piece by piece, many of them small.
    ///
    /// # Errors
    /// Those of `out`.
    pub fn write_to(mut self, mut out: &mut dyn io::Write) -> io::Result<()> {
        self.0.save_to(&mut out)
    }

    /// Its bytes.
    ///
    /// # Errors
    /// [`Error::Write`] when they could not be gathered.
    pub fn into_bytes(self) -> Result<Vec<u8>, Error> {
        let mut bytes = Vec::new();
        self.write_to(&mut bytes)?;
        Ok(bytes)
    }
}

/// Pages as a PDF 1.6: one page each, every box the size of the paper.
///
/// Layers: "ink" (the designs), "marks" (the pages' own marks) and "cut" (the trim of every placing, off at
/// first and never printed). The words of designs and pages lie over them unseen, for searching.
///
/// For a printer whose profile is known, all that a page holds is corrected by one matrix about the page's
/// middle, and its boxes are not.
///
/// # Errors
/// [`Error::NoPage`] without pages, [`Error::PageSize`] for a page larger or smaller than a PDF allows; the others
/// are faults of program or machine.
pub(crate) fn compose<D: Borrow<Design> + Sync>(
    about: &About,
    designs: &[D],
    pages: &[Page<'_>],
    profile: Option<&Profile>,
) -> Result<Pdf, Error> {
    if pages.is_empty() {
        return Err(Error::NoPage);
    }
    for (at, page) in pages.iter().enumerate() {
        let allowed = SHORTEST_SIDE_MM..=LONGEST_SIDE_MM;
        if !(allowed.contains(&page.size.width) && allowed.contains(&page.size.height)) {
            return Err(Error::PageSize { page: at + 1, size: page.size });
        }
    }
    let designs: Vec<&Design> = designs.iter().map(Borrow::borrow).collect();
    let correction =
        |page: &Page<'_>| profile.map_or(Affine::IDENTITY, |profile| profile.on_page(page.size));
    let composition = Composition {
        about,
        pages,
        corrections: pages.iter().map(correction).collect(),
        shared: SharedDesigns::of(pages, &designs),
        // Words are gathered a page at a time, and once more for the page's form: those of thousands of rows
        // would take as much memory as the pages.
        alphabet: Alphabet::of(pages.iter().map(|page| words_on(page, &designs))),
        designs,
    };
    let forms = forms::draw(&composition)?;
    let identifier = metadata::identifier(&composition, &forms);
    let document = assemble::assemble(&composition, &forms);
    finish::finish(document, &composition, forms, identifier).map(Pdf)
}
