//! What a run writes: a table a run, a row a format; its files are handed over as they are made.

use super::run::{Error, Previews, Run, Task};
use super::{Content, Laid, films, fit_print, placement, sheets, shown, wiring_sheets};
use crate::files;
use crate::finding::{Findings, Sources};
use crate::parallel::in_order;
use crate::proof;
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

/// Files that are made together: a row of a table.
#[derive(Clone, Copy)]
struct Format {
    /// Their names after the stem; `*` stands for a film, a sheet's number, a pass of white or a surface.
    names: &'static [&'static str],
    /// What they are.
    what: &'static str,
    /// The work of making them: one task for the whole job, each film or each sheet.
    made_by: for<'r> fn(&'r Run<'_>) -> Vec<Task<'r>>,
    /// Whether one takes so much memory that only one such file is made at a time.
    is_large: bool,
}

/// What a job is printed and worked from. The longest first, so that no core is left with one of them at the end.
const OF_A_JOB: [Format; 5] = [
    row(&["-placement.pdf", "-placement.txt"], "the placement list", placement::tasks),
    row(&["-fit.pdf"], "the fit print of the panels", fit_print::tasks),
    FILMS,
    SHEETS,
    LAYOUT,
];

/// What a job's wires are marked and checked from. The films come first: the memory of their pages is free again
/// before the wiring sheets take as much.
const OF_WIRES: [Format; 4] = [
    FILMS,
    large(row(&["-wiring.pdf", "-continuity.csv"], "the wiring sheets", wiring_sheets::tasks)),
    SHEETS,
    LAYOUT,
];

/// What a job's labels are looked at in, before anything is printed.
const OF_A_PROOF: [Format; 2] = [
    row(&["-proof.html"], "the proof, a page for a browser", shown::page_tasks),
    row(&["-proof-*.svg", "-proof-*.png"], "the proof, a picture a surface", shown::picture_tasks),
];

const FILMS: Format = large(row(&["-*.pdf"], "a film's sheets, or their white", films::tasks));
const SHEETS: Format = row(&["-*.svg", "-*.png"], "a sheet, and its preview", sheets::tasks);
const LAYOUT: Format = row(&["*.layout.json"], "what lies where", sheets::layout_tasks);

const fn row(
    names: &'static [&'static str],
    what: &'static str,
    made_by: for<'r> fn(&'r Run<'_>) -> Vec<Task<'r>>,
) -> Format {
    Format { names, what, made_by, is_large: false }
}

const fn large(row: Format) -> Format {
    Format { is_large: true, ..row }
}

/// The files of a run, made when they are asked for.
pub struct Files<'a> {
    formats: &'static [Format],
    run: Run<'a>,
}

/// Takes a file that is made: its name and what it holds.
pub type Take<'a> = dyn FnMut(&str, Content) -> Result<(), files::Error> + Send + 'a;

/// Every file of a job, names starting with `stem`.
///
/// `<stem>-<film>.pdf` has a page a sheet; `<stem>-<film>-white-first.pdf` or `-white-last.pdf` is the pass of
/// their white, where it is a pass of its own; `<stem>-<film>-<n>.svg` and `.png` are one sheet each;
/// `<stem>.layout.json` says what lies where; `<stem>-placement.pdf` and `.txt` are the placement list;
/// `<stem>-fit.pdf` is the fit print of its panels.
#[must_use]
pub fn files<'a>(laid: &'a Laid, stem: &str, previews: Previews) -> Files<'a> {
    Files { formats: &OF_A_JOB, run: Run::printing(laid, stem, previews) }
}

/// Every file of a job's wiring, names starting with `stem`.
///
/// `<stem>-wires-<film>.pdf`, `.svg`, `.png` and `<stem>-wires.layout.json` are the markers;
/// `<stem>-wiring.pdf` is what to check with a meter and what is wired to what, `<stem>-continuity.csv`
/// the tests for a spreadsheet.
#[must_use]
pub fn wire_files<'a>(laid: &'a Laid, stem: &str, previews: Previews) -> Files<'a> {
    let run = Run::printing(laid, stem, previews);
    Files { formats: &OF_WIRES, run: Run { sheet_stem: format!("{stem}-wires"), ..run } }
}

/// A job's proof, names starting with `stem`.
///
/// `<stem>-proof.html` is one page for a browser; `<stem>-proof-<surface>.svg` and `.png` show the labels of
/// each surface as seen on it. A job with errors has a proof too: that is where they are best seen.
#[must_use]
pub fn proof_files<'a>(
    laid: &'a Laid,
    findings: &'a Findings,
    sources: &'a Sources,
    stem: &str,
    previews: Previews,
) -> Files<'a> {
    let Laid { spec, designs, sheets, faces } = laid;
    let proof = Some(proof::Proofed { spec, designs, sheets, findings, sources, faces });
    Files { formats: &OF_A_PROOF, run: Run { proof, ..Run::showing(laid, stem, previews) } }
}

impl Files<'_> {
    /// Makes the files and hands each over as soon as it is made, in whatever order that is.
    ///
    /// The files of a large job together take more memory than all else; so none of them is kept.
    ///
    /// # Errors
    /// [`Error::Files`] when `take` refuses one; the others are ours to mend, not the job's.
    pub fn hand_over(&self, take: &mut Take<'_>) -> Result<(), Error> {
        let take = Mutex::new(take);
        let make = |(format, task): &(&Format, Task<'_>)| {
            for (name, content) in task()? {
                debug_assert!(
                    self.lists(format, &name),
                    "{name} is not in the row of {}",
                    format.what
                );
                let mut take = take.lock().unwrap_or_else(PoisonError::into_inner);
                take(&name, content).map_err(Error::Files)?;
            }
            Ok(())
        };
        let tasks: Vec<(&Format, Task<'_>)> = self
            .formats
            .iter()
            .flat_map(|format| {
                (format.made_by)(&self.run).into_iter().map(move |task| (format, task))
            })
            .collect();
        // Of thousands of wires, the wiring sheets and a film's PDF take the most memory to make: the large files
        // that lead a table are made one after another, the others beside them on the other cores.
        let large = tasks.iter().take_while(|(format, _)| format.is_large).count();
        let (large, others) = tasks.split_at(large);
        let turns: Vec<_> = [large].into_iter().chain(others.chunks(1)).collect();
        in_order(&turns, |turn| turn.iter().try_for_each(make)).into_iter().collect()
    }

    /// Whether a file's name is one that its format's row has.
    fn lists(&self, format: &Format, name: &str) -> bool {
        let ending = name.strip_prefix(&self.run.stem).unwrap_or_default();
        format.names.iter().any(|pattern| match pattern.split_once('*') {
            Some((start, end)) => ending.starts_with(start) && ending.ends_with(end),
            None => ending == *pattern,
        })
    }

    /// All files as name and bytes, in the order of their names.
    ///
    /// # Errors
    /// [`Error`] when a writer fails; that is ours to mend, not the job's.
    pub fn all(&self) -> Result<Vec<(String, Vec<u8>)>, Error> {
        let mut all = Vec::new();
        self.hand_over(&mut |name, content| {
            let mut bytes = Vec::new();
            let written = content.write_to(&mut bytes);
            written.map_err(|error| files::Error::Write(PathBuf::from(name), error))?;
            all.push((name.to_owned(), bytes));
            Ok(())
        })?;
        all.sort();
        Ok(all)
    }
}

impl std::fmt::Debug for Files<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_list().entries(self.formats.iter().map(|format| format.what)).finish()
    }
}
