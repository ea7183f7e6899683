//! One face: its letters as outlines, its measures, and shaping with it.
//!
//! Everything is in em: 1 is the size of the font's em square; x to the right, y down, the base line at 0.
//! What a face is asked for is worked out once and kept, so that ten thousand labels cost little more than
//! their letters; a face can be asked from several threads.

use super::{NotAFace, measure, shaping};
use crate::shape::Outline;
use kurbo::{Affine, BezPath, Rect};
use std::{
    borrow::Cow,
    fmt,
    sync::{Arc, Mutex, OnceLock},
};

/// Glyph outlines are merged at this many mm to the em, then scaled to 1: far finer than any label needs.
///
/// At 1 mm the sweep's 10 nm would be 1e-5 of an em, too coarse for letters a hand high.
const MERGING_EM_MM: f64 = 100.0;

/// A glyph's outline in em, overlaps removed.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Glyph {
    /// The outline; empty for a space.
    pub outline: Outline,
    /// Its bounds; zero when empty.
    pub bounds: Rect,
}

/// What the font's licence bits (OS/2 fsType) say about using its outlines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Rights {
    /// May be embedded, so its outlines may be printed.
    Free,
    /// Embedding needs the maker's leave (fsType 2).
    Restricted,
    /// Only bitmaps may be embedded (fsType bit 9).
    BitmapsOnly,
}

/// One face of a font file.
pub(crate) struct Face {
    name: String,
    family: String,
    bytes: Cow<'static, [u8]>,
    index: u32,
    rights: Rights,
    alike: Vec<(char, char)>,
    pub(super) shaper: harfrust::Font,
    pub(super) plans: Mutex<Vec<Arc<harfrust::ShapePlan>>>,
    glyphs: Box<[OnceLock<Box<Glyph>>]>,
    measures: OnceLock<measure::Measures>,
}

impl Face {
    /// Reads a face; outlines, measures and plans come when first asked for.
    ///
    /// `alike` are the pairs of characters that look alike in it.
    pub(super) fn read(
        name: &str,
        bytes: Cow<'static, [u8]>,
        index: u32,
        alike: Vec<(char, char)>,
    ) -> Result<Face, NotAFace> {
        let faces = ttf_parser::fonts_in_collection(&bytes).unwrap_or(1);
        if index >= faces {
            return Err(NotAFace::NoSuchFace { index, faces });
        }
        let face = ttf_parser::Face::parse(&bytes, index).map_err(|_| NotAFace::NotAFont)?;
        let ends = face.raw_face().table_records.into_iter().map(|table| {
            usize::try_from(u64::from(table.offset) + u64::from(table.length)).unwrap_or(usize::MAX)
        });
        if ends.max().unwrap_or(0) > bytes.len() {
            return Err(NotAFace::CutShort);
        }
        if face.is_variable() {
            return Err(NotAFace::Variable);
        }
        let (rights, family) = (rights(&face), family(&face).unwrap_or_else(|| name.to_owned()));
        let count = usize::from(face.number_of_glyphs());
        let shaper = match &bytes {
            Cow::Borrowed(bytes) => harfrust::Font::new(*bytes, index),
            Cow::Owned(bytes) => harfrust::Font::new(bytes.clone(), index),
        };
        let shaper = shaper.ok_or(NotAFace::NotAFont)?;
        Ok(Face {
            name: name.to_owned(),
            family,
            bytes,
            index,
            rights,
            alike,
            shaper,
            plans: Mutex::default(),
            glyphs: std::iter::repeat_with(OnceLock::new).take(count).collect(),
            measures: OnceLock::new(),
        })
    }

    /// What a spec calls it: its role, or the name the job gave the file.
    #[must_use]
    pub(crate) fn name(&self) -> &str {
        &self.name
    }

    /// The family name in the font.
    #[must_use]
    pub(crate) fn family(&self) -> &str {
        &self.family
    }

    /// What its licence bits allow.
    #[must_use]
    pub(crate) fn rights(&self) -> Rights {
        self.rights
    }

    /// Pairs of letters and figures that look alike in it (known for bundled faces only).
    #[must_use]
    pub(crate) fn alike(&self) -> &[(char, char)] {
        &self.alike
    }

