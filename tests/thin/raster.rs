//! Thin places by counting pixels.
//!
//! Distances are exact between middles of pixels (Felzenszwalb and Huttenlocher, Distance Transforms of Sampled
//! Functions, 2012). Each pixel of ink knows the nearest pixel without; where two neighbours know pixels that
//! lie opposite each other, they lie on the middle line between two facing sides.

use decalwright::Outline;
use kurbo::{PathEl, Point, Vec2};
use std::collections::BTreeSet;

/// 2,400 dots to the inch.
pub(crate) const PIXEL_MM: f64 = 25.4 / 2400.0;

/// Black and white pixels.
pub(crate) struct Picture {
    corner: Point,
    columns: usize,
    rows: usize,
    filled: Vec<bool>,
}

/// A pixel: its place in the list of all.
pub(crate) type Pixel = usize;

/// A picture with what is thin in it.
pub(crate) struct Judged<'p> {
    picture: &'p Picture,
    limit: f64,
    /// The nearest pixel without ink, for each with ink.
    nearest: Vec<Pixel>,
    /// Pixels on the middle line of two facing sides: width there, mm, and how far from parallel, degrees.
    middles: Vec<(Pixel, f64, f64)>,
}

/// Ink that shrinking and growing loses, in one piece.
pub(crate) struct Piece {
    pub(crate) pixels: Vec<Pixel>,
    pub(crate) area_mm2: f64,
}

impl Picture {
    /// Pixels whose middle is inside, with empty ones round them.
    pub(crate) fn of(outline: &Outline, margin_mm: f64) -> Picture {
        let bounds = outline.bounds().inflate(margin_mm, margin_mm);
        let count = |mm: f64| (mm / PIXEL_MM).ceil() as usize;
        let (columns, rows) = (count(bounds.width()), count(bounds.height()));
        let mut picture =
            Picture { corner: bounds.origin(), columns, rows, filled: vec![false; columns * rows] };
        let mut sides: Vec<(Point, Point)> = Vec::new();
        let (mut start, mut last) = (Point::ZERO, Point::ZERO);
        kurbo::flatten(outline.elements(), 0.0005, |element| match element {
            PathEl::MoveTo(to) => (start, last) = (to, to),
            PathEl::LineTo(to) => {
                sides.push((last, to));
                last = to;
            }
            _ => sides.push((last, start)),
        });
        for row in 0..rows {
            let y = bounds.y0 + (row as f64 + 0.5) * PIXEL_MM;
            let crosses = |(a, b): &(Point, Point)| {
                ((a.y > y) != (b.y > y)).then(|| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x))
            };
            let mut crossings: Vec<f64> = sides.iter().filter_map(crosses).collect();
            crossings.sort_by(f64::total_cmp);
            // No point of an outline is wound round twice, so every other stretch is ink.
            for pair in crossings.chunks_exact(2) {
                let column = |x: f64| ((x - bounds.x0) / PIXEL_MM - 0.5).ceil().max(0.0) as usize;
                for at in column(pair[0])..column(pair[1]).min(columns) {
                    picture.filled[row * columns + at] = true;
                }
            }
        }
        picture
    }

    /// Ink and clear exchanged.
    pub(crate) fn inverted(&self) -> Picture {
        let filled = self.filled.iter().map(|filled| !filled).collect();
        Picture { filled, ..*self }
    }

    pub(crate) fn judged(&self, limit: f64) -> Judged<'_> {
        let nearest = nearest(self.columns, self.rows, |at| !self.filled[at]);
        let mut judged = Judged { picture: self, limit, nearest, middles: Vec::new() };
        judged.find_middles();
        judged
    }

    fn place(&self, pixel: Pixel) -> Vec2 {
        Vec2::new((pixel % self.columns) as f64, (pixel / self.columns) as f64)
    }

    /// The pixels beside one, right, left, down, up.
    fn beside(&self, pixel: Pixel) -> impl Iterator<Item = Pixel> {
        let (columns, rows) = (self.columns, self.rows);
        let (column, row) = (pixel % columns, pixel / columns);
        [
            (column + 1 < columns).then(|| pixel + 1),
            (column > 0).then(|| pixel - 1),
            (row + 1 < rows).then(|| pixel + columns),
            (row > 0).then(|| pixel - columns),
        ]
        .into_iter()
        .flatten()
    }
}

