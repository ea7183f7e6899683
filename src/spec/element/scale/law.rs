//! Where a value lies along its scale.
//!
//! A dial and a straight scale are one thing on two tracks: everything along it is a *share*, 0 at the
//! scale's start and 1 at its end. Laws are worked out here once, so that marks, numbers and zones agree.

/// What a scale runs along.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Track {
    /// Round the part's own point.
    Round {
        /// Radius of the base line the marks start from, mm.
        radius: f64,
        /// Where the scale starts: degrees clockwise from straight up.
        start: f64,
        /// How far it runs, degrees; negative runs anticlockwise.
        sweep: f64,
    },
    /// Straight, its middle at the part's own point.
    Straight {
        /// Length from the scale's start to its end, mm.
        length: f64,
        /// Where "outside" is: degrees clockwise from straight up; the scale runs a quarter turn further.
        outside: f64,
    },
}

/// How values lie along a scale.
#[derive(Clone, Debug, PartialEq)]
pub enum Law {
    /// Evenly.
    Linear,
    /// Evenly in the logarithm: share = log(v/v0) / log(v1/v0).
    Log,
    /// Decibels on a scale that is even in volts: 20 dB for a factor of ten.
    Decibel,
    /// The two straight pieces of a real "log" potentiometer, with this share of its track at half travel.
    Pot(f64),
    /// Measured: values with their shares, rising by value; even in between.
    Table(Vec<(f64, f64)>),
}

impl Law {
    /// Where a value lies on a scale from `ends.0` to `ends.1`, as a share; `None` where the law has no
    /// place for it.
    #[must_use]
    pub fn share(&self, value: f64, ends: (f64, f64)) -> Option<f64> {
        let even = |of: &dyn Fn(f64) -> f64| (of(value) - of(ends.0)) / (of(ends.1) - of(ends.0));
        let share = match self {
            Law::Linear => even(&|v| v),
            Law::Log => even(&libm::log),
            Law::Decibel => even(&|decibels| libm::pow(10.0, decibels / 20.0)),
            Law::Pot(bend) => {
                let track = even(&|v| v);
                // Inverse of r = 2kx up to half travel, k + (1 - k)(2x - 1) beyond.
                if track <= *bend {
                    track / (2.0 * bend)
                } else {
                    f64::midpoint(1.0, (track - bend) / (1.0 - bend))
                }
            }
            Law::Table(rows) => return between_rows(rows, value),
        };
        share.is_finite().then_some(share)
    }
}

/// Even between two rows; exact on a row, also where it is infinite.
fn between_rows(rows: &[(f64, f64)], value: f64) -> Option<f64> {
    let exact = rows.iter().find(|(row, _)| row.total_cmp(&value).is_eq());
    if let Some((_, share)) = exact {
        return Some(*share);
    }
    let after = rows.iter().position(|(row, _)| *row > value)?;
    let (low, high) = (rows.get(after.checked_sub(1)?)?, rows.get(after)?);
    let share = low.1 + (high.1 - low.1) * (value - low.0) / (high.0 - low.0);
    (low.0.is_finite() && high.0.is_finite()).then_some(share)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn angle(law: &Law, value: f64, ends: (f64, f64), (start, sweep): (f64, f64)) -> f64 {
        start + sweep * law.share(value, ends).unwrap()
    }

    #[test]
    fn marks_of_a_pot_with_even_numbers_lie_at_27_degrees() {
        // Sweep 270 from -135 over 0 to 10: mark n at -135 + 27 n (proportion).
        for n in 0..=10 {
            let found = angle(&Law::Linear, f64::from(n), (0.0, 10.0), (-135.0, 270.0));
            assert!((found - (-135.0 + 27.0 * f64::from(n))).abs() < 1e-9);
        }
    }

    #[test]
    fn logarithms_are_those_of_the_tables() {
        // log 2 = 0.30103, log 5 = 0.69897 (four- and five-figure tables): sweep 240 from -120 over two decades.
        for (value, log) in
            [(1.0, 0.0), (2.0, 30_103e-5), (5.0, 0.698_97), (10.0, 1.0), (50.0, 1.698_97)]
        {
            let found = angle(&Law::Log, value, (1.0, 100.0), (-120.0, 240.0));
            assert!((found - (-120.0 + 120.0 * log)).abs() < 0.001, "{value}: {found}");
        }
        assert_eq!(Law::Log.share(0.0, (1.0, 100.0)), None);
        assert_eq!(Law::Log.share(-1.0, (1.0, 100.0)), None);
    }

    #[test]
    fn decibels_are_ratios_of_volts() {
        // Tables of decibels: -6.0206 dB is half the voltage, -20 dB a tenth, minus infinity none.
        let ends = (f64::NEG_INFINITY, 0.0);
        for (decibels, volts) in
            [(0.0, 1.0), (-6.0206, 0.5), (-20.0, 0.1), (f64::NEG_INFINITY, 0.0)]
        {
            let found = Law::Decibel.share(decibels, ends).unwrap();
            assert!((found - volts).abs() < 1e-5, "{decibels}: {found}");
        }
    }

    #[test]
    fn a_pot_has_its_bend_at_half_travel() {
        // From memory: 15 % of the track at half travel; each half is straight.
        let share = |track: f64| Law::Pot(0.15).share(track, (0.0, 1.0)).unwrap();
        for (track, travel) in [(0.0, 0.0), (0.075, 0.25), (0.15, 0.5), (0.575, 0.75), (1.0, 1.0)] {
            assert!((share(track) - travel).abs() < 1e-12, "{track}");
        }
        // With half the track at half travel it is an even one.
        assert!((Law::Pot(0.5).share(0.3, (0.0, 1.0)).unwrap() - 0.3).abs() < 1e-12);
    }

    #[test]
    fn a_table_is_exact_on_its_rows_and_even_between() {
        let law = Law::Table(vec![(0.0, 1.0), (1.0, 0.8), (5.0, 0.4), (f64::INFINITY, 0.0)]);
        let share = |value| law.share(value, (0.0, 1.0));
        assert_eq!(share(1.0), Some(0.8));
        assert_eq!(share(f64::INFINITY), Some(0.0));
        assert!((share(3.0).unwrap() - 0.6).abs() < 1e-12);
        // Between the last number and infinity there is no even.
        assert_eq!(share(7.0), None);
        assert_eq!(share(-1.0), None);
    }
}
