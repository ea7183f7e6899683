//! Tables whose columns are known by their headings: people name them in many ways.

/// A column: what it holds, the word for it in messages and texts, and how else it is called, in plain letters.
pub(super) type Heading<C> = (C, &'static str, &'static [&'static str]);

/// Units a heading may end in, and how they are written in a cell.
const UNITS: [(&str, &str); 9] = [
    ("mm²", "mm2"),
    ("mm2", "mm2"),
    ("awg", "AWG"),
    ("mm", "mm"),
    ("cm", "cm"),
    ("inches", "in"),
    ("inch", "in"),
    ("in", "in"),
    ("m", "m"),
];

/// A heading without case, space, signs and unit, and the unit it gives, empty when it gives none: `X (mm)` is `x` in
/// mm.
pub(super) fn plain(heading: &str) -> (String, &'static str) {
    let lower = heading.to_lowercase();
    let parts = lower.split(|letter: char| !letter.is_alphanumeric());
    let parts: Vec<&str> = parts.filter(|part| !part.is_empty()).collect();
    if let [before @ .., last] = parts.as_slice()
        && !before.is_empty()
        && let Some((_, unit)) = UNITS.iter().find(|(unit, _)| unit == last)
    {
        return (before.concat(), unit);
    }
    (parts.concat(), "")
}

/// The column that is called so in plain letters; `None` for a column of the user's own.
pub(super) fn column<C: Copy>(headings: &[Heading<C>], plain: &str) -> Option<C> {
    let row = headings.iter().find(|(_, word, also)| *word == plain || also.contains(&plain));
    row.map(|(column, ..)| *column)
}