impl Judged<'_> {
    /// The middle of a pixel.
    pub(crate) fn point(&self, pixel: Pixel) -> Point {
        self.picture.corner + (self.picture.place(pixel) + Vec2::new(0.5, 0.5)) * PIXEL_MM
    }

    /// From a pixel of ink to the edge, mm: to the next pixel without ink, less half a pixel.
    fn depth(&self, pixel: Pixel) -> f64 {
        let away = self.picture.place(self.nearest[pixel]) - self.picture.place(pixel);
        (away.hypot() - 0.5) * PIXEL_MM
    }

    fn find_middles(&mut self) {
        let picture = self.picture;
        let (columns, rows) = (picture.columns, picture.rows);
        for pixel in (0..columns * rows).filter(|pixel| picture.filled[*pixel]) {
            for other in [pixel + 1, pixel + columns] {
                if other >= columns * rows || !picture.filled[other] {
                    continue;
                }
                let (a, b) = (self.nearest[pixel], self.nearest[other]);
                let across = picture.place(b) - picture.place(a);
                let middle = (picture.place(pixel) + picture.place(other)) / 2.0;
                let (to_a, to_b) = (picture.place(a) - middle, picture.place(b) - middle);
                let cos = to_a.dot(to_b) / (to_a.hypot() * to_b.hypot());
                let off = 180.0 - cos.clamp(-1.0, 1.0).acos().to_degrees();
                if off < 60.0 {
                    self.middles.push((pixel, (across.hypot() - 1.0) * PIXEL_MM, off));
                }
            }
        }
    }

    /// How wide the ink is round a point, mm: between facing sides there, the one nearest to `wanted_mm` of
    /// them, or as wide as the largest disc.
    pub(crate) fn width_at(&self, at: Point, wanted_mm: f64) -> Option<f64> {
        let mut pixels = self.pixels_near(at);
        pixels.retain(|at| self.picture.filled[*at]);
        // Between sides few pixels apart, half a pixel to either side turns the line across by that much.
        let straight =
            |width: f64, off: f64| off < 14.0 + (2.0 * PIXEL_MM / width).atan().to_degrees();
        let facing = self
            .middles
            .iter()
            .filter(|(pixel, width, off)| straight(*width, *off) && pixels.contains(pixel));
        let facing = facing.map(|(_, width, _)| *width);
        let facing = facing.min_by(|a, b| (a - wanted_mm).abs().total_cmp(&(b - wanted_mm).abs()));
        facing.or_else(|| pixels.iter().map(|pixel| 2.0 * self.depth(*pixel)).reduce(f64::max))
    }

    /// Whether pixels are fine enough to show an edge here: a hairline between two middles leaves no trace.
    pub(crate) fn shows_edge(&self, at: Point) -> bool {
        self.pixels_near(at).into_iter().any(|pixel| {
            !self.picture.filled[pixel] && self.point(pixel).distance(at) < 2.0 * PIXEL_MM
        })
    }

    /// The pixels within four of a point, across and down.
    fn pixels_near(&self, at: Point) -> BTreeSet<Pixel> {
        let picture = self.picture;
        let middle = (at - picture.corner) / PIXEL_MM;
        let window = |middle: f64, most: usize| {
            (middle - 4.0).max(0.0) as usize..((middle + 4.0).max(0.0) as usize).min(most)
        };
        let rows = window(middle.y, picture.rows);
        let pixels = rows.flat_map(|row| {
            window(middle.x, picture.columns).map(move |column| row * picture.columns + column)
        });
        pixels.collect()
    }

    /// Pieces larger than `least_mm2` that are thin beyond doubt: clearly thinner than the limit, and alone,
    /// between thick parts, or with sides that face each other over a length of the limit.
    pub(crate) fn thin_pieces(&self, least_mm2: f64) -> Vec<Piece> {
        let clearly = self.limit - 0.02;
        self.lost(least_mm2)
            .into_iter()
            .filter(|(piece, contacts)| {
                let members: BTreeSet<Pixel> = piece.pixels.iter().copied().collect();
                let facing = self.middles.iter().filter(|(pixel, width, off)| {
                    *off < 5.0
                        && *width < clearly
                        && *width > 4.0 * PIXEL_MM
                        && members.contains(pixel)
                });
                let widths: Vec<f64> = facing.map(|(_, width, _)| *width).collect();
                let (thinnest, thickest) = (
                    widths.iter().copied().fold(f64::INFINITY, f64::min),
                    widths.iter().copied().fold(0.0, f64::max),
                );
                let length = widths.len() as f64 * PIXEL_MM;
                let widest = piece.pixels.iter().map(|pixel| 2.0 * self.depth(*pixel));
                match contacts {
                    0 => widest.reduce(f64::max).is_some_and(|widest| widest < clearly),
                    // A notch or corner of few degrees tapers; a stroke does not.
                    1 => length > 1.5 * self.limit && thinnest > 0.5 * thickest,
                    _ => length > 2.0 * PIXEL_MM,
                }
            })
            .map(|(piece, _)| piece)
            .collect()
    }

    /// What is lost in pieces of some size, and in how many places each piece touches what is left.
    fn lost(&self, least_mm2: f64) -> Vec<(Piece, usize)> {
        let picture = self.picture;
        let (columns, rows) = (picture.columns, picture.rows);
        let kept = |at: Pixel| picture.filled[at] && self.depth(at) >= self.limit / 2.0;
        if !(0..columns * rows).any(kept) {
            let pixels: Vec<Pixel> = (0..columns * rows).filter(|at| picture.filled[*at]).collect();
            let area_mm2 = pixels.len() as f64 * PIXEL_MM * PIXEL_MM;
            return vec![(Piece { pixels, area_mm2 }, 0)];
        }
        let thick = nearest(columns, rows, kept);
        let reach = self.limit / 2.0 / PIXEL_MM + 1.5;
        let away = |at: Pixel| (picture.place(thick[at]) - picture.place(at)).hypot();
        let mut lost: Vec<bool> =
            (0..columns * rows).map(|at| picture.filled[at] && away(at) > reach).collect();
        let mut rim = vec![false; columns * rows];
        let mut pieces = Vec::new();
        for start in 0..columns * rows {
            if lost[start] {
                let pixels = flood(picture, start, &mut lost);
                let area_mm2 = pixels.len() as f64 * PIXEL_MM * PIXEL_MM;
                if area_mm2 < least_mm2 {
                    continue;
                }
                // Parts of the rest within four pixels.
                let (mut front, mut touched) = (pixels.clone(), Vec::new());
                for _ in 0..4 {
                    let next = front.iter().flat_map(|pixel| picture.beside(*pixel));
                    front = next.filter(|at| picture.filled[*at] && away(*at) <= reach).collect();
                    front.retain(|at| !std::mem::replace(&mut rim[*at], true));
                    touched.extend(front.iter().copied());
                }
                let mut contacts = 0;
                for at in touched {
                    if rim[at] {
                        flood(picture, at, &mut rim);
                        contacts += 1;
                    }
                }
                pieces.push((Piece { pixels, area_mm2 }, contacts));
            }
        }
        pieces
    }
}

