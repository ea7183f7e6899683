//! Legends covered by what their own label paints after them.

use super::Role;
use super::piece::Piece;
use crate::finding::{Finding, Findings, Severity};
use crate::shape::Outline;
use crate::spec::{Label, Paint, White};
use crate::units::fixed;
use kurbo::{BezPath, Point};

/// Less of a legend than this under something else is a touch, which is told as such (common practice, no
/// source).
pub(crate) const TOUCHED: f64 = 0.02;

/// With so much of it gone, nobody can have meant it (common practice, no source).
const LOST: f64 = 0.9;

/// Tells of the legends of a label that later pieces cover, fill up or take away.
///
/// `corner` is the label's top left corner, in the frame of its pieces.
pub(super) fn tell(label: &Label, pieces: &[Piece], corner: Point, findings: &mut Findings) {
    let has_white = label.white != White::None;
    for (at, legend) in pieces.iter().enumerate().filter(|(_, piece)| piece.role == Role::Text) {
        let Some(words) = legend.words.first() else { continue };
        let after = pieces.iter().skip(at + 1).filter(|piece| hides(piece, legend, has_white));
        let share = hidden(&legend.outline, after.map(|piece| &piece.outline));
        if share < TOUCHED {
            continue;
        }
        let share_text = fixed(share * 100.0, 0);
        let message =
            format!("{share_text} % of `{}` is lost to what is painted after it", words.text);
        let mut finding = Finding::warning("covered-words", message).at(legend.place);
        if share >= LOST {
            finding.severity = Severity::Error;
        }
        let spot = legend.outline.bounds().center() - corner;
        let help =
            "parts are painted in their order: write it after what covers it, or move one of them";
        findings.push(finding.label(&label.name).spot(spot.x, spot.y).help(help));
    }
}

/// Whether a piece that is painted after a legend takes some of it where they meet.
fn hides(piece: &Piece, legend: &Piece, has_white: bool) -> bool {
    let same_ink = piece.paint == legend.paint && piece.role != Role::Fill;
    // Once more the same words: a shadow, or an outline.
    let said =
        |piece: &Piece| piece.words.iter().map(|words| words.text.clone()).collect::<Vec<_>>();
    let same_words = piece.role == Role::Text && said(piece) == said(legend);
    // What is clear is cut out of ink, and adds to what is clear already.
    let inks = |piece: &Piece| piece.inks() || has_white && piece.paint != Paint::Clear;
    let meets = inks(piece) || inks(legend);
    piece.part != legend.part && meets && !same_ink && !same_words
}

/// Share of an outline that lies under others.
pub(crate) fn hidden<'o>(outline: &Outline, over: impl Iterator<Item = &'o Outline>) -> f64 {
    let bounds = outline.bounds();
    let mut near = BezPath::new();
    over.filter(|over| over.bounds().overlaps(bounds))
        .for_each(|over| near.extend(over.elements()));
    if near.elements().is_empty() {
        return 0.0;
    }
    // All in one sweep: one after the other, hundreds of them would take minutes.
    outline.common(&Outline::of(&near)).area() / outline.area().max(f64::MIN_POSITIVE)
}

#[cfg(test)]
mod tests {
    use crate::finding::Severity;
    use crate::job;

    /// Severity and message of what is said of words that are covered.
    fn told(job: &str) -> Vec<(Severity, String)> {
        let mut nothing = |name: &str| Err(crate::files::Error::Outside(name.into()));
        let outcome = job::lay("test.yaml", job.as_bytes(), &mut nothing);
        assert!(outcome.laid.is_some(), "{:#?}", outcome.findings.list());
        let found = outcome.findings.list().iter().filter(|one| one.code == "covered-words");
        found.map(|one| (one.severity, one.message.clone())).collect()
    }

    fn said(parts: &[&str]) -> Vec<(Severity, String)> {
        let parts = parts.iter().map(|part| format!("      - {part}\n")).collect::<String>();
        told(&format!("labels:\n  - name: lock\n    size: [30 mm, 12 mm]\n    parts:\n{parts}"))
    }

    fn covered(severity: Severity, share: &str) -> [(Severity, String); 1] {
        [(severity, format!("{share} % of `I` is lost to what is painted after it"))]
    }

    const GROUND: &str = "box: {size: [30 mm, 12 mm], fill: '#24382e'}";
    const WORD: &str = "text: {text: I, font: wide, cap_height: 4 mm}";
    const CLEAR: &str = "text: {text: I, font: wide, cap_height: 4 mm, paint: clear}";

    #[test]
    fn the_share_that_is_covered_is_told() {
        // A stem 4 mm high: a stripe of 1 mm takes a quarter, one of 3.8 mm nearly all (school arithmetic).
        let stripe = |high: f64| format!("box: {{size: [20 mm, {high} mm], fill: '#b0302a'}}");
        assert_eq!(said(&[WORD, &stripe(1.0)]), covered(Severity::Warning, "25"));
        assert_eq!(said(&[WORD, &stripe(3.8)]), covered(Severity::Error, "95"));
        assert_eq!(said(&[&stripe(3.0), WORD]), []);
        let beside = "box: {size: [4 mm, 3 mm], at: [8 mm, 0], fill: '#b0302a'}";
        assert_eq!(said(&[WORD, beside]), []);
    }

    #[test]
    fn the_same_words_once_more_are_a_shadow() {
        let shadow = "text: {text: I, font: wide, cap_height: 4 mm, paint: '#b0302a'}";
        assert_eq!(said(&[shadow, WORD]), []);
    }

    #[test]
    fn printed_white_is_lost_like_ink() {
        let white = "text: {text: I, font: wide, cap_height: 4 mm, paint: white}";
        let window = "box: {size: [20 mm, 1 mm], fill: clear}";
        let job = format!(
            "printer: {{class: white-ink}}\nlabels:\n  - name: lock\n    size: [30 mm, 12 mm]\n    white: under\n    parts: [{{{GROUND}}}, {{{white}}}, {{{window}}}]\n"
        );
        assert_eq!(told(&job), covered(Severity::Warning, "25"));
    }

    #[test]
    fn a_pair_is_told_once_and_hundreds_of_dots_in_no_time() {
        let dot = |at: u32| {
            format!("{{disc: {{diameter: 0.2 mm, at: [{} mm, {} mm]}}}}", at % 40, at / 40)
        };
        let dots: Vec<String> = (0..400).map(dot).collect();
        let job = format!(
            "labels:\n  - name: lock\n    handed: pair\n    allow: [covered-words]\n    size: [90 mm, 60 mm]\n    parts: [{{text: {{text: I, font: wide, cap_height: 4 mm}}}}, {}, {{box: {{size: [20 mm, 1 mm], fill: '#b0302a'}}}}]\n",
            dots.join(", ")
        );
        assert_eq!(told(&job).len(), 0, "allowed");
        assert_eq!(told(&job.replace("    allow: [covered-words]\n", "")).len(), 1);
    }

    #[test]
    fn clear_letters_are_filled_up_and_inked_ones_taken_away() {
        assert_eq!(said(&[GROUND, CLEAR]), []);
        assert_eq!(said(&[GROUND, CLEAR, GROUND]), covered(Severity::Error, "100"));
        let window = "box: {size: [20 mm, 1 mm], fill: clear}";
        assert_eq!(said(&[WORD, window]), covered(Severity::Warning, "25"));
        assert_eq!(said(&[GROUND, CLEAR, window]), []);
    }
}
