//! Keys that exclude each other, looked for in one map before styles are laid under it.

use super::reader::Reader;
use crate::finding::Place;
use crate::spec::draft::{FrameDraft, GroupDraft, LabelDraft, PartDraft, TextDraft};
use crate::spec::typed::{Many, Shorthand, Typed};

/// Tells of keys in one label or style that cannot both hold.
pub(super) fn check(label: &LabelDraft, reader: &mut Reader<'_, '_>) {
    let place = |typed: &Option<Typed>| typed.as_ref().map(|typed| typed.place);
    let edges = [("bleed", place(&label.bleed)), ("film_border", place(&label.film_border))];
    let why = "bleed carries ink past the trim, a film border keeps ink inside it: keep one";
    one_of("bleed-and-border", &edges, why, reader);
    let series = label.series.as_ref().and_then(|series| match series {
        Shorthand::Short(range) => first(Some(range)),
        Shorthand::Long(map) => map.values().map(|range| range.place).next(),
    });
    let many = [("rows", place(&label.rows)), ("series", series)];
    let why = "put the numbers into a column of the table, or leave the table out";
    one_of("rows-and-series", &many, why, reader);
    let gaps = [("gap", place(&label.gap)), ("from_middle", place(&label.from_middle))];
    let why =
        "a gap counts from what covers the panel, `from_middle` from the hole's middle: keep one";
    one_of("two-gaps", &gaps, why, reader);
    if let Some(Shorthand::Long(text)) = &label.text {
        text_size(text, reader);
    }
    in_frame(label.frame.as_ref(), reader);
    for part in label.parts.iter().flatten() {
        in_part(part, reader);
    }
}

fn in_part(part: &PartDraft, reader: &mut Reader<'_, '_>) {
    if let Some(Shorthand::Long(text)) = &part.text {
        text_size(text, reader);
    }
    in_frame(part.frame.as_ref(), reader);
    if let Some(symbol) = &part.symbol {
        one_value(symbol, reader);
    }
    for GroupDraft { parts, .. } in [&part.row, &part.column].into_iter().flatten() {
        for part in parts {
            in_part(part, reader);
        }
    }
}

fn in_frame(frame: Option<&Shorthand<FrameDraft>>, reader: &mut Reader<'_, '_>) {
    let Some(frame) = frame else { return };
    one_value(frame, reader);
    if let Shorthand::Long(map) = frame
        && let Some(line) = &map.line
    {
        one_value(line, reader);
    }
}

/// Tells of a list where the short form is one value.
pub(super) fn one_value<T>(value: &Shorthand<T>, reader: &mut Reader<'_, '_>) {
    let Shorthand::Short(many) = value else { return };
    let [_, second, ..] = many.items.as_slice() else { return };
    let message = format!("{} values where one is needed", many.items.len());
    reader.wrong("bad-value", second.place, message, "keep one of them, or write a map");
}

fn text_size(text: &TextDraft, reader: &mut Reader<'_, '_>) {
    let place = |typed: &Option<Typed>| typed.as_ref().map(|typed| typed.place);
    let sizes = [
        ("cap_height", place(&text.cap_height)),
        ("em", place(&text.em)),
        ("fit", first(text.fit.as_ref())),
    ];
    one_of("two-sizes", &sizes, "each sets how tall the text is: keep one", reader);
}

fn first(many: Option<&Many>) -> Option<Place> {
    many.and_then(|many| many.items.first()).map(|item| item.place)
}

fn one_of(
    code: &'static str,
    keys: &[(&str, Option<Place>)],
    help: &str,
    reader: &mut Reader<'_, '_>,
) {
    let mut given: Vec<(Place, &str)> =
        keys.iter().filter_map(|(key, place)| place.map(|place| (place, *key))).collect();
    given.sort_unstable();
    let [(first, first_key), .., (last, last_key)] = given.as_slice() else { return };
    let line = reader.in_line(*first, *last);
    let message = format!("`{last_key}` here and `{first_key}`{line} cannot both hold");
    reader.wrong(code, *last, message, help);
}
