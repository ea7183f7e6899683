//! Where a scale's marks are, and what stands beside them.

use super::{MarkSize, ScaleKeys, ScaleMark, Values, needed_value, value};
use crate::finding::{Place, quoted};
use crate::spec::reader::{Reader, plain_number};
use crate::units::fixed;
use crate::yaml::{OneOrList, Scalar};

/// The most marks on one scale: three to a degree all round.
const MOST_MARKS: usize = 1000;

/// Two marks nearer than this share of the scale are one.
const SAME: f64 = 1e-7;

/// All marks and words, in order along the scale.
pub(super) fn marks(
    keys: &ScaleKeys,
    values: &Values,
    place: Place,
    reader: &mut Reader,
) -> Vec<ScaleMark> {
    let mut marks = majors(keys, values, reader);
    between(keys, values, &mut marks, reader);
    for (many, size) in [(&keys.middle, MarkSize::Middle), (&keys.minor, MarkSize::Minor)] {
        for (share, _) in stepped(many, values, reader) {
            add(&mut marks, ScaleMark { share, size: Some(size), text: None });
        }
    }
    words(keys, values, &mut marks, reader);
    if marks.len() > MOST_MARKS {
        let message = format!("{} marks on one scale", marks.len());
        reader.wrong("too-many", place, message, format!("at most {MOST_MARKS} can be told apart"));
        marks.truncate(MOST_MARKS);
    }
    if marks.is_empty() {
        let message = "the scale has no marks";
        reader.wrong("empty-scale", place, message, "add `step`, `values` or a `table`");
    }
    marks.sort_by(|a, b| a.share.total_cmp(&b.share));
    marks
}

/// The shares of a list of values.
pub(super) fn shares(list: &Option<OneOrList>, values: &Values, reader: &mut Reader) -> Vec<f64> {
    OneOrList::all(list).iter().filter_map(|typed| values.typed(typed, reader)).collect()
}

/// Adds a mark unless a longer one is there.
fn add(marks: &mut Vec<ScaleMark>, mark: ScaleMark) {
    if !marks.iter().any(|known| (known.share - mark.share).abs() < SAME) {
        marks.push(mark);
    }
}

/// The long marks with their numbers.
fn majors(keys: &ScaleKeys, values: &Values, reader: &mut Reader) -> Vec<ScaleMark> {
    let major = |share, text| ScaleMark { share, size: Some(MarkSize::Major), text: Some(text) };
    let mut marks: Vec<ScaleMark> =
        values.rows.iter().map(|(text, share)| major(*share, shown(text))).collect();
    for typed in keys.values.iter().flat_map(|many| &many.items) {
        if let Some(share) = values.typed(typed, reader) {
            add(&mut marks, major(share, shown(typed.trimmed())));
        }
    }
    let step = keys.step.as_ref().filter(|_| keys.table.is_empty());
    if let Some(step) = step {
        for (share, text) in multiples(step, values, reader) {
            add(&mut marks, major(share, shown(&text)));
        }
    }
    marks
}

/// A number as it is printed: a true minus, the sign for infinity.
fn shown(text: &str) -> String {
    match value(text) {
        Some(f64::INFINITY) => "∞".to_owned(),
        Some(f64::NEG_INFINITY) => "−∞".to_owned(),
        Some(_) => text.replace('-', "\u{2212}"),
        None => text.to_owned(),
    }
}

/// A step's multiples, or the values of a list.
fn stepped(many: &Option<OneOrList>, values: &Values, reader: &mut Reader) -> Vec<(f64, String)> {
    let Some(many) = many else { return Vec::new() };
    match many.items.as_slice() {
        [step] if !many.listed => multiples(step, values, reader),
        items => {
            let share = |typed: &Scalar| Some((values.typed(typed, reader)?, typed.text.clone()));
            items.iter().filter_map(share).collect()
        }
    }
}

