//! Which forms a document needs, and each of them drawn and packed once.
//!
//! Art that is placed more than once, by copies or by designs that are drawn the same, becomes a form of its own.
//! Art placed once is drawn in place in its page's form: measured smaller than a form each, for letters
//! repeat from label to label and pack well side by side.

use super::art;
use super::outline::{ART, CUT};
use super::{Composition, Error, words};
use crate::design::Design;
use crate::known::item;
use crate::output::{Page, Placed, words_on};
use crate::parallel::{in_order, in_order_with};
use flate2::{Compression, write::ZlibEncoder};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::io::Write as _;

/// A form (ISO 32000-1 8.10): a drawing that a page places, or that another form does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum FormId {
    /// A design used more than once: the first of those that are drawn the same.
    Design(usize),
    /// PagePart of a page, by the page's number.
    OfPage(PagePart, usize),
}

/// A part of a page; a form's name among resources is this name and the page's number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum PagePart {
    /// What is printed on the labels: all its designs.
    Ink,
    /// The white under or over their ink, a plate of its own.
    White,
    /// Its own marks: ticks, names, bars.
    Marks,
    /// Where the knife goes: off until asked for.
    Cut,
    /// Its searchable words.
    Words,
}

impl PagePart {
    /// All of them. White comes after the ink, which it overprints: before it, the ink would knock it out.
    pub(super) const ALL: [PagePart; 5] =
        [PagePart::Ink, PagePart::White, PagePart::Marks, PagePart::Cut, PagePart::Words];

    /// The layer it is on. Words are on none, so that they are found whichever layers are shown.
    pub(super) fn layer(self) -> Option<&'static str> {
        match self {
            PagePart::Ink => Some("ink"),
            PagePart::White => Some("white"),
            PagePart::Marks => Some("marks"),
            PagePart::Cut => Some("cut"),
            PagePart::Words => None,
        }
    }
}

/// The name a form has among resources.
impl fmt::Display for FormId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FormId::Design(design) => write!(f, "Design{design}"),
            FormId::OfPage(part, page) => write!(f, "{part:?}{page}"),
        }
    }
}

/// A form's content.
#[derive(Clone, Debug)]
pub(super) struct PackedForm {
    /// Bounds on the art grid.
    pub(super) bounds: [i64; 4],
    /// The content, deflated.
    pub(super) packed: Vec<u8>,
}

/// All forms of a document that draw something.
pub(super) type Forms = BTreeMap<FormId, PackedForm>;

/// Which designs are drawn the same, and which become forms of their own.
#[derive(Clone, Debug)]
pub(super) struct SharedDesigns {
    /// For each design the first that is drawn the same.
    first_alike: Vec<usize>,
    /// Designs placed more than once, those that are drawn the same taken together.
    shared: BTreeSet<usize>,
}

impl SharedDesigns {
    /// Decides for every design whether its art is shared or drawn in place.
    ///
    /// Art is drawn for comparing and not kept: that of thousands of designs is larger than the document.
    pub(super) fn of(pages: &[Page<'_>], designs: &[&Design]) -> SharedDesigns {
        let hashes = in_order(designs, |design| art::likeness_hash(&design.marks));
        let drawn = |at: usize| designs.get(at).map(|design| art::ink(&design.marks));
        let mut firsts: BTreeMap<u64, Vec<usize>> = BTreeMap::new();
        let mut first_alike: Vec<usize> = Vec::with_capacity(designs.len());
        for (at, hash) in hashes.into_iter().enumerate() {
            let firsts = firsts.entry(hash).or_default();
            let first = firsts.iter().copied().find(|first| drawn(*first) == drawn(at));
            if first.is_none() {
                firsts.push(at);
            }
            first_alike.push(first.unwrap_or(at));
        }
        let (mut once, mut shared) = (BTreeSet::new(), BTreeSet::new());
        for placed in pages.iter().flat_map(|page| &page.placed) {
            if let Some(design) = first_alike.get(placed.design)
                && !once.insert(*design)
                && !shared.contains(design)
                && drawn(*design).is_some_and(|ink| !ink.is_empty())
            {
                shared.insert(*design);
            }
        }
        SharedDesigns { first_alike, shared }
    }

    /// The forms of the designs that are shared.
    pub(super) fn forms(&self) -> impl Iterator<Item = FormId> + '_ {
        self.shared.iter().copied().map(FormId::Design)
    }

    /// The form that draws a design, where it is shared.
    fn form_of(&self, design: usize) -> Option<FormId> {
        let first = self.first_alike.get(design)?;
        self.shared.contains(first).then_some(FormId::Design(*first))
    }
}

/// Draws every form of a document; those that would be empty are left out.
///
/// # Errors
/// [`Error::Write`] when packing fails.
pub(super) fn draw(composition: &Composition<'_>) -> Result<Forms, Error> {
    let pages = 0..composition.pages.len();
    let of_pages = pages.flat_map(|page| PagePart::ALL.map(|part| FormId::OfPage(part, page)));
    let forms: Vec<FormId> = of_pages.chain(composition.shared.forms()).collect();
    let drawn = in_order_with(&forms, Packing::new, |packing, form| {
        let bounds = match *form {
            FormId::Design(at) => design_form(composition, at, packing)?,
            FormId::OfPage(part, at) => page_form(composition, part, at, packing)?,
        };
        Ok(packing.finish()?.map(|packed| (*form, PackedForm { bounds, packed })))
    });
    drawn.into_iter().filter_map(Result::transpose).collect()
}

