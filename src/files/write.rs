//! Writing what a run makes: all of it or none of it, and never over what somebody else made.

use super::Error;
use std::{
    collections::BTreeSet,
    fs::{self, File, Permissions},
    io::{self, BufWriter, Read, Write},
    path::{Component, Path, PathBuf},
};
use tempfile::{Builder, TempPath};

/// What every file of ours holds somewhere, small or not (its metadata say who made it).
const MARK: &[u8] = b"decalwright";

/// The most bytes of a file in the way that are searched for the mark; more than our largest output, which
/// for ten thousand markers is 40 MiB.
const MOST_SEARCHED: u64 = 1024 * 1024 * 1024;

/// How many bytes are searched at a time, so that a large file takes no memory.
const CHUNK: u64 = 64 * 1024;

/// Where a file goes: links followed, and the mode of what is there now.
#[derive(Debug)]
struct Target {
    path: PathBuf,
    mode: Option<Permissions>,
}

/// Files on their way into a folder: none is there before [`Writing::finish`], then all are.
///
/// Each writes itself to a temporary beside its target and is synced when it is added, so that none has to
/// be in memory as a whole and a full disk leaves things as they were. Dropped unfinished, it leaves nothing
/// behind.
#[derive(Debug)]
pub struct Writing {
    dir: PathBuf,
    keep: Vec<PathBuf>,
    paths: BTreeSet<PathBuf>,
    ready: Vec<(Target, TempPath)>,
    /// The folders made on the way.
    made: Vec<PathBuf>,
}

impl Writing {
    /// Starts writing below `dir`; `keep` are the run's inputs.
    #[must_use]
    pub fn new(dir: &Path, keep: &[PathBuf]) -> Writing {
        Writing {
            dir: dir.to_owned(),
            keep: keep.iter().filter_map(|path| path.canonicalize().ok()).collect(),
            paths: BTreeSet::new(),
            ready: Vec::new(),
            made: Vec::new(),
        }
    }

    /// Adds a file by its name below the folder, and lets it write itself. Folders are made as needed.
    ///
    /// # Errors
    /// [`Error::NotOurs`] when the target is a folder, one of the inputs, or does not hold our mark;
    /// [`Error::Outside`] for a name that leads out of the folder; [`Error::Write`] otherwise.
    pub fn add(
        &mut self,
        name: &str,
        content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), Error> {
        let path = self.dir.join(name);
        let inside = |part| matches!(part, Component::Normal(_));
        if name.is_empty() || !Path::new(name).components().all(inside) {
            return Err(Error::Outside(path));
        }
        if !self.paths.insert(path.clone()) {
            let error = io::Error::new(io::ErrorKind::AlreadyExists, "two outputs have this name");
            return Err(Error::Write(path, error));
        }
        let target = target(&path, &self.keep)?;
        let written = temporary(&target, content, &mut self.made);
        let file = written.map_err(|error| Error::Write(target.path.clone(), error))?;
        self.ready.push((target, file));
        Ok(())
    }

    /// Puts all files where they belong, and returns how many there are. Files of an earlier run keep
    /// their mode, and links their target.
    ///
    /// # Errors
    /// [`Error::Write`] when a file cannot be put in its place.
    pub fn finish(mut self) -> Result<usize, Error> {
        let mut new = Vec::new();
        for (target, file) in std::mem::take(&mut self.ready) {
            if let Err(error) = file.persist(&target.path) {
                // What replaced an earlier run's file is whole and stays; what is new goes again.
                new.iter().for_each(|path: &PathBuf| fs::remove_file(path).unwrap_or_default());
                return Err(Error::Write(target.path, error.error));
            }
            if target.mode.is_none() {
                new.push(target.path);
            }
        }
        Ok(self.paths.len())
    }
}

impl Drop for Writing {
    fn drop(&mut self) {
        self.ready.clear();
        // Only empty folders go; one that holds something, ours or not, stays.
        self.made.iter().rev().for_each(|folder| fs::remove_dir(folder).unwrap_or_default());
    }
}

/// Where `path` leads, once it is sure that it may be written.
fn target(path: &Path, keep: &[PathBuf]) -> Result<Target, Error> {
    if path.symlink_metadata().is_err() {
        return Ok(Target { path: path.to_owned(), mode: None });
    }
    let in_the_way = || Error::NotOurs(path.to_owned());
    // A link that leads nowhere is not ours to fill.
    let real = path.canonicalize().map_err(|_| in_the_way())?;
    let mode = real.metadata().map_err(|_| in_the_way())?.permissions();
    if keep.contains(&real) || !holds_mark(&real).map_err(|_| in_the_way())? {
        return Err(in_the_way());
    }
    Ok(Target { path: real, mode: Some(mode) })
}

/// Whether a plain file holds our mark.
fn holds_mark(path: &Path) -> io::Result<bool> {
    // A pipe would keep us waiting.
    if !path.metadata()?.is_file() {
        return Ok(false);
    }
    let mut file = File::open(path)?.take(MOST_SEARCHED);
    let mut chunk = Vec::new();
    loop {
        // The mark may lie across the edge of two chunks.
        let done = chunk.len().saturating_sub(MARK.len() - 1);
        chunk.drain(..done);
        if file.by_ref().take(CHUNK).read_to_end(&mut chunk)? == 0 {
            return Ok(false);
        }
        if chunk.windows(MARK.len()).any(|bytes| bytes == MARK) {
            return Ok(true);
        }
    }
}

fn temporary(
    target: &Target,
    content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    made: &mut Vec<PathBuf>,
) -> io::Result<TempPath> {
    let folder = target.path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let folder = folder.unwrap_or(Path::new("."));
    make_folder(folder, made)?;
    let mut builder = Builder::new();
    builder.prefix(".decalwright-");
    // What any new file would get; the temporary's own default shuts other people out.
    #[cfg(unix)]
    let mode = <Permissions as std::os::unix::fs::PermissionsExt>::from_mode(0o666);
    #[cfg(unix)]
    builder.permissions(mode);
    let mut file = builder.tempfile_in(folder)?;
    let mut out = BufWriter::new(file.as_file_mut());
    content(&mut out)?;
    out.flush()?;
    drop(out);
    if let Some(mode) = &target.mode {
        file.as_file().set_permissions(mode.clone())?;
    }
    file.as_file().sync_all()?;
    // Closed, for there may be more files than may be open at once.
    Ok(file.into_temp_path())
}

/// Makes a folder and those above it that are missing, and notes each.
fn make_folder(folder: &Path, made: &mut Vec<PathBuf>) -> io::Result<()> {
    let missing: Vec<&Path> = folder
        .ancestors()
        .take_while(|above| !above.as_os_str().is_empty() && !above.exists())
        .collect();
    for above in missing.into_iter().rev() {
        fs::create_dir(above)?;
        made.push(above.to_owned());
    }
    Ok(())
}
