//! Thin places against a raster method: an exact distance transform at 2,400 dpi, which shares nothing with
//! the discs and offsets they are found by.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a shape that is not as expected fails the test"
)]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "pixels of small pictures"
)]

mod raster;
mod shapes;

use decalwright::{Outline, ThinPlace};
use kurbo::{Affine, BezPath};
use raster::{PIXEL_MM, Picture};
use shapes::Dice;
use std::path::Path;

/// Found widths agree with the raster's within this, mm.
const WIDTH_MM: f64 = 0.02;

/// Thin pieces of more than this must not be missed, mm².
const MISSED_MM2: f64 = 0.03;

/// Compares what is found with what the raster shows; what disagrees, in words.
fn disagreements(name: &str, outline: &Outline, limit: f64) -> Vec<String> {
    let mut wrong = Vec::new();
    let ink = Picture::of(outline, 1.5 * limit);
    for (side, picture, found) in [
        ("ink", &ink, outline.thin_places(limit)),
        ("clear", &ink.inverted(), outline.thin_gaps(limit)),
    ] {
        let judged = picture.judged(limit);
        for place in &found {
            if let Some(problem) = false_alarm(&judged, place, limit) {
                wrong.push(format!("{name}, {side} of {limit:.3}: {problem}: {place:.3?}"));
            }
        }
        for piece in judged.thin_pieces(MISSED_MM2) {
            let near = |place: &ThinPlace| {
                let reach = place.bounds.inflate(3.0 * PIXEL_MM, 3.0 * PIXEL_MM);
                piece.pixels.iter().any(|pixel| reach.contains(judged.point(*pixel)))
            };
            if !found.iter().any(near) {
                let at = judged.point(piece.pixels[piece.pixels.len() / 2]);
                wrong.push(format!(
                    "{name}, {side} of {limit:.3}: missed {:.3} mm² at {at:.3?}: {found:.3?}",
                    piece.area_mm2
                ));
            }
        }
    }
    wrong
}

fn false_alarm(judged: &raster::Judged<'_>, place: &ThinPlace, limit: f64) -> Option<String> {
    if !place.sides.iter().all(|side| judged.shows_edge(*side)) || place.width_mm < 3.0 * PIXEL_MM {
        // Too fine for pixels to tell.
        return None;
    }
    let Some(width) = judged.width_at(place.at, place.width_mm) else {
        return Some("no such place in the raster".to_owned());
    };
    if (width - place.width_mm).abs() > WIDTH_MM {
        return Some(format!("the raster is {width:.3} mm wide"));
    }
    (width > limit + WIDTH_MM).then(|| format!("the raster is {width:.3} mm wide, not thin"))
}

#[test]
fn two_hundred_shapes_agree_with_a_distance_transform() {
    let mut wrong = Vec::new();
    let mut places = 0;
    for seed in 0..200 {
        let mut dice = Dice::new(seed);
        let limit = dice.between(0.1, 0.21);
        let (name, outline) = shapes::shape(&mut dice, limit);
        places += outline.thin_places(limit).len() + outline.thin_gaps(limit).len();
        wrong.extend(disagreements(&format!("{seed} {name}"), &outline, limit));
    }
    assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
    // The shapes are made so that two in three have something thin.
    assert!(places > 150, "{places}");
}

/// The bundled faces, and their thinnest strokes as shares of the cap height: `fonts-free/faces.yaml`.
const FACES: [(&str, f64); 9] = [
    ("atkinson-hyperlegible-next/AtkinsonHyperlegibleNext-Medium.ttf", 0.133),
    ("atkinson-hyperlegible-next/AtkinsonHyperlegibleNext-Bold.ttf", 0.165),
    ("atkinson-hyperlegible-mono/AtkinsonHyperlegibleMono-SemiBold.ttf", 0.145),
    ("asap-condensed/AsapCondensed-Medium.ttf", 0.120),
    ("krona-one/KronaOne-Regular.ttf", 0.165),
    ("saira-stencil-one/SairaStencilOne-Regular.ttf", 0.205),
    ("routed-gothic/RoutedGothic-Regular.ttf", 0.130),
    ("roboto-slab/RobotoSlab-Bold.otf", 0.155),
    ("clear-sans/ClearSans-Medium.ttf", 0.135),
];

/// A letter's path as ttf-parser tells it, in the font's own units, y up.
struct Pen(BezPath);

impl ttf_parser::OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.move_to((f64::from(x), f64::from(y)));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.line_to((f64::from(x), f64::from(y)));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let at = |x, y| (f64::from(x), f64::from(y));
        self.0.quad_to(at(x1, y1), at(x, y));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let at = |x, y| (f64::from(x), f64::from(y));
        self.0.curve_to(at(x1, y1), at(x2, y2), at(x, y));
    }

    fn close(&mut self) {
        self.0.close_path();
    }
}

/// A letter in the font's own units, y down; `None` when the face has none.
fn letter_of(face: &ttf_parser::Face<'_>, letter: char) -> Option<Outline> {
    let mut pen = Pen(BezPath::new());
    face.outline_glyph(face.glyph_index(letter)?, &mut pen)?;
    Some(Outline::of(&(Affine::FLIP_Y * pen.0)))
}

#[test]
fn letters_of_all_bundled_faces_agree_with_a_distance_transform() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-free");
    let mut wrong = Vec::new();
    for ((file, stem), letters) in
        FACES.into_iter().zip(["AEMrg8", "NRSak4", "MWet&a"].into_iter().cycle())
    {
        let bytes = std::fs::read(folder.join(file)).unwrap();
        let face = ttf_parser::Face::parse(&bytes, 0).unwrap();
        let cap = letter_of(&face, 'H').unwrap().bounds().height();
        // A height at which strokes are near the limit of 0.15 mm, and gaps too.
        let height = 0.15 / stem * 0.97;
        for letter in letters.chars() {
            let Some(outline) = letter_of(&face, letter) else { continue };
            let outline = outline.placed(Affine::scale(height / cap));
            wrong.extend(disagreements(&format!("{file} {letter}"), &outline, 0.15));
        }
    }
    assert!(wrong.is_empty(), "{} wrong\n{}", wrong.len(), wrong.join("\n"));
}
