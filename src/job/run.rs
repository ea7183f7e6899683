//! What the files of a run are made from, and what the makers of several formats share.

use super::{Content, Laid};
use crate::design::{Design, Plate};
use crate::output::{self, About, Page};
use crate::spec::{Film, Profile};
use crate::{files, proof};
use std::borrow::{Borrow, Cow};

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

/// A file's name and what it holds.
pub(super) type Named = (String, Content);

/// The work of making files that are made together.
pub(super) type Task<'r> = Box<dyn Fn() -> Result<Vec<Named>, Error> + Send + Sync + 'r>;

/// A task for each of some things.
pub(super) fn task_each<'r, T: Copy + Send + Sync + 'r>(
    things: impl IntoIterator<Item = T>,
    made: impl Fn(T) -> Result<Vec<Named>, Error> + Copy + Send + Sync + 'r,
) -> Vec<Task<'r>> {
    things.into_iter().map(|thing| Box::new(move || made(thing)) as Task<'r>).collect()
}

/// What a run makes its files from.
pub(super) struct Run<'a> {
    pub(super) laid: &'a Laid,
    /// The designs in the colours that are sent to the printer.
    pub(super) printed: Cow<'a, [Design]>,
    /// What the names of all files start with.
    pub(super) stem: String,
    /// What those of sheets and their layout start with.
    pub(super) sheet_stem: String,
    pub(super) previews: Previews,
    /// What a proof shows, where the run makes one.
    pub(super) proof: Option<proof::Proofed<'a>>,
}

impl<'a> Run<'a> {
    /// A run that prints a job; the names of all its files start with `stem`.
    pub(super) fn printing(laid: &'a Laid, stem: &str, previews: Previews) -> Run<'a> {
        Run { printed: printed(laid), ..Run::showing(laid, stem, previews) }
    }

    /// The same of a run that prints nothing.
    pub(super) fn showing(laid: &'a Laid, stem: &str, previews: Previews) -> Run<'a> {
        let (printed, stem) = (Cow::Borrowed(laid.designs.as_slice()), stem.to_owned());
        Run { laid, printed, sheet_stem: stem.clone(), stem, previews, proof: None }
    }

    /// A file of text whose name ends so.
    pub(super) fn text(&self, ending: &str, text: String) -> Named {
        (format!("{}{ending}", self.stem), Content::Bytes(text.into_bytes()))
    }

    /// A drawing, and its preview where previews are made; the name has no ending yet.
    pub(super) fn picture(&self, name: &str, svg: &str, film: Film) -> Result<Vec<Named>, Error> {
        let mut files = vec![(format!("{name}.svg"), Content::Bytes(svg.into()))];
        if self.previews == Previews::Made {
            let png = output::png::preview(svg, film, output::png::PREVIEW_DPI);
            files.push((format!("{name}.png"), Content::Bytes(png.map_err(Error::Png)?)));
        }
        Ok(files)
    }

    /// Title and subject of a part of the job.
    pub(super) fn about(&self, part: &str) -> About {
        let spec = &self.laid.spec;
        let given = [("revision", &spec.revision), ("date", &spec.date)].into_iter();
        let subject: Vec<String> =
            given.filter_map(|(word, text)| Some(format!("{word} {}", text.as_ref()?))).collect();
        About { title: format!("{} - {part}", spec.title), subject: subject.join(", ") }
    }

    /// A PDF to read: it is printed as large as it comes out.
    pub(super) fn pdf<D: Borrow<Design> + Sync>(
        &self,
        part: &str,
        designs: &[D],
        pages: &[Page<'_>],
    ) -> Result<Content, Error> {
        composed(&self.about(part), designs, pages, None)
    }

    /// A PDF that is measured on paper: corrected by the printer's profile, which its subject names.
    pub(super) fn corrected_pdf(
        &self,
        part: &str,
        designs: &[Design],
        pages: &[Page<'_>],
    ) -> Result<Content, Error> {
        let mut about = self.about(part);
        let profile = self.laid.spec.printer.profile.as_ref();
        if let Some(words) = profile.and_then(Profile::words) {
            let between = if about.subject.is_empty() || words.is_empty() { "" } else { ", " };
            about.subject = format!("{}{between}{words}", about.subject);
        }
        composed(&about, designs, pages, profile)
    }
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
