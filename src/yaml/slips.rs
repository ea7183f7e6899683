//! Findings of one file while it is read, with a bound on how many.

use crate::finding::{Finding, Findings, Place};

/// More slips than this in one file are counted no further: nobody reads them, and a hostile file has millions.
const MOST: usize = 500;

/// Where the slips of one file go.
#[derive(Debug)]
pub(super) struct Slips<'a> {
    findings: &'a mut Findings,
    file: u16,
    found: usize,
}

impl<'a> Slips<'a> {
    /// Slips of the file with this number.
    pub(super) fn new(findings: &'a mut Findings, file: u16) -> Slips<'a> {
        Slips { findings, file, found: 0 }
    }

    /// A stretch of the file's bytes.
    pub(super) fn place(&self, start: usize, end: usize) -> Place {
        let offset = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
        Place { file: self.file, start: offset(start), end: offset(end.max(start)) }
    }

    /// Whether no more are taken.
    pub(super) fn full(&self) -> bool {
        self.found > MOST
    }

    /// Adds one; the first too many says that there are more.
    pub(super) fn push(&mut self, finding: Finding) {
        if self.full() {
            return;
        }
        self.found += 1;
        if self.full() {
            let place = finding.place;
            let mut rest = Finding::error("too-many-slips", "there are more slips from here on")
                .help("put these right first, then run it again");
            rest.place = place;
            self.findings.push(rest);
        } else {
            self.findings.push(finding);
        }
    }
}
