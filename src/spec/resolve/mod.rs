//! From what was typed to what is meant: drafts become a [`Spec`].
//!
//! Each value is read where it is used, and a mistake never stops the next value, so that all mistakes
//! of a job come in one run. Labels keep what can be used of them.

mod art;
mod choices;
mod code;
mod dial;
mod fonts;
mod frame;
mod label;
mod lift;
mod named;
mod names;
mod panel;
mod parts;
mod printer;
mod profile;
mod reader;
mod repeat;
mod seen;
mod sheet;
#[cfg(test)]
mod slips;
mod spares;
mod styles;
mod surfaces;
mod symbol;
#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;
mod text;
mod wires;

pub use profile::read as read_profile;
pub(super) use sheet::paper_called as named_paper;

use super::draft::{JobDraft, LabelDraft};
use super::panel::{Panel, Stands};
use super::typed::{Shorthand, Typed};
use super::{Label, Profile, Spec, cascade, scalars};
use crate::colour::Colour;
use crate::files::Fetch;
use crate::finding::{Finding, Findings, Place, Sources};
use crate::font::Faces;
use names::Wish;
use reader::Reader;
use std::collections::BTreeMap;

/// The most distinct labels a job may have, rows and series spelt out.
const MOST_LABELS: usize = 20_000;

/// The most pieces a job may print, spares included.
const MOST_PIECES: u64 = 200_000;

/// The styles built into the program: the name messages use for them, and the file.
const BUNDLED: (&str, &[u8]) = ("bundled styles", include_bytes!("../../../styles/bundled.yaml"));

/// The longest name of a label, and the longest title, revision and date, bytes: they are printed in the waste.
const LONGEST_NAME: usize = 200;

/// What a job is read with: its fonts, its files, and where what is wrong is written down.
pub struct Desk<'a> {
    /// Faces labels may ask for; the job's own fonts are added.
    pub faces: &'a mut Faces,
    /// Gets the files a job names.
    pub fetch: &'a mut Fetch<'a>,
    /// The job's texts, for showing the lines findings are about.
    pub sources: &'a mut Sources,
    /// What is wrong.
    pub findings: &'a mut Findings,
}

impl std::fmt::Debug for Desk<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Desk").field("findings", &self.findings).finish_non_exhaustive()
    }
}

/// A label with its style laid under it, not yet read.
struct Wanted {
    draft: LabelDraft,
    place: Place,
    wish: Wish,
    /// What it is a label of, when it is a panel.
    panel: Option<Panel>,
    /// Where it stands, when it is a legend whose place is known.
    stands: Option<Stands>,
    /// Its panel among the wanted ones, when it is a legend.
    stands_on: Option<usize>,
}

impl Wanted {
    fn new(draft: LabelDraft, place: Place, wish: Wish) -> Wanted {
        Wanted { draft, place, wish, panel: None, stands: None, stands_on: None }
    }
}

/// Reads a job: `name` is the file's name as messages show it, `bytes` what it holds.
///
/// With errors among the findings the spec holds what could still be made of it, so that later rooms can
/// tell more of what is wrong; nothing may be written from it. `None` when the file is no job at all.
pub fn read(name: &str, bytes: &[u8], desk: &mut Desk<'_>) -> Option<Spec> {
    let job = super::read::draft(name, bytes, desk.sources, desk.findings)?;
    let styles = super::read::draft(BUNDLED.0, BUNDLED.1, desk.sources, desk.findings)?.styles;
    Some(resolve(name, job, styles, desk))
}

/// Reads the colours a job gives names to, and nothing else of it; `None` when it is no job at all.
pub fn read_colours(
    name: &str,
    bytes: &[u8],
    desk: &mut Desk<'_>,
) -> Option<BTreeMap<String, Colour>> {
    let job = super::read::draft(name, bytes, desk.sources, desk.findings)?;
    let mut reader = Reader::new(desk);
    let _ = surfaces::colours(job.colours, &mut reader);
    Some(reader.colours)
}

