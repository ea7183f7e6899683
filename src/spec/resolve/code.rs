//! Codes, with every choice made that does not need the printer's dots.

use super::reader::{Least, Reader};
use crate::colour::Colour;
use crate::finding::Place;
use crate::spec::code_draft::CodeDraft;
use crate::spec::{Code, CodeKind, CodeLevel, Element, Paint, Part};

/// The most modules anybody would keep free.
const MOST_QUIET: f64 = 50.0;

/// A code as a part; `None` when it says nothing or is of no known kind.
pub(super) fn part(
    draft: &CodeDraft,
    fallback: Place,
    reader: &mut Reader<'_, '_>,
) -> Option<Part> {
    let place = draft.text.as_ref().map_or(fallback, |typed| typed.place);
    let text = draft.text.as_ref().map(|typed| typed.text.trim()).unwrap_or_default();
    if text.is_empty() {
        let message = "the code has no text".to_owned();
        reader.wrong("empty-text", place, message, "write what it says: `text: PROP-0412`");
    }
    let kinds = [
        ("qr", CodeKind::Qr),
        ("data-matrix", CodeKind::DataMatrix),
        ("code-128", CodeKind::Code128),
    ];
    if draft.kind.is_none() {
        let help = "add `kind: qr`, `kind: data-matrix` or `kind: code-128`";
        reader.wrong("missing", place, "a code needs `kind`".to_owned(), help);
    }
    let kind = reader.choice(draft.kind.as_ref(), &kinds);
    let level = level(draft, kind, reader);
    let at = reader.at(draft.at.as_ref());
    let turned = reader.degrees(draft.turned.as_ref(), -360.0..=360.0).unwrap_or(0.0);
    let module = reader.length(draft.module.as_ref(), Least::Something);
    let size = reader.one_or_pair(draft.size.as_ref(), Least::Something);
    // One length for bars is how wide they may be, not how high they are.
    let both = draft.size.as_ref().is_some_and(|size| size.items.len() == 2);
    let quiet = reader.number(draft.quiet.as_ref(), 0.0..=MOST_QUIET);
    let paint = reader.paint(draft.paint.as_ref()).unwrap_or(Paint::Ink(Colour::BLACK));
    let kind = kind.filter(|_| !text.is_empty())?;
    let code = Code {
        text: text.to_owned(),
        kind,
        level,
        module,
        width: size.map(|(width, _)| width),
        height: size.map(|(_, height)| height).filter(|_| kind != CodeKind::Code128 || both),
        quiet: quiet.unwrap_or_else(|| kind.quiet_modules()),
        paint,
        place,
    };
    Some(Part { at, turned, element: Element::Code(code), place })
}

fn level(draft: &CodeDraft, kind: Option<CodeKind>, reader: &mut Reader<'_, '_>) -> CodeLevel {
    let levels =
        [("L", CodeLevel::L), ("M", CodeLevel::M), ("Q", CodeLevel::Q), ("H", CodeLevel::H)];
    let level = reader.choice(draft.level.as_ref(), &levels);
    if let (Some(typed), Some(kind)) = (&draft.level, kind)
        && kind != CodeKind::Qr
    {
        let message = format!("a {} has no levels", kind.word());
        reader.wrong("bad-value", typed.place, message, "take `level` out, or write `kind: qr`");
    }
    level.unwrap_or(CodeLevel::M)
}
