//! Which drawings a document needs, and each of them drawn and packed once.
//!
//! Art that is placed more than once, by copies or by designs that look alike, becomes a form of its own.
//! Art placed once is drawn in place in its page's form: measured smaller than a form each, for letters
//! repeat from label to label and pack well side by side.

use super::Error;
use super::art::{self, ART, CUT};
use super::words::{self, Alphabet};
use crate::design::Design;
use crate::output::{Page, Placed, words_on};
use crate::parallel::{in_order, in_order_with};
use flate2::{Compression, write::ZlibEncoder};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::io::Write as _;

/// A drawing that a page places, or that another drawing does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Form {
    /// A design used more than once: the first of those that look the same.
    Design(usize),
    /// All designs of a page.
    Ink(usize),
    /// The white under all designs of a page.
    White(usize),
    /// A page's own marks.
    Marks(usize),
    /// A page's cut lines.
    Cut(usize),
    /// A page's searchable words.
    Words(usize),
}

/// The name a form has among resources.
impl fmt::Display for Form {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Form::Design(design) => write!(f, "Design{design}"),
            Form::Ink(page) => write!(f, "Ink{page}"),
            Form::White(page) => write!(f, "White{page}"),
            Form::Marks(page) => write!(f, "Marks{page}"),
            Form::Cut(page) => write!(f, "Cut{page}"),
            Form::Words(page) => write!(f, "Words{page}"),
        }
    }
}

/// A form's content, packed.
#[derive(Clone, Debug)]
pub(super) struct Drawing {
    /// Bounds on the art grid.
    pub(super) bounds: [i64; 4],
    /// The content, deflated.
    pub(super) packed: Vec<u8>,
}

/// How each design comes onto its pages.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    /// For each design the first that looks the same.
    alike: Vec<usize>,
    /// Designs placed more than once, those that look the same taken together.
    shared: BTreeSet<usize>,
}

impl Layout {
    /// The forms of the designs that are shared.
    pub(super) fn shared(&self) -> impl Iterator<Item = Form> + '_ {
        self.shared.iter().copied().map(Form::Design)
    }
}

/// What drawings are made from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Source<'a> {
    pub(super) pages: &'a [Page<'a>],
    pub(super) designs: &'a [&'a Design],
    pub(super) alphabet: &'a Alphabet,
}

