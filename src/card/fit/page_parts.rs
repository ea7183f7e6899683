//! A drawing spread over pages that butt against each other.

use kurbo::{Point, Rect, Size, Vec2};

/// One page's part of a drawing.
#[derive(Clone, Debug)]
pub(super) struct PagePart {
    /// From 1, row by row.
    pub(super) number: usize,
    /// The part, in the drawing's frame, mm.
    pub(super) part: Rect,
    /// From the drawing's frame to the page's.
    pub(super) shift: Vec2,
    /// The edges where another page goes on, as (from, to) in the drawing's frame.
    pub(super) joints: Vec<(Point, Point)>,
}

/// The fewest pages for a drawing, upright before lying, and their paper; `room` is what a paper leaves for it.
pub(super) fn spread(
    area: Rect,
    paper: Size,
    room: impl Fn(Size) -> Rect,
) -> (Size, Vec<PagePart>) {
    let count = |paper: Size| {
        let room = room(paper);
        (pages(area.width(), room.width()), pages(area.height(), room.height()))
    };
    let lying = Size::new(paper.height, paper.width);
    let pages_of = |(across, down): (u32, u32)| across * down;
    let paper = if pages_of(count(lying)) < pages_of(count(paper)) { lying } else { paper };
    let (across, down) = count(paper);
    let room = room(paper);
    // All parts are of one size, so that no page holds only a sliver.
    let step = Vec2::new(area.width() / f64::from(across), area.height() / f64::from(down));
    let mut parts = Vec::new();
    for row in 0..down {
        for column in 0..across {
            let corner = Vec2::new(f64::from(column) * step.x, f64::from(row) * step.y);
            let part = Rect::from_origin_size(area.origin() + corner, (step.x, step.y));
            let corners = |x0, y0, x1, y1| (Point::new(x0, y0), Point::new(x1, y1));
            let Rect { x0, y0, x1, y1 } = part;
            let joints = [
                (column > 0).then(|| corners(x0, y0, x0, y1)),
                (column + 1 < across).then(|| corners(x1, y0, x1, y1)),
                (row > 0).then(|| corners(x0, y0, x1, y0)),
                (row + 1 < down).then(|| corners(x0, y1, x1, y1)),
            ];
            parts.push(PagePart {
                number: parts.len() + 1,
                part,
                shift: room.origin() - part.origin(),
                joints: joints.into_iter().flatten().collect(),
            });
        }
    }
    (paper, parts)
}

/// How many pages of this room a length takes.
fn pages(length_mm: f64, room_mm: f64) -> u32 {
    (1..1000).find(|count| f64::from(*count) * room_mm >= length_mm - 1e-6).unwrap_or(1000)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_cover_the_drawing_and_lie_in_the_room() {
        // 400 x 260 on A4 (ISO 216: 210 x 297): lying, 277 x 178 of room, two across and two down;
        // upright, 190 x 265, it would be six.
        let area = Rect::new(-209.0, -139.0, 201.0, 131.0);
        let room = |paper: Size| Rect::new(10.0, 13.0, paper.width - 10.0, paper.height - 19.0);
        let (paper, parts) = spread(area, Size::new(210.0, 297.0), room);
        let covered: f64 = parts.iter().map(|page| page.part.area()).sum();
        assert!((covered - area.area()).abs() < 1e-6);
        for page in &parts {
            let lies = page.part + page.shift;
            let room = room(paper).inflate(1e-6, 1e-6);
            assert_eq!(lies.union(room), room);
        }
        let joints: usize = parts.iter().map(|page| page.joints.len()).sum();
        assert_eq!((parts.len(), joints), (4, 8));
    }

    #[test]
    fn a_small_panel_takes_one_upright_page() {
        let area = Rect::new(-50.0, -40.0, 50.0, 40.0);
        let (paper, parts) = spread(area, Size::new(210.0, 297.0), |paper| paper.to_rect());
        assert_eq!((parts.len(), paper.width), (1, 210.0));
        assert!(parts[0].joints.is_empty());
    }
}
