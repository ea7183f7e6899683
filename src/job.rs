//! The library's door: a job's bytes in, findings and files out. No file system here.

mod content;
mod expand;
mod profile;
mod schema;
mod summary;

pub use content::Content;
pub use profile::{Read, colours, profile};
pub use schema::{FileKind, schema};
pub use summary::summary;

use crate::colour::Colour;
use crate::design::{Design, Mark, Plate, Role, WhiteOrder};
use crate::files::{self, Fetch};
use crate::finding::{Finding, Findings, Sources};
use crate::font::Faces;
use crate::output::{self, About, Page};
use crate::parallel::in_order;
use crate::shape::Outline;
use crate::sheet::{self, Sheet};
use crate::spec::wiring::Wiring;
use crate::spec::{self, Film, PartId, Profile, Spec};
use crate::{card, check, proof, wire};
use std::borrow::{Borrow, Cow};
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

/// A job drawn and laid out.
#[derive(Debug)]
pub struct Laid {
    /// What was asked.
    pub spec: Spec,
    /// What was drawn.
    pub designs: Vec<Design>,
    /// Where it lies.
    pub sheets: Vec<Sheet>,
    faces: Faces,
}

/// What came of reading a job.
#[derive(Debug)]
pub struct Outcome {
    /// The job, unless it could not be read at all. Only to be printed when `findings` hold no error.
    pub laid: Option<Laid>,
    /// All that is wrong or worth knowing, in the order of the files.
    pub findings: Findings,
    /// The files read, to show findings in their lines.
    pub sources: Sources,
}

/// Reads, draws, lays out and checks a job.
///
/// `name` is the file's name for messages; `fetch` gets the tables and fonts the job names.
pub fn lay(name: &str, bytes: &[u8], fetch: &mut Fetch<'_>) -> Outcome {
    lay_part(fetch, |context| spec::read(name, bytes, context))
}

/// The same for the markers of the job's wiring alone.
///
/// Instead of a job, `bytes` may be a table of wires on its own, when `name` ends in `.csv`, `.tsv` or `.txt`.
pub fn lay_wires(name: &str, bytes: &[u8], fetch: &mut Fetch<'_>) -> Outcome {
    let ending = name.rsplit_once('.').map(|(_, ending)| ending.to_ascii_lowercase());
    if ending.is_some_and(|ending| ["csv", "tsv", "txt"].contains(&ending.as_str())) {
        return lay_part(fetch, |context| Some(spec::read_wires(name, bytes, context)));
    }
    lay_part(fetch, |context| {
        let mut spec = spec::read(name, bytes, context)?;
        spec.labels.clear();
        if spec.wiring.is_none() {
            let help = "add `wires: {table: wiring.csv}`, or `list:` them";
            let finding = Finding::error("no-wires", "the job has no wires");
            context.findings.push(finding.help(help));
        }
        Some(spec)
    })
}

fn lay_part(
    fetch: &mut Fetch<'_>,
    read: impl FnOnce(&mut spec::ReadContext<'_>) -> Option<Spec>,
) -> Outcome {
    let mut faces = Faces::bundled();
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    let mut fetch = |name: &str| fetch(name);
    let spec = read(&mut spec::ReadContext {
        faces: &mut faces,
        fetch: &mut fetch,
        sources: &mut sources,
        findings: &mut findings,
    });
    let laid = spec.map(|spec| {
        let (spec, designs) = expand::drawn(spec, &faces, &mut findings);
        let sheets = sheet::lay(&spec, &designs, &faces, &mut findings);
        let job = check::Job { spec: &spec, designs: &designs, sheets: &sheets, faces: &faces };
        check::run(job, &mut findings);
        Laid { spec, designs, sheets, faces }
    });
    findings.sort();
    Outcome { laid, findings, sources }
}

/// Whether pictures of the sheets are made; they take most of the time of a large job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Previews {
    /// A PNG beside each SVG.
    Made,
    /// None.
    Skipped,
}

/// Why the files of a job could not be made, though nothing is wrong with the job.
#[derive(Debug)]
pub enum Error {
    /// A PDF could not be written.
    Pdf(output::pdf::Error),
    /// A preview could not be made.
    Png(output::png::Error),
    /// A file was refused by who takes them.
    Files(files::Error),
}

