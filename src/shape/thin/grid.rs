//! A grid to find the walls near a point.

use super::edge::{Wall, bounds};
use kurbo::{Point, Rect};

/// Walls by the square cells they run through.
#[derive(Debug)]
pub(super) struct WallGrid {
    corner: Point,
    cell: f64,
    columns: usize,
    rows: usize,
    /// Where each cell's walls start in `walls`; one more than there are cells.
    starts: Vec<u32>,
    walls: Vec<u32>,
}

/// More cells than this cost more to lay out than they save.
const MOST_CELLS: f64 = 100_000.0;

impl WallGrid {
    pub(super) fn of(walls: &[Wall], width: f64) -> WallGrid {
        let bounds = bounds(walls);
        let cell = width.max((bounds.area() / MOST_CELLS).sqrt());
        let mut grid = WallGrid {
            corner: bounds.origin(),
            cell,
            columns: whole_cells(bounds.width() / cell) + 1,
            rows: whole_cells(bounds.height() / cell) + 1,
            starts: Vec::new(),
            walls: Vec::new(),
        };
        let mut entries: Vec<(u32, u32)> = Vec::with_capacity(walls.len() * 2);
        for (number, wall) in (0..).zip(walls) {
            // Every point of the wall is within a quarter of a cell of a step.
            let steps = whole_cells(wall.length / cell * 2.0) + 1;
            let mut last = None;
            for step in 0..=steps {
                #[allow(clippy::cast_precision_loss, reason = "some thousand steps")]
                let at = grid.cell_at(wall.at(step as f64 / steps as f64));
                if last != Some(at) {
                    entries.push((at, number));
                    last = Some(at);
                }
            }
        }
        entries.sort_unstable();
        let cells = grid.columns * grid.rows;
        grid.starts = vec![0; cells + 1];
        for (cell, _) in &entries {
            if let Some(count) = grid.starts.get_mut(*cell as usize + 1) {
                *count += 1;
            }
        }
        let mut sum = 0;
        for start in &mut grid.starts {
            sum += *start;
            *start = sum;
        }
        grid.walls = entries.into_iter().map(|(_, wall)| wall).collect();
        grid
    }

    fn column(&self, x: f64) -> usize {
        whole_cells((x - self.corner.x) / self.cell).min(self.columns - 1)
    }

    fn row(&self, y: f64) -> usize {
        whole_cells((y - self.corner.y) / self.cell).min(self.rows - 1)
    }

    fn cell_at(&self, point: Point) -> u32 {
        let at = self.row(point.y) * self.columns + self.column(point.x);
        u32::try_from(at).unwrap_or(u32::MAX)
    }

    /// The walls that may reach into a rectangle, each once, into `found`.
    pub(super) fn near(&self, rect: Rect, found: &mut Vec<usize>) {
        found.clear();
        let reach = rect.inflate(self.cell / 4.0, self.cell / 4.0);
        for row in self.row(reach.y0)..=self.row(reach.y1) {
            let first = row * self.columns + self.column(reach.x0);
            let last = row * self.columns + self.column(reach.x1);
            let start = |cell: usize| self.starts.get(cell).copied().unwrap_or_default() as usize;
            let walls = self.walls.get(start(first)..start(last + 1)).unwrap_or_default();
            found.extend(walls.iter().map(|wall| *wall as usize));
        }
        found.sort_unstable();
        found.dedup();
    }
}

/// A length in cells, cut to whole ones.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped just here")]
fn whole_cells(cells: f64) -> usize {
    cells.clamp(0.0, 1e6) as usize
}
