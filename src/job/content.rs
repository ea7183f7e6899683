//! What a file of a job holds until it is written.

use crate::output::pdf::Pdf;
use std::io;

/// What a file holds.
#[derive(Debug)]
pub enum Content {
    /// Its bytes.
    Bytes(Vec<u8>),
    /// A PDF that is not written yet: the bytes of a large one would take its memory twice.
    Pdf(Box<Pdf>),
}

impl Content {
    /// Writes it.
    ///
    /// # Errors
    /// Those of `out`.
    pub fn write_to(self, out: &mut dyn io::Write) -> io::Result<()> {
        match self {
            Content::Bytes(bytes) => out.write_all(&bytes),
            Content::Pdf(pdf) => pdf.write_to(out),
        }
    }
}