impl std::fmt::Display for Error {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Error::Pdf(error) => error.fmt(f),
            Error::Png(error) => error.fmt(f),
            Error::Files(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for Error {}

/// The files of a job, made when they are asked for.
#[derive(Debug)]
pub struct Files<'a> {
    laid: &'a Laid,
    /// The designs in the colours that are sent to the printer.
    printed: Cow<'a, [Design]>,
    /// What the names of all files start with.
    stem: String,
    /// What those of sheets and their layout start with.
    sheets: String,
    previews: Previews,
    /// The longest first, so that no core is left with one of them at the end.
    tasks: Vec<Task<'a>>,
}

/// Takes a file that is made: its name and what it holds.
pub type Take<'a> = dyn FnMut(&str, Content) -> Result<(), files::Error> + Send + 'a;

/// A file's name and what it holds.
type Named = (String, Content);

/// Every file of a job, names starting with `stem`.
///
/// `<stem>-<film>.pdf` has a page a sheet; `<stem>-<film>-white-first.pdf` or `-white-last.pdf` is the pass of
/// their white, where it is a pass of its own; `<stem>-<film>-<n>.svg` and `.png` are one sheet each;
/// `<stem>.layout.json` says what lies where; `<stem>-placement.pdf` and `.txt` are the placement list;
/// `<stem>-fit.pdf` is the fit print of its panels.
#[must_use]
pub fn files<'a>(laid: &'a Laid, stem: &str, previews: Previews) -> Files<'a> {
    let mut tasks = Vec::new();
    if laid.spec.labels.iter().any(|label| label.marker_of().is_none()) {
        tasks.push(Task::PlacementList);
    }
    if !laid.spec.panels.is_empty() {
        tasks.push(Task::FitPrint);
    }
    tasks.extend(of_films(laid).chain(of_sheets(laid)));
    let (printed, stem) = (printed(laid), stem.to_owned());
    Files { laid, printed, sheets: stem.clone(), stem, previews, tasks }
}

/// Every file of a job's wiring, names starting with `stem`.
///
/// `<stem>-wires-<film>.pdf`, `.svg`, `.png` and `<stem>-wires.layout.json` are the markers;
/// `<stem>-wiring.pdf` is what to check with a meter and what is wired to what, `<stem>-continuity.csv`
/// the tests for a spreadsheet.
#[must_use]
pub fn wire_files<'a>(laid: &'a Laid, stem: &str, previews: Previews) -> Files<'a> {
    // The films first: their pages are gone again before the wiring sheets come, which take as much.
    let wiring = laid.spec.wiring.iter().map(Task::Wiring);
    let tasks = of_films(laid).chain(wiring).chain(of_sheets(laid)).collect();
    let (printed, sheets) = (printed(laid), format!("{stem}-wires"));
    Files { laid, printed, stem: stem.to_owned(), sheets, previews, tasks }
}

/// A job's proof, names starting with `stem`.
///
/// `<stem>-proof.html` is one page for a browser; `<stem>-proof-<surface>.svg` and `.png` show the labels of
/// each surface as seen on it. A job with errors has a proof too: that is where they are best seen.
#[must_use]
pub fn proof_files<'a>(
    laid: &'a Laid,
    (findings, sources): (&'a Findings, &'a Sources),
    stem: &str,
    previews: Previews,
) -> Files<'a> {
    let proof = proof::Job {
        spec: &laid.spec,
        designs: &laid.designs,
        sheets: &laid.sheets,
        findings,
        sources,
        faces: &laid.faces,
    };
    let tasks = vec![Task::ProofPage(proof), Task::ProofPictures(proof)];
    let (printed, stem) = (Cow::Borrowed(laid.designs.as_slice()), stem.to_owned());
    Files { laid, printed, sheets: stem.clone(), stem, previews, tasks }
}

/// A PDF a film.
fn of_films(laid: &Laid) -> impl Iterator<Item = Task<'_>> {
    films(laid).into_iter().map(Task::Film)
}

