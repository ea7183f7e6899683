//! Legends covered by what their own label paints after them.

use super::Role;
use super::piece::Piece;
use crate::finding::{Finding, Findings, Severity};
use crate::shape::Outline;
use crate::units::fixed;
use kurbo::Point;

/// Less of a legend than this under something else is a touch, which is told as such (common practice, no
/// source).
pub(crate) const TOUCHED: f64 = 0.02;

/// With so much of it gone, a legend is lost rather than damaged (common practice, no source).
const LOST: f64 = 0.5;

/// Tells of the legends of a label that later pieces cover, fill up or take away.
///
/// `corner` is the label's top left corner, in the frame of its pieces.
pub(super) fn tell(pieces: &[Piece], name: &str, corner: Point, findings: &mut Findings) {
    for (at, legend) in pieces.iter().enumerate().filter(|(_, piece)| piece.role == Role::Text) {
        let after = pieces.iter().skip(at + 1).filter(|piece| hides(piece, legend));
        let share = hidden(&legend.outline, after.map(|piece| &piece.outline));
        let Some(words) = legend.words.first().filter(|_| share >= TOUCHED) else { continue };
        let share_text = fixed(share * 100.0, 0);
        let message =
            format!("{share_text} % of `{}` is covered by what is painted after it", words.text);
        let mut finding = Finding::warning("covered-words", message).at(legend.place);
        if share >= LOST {
            finding.severity = Severity::Error;
        }
        let spot = legend.outline.bounds().center() - corner;
        let help =
            "parts are painted in their order: write it after what covers it, or move one of them";
        findings.push(finding.label(name).spot(spot.x, spot.y).help(help));
    }
}

/// Whether a piece that is painted after a legend takes some of it where they meet.
fn hides(piece: &Piece, legend: &Piece) -> bool {
    let same_ink = piece.paint == legend.paint && piece.role != Role::Fill;
    // What is clear is cut out of ink, and adds to what is clear already.
    let meets = piece.inks() || legend.inks();
    piece.place != legend.place && meets && !same_ink
}

/// Share of an outline that lies under others.
pub(crate) fn hidden<'o>(outline: &Outline, over: impl Iterator<Item = &'o Outline>) -> f64 {
    let near = over.filter(|over| over.bounds().overlaps(outline.bounds()));
    let Some(all) = near.cloned().reduce(|all, next| all.union(&next)) else { return 0.0 };
    outline.common(&all).area() / outline.area().max(f64::MIN_POSITIVE)
}

#[cfg(test)]
mod tests {
    use crate::finding::Severity;
    use crate::job;

    /// Severity and message of what is said of words that are covered.
    fn said(parts: &[&str]) -> Vec<(Severity, String)> {
        let parts = parts.iter().map(|part| format!("      - {part}\n")).collect::<String>();
        let job = format!("labels:\n  - name: lock\n    size: [30 mm, 12 mm]\n    parts:\n{parts}");
        let mut nothing = |name: &str| Err(crate::files::Error::Outside(name.into()));
        let outcome = job::lay("test.yaml", job.as_bytes(), &mut nothing);
        assert!(outcome.laid.is_some(), "{:#?}", outcome.findings.list());
        let found = outcome.findings.list().iter().filter(|one| one.code == "covered-words");
        found.map(|one| (one.severity, one.message.clone())).collect()
    }

    fn covered(severity: Severity, share: &str) -> [(Severity, String); 1] {
        [(severity, format!("{share} % of `I` is covered by what is painted after it"))]
    }

    const GROUND: &str = "box: {size: [30 mm, 12 mm], fill: '#24382e'}";
    const WORD: &str = "text: {text: I, font: wide, cap_height: 4 mm}";
    const CLEAR: &str = "text: {text: I, font: wide, cap_height: 4 mm, paint: clear}";

    #[test]
    fn the_share_that_is_covered_is_told() {
        // A stem 4 mm high: a stripe of 1 mm takes a quarter, one of 3 mm three (school arithmetic).
        let stripe = |high: f64| format!("box: {{size: [20 mm, {high} mm], fill: '#b0302a'}}");
        assert_eq!(said(&[WORD, &stripe(1.0)]), covered(Severity::Warning, "25"));
        assert_eq!(said(&[WORD, &stripe(3.0)]), covered(Severity::Error, "75"));
        assert_eq!(said(&[&stripe(3.0), WORD]), []);
        let beside = "box: {size: [4 mm, 3 mm], at: [8 mm, 0], fill: '#b0302a'}";
        assert_eq!(said(&[WORD, beside]), []);
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
