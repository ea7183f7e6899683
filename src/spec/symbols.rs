//! Symbols: our own drawings, after the descriptions in the standards, on one grid.
//!
//! The grid is a square of 20 by 20 units round the origin, y down. What is drawn fills it to 9 units from
//! the middle when strokes are 2 units wide, so that symbols of one size look equally large. Numbers of
//! IEC 60417, ISO 7000 and ISO 7010 are from memory; geometry is ours.

/// Side of the grid every symbol is drawn on, in its units.
pub(crate) const GRID: f64 = 20.0;

/// What is reported of a symbol wherever it is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Caution {
    /// Nothing.
    None,
    /// It may mark nothing but the terminal of the protective conductor.
    ProtectiveEarth,
    /// It warns of a danger.
    Hazard,
}

/// One symbol of the set.
#[derive(Debug, PartialEq)]
pub struct Sign {
    /// Its name in a job.
    pub name: &'static str,
    /// The symbol of a standard it is drawn after; empty for a drawing of our own.
    pub standard: &'static str,
    /// What it says on a panel.
    pub means: &'static str,
    /// Middle lines of its strokes, as path data.
    pub lines: &'static str,
    /// Strokes along arcs: middle x and y, radius, start and sweep in degrees clockwise from the right.
    pub arcs: &'static [[f64; 5]],
    /// Filled areas, as path data.
    pub fills: &'static str,
    /// Filled discs: middle x and y, radius.
    pub discs: &'static [[f64; 3]],
    /// What is reported with it.
    pub caution: Caution,
}

