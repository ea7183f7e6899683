//! Whether words can be read from where they are read.

use super::across::Stack;
use super::size::ROUNDING_MM;
use super::{Checked, Labelled};
use crate::design::Words;
use crate::finding::{Finding, Findings};
use crate::parallel::in_order;
use crate::spec::{Reading, Viewed};
use kurbo::{Affine, Rect};

pub(super) fn hard_to_read(job: Checked<'_>, findings: &mut Findings) {
    for (one, words) in job.words() {
        let finding = one.label.viewed.and_then(|viewed| too_low(words, viewed));
        findings.extend(finding.map(|finding| one.on_words(finding, words)));
    }
}

fn too_low(words: &Words, viewed: Viewed) -> Option<Finding> {
    let (cap, least, easy) = (words.cap_height_mm, viewed.least_cap_mm(), viewed.easy_cap_mm());
    if cap >= easy - ROUNDING_MM {
        return None;
    }
    let far = if viewed.distance_mm < 1000.0 {
        format!("{:.0} mm", viewed.distance_mm)
    } else {
        format!("{:.1} m", viewed.distance_mm / 1000.0)
    };
    let (least_by, easy_by) = match viewed.reading {
        Reading::Panel => ("16 arc minutes", "20 arc minutes"),
        Reading::Sign => ("1:300, a sign in good light", "20 arc minutes"),
        Reading::PoorLight => ("24 arc minutes, poor light", "24 arc minutes"),
    };
    Some(if cap < least - ROUNDING_MM {
        let message = format!(
            "cap height is {cap:.2} mm; reading from {far} needs {least:.2} mm ({least_by})"
        );
        let help = if easy - least > ROUNDING_MM {
            format!(
                "make cap_height {least:.2} mm at least; {easy:.2} mm reads with ease ({easy_by})"
            )
        } else {
            format!("make cap_height {least:.2} mm at least")
        };
        Finding::error("hard-to-read", message).measured(cap, least).help(help)
    } else {
        let message = format!(
            "cap height is {cap:.2} mm: enough from {far} ({least_by}: {least:.2} mm), not yet at ease"
        );
        let help = format!("{easy:.2} mm reads with ease ({easy_by})");
        Finding::note("hard-to-read", message).measured(cap, easy).help(help)
    })
}

/// How exactly curves are followed when strokes and gaps are measured, mm: a fiftieth of the thinnest stroke.
const FOLLOWED_MM: f64 = 0.002;

/// Width of a stroke as a share of the cap height that reads well: DOD-HDBK-791, 6-5.3.2, gives a sixth for
/// dark letters on a light ground and a seventh to an eighth for light ones. Half as much again either way still
/// reads (common practice, no source).
const STROKE_SHARES: (f64, f64) = (1.0 / 12.0, 1.0 / 4.0);

/// Share of a stroke that is gap enough between letters that are high enough to be read with ease: common
/// practice, no source. Faces meant for reading are set so; a whole stroke is asked of lower letters.
const EASY_GAP: f64 = 0.3;

/// Least gap between two lines of words as a share of the cap height (NUREG-0700, 11.4.1.5).
const LINE_GAP_SHARE: f64 = 0.5;

