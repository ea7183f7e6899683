//! The program itself, run on the example: files written, written again, and never over others.

#![allow(clippy::unwrap_used, reason = "a program that cannot be run fails the test")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn example() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/harbour/harbour.yaml")
}

fn sheet(job: &Path, out: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_decalwright"))
        .arg("sheet")
        .arg(job)
        .arg("--out")
        .arg(out)
        .output()
        .unwrap()
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_second_run_writes_the_same_bytes_over_its_own_files_only() {
    let folder = tempfile::tempdir().unwrap();
    let first = sheet(&example(), folder.path());
    assert!(first.status.success(), "{}", String::from_utf8_lossy(&first.stderr));
    let files = names(folder.path());
    assert_eq!(
        files,
        [
            "harbour-clear-1.png",
            "harbour-clear-1.svg",
            "harbour-clear.pdf",
            "harbour-placement.pdf",
            "harbour-placement.txt",
            "harbour-white-1.png",
            "harbour-white-1.svg",
            "harbour-white.pdf",
            "harbour.layout.json",
        ]
    );
    let before: Vec<Vec<u8>> =
        files.iter().map(|name| fs::read(folder.path().join(name)).unwrap()).collect();
    let second = sheet(&example(), folder.path());
    assert!(second.status.success(), "{}", String::from_utf8_lossy(&second.stderr));
    for (name, bytes) in files.iter().zip(before) {
        assert_eq!(fs::read(folder.path().join(name)).unwrap(), bytes, "{name}");
    }
    fs::write(folder.path().join("harbour-clear.pdf"), "the only copy of a letter").unwrap();
    let third = sheet(&example(), folder.path());
    assert_eq!(third.status.code(), Some(2));
    let kept = fs::read_to_string(folder.path().join("harbour-clear.pdf")).unwrap();
    assert_eq!(kept, "the only copy of a letter");
}

#[test]
fn a_job_with_errors_writes_nothing_and_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("snow.yaml");
    fs::write(&job, "labels: [{text: SNOW, text_size: 3}]\n").unwrap();
    let ran = sheet(&job, &folder.path().join("out"));
    assert_eq!(ran.status.code(), Some(1));
    assert!(!folder.path().join("out").exists());
    assert!(String::from_utf8_lossy(&ran.stderr).contains("snow.yaml:1:23"));
}

#[test]
fn an_unknown_code_is_wrong_use_and_gets_the_nearest() {
    let explain = |code: &str| {
        let program = env!("CARGO_BIN_EXE_decalwright");
        Command::new(program).args(["explain", code]).output().unwrap()
    };
    let known = explain("thin-ink");
    assert!(known.status.success() && known.stdout.starts_with(b"thin-ink: warning\n"));
    let unknown = explain("thinink");
    assert_eq!(unknown.status.code(), Some(2));
    let said = String::from_utf8(unknown.stderr).unwrap();
    assert_eq!(said, "error: no finding has the code thinink; did you mean thin-ink?\n");
}
