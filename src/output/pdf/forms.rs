//! Which drawings a document needs, and each of them drawn and packed once.
//!
//! Art that is placed more than once, by copies or by designs that look alike, becomes a form of its own.
//! Art placed once is drawn in place, a run of neighbours together: measured smaller than a form each, for
//! letters repeat from label to label and pack well side by side.

use super::Error;
use super::art::{self, ART, Art, CUT};
use super::words::{self, Alphabet};
use crate::design::Words;
use crate::output::{Page, Placed};
use crate::parallel::in_order;
use flate2::{Compression, write::ZlibEncoder};
use kurbo::Affine;
use std::collections::BTreeMap;
use std::fmt;
use std::io::Write as _;

/// A drawing that a page places.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Form {
    /// A design used more than once: the first of those that look the same.
    Design(usize),
    /// The n-th piece of a page, a run of designs used once.
    Run { page: usize, piece: usize },
    /// A page's own marks.
    Marks(usize),
    /// A page's cut lines.
    Cut(usize),
    /// A page's searchable words.
    Words(usize),
}

/// The name a form has among a page's resources.
impl fmt::Display for Form {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Form::Design(design) => write!(f, "Design{design}"),
            Form::Run { page, piece } => write!(f, "Run{page}.{piece}"),
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

/// Part of what a page shows, in painting order.
#[derive(Clone, Debug)]
pub(super) enum Piece {
    /// One placing of a shared form.
    Shared { design: usize, transform: Affine },
    /// Designs drawn in place.
    Run(Vec<Placed>),
}

/// The pieces of every page.
#[derive(Clone, Debug)]
pub(super) struct Layout {
    /// For each page, in painting order.
    pub(super) pages: Vec<Vec<Piece>>,
}

/// What drawings are made from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Source<'a> {
    pub(super) pages: &'a [Page],
    pub(super) arts: &'a [Art],
    pub(super) spoken: &'a [Vec<Words>],
    pub(super) alphabet: &'a Alphabet,
}

/// Decides for every placing whether its art is shared or drawn in place.
pub(super) fn lay_out(pages: &[Page], arts: &[Art]) -> Layout {
    let mut first: BTreeMap<&[u8], usize> = BTreeMap::new();
    let alike: Vec<usize> = arts
        .iter()
        .enumerate()
        .map(|(at, art)| *first.entry(art.ink.as_slice()).or_insert(at))
        .collect();
    let drawn = |placed: &Placed| {
        let design = *alike.get(placed.design)?;
        arts.get(design).filter(|art| !art.ink.is_empty()).map(|_| design)
    };
    let mut uses: BTreeMap<usize, usize> = BTreeMap::new();
    for design in pages.iter().flat_map(|page| &page.placed).filter_map(drawn) {
        *uses.entry(design).or_default() += 1;
    }
    let pieces = |page: &Page| {
        let mut pieces = Vec::new();
        for placed in &page.placed {
            let Some(design) = drawn(placed) else { continue };
            let placed = Placed { design, ..*placed };
            if uses.get(&design).is_some_and(|uses| *uses > 1) {
                pieces.push(Piece::Shared { design, transform: placed.transform });
            } else if let Some(Piece::Run(run)) = pieces.last_mut() {
                run.push(placed);
            } else {
                pieces.push(Piece::Run(vec![placed]));
            }
        }
        pieces
    };
    Layout { pages: pages.iter().map(pieces).collect() }
}