/// Every symbol, in the order of the picture in the docs.
pub(crate) static SIGNS: [Sign; 29] = [
    Sign { lines: "M0-9V9", ..sign("on", "IEC 60417-5007", "power on") },
    Sign { arcs: &[[0.0, 0.0, 8.0, 0.0, 360.0]], ..sign("off", "IEC 60417-5008", "power off") },
    Sign {
        lines: "M0-9V0",
        arcs: &[[0.0, 0.5, 7.5, -50.0, 280.0]],
        ..sign("stand-by", "IEC 60417-5009", "stand-by, part of it stays live")
    },
    Sign {
        lines: "M0-4.2V4.2",
        arcs: &[[0.0, 0.0, 8.0, 0.0, 360.0]],
        ..sign("push-on-off", "IEC 60417-5010", "push on, push off")
    },
    Sign { lines: "M0-9V0M-8 0H8M-5 4H5M-2 8H2", ..sign("earth", "IEC 60417-5017", "earth") },
    Sign {
        lines: "M0-9V1M-5.2 1H5.2M-3.4 4.5H3.4M-1.5 8H1.5",
        arcs: &[[0.0, 1.0, 7.8, 180.0, 180.0]],
        ..sign("functional-earth", "IEC 60417-5018", "earth for function, not for safety")
    },
    Sign {
        lines: "M0-5.4V-0.6M-4.6-0.6H4.6M-3 2.3H3M-1.4 5.2H1.4",
        arcs: &[[0.0, 0.0, 8.0, 0.0, 360.0]],
        caution: Caution::ProtectiveEarth,
        ..sign("protective-earth", "IEC 60417-5019", "terminal of the protective conductor")
    },
    Sign {
        lines: "M0.5-9V1M-7.5 1H8.5M-6.5 1L-9 9M0.5 1L-2 9M7.5 1L5 9",
        ..sign("frame", "IEC 60417-5020", "frame or chassis")
    },
    Sign {
        lines: "M0-9V-2.5M-7.2-2.5H7.2L0 7.2Z",
        ..sign("equipotential", "IEC 60417-5021", "equipotential bonding")
    },
    Sign {
        lines: "M-9-3H9M-9 3H-5M-2 3H2M5 3H9",
        ..sign("dc", "IEC 60417-5031", "direct current")
    },
    Sign {
        lines: "M-9 1.2C-6.2-7.2-2.8-7.2 0 0S6.2 7.2 9-1.2",
        ..sign("ac", "IEC 60417-5032", "alternating current")
    },
    Sign {
        lines: "M-9-5H9M-9 4C-6.2-3.2-2.8-3.2 0 3S6.2 9.2 9 2",
        ..sign("ac-dc", "IEC 60417-5033", "direct or alternating current")
    },
    Sign {
        lines: "M-8-5H6.4V5H-8ZM-5.6 0H-2.2M0.6 0H4.4M2.5-1.9V1.9",
        fills: "M7.2-2.4H9.4V2.4H7.2Z",
        ..sign("battery", "IEC 60417-5001B", "battery")
    },
    Sign {
        lines: "M-7.8-7.8H7.8V7.8H-7.8ZM-3.8-3.8H3.8V3.8H-3.8Z",
        ..sign("class-ii", "IEC 60417-5172", "double insulation, no earth needed")
    },
    Sign { lines: "M-9 0H7.4M1-6.4L7.4 0L1 6.4", ..sign("arrow", "IEC 60417-5022", "this way") },
    Sign {
        lines: "M-7.4 0H7.4M2-5.4L7.4 0L2 5.4M-2-5.4L-7.4 0L-2 5.4",
        ..sign("both-ways", "IEC 60417-5023", "this way or that")
    },
    Sign {
        lines: "M2.2-2.4L5.8 1.2L9.4-2.4",
        arcs: &[[-1.4, 0.0, 7.2, 60.0, 300.0]],
        ..sign("turn", "", "turn clockwise")
    },
    Sign {
        lines: "M-2.2-2.4L-5.8 1.2L-9.4-2.4",
        arcs: &[[1.4, 0.0, 7.2, 180.0, 300.0]],
        ..sign("turn-back", "", "turn anticlockwise")
    },
    Sign { lines: "M-8 0H8M0-8V8", ..sign("plus", "IEC 60417-5005", "positive, more") },
    Sign { lines: "M-8 0H8", ..sign("minus", "IEC 60417-5006", "negative, less") },
    Sign {
        lines: "M-7-3.2H-2V3.2H-7ZM-2-3.2L7-7.3V7.3L-2 3.2",
        ..sign("sound", "IEC 60417-5080", "sound, loudspeaker")
    },
    Sign {
        lines: "M-2.2 3V8H2.2V3M-6.9-0.7H-9.3M-4.88-5.58L-6.58-7.28M0-7.6V-10M4.88-5.58L6.58-7.28M6.9-0.7H9.3",
        arcs: &[[0.0, -0.7, 4.3, 121.0, 298.0]],
        ..sign("lamp", "IEC 60417-5012", "lamp, lighting")
    },
    Sign {
        lines: "M-6 9C-9 5-9 3.5-6 0S-3-5-6-9M0 9C-3 5-3 3.5 0 0S3-5 0-9M6 9C3 5 3 3.5 6 0S9-5 6-9",
        ..sign("heat", "", "heating")
    },
    Sign {
        lines: "M0-9V9M-7.79-4.5L7.79 4.5M-7.79 4.5L7.79-4.5M-2.54 -7.38L0 -5.6L2.54 -7.38M5.12 -5.89L4.85 -2.8L7.66 -1.49M7.66 1.49L4.85 2.8L5.12 5.89M2.54 7.38L0 5.6L-2.54 7.38M-5.12 5.89L-4.85 2.8L-7.66 1.49M-7.66 -1.49L-4.85 -2.8L-5.12 -5.89",
        ..sign("cooling", "ISO 7000-0027", "cooling")
    },
    Sign {
        lines: "M0 0C-6-2.2-5.2-8.6-0.2-8.3 3.4-8.1 3.2-3.6 0 0ZM0 0C4.91-4.1 10.05-0.2 7.29 3.98 5.31 6.99 1.52 4.57 0 0ZM0 0C1.09 6.3-4.85 8.8-7.09 4.32-8.71 1.11-4.72-0.97 0 0Z",
        discs: &[[0.0, 0.0, 2.0]],
        ..sign("fan", "ISO 7000-0089", "fan, moving air")
    },
    Sign {
        lines: "M-8.4-5H8.4L6.2 5H-6.2Z",
        discs: &[
            [-4.2, -1.6, 1.1],
            [0.0, -1.6, 1.1],
            [4.2, -1.6, 1.1],
            [-2.1, 1.7, 1.1],
            [2.1, 1.7, 1.1],
        ],
        ..sign("data-port", "", "data port")
    },
    Sign {
        lines: "M0-3V9M-4 8H4",
        arcs: &[
            [0.0, -3.0, 4.6, 135.0, 90.0],
            [0.0, -3.0, 4.6, -45.0, 90.0],
            [0.0, -3.0, 8.4, 135.0, 90.0],
            [0.0, -3.0, 8.4, -45.0, 90.0],
        ],
        discs: &[[0.0, -3.0, 1.8]],
        ..sign("antenna", "", "antenna")
    },
    Sign {
        lines: "M0-7.4L8.2 7H-8.2ZM0-3V2.4",
        discs: &[[0.0, 4.4, 1.1]],
        caution: Caution::Hazard,
        ..sign("warning", "ISO 7000-0434", "caution: read the instructions")
    },
    Sign {
        lines: "M0-7.4L8.2 7H-8.2Z",
        fills: "M0.9-3.6L-2.2 1.5H-0.3L-1.1 3.4L-2.1 3L-1.2 5.6L1.2 4.2L0.2 3.8L2.2 0.5H0.3L2-3Z",
        caution: Caution::Hazard,
        ..sign("electric-shock", "ISO 7010-W012", "danger of electric shock")
    },
];

/// A row with nothing drawn yet.
const fn sign(name: &'static str, standard: &'static str, means: &'static str) -> Sign {
    let caution = Caution::None;
    Sign { name, standard, means, lines: "", arcs: &[], fills: "", discs: &[], caution }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::BezPath;
    use std::collections::BTreeSet;

    #[test]
    fn every_row_has_a_name_of_its_own_and_paths_that_can_be_read() {
        let names: BTreeSet<&str> = SIGNS.iter().map(|sign| sign.name).collect();
        assert_eq!(names.len(), SIGNS.len());
        for sign in &SIGNS {
            let drawn = [sign.lines, sign.fills].map(|data| BezPath::from_svg(data).unwrap());
            let any = drawn.iter().any(|path| !path.elements().is_empty());
            assert!(any || !sign.arcs.is_empty(), "{}", sign.name);
            assert!(!sign.means.is_empty());
        }
    }

    #[test]
    fn the_chart_of_symbols_shows_every_one() {
        let table = include_str!("../../examples/symbols/symbols.csv");
        let rows: Vec<&str> =
            table.lines().skip(1).filter_map(|row| row.split(',').next()).collect();
        let names: Vec<&str> = SIGNS.iter().map(|sign| sign.name).collect();
        assert_eq!(rows, names);
    }
}
