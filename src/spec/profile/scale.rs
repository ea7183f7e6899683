//! Whether what a ruler showed can be a printer's doing.

use super::page_scaling::fitted;
use super::{BAR_MM, Measured, ProfileKeys, SQUARE_MM, warn};
use crate::finding::Place;
use crate::spec::reader::Reader;
use crate::spec::sheet::Paper;
use crate::units::fixed;
use crate::yaml::OneOrList;
use std::ops::RangeInclusive;

/// Scales that are corrected: a printer's own error is a few per cent at most (common practice, no source).
const CORRECTED: RangeInclusive<f64> = 0.97..=1.03;

/// How far a length read off a ruler may be from the truth, mm.
///
/// Less would call a true ratio of papers unknown; more would take any ratio for one.
const RULER_MM: f64 = 0.1;

/// How far bars, square and diagonals may contradict each other, mm of the square.
const AGREE_MM: f64 = 0.5;

/// How far the square's diagonals may differ, mm: 2.8 mm are a lean of 4 mm in 100. No printer leans so far.
const LEAN_MM: f64 = 2.8;

/// How far a page may lie off its place, mm: a page further off was fed crooked, which differs from sheet to
/// sheet, and is not corrected.
const SHIFT_MM: f64 = 5.0;

/// What was read off, and where it was typed.
pub(super) struct Answers<'a> {
    pub(super) draft: &'a ProfileKeys,
    pub(super) measured: Measured,
    pub(super) paper: &'a Paper,
}

