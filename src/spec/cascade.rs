//! The cascade: what a label does not say itself comes from its style, field by field.
//!
//! Some keys stand for one choice: a label that sets one of them has made the choice, and the style's
//! others do not come through.

use super::draft::{FrameDraft, FrameLineDraft, LabelDraft, TextDraft};
use super::typed::{Many, Shorthand};

/// Fills what `own` leaves open from the style under it.
pub(super) fn lay_over(own: &mut LabelDraft, under: &LabelDraft) {
    text_over(&mut own.text, &under.text);
    frame_over(&mut own.frame, &under.frame);
    if own.bleed.is_none() && own.film_border.is_none() {
        own.bleed.clone_from(&under.bleed);
        own.film_border.clone_from(&under.film_border);
    }
    if own.rows.is_none() && own.series.is_none() {
        own.rows.clone_from(&under.rows);
        own.series.clone_from(&under.series);
    }
    inherit(&mut own.name, &under.name);
    inherit(&mut own.parts, &under.parts);
    inherit(&mut own.on, &under.on);
    inherit(&mut own.film, &under.film);
    inherit(&mut own.copies, &under.copies);
    inherit(&mut own.spares, &under.spares);
    inherit(&mut own.applied, &under.applied);
    inherit(&mut own.viewed_from, &under.viewed_from);
    inherit(&mut own.white, &under.white);
    inherit(&mut own.handed, &under.handed);
    inherit(&mut own.lift, &under.lift);
    inherit(&mut own.corner, &under.corner);
    inherit(&mut own.size, &under.size);
    inherit(&mut own.split, &under.split);
    inherit(&mut own.allow, &under.allow);
    inherit(&mut own.note, &under.note);
    inherit(&mut own.panel, &under.panel);
    inherit(&mut own.hole, &under.hole);
    inherit(&mut own.side, &under.side);
    if own.gap.is_none() && own.from_middle.is_none() {
        own.gap.clone_from(&under.gap);
        own.from_middle.clone_from(&under.from_middle);
    }
    inherit(&mut own.at, &under.at);
}

/// What a legend takes from its panel: how it is printed and put on, never what is on it.
pub(super) fn legend_over(own: &mut LabelDraft, panel: &LabelDraft) {
    inherit(&mut own.on, &panel.on);
    inherit(&mut own.film, &panel.film);
    inherit(&mut own.spares, &panel.spares);
    inherit(&mut own.applied, &panel.applied);
    inherit(&mut own.viewed_from, &panel.viewed_from);
    inherit(&mut own.white, &panel.white);
    inherit(&mut own.lift, &panel.lift);
}

/// How a text of `parts:` is set where it does not say so itself: as the label's own text, which keeps
/// its words, its place and its bounds to itself.
pub(super) fn set_like(own: &mut TextDraft, label_text: &TextDraft) {
    let (text, at, turned, width, fit) = (None, None, None, None, None);
    let (spread, arc) = (None, None);
    let manner = TextDraft { text, at, turned, width, spread, arc, fit, ..label_text.clone() };
    fields_of_text(own, &manner);
}

/// The long form of a text: a short one is its words.
pub(super) fn text_long(short: Shorthand<TextDraft>) -> TextDraft {
    match short {
        Shorthand::Short(words) => TextDraft { text: Some(words), ..TextDraft::default() },
        Shorthand::Long(map) => *map,
    }
}

/// The long form of a box: a short one is its fill; `None` for the word `none`.
pub(super) fn frame_long(short: Shorthand<FrameDraft>) -> Option<FrameDraft> {
    match short {
        Shorthand::Short(fill) if is_none(&fill) => None,
        Shorthand::Short(fill) => {
            Some(FrameDraft { fill: fill.items.into_iter().next(), ..FrameDraft::default() })
        }
        Shorthand::Long(map) => Some(*map),
    }
}

/// The long form of a border: a short one is its width; `None` for the word `none`.
pub(super) fn frame_line_long(short: Shorthand<FrameLineDraft>) -> Option<FrameLineDraft> {
    match short {
        Shorthand::Short(width) if is_none(&width) => None,
        Shorthand::Short(width) => {
            Some(FrameLineDraft { width: width.items.into_iter().next(), ..Default::default() })
        }
        Shorthand::Long(map) => Some(*map),
    }
}

