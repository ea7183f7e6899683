//! A run of numbers or letters written short: `201..212`, `001..012`, `12..24 by 2`, `A..F`.

/// The most entries one series may have; a slip like `1..100000` would otherwise fill boxes of film.
const MOST: u64 = 10_000;

/// The most digits a number may have, far from where counting could overflow.
const MOST_DIGITS: usize = 12;

/// Why a text is no series, and what to write instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct NotASeries {
    /// What is wrong with it, to follow the text in a message.
    pub(super) what: &'static str,
    /// What to write instead.
    pub(super) help: String,
}

/// The entries of a series, both ends included, rising or falling as its ends do.
///
/// Numbers keep their leading noughts: `001..012` gives `001`, `002`… `012`.
pub(super) fn parse(text: &str) -> Result<Vec<String>, NotASeries> {
    let no_range =
        || not("is not a series", "write the first and the last, as in 201..212 or A..F");
    let (first, rest) = text.split_once("..").ok_or_else(no_range)?;
    let (last, step) = match rest.split_once("by") {
        Some((last, step)) => (last, step_of(step.trim())?),
        None => (rest, 1),
    };
    let (first, last) = (first.trim(), last.trim());
    if let (Some(from), Some(to)) = (letter(first), letter(last)) {
        return letters(from, to, step);
    }
    let (Some(from), Some(to)) = (number(first), number(last)) else {
        return Err(mismatch(first, last));
    };
    let width = [first, last].into_iter().filter(|end| end.starts_with('0')).map(str::len).max();
    let width = width.unwrap_or(0);
    Ok(steps(from, to, step)?.map(|n| format!("{n:0width$}")).collect())
}

fn not(what: &'static str, help: impl Into<String>) -> NotASeries {
    NotASeries { what, help: help.into() }
}

/// The distance from one entry to the next, 1 or more.
fn step_of(text: &str) -> Result<u64, NotASeries> {
    match number(text) {
        Some(0) => Err(not("has a step of 0", "step by 1 or more, as in 12..24 by 2")),
        Some(step) => Ok(step),
        None => Err(not("has a step that is no whole number", "as in 12..24 by 2")),
    }
}

fn number(text: &str) -> Option<u64> {
    let plain = text.bytes().all(|byte| byte.is_ascii_digit()) && text.len() <= MOST_DIGITS;
    if plain { text.parse().ok() } else { None }
}

fn letter(text: &str) -> Option<u8> {
    match text.as_bytes() {
        [letter] if letter.is_ascii_alphabetic() => Some(*letter),
        _ => None,
    }
}

fn letters(from: u8, to: u8, step: u64) -> Result<Vec<String>, NotASeries> {
    if from.is_ascii_uppercase() != to.is_ascii_uppercase() {
        return Err(not("mixes capitals and small letters", "write A..F or a..f"));
    }
    let entries = steps(from.into(), to.into(), step)?;
    Ok(entries.filter_map(|n| u8::try_from(n).ok()).map(|n| char::from(n).to_string()).collect())
}

fn steps(from: u64, to: u64, step: u64) -> Result<impl Iterator<Item = u64>, NotASeries> {
    let count = from.abs_diff(to) / step + 1;
    if count > MOST {
        let help = format!("it has {count} entries; {MOST} is the most");
        return Err(not("is too long", help));
    }
    // No overflow: no entry lies beyond the ends.
    Ok((0..count).map(move |i| if from <= to { from + i * step } else { from - i * step }))
}

fn mismatch(first: &str, last: &str) -> NotASeries {
    if first.is_empty() || last.is_empty() {
        return not("lacks its first or last entry", "write both, as in 201..212");
    }
    if first.len().max(last.len()) > MOST_DIGITS && (first.len() + last.len()) > 2 {
        let help = format!("numbers of up to {MOST_DIGITS} digits can be counted");
        return not("has an end that is too long", help);
    }
    not(
        "cannot be counted",
        "both ends are whole numbers (201..212) or single letters (A..F); \
         write what goes before or after in the text, as in `T{n}`",
    )
}

#[cfg(test)]
mod tests {
    use super::parse;

    fn joined(text: &str) -> String {
        parse(text).unwrap().join(" ")
    }

    fn why(text: &str) -> &'static str {
        parse(text).unwrap_err().what
    }

    #[test]
    fn counts_both_ends() {
        assert_eq!(joined("201..204"), "201 202 203 204");
        assert_eq!(joined(" 7 .. 7 "), "7");
        assert_eq!(joined("8..11"), "8 9 10 11");
        assert_eq!(joined("0..2"), "0 1 2");
    }

    #[test]
    fn keeps_leading_noughts() {
        assert_eq!(joined("001..003"), "001 002 003");
        assert_eq!(joined("08..11"), "08 09 10 11");
        assert_eq!(joined("10..08"), "10 09 08");
    }

    #[test]
    fn steps_and_falls() {
        assert_eq!(joined("12..18 by 2"), "12 14 16 18");
        assert_eq!(joined("18..12 by 2"), "18 16 14 12");
        assert_eq!(joined("1..10 by 4"), "1 5 9");
        assert_eq!(joined("3..1"), "3 2 1");
    }

    #[test]
    fn letters_run_too() {
        assert_eq!(joined("A..F"), "A B C D E F");
        assert_eq!(joined("a..z").len(), 26 + 25);
        assert_eq!(joined("f..a by 2"), "f d b");
    }

    #[test]
    fn refuses_what_cannot_be_counted() {
        assert_eq!(why("12"), "is not a series");
        assert_eq!(why("12..24 by 0"), "has a step of 0");
        assert_eq!(why("12..24 by two"), "has a step that is no whole number");
        assert_eq!(why("1..10001"), "is too long");
        assert_eq!(parse("1..10000").unwrap().len(), 10_000);
        assert_eq!(why("a..F"), "mixes capitals and small letters");
        assert_eq!(why("..12"), "lacks its first or last entry");
        assert_eq!(why("A1..A9"), "cannot be counted");
        assert_eq!(why("1...9"), "cannot be counted");
        assert_eq!(why("0..99999999999999999999999"), "has an end that is too long");
        assert_eq!(
            why("0..999999999999 by 999999999999999999999"),
            "has a step that is no whole number"
        );
        assert_eq!(joined("0..999999999999 by 999999999999"), "0 999999999999");
        assert_eq!(why("１..３"), "cannot be counted");
    }
}
