//! Scales that are hard to read: odd steps, too many marks between numbers.

use super::Checked;
use crate::finding::{Finding, Findings};
use crate::spec::scale::Scale;
use crate::spec::{Element, Part};
use crate::units::fixed;

/// The most marks between two numbers (MIL-HDBK-759B).
const MOST_BETWEEN: usize = 9;

pub(super) fn odd_step(job: Checked<'_>, findings: &mut Findings) {
    each(job, findings, |scale| {
        let step = scale.step.filter(|step| *step > 0.0 && !is_even_step(*step))?;
        let near = nearest_step(step);
        let (is, better) = (fixed(step, 6), fixed(near, 6));
        let message =
            format!("numbers go up in steps of {is}; people count in 1, 2 or 5 and their tens");
        let finding = Finding::warning("odd-step", message).measured(step, near);
        Some(finding.help(format!("try `step: {better}`")))
    });
}

pub(super) fn crowded_marks(job: Checked<'_>, findings: &mut Findings) {
    each(job, findings, |scale| {
        let most = most_between(scale);
        if most <= MOST_BETWEEN {
            return None;
        }
        let message =
            format!("{most} marks between two numbers; {MOST_BETWEEN} can be counted at a glance");
        let help = "leave out short marks, or give more numbers";
        #[allow(clippy::cast_precision_loss, reason = "at most a thousand")]
        let (most, needed) = (most as f64, MOST_BETWEEN as f64);
        Some(Finding::warning("crowded-marks", message).measured(most, needed).help(help))
    });
}

/// Reports what `judge` finds about each dial and scale of the job.
fn each(job: Checked<'_>, findings: &mut Findings, judge: impl Fn(&Scale) -> Option<Finding>) {
    for label in &job.spec.labels {
        Part::each(&label.parts, &mut |part| {
            if let Element::Scale(scale) = &part.element {
                let found = judge(scale);
                findings.extend(found.map(|one| one.at(scale.place).label(&label.name)));
            }
        });
    }
}

/// Whether a step is 1, 2 or 5 times a power of ten.
fn is_even_step(step: f64) -> bool {
    (step / nearest_step(step) - 1.0).abs() < 1e-9
}

/// The nearest 1, 2 or 5 times a power of ten, by ratio.
fn nearest_step(step: f64) -> f64 {
    let ten = libm::pow(10.0, libm::log10(step).floor());
    let ratio = |one: &f64| libm::log(one / step).abs();
    let all = [1.0, 2.0, 5.0, 10.0].map(|one| one * ten);
    all.into_iter().min_by(|a, b| ratio(a).total_cmp(&ratio(b))).unwrap_or(step)
}

/// The most marks without a number between two that have one.
fn most_between(scale: &Scale) -> usize {
    let (mut most, mut count, mut begun) = (0, 0, false);
    for mark in &scale.marks {
        if mark.text.is_some() {
            if begun {
                most = most.max(count);
            }
            (count, begun) = (0, true);
        } else if mark.size.is_some() {
            count += 1;
        }
    }
    most
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_of_one_two_and_five_are_even() {
        // MIL-HDBK-759B: scales go up by 1, 2 or 5 or their decimal multiples.
        for step in [1.0, 2.0, 5.0, 10.0, 0.1, 0.2, 0.5, 0.05, 200.0, 5000.0] {
            assert!(is_even_step(step), "{step}");
        }
        for (step, near) in
            [(3.0, 2.0), (4.0, 5.0), (2.5, 2.0), (25.0, 20.0), (7.0, 5.0), (8.0, 10.0)]
        {
            assert!(!is_even_step(step), "{step}");
            assert!((nearest_step(step) - near).abs() < 1e-9, "{step}");
        }
    }
}
