//! What is measured on a face's own outlines, because what a font says of itself can be wrong.

use super::Face;
use crate::shape::Outline;
use kurbo::{Line, Rect};

/// Measures of a face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Measures {
    /// Height of a flat capital, in em: the outline of H.
    pub cap_height: f64,
    /// Height of a flat small letter, in em: the outline of x. 0 when the face has no x.
    pub x_height: f64,
    /// The thinnest stroke of capitals, as a share of the cap height: the thinner of H's stems, a quarter
    /// down, and its bar, in the middle. 0 when the face has no H.
    pub stem_capitals: f64,
    /// The thinnest stroke of capitals and small letters, as a share of the cap height: the bar of t where
    /// it is thinner than H. Arches can be thinner by up to a fifth where they leave their stem.
    pub stem_all: f64,
}

/// Cap height, in em, taken for a face with neither an H nor a stated one: common practice, no source.
const USUAL_CAP_HEIGHT: f64 = 0.7;

/// Measures a face; `stated` is the cap height the font itself claims, in em, for a face without an H.
pub(super) fn measure(face: &Face, stated: Option<f64>) -> Measures {
    let height = |letter| outline(face, letter).map_or(0.0, |outline| outline.bounds().height());
    let cap_height = match height('H') {
        measured if measured > 0.0 => measured,
        _ => stated.unwrap_or(USUAL_CAP_HEIGHT),
    };
    let share = |stroke: f64| stroke / cap_height;
    let stem_capitals = outline(face, 'H').and_then(stem_of_h).map_or(0.0, share);
    let bar = outline(face, 't').and_then(bar_of_t).map_or(stem_capitals, share);
    let stem_all = stem_capitals.min(bar);
    Measures { cap_height, x_height: height('x'), stem_capitals, stem_all }
}

fn outline(face: &Face, letter: char) -> Option<&Outline> {
    face.glyph_of(letter).map(|glyph| &face.glyph(glyph).outline)
}

/// The thinner of the stems, a quarter down (the bar is near the middle), and the bar.
fn stem_of_h(outline: &Outline) -> Option<f64> {
    let stems = spans(outline, level(outline.bounds(), 0.25));
    let bar = spans(outline, upright(outline.bounds(), 0.5));
    stems.into_iter().chain(bar).reduce(f64::min)
}

/// The bar to the right of the stem; under it the foot may curl up.
fn bar_of_t(outline: &Outline) -> Option<f64> {
    spans(outline, upright(outline.bounds(), 0.85)).first().copied()
}

/// A level line across a box, this share of its height down.
fn level(bounds: Rect, share: f64) -> Line {
    let y = bounds.y0 + share * bounds.height();
    Line::new((bounds.x0 - 1.0, y), (bounds.x1 + 1.0, y))
}

/// An upright line through a box, this share of its width along, from the top.
fn upright(bounds: Rect, share: f64) -> Line {
    let x = bounds.x0 + share * bounds.width();
    Line::new((x, bounds.y0 - 1.0), (x, bounds.y1 + 1.0))
}

/// Lengths of ink along a line through an outline, from the line's start.
///
/// Exact where the line crosses edges within their length; a line through a corner may count it twice.
fn spans(outline: &Outline, line: Line) -> Vec<f64> {
    let hits = outline.segments().flat_map(|segment| segment.intersect_line(line));
    let length = line.p0.distance(line.p1);
    let mut at: Vec<f64> = hits.map(|hit| hit.line_t * length).collect();
    at.sort_by(f64::total_cmp);
    let pairs = at.chunks_exact(2);
    pairs.filter_map(|pair| Some(pair.last()? - pair.first()?)).collect()
}

#[cfg(test)]
mod tests {
    use super::super::Faces;

    /// The manifest of the bundled faces, which was made with other tools; it states an accuracy of 0.003.
    const MANIFEST: &str = include_str!("../../fonts-free/faces.yaml");

    #[test]
    fn measures_agree_with_the_manifest() {
        let manifest: serde_yaml::Value = serde_yaml::from_str(MANIFEST).expect("manifest");
        let faces = Faces::bundled();
        for row in manifest["faces"].as_sequence().expect("faces") {
            let number = |key: &str| row[key].as_f64();
            let role = row["role"].as_str().expect("role");
            let Some(cap) = number("cap_em") else { continue };
            let face = faces.face(faces.find(role).expect("role")).expect("face");
            let found = face.measures();
            let near = |a: f64, b: f64| (a - b).abs() < 0.003;
            assert!(near(found.cap_height, cap), "{role} cap {}", found.cap_height);
            let x_height = number("x_height").expect("x_height");
            assert!(near(found.x_height / cap, x_height), "{role} x {}", found.x_height);
            let stem = number("stem_min_caps").expect("stem_min_caps");
            assert!(near(found.stem_capitals, stem), "{role} stem {}", found.stem_capitals);
            // The manifest took all letters and figures; one bar must not claim more than they have,
            // nor less than the thinnest spot anywhere.
            let all = number("stem_min_all").expect("stem_min_all");
            let thin = number("thin_spot").expect("thin_spot");
            assert!(found.stem_all < all + 0.003, "{role} all {}", found.stem_all);
            assert!(found.stem_all > thin, "{role} all {}", found.stem_all);
        }
    }
}
