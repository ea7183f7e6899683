//! What the YAML parser stumbled over, in words of people who do not write parsers.

use crate::finding::Finding;
use granit_parser::{ErrorKind, ScanError};

/// The finding for a parser's error at byte `start` of `text`; its place is left to the caller.
pub(super) fn of(error: &ScanError, text: &str, start: usize) -> Finding {
    let brackets = match error.kind() {
        ErrorKind::PlainScalarStartsWithDashFlowIndicator
        | ErrorKind::BlockEntryInFlowCollection => starts_its_line(text, start),
        kind => about_brackets(kind),
    };
    let held = brackets.then(|| innermost_bracket(text, start)).flatten();
    let (message, help) = held.map_or_else(|| words(error.kind()), unclosed);
    let code = match error.kind() {
        ErrorKind::RecursionLimitExceeded => "too-deep",
        _ => "bad-yaml",
    };
    Finding::error(code, message).help(help)
}

fn starts_its_line(text: &str, start: usize) -> bool {
    let before = text.get(..start).unwrap_or_default();
    before.trim_end_matches(' ').ends_with('\n')
}

/// The text from the bracket on that is open at byte `start`, looked for in the page before it.
///
/// Brackets in quotes are counted too; at worst another message is chosen.
fn innermost_bracket(text: &str, start: usize) -> Option<&str> {
    let from = start.saturating_sub(4096);
    let page = text.as_bytes().get(from..)?;
    let mut open = Vec::new();
    let mut at = from;
    for line in page.split_inclusive(|byte| *byte == b'\n') {
        let comment = line.windows(2).position(|pair| pair == b" #").unwrap_or(line.len());
        for (column, byte) in line.iter().enumerate().take(comment) {
            match byte {
                _ if at + column > start => break,
                b'[' | b'{' => open.push(at + column),
                b']' | b'}' => drop(open.pop()),
                _ => {}
            }
        }
        at += line.len();
        if at > start {
            break;
        }
    }
    text.get(open.pop()?..)
}

/// Whether the error is one of those a missing bracket or comma leads to.
fn about_brackets(kind: &ErrorKind) -> bool {
    matches!(
        kind,
        ErrorKind::UnclosedFlowCollection { .. }
            | ErrorKind::UnexpectedEofFlowSequence
            | ErrorKind::UnexpectedEofFlowMapping
            | ErrorKind::UnexpectedEofImplicitFlowMapping
            | ErrorKind::ExpectedFlowSequenceSeparator
            | ErrorKind::ExpectedFlowMappingSeparator
            | ErrorKind::InvalidColonPlacement
            | ErrorKind::MappingValueNotAllowed
            | ErrorKind::ExpectedNodeContent
    )
}

fn words(kind: &ErrorKind) -> (String, String) {
    let (message, help) = match kind {
        ErrorKind::UnclosedQuotedScalar
        | ErrorKind::DocumentIndicatorInQuotedScalar
        | ErrorKind::InvalidQuotedScalarIndent => {
            ("a quoted text is not closed", "put the same quote at its end")
        }
        ErrorKind::InvalidTrailingSingleQuotedScalar
        | ErrorKind::InvalidTrailingDoubleQuotedScalar => (
            "there is more after the closing quote",
            "put all of it inside the quotes; a single quote inside single quotes is written twice",
        ),
        ErrorKind::UnknownQuotedScalarEscape
        | ErrorKind::InvalidQuotedScalarHexEscape
        | ErrorKind::InvalidLowSurrogateHexEscape
        | ErrorKind::InvalidLowSurrogate
        | ErrorKind::MissingLowSurrogate
        | ErrorKind::UnpairedLowSurrogate
        | ErrorKind::InvalidUnicodeEscape => (
            "a backslash in double quotes starts a code, and this one is not known",
            "write the backslash twice, or use single quotes",
        ),
        ErrorKind::UnclosedFlowCollection { open } => {
            return (format!("`{open}` is not closed"), "close the bracket".to_owned());
        }
        ErrorKind::MismatchedFlowCollectionEnd { open, close } => {
            return (
                format!("`{open}` is closed by `{close}`"),
                "close brackets in the order they were opened".to_owned(),
            );
        }
        ErrorKind::MisplacedFlowCollectionEnd => {
            ("this bracket closes nothing", "take it out, or quote the text it is part of")
        }
        ErrorKind::UnexpectedCharacter { character } => {
            return (
                format!("a text cannot start with `{character}` unless it is quoted"),
                "put it in double quotes".to_owned(),
            );
        }
        _ => return layout(kind),
    };
    (message.to_owned(), help.to_owned())
}

