//! What is measured on a face's own outlines, because what a font says of itself can be wrong.

use super::Face;
use crate::shape::Outline;
use kurbo::{Line, ParamCurve as _, Point};

/// Measures of a face, in em unless said otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measures {
    /// Height of a flat capital: the outline of H.
    pub cap_height: f64,
    /// Height of a flat small letter: the outline of x. 0 when the face has no x.
    pub x_height: f64,
    /// The thinnest straight stroke of capitals and figures, as a share of the cap height.
    pub stem_capitals: f64,
    /// The thinnest straight stroke of all letters and figures, as a share of the cap height.
    pub stem_all: f64,
}

/// Cap height taken for a face with neither an H nor a stated cap height: common practice, no source.
const USUAL_CAP_HEIGHT: f64 = 0.7;

pub(super) fn measure(face: &Face, stated: Option<f64>) -> Measures {
    let height = |letter| face.glyph_of(letter).map_or(0.0, |id| -face.glyph(id).bounds.y0);
    let cap_height = match height('H') {
        measured if measured > 0.0 => measured,
        _ => stated.unwrap_or(USUAL_CAP_HEIGHT),
    };
    Measures { cap_height, x_height: height('x').max(0.0), stem_capitals: 0.0, stem_all: 0.0 }
}

/// Widths of the ink along a line through an outline.
fn spans(outline: &Outline, line: Line) -> Vec<f64> {
    let mut at: Vec<f64> = outline
        .path()
        .segments()
        .flat_map(|segment| segment.intersect_line(line).into_iter().map(|hit| hit.line_t))
        .collect();
    at.sort_by(f64::total_cmp);
    at.chunks_exact(2).map(|pair| line.eval(pair[0]).distance(line.eval(pair[1]))).collect()
}

#[cfg(test)]
mod tests {
    use super::super::Faces;
    use super::*;

    #[test]
    fn explore() {
        let faces = Faces::bundled();
        for name in [
            "label",
            "label-reversed",
            "wire",
            "condensed",
            "wide",
            "stencil",
            "engraved",
            "plate",
            "fallback",
        ] {
            let face = faces.face(faces.find(name).unwrap()).unwrap();
            let cap = face.measures().cap_height;
            print!("{name}: cap {cap:.4} x {:.4}\n", face.measures().x_height / cap);
            let mut best: Vec<(f64, char, &str)> = Vec::new();
            for letter in ('A'..='Z').chain('0'..='9').chain('a'..='z') {
                let glyph = face.glyph(face.glyph_of(letter).unwrap());
                let b = glyph.bounds;
                let mut all = vec![];
                let n = 40;
                let (mut h, mut v) = (f64::INFINITY, f64::INFINITY);
                for i in 1..n {
                    let t = i as f64 / n as f64;
                    let y = b.y0 + t * b.height();
                    for w in spans(&glyph.outline, Line::new((b.x0 - 1.0, y), (b.x1 + 1.0, y))) {
                        h = h.min(w);
                        all.push(w);
                    }
                    let x = b.x0 + t * b.width();
                    for w in spans(&glyph.outline, Line::new((x, b.y0 - 1.0), (x, b.y1 + 1.0))) {
                        v = v.min(w);
                    }
                }
                best.push((h / cap, letter, "h"));
                best.push((v / cap, letter, "v"));
            }
            for set in ["EFHILT", "ltiz", "AVWXYZKMN"] {
                let mut pick: Vec<_> = best.iter().filter(|b| set.contains(b.1)).collect();
                pick.sort_by(|a, b| a.0.total_cmp(&b.0));
                println!(
                    "  {set}: {}",
                    pick.iter()
                        .take(9)
                        .map(|b| format!("{}{} {:.3}", b.1, b.2, b.0))
                        .collect::<Vec<_>>()
                        .join("  ")
                );
            }
        }
    }
}
