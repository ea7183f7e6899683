//! How many to print: what is needed, and some more because film tears.

use super::reader::{Reader, plain_number};
use crate::finding::quoted;
use crate::yaml::Scalar;

/// The most copies of one label.
const MOST_COPIES: u32 = 100_000;

/// How many more are printed when nothing is said: common practice, no source.
const USUAL_SHARE: f64 = 0.10;

/// How many of a label are needed, 1 when it does not say.
pub(super) fn copies(scalar: Option<&Scalar>, reader: &mut Reader) -> u32 {
    reader.count(scalar, 1..=MOST_COPIES).unwrap_or(1)
}

/// How many spares: the label's own number or share, else the sheet's, else a tenth.
pub(super) fn spares(
    scalar: Option<&Scalar>,
    sheet: Option<&Scalar>,
    copies: u32,
    reader: &mut Reader,
) -> u32 {
    let Some(scalar) = scalar.or(sheet) else { return share(USUAL_SHARE, copies) };
    let text = scalar.trimmed();
    if !text.ends_with('%') {
        return reader.count(scalar, 0..=MOST_COPIES).unwrap_or(0);
    }
    match plain_number(text).filter(|part| (0.0..=10.0).contains(part)) {
        Some(part) => share(part, copies),
        None => {
            let message = format!("{} is no share of the copies", quoted(text));
            reader.wrong("bad-number", scalar.place, message, "give a number or 0 % to 1000 %");
            0
        }
    }
}

/// A share of the copies, rounded up: any share above nothing is at least one.
fn share(part: f64, copies: u32) -> u32 {
    // A tenth of 20 is 2, not the 2.0000000000000004 that would round up to 3.
    let exact = part * f64::from(copies) - 1.0e-9;
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "0 to 10 times at most 100,000"
    )]
    let whole = exact.ceil().max(0.0) as u32;
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_spare_a_label_or_a_tenth_rounded_up() {
        // Common practice, no source.
        for (copies, spares) in [(1, 1), (4, 1), (10, 1), (11, 2), (12, 2), (20, 2), (24, 3)] {
            assert_eq!(share(USUAL_SHARE, copies), spares, "{copies} copies");
        }
        assert_eq!(share(0.0, 24), 0);
        assert_eq!(share(0.5, 3), 2);
    }
}
