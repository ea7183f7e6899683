//! Turns of phrase that all messages share.

/// A text of the job as it stands in messages: in marks, cut after 48 characters.
#[must_use]
pub fn quoted(text: &str) -> String {
    const MOST: usize = 48;
    match text.char_indices().nth(MOST) {
        Some((end, _)) => format!("`{}…`", text.get(..end).unwrap_or_default()),
        None => format!("`{text}`"),
    }
}

/// How many of something: `1 sheet`, `2 sheets`.
#[must_use]
pub fn counted(number: usize, word: &str) -> String {
    if number == 1 { format!("1 {word}") } else { format!("{number} {word}s") }
}