/// Takes all pixels out of a set that hang together with one of them.
fn flood(picture: &Picture, start: Pixel, set: &mut [bool]) -> Vec<Pixel> {
    set[start] = false;
    let (mut found, mut at) = (vec![start], 0);
    while at < found.len() {
        for next in picture.beside(found[at]) {
            if std::mem::replace(&mut set[next], false) {
                found.push(next);
            }
        }
        at += 1;
    }
    found
}

/// For each pixel the nearest that is wanted.
fn nearest(columns: usize, rows: usize, wanted: impl Fn(Pixel) -> bool) -> Vec<Pixel> {
    const FAR: f64 = 1e12;
    // Down each column: the nearest row.
    let mut in_column = vec![usize::MAX; columns * rows];
    for column in 0..columns {
        for order in [0, 1] {
            let mut last = usize::MAX;
            for step in 0..rows {
                let row = if order == 0 { step } else { rows - 1 - step };
                let at = row * columns + column;
                if wanted(at) {
                    last = row;
                }
                let better = last != usize::MAX
                    && (in_column[at] == usize::MAX
                        || last.abs_diff(row) < in_column[at].abs_diff(row));
                if better {
                    in_column[at] = last;
                }
            }
        }
    }
    let mut result = vec![0; columns * rows];
    let (mut hull, mut from): (Vec<usize>, Vec<f64>) = (Vec::new(), Vec::new());
    for row in 0..rows {
        let height = |column: usize| {
            let nearest = in_column[row * columns + column];
            if nearest == usize::MAX { FAR } else { (nearest.abs_diff(row) as f64).powi(2) }
        };
        hull.clear();
        from.clear();
        for column in 0..columns {
            let c = column as f64;
            let mut start = f64::NEG_INFINITY;
            while let Some(last) = hull.last() {
                let l = *last as f64;
                start = ((height(column) + c * c) - (height(*last) + l * l)) / (2.0 * (c - l));
                if start > *from.last().unwrap() {
                    break;
                }
                hull.pop();
                from.pop();
                start = f64::NEG_INFINITY;
            }
            hull.push(column);
            from.push(start);
        }
        let mut at = 0;
        for column in 0..columns {
            while at + 1 < hull.len() && from[at + 1] <= column as f64 {
                at += 1;
            }
            let row_of = in_column[row * columns + hull[at]];
            if row_of != usize::MAX {
                result[row * columns + column] = row_of * columns + hull[at];
            }
        }
    }
    result
}