/// Every multiple of a step on the scale, with its share and number.
fn multiples(step: &Scalar, values: &Values, reader: &mut Reader) -> Vec<(f64, String)> {
    let (low, high) = values.span();
    let Some(size) = plain_number(step.text.trim()).filter(|size| *size > 0.0) else {
        let message = format!("{} is no step", quoted(&step.text));
        reader.wrong("bad-number", step.place, message, "give a number above 0");
        return Vec::new();
    };
    if !(high - low).is_finite() {
        let message = "a scale that runs to infinity has no even steps";
        reader.wrong("bad-number", step.place, message, "list its numbers in `values`");
        return Vec::new();
    }
    // A millionth of a step is what adding leaves, not what anyone meant.
    let (first, last) = ((low / size - 1e-6).ceil(), (high / size + 1e-6).floor());
    #[allow(clippy::cast_precision_loss, reason = "a thousand")]
    let most = MOST_MARKS as f64;
    if last - first > most {
        let message = format!("{} makes more than {MOST_MARKS} marks", quoted(&step.text));
        reader.wrong("too-many", step.place, message, "make the step larger");
        return Vec::new();
    }
    let places = step.text.trim().split_once('.').map_or(0, |(_, after)| after.len().min(6));
    let mut found = Vec::new();
    let mut at = first;
    while at <= last {
        let value = at * size;
        let text = fixed(value, places).to_string();
        found.extend(values.share(value, step.place, reader).map(|share| (share, text)));
        at += 1.0;
    }
    found
}

/// Marks between neighbouring numbers, even in value; the middle one of three or more is longer.
fn between(keys: &ScaleKeys, values: &Values, marks: &mut Vec<ScaleMark>, reader: &mut Reader) {
    let Some(many) = &keys.between else { return };
    let counts: Vec<u32> =
        many.items.iter().filter_map(|typed| reader.count(typed, 0..=99)).collect();
    let numbered = numbered(keys, values);
    let place = many.items.first().map(|item| item.place).unwrap_or_default();
    let gaps = numbered.iter().zip(numbered.iter().skip(1));
    for ((low, high), count) in gaps.zip(counts.iter().cycle()) {
        if !(high - low).is_finite() {
            continue;
        }
        for nth in 1..=*count {
            let value = low + (high - low) * f64::from(nth) / f64::from(count + 1);
            let is_middle = *count >= 3 && 2 * nth == count + 1;
            let size = if is_middle { MarkSize::Middle } else { MarkSize::Minor };
            if let Some(share) = values.share(value, place, reader) {
                add(marks, ScaleMark { share, size: Some(size), text: None });
            }
        }
    }
}

/// The values of the long marks, in order from the scale's start.
fn numbered(keys: &ScaleKeys, values: &Values) -> Vec<f64> {
    let (low, high) = values.span();
    let mut found: Vec<f64> = values.rows.iter().filter_map(|(row, _)| value(row)).collect();
    let listed = keys.values.iter().flat_map(|many| &many.items);
    found.extend(listed.filter_map(|typed| value(typed.trimmed())));
    let step = keys.step.as_ref().and_then(|step| plain_number(step.text.trim()));
    if let Some(step) = step.filter(|step| *step > 0.0 && (high - low) / step < 1e3) {
        let mut at = (low / step - 1e-6).ceil();
        while at * step <= high + step * 1e-6 {
            found.push(at * step);
            at += 1.0;
        }
    }
    found.retain(|value| *value >= low && *value <= high);
    found.sort_by(f64::total_cmp);
    found.dedup();
    if values.ends.0 > values.ends.1 {
        found.reverse();
    }
    found
}

/// Words in place of numbers, and words where there is no mark.
fn words(keys: &ScaleKeys, values: &Values, marks: &mut Vec<ScaleMark>, reader: &mut Reader) {
    for (key, typed) in &keys.texts {
        let share = match key.trim() {
            "from" => Some(0.0),
            "to" => Some(1.0),
            key => {
                let key = Scalar { text: key.to_owned(), place: typed.place };
                let known = values.rows.iter().find(|(row, _)| *row == key.text);
                known.map(|(_, share)| *share).or_else(|| {
                    let value = needed_value(&key, reader)?;
                    values.share(value, typed.place, reader)
                })
            }
        };
        let Some(share) = share else { continue };
        let words = typed.trimmed();
        let text = (!words.is_empty()).then(|| words.to_owned());
        let there = marks.iter_mut().find(|mark| (mark.share - share).abs() < SAME);
        match (there, text) {
            (Some(mark), text) => mark.text = text,
            (None, None) => {}
            (None, text) => marks.push(ScaleMark { share, size: None, text }),
        }
    }
}
