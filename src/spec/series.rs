//! Ranges of numbers such as `201..212`.

/// The most numbers one range may make.
const MOST: u64 = 20_000;

/// Why a text is not a range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct NotASeries {
    /// What is wrong, as the end of a sentence that starts with the text.
    pub(super) what: &'static str,
    /// What to write instead.
    pub(super) help: String,
}

/// The numbers of `201..212`, both ends included, with the leading noughts of `008..012` kept.
pub(super) fn parse(text: &str) -> Result<Vec<String>, NotASeries> {
    let wrong = |what, help: &str| Err(NotASeries { what, help: help.to_owned() });
    let plain = |end: &str| end.bytes().all(|byte| byte.is_ascii_digit()).then(|| end.parse().ok());
    let ends = text.trim().split_once("..").map(|(low, high)| (low.trim(), high.trim()));
    let Some((low_text, high_text)) = ends else {
        return wrong("is not a range", "write the first and the last number: 201..212");
    };
    let (Some(Some(low)), Some(Some(high))) = (plain(low_text), plain(high_text)) else {
        return wrong("is not a range of whole numbers", "write it as 201..212");
    };
    let (low, high): (u64, u64) = (low, high);
    if high < low {
        return wrong("runs backwards", "write the smaller number first");
    }
    if high - low >= MOST {
        return wrong("makes more than 20000 numbers", "make it shorter");
    }
    let width = if low_text.starts_with('0') { low_text.len() } else { 0 };
    Ok((low..=high).map(|number| format!("{number:0width$}")).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keeps_leading_noughts_and_refuses_what_is_no_range() {
        assert_eq!(parse("8..10").unwrap(), ["8", "9", "10"]);
        assert_eq!(parse("008..010").unwrap(), ["008", "009", "010"]);
        assert_eq!(parse("0..1").unwrap(), ["0", "1"]);
        for text in ["", "8", "8..", "..8", "9..8", "a..c", "-1..3", "0..99999999", "1..2..3"] {
            assert!(parse(text).is_err(), "{text}");
        }
    }
}
