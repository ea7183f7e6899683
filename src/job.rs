//! The library's door: a job's bytes in, findings and files out. No file system here.

mod summary;

pub use summary::summary;

use crate::design::{self, Design};
use crate::files::Fetch;
use crate::finding::{Findings, Sources};
use crate::font::Faces;
use crate::output::{self, About, Page};
use crate::parallel::in_order;
use crate::sheet::{self, Sheet};
use crate::spec::{self, Film, Spec};
use crate::{card, check, wire};

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
    let mut faces = Faces::bundled();
    let (mut sources, mut findings) = (Sources::default(), Findings::default());
    let mut desk =
        spec::Desk { faces: &mut faces, fetch, sources: &mut sources, findings: &mut findings };
    let spec = spec::read(name, bytes, &mut desk);
    let laid = spec.map(|mut spec| {
        add_markers(&mut spec, &faces, &mut findings);
        let designs = design::make(&spec, &faces, &mut findings);
        let sheets = sheet::lay(&spec, &designs, &faces, &mut findings);
        let job = check::Job { spec: &spec, designs: &designs, sheets: &sheets };
        check::run(job, &mut findings);
        Laid { spec, designs, sheets, faces }
    });
    findings.sort();
    Outcome { laid, findings, sources }
}

/// Adds the markers of the wiring to the labels.
fn add_markers(spec: &mut Spec, faces: &Faces, findings: &mut Findings) {
    let Some(wiring) = &spec.wiring else { return };
    let taken = spec.labels.iter().map(|label| label.name.clone()).collect();
    let markers = wire::markers(wiring, &spec.printer, faces, &taken, findings);
    spec.labels.extend(markers);
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
}

impl std::fmt::Display for Error {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Error::Pdf(error) => error.fmt(f),
            Error::Png(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for Error {}

/// Every file of a job as name and bytes, names starting with `stem`.
///
/// `<stem>-<film>.pdf` has a page a sheet; `<stem>-<film>-<n>.svg` and `.png` are one sheet each;
/// `<stem>.layout.json` says what lies where; `<stem>-placement.pdf` and `.txt` are the placement list.
///
/// # Errors
/// [`Error`] when a writer fails; that is ours to mend, not the job's.
pub fn files(laid: &Laid, stem: &str, previews: Previews) -> Result<Vec<(String, Vec<u8>)>, Error> {
    // The longest tasks first, so that no core is left with one of them at the end.
    let mut tasks = vec![Task::PlacementList];
    tasks.extend(films(laid).into_iter().map(Task::Film));
    tasks.extend(laid.sheets.iter().map(Task::Sheet));
    tasks.push(Task::Layout);
    let mut files = Vec::new();
    for made in in_order(&tasks, |task| task_files(laid, stem, *task, previews)) {
        files.extend(made?);
    }
    Ok(files)
}

/// Files that are made together.
#[derive(Clone, Copy)]
enum Task<'a> {
    PlacementList,
    Film(Film),
    Sheet(&'a Sheet),
    Layout,
}

fn task_files(
    laid: &Laid,
    stem: &str,
    task: Task<'_>,
    previews: Previews,
) -> Result<Vec<(String, Vec<u8>)>, Error> {
    match task {
        Task::PlacementList => placement_list(laid, stem),
        Task::Film(film) => Ok(vec![film_file(laid, stem, film)?]),
        Task::Sheet(sheet) => sheet_files(laid, stem, sheet, previews),
        Task::Layout => {
            let layout = output::layout::write(&laid.spec, &laid.designs, &laid.sheets);
            Ok(vec![(format!("{stem}.layout.json"), layout.into_bytes())])
        }
    }
}

fn film_file(laid: &Laid, stem: &str, film: Film) -> Result<(String, Vec<u8>), Error> {
    let of_film = laid.sheets.iter().filter(|sheet| sheet.film == film);
    let pages: Vec<Page> = of_film.map(Page::of_sheet).collect();
    let about = about(laid, &format!("{} film", film.word()));
    let pdf = output::pdf::write(&about, &laid.designs, &pages).map_err(Error::Pdf)?;
    Ok((format!("{stem}-{}.pdf", film.word()), pdf))
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

fn sheet_files(
    laid: &Laid,
    stem: &str,
    sheet: &Sheet,
    previews: Previews,
) -> Result<Vec<(String, Vec<u8>)>, Error> {
    let film = sheet.film.word();
    let about = about(laid, &format!("{film} film, sheet {} of {}", sheet.number, sheet.of));
    let names = output::layout::piece_names(&laid.spec, &laid.designs, sheet);
    let svg = output::svg::write(&about, &laid.designs, &Page::of_sheet(sheet), &names);
    let name = format!("{stem}-{film}-{}", sheet.number);
    let mut files = Vec::with_capacity(2);
    if previews == Previews::Made {
        let png =
            output::png::preview(&svg, sheet.film, output::png::PREVIEW_DPI).map_err(Error::Png)?;
        files.push((format!("{name}.png"), png));
    }
    files.insert(0, (format!("{name}.svg"), svg.into_bytes()));
    Ok(files)
}

fn placement_list(laid: &Laid, stem: &str) -> Result<Vec<(String, Vec<u8>)>, Error> {
    let card::Card { pages, drawings } =
        card::pages(&laid.spec, &laid.designs, &laid.sheets, &laid.faces);
    let designs: Vec<&Design> = laid.designs.iter().chain(&drawings).collect();
    let pdf =
        output::pdf::write(&about(laid, "placement list"), &designs, &pages).map_err(Error::Pdf)?;
    let text = card::text(&laid.spec, &laid.designs, &laid.sheets);
    Ok(vec![
        (format!("{stem}-placement.pdf"), pdf),
        (format!("{stem}-placement.txt"), text.into_bytes()),
    ])
}
