//! Hostile bytes at the door: no panic, and an answer in bounded time.
//!
//! Whole jobs take long to lay, so these are a few; the room that reads tries thousands (`src/spec/tests/robust.rs`).

use decalwright::files::Error;
use decalwright::finding::{Styling, as_json, as_text};
use decalwright::job;
use std::time::{Duration, Instant};

/// A job with a bit of everything, about a kilobyte.
const GOOD: &str = include_str!("robust/good.yaml");

/// Every file the job names, whatever its name.
const TABLE: &str = "name,text\nrun,RUN\nrest,\"RE\"\"ST\"\n";

/// Lays a job and shows what is wrong with it, in time: the report, empty when nothing is.
fn lay(job: &[u8]) -> String {
    let began = Instant::now();
    let mut fetch = |_: &str| Ok::<_, Error>(TABLE.as_bytes().to_vec());
    let outcome = job::lay("job.yaml", job, &mut fetch);
    assert!(outcome.laid.is_some() || outcome.findings.any_error(), "refused without a word");
    let text = as_text(&outcome.findings, &outcome.sources, Styling::Plain);
    let json = as_json(&outcome.findings, &outcome.sources);
    assert!(!text.contains('\u{1b}') && !json.is_empty());
    let took = began.elapsed();
    assert!(took < Duration::from_secs(4), "{took:?} for {:?}...", job.get(..60).unwrap_or(job));
    text
}

#[test]
fn bombs_are_refused() {
    let aliases: String = (1..30)
        .map(|n| format!("a{n}: &a{n} [*a{0}, *a{0}, *a{0}, *a{0}, *a{0}]\n", n - 1))
        .collect();
    let aliases = format!("a0: &a0 [x, x]\n{aliases}labels: [*a29]\n");
    let indented: String = (0..1_000).map(|n| format!("{}a:\n", " ".repeat(n))).collect();
    let bombs = [
        aliases.into_bytes(),
        "[".repeat(10_000).into_bytes(),
        format!("{}{}", "[".repeat(10_000), "]".repeat(10_000)).into_bytes(),
        "{a: ".repeat(10_000).into_bytes(),
        "- ".repeat(10_000).into_bytes(),
        indented.into_bytes(),
        vec![b'a'; 100 * 1024 * 1024],
        vec![0; 100 * 1024 * 1024],
        format!("labels: [{}]", "{text: A, stile: b}, ".repeat(500)).into_bytes(),
        b"labels:\n  - {text: A, series: 1..9999999999}\n".to_vec(),
        b"labels: &a [*a]\n".to_vec(),
        b"a: 1\n---\nb: 2\n".to_vec(),
        b"labels:\n\t- RUN\n".to_vec(),
        b"\xff\xfe\x00".to_vec(),
        b"title: \xc3\x28\n".to_vec(),
        b"\xef\xbb\xbf".to_vec(),
        Vec::new(),
    ];
    for bomb in bombs {
        assert!(lay(&bomb).starts_with("error"));
    }
}

#[test]
fn a_job_that_ends_early_is_laid_or_refused() {
    for end in (0..GOOD.len()).step_by(97) {
        lay(&GOOD.as_bytes()[..end]);
    }
}

#[test]
fn a_job_with_a_wrong_byte_is_laid_or_refused() {
    let mut next = seeded(1848);
    for _ in 0..16 {
        let mut job = GOOD.as_bytes().to_vec();
        let at = next() % job.len();
        // What YAML is made of finds more than any byte does.
        job[at] = b"{}[]:,-#&*!|>'\"%@` \n\t\r;0"[next() % 24];
        lay(&job);
    }
}

/// Numbers that are the same on every run (Knuth's MMIX generator, TAOCP vol. 2, 3.3.4, from memory).
fn seeded(mut state: u64) -> impl FnMut() -> usize {
    move || {
        state =
            state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize
    }
}