/// Draws a shared design; returns its bounds.
fn design_form(
    composition: &Composition<'_>,
    at: usize,
    out: &mut Packing,
) -> Result<[i64; 4], Error> {
    let Some(design) = item(&composition.designs, at) else { return Ok([0; 4]) };
    out.draw(|out| art::add_ink(out, &design.marks))?;
    Ok(art::ink_bounds(design))
}

/// Draws a part of a page; returns the page's bounds.
fn page_form(
    composition: &Composition<'_>,
    part: PagePart,
    at: usize,
    out: &mut Packing,
) -> Result<[i64; 4], Error> {
    let Some(page) = item(composition.pages, at) else { return Ok([0; 4]) };
    match part {
        PagePart::Ink => {
            page.placed_designs(&composition.designs).try_for_each(|(placed, design)| {
                out.draw(|out| place(out, *placed, design, &composition.shared))
            })
        }
        PagePart::White => white(page, &composition.designs, out),
        PagePart::Marks => out.draw(|out| art::add_ink(out, &page.marks)),
        PagePart::Cut => cut_lines(page, &composition.designs, out),
        PagePart::Words => {
            let words = words_on(page, &composition.designs);
            out.draw(|out| words::add_unseen(out, &words, &composition.alphabet))
        }
    }?;
    Ok(art::padded(page.size.to_rect(), ART))
}

/// A design where it lies: its form placed when it is shared, else drawn.
fn place(out: &mut Vec<u8>, placed: Placed, design: &Design, shared: &SharedDesigns) {
    art::placed(out, placed.transform, ART, |out| match shared.form_of(placed.design) {
        Some(form) => art::put(out, format_args!("/{form} Do ")),
        None => art::add_ink(out, &design.marks),
    });
}

/// The names of white's colour space and graphics state among a form's resources.
pub(super) const WHITE_SPACE: &str = "White";
pub(super) const WHITE_STATE: &str = "Over";

/// The white of all placings, in the colour space and graphics state that `finish` gives the form.
fn white(page: &Page<'_>, designs: &[&Design], out: &mut Packing) -> Result<(), Error> {
    if !page.has_white {
        return Ok(());
    }
    out.set_head(format!("/{WHITE_STATE} gs /{WHITE_SPACE} cs\n"));
    for (placed, design) in page.placed_designs(designs) {
        if let Some(white) = &design.white {
            out.draw(|out| {
                art::placed(out, placed.transform, ART, |out| art::white(out, white));
            })?;
        }
    }
    Ok(())
}

/// The trims of all placings, then the page's own cut marks, under one matrix that makes the grid finer.
fn cut_lines(page: &Page<'_>, designs: &[&Design], out: &mut Packing) -> Result<(), Error> {
    let finer = crate::units::fixed(ART.per_mm / CUT.per_mm, 6);
    out.set_head(format!("{finer} 0 0 {finer} 0 0 cm\n"));
    for (placed, design) in page.placed_designs(designs) {
        out.draw(|out| {
            art::placed(out, placed.transform, CUT, |out| art::cut_lines(out, design));
        })?;
    }
    out.draw(|out| art::cut_marks(out, &page.marks))
}

/// Deflate level of streams, 1 to 9. Measured on 10,000 markers: 3 packs 6 % smaller for a tenth more time of the
/// whole run; higher takes twice as long for a few per cent.
const PACKING: u32 = 2;

/// Bytes that wait to be deflated together. Fewer cost calls; the content of a whole page would be many times
/// as large as all that is kept of it.
const WAITING: usize = 1 << 16;

/// Content that is deflated as it is drawn.
pub(super) struct Packing {
    packer: ZlibEncoder<Vec<u8>>,
    waiting: Vec<u8>,
    /// What goes before the first thing drawn.
    head: String,
    is_empty: bool,
}

impl Packing {
    pub(super) fn new() -> Packing {
        let packer = ZlibEncoder::new(Vec::new(), Compression::new(PACKING));
        Packing { packer, waiting: Vec::new(), head: String::new(), is_empty: true }
    }

    /// Sets what goes before the first thing drawn, and is left out when nothing is.
    fn set_head(&mut self, head: String) {
        self.head = head;
    }

    /// Lets something draw after what is there.
    fn draw(&mut self, piece: impl FnOnce(&mut Vec<u8>)) -> Result<(), Error> {
        let head = if self.is_empty { self.head.as_str() } else { "" };
        self.is_empty &= !art::wrapped(&mut self.waiting, format_args!("{head}"), piece, "");
        if self.waiting.len() >= WAITING {
            self.packer.write_all(&self.waiting)?;
            self.waiting.clear();
        }
        Ok(())
    }

    /// The content deflated, in no more memory than it needs; `None` when nothing was drawn. What is drawn next is
    /// content of its own.
    fn finish(&mut self) -> Result<Option<Vec<u8>>, Error> {
        self.head.clear();
        if std::mem::replace(&mut self.is_empty, true) {
            return Ok(None);
        }
        self.packer.write_all(&self.waiting)?;
        self.waiting.clear();
        // Copied, not shrunk: the rest of a shrunk piece is too small for the next page's, and stays unused.
        Ok(Some(self.packer.reset(Vec::new())?.as_slice().to_vec()))
    }

    /// Deflates a stream. A packer takes a quarter of a megabyte, and the memory of one that is gone is soon broken
    /// up by small things that stay: many streams should share one, or each takes as much anew.
    ///
    /// # Errors
    /// [`Error::Write`] as the packer reports it.
    pub(super) fn packed(&mut self, content: &[u8]) -> Result<Vec<u8>, Error> {
        self.draw(|out| out.extend_from_slice(content))?;
        // A stream of nothing is a stream too.
        self.is_empty = false;
        Ok(self.finish()?.unwrap_or_default())
    }
}