/// The whole job; with errors among the findings it holds what could be made of it.
fn resolve(
    name: &str,
    job: JobDraft,
    bundled: BTreeMap<String, LabelDraft>,
    desk: &mut Desk<'_>,
) -> Spec {
    let mut reader = Reader::new(desk);
    let start = Place::default();
    let scale = surfaces::scale(job.scale.as_ref(), &mut reader);
    reader.scale = scale;
    let own = surfaces::colours(job.colours, &mut reader);
    surfaces::words(job.words, &mut reader);
    fonts::fonts(job.fonts, &mut reader);
    let (surfaces, applied) = surfaces::surfaces(job.surfaces, &mut reader);
    let printer = printer::printer(job.printer, &mut reader);
    // What the job says of a colour wins over what was picked for any job.
    let mut printed = printer.profile.as_ref().map(Profile::picks).unwrap_or_default();
    printed.extend(own);
    let (sheet, for_all) = sheet::sheet(job.sheet, start, printer.profile.as_ref(), &mut reader);
    for style in job.styles.values() {
        choices::check(style, &mut reader);
    }
    let styles = styles::settle(bundled, job.styles, &mut reader);
    let wiring = job.wires.as_ref().map(|draft| wires::wires(draft, start, &mut reader));
    if job.labels.is_empty() && wiring.is_none() {
        let message = "the job has no labels".to_owned();
        reader.wrong("no-labels", start, message, "add `labels: [RUN, REST]`");
    }
    let wanted = wanted(job.labels, &styles, start, &mut reader);
    let viewed = seen::viewed(job.viewed_from.as_ref(), &mut reader);
    let job_says = label::Job { for_all, surfaces, applied, viewed, printer };
    let (labels, panels) = labels(wanted, &job_says, &mut reader);
    Spec {
        title: line(job.title, &mut reader).unwrap_or_else(|| stem(name)),
        revision: line(job.revision, &mut reader),
        date: line(job.date, &mut reader),
        sheet,
        printer: job_says.printer,
        surfaces: job_says.surfaces,
        printed,
        panels,
        labels,
        wiring,
        allow: label::codes(job.allow),
    }
}

/// A line that is printed on every sheet.
fn line(typed: Option<Typed>, reader: &mut Reader<'_, '_>) -> Option<String> {
    let typed = typed?;
    let words = typed.text.trim();
    if words.len() > LONGEST_NAME {
        let message = format!("{} is longer than 200 bytes", reader::quoted(words));
        reader.wrong("too-long", typed.place, message, "shorten it");
        return None;
    }
    Some(words.to_owned())
}

/// The job's file name without folders and ending, its title when it has none.
fn stem(name: &str) -> String {
    let file = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    if stem.is_empty() { "job".into() } else { stem.to_owned() }
}

/// Every label with its style under it, rows and series spelt out and words filled in.
fn wanted(
    drafts: Vec<Shorthand<LabelDraft>>,
    styles: &BTreeMap<String, LabelDraft>,
    start: Place,
    reader: &mut Reader<'_, '_>,
) -> Vec<Wanted> {
    let mut all = Vec::with_capacity(drafts.len());
    for draft in drafts {
        let mut draft = match draft {
            Shorthand::Short(words) => {
                LabelDraft { text: Some(Shorthand::Short(words)), ..LabelDraft::default() }
            }
            Shorthand::Long(map) => *map,
        };
        choices::check(&draft, reader);
        let place = scalars::label_place(&mut draft).unwrap_or(start);
        if let Some(style) = style(&draft, styles, reader) {
            cascade::lay_over(&mut draft, style);
        }
        if draft.panel.is_some() {
            panel::wanted(draft, styles, place, &mut all, reader);
        } else {
            panel::only_on_panels(&draft, reader);
            repeated(draft, place, &mut all, reader);
        }
        if reader.room == 0 {
            break;
        }
        if all.len() > MOST_LABELS {
            let message = format!("the job has more than {MOST_LABELS} labels");
            reader.wrong("too-many", place, message, "make two jobs of it");
            // None of them is drawn: that would only take long to say the same.
            all.clear();
            break;
        }
    }
    all
}

