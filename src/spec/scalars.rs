//! A walk over every scalar of a label, in the order people read them.
//!
//! Words and columns are filled in on this walk, and the first scalar met is where a part stands.

use super::art_draft::{ArtDraft, SymbolDraft};
use super::code_draft::CodeDraft;
use super::dial_draft::ArcDraft;
use super::draft::{
    ChevronDraft, DiscDraft, FrameDraft, FrameLineDraft, GroupDraft, LabelDraft, LineDraft,
    PartDraft, RingDraft, TextDraft,
};
use super::panel_draft::BracketDraft;
use super::seen_draft::{ViewedDraft, WhiteDraft};
use super::typed::{Many, Shorthand, Typed};
use crate::finding::Place;

/// What is done with each scalar.
type Visit<'v> = &'v mut dyn FnMut(&mut Typed);

/// Where a label stands: its name, else its words, else its first scalar.
pub(super) fn label_place(label: &mut LabelDraft) -> Option<Place> {
    let style = label.style.as_ref().map(|style| style.place);
    first(|visit| each_of_label(label, visit)).or(style)
}

/// Where a part stands: its first scalar.
pub(super) fn part_place(part: &mut PartDraft) -> Option<Place> {
    first(|visit| each_of_part(part, visit))
}

fn first(walk: impl FnOnce(Visit<'_>)) -> Option<Place> {
    let mut found = None;
    walk(&mut |typed: &mut Typed| {
        found.get_or_insert(typed.place);
    });
    found
}

/// Visits every scalar of a label but its `style`, `rows`, `series` and `panel`, which are settled before.
pub(super) fn each_of_label(label: &mut LabelDraft, visit: Visit<'_>) {
    one(&mut label.name, visit);
    if let Some(text) = &mut label.text {
        short(text, visit, text_map);
    }
    if let Some(frame) = &mut label.frame {
        short(frame, visit, frame_map);
    }
    for part in label.parts.iter_mut().flatten() {
        each_of_part(part, visit);
    }
    let singles = [
        &mut label.on,
        &mut label.film,
        &mut label.copies,
        &mut label.spares,
        &mut label.applied,
        &mut label.handed,
        &mut label.bleed,
        &mut label.film_border,
        &mut label.corner,
        &mut label.lift,
        &mut label.note,
        &mut label.side,
        &mut label.gap,
        &mut label.from_middle,
        &mut label.level,
    ];
    for single in singles {
        one(single, visit);
    }
    for list in
        [&mut label.size, &mut label.split, &mut label.allow, &mut label.hole, &mut label.at]
    {
        many(list, visit);
    }
    if let Some(viewed) = &mut label.viewed_from {
        short(viewed, visit, viewed_map);
    }
    if let Some(white) = &mut label.white {
        short(white, visit, white_map);
    }
}

fn viewed_map(viewed: &mut ViewedDraft, visit: Visit<'_>) {
    for single in [&mut viewed.distance, &mut viewed.reading] {
        one(single, visit);
    }
}

fn white_map(white: &mut WhiteDraft, visit: Visit<'_>) {
    for single in [&mut white.way, &mut white.area, &mut white.tint, &mut white.choke] {
        one(single, visit);
    }
    many(&mut white.of, visit);
}

fn each_of_part(part: &mut PartDraft, visit: Visit<'_>) {
    if let Some(text) = &mut part.text {
        short(text, visit, text_map);
    }
    if let Some(frame) = &mut part.frame {
        short(frame, visit, frame_map);
    }
    if let Some(line) = &mut part.line {
        line_map(line, visit);
    }
    if let Some(ring) = &mut part.ring {
        ring_map(ring, visit);
    }
    if let Some(disc) = &mut part.disc {
        disc_map(disc, visit);
    }
    if let Some(chevron) = &mut part.chevron {
        chevron_map(chevron, visit);
    }
    for scale in [&mut part.dial, &mut part.scale].into_iter().flatten() {
        scale.each(visit);
    }
    if let Some(symbol) = &mut part.symbol {
        short(symbol, visit, symbol_map);
    }
    if let Some(art) = &mut part.art {
        art_map(art, visit);
    }
    if let Some(code) = &mut part.code {
        code_map(code, visit);
    }
    if let Some(bracket) = &mut part.bracket {
        bracket_map(bracket, visit);
    }
    for group in [&mut part.row, &mut part.column].into_iter().flatten() {
        group_map(group, visit);
    }
}

fn one(typed: &mut Option<Typed>, visit: Visit<'_>) {
    if let Some(typed) = typed {
        visit(typed);
    }
}

fn many(list: &mut Option<Many>, visit: Visit<'_>) {
    for item in list.iter_mut().flat_map(|list| &mut list.items) {
        visit(item);
    }
}

fn short<T>(value: &mut Shorthand<T>, visit: Visit<'_>, long: fn(&mut T, Visit<'_>)) {
    match value {
        Shorthand::Short(list) => list.items.iter_mut().for_each(visit),
        Shorthand::Long(map) => long(map, visit),
    }
}

