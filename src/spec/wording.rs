//! What the YAML parser stumbled over, in words of people who do not write parsers.

use crate::finding::Finding;
use granit_parser::{ErrorKind, ScanError};

/// The finding for a parser's error at byte `start` of `text`; the place is left to the caller.
pub(super) fn of(error: &ScanError, text: &str, start: usize) -> Finding {
    let (message, help) = words(error.kind(), text, start);
    Finding::error("bad-yaml", message).help(help)
}

fn words(kind: &ErrorKind, text: &str, start: usize) -> (String, String) {
    let (message, help) = match kind {
        ErrorKind::UnclosedQuotedScalar
        | ErrorKind::DocumentIndicatorInQuotedScalar
        | ErrorKind::InvalidQuotedScalarIndent => {
            ("a quoted text is not closed", "put the same quote at its end")
        }
        ErrorKind::InvalidTrailingSingleQuotedScalar
        | ErrorKind::InvalidTrailingDoubleQuotedScalar => {
            ("there is more after the closing quote", "put all of it inside the quotes")
        }
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
        ErrorKind::UnclosedFlowCollection { open } => return unclosed(*open, text, start),
        ErrorKind::UnexpectedEofFlowSequence | ErrorKind::ExpectedFlowSequenceSeparator => {
            return unclosed('[', text, start);
        }
        ErrorKind::UnexpectedEofFlowMapping
        | ErrorKind::UnexpectedEofImplicitFlowMapping
        | ErrorKind::ExpectedFlowMappingSeparator => return unclosed('{', text, start),
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
            "a second colon on this line, or a key set in too deep",
            "quote a text that holds a colon and a space; line up keys that belong together",
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

/// A bracket without its partner; a comment may have eaten it.
fn unclosed(open: char, text: &str, start: usize) -> (String, String) {
    let close = if open == '[' { ']' } else { '}' };
    let before = text.get(..start).unwrap_or_default();
    let from =
        before.rfind(open).map_or(0, |at| text.get(..at).and_then(|t| t.rfind('\n')).unwrap_or(0));
    let lines = text.get(from..).unwrap_or_default().trim_start();
    let eaten = lines.lines().next().is_some_and(|line| line.contains(" #"));
    let help = if eaten {
        format!("# starts a comment and takes `{close}` with it: quote the text with the #")
    } else {
        format!(
            "write `,` between entries and `{close}` at the end; quote text that holds brackets"
        )
    };
    (format!("`{open}` is not closed by `{close}`, or a comma is missing"), help)
}

/// Where the dash of the list entry that is empty at byte `at` ends.
pub(super) fn dash_before(text: &str, at: u32) -> u32 {
    let before = text.get(..at as usize).unwrap_or_default();
    let dash = before.rfind("- ").or_else(|| before.rfind("-\n"));
    dash.and_then(|dash| u32::try_from(dash + 1).ok()).unwrap_or(at)
}
