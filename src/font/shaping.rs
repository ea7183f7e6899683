//! From characters to glyphs and where they stand: kerning, ligatures, joined scripts.

use super::Face;
use harfrust::{Direction, Feature, ShapeOptions, ShapePlan, ShapePlanKey, ShaperFont, Tag};
use std::sync::Arc;

/// How letters stand together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct ShapingOptions {
    /// Whether letters stand apart (tracked), which rules out ligatures.
    pub apart: bool,
    /// Whether figures are all of one width.
    pub tabular: bool,
}

/// A glyph in its run, left to right. Lengths in em, y down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Shaped {
    /// The glyph; 0 is the font's sign for a missing one.
    pub glyph: u32,
    /// First byte, in the run's text, of the characters it stands for.
    pub cluster: usize,
    /// From this glyph's origin to the next one's.
    pub advance: f64,
    /// Right, from its place in the run.
    pub right: f64,
    /// Down, from its place in the run.
    pub down: f64,
}

pub(super) fn shape(face: &Face, text: &str, options: ShapingOptions) -> Vec<Shaped> {
    let mut buffer = harfrust::Buffer::new();
    buffer.push_str(text);
    buffer.guess_segment_properties();
    let on = |tag: &[u8; 4], value| Feature::new(Tag::new(tag), value, ..);
    let mut features = Vec::new();
    if options.apart {
        features.extend([on(b"liga", 0), on(b"clig", 0)]);
    }
    if options.tabular {
        features.push(on(b"tnum", 1));
    }
    let plan = plan(face, &buffer, &features);
    let font = ShaperFont::new(&face.shaper);
    let planned = ShapeOptions::new().plan(Some(&plan)).features(&features);
    if harfrust::shape(&font, &mut buffer, planned).is_err() {
        debug_assert!(false, "the plan was made for this very buffer");
        return Vec::new();
    }
    let em = f64::from(face.shaper.units_per_em().max(1));
    let glyphs = buffer.glyph_infos().iter().zip(buffer.glyph_positions());
    glyphs
        .map(|(glyph, place)| Shaped {
            glyph: glyph.glyph_id,
            cluster: usize::try_from(glyph.cluster).unwrap_or(usize::MAX),
            advance: f64::from(place.x_advance) / em,
            right: f64::from(place.x_offset) / em,
            down: -f64::from(place.y_offset) / em,
        })
        .collect()
}

/// The plan for runs of one script, direction and set of features, made once and kept.
fn plan(face: &Face, buffer: &harfrust::Buffer, features: &[Feature]) -> Arc<ShapePlan> {
    let (script, direction) = (buffer.script(), buffer.direction());
    debug_assert!(direction != Direction::Invalid, "the direction has been guessed");
    let key = ShapePlanKey::new(&face.shaper, script, direction).features(features);
    // A poisoned lock only means that another thread stopped; the plans in it are whole.
    let mut plans = face.plans.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    if let Some(plan) = plans.iter().find(|plan| key.matches(plan)) {
        return Arc::clone(plan);
    }
    let plan = Arc::new(ShapePlan::new(&face.shaper, direction, script, None, features));
    plans.push(Arc::clone(&plan));
    plan
}