/// Adds a label, or one for each of its rows.
fn repeated(
    mut draft: LabelDraft,
    place: Place,
    all: &mut Vec<Wanted>,
    reader: &mut Reader<'_, '_>,
) {
    let Some(rows) = repeat::rows(&draft, MOST_LABELS, reader) else {
        scalars::each_of_label(&mut draft, &mut |typed| reader.fill_words(typed));
        if reader.make_room(&mut draft, place) {
            let wish = wish(&draft, reader);
            all.push(Wanted::new(draft, place, wish));
        }
        return;
    };
    let here = scalars::label_place(&mut draft);
    reader.columns.clone_from(&rows.columns);
    for row in rows.rows.iter().take(MOST_LABELS + 1 - all.len().min(MOST_LABELS)) {
        let mut one = repeat::filled(&draft, &rows, row);
        let same_name = one.name.is_some() && one.name == draft.name;
        scalars::each_of_label(&mut one, &mut |typed| reader.fill_words(typed));
        if !reader.make_room(&mut one, place) {
            break;
        }
        // Words that are a whole cell stand in the table, and so does their label.
        let there = scalars::label_place(&mut one);
        let place = there.filter(|_| there != here).unwrap_or(place);
        let wish = match wish(&one, reader) {
            Wish::Given(name, _) if same_name => Wish::Numbered(name),
            wish => wish,
        };
        all.push(Wanted::new(one, place, wish));
    }
    reader.columns.clear();
}

fn style<'s>(
    draft: &LabelDraft,
    styles: &'s BTreeMap<String, LabelDraft>,
    reader: &mut Reader<'_, '_>,
) -> Option<&'s LabelDraft> {
    let plain = styles.get(styles::PLAIN);
    let Some(asked) = &draft.style else { return plain };
    let name = asked.text.trim();
    let found = styles.get(name);
    if found.is_none() {
        let near = reader.nearest(name, styles.keys().map(String::as_str));
        styles::unknown(asked, near, reader);
    }
    found.or(plain)
}

/// The name a label would like.
fn wish(draft: &LabelDraft, reader: &mut Reader<'_, '_>) -> Wish {
    if let Some(name) = &draft.name {
        let words = name.text.trim();
        let (code, message, help) = if words.is_empty() {
            ("empty-name", "the name is empty", "write one, or leave `name` out")
        } else if words.len() > LONGEST_NAME {
            ("too-long", "the name is longer than 200 bytes", "shorten it")
        } else {
            return Wish::Given(words.to_owned(), name.place);
        };
        reader.wrong(code, name.place, message.to_owned(), help);
    }
    let words = match &draft.text {
        Some(Shorthand::Short(words)) => Some(words),
        Some(Shorthand::Long(text)) => text.text.as_ref(),
        None => None,
    };
    let lines = words.iter().flat_map(|many| &many.items).map(|item| item.text.as_str());
    Wish::Made(names::slug(&lines.collect::<Vec<_>>().join(" ")))
}

/// The labels, each under a name of its own, and the panels they stand on.
fn labels(
    wanted: Vec<Wanted>,
    job: &label::Job,
    reader: &mut Reader<'_, '_>,
) -> (Vec<Label>, Vec<Panel>) {
    let wishes: Vec<Wish> = wanted.iter().map(|wanted| wanted.wish.clone()).collect();
    let names = names::settle(&wishes, reader);
    let mut labels = Vec::with_capacity(wanted.len());
    let (mut panels, mut panel_of) = (Vec::new(), BTreeMap::new());
    for ((at, mut wanted), name) in wanted.into_iter().enumerate().zip(names) {
        let (stands, stands_on) = (wanted.stands.take(), wanted.stands_on);
        let panel = wanted.panel.clone();
        reader.label = Some(name.clone());
        let label = label::label(wanted, job, reader);
        let overlay_of = panel.map(|panel| {
            panel_of.insert(at, panels.len());
            let allow = label.as_ref().map(|label| label.allow.clone()).unwrap_or_default();
            panels.push(Panel { name, allow, ..panel });
            panels.len() - 1
        });
        let of = stands_on.and_then(|at| panel_of.get(&at).copied());
        let stands = stands.zip(of).map(|(stands, panel)| Stands { panel, ..stands });
        if stands_on.is_some() && stands.is_none() {
            continue;
        }
        labels.extend(label.map(|label| Label { overlay_of, stands, ..label }));
    }
    reader.label = None;
    let labels = panel::delivered(labels, &panels, reader);
    let pieces: u64 =
        labels.iter().map(|label| u64::from(label.copies) + u64::from(label.spares)).sum();
    if pieces > MOST_PIECES {
        let message = format!("the job prints {pieces} pieces; {MOST_PIECES} is the most");
        let finding = Finding::error("too-many", message).help("make two jobs of it");
        reader.desk.findings.push(finding);
    }
    (labels, panels)
}
