//! Scales calibrated by hand: each value or word with its angle, or its distance on a straight scale.

use super::{Law, ScaleKeys, Track, Values, value};
use crate::spec::reader::{Least, Reader};

/// The most rows of a table.
const MOST_ROWS: usize = 500;

/// Track and values of a table, in order of angle or distance.
pub(super) fn read(
    draft: &ScaleKeys,
    track: Track,
    reader: &mut Reader<'_, '_>,
) -> Option<(Track, Values)> {
    let first = draft.table.values().next()?.place;
    let mut rows: Vec<(String, f64)> = Vec::with_capacity(draft.table.len());
    for (key, typed) in draft.table.iter().take(MOST_ROWS) {
        let at = match track {
            Track::Round { .. } => reader.degrees(typed, -720.0..=720.0),
            Track::Straight { .. } => reader.length(typed, Least::Nought),
        };
        rows.extend(at.map(|at| (key.trim().to_owned(), at)));
    }
    rows.sort_by(|a, b| a.1.total_cmp(&b.1).then_with(|| a.0.cmp(&b.0)));
    let (start, end) = (rows.first()?.1, rows.last()?.1);
    if draft.table.len() > MOST_ROWS || end - start < 1e-9 || end - start > 360.0 && is_round(track)
    {
        let message =
            "the table has too few or too many rows, or goes round more than once".to_owned();
        let help = format!("give 2 to {MOST_ROWS} values, with angles less than 360 degrees apart");
        reader.wrong("bad-table", first, message, help);
        return None;
    }
    let track = match track {
        Track::Round { radius, .. } => Track::Round { radius, start, sweep: end - start },
        straight @ Track::Straight { length, .. } => {
            if end > length + 1e-9 {
                let message =
                    format!("the table reaches to {end} mm, the scale is {length} mm long");
                reader.wrong("value-outside", first, message, "make `length` at least that long");
            }
            straight
        }
    };
    let share = |at: f64| match track {
        Track::Round { start, sweep, .. } => (at - start) / sweep,
        Track::Straight { length, .. } => at / length,
    };
    for row in &mut rows {
        row.1 = share(row.1);
    }
    let mut law: Vec<(f64, f64)> =
        rows.iter().filter_map(|(key, share)| Some((value(key)?, *share))).collect();
    law.sort_by(|a, b| a.0.total_cmp(&b.0));
    let ends = (law.first().map_or(0.0, |row| row.0), law.last().map_or(0.0, |row| row.0));
    Some((track, Values { law: Law::Table(law), ends, rows }))
}

fn is_round(track: Track) -> bool {
    matches!(track, Track::Round { .. })
}