impl Answers<'_> {
    /// Tells all that cannot be; whether the lengths can be used.
    pub(super) fn check(&self, reader: &mut Reader<'_, '_>) -> bool {
        let Measured { bars, square, diagonals, middle } = self.measured;
        let bars =
            bars.is_none_or(|bars| self.scale(&self.draft.bars, bars, ("bar", BAR_MM), reader));
        let square = square.is_none_or(|square| {
            self.scale(&self.draft.square, square, ("square", SQUARE_MM), reader)
        });
        let sound = bars && square;
        // One slip is told once: what follows from it is not.
        let agree = sound && self.bars_and_square_agree(reader);
        let diagonals = !agree || diagonals.is_none_or(|both| self.diagonals(both, reader));
        let middle = middle.is_none_or(|middle| self.shift(middle, reader));
        agree && diagonals && middle
    }

    /// Whether lengths across and down of something this long can be corrected.
    fn scale(
        &self,
        typed: &Option<OneOrList>,
        (across, down): (f64, f64),
        (what, of): (&str, f64),
        reader: &mut Reader<'_, '_>,
    ) -> bool {
        let place = place(typed);
        let (x, y) = (across / of, down / of);
        // The slack keeps 97.0 of 100 mm inside, whatever division makes of it.
        let fits =
            |ratio: &f64| (CORRECTED.start() - 1e-9..=CORRECTED.end() + 1e-9).contains(ratio);
        let same = (x - y).abs() <= 2.0 * RULER_MM / of;
        let mean = f64::midpoint(x, y);
        let cause = if same { fitted(self.paper, mean, RULER_MM / of) } else { None };
        let percent = |ratio: f64| fixed(100.0 * ratio, 1);
        let came = format!(
            "the {what} of {of} mm came out {} mm across and {} mm down, {} and {} %",
            fixed(across, 2),
            fixed(down, 2),
            percent(x),
            percent(y)
        );
        if [x, y].iter().all(fits) {
            if let Some(cause) = cause.filter(|_| mean < 1.0 - 2.0 * RULER_MM / of) {
                let message = format!("{came}: so does {}", cause.words);
                let help = "print it again at 100 % with no fitting and measure once more; keep it \
                            if it stays the same";
                warn(reader, place, message, help.to_owned());
            }
            return true;
        }
        let (message, help) = if let Some(unit) = other_unit(&[across, down], of) {
            let help = format!("write the unit, for example [{} {unit}, …]", fixed(across, 2));
            (format!("{came}; that looks like {unit}, not mm"), help)
        } else if let Some(cause) = cause {
            let help = format!(
                "print it again on {} at 100 % (actual size, no fitting), then measure",
                self.paper.name
            );
            (format!("{came}: that is {}, not the printer", cause.words), help)
        } else {
            let help = "measure again; then print again at 100 % (actual size, no fitting): only 97 \
                        to 103 % is a printer's own error and is corrected";
            (format!("{came}: no printer errs so far"), help.to_owned())
        };
        reader.wrong("scale-refused", place, message, help);
        false
    }

    fn bars_and_square_agree(&self, reader: &mut Reader<'_, '_>) -> bool {
        let (Some(bars), Some(square)) = (self.measured.bars, self.measured.square) else {
            return true;
        };
        let pairs = [("across", bars.0, square.0), ("down", bars.1, square.1)];
        let mut agree = true;
        for (way, bar, side) in pairs {
            let expected = bar / BAR_MM * SQUARE_MM;
            if (expected - side).abs() > AGREE_MM {
                let message = format!(
                    "the bar {way} gives {} %, the square {} %",
                    fixed(100.0 * bar / BAR_MM, 1),
                    fixed(100.0 * side / SQUARE_MM, 1)
                );
                let help = format!(
                    "measure both again, outer edge to outer edge; a bar of {} mm goes with a square of {} mm",
                    fixed(bar, 2),
                    fixed(expected, 2)
                );
                reader.wrong("scale-refused", place(&self.draft.square), message, help);
                agree = false;
            }
        }
        agree
    }

    /// Diagonals of a figure with these sides: their squares add up to twice those of the sides
    /// (parallelogram law).
    fn diagonals(&self, (one, two): (f64, f64), reader: &mut Reader<'_, '_>) -> bool {
        let scale = self.measured.scale().unwrap_or((1.0, 1.0));
        let sides = libm::hypot(scale.0 * SQUARE_MM, scale.1 * SQUARE_MM);
        let mean = f64::midpoint(one * one, two * two).sqrt();
        let place = place(&self.draft.diagonals);
        if (mean - sides).abs() > AGREE_MM {
            let message = format!(
                "diagonals of {} and {} mm are not those of this square: they should be near {} mm",
                fixed(one, 2),
                fixed(two, 2),
                fixed(sides, 2)
            );
            let help = "measure both again, from outer corner to outer corner";
            reader.wrong("scale-refused", place, message, help);
            return false;
        }
        if (one - two).abs() > LEAN_MM {
            let message = format!(
                "diagonals that differ by {} mm: no printer leans so far",
                fixed((one - two).abs(), 2)
            );
            let help =
                "measure both again; then print again, the paper straight against its guides";
            reader.wrong("scale-refused", place, message, help);
            return false;
        }
        true
    }

    fn shift(&self, (left, top): (f64, f64), reader: &mut Reader<'_, '_>) -> bool {
        let (x, y) = (self.paper.size.width / 2.0, self.paper.size.height / 2.0);
        if (left - x).abs() <= SHIFT_MM && (top - y).abs() <= SHIFT_MM {
            return true;
        }
        let message = format!(
            "the middle at {} mm from the left and {} mm from the top is more than {SHIFT_MM} mm off: \
             on {} it belongs at {} and {} mm",
            fixed(left, 2),
            fixed(top, 2),
            self.paper.name,
            fixed(x, 2),
            fixed(y, 2)
        );
        let help = "check the paper's name and its guides in the tray, print again, and measure from the \
                    paper's edges";
        reader.wrong("scale-refused", place(&self.draft.middle), message, help);
        false
    }
}

/// A unit that makes these lengths right, when millimetres do not.
fn other_unit(lengths: &[f64], of: f64) -> Option<&'static str> {
    [("in", 25.4), ("cm", 10.0)].into_iter().find_map(|(unit, mm)| {
        let fits = |length: &f64| CORRECTED.contains(&(length * mm / of));
        lengths.iter().all(fits).then_some(unit)
    })
}

fn place(list: &Option<OneOrList>) -> Place {
    let items = list.as_ref().map(|list| list.items.as_slice()).unwrap_or_default();
    let start = items.first().map(|item| item.place).unwrap_or_default();
    Place { end: items.last().map_or(start.end, |item| item.place.end), ..start }
}
