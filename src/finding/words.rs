//! Turns of phrase that all messages share.

/// The most letters of a text of the job that a message repeats.
const MOST: usize = 48;

/// A text of the job as it stands in messages: in marks, on one line, cut when very long.
#[must_use]
pub(crate) fn quoted(text: &str) -> String {
    format!("`{}`", shortened(text))
}

/// A text of the job on one line and not too long.
#[must_use]
pub(crate) fn shortened(text: &str) -> String {
    let line = text.lines().next().unwrap_or_default();
    let mut short: String = line.chars().take(MOST).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short
}
