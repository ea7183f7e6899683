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

/// What stopped the machine, split by whose turn it is.
#[derive(Debug)]
pub enum Error {
    /// A file could not be read.
    Read(PathBuf, io::Error),
    /// A file is larger than the limit, bytes.
    TooLarge(PathBuf, u64),
    /// A name leads out of the job's folder.
    Outside(PathBuf),
    /// A file could not be written.
    Write(PathBuf, io::Error),
    /// A file is in the way that this program did not make.
    NotOurs(PathBuf),
}

impl std::fmt::Display for Error {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let name = |path: &Path| path.display().to_string();
        match self {
            Error::Read(path, error) if error.kind() == io::ErrorKind::NotFound => {
                write!(f, "there is no file {}", name(path))
            }
            Error::Read(path, error) => write!(f, "cannot read {}: {error}", name(path)),
            Error::TooLarge(path, limit) => {
                write!(f, "{} is larger than {} MiB", name(path), limit / (1024 * 1024))
            }
            Error::Outside(path) => write!(
                f,
                "{} is outside the job's folder; move it there or pass --allow-outside",
                name(path)
            ),
            Error::Write(path, error) => write!(f, "cannot write {}: {error}", name(path)),
            Error::NotOurs(path) => write!(
                f,
                "{} was not made by decalwright; move it away or choose another --out",
                name(path)
            ),
        }
    }
}

impl std::error::Error for Error {}

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