/// Decides for every design whether its art is shared or drawn in place.
///
/// Art is not kept: that of thousands of designs is larger than the document.
pub(super) fn lay_out(pages: &[Page<'_>], designs: &[&Design]) -> Layout {
    let looks = in_order(designs, |design| art::look(&design.marks));
    let drawn = |at: usize| designs.get(at).map(|design| art::ink(&design.marks));
    let mut firsts: BTreeMap<u64, Vec<usize>> = BTreeMap::new();
    let mut alike: Vec<usize> = Vec::with_capacity(designs.len());
    for (at, look) in looks.into_iter().enumerate() {
        let firsts = firsts.entry(look).or_default();
        let first = firsts.iter().copied().find(|first| drawn(*first) == drawn(at));
        if first.is_none() {
            firsts.push(at);
        }
        alike.push(first.unwrap_or(at));
    }
    let (mut once, mut shared) = (BTreeSet::new(), BTreeSet::new());
    for placed in pages.iter().flat_map(|page| &page.placed) {
        if let Some(design) = alike.get(placed.design)
            && !once.insert(*design)
            && !shared.contains(design)
            && drawn(*design).is_some_and(|ink| !ink.is_empty())
        {
            shared.insert(*design);
        }
    }
    Layout { alike, shared }
}

/// Draws every form the layout needs; those that would be empty are left out.
///
/// # Errors
/// [`Error::Write`] when packing fails.
pub(super) fn draw(layout: &Layout, source: &Source<'_>) -> Result<BTreeMap<Form, Drawing>, Error> {
    let pages = 0..source.pages.len();
    let of_page = |page| {
        let drawn = [Form::Ink(page), Form::White(page), Form::Marks(page), Form::Cut(page)];
        drawn.into_iter().chain([Form::Words(page)])
    };
    let mut forms: Vec<Form> = pages.flat_map(of_page).collect();
    forms.extend(layout.shared());
    let drawn = in_order_with(&forms, Packing::new, |packing, form| {
        content(*form, layout, source, packing)?;
        if packing.is_empty {
            return Ok(None);
        }
        Ok(Some(Drawing { bounds: bounds(*form, source), packed: packing.finish()? }))
    });
    let mut drawings = BTreeMap::new();
    for (form, drawing) in forms.into_iter().zip::<Vec<Result<_, Error>>>(drawn) {
        if let Some(drawing) = drawing? {
            drawings.insert(form, drawing);
        }
    }
    Ok(drawings)
}

fn content(
    form: Form,
    layout: &Layout,
    source: &Source<'_>,
    out: &mut Packing,
) -> Result<(), Error> {
    let of_page = |page: usize| source.pages.get(page);
    match form {
        Form::Design(design) => {
            let Some(design) = source.designs.get(design) else { return Ok(()) };
            out.draw(|out| art::add_ink(out, &design.marks))
        }
        Form::Ink(page) => of_page(page).map_or(Ok(()), |page| {
            page.placed
                .iter()
                .try_for_each(|placed| out.draw(|out| place(out, *placed, layout, source.designs)))
        }),
        Form::White(page) => of_page(page).map_or(Ok(()), |page| {
            let white = white(page, source.designs);
            out.draw(|out| out.extend_from_slice(&white))
        }),
        Form::Marks(page) => {
            of_page(page).map_or(Ok(()), |page| out.draw(|out| art::add_ink(out, &page.marks)))
        }
        Form::Cut(page) => of_page(page).map_or(Ok(()), |page| cuts(page, source.designs, out)),
        Form::Words(page) => of_page(page).map_or(Ok(()), |page| {
            let words = words_on(page, source.designs);
            out.draw(|out| words::unseen(out, &words, source.alphabet))
        }),
    }
}

/// A form's bounds: a design's own, else the page's.
fn bounds(form: Form, source: &Source<'_>) -> [i64; 4] {
    let page = match form {
        Form::Design(design) => {
            return source.designs.get(design).map_or([0; 4], |design| art::ink_box(design));
        }
        Form::Ink(page)
        | Form::White(page)
        | Form::Marks(page)
        | Form::Cut(page)
        | Form::Words(page) => page,
    };
    source.pages.get(page).map_or([0; 4], |page| art::padded(page.size.to_rect(), ART))
}

/// A design where it lies: placed when it is shared, else drawn.
fn place(out: &mut Vec<u8>, placed: Placed, layout: &Layout, designs: &[&Design]) {
    let Some(design) = layout.alike.get(placed.design) else { return };
    let before = out.len();
    art::placing(out, placed.transform, ART);
    let start = out.len();
    if layout.shared.contains(design) {
        art::put(out, format_args!("/{} Do ", Form::Design(*design)));
    } else if let Some(design) = designs.get(*design) {
        art::add_ink(out, &design.marks);
    }
    close(out, before, start);
}

/// The white of all placings, in the colour space and graphics state that `finish` gives the form.
fn white(page: &Page<'_>, designs: &[&Design]) -> Vec<u8> {
    let mut out = Vec::new();
    if !page.has_white {
        return out;
    }
    for placed in &page.placed {
        let Some(white) = designs.get(placed.design).and_then(|design| design.white.as_ref())
        else {
            continue;
        };
        art::placing(&mut out, placed.transform, ART);
        art::white(&mut out, white);
        out.extend_from_slice(b"Q\n");
    }
    if out.is_empty() {
        return out;
    }
    let mut set = format!("/{WHITE_STATE} gs /{WHITE_SPACE} cs\n").into_bytes();
    set.append(&mut out);
    set
}

/// The names of white's colour space and graphics state among a form's resources.
pub(super) const WHITE_SPACE: &str = "White";
pub(super) const WHITE_STATE: &str = "Over";

/// Restores after a placing that starts at `before`, or takes it back when nothing was drawn since `start`.
fn close(out: &mut Vec<u8>, before: usize, start: usize) {
    if out.len() == start {
        out.truncate(before);
    } else {
        out.extend_from_slice(b"Q\n");
    }
}

/// The trims of all placings, then the page's own cut marks, under one matrix that makes the grid finer.
fn cuts(page: &Page<'_>, designs: &[&Design], out: &mut Packing) -> Result<(), Error> {
    let finer = crate::units::fixed(ART.per_mm / CUT.per_mm, 6);
    let finer = format!("{finer} 0 0 {finer} 0 0 cm\n");
    let under = |out: &mut Packing, cut: &dyn Fn(&mut Vec<u8>)| {
        let is_first = out.is_empty;
        out.draw(|out| {
            let before = out.len();
            if is_first {
                out.extend_from_slice(finer.as_bytes());
            }
            let start = out.len();
            cut(out);
            if out.len() == start {
                out.truncate(before);
            }
        })
    };
    for placed in &page.placed {
        let Some(design) = designs.get(placed.design) else { continue };
        under(out, &|out| {
            let before = out.len();
            art::placing(out, placed.transform, CUT);
            let start = out.len();
            art::cut(out, design);
            close(out, before, start);
        })?;
    }
    under(out, &|out| art::cut_marks(out, &page.marks))
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
    is_empty: bool,
}

impl Packing {
    pub(super) fn new() -> Packing {
        let packer = ZlibEncoder::new(Vec::new(), Compression::new(PACKING));
        Packing { packer, waiting: Vec::new(), is_empty: true }
    }

    /// Lets something draw after what is there.
    fn draw(&mut self, piece: impl FnOnce(&mut Vec<u8>)) -> Result<(), Error> {
        piece(&mut self.waiting);
        self.is_empty &= self.waiting.is_empty();
        if self.waiting.len() >= WAITING {
            self.packer.write_all(&self.waiting)?;
            self.waiting.clear();
        }
        Ok(())
    }

    /// The content deflated, in no more memory than it needs; what is drawn next is content of its own.
    fn finish(&mut self) -> Result<Vec<u8>, Error> {
        self.packer.write_all(&self.waiting)?;
        self.waiting.clear();
        self.is_empty = true;
        // Copied, not shrunk: the rest of a shrunk piece is too small for the next page's, and stays unused.
        Ok(self.packer.reset(Vec::new())?.as_slice().to_vec())
    }

    /// Deflates a stream. A packer takes a quarter of a megabyte, and small things that stay are put into its
    /// place once it is gone: many streams should share one, or each takes as much anew.
    ///
    /// # Errors
    /// [`Error::Write`] as the packer reports it.
    pub(super) fn packed(&mut self, content: &[u8]) -> Result<Vec<u8>, Error> {
        self.draw(|out| out.extend_from_slice(content))?;
        self.finish()
    }
}