/// The sheets one by one, and the layout.
fn of_sheets(laid: &Laid) -> impl Iterator<Item = Task<'_>> {
    laid.sheets.iter().map(Task::Sheet).chain([Task::Layout])
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
        let done = |task: &Task<'_>| {
            for (name, content) in self.make(*task)? {
                let mut take = take.lock().unwrap_or_else(PoisonError::into_inner);
                take(&name, content).map_err(Error::Files)?;
            }
            Ok(())
        };
        // Of thousands of wires, the wiring sheets and a film's PDF take the most memory to make: one at a time.
        // The others take little, and keep the cores at work beside them.
        let is_large = |task: &Task<'_>| matches!(task, Task::Wiring(_) | Task::Film(_));
        let large = self.tasks.iter().take_while(|task| is_large(task)).count();
        let (large, others) = self.tasks.split_at(large);
        let turns: Vec<&[Task<'_>]> = [large].into_iter().chain(others.chunks(1)).collect();
        in_order(&turns, |turn| turn.iter().try_for_each(done)).into_iter().collect()
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

    /// The files of one task.
    fn make(&self, task: Task<'_>) -> Result<Vec<Named>, Error> {
        let Files { laid, stem, sheets, .. } = self;
        match task {
            Task::PlacementList => placement_list(laid, stem),
            Task::FitPrint => fit_print(laid, stem),
            Task::Wiring(wiring) => wiring_sheets(laid, stem, wiring),
            Task::Film(film) => self.film_files(film),
            Task::Sheet(sheet) => self.sheet_files(sheet),
            Task::Layout => {
                let layout = output::layout::write(&laid.spec, &laid.designs, &laid.sheets);
                Ok(vec![(format!("{sheets}.layout.json"), Content::Bytes(layout.into_bytes()))])
            }
            Task::ProofPage(proof) => {
                let page = proof::page(proof);
                Ok(vec![(format!("{stem}-proof.html"), Content::Bytes(page.into_bytes()))])
            }
            Task::ProofPictures(proof) => proof_pictures(proof, stem, self.previews),
        }
    }

    /// A film's sheets, and the passes of their white that are printed on their own.
    fn film_files(&self, film: Film) -> Result<Vec<Named>, Error> {
        let Files { laid, printed, sheets: stem, .. } = self;
        let of_film: Vec<&Sheet> = laid.sheets.iter().filter(|sheet| sheet.film == film).collect();
        let pages: Vec<Page> = of_film.iter().map(|sheet| Page::of_sheet(sheet)).collect();
        let film = film.word();
        let profile = laid.spec.printer.profile.as_ref();
        let part = corrected_about(laid, &format!("{film} film"));
        let pdf = composed(&part, printed, &pages, profile)?;
        let mut files = vec![(format!("{stem}-{film}.pdf"), pdf)];
        for (order, word) in [(WhiteOrder::First, "white-first"), (WhiteOrder::Last, "white-last")]
        {
            let sheets =
                of_film.iter().filter(|sheet| sheet.fed_twice && sheet.white == Some(order));
            let pages: Vec<Page> = sheets.map(|sheet| Page::of_white(sheet)).collect();
            if pages.is_empty() {
                continue;
            }
            let white: Vec<Design> = laid.designs.iter().map(white_alone).collect();
            let part =
                corrected_about(laid, &format!("{film} film, {}", word.replace('-', " printed ")));
            let pdf = composed(&part, &white, &pages, profile)?;
            files.push((format!("{stem}-{film}-{word}.pdf"), pdf));
        }
        Ok(files)
    }

    /// One sheet as SVG, with its preview.
    fn sheet_files(&self, sheet: &Sheet) -> Result<Vec<Named>, Error> {
        let Files { laid, printed, sheets: stem, previews, .. } = self;
        let film = sheet.film.word();
        let about = about(laid, &format!("{film} film, sheet {} of {}", sheet.number, sheet.of));
        let names = output::layout::piece_names(&laid.spec, &laid.designs, sheet);
        let svg = output::svg::write(&about, printed, &Page::of_sheet(sheet), &names);
        let name = format!("{stem}-{film}-{}", sheet.number);
        let mut files = Vec::with_capacity(2);
        if *previews == Previews::Made {
            let png = output::png::preview(&svg, sheet.film, output::png::PREVIEW_DPI)
                .map_err(Error::Png)?;
            files.push((format!("{name}.png"), Content::Bytes(png)));
        }
        files.insert(0, (format!("{name}.svg"), Content::Bytes(svg.into_bytes())));
        Ok(files)
    }
}

