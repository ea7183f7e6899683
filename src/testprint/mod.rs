//! Pages to print once and read off: what the printer does to lengths, lines, letters, colours and ink.
//!
//! | page | read off it |
//! |---|---|
//! | scale | bars, a square with diagonals, where the page lies, where printing stops |
//! | lines | thinnest ink and thinnest clear line, level, slanted and upright; gaps between lines |
//! | type | smallest capitals in ink and in clear, for each face |
//! | colour | the neighbour of a wanted colour that looks right on the part |
//! | inks | how much an ink shows over black: its opacity |
//!
//! What is read off goes into answers, and [`profile_file`] makes a printer's profile of them.

mod answers;
mod colour;
mod inks;
mod lines;
mod page_writer;
mod scale;
mod type_ladder;

pub use answers::{file_name, profile_file, template};

use crate::colour::Colour;
use crate::design::Design;
use crate::font::Faces;
use crate::output::{self, About, Page};
use crate::spec::{Film, Paper, Profile};
use kurbo::Size;
use page_writer::PageWriter;

/// The paper a test print takes at least, mm: bars of 100 mm and words beside them (A5, ISO 216).
const LEAST_PAPER: Size = Size::new(148.0, 210.0);

/// The largest paper, mm: A3 (ISO 216); on more, words and patches get lost.
const MOST_PAPER: Size = Size::new(420.0, 420.0);

/// Which page is printed.
#[derive(Clone, Debug, PartialEq)]
pub enum TestPage {
    /// Bars, square, edges.
    Scale,
    /// A ladder of lines.
    Lines,
    /// Ladders of capitals, for these faces.
    Type(Vec<String>),
    /// Neighbours of a wanted colour.
    Colour {
        /// What the user calls it.
        name: String,
        /// The colour itself.
        wanted: Colour,
    },
    /// Inks and their tints, half over black.
    Inks,
}

impl TestPage {
    /// What its files are called.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            TestPage::Scale => "scale".to_owned(),
            TestPage::Lines => "lines".to_owned(),
            TestPage::Type(_) => "type".to_owned(),
            TestPage::Colour { name, .. } => answers::plain_name(&format!("colour {name}")),
            TestPage::Inks => "inks".to_owned(),
        }
    }
}

/// What pages are made for.
#[derive(Clone, Copy, Debug)]
pub struct Setting<'a> {
    /// The paper they are printed on.
    pub paper: &'a Paper,
    /// A profile to try: pages are corrected by it, so that a second measuring reads true.
    pub profile: Option<&'a Profile>,
}

/// Why there is no test print.
#[derive(Debug)]
pub enum Error {
    /// The paper is too small or too large for the pages; the request's fault.
    Paper(Paper),
    /// There is no such face; the request's fault.
    Font(String),
    /// A PDF could not be written.
    Pdf(output::pdf::Error),
    /// A preview could not be made.
    Png(output::png::Error),
}

impl std::fmt::Display for Error {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Error::Paper(paper) => write!(
                f,
                "test prints take paper at least as wide and high as A5 upright, up to A3; not {}",
                paper.name
            ),
            Error::Font(name) => {
                write!(f, "there is no face {name}; name a role such as label or wire, or a family")
            }
            Error::Pdf(error) => error.fmt(f),
            Error::Png(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for Error {}

/// A test print, ready to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct TestPrint {
    /// What its files are called.
    pub name: String,
    /// The pages.
    pub pages: Vec<Page<'static>>,
    /// What the pages place.
    pub drawings: Vec<Design>,
}

/// Draws a test print.
///
/// # Errors
/// [`Error::Paper`] for paper it does not fit on, [`Error::Font`] for a face there is not.
pub fn draw(page: &TestPage, setting: &Setting<'_>) -> Result<TestPrint, Error> {
    let size = setting.paper.size;
    if size.max(LEAST_PAPER) != size || size.min(MOST_PAPER) != size {
        return Err(Error::Paper(setting.paper.clone()));
    }
    let faces = Faces::bundled();
    let mut writer = PageWriter::new(setting, &faces);
    match page {
        TestPage::Scale => scale::fill(&mut writer),
        TestPage::Lines => lines::fill(&mut writer),
        TestPage::Type(names) => type_ladder::fill(names, &faces, &mut writer)?,
        TestPage::Colour { name, wanted } => colour::fill(name, *wanted, &mut writer),
        TestPage::Inks => inks::fill(&mut writer),
    }
    let (pages, drawings) = writer.bind();
    Ok(TestPrint { name: page.name(), pages, drawings })
}

/// The files of a test print, as name and bytes: `<name>.pdf` to print, `<name>.svg` and `.png` to look at
/// (`<name>-2.svg` and so on for more pages).
///
/// The PDF is corrected by the profile to try; the others are true to size.
///
/// # Errors
/// [`Error`] when a writer fails; that is ours to mend.
pub fn files(print: &TestPrint, setting: &Setting<'_>) -> Result<Vec<(String, Vec<u8>)>, Error> {
    let title = format!("Test print: {}", print.name.replace('-', " "));
    let words = setting.profile.and_then(Profile::words).unwrap_or_default();
    let about = About { title: title.clone(), subject: words };
    let pdf = output::pdf::compose(&about, &print.drawings, &print.pages, setting.profile);
    let pdf = pdf.and_then(output::pdf::Pdf::into_bytes).map_err(Error::Pdf)?;
    let mut files = vec![(format!("{}.pdf", print.name), pdf)];
    for (page, number) in print.pages.iter().zip(1..) {
        let about = About { title: title.clone(), subject: String::new() };
        let name =
            if number == 1 { print.name.clone() } else { format!("{}-{number}", print.name) };
        let svg = output::svg::write(&about, &print.drawings, page, &[]);
        let png = output::png::preview(&svg, Film::Paper, output::png::PREVIEW_DPI);
        files.push((format!("{name}.png"), png.map_err(Error::Png)?));
        files.push((format!("{name}.svg"), svg.into_bytes()));
    }
    Ok(files)
}
