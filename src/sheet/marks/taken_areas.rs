//! Which rectangles lie near a place on the sheet, without asking all of them.

use kurbo::{Rect, Size};

/// Side of a bucket, mm: about a small label, so that few buckets hold few rectangles each.
const BUCKET: f64 = 10.0;

/// Most buckets across or down; what lies beyond on a sheet larger than 3 m shares the last.
const MOST: usize = 300;

/// Rectangles on a sheet, found by where they are.
pub(super) struct TakenAreas {
    columns: usize,
    rows: usize,
    buckets: Vec<Vec<Rect>>,
}

impl TakenAreas {
    pub(super) fn new(sheet: Size) -> TakenAreas {
        let columns = bucket(sheet.width, MOST - 1) + 1;
        let rows = bucket(sheet.height, MOST - 1) + 1;
        TakenAreas { columns, rows, buckets: vec![Vec::new(); columns * rows] }
    }

    pub(super) fn add(&mut self, rect: Rect) {
        let indices: Vec<usize> = self.indices(rect).collect();
        for index in indices {
            if let Some(bucket) = self.buckets.get_mut(index) {
                bucket.push(rect);
            }
        }
    }

    /// Those that may lie in or at a rectangle; some more than once.
    pub(super) fn near(&self, rect: Rect) -> impl Iterator<Item = &Rect> {
        self.indices(rect).filter_map(|index| self.buckets.get(index)).flatten()
    }

    /// Whether any overlaps a rectangle by more than a nanometre.
    pub(super) fn hits(&self, rect: Rect) -> bool {
        const SLACK: f64 = 1e-6;
        self.near(rect).any(|taken| {
            taken.x0 < rect.x1 - SLACK
                && rect.x0 < taken.x1 - SLACK
                && taken.y0 < rect.y1 - SLACK
                && rect.y0 < taken.y1 - SLACK
        })
    }

    fn indices(&self, rect: Rect) -> impl Iterator<Item = usize> + use<> {
        let columns = self.columns;
        let across = bucket(rect.x0, columns - 1)..=bucket(rect.x1, columns - 1);
        let down = bucket(rect.y0, self.rows - 1)..=bucket(rect.y1, self.rows - 1);
        down.flat_map(move |row| across.clone().map(move |column| row * columns + column))
    }
}

fn bucket(mm: f64, last: usize) -> usize {
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a float outside the range of an integer becomes its nearest end"
    )]
    let bucket = (mm / BUCKET) as usize;
    bucket.min(last)
}
