//! How a scale looks: mark sizes, numbers, unit and zones, with what follows from the viewing distance.

use super::{Look, Numbers, ScaleKeys, Side, Track, Values, Zone, ZoneKeys};
use crate::finding::Place;
use crate::spec::element::text::{Text, usual_font};
use crate::spec::element::{Around, Paint};
use crate::spec::reader::{Least, Reader};
use crate::yaml::OneOrList;
use kurbo::Vec2;

/// Lengths and widths of major, middle and minor marks, mm, read from 710 mm in poor light (from memory
/// of MIL-HDBK-759B); they grow with the distance.
const AT_710: [(f64, f64); 3] = [(5.6, 0.89), (4.1, 0.76), (2.5, 0.64)];

/// Viewing distance where none is said, mm: a panel on a bench (common practice, no source).
const USUAL_VIEW: f64 = 400.0;

/// Longest mark as a share of a dial's radius: more crowds the centre (common practice, no source).
const LONGEST: f64 = 0.22;

/// Height of a capital as a share of the viewing distance: 20 minutes of arc (ISO 9241-303),
/// 2 tan(10′) = 0.005818.
const CAP_OF_VIEW: f64 = 0.005_818;

/// Gap between marks and numbers in cap heights (common practice, no source).
const GAP_IN_CAPS: f64 = 0.5;

/// Width of a zone in lengths of a major mark: thicker than any line, so that it is seen without colour
/// (common practice, no source).
const ZONE_IN_MARKS: f64 = 0.6;

/// What a scale's look comes to.
pub(super) struct ScaleStyle {
    pub(super) sizes: [(f64, f64); 3],
    pub(super) side: Side,
    pub(super) numbers: Numbers,
    pub(super) unit: Option<(Text, Vec2)>,
    pub(super) paint: Paint,
    pub(super) detent_gap: f64,
}

/// The sides a zone can lie on: marks alone reach to both.
const SIDES: [(&str, Side); 2] = [("outside", Side::Outside), ("inside", Side::Inside)];

pub(super) fn style(
    keys: &ScaleKeys,
    track: &Track,
    around: &Around,
    reader: &mut Reader,
) -> ScaleStyle {
    let view = reader.length(&keys.view, Least::Something).unwrap_or(USUAL_VIEW);
    let sizes = sizes(keys, track, view, reader);
    let side = reader.word(&keys.marks).unwrap_or(Side::Outside);
    let paint = reader.paint_or_black(&keys.paint);
    let cap = reader.length(&keys.cap_height, Least::Something);
    let cap = cap.unwrap_or(CAP_OF_VIEW * view);
    let font = reader.font_or(&keys.font, usual_font(paint));
    let setting =
        |cap: f64, place: Place| Text { paint, ..Text::new(Vec::new(), font.clone(), cap, place) };
    let unit = unit(keys, track, cap, &setting, reader);
    let numbers = numbers(keys, cap, setting(cap, around.label), reader);
    let [_, _, (_, width)] = sizes;
    let detent_gap = 6.0 * width;
    ScaleStyle { sizes, side, numbers, unit, paint, detent_gap }
}

fn numbers(keys: &ScaleKeys, cap: f64, set: Text, reader: &mut Reader) -> Numbers {
    let sides = [("outside", Some(Side::Outside)), ("inside", Some(Side::Inside)), ("none", None)];
    let turns = [("upright", false), ("radial", true)];
    Numbers {
        side: reader.choice(&keys.numbers, &sides).unwrap_or(Some(Side::Outside)),
        radial: reader.choice(&keys.reads, &turns).unwrap_or(false),
        at: reader.length(&keys.number_radius, Least::Nought),
        gap: reader.length(&keys.number_gap, Least::Nought).unwrap_or(GAP_IN_CAPS * cap),
        set,
    }
}