fn is_none(many: &Many) -> bool {
    !many.listed && many.items.first().is_some_and(|item| item.text == "none")
}

fn inherit<T: Clone>(own: &mut Option<T>, under: &Option<T>) {
    if own.is_none() {
        own.clone_from(under);
    }
}

fn text_over(own: &mut Option<Shorthand<TextDraft>>, under: &Option<Shorthand<TextDraft>>) {
    let Some(under) = under else { return };
    let Some(given) = own.take() else {
        *own = Some(under.clone());
        return;
    };
    let mut long = text_long(given);
    match under {
        Shorthand::Short(words) => {
            if long.text.is_none() {
                long.text = Some(words.clone());
            }
        }
        Shorthand::Long(under) => fields_of_text(&mut long, under),
    }
    *own = Some(Shorthand::Long(Box::new(long)));
}

fn fields_of_text(own: &mut TextDraft, under: &TextDraft) {
    if own.cap_height.is_none() && own.em.is_none() && own.fit.is_none() {
        own.cap_height.clone_from(&under.cap_height);
        own.em.clone_from(&under.em);
        own.fit.clone_from(&under.fit);
    }
    inherit(&mut own.text, &under.text);
    inherit(&mut own.font, &under.font);
    inherit(&mut own.tracking, &under.tracking);
    inherit(&mut own.line_pitch, &under.line_pitch);
    inherit(&mut own.align, &under.align);
    inherit(&mut own.width, &under.width);
    inherit(&mut own.spread, &under.spread);
    inherit(&mut own.arc, &under.arc);
    inherit(&mut own.tabular, &under.tabular);
    inherit(&mut own.case, &under.case);
    inherit(&mut own.paint, &under.paint);
    inherit(&mut own.at, &under.at);
    inherit(&mut own.turned, &under.turned);
}

fn frame_over(own: &mut Option<Shorthand<FrameDraft>>, under: &Option<Shorthand<FrameDraft>>) {
    let Some(under) = under else { return };
    let Some(given) = own.take() else {
        *own = Some(under.clone());
        return;
    };
    if matches!(&given, Shorthand::Short(short) if is_none(short)) {
        *own = Some(given);
        return;
    }
    let Some(mut long) = frame_long(given) else { return };
    if let Some(under) = frame_long(under.clone()) {
        fields_of_frame(&mut long, &under);
    }
    *own = Some(Shorthand::Long(Box::new(long)));
}

fn fields_of_frame(own: &mut FrameDraft, under: &FrameDraft) {
    let shaped = own.radius.is_some() || own.slant.is_some() || own.point.is_some();
    let word = |frame: &FrameDraft| frame.shape.as_ref().map(|shape| shape.text.clone());
    let same_shape = own.shape.is_none() || word(own) == word(under);
    if !shaped && same_shape {
        inherit(&mut own.shape, &under.shape);
        own.radius.clone_from(&under.radius);
        own.slant.clone_from(&under.slant);
        own.point.clone_from(&under.point);
    }
    inherit(&mut own.size, &under.size);
    inherit(&mut own.padding, &under.padding);
    inherit(&mut own.least, &under.least);
    inherit(&mut own.fill, &under.fill);
    inherit(&mut own.at, &under.at);
    inherit(&mut own.turned, &under.turned);
    frame_line_over(&mut own.line, &under.line);
}

fn frame_line_over(
    own: &mut Option<Shorthand<FrameLineDraft>>,
    under: &Option<Shorthand<FrameLineDraft>>,
) {
    let Some(under) = under else { return };
    let Some(given) = own.take() else {
        *own = Some(under.clone());
        return;
    };
    if matches!(&given, Shorthand::Short(short) if is_none(short)) {
        *own = Some(given);
        return;
    }
    let Some(mut long) = frame_line_long(given) else { return };
    if let Some(under) = frame_line_long(under.clone()) {
        inherit(&mut long.width, &under.width);
        inherit(&mut long.inset, &under.inset);
        inherit(&mut long.paint, &under.paint);
    }
    *own = Some(Shorthand::Long(Box::new(long)));
}
