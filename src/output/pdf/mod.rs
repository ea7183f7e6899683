//! Pages as one PDF: art as vectors at true size, in layers, its words searchable.
//!
//! The only room that knows printpdf and lopdf. printpdf lays out the document (pages, layer marks, placed
//! forms); every drawing is bytes of our own ([`art`], [`words`]); [`finish`] then puts right on printpdf's
//! lopdf document what printpdf cannot say or takes from clock and chance. Same pages, same bytes.
//!
//! Drawings are written in whole numbers of a small unit ([`art::Grid`]), y down like the sheet's frame; one
//! matrix a page turns that into points, y up.

mod art;
mod assemble;
mod finish;
mod forms;
mod saying;
#[cfg(test)]
mod tests;
mod words;

use super::{About, Page, words_on};
use crate::design::Design;
use crate::spec::Profile;
use kurbo::{Affine, Size};
use std::{borrow::Borrow, error, fmt, io};

/// Points in a millimetre: 72 to the inch of 25.4 mm.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// The longest side a PDF page may have, mm: 14 400 points (ISO 32000-1 annex C.2).
const LONGEST_SIDE_MM: f64 = 14_400.0 / POINTS_PER_MM;

/// The shortest side a PDF page may have, mm: 3 points (ISO 32000-1 annex C.2).
const SHORTEST_SIDE_MM: f64 = 3.0 / POINTS_PER_MM;

/// Why no PDF was written.
#[derive(Debug)]
pub enum Error {
    /// There is no page to write; the request's fault.
    NoPage,
    /// A page is larger or smaller than a PDF can say; the request's fault.
    PageSize {
        /// The page, from 1.
        page: usize,
        /// Its width and height in mm.
        size: Size,
    },
    /// The document did not have the shape expected of it; this program's fault.
    Structure(lopdf::Error),
    /// The bytes could not be gathered; the machine's fault.
    Write(io::Error),
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Error::NoPage => f.write_str("there is no page to write: add a label"),
            Error::PageSize { page, size } => write!(
                f,
                "page {page} is {} x {} mm; a PDF page has sides of 1.1 to 5080 mm: choose another paper",
                crate::units::fixed(size.width, 2),
                crate::units::fixed(size.height, 2),
            ),
            Error::Structure(error) => {
                write!(f, "the PDF could not be put together ({error}): please report this")
            }
            Error::Write(error) => write!(f, "the PDF could not be written: {error}"),
        }
    }
}

impl error::Error for Error {
    fn source(&self) -> Option<&(dyn error::Error + 'static)> {
        match self {
            Error::NoPage | Error::PageSize { .. } => None,
            Error::Structure(error) => Some(error),
            Error::Write(error) => Some(error),
        }
    }
}

impl From<lopdf::Error> for Error {
    fn from(error: lopdf::Error) -> Error {
        Error::Structure(error)
    }
}

impl From<io::Error> for Error {
    fn from(error: io::Error) -> Error {
        Error::Write(error)
    }
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

/// Makes pages a PDF 1.6: one page each, every box the size of the paper.
///
/// Layers: "ink" (the designs), "marks" (the pages' own marks) and "cut" (the trim of every placing, off at
/// first and never printed). The words of designs and pages lie over them unseen, for searching.
///
/// For a printer whose profile is known, all that a page holds is corrected by one matrix about the page's
/// middle, and its boxes are not.
///
/// # Errors
/// [`Error::NoPage`] without pages, [`Error::PageSize`] for a page beyond what a PDF can say; the others are faults of program or machine.
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
        let sayable = SHORTEST_SIDE_MM..=LONGEST_SIDE_MM;
        if !(sayable.contains(&page.size.width) && sayable.contains(&page.size.height)) {
            return Err(Error::PageSize { page: at + 1, size: page.size });
        }
    }
    let designs: Vec<&Design> = designs.iter().map(Borrow::borrow).collect();
    // Words are gathered a page at a time, and once more for the page's form: those of thousands of rows
    // would take as much memory as the pages.
    let alphabet = words::Alphabet::of(pages.iter().map(|page| words_on(page, &designs)));
    let layout = forms::lay_out(pages, &designs);
    let source = forms::Source { pages, designs: &designs, alphabet: &alphabet };
    let drawings = forms::draw(&layout, &source)?;
    let corrected =
        |page: &Page<'_>| profile.map_or(Affine::IDENTITY, |profile| profile.on_page(page.size));
    let corrections: Vec<Affine> = pages.iter().map(corrected).collect();
    let id = saying::identity(about, (pages, &corrections), &drawings);
    let document = assemble::assemble(pages, &corrections, &drawings);
    let with = finish::Finish { about, pages, layout: &layout, alphabet: &alphabet, id };
    finish::finish(document, drawings, &with).map(Pdf)
}