pub(super) fn tight_words(job: Checked<'_>, findings: &mut Findings) {
    let viewed = job.labelled().filter_map(|one| Some((one, one.label.viewed?)));
    let all: Vec<(Labelled<'_>, Viewed)> = viewed.collect();
    let found = in_order(&all, |(one, viewed)| {
        let stack = Stack::of(one.design);
        let lines = one.design.words.iter().enumerate();
        let found = lines.flat_map(|(at, words)| {
            let tight = tight_lines(words, &one.design.words, at);
            let set = MeasuredWords::of(&stack, words);
            let at_ease = words.cap_height_mm >= viewed.easy_cap_mm() - ROUNDING_MM;
            let of_set = set.map(|set| {
                let share = if at_ease { EASY_GAP } else { 1.0 };
                [set.stroke_off(words), set.letters_tight(words, share), set.words_tight(words)]
            });
            let found = tight.into_iter().chain(of_set.into_iter().flatten().flatten());
            found.map(|finding| one.on_words(finding, words)).collect::<Vec<_>>()
        });
        found.collect::<Vec<_>>()
    });
    findings.extend(found.into_iter().flatten());
}

/// Most lines of words on one design that are compared with each other: a panel has its own check of legends.
const MOST_LINES: usize = 200;

/// A line of words, and the nearest one under it, that stand too near.
fn tight_lines(words: &Words, all: &[Words], at: usize) -> Option<Finding> {
    if all.len() > MOST_LINES {
        return None;
    }
    let middle = words.area.center();
    let level = Affine::rotate_about(-words.turned_deg.to_radians(), middle);
    let alike = |next: &Words| (next.turned_deg - words.turned_deg).abs() < 0.05;
    let others = all.iter().enumerate().filter(|(other, next)| *other != at && alike(next));
    let gaps = others.filter_map(|(_, next)| {
        let area = Rect::from_center_size(level * next.area.center(), next.area.size());
        let beside = area.x0 < words.area.x1 && words.area.x0 < area.x1;
        let gap = area.y0 - words.area.y1;
        (beside && gap >= 0.0).then_some(gap)
    });
    let gap = gaps.min_by(f64::total_cmp)?;
    let needed = LINE_GAP_SHARE * words.cap_height_mm;
    if gap >= needed - ROUNDING_MM {
        return None;
    }
    let message =
        format!("lines are {gap:.2} mm apart; half a capital, {needed:.2} mm, reads well");
    let help = "make line_pitch 1.5 or more, or move the lower line down";
    Some(Finding::note("tight-words", message).measured(gap, needed).help(help))
}

/// How a line of words is set, measured on its drawn outlines, mm.
#[derive(Clone, Debug)]
struct MeasuredWords {
    stroke: f64,
    letter: f64,
    letter_gaps: Vec<f64>,
    word_gaps: Vec<f64>,
}

impl MeasuredWords {
    /// Measures what stands between base line and cap height; `None` where there are no letters to measure.
    fn of(stack: &Stack<'_>, words: &Words) -> Option<MeasuredWords> {
        let (mut strokes, mut spans, mut all) = (Vec::new(), Vec::new(), Vec::new());
        let mut has_ink = false;
        for line in stack.through(words, FOLLOWED_MM) {
            for run in line {
                has_ink |= run.top.is_some();
                if run.is_letter_of(words) {
                    spans.push((run.from, run.to));
                }
            }
            // White that ends within a stroke does not end the stroke.
            let runs = joined(std::mem::take(&mut spans));
            strokes.extend(runs.iter().map(|(from, to)| to - from));
            all.extend(runs);
        }
        if !has_ink {
            // White letters with no ink round them: nothing says where they end.
            return None;
        }
        let strokes = sorted(strokes);
        // The shorter runs cross an upright squarely; the longer ones are curves, slopes and bars.
        let stroke = *strokes.get(strokes.len() / 10)?;
        let letters = joined(all);
        let next = letters.iter().skip(1);
        let mut gaps = sorted(letters.iter().zip(next).map(|(a, b)| b.0 - a.1));
        let spaces = words.text.split_whitespace().count().saturating_sub(1);
        let word_gaps = gaps.split_off(gaps.len().checked_sub(spaces)?);
        let widths = sorted(letters.iter().map(|(from, to)| to - from));
        let letter = *widths.get(widths.len() / 2)?;
        Some(MeasuredWords { stroke, letter, letter_gaps: gaps, word_gaps })
    }

    fn stroke_off(&self, words: &Words) -> Option<Finding> {
        let share = self.stroke / words.cap_height_mm;
        let (thin, thick) = STROKE_SHARES;
        let (needed, help) = if share < thin {
            (thin, "a bolder face reads better")
        } else if share > thick {
            (thick, "a lighter face reads better")
        } else {
            return None;
        };
        let message = format!(
            "strokes are {:.2} mm, 1/{:.1} of the cap height; {} reads well",
            self.stroke,
            1.0 / share,
            if words.reversed { "1/7 to 1/8 of clear letters" } else { "1/6" }
        );
        Some(Finding::note("tight-words", message).measured(share, needed).help(help))
    }

    /// NUREG-0700, 11.4.1.5: letters stand at least a stroke apart.
    fn letters_tight(&self, words: &Words, share: f64) -> Option<Finding> {
        let gap = *self.letter_gaps.get(self.letter_gaps.len() / 2)?;
        let missing = share * self.stroke - gap;
        if missing <= 0.02 * words.cap_height_mm {
            return None;
        }
        let message = format!(
            "letters stand {gap:.2} mm apart, strokes are {:.2} mm; a stroke between them reads well",
            self.stroke
        );
        let help = format!("add {:.2} to tracking", (self.stroke - gap) / words.cap_height_mm);
        Some(Finding::note("tight-words", message).measured(gap, self.stroke).help(help))
    }

    /// NUREG-0700, 11.4.1.5: words stand at least the width of a letter apart.
    fn words_tight(&self, words: &Words) -> Option<Finding> {
        let gap = self.word_gaps.first().copied()?;
        // An I or a 1 between wide letters makes the middle width no rule to the hair.
        if gap >= 0.5 * self.letter {
            return None;
        }
        let message = format!(
            "words stand {gap:.2} mm apart, letters are {:.2} mm wide; a letter's width reads well",
            self.letter
        );
        let help =
            format!("add {:.2} to tracking", (self.letter - gap) / words.cap_height_mm / 2.0);
        Some(Finding::note("tight-words", message).measured(gap, self.letter).help(help))
    }
}

fn sorted(lengths: impl IntoIterator<Item = f64>) -> Vec<f64> {
    let mut sorted: Vec<f64> = lengths.into_iter().collect();
    sorted.sort_by(f64::total_cmp);
    sorted
}

/// Stretches that overlap, as one each, in order.
fn joined(mut spans: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut all: Vec<(f64, f64)> = Vec::new();
    for (from, to) in spans {
        match all.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => all.push((from, to)),
        }
    }
    all
}
