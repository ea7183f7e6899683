//! What "fit to page" does to a page: the ratios of papers and margins, worked out.

use crate::spec::sheet::{PAPERS, Paper};
use crate::units::fixed;

/// Margins that drivers fit pages into, mm: what printers leave at their edges.
const MARGINS_MM: std::ops::RangeInclusive<f64> = 2.0..=6.5;

/// A way to print a page that makes all of it smaller or larger.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Fitted {
    /// `an A4 page fitted to Letter paper (279.4 / 297 = 94.07 %)`.
    pub(super) words: String,
}

/// What fitting a page of this paper would come out at this ratio, within `slack`; `None` when nothing does.
pub(super) fn fitted(page: &Paper, ratio: f64, slack: f64) -> Option<Fitted> {
    onto_other_paper(page, ratio, slack).or_else(|| into_margins(page, ratio))
}

/// The page fitted to another paper: the smaller of the ratios of widths and heights.
fn onto_other_paper(page: &Paper, ratio: f64, slack: f64) -> Option<Fitted> {
    let (width, height) = (page.size.min_side(), page.size.max_side());
    let name = page.name.split_whitespace().next().unwrap_or_default();
    let off = |of: f64| (of - ratio).abs();
    let mut found = PAPERS
        .iter()
        .filter(|(other, ..)| *other != name)
        .map(|(other, across, down)| {
            let (by_width, by_height) = (across / width, down / height);
            let sides = if by_width < by_height { (across, width) } else { (down, height) };
            (other, sides, by_width.min(by_height))
        })
        .filter(|(.., of)| off(*of) <= slack)
        .collect::<Vec<_>>();
    found.sort_by(|a, b| off(a.2).total_cmp(&off(b.2)));
    let (other, (to, from), of) = found.first()?;
    let article = if name.starts_with('A') { "an" } else { "a" };
    let (to, from, percent) = (fixed(**to, 1), fixed(*from, 1), fixed(100.0 * of, 2));
    let words =
        format!("{article} {name} page fitted to {other} paper ({to} / {from} = {percent} %)");
    Some(Fitted { words })
}

/// The page shrunk into margins on its own paper: by width, the tighter way.
fn into_margins(page: &Paper, ratio: f64) -> Option<Fitted> {
    let width = page.size.min_side();
    let margin = width * (1.0 - ratio) / 2.0;
    MARGINS_MM.contains(&margin).then(|| Fitted {
        words: format!("a page fitted inside margins of {} mm", fixed(margin, 1)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn paper(name: &str) -> Paper {
        Paper::named(name).unwrap()
    }

    #[test]
    fn ratios_of_papers_are_named() {
        // ISO 216: A4 210 x 297; Letter 215.9 x 279.4: 279.4 / 297 = 0.94074, 210 / 215.9 = 0.97267.
        for (page, ratio, words) in [
            ("A4", 0.94, "an A4 page fitted to Letter paper (279.4 / 297 = 94.07 %)"),
            ("Letter", 0.973, "a Letter page fitted to A4 paper (210 / 215.9 = 97.27 %)"),
            ("A4", 0.705, "an A4 page fitted to A5 paper (148 / 210 = 70.48 %)"),
            ("A5", 1.414, "an A5 page fitted to A4 paper (297 / 210 = 141.43 %)"),
            // 210 x (1 - 0.96) / 2 = 4.2 mm.
            ("A4", 0.96, "a page fitted inside margins of 4.2 mm"),
        ] {
            assert_eq!(fitted(&paper(page), ratio, 0.002).unwrap().words, words);
        }
        assert_eq!(fitted(&paper("A4"), 0.91, 0.001), None);
        assert_eq!(fitted(&paper("A4"), 0.995, 0.001), None);
    }
}