fn text_map(text: &mut TextDraft, visit: Visit<'_>) {
    many(&mut text.text, visit);
    let singles = [
        &mut text.font,
        &mut text.cap_height,
        &mut text.em,
        &mut text.tracking,
        &mut text.line_pitch,
        &mut text.align,
        &mut text.width,
        &mut text.spread,
        &mut text.tabular,
        &mut text.case,
        &mut text.paint,
        &mut text.turned,
    ];
    for single in singles {
        one(single, visit);
    }
    for single in text.arc.iter_mut().flat_map(ArcDraft::singles) {
        one(single, visit);
    }
    many(&mut text.fit, visit);
    many(&mut text.at, visit);
}

fn frame_map(frame: &mut FrameDraft, visit: Visit<'_>) {
    for list in [&mut frame.size, &mut frame.padding, &mut frame.least, &mut frame.at] {
        many(list, visit);
    }
    let singles = [
        &mut frame.shape,
        &mut frame.radius,
        &mut frame.slant,
        &mut frame.point,
        &mut frame.fill,
        &mut frame.turned,
    ];
    for single in singles {
        one(single, visit);
    }
    if let Some(line) = &mut frame.line {
        short(line, visit, frame_line_map);
    }
}

fn frame_line_map(line: &mut FrameLineDraft, visit: Visit<'_>) {
    for single in [&mut line.width, &mut line.inset, &mut line.paint] {
        one(single, visit);
    }
}

fn line_map(line: &mut LineDraft, visit: Visit<'_>) {
    let singles = [
        &mut line.length,
        &mut line.width,
        &mut line.count,
        &mut line.pitch,
        &mut line.slant,
        &mut line.head,
        &mut line.turned,
    ];
    for single in singles {
        one(single, visit);
    }
    for list in [&mut line.ends, &mut line.paint, &mut line.at] {
        many(list, visit);
    }
}

fn ring_map(ring: &mut RingDraft, visit: Visit<'_>) {
    for single in [&mut ring.outer, &mut ring.inner, &mut ring.paint] {
        one(single, visit);
    }
    many(&mut ring.at, visit);
}

fn disc_map(disc: &mut DiscDraft, visit: Visit<'_>) {
    for single in [&mut disc.diameter, &mut disc.paint] {
        one(single, visit);
    }
    many(&mut disc.at, visit);
}

fn chevron_map(chevron: &mut ChevronDraft, visit: Visit<'_>) {
    let singles = [
        &mut chevron.count,
        &mut chevron.width,
        &mut chevron.gap,
        &mut chevron.height,
        &mut chevron.angle,
        &mut chevron.turned,
    ];
    for single in singles {
        one(single, visit);
    }
    many(&mut chevron.paint, visit);
    many(&mut chevron.at, visit);
}

fn symbol_map(symbol: &mut SymbolDraft, visit: Visit<'_>) {
    let singles = [
        &mut symbol.name,
        &mut symbol.size,
        &mut symbol.stroke,
        &mut symbol.paint,
        &mut symbol.turned,
    ];
    for single in singles {
        one(single, visit);
    }
    many(&mut symbol.at, visit);
}

fn art_map(art: &mut ArtDraft, visit: Visit<'_>) {
    let singles = [&mut art.file, &mut art.width, &mut art.height, &mut art.paint, &mut art.turned];
    for single in singles {
        one(single, visit);
    }
    for list in [&mut art.size, &mut art.fit, &mut art.at] {
        many(list, visit);
    }
}

fn code_map(code: &mut CodeDraft, visit: Visit<'_>) {
    let singles = [
        &mut code.text,
        &mut code.kind,
        &mut code.module,
        &mut code.level,
        &mut code.quiet,
        &mut code.paint,
        &mut code.turned,
    ];
    for single in singles {
        one(single, visit);
    }
    many(&mut code.size, visit);
    many(&mut code.at, visit);
}

fn group_map(group: &mut GroupDraft, visit: Visit<'_>) {
    for part in &mut group.parts {
        each_of_part(part, visit);
    }
    for single in [&mut group.gap, &mut group.align, &mut group.turned] {
        one(single, visit);
    }
    many(&mut group.at, visit);
}

fn bracket_map(bracket: &mut BracketDraft, visit: Visit<'_>) {
    if let Some(title) = &mut bracket.title {
        short(title, visit, text_map);
    }
    let singles = [
        &mut bracket.length,
        &mut bracket.ends,
        &mut bracket.bent,
        &mut bracket.width,
        &mut bracket.paint,
        &mut bracket.turned,
    ];
    for single in singles {
        one(single, visit);
    }
    many(&mut bracket.at, visit);
}