/// Draws every form the layout needs; those that would be empty are left out.
///
/// # Errors
/// [`Error::Write`] when packing fails.
pub(super) fn draw(layout: &Layout, source: &Source<'_>) -> Result<BTreeMap<Form, Drawing>, Error> {
    let mut shared = BTreeMap::new();
    let mut forms = Vec::new();
    for (page, pieces) in layout.pages.iter().enumerate() {
        for (piece, what) in pieces.iter().enumerate() {
            match what {
                Piece::Shared { design, .. } => {
                    shared.insert(*design, ());
                }
                Piece::Run(_) => forms.push(Form::Run { page, piece }),
            }
        }
        forms.extend([Form::Marks(page), Form::Cut(page), Form::Words(page)]);
    }
    forms.extend(shared.into_keys().map(Form::Design));
    let drawn = in_order(&forms, |form| -> Result<Option<Drawing>, Error> {
        let content = content(*form, layout, source);
        if content.is_empty() {
            return Ok(None);
        }
        Ok(Some(Drawing { bounds: bounds(*form, source), packed: packed(&content)? }))
    });
    let mut drawings = BTreeMap::new();
    for (form, drawing) in forms.into_iter().zip(drawn) {
        if let Some(drawing) = drawing? {
            drawings.insert(form, drawing);
        }
    }
    Ok(drawings)
}

fn content(form: Form, layout: &Layout, source: &Source<'_>) -> Vec<u8> {
    match form {
        Form::Design(design) => source.arts.get(design).map(|art| art.ink.clone()),
        Form::Run { page, piece } => {
            match layout.pages.get(page).and_then(|page| page.get(piece)) {
                Some(Piece::Run(run)) => Some(in_place(run, source.arts)),
                Some(Piece::Shared { .. }) | None => None,
            }
        }
        Form::Marks(page) => source.pages.get(page).map(|page| art::ink(&page.marks)),
        Form::Cut(page) => source.pages.get(page).map(|page| cuts(page, source.arts)),
        Form::Words(page) => {
            source.spoken.get(page).map(|words| words::unseen(words, source.alphabet))
        }
    }
    .unwrap_or_default()
}

/// A form's bounds: a design's own, else the page's.
fn bounds(form: Form, source: &Source<'_>) -> [i64; 4] {
    let page = match form {
        Form::Design(design) => return source.arts.get(design).map_or([0; 4], |art| art.ink_box),
        Form::Run { page, .. } | Form::Marks(page) | Form::Cut(page) | Form::Words(page) => page,
    };
    source.pages.get(page).map_or([0; 4], |page| art::padded(page.size.to_rect(), ART))
}

/// Designs drawn where they lie.
fn in_place(run: &[Placed], arts: &[Art]) -> Vec<u8> {
    let mut out = Vec::new();
    for placed in run {
        let Some(art) = arts.get(placed.design) else { continue };
        art::placing(&mut out, placed.transform, ART);
        out.extend_from_slice(&art.ink);
        out.extend_from_slice(b"Q\n");
    }
    out
}

/// The trims of all placings, then the page's own cut marks.
fn cuts(page: &Page, arts: &[Art]) -> Vec<u8> {
    let mut out = Vec::new();
    for placed in &page.placed {
        let Some(art) = arts.get(placed.design).filter(|art| !art.cut.is_empty()) else { continue };
        art::placing(&mut out, placed.transform, CUT);
        out.extend_from_slice(&art.cut);
        out.extend_from_slice(b"Q\n");
    }
    art::cut_marks(&mut out, &page.marks);
    if out.is_empty() {
        return out;
    }
    let finer = crate::units::fixed(ART.per_mm / CUT.per_mm, 6);
    let mut scaled = format!("{finer} 0 0 {finer} 0 0 cm\n").into_bytes();
    scaled.append(&mut out);
    scaled
}

/// Deflate level of streams, 1 to 9. Higher takes twice as long for a few per cent; lower grows files by a third.
const PACKING: u32 = 3;

/// Deflates a stream.
///
/// # Errors
/// [`Error::Write`] as the packer reports it.
pub(super) fn packed(content: &[u8]) -> Result<Vec<u8>, Error> {
    let mut packer = ZlibEncoder::new(Vec::new(), Compression::new(PACKING));
    packer.write_all(content)?;
    Ok(packer.finish()?)
}
