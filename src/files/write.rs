//! Writing what a run makes: all of it or none of it, and never over what somebody else made.

use super::{Error, read};
use std::{
    fs::{self, Permissions},
    io::{self, Write},
    path::{Component, Path, PathBuf},
};
use tempfile::{Builder, NamedTempFile};

/// What every file of ours holds somewhere, small or not (its metadata say who made it).
const MARK: &[u8] = b"decalwright";

/// The most bytes of a file in the way that are searched for the mark; more than our largest output.
const MOST_SEARCHED: u64 = 32 * 1024 * 1024;

/// Where a file goes: links followed, and the mode of what is there now.
struct Target {
    path: PathBuf,
    mode: Option<Permissions>,
}

/// Writes `files` (names below `dir`, bytes) and returns their paths, in the same order.
///
/// Folders are made as needed. Everything is written to temporaries beside the targets and synced before
/// the first is renamed, so that a full disk leaves things as they were. Files of an earlier run keep
/// their mode, and links their target. `keep` are the run's inputs.
///
/// # Errors
/// [`Error::NotOurs`] before anything is written when a target is a folder, one of `keep`, or does not
/// hold our mark; [`Error::Outside`] for a name that leads out of `dir`; [`Error::Write`] otherwise.
pub fn write_all(
    dir: &Path,
    files: &[(String, Vec<u8>)],
    keep: &[PathBuf],
) -> Result<Vec<PathBuf>, Error> {
    let paths = names(dir, files)?;
    let keep: Vec<PathBuf> = keep.iter().filter_map(|path| path.canonicalize().ok()).collect();
    let targets: Vec<Target> =
        paths.iter().map(|path| target(path, &keep)).collect::<Result<_, Error>>()?;
    let mut made = Vec::new();
    let written = write_targets(&targets, files, &mut made);
    if written.is_err() {
        // Only empty folders go; one that somebody filled meanwhile stays.
        made.iter().rev().for_each(|folder| fs::remove_dir(folder).unwrap_or_default());
    }
    written.map(|()| paths)
}

/// Each name as a path below `dir`.
fn names(dir: &Path, files: &[(String, Vec<u8>)]) -> Result<Vec<PathBuf>, Error> {
    let mut paths: Vec<PathBuf> = Vec::new();
    for (name, _) in files {
        let path = dir.join(name);
        let inside = |part| matches!(part, Component::Normal(_));
        if name.is_empty() || !Path::new(name).components().all(inside) {
            return Err(Error::Outside(path));
        }
        if paths.contains(&path) {
            let error = io::Error::new(io::ErrorKind::AlreadyExists, "two outputs have this name");
            return Err(Error::Write(path, error));
        }
        paths.push(path);
    }
    Ok(paths)
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
    let there = read(&real, MOST_SEARCHED).map_err(|_| in_the_way())?;
    if keep.contains(&real) || !there.windows(MARK.len()).any(|bytes| bytes == MARK) {
        return Err(in_the_way());
    }
    Ok(Target { path: real, mode: Some(mode) })
}

/// Writes all temporaries, then renames them; notes the folders it makes.
fn write_targets(
    targets: &[Target],
    files: &[(String, Vec<u8>)],
    made: &mut Vec<PathBuf>,
) -> Result<(), Error> {
    let mut ready = Vec::new();
    for (target, (_, bytes)) in targets.iter().zip(files) {
        let written = temporary(target, bytes, made);
        ready.push(written.map_err(|error| Error::Write(target.path.clone(), error))?);
    }
    let mut new = Vec::new();
    for (target, file) in targets.iter().zip(ready) {
        if let Err(error) = file.persist(&target.path) {
            // What replaced an earlier run's file is whole and stays; what is new goes again.
            new.iter().for_each(|path: &&PathBuf| fs::remove_file(path).unwrap_or_default());
            return Err(Error::Write(target.path.clone(), error.error));
        }
        if target.mode.is_none() {
            new.push(&target.path);
        }
    }
    Ok(())
}

fn temporary(target: &Target, bytes: &[u8], made: &mut Vec<PathBuf>) -> io::Result<NamedTempFile> {
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
    file.write_all(bytes)?;
    if let Some(mode) = &target.mode {
        file.as_file().set_permissions(mode.clone())?;
    }
    file.as_file().sync_all()?;
    Ok(file)
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
