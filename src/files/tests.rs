//! Reading and writing in folders of their own.

use super::{Error, Folder, Outside, Writing, read};
use std::{
    fs, io,
    path::{Path, PathBuf},
};

fn ours(text: &str) -> Vec<u8> {
    format!("<!-- Made by decalwright -->{text}").into_bytes()
}

fn write_all(dir: &Path, files: &[(&str, &str)], keep: &[PathBuf]) -> Result<usize, Error> {
    let mut writing = Writing::new(dir, keep);
    for (name, text) in files {
        writing.add(name, |out| out.write_all(&ours(text)))?;
    }
    writing.finish()
}

fn listing(dir: &Path) -> Vec<String> {
    let names = fs::read_dir(dir).unwrap().map(|entry| entry.unwrap().file_name());
    let mut names: Vec<String> = names.map(|name| name.into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn reads_up_to_the_limit() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("job.yaml");
    fs::write(&path, "12345").unwrap();
    assert_eq!(read(&path, 5).unwrap(), b"12345");
    assert!(matches!(read(&path, 4), Err(Error::TooLarge(_, 4))));
    assert!(matches!(read(dir.path(), 4), Err(Error::Read(..))));
    assert!(matches!(read(&dir.path().join("none"), 4), Err(Error::Read(..))));
}

#[test]
fn a_job_stays_in_its_folder() {
    let dir = tempfile::tempdir().unwrap();
    let home = dir.path().join("job");
    fs::create_dir_all(home.join("tables")).unwrap();
    fs::write(home.join("tables/a.csv"), "in").unwrap();
    fs::write(dir.path().join("b.csv"), "out").unwrap();
    let folder = Folder::new(&home, Outside::Refused);
    assert_eq!(folder.fetch("tables/a.csv").unwrap(), b"in");
    assert_eq!(folder.fetch("./tables/../tables/a.csv").unwrap(), b"in");
    let absolute = dir.path().join("b.csv");
    let absolute = absolute.to_str().unwrap();
    for name in ["../b.csv", "tables/../../b.csv", "../none.csv", absolute] {
        assert!(matches!(folder.fetch(name), Err(Error::Outside(_))), "{name}");
    }
    // The name as the job gives it: no message depends on where the job lies.
    assert_eq!(folder.fetch("none.csv").unwrap_err().to_string(), "there is no file none.csv");
    assert!(matches!(folder.fetch("tables"), Err(Error::Read(..))));
    let folder = Folder::new(&home, Outside::Allowed);
    assert_eq!(folder.fetch("../b.csv").unwrap(), b"out");
    assert_eq!(folder.fetch(absolute).unwrap(), b"out");
}

#[cfg(unix)]
#[test]
fn links_do_not_lead_out() {
    let dir = tempfile::tempdir().unwrap();
    let home = dir.path().join("job");
    fs::create_dir(&home).unwrap();
    fs::write(dir.path().join("b.csv"), "out").unwrap();
    fs::write(home.join("a.csv"), "in").unwrap();
    std::os::unix::fs::symlink(dir.path().join("b.csv"), home.join("out.csv")).unwrap();
    std::os::unix::fs::symlink("a.csv", home.join("in.csv")).unwrap();
    let folder = Folder::new(&home, Outside::Refused);
    assert!(matches!(folder.fetch("out.csv"), Err(Error::Outside(_))));
    assert_eq!(folder.fetch("in.csv").unwrap(), b"in");
}

#[test]
fn fonts_may_be_larger() {
    let dir = tempfile::tempdir().unwrap();
    let large = vec![0; 9 * 1024 * 1024];
    fs::write(dir.path().join("a.csv"), &large).unwrap();
    fs::write(dir.path().join("a.OTF"), &large).unwrap();
    let folder = Folder::new(dir.path(), Outside::Refused);
    assert!(matches!(folder.fetch("a.csv"), Err(Error::TooLarge(..))));
    assert_eq!(folder.fetch("a.OTF").unwrap().len(), large.len());
}

#[test]
fn writes_all_and_again() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("made/out");
    let first = write_all(&out, &[("b.svg", "1"), ("proof/a.svg", "1")], &[]).unwrap();
    assert_eq!(first, 2);
    assert_eq!(fs::read(out.join("proof/a.svg")).unwrap(), ours("1"));
    write_all(&out, &[("b.svg", "2")], &[]).unwrap();
    assert_eq!(fs::read(out.join("b.svg")).unwrap(), ours("2"));
    assert_eq!(listing(&out), ["b.svg", "proof"]);
}

