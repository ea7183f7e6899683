//! `{name}` in a text: words of the job, columns of a table, counters of a series.
//!
//! Columns and counters are filled in first and may bring `{word}` with them; words are filled in last
//! and bring nothing further, so nothing can go round in circles. `{{` and `}}` are braces.

use crate::finding::Place;
use crate::yaml::Scalar;

/// Why braces could not be filled in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Unfilled {
    /// No such name.
    Unknown(String),
    /// A brace that is not one of a pair.
    LoneBrace(char),
    /// More than [`LONGEST`] bytes.
    TooLong,
}

/// The longest text one value of a label may have, bytes: five pages, where a label has some words.
pub(super) const LONGEST: usize = 20_000;

/// One piece of a text.
enum Piece<'t> {
    Plain(&'t str),
    Name(&'t str),
    /// `{{` or `}}`.
    Brace(&'t str),
    Lone(char),
}

/// The text with its words filled in and doubled braces made single.
pub(super) fn words<'w>(
    text: &str,
    lookup: impl Fn(&str) -> Option<&'w str>,
) -> Result<String, Unfilled> {
    let mut filled = String::with_capacity(text.len() + 16);
    for piece in pieces(text) {
        if filled.len() > LONGEST {
            return Err(Unfilled::TooLong);
        }
        match piece {
            Piece::Plain(plain) => filled.push_str(plain),
            Piece::Brace(pair) => filled.push_str(pair.get(..1).unwrap_or_default()),
            Piece::Name(name) => match lookup(name) {
                Some(word) => filled.push_str(word),
                None => return Err(Unfilled::Unknown(name.to_owned())),
            },
            Piece::Lone(brace) => return Err(Unfilled::LoneBrace(brace)),
        }
    }
    Ok(filled)
}

/// A text with the columns filled in that a row knows, all other braces left for [`words`]; `None` where there are
/// none.
///
/// A text that is nothing but one column takes the cell's place: what is wrong with it is wrong there.
pub(super) fn columns(
    text: &str,
    place: Place,
    lookup: &dyn Fn(&str) -> Option<Scalar>,
) -> Option<Scalar> {
    if !text.contains('{') {
        return None;
    }
    let mut filled = String::with_capacity(text.len() + 16);
    let (mut cells, mut others, mut place_of_cell) = (0, 0, place);
    // Past the longest text there is no need to go on: [`words`] refuses it.
    for piece in pieces(text) {
        if filled.len() > LONGEST {
            break;
        }
        let name = match piece {
            Piece::Name(name) => name,
            Piece::Plain(plain) | Piece::Brace(plain) => {
                others += 1;
                filled.push_str(plain);
                continue;
            }
            Piece::Lone(brace) => {
                others += 1;
                filled.push(brace);
                continue;
            }
        };
        if let Some(cell) = lookup(name) {
            cells += 1;
            place_of_cell = cell.place;
            filled.push_str(&cell.text);
        } else {
            others += 1;
            filled.push('{');
            filled.push_str(name);
            filled.push('}');
        }
    }
    let place = if cells == 1 && others == 0 { place_of_cell } else { place };
    (cells > 0).then_some(Scalar { text: filled, place })
}

/// Whether there is anything to fill in or to make single.
pub(super) fn has_braces(text: &str) -> bool {
    text.contains(['{', '}'])
}

fn pieces(text: &str) -> impl Iterator<Item = Piece<'_>> {
    let mut rest = text;
    std::iter::from_fn(move || {
        if rest.is_empty() {
            return None;
        }
        let Some(at) = rest.find(['{', '}']) else {
            return Some(Piece::Plain(std::mem::take(&mut rest)));
        };
        if at > 0 {
            let (plain, after) = rest.split_at(at);
            rest = after;
            return Some(Piece::Plain(plain));
        }
        let (piece, after) = at_brace(rest);
        rest = after;
        Some(piece)
    })
}

/// The piece at the start of a text that starts with a brace, and what follows it.
fn at_brace(text: &str) -> (Piece<'_>, &str) {
    if text.starts_with("{{") || text.starts_with("}}") {
        let (pair, after) = text.split_at(2);
        return (Piece::Brace(pair), after);
    }
    let lone = if text.starts_with('{') { '{' } else { '}' };
    let after = text.get(1..).unwrap_or_default();
    match after.split_once('}') {
        Some((name, after)) if lone == '{' && !name.contains('{') => {
            (Piece::Name(name.trim()), after)
        }
        _ => (Piece::Lone(lone), after),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn vent(name: &str) -> Option<&'static str> {
        (name == "vent").then_some("VENT OPEN")
    }

    #[test]
    fn fills_words_and_keeps_doubled_braces() {
        assert_eq!(words("{vent} / {{x}}", vent), Ok("VENT OPEN / {x}".into()));
        assert_eq!(words("{ vent }", vent), Ok("VENT OPEN".into()));
        assert_eq!(words("{went}", vent), Err(Unfilled::Unknown("went".into())));
        assert_eq!(words("a } b", vent), Err(Unfilled::LoneBrace('}')));
        assert_eq!(words("{vent", vent), Err(Unfilled::LoneBrace('{')));
        assert_eq!(words("{a{vent}", vent), Err(Unfilled::LoneBrace('{')));
    }

    #[test]
    fn a_cell_may_hold_a_word_and_takes_its_place_when_alone() {
        let cell = Scalar { text: "{vent} 1".into(), place: Place { file: 1, start: 7, end: 15 } };
        let lookup = |name: &str| (name == "legend").then(|| cell.clone());
        let here = Place::default();
        assert_eq!(columns("{legend}", here, &lookup), Some(cell.clone()));
        let among = columns("A {legend} {{b}} {other}", here, &lookup).unwrap();
        assert_eq!((among.text.as_str(), among.place), ("A {vent} 1 {{b}} {other}", here));
        assert_eq!(columns("A {other}", here, &lookup), None);
    }
}
