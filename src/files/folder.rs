//! The folder a job lives in: the files it names are looked for there, and nowhere else unless allowed.

use super::{Error, read};
use std::path::{Component, Path, PathBuf};

/// The most bytes of a table or drawing.
const MOST_BYTES: u64 = 8 * 1024 * 1024;

/// The most bytes of a font: one with tens of thousands of letters is larger than any table.
const MOST_FONT_BYTES: u64 = 32 * 1024 * 1024;

/// Whether a job may name files outside its folder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outside {
    /// It may not: a job from somebody else cannot reach into other folders.
    Refused,
    /// The person said so on the command line.
    Allowed,
}

/// The job's folder.
#[derive(Clone, Debug)]
pub struct Folder {
    path: PathBuf,
    outside: Outside,
}

impl Folder {
    /// The folder at `path`.
    #[must_use]
    pub fn new(path: impl Into<PathBuf>, outside: Outside) -> Folder {
        let path: PathBuf = path.into();
        // The folder of `job.yaml` is the empty path.
        let path = if path.as_os_str().is_empty() { PathBuf::from(".") } else { path };
        Folder { path, outside }
    }

    /// The bytes of the file a job calls `name`: at most 8 MiB, fonts 32 MiB.
    ///
    /// # Errors
    /// [`Error::Outside`] when the name, or a link on the way, leads out of the folder and that is not
    /// allowed; otherwise as [`read`]. Errors name the file as the job does.
    pub fn fetch(&self, name: &str) -> Result<Vec<u8>, Error> {
        // Messages say the name as the job does, whatever folder it lies in.
        let outside = || Error::Outside(PathBuf::from(name));
        let unreadable = |error| Error::Read(PathBuf::from(name), error);
        if self.outside == Outside::Refused && leads_out(Path::new(name)) {
            return Err(outside());
        }
        let real = self.path.join(name).canonicalize().map_err(unreadable)?;
        let home = self.path.canonicalize().map_err(unreadable)?;
        if self.outside == Outside::Refused && !real.starts_with(home) {
            return Err(outside());
        }
        let ending = real.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
        let font = ["ttf", "otf"].iter().any(|known| ending.eq_ignore_ascii_case(known));
        read(&real, if font { MOST_FONT_BYTES } else { MOST_BYTES }).map_err(|error| match error {
            Error::Read(_, error) => unreadable(error),
            Error::TooLarge(_, limit) => Error::TooLarge(PathBuf::from(name), limit),
            other => other,
        })
    }
}

/// Whether a name leads out by itself, links aside. This is asked before the file is looked for, so that no
/// message gives away which files exist elsewhere.
fn leads_out(name: &Path) -> bool {
    let mut depth = 0_i32;
    name.components().any(|component| {
        depth += match component {
            Component::Normal(_) => 1,
            Component::CurDir => 0,
            Component::ParentDir => -1,
            Component::RootDir | Component::Prefix(_) => return true,
        };
        depth < 0
    })
}