    /// The glyph the font gives a character, if any.
    #[must_use]
    pub(crate) fn glyph_of(&self, character: char) -> Option<u32> {
        let shaper = harfrust::ShaperFont::new(&self.shaper);
        let glyph = shaper.nominal_glyph(u32::from(character))?.to_u32();
        (glyph != 0).then_some(glyph)
    }

    /// Whether the face can show a character: it has a glyph for it, and one with an outline unless the
    /// character is a space.
    #[must_use]
    pub(crate) fn has(&self, character: char) -> bool {
        self.glyph_of(character)
            .is_some_and(|glyph| character.is_whitespace() || !self.glyph(glyph).outline.is_empty())
    }

    /// A glyph's outline; the empty glyph when there is none of that number.
    #[must_use]
    pub(crate) fn glyph(&self, glyph: u32) -> &Glyph {
        static NONE: OnceLock<Glyph> = OnceLock::new();
        let slot = usize::try_from(glyph).ok().and_then(|at| self.glyphs.get(at));
        match slot {
            Some(slot) => slot.get_or_init(|| Box::new(self.draw(glyph).unwrap_or_default())),
            None => NONE.get_or_init(Glyph::default),
        }
    }

    fn parsed(&self) -> Option<ttf_parser::Face<'_>> {
        ttf_parser::Face::parse(&self.bytes, self.index).ok()
    }

    fn draw(&self, glyph: u32) -> Option<Glyph> {
        let face = self.parsed()?;
        let scale = MERGING_EM_MM / f64::from(face.units_per_em().max(1));
        let mut drawing = GlyphPath { path: BezPath::new(), scale };
        face.outline_glyph(ttf_parser::GlyphId(u16::try_from(glyph).ok()?), &mut drawing)?;
        let outline = Outline::of(&drawing.path).placed(Affine::scale(1.0 / MERGING_EM_MM));
        Some(Glyph { bounds: outline.bounds(), outline })
    }

    /// What has been measured on the outlines, in em.
    #[must_use]
    pub(crate) fn measures(&self) -> &measure::Measures {
        self.measures.get_or_init(|| {
            let stated = self.parsed().and_then(|face| {
                let height = f64::from(face.capital_height()?);
                (height > 0.0).then(|| height / f64::from(face.units_per_em().max(1)))
            });
            measure::measure(self, stated)
        })
    }

    /// Shapes a run of text set in this face alone.
    #[must_use]
    pub(crate) fn shape(
        &self,
        text: &str,
        options: shaping::ShapingOptions,
    ) -> Vec<shaping::Shaped> {
        shaping::shape(self, text, options)
    }
}

impl fmt::Debug for Face {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Face").field("name", &self.name).field("family", &self.family).finish()
    }
}

fn rights(face: &ttf_parser::Face<'_>) -> Rights {
    if !face.is_outline_embedding_allowed() {
        Rights::BitmapsOnly
    } else if face.permissions() == Some(ttf_parser::Permissions::Restricted) {
        Rights::Restricted
    } else {
        Rights::Free
    }
}

/// The family by which a menu would list the face: name 16 where there is one, else name 1.
fn family(face: &ttf_parser::Face<'_>) -> Option<String> {
    let named = |id| {
        face.names().into_iter().filter(|name| name.name_id == id).find_map(|name| name.to_string())
    };
    named(ttf_parser::name_id::TYPOGRAPHIC_FAMILY).or_else(|| named(ttf_parser::name_id::FAMILY))
}

/// A glyph's path, y down.
struct GlyphPath {
    path: BezPath,
    scale: f64,
}

impl GlyphPath {
    fn at(&self, x: f32, y: f32) -> (f64, f64) {
        (f64::from(x) * self.scale, -f64::from(y) * self.scale)
    }
}

impl ttf_parser::OutlineBuilder for GlyphPath {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(self.at(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(self.at(x, y));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.path.quad_to(self.at(x1, y1), self.at(x, y));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.path.curve_to(self.at(x1, y1), self.at(x2, y2), self.at(x, y));
    }

    fn close(&mut self) {
        self.path.close_path();
    }
}