/// Lengths and widths of the three marks, mm.
fn sizes(keys: &ScaleKeys, track: &Track, view: f64, reader: &mut Reader) -> [(f64, f64); 3] {
    let longest = match track {
        Track::Round { radius, .. } => radius * LONGEST,
        Track::Straight { .. } => f64::INFINITY,
    };
    let [(major, wide), ..] = AT_710;
    let length = (major * view / 710.0).min(longest);
    let lengths = three(&keys.lengths, reader);
    let widths = three(&keys.widths, reader);
    let first = |given: &[f64]| given.first().copied();
    let (long, thick) = (first(&lengths).unwrap_or(length), first(&widths));
    let mut sizes = AT_710.map(|(one, width)| {
        // One width is for all marks; lengths keep their proportion.
        (one / major * long, thick.unwrap_or(width / wide * wide * view / 710.0))
    });
    for (nth, size) in sizes.iter_mut().enumerate() {
        size.0 = lengths.get(nth).copied().unwrap_or(size.0);
        size.1 = widths.get(nth).copied().unwrap_or(size.1);
    }
    sizes
}

/// One to three lengths.
fn three(list: &Option<OneOrList>, reader: &mut Reader) -> Vec<f64> {
    let items = OneOrList::all(list);
    if let [_, _, _, more, ..] = items {
        let help = "a scale has three at most (MIL-HDBK-759B): long, middle and short";
        reader.wrong("bad-pair", more.place, format!("{} sizes of marks", items.len()), help);
    }
    items.iter().filter_map(|typed| reader.length(typed, Least::Something)).collect()
}

fn unit(
    keys: &ScaleKeys,
    track: &Track,
    cap: f64,
    setting: &dyn Fn(f64, Place) -> Text,
    reader: &mut Reader,
) -> Option<(Text, Vec2)> {
    let typed = keys.unit.as_ref()?;
    let cap = reader.length(&keys.unit_height, Least::Something).unwrap_or(cap);
    let at = match &keys.unit_at {
        Some(_) => reader.at(&keys.unit_at),
        None => usual_unit_at(track),
    };
    let mut text = setting(cap, typed.place);
    text.lines = vec![typed.trimmed().to_owned()];
    (!typed.trimmed().is_empty()).then_some((text, at))
}

/// In the gap of a dial that goes most of the way round, between scale and centre of a shorter one, and
/// under a straight scale.
fn usual_unit_at(track: &Track) -> Vec2 {
    match *track {
        Track::Round { radius, start, sweep } => {
            let middle = (start + sweep / 2.0).to_radians();
            let out = if sweep.abs() > 200.0 { -0.9 * radius } else { 0.55 * radius };
            Vec2::new(libm::sin(middle), -libm::cos(middle)) * out
        }
        Track::Straight { length, outside } => {
            let along = (outside + 90.0).to_radians();
            Vec2::new(libm::sin(along), -libm::cos(along)) * (length / 2.0 + 6.0)
        }
    }
}

/// A coloured stretch; `None`, and reported, where it has no two ends.
pub(super) fn zone(
    keys: &ZoneKeys,
    values: &Values,
    style: &ScaleStyle,
    reader: &mut Reader,
) -> Option<Zone> {
    let [(long, _), ..] = style.sizes;
    let (Some(from), Some(to)) = (&keys.from, &keys.to) else {
        let place = [&keys.from, &keys.to, &keys.paint].into_iter().flatten().next();
        let place = place.map(|typed| typed.place).unwrap_or_default();
        let message = "a zone needs `from` and `to`";
        reader.wrong("missing", place, message, "add them: {from: 8, to: 10, paint: black}");
        return None;
    };
    let (from, to) = (values.typed(from, reader), values.typed(to, reader));
    let width = reader.length(&keys.width, Least::Something);
    let width = width.unwrap_or(long * ZONE_IN_MARKS);
    let gap = reader.length(&keys.gap, Least::Nought).unwrap_or(0.0);
    let usual = if style.side == Side::Outside { Side::Inside } else { Side::Outside };
    let side = reader.choice(&keys.side, &SIDES).unwrap_or(usual);
    let look = reader.word(&keys.look).unwrap_or(Look::Solid);
    let paint = reader.paint_or_black(&keys.paint);
    let (from, to) = (from?, to?);
    let across = match side {
        Side::Inside => (-gap - width, -gap),
        Side::Outside | Side::Both => (gap, gap + width),
    };
    Some(Zone { shares: (from.min(to), from.max(to)), across, look, paint })
}
