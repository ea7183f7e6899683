//! The name that was meant by one that is unknown.

/// How like two names must be (Jaro-Winkler, 0 to 1) for one to be suggested for the other: lower suggests
/// what nobody meant, higher misses two swapped letters in a short name.
const LEAST_LIKENESS: f64 = 0.8;

/// The longest name compared, bytes: the time taken grows with the square of the length.
const LONGEST_NAME: usize = 64;

/// The most known names compared with one unknown name.
const MOST_NAMES: usize = 500;

/// The known name most like `name`, whatever the case of its letters; `None` when none is near enough to be
/// meant, nor one less than half as long. Of two that are equally like, the first in the alphabet.
#[must_use]
pub(crate) fn nearest<'n>(name: &str, known: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    if name.len() > LONGEST_NAME {
        return None;
    }
    let lower = name.to_lowercase();
    known
        .into_iter()
        .filter(|other| other.len() <= LONGEST_NAME && 2 * other.len() >= name.len())
        .take(MOST_NAMES)
        .map(|other| (strsim::jaro_winkler(&lower, &other.to_lowercase()), other))
        .filter(|(likeness, _)| *likeness > LEAST_LIKENESS)
        .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(a.1)))
        .map(|(_, other)| other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_likest_name_is_found_whatever_its_case_and_none_that_is_unlike() {
        // Jaro-Winkler as published (Winkler 1990): MARTHA and MARHTA 0.961, DIXON and DICKSONX 0.813.
        let known = ["DICKSONX", "marhta", "harbour"];
        assert_eq!(nearest("MARTHA", known), Some("marhta"));
        assert_eq!(nearest("dixon", known), Some("DICKSONX"));
        assert_eq!(nearest("zinc", known), None);
        assert_eq!(nearest(&"MARTHA".repeat(12), known), None);
        // 0.78 by the same measure, but nobody writes 12V for 1.
        assert_eq!(nearest("12V", ["1"]), None);
        assert_eq!(nearest("12", ["1"]), Some("1"));
        // (3/4 + 3/7 + 1) / 3 = 0.73 and a tenth of the rest for the same first letter: 0.75.
        assert_eq!(nearest("part", ["printer"]), None);
        // Equally like: the first in the alphabet.
        assert_eq!(nearest("lamp-0", ["lamp-2", "lamp-1"]), Some("lamp-1"));
    }
}
