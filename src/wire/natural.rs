//! The order in which people count terminals: P2 comes before P10.

use std::cmp::Ordering;

/// Compares texts with their runs of digits taken as numbers. Only the same text is equal.
pub(crate) fn natural(one: &str, other: &str) -> Ordering {
    let (mut left, mut right) = (one, other);
    while !left.is_empty() && !right.is_empty() {
        let ((a, after_a), (b, after_b)) = (run(left), run(right));
        let order = compare(a, b);
        if order.is_ne() {
            return order;
        }
        (left, right) = (after_a, after_b);
    }
    left.len().cmp(&right.len()).then_with(|| one.cmp(other))
}

/// The digits, or the other characters, that a text starts with, and what comes after.
fn run(text: &str) -> (&str, &str) {
    let digits = text.starts_with(|first: char| first.is_ascii_digit());
    let end = text.find(|next: char| next.is_ascii_digit() != digits);
    text.split_at(end.unwrap_or(text.len()))
}

/// Numbers of any length by their value, anything else by its characters.
fn compare(a: &str, b: &str) -> Ordering {
    let is_number = |text: &str| text.starts_with(|first: char| first.is_ascii_digit());
    if is_number(a) && is_number(b) {
        let (a, b) = (a.trim_start_matches('0'), b.trim_start_matches('0'));
        a.len().cmp(&b.len()).then_with(|| a.cmp(b))
    } else {
        a.cmp(b)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn terminals_are_counted_as_people_count() {
        // Common practice, no source.
        let counted =
            ["", "2", "02a", "2a", "10", "A0", "P", "P1", "P2", "P2a", "P10", "V5", "V12"];
        let mut sorted: Vec<&str> = counted.iter().rev().copied().collect();
        sorted.sort_by(|a, b| natural(a, b));
        assert_eq!(sorted, counted);
    }

    #[test]
    fn it_is_a_total_order() {
        let texts: Vec<&str> =
            "|0|00|1|01|a|a0|a00b|a0b|é1|1é|99999999999999999999".split('|').collect();
        for a in &texts {
            for b in &texts {
                assert_eq!(natural(a, b), natural(b, a).reverse(), "{a} {b}");
                assert_eq!(natural(a, b).is_eq(), a == b, "{a} {b}");
                for c in &texts {
                    let climbs = natural(a, b).is_le() && natural(b, c).is_le();
                    assert!(!climbs || natural(a, c).is_le(), "{a} {b} {c}");
                }
            }
        }
    }
}