#[test]
fn finds_the_mark_wherever_it_stands_in_a_large_file() {
    let dir = tempfile::tempdir().unwrap();
    // Files are searched 64 KiB at a time: before, across and after the edge.
    for before in [0, 65_000, 65_530, 65_536, 200_000] {
        let large = [vec![b'.'; before], ours("1")].concat();
        fs::write(dir.path().join("a.svg"), large).unwrap();
        assert_eq!(write_all(dir.path(), &[("a.svg", "2")], &[]).unwrap(), 1, "{before}");
    }
    fs::write(dir.path().join("a.svg"), vec![b'.'; 200_000]).unwrap();
    let result = write_all(dir.path(), &[("a.svg", "2")], &[]);
    assert!(matches!(result, Err(Error::NotOurs(_))));
}

#[test]
fn never_over_what_is_not_ours() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path();
    fs::write(out.join("photo.svg"), "holiday").unwrap();
    fs::create_dir(out.join("folder.svg")).unwrap();
    fs::write(out.join("job.yaml"), ours("an input")).unwrap();
    for name in ["photo.svg", "folder.svg", "job.yaml"] {
        let list = [("first.svg", "1"), (name, "1")];
        let result = write_all(out, &list, &[out.join("job.yaml")]);
        assert!(matches!(result, Err(Error::NotOurs(_))), "{name}");
    }
    assert!(matches!(write_all(out, &[("../a.svg", "1")], &[]), Err(Error::Outside(_))));
    let twice = [("a.svg", "1"), ("a.svg", "2")];
    assert!(matches!(write_all(out, &twice, &[]), Err(Error::Write(..))));
    assert_eq!(listing(out), ["folder.svg", "job.yaml", "photo.svg"]);
    assert_eq!(fs::read(out.join("photo.svg")).unwrap(), b"holiday");
}

#[test]
fn nothing_is_in_its_place_before_the_end() {
    let dir = tempfile::tempdir().unwrap();
    fs::write(dir.path().join("a.svg"), ours("old")).unwrap();
    let mut writing = Writing::new(dir.path(), &[]);
    writing.add("a.svg", |out| out.write_all(&ours("new"))).unwrap();
    writing.add("made/b.svg", |out| out.write_all(&ours("new"))).unwrap();
    assert_eq!(fs::read(dir.path().join("a.svg")).unwrap(), ours("old"));
    assert!(!dir.path().join("made/b.svg").exists());
    drop(writing);
    assert_eq!(listing(dir.path()), ["a.svg"]);
    assert_eq!(fs::read(dir.path().join("a.svg")).unwrap(), ours("old"));
}

#[test]
fn a_failure_leaves_nothing_behind() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().join("out");
    // The second name needs a folder where the first has a file.
    fs::write(dir.path().join("plain"), ours("")).unwrap();
    let list = [("out/a.svg", "1"), ("plain/b.svg", "1")];
    assert!(matches!(write_all(dir.path(), &list, &[]), Err(Error::Write(..))));
    assert!(!out.exists());
    assert_eq!(listing(dir.path()), ["plain"]);
}

#[test]
fn a_file_may_write_itself_in_pieces_large_and_small() {
    let dir = tempfile::tempdir().unwrap();
    let pieces: Vec<Vec<u8>> = (0..600).map(|n| vec![b'.'; n * n]).collect();
    let mut writing = Writing::new(dir.path(), &[]);
    writing.add("a.svg", |out| pieces.iter().try_for_each(|piece| out.write_all(piece))).unwrap();
    writing.finish().unwrap();
    assert_eq!(fs::read(dir.path().join("a.svg")).unwrap(), pieces.concat());
}

#[test]
fn a_file_that_fails_half_way_leaves_nothing_behind() {
    let dir = tempfile::tempdir().unwrap();
    let mut writing = Writing::new(dir.path(), &[]);
    let result = writing.add("made/a.svg", |out| {
        out.write_all(&ours("half"))?;
        Err(io::Error::other("no more"))
    });
    assert!(matches!(result, Err(Error::Write(_, error)) if error.to_string() == "no more"));
    drop(writing);
    assert!(listing(dir.path()).is_empty());
}

#[cfg(unix)]
#[test]
fn keeps_links_and_modes() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let dir = tempfile::tempdir().unwrap();
    let (real, link) = (dir.path().join("real.svg"), dir.path().join("link.svg"));
    fs::write(&real, ours("1")).unwrap();
    fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).unwrap();
    symlink("real.svg", &link).unwrap();
    write_all(dir.path(), &[("link.svg", "2")], &[]).unwrap();
    assert!(link.symlink_metadata().unwrap().is_symlink());
    assert_eq!(fs::read(&real).unwrap(), ours("2"));
    assert_eq!(real.metadata().unwrap().permissions().mode() & 0o777, 0o640);
    let result = write_all(dir.path(), &[("link.svg", "3")], &[real]);
    assert!(matches!(result, Err(Error::NotOurs(_))), "a link to an input");
}
