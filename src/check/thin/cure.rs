//! The smallest change that mends a thin place, computed.

use super::owner::{Owner, What};
use super::{Kind, thin};
use crate::finding::Findings;
use crate::font::Faces;
use crate::shape::ThinPlace;
use crate::spec::{Text, TextSize};
use crate::text;

/// Cap heights are offered in steps of this, mm, and tracking in hundredths.
const CAP_STEP_MM: f64 = 0.05;
const TRACKING_STEP: f64 = 0.01;

/// More tracking than this pulls words apart.
const MOST_TRACKING: f64 = 0.5;

/// A text so many times as tall is another text.
const MOST_TIMES: f64 = 2.0;

/// Bundled faces that are offered instead of another, by role; the fallbacks are none to choose.
const OFFERED: [&str; 6] = ["label", "label-reversed", "wire", "condensed", "engraved", "plate"];

pub(super) fn cure(faces: &Faces, place: &ThinPlace, owner: &Owner<'_>, needed_mm: f64) -> String {
    let missing = needed_mm - place.width_mm;
    let Some(words) = owner.words else {
        return match owner.what {
            What::Line(_) => format!("make it at least {needed_mm:.2} mm wide"),
            What::Gap(_) => format!("move them {missing:.2} mm further apart, or close it"),
            What::Stroke | What::Opening | What::BetweenLetters | What::Area(_) => {
                format!("make it {missing:.2} mm wider, or leave it out")
            }
        };
    };
    // All of a letter grows with its cap height.
    let cap = words.cap_height_mm * needed_mm / place.width_mm;
    let cap = (cap / CAP_STEP_MM - 1e-6).ceil() * CAP_STEP_MM;
    let taller = format!("cap_height at least {cap:.2} mm");
    let Some(text) = owner.text else { return format!("make {taller}") };
    let is_between = owner.what == What::BetweenLetters;
    if is_between && text.arc.is_some() {
        // How near letters stand on an arc depends on its radius.
        return "add tracking, or make the radius of the arc larger".to_owned();
    }
    let text = Text { size: TextSize::CapHeight(words.cap_height_mm), ..text.clone() };
    if is_between {
        let taller = Some(taller).filter(|_| cap <= MOST_TIMES * words.cap_height_mm);
        return match (tracking(faces, &text, needed_mm), taller) {
            (None, Some(taller)) => format!("make {taller}"),
            // Tracking that is enough already mends nothing: something else stands between.
            (Some(tracking), taller) if tracking > text.tracking => {
                let or = taller.map_or_else(String::new, |taller| format!(", or {taller}"));
                format!("make tracking at least {:.2}{or}", tracking + 0.0)
            }
            (Some(_) | None, _) => "move the letters apart".to_owned(),
        };
    }
    // In clear letters strokes are gaps in the ink, and what is between them is ink.
    let between = if words.reversed == (owner.kind == Kind::Ink) { Kind::Clear } else { Kind::Ink };
    match better_face(faces, &text, between, needed_mm) {
        Some(face) => format!("make {taller}, or set it in {face}"),
        None => format!("make {taller}"),
    }
}

/// The least tracking that leaves `needed_mm` between all letters.
fn tracking(faces: &Faces, text: &Text, needed_mm: f64) -> Option<f64> {
    let TextSize::CapHeight(cap) = text.size else { return None };
    let mut text = Text { spread: None, width: None, arc: None, ..text.clone() };
    // Letters that slant away from each other need a little more than the gap lacks.
    for _ in 0..4 {
        let set = text::set(faces, &text, &mut Findings::default());
        let gaps = set.outline.thin_gaps(needed_mm);
        let Some(least) = gaps.iter().find(|gap| gap.between_parts) else {
            return Some(text.tracking);
        };
        let more = (needed_mm - least.width_mm) / cap;
        text.tracking = ((text.tracking + more) / TRACKING_STEP - 1e-6).ceil() * TRACKING_STEP;
        if text.tracking > MOST_TRACKING {
            return None;
        }
    }
    None
}

/// Another bundled face in which the words have nothing too thin at this cap height.
fn better_face(faces: &Faces, text: &Text, kind: Kind, needed_mm: f64) -> Option<&'static str> {
    let used = faces.find(&text.font);
    OFFERED.into_iter().filter(|role| faces.find(role) != used).find(|role| {
        let mut findings = Findings::default();
        let text = Text { font: (*role).to_owned(), ..text.clone() };
        let set = text::set(faces, &text, &mut findings);
        let places = thin(&set.outline, kind, needed_mm);
        places.is_empty() && !findings.any_error()
    })
}
