//! The only room that opens and writes files.

mod folder;
mod write;

pub use folder::{Folder, Outside};
pub use write::Writing;

use std::{
    fs::File,
    io::{self, Read},
    path::{Path, PathBuf},
};

/// Why a file was not read or written; each names the file.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// A file could not be read.
    #[error("{}", unreadable(.0, .1))]
    Read(PathBuf, io::Error),
    /// A file is larger than the limit, bytes.
    #[error("{} is larger than {} MiB", .0.display(), .1 / (1024 * 1024))]
    TooLarge(PathBuf, u64),
    /// A name leads out of the job's folder.
    #[error("{} is outside the job's folder; move it there or pass --allow-outside", .0.display())]
    Outside(PathBuf),
    /// A file could not be written.
    #[error("cannot write {}: {}", .0.display(), .1)]
    Write(PathBuf, io::Error),
    /// A file is in the way that this program did not make.
    #[error("{} was not made by decalwright; move it away or choose another --out", .0.display())]
    NotOurs(PathBuf),
}

fn unreadable(path: &Path, error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => format!("there is no file {}", path.display()),
        _ => format!("cannot read {}: {error}", path.display()),
    }
}

/// Gets a file a job names (a table, a font), by the name as written in the job.
pub type Fetch<'a> = dyn FnMut(&str) -> Result<Vec<u8>, Error> + 'a;

/// The bytes of a plain file of at most `limit` bytes.
///
/// # Errors
/// [`Error::Read`] when it is missing, unreadable or no plain file (a pipe would keep us waiting);
/// [`Error::TooLarge`] past the limit.
pub fn read(path: &Path, limit: u64) -> Result<Vec<u8>, Error> {
    let unreadable = |error| Error::Read(path.to_owned(), error);
    if !path.metadata().map_err(unreadable)?.is_file() {
        let error = io::Error::new(io::ErrorKind::InvalidInput, "it is not a plain file");
        return Err(unreadable(error));
    }
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(unreadable)?;
    // One byte more than allowed tells a file that is too large, whatever its metadata says.
    file.take(limit.saturating_add(1)).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > limit {
        return Err(Error::TooLarge(path.to_owned(), limit));
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests;