/// Errors in how lines stand to one another.
fn layout(kind: &ErrorKind) -> (String, String) {
    let (message, help) = match kind {
        ErrorKind::RecursionLimitExceeded => (
            "lists and maps are nested more than 64 deep here",
            "a job needs about six; look for a stray bracket",
        ),
        ErrorKind::MappingValueNotAllowed
        | ErrorKind::InvalidColonPlacement
        | ErrorKind::MappingKeyNotAllowed => (
            "this colon is out of place",
            "quote a text that holds a colon and a space; line up keys that belong together; put a space after \
             the colon of the line before",
        ),
        ErrorKind::SimpleKeyExpected | ErrorKind::InvalidSimpleKey => (
            "this line has no colon where a key is expected",
            "write `key: value`, or quote a text that runs over several lines",
        ),
        ErrorKind::ExpectedBlockMappingKey
        | ErrorKind::ExpectedBlockSequenceEntry
        | ErrorKind::InvalidIndentation
        | ErrorKind::InvalidBlockScalarIndent
        | ErrorKind::InvalidFlowScalarIndent
        | ErrorKind::BlockSequenceEntryNotAllowed => (
            "this line is not set in like the lines it belongs to",
            "line it up with its neighbours, with spaces",
        ),
        ErrorKind::TabNotAllowed
        | ErrorKind::TabInBlockIndentation
        | ErrorKind::TabInIndentation
        | ErrorKind::TabAtBlockScalarStart
        | ErrorKind::TabInPlainScalar => ("there is a tab here", "use spaces instead"),
        ErrorKind::CommentNotSeparated | ErrorKind::CommentInterceptedScalar => (
            "a comment starts in the middle of a text",
            "quote the text if the # is part of it, else put a space before the #",
        ),
        ErrorKind::DirectiveDisallowed => {
            ("a line that starts with % is not read", "take it out, or quote it if it is text")
        }
        ErrorKind::MissingAnchorOrAliasName => {
            ("YAML takes & and * for marks of its own", "quote the text: \"*\"")
        }
        ErrorKind::PlainScalarStartsWithDashFlowIndicator
        | ErrorKind::BlockEntryInFlowCollection => {
            ("a lone dash cannot stand between brackets", "quote it: \"-\"")
        }
        _ => (
            "this cannot be read as YAML from here on",
            "look for a missing quote, colon or bracket here or on the line before",
        ),
    };
    (message.to_owned(), help.to_owned())
}

/// A bracket without its partner, or entries without a comma; `held` starts with the bracket.
fn unclosed(held: &str) -> (String, String) {
    let (open, close) = if held.starts_with('[') { ('[', ']') } else { ('{', '}') };
    let line = held.lines().next().unwrap_or_default();
    let help = if line.contains(" #") {
        format!("# starts a comment and takes `{close}` with it: quote the text that starts with #")
    } else {
        format!(
            "write `,` between entries and `{close}` after the last; quote a text that holds brackets or colons"
        )
    };
    (format!("`{open}` is not closed by `{close}`, or a comma is missing"), help)
}

/// Where the dash of the empty list entry that the parser puts at byte `at` ends.
pub(super) fn dash_before(text: &str, at: u32) -> u32 {
    // A comment may stand between; a longer one than this only makes the message less exact.
    let from = at.saturating_sub(4096);
    let before = text.as_bytes().get(from as usize..at as usize).unwrap_or_default();
    let is_dash = |pair: &[u8]| matches!(pair, [b'-', next] if next.is_ascii_whitespace());
    if before.last() == Some(&b'-') {
        return at;
    }
    let dash = before.windows(2).rposition(is_dash).and_then(|dash| u32::try_from(dash + 1).ok());
    dash.map_or(at, |dash| from + dash)
}