/// Files that are made together.
#[derive(Clone, Copy, Debug)]
enum Task<'a> {
    PlacementList,
    FitPrint,
    Wiring(&'a Wiring),
    Film(Film),
    Sheet(&'a Sheet),
    Layout,
    ProofPage(proof::Job<'a>),
    ProofPictures(proof::Job<'a>),
}

/// The pictures of each surface, made on all cores.
fn proof_pictures(
    proof: proof::Job<'_>,
    stem: &str,
    previews: Previews,
) -> Result<Vec<Named>, Error> {
    let pictures = proof::pictures(proof);
    let made = in_order(&pictures, |picture| {
        let name = format!("{stem}-proof-{}", picture.stem);
        let mut files =
            vec![(format!("{name}.svg"), Content::Bytes(picture.svg.clone().into_bytes()))];
        if previews == Previews::Made {
            let dpi = output::png::PREVIEW_DPI;
            let png = output::png::preview(&picture.svg, Film::Paper, dpi).map_err(Error::Png)?;
            files.push((format!("{name}.png"), Content::Bytes(png)));
        }
        Ok(files)
    });
    let made: Result<Vec<_>, Error> = made.into_iter().collect();
    Ok(made?.into_iter().flatten().collect())
}

fn composed<D: Borrow<Design> + Sync>(
    about: &About,
    designs: &[D],
    pages: &[Page<'_>],
    profile: Option<&Profile>,
) -> Result<Content, Error> {
    let pdf = output::pdf::compose(about, designs, pages, profile).map_err(Error::Pdf)?;
    Ok(Content::Pdf(Box::new(pdf)))
}

/// The sheets to check the wiring with.
fn wiring_sheets(laid: &Laid, stem: &str, wiring: &Wiring) -> Result<Vec<Named>, Error> {
    let plan = wire::plan(wiring);
    let card::Card { pages, drawings } = card::wiring_pages(&laid.spec, wiring, &plan, &laid.faces);
    let about = about(laid, "wiring sheets");
    let pdf = composed(&about, &drawings, &pages, None)?;
    let csv = card::continuity_csv(wiring, &plan);
    Ok(vec![
        (format!("{stem}-wiring.pdf"), pdf),
        (format!("{stem}-continuity.csv"), Content::Bytes(csv.into_bytes())),
    ])
}

/// The designs in the colours that are sent to the printer.
fn printed(laid: &Laid) -> Cow<'_, [Design]> {
    let printed = &laid.spec.printed;
    if printed.is_empty() {
        return Cow::Borrowed(&laid.designs);
    }
    let mut designs = laid.designs.clone();
    for mark in designs.iter_mut().flat_map(|design| &mut design.marks) {
        if let Plate::Ink(shown) = &mut mark.plate
            && let Some(print) = printed.get(shown)
        {
            *shown = *print;
        }
    }
    Cow::Owned(designs)
}

/// The grey a printer prints as this share of black.
fn tint_of_black(share: f64) -> Colour {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of 255")]
    let channel = ((1.0 - share.clamp(0.0, 1.0)) * 255.0).round() as u8;
    Colour { rgb: [channel; 3] }
}

/// A design's white as the only thing on it, in the black that a printer loaded with white prints white.
fn white_alone(design: &Design) -> Design {
    let white = design.white.as_ref().map(|white| Mark {
        path: white.path.clone(),
        plate: Plate::Ink(tint_of_black(white.tint)),
        role: Role::Fill,
        part: PartId::default(),
        from: design.from,
    });
    Design {
        marks: white.into_iter().collect(),
        white: None,
        backing: None,
        words: Vec::new(),
        codes: Vec::new(),
        trim: Outline::default(),
        name: design.name.clone(),
        ..*design
    }
}

/// The films a job prints on, in the order of its sheets.
fn films(laid: &Laid) -> Vec<Film> {
    let mut films: Vec<Film> = laid.sheets.iter().map(|sheet| sheet.film).collect();
    films.dedup();
    films
}

fn about(laid: &Laid, part: &str) -> About {
    let given = [("revision", &laid.spec.revision), ("date", &laid.spec.date)];
    let subject: Vec<String> = given
        .into_iter()
        .filter_map(|(word, text)| Some(format!("{word} {}", text.as_ref()?)))
        .collect();
    About { title: format!("{} - {part}", laid.spec.title), subject: subject.join(", ") }
}

/// The same for a file that is corrected for its printer.
fn corrected_about(laid: &Laid, part: &str) -> About {
    let mut about = about(laid, part);
    if let Some(words) = laid.spec.printer.profile.as_ref().and_then(Profile::words) {
        let parts = [about.subject.as_str(), words.as_str()];
        about.subject =
            parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", ");
    }
    about
}

fn fit_print(laid: &Laid, stem: &str) -> Result<Vec<Named>, Error> {
    let card::Card { pages, drawings } = card::fit_pages(&laid.spec, &laid.designs, &laid.faces);
    let about = corrected_about(laid, "fit print");
    let profile = laid.spec.printer.profile.as_ref();
    let pdf = composed(&about, &drawings, &pages, profile)?;
    Ok(vec![(format!("{stem}-fit.pdf"), pdf)])
}

fn placement_list(laid: &Laid, stem: &str) -> Result<Vec<Named>, Error> {
    let card::Card { pages, drawings } =
        card::pages(&laid.spec, &laid.designs, &laid.sheets, &laid.faces);
    let designs: Vec<&Design> = laid.designs.iter().chain(&drawings).collect();
    let pdf = composed(&about(laid, "placement list"), &designs, &pages, None)?;
    let text = card::text(&laid.spec, &laid.designs, &laid.sheets);
    Ok(vec![
        (format!("{stem}-placement.pdf"), pdf),
        (format!("{stem}-placement.txt"), Content::Bytes(text.into_bytes())),
    ])
}
