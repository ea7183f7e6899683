//! Upright rectangles in whole nanometres, and the free ones left between them.
//!
//! Whole numbers make an exact fit exact: 203.2 mm in 203.2 mm leaves nothing and needs no slack.

use kurbo::{Rect, Size};
use std::cmp::Reverse;

/// To whole nanometres, nearest: a millionth of a millimetre is the slack of every fit.
pub(in crate::sheet) fn nanometres(mm: f64) -> i64 {
    #[allow(clippy::cast_possible_truncation, reason = "lengths end at 100 m, 1e11 nm")]
    let nanometres = (mm * 1e6).round() as i64;
    nanometres
}

/// Back to millimetres.
pub(in crate::sheet) fn millimetres(nanometres: i64) -> f64 {
    #[allow(clippy::cast_precision_loss, reason = "at most 1e11 nm, exact in an f64")]
    let nanometres = nanometres as f64;
    nanometres / 1e6
}

/// A width and a height, nanometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::sheet) struct NmSize {
    pub(in crate::sheet) width: i64,
    pub(in crate::sheet) height: i64,
}

impl NmSize {
    /// A size in millimetres, each length to the nearest nanometre.
    pub(in crate::sheet) fn of(mm: Size) -> NmSize {
        NmSize { width: nanometres(mm.width), height: nanometres(mm.height) }
    }

    /// Back to millimetres.
    pub(in crate::sheet) fn to_mm(self) -> Size {
        Size::new(millimetres(self.width), millimetres(self.height))
    }

    /// A square.
    pub(in crate::sheet) fn square(side: i64) -> NmSize {
        NmSize { width: side, height: side }
    }

    /// The same with a quarter turn.
    pub(in crate::sheet) fn turned(self) -> NmSize {
        NmSize { width: self.height, height: self.width }
    }

    /// Area in nm²: a sheet of 100 m a side is 1e22, more than 64 bits hold.
    pub(in crate::sheet) fn area(self) -> i128 {
        i128::from(self.width) * i128::from(self.height)
    }

    /// Whether it is no wider and no higher than the other.
    pub(in crate::sheet) fn fits(self, other: NmSize) -> bool {
        self.width <= other.width && self.height <= other.height
    }
}

/// An upright rectangle, nanometres, y down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::sheet) struct NmRect {
    pub(in crate::sheet) y0: i64,
    pub(in crate::sheet) x0: i64,
    pub(in crate::sheet) y1: i64,
    pub(in crate::sheet) x1: i64,
}

impl NmRect {
    /// From its top left corner and size.
    pub(in crate::sheet) fn at(x: i64, y: i64, size: NmSize) -> NmRect {
        NmRect { y0: y, x0: x, y1: y + size.height, x1: x + size.width }
    }

    /// A rectangle in millimetres, each edge to the nearest nanometre.
    pub(in crate::sheet) fn of(mm: Rect) -> NmRect {
        let [x0, y0, x1, y1] = [mm.x0, mm.y0, mm.x1, mm.y1].map(nanometres);
        NmRect { y0, x0, y1, x1 }
    }

    /// Back to millimetres.
    pub(in crate::sheet) fn to_mm(self) -> Rect {
        let [x0, y0, x1, y1] = [self.x0, self.y0, self.x1, self.y1].map(millimetres);
        Rect { x0, y0, x1, y1 }
    }

    pub(in crate::sheet) fn size(&self) -> NmSize {
        NmSize { width: self.x1 - self.x0, height: self.y1 - self.y0 }
    }

    /// Area in nm².
    pub(in crate::sheet) fn area(&self) -> i128 {
        self.size().area()
    }

    /// Whether the insides overlap; edges may touch.
    pub(in crate::sheet) fn meets(&self, other: &NmRect) -> bool {
        self.x0 < other.x1 && other.x0 < self.x1 && self.y0 < other.y1 && other.y0 < self.y1
    }

    /// Whether all of the other lies in this one.
    pub(in crate::sheet) fn holds(&self, other: &NmRect) -> bool {
        self.x0 <= other.x0 && self.y0 <= other.y0 && self.x1 >= other.x1 && self.y1 >= other.y1
    }
}

/// All largest free rectangles of `area` (those that cannot grow any way) of at least this width and
/// height once `taken` are in place.
pub(in crate::sheet) fn free(area: NmRect, taken: &[NmRect], least: NmSize) -> Vec<NmRect> {
    let mut free = vec![area];
    for rect in taken {
        carve(&mut free, *rect, least);
    }
    free
}

/// The one with most area of all free rectangles at least this wide and high, mm.
pub(in crate::sheet) fn largest_free(
    area: NmRect,
    taken: &[NmRect],
    narrowest_mm: f64,
) -> Option<NmRect> {
    let least = NmSize::square(nanometres(narrowest_mm));
    free(area, taken, least).into_iter().max_by_key(NmRect::area)
}

/// Takes a rectangle out of a list of largest free rectangles; those that become smaller than `least` are dropped.
pub(super) fn carve(free: &mut Vec<NmRect>, taken: NmRect, least: NmSize) {
    let is_kept = |part: &NmRect| {
        let size = part.size();
        size.width > 0 && size.height > 0 && least.fits(size)
    };
    let mut parts = Vec::new();
    free.retain(|whole| {
        if !whole.meets(&taken) {
            return true;
        }
        let round = [
            NmRect { x1: taken.x0, ..*whole },
            NmRect { x0: taken.x1, ..*whole },
            NmRect { y1: taken.y0, ..*whole },
            NmRect { y0: taken.y1, ..*whole },
        ];
        parts.extend(round.into_iter().filter(is_kept));
        false
    });
    // Only new rectangles can lie inside others; from the largest down, each is compared with those kept.
    parts.sort_by_key(|part| (Reverse(part.area()), *part));
    for part in parts {
        if !free.iter().any(|whole| whole.holds(&part)) {
            free.push(part);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rect(x: i64, y: i64, width: i64, height: i64) -> NmRect {
        NmRect::at(x, y, NmSize { width, height })
    }

    #[test]
    fn a_hole_in_the_middle_leaves_four_strips() {
        // A 30 x 30 area with its middle 10 x 10 taken: two strips 10 x 30 and two 30 x 10 (by drawing).
        let middle = rect(10, 10, 10, 10);
        let mut strips = free(rect(0, 0, 30, 30), &[middle], NmSize::square(1));
        strips.sort();
        let wanted =
            [rect(0, 0, 30, 10), rect(0, 0, 10, 30), rect(20, 0, 10, 30), rect(0, 20, 30, 10)];
        assert_eq!(strips, wanted);
    }

    #[test]
    fn free_rectangles_meet_nothing_and_none_holds_another() {
        let taken: Vec<NmRect> =
            (0..12).map(|n| rect(n * 37 % 80, n * 53 % 80, 9 + n % 5, 7 + n % 7)).collect();
        let free = free(rect(0, 0, 100, 100), &taken, NmSize::square(1));
        assert!(free.len() > 4);
        for (at, one) in free.iter().enumerate() {
            assert!(!taken.iter().any(|taken| taken.meets(one)));
            for (to, other) in free.iter().enumerate() {
                assert!(at == to || !one.holds(other));
            }
        }
    }
}
