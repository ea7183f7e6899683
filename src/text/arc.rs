//! Letters on an arc: each is turned about the middle of its own width, its feet on the base line's circle.

use super::{Block, SetLine, remarks::words};
use crate::finding::{Finding, Findings};
use crate::spec::Text;
use crate::spec::{Arc, Reads};
use crate::units::fixed;
use kurbo::{Affine, Point, Rect, Size, Vec2};

/// One line's arc.
#[derive(Clone, Copy, Debug)]
pub(super) struct Curve {
    radius: f64,
    centre: f64,
    reads: Reads,
}

impl Curve {
    /// The arc of a line that lies `drop` mm below the first.
    pub(super) fn of(arc: Arc, drop: f64) -> Curve {
        let radius = match arc.reads {
            Reads::Outward => arc.radius - drop,
            Reads::Inward => arc.radius + drop,
        };
        Curve { radius, centre: arc.centre, reads: arc.reads }
    }

    /// Radians clockwise from straight up of a point `along` mm to the right of the alignment point.
    fn angle(self, along: f64) -> f64 {
        let by = along / self.radius;
        let centre = self.centre.to_radians();
        match self.reads {
            Reads::Outward => centre + by,
            Reads::Inward => centre - by,
        }
    }

    /// From the straight line to the arc, for a letter whose middle is at `middle` on the base line.
    pub(super) fn bend(self, middle: Vec2) -> Affine {
        let angle = self.angle(middle.x);
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let foot = Vec2::new(sin, -cos) * self.radius;
        let turn = match self.reads {
            Reads::Outward => Affine::new([cos, sin, -sin, cos, 0.0, 0.0]),
            Reads::Inward => Affine::new([-cos, -sin, sin, -cos, 0.0, 0.0]),
        };
        Affine::translate(foot) * turn * Affine::translate(-middle)
    }

    /// The line as one box, level before it is turned: as wide as the letters reach, over its middle.
    pub(super) fn line(self, text: &str, (from, to): (f64, f64), cap: f64) -> SetLine {
        let angle = self.angle(f64::midpoint(from, to));
        let half = ((to - from) / 2.0 / self.radius).min(std::f64::consts::FRAC_PI_2);
        let outer = match self.reads {
            Reads::Outward => self.radius + cap,
            Reads::Inward => self.radius,
        };
        let wide = (to - from).min(2.0 * outer * libm::sin(half));
        let (out, turned) = match self.reads {
            Reads::Outward => (self.radius + cap / 2.0, 0.0),
            Reads::Inward => (self.radius - cap / 2.0, 180.0),
        };
        let middle = Point::new(libm::sin(angle) * out, -libm::cos(angle) * out);
        let area = Rect::from_center_size(middle, Size::new(wide, cap));
        SetLine { text: text.to_owned(), area, turned_deg: angle.to_degrees() + turned }
    }

    /// Tells of a line that is longer than its circle, or that has no circle left.
    pub(super) fn check(self, text: &Text, (long, cap): (f64, f64), findings: &mut Findings) {
        let room = (2.0 * std::f64::consts::PI * self.radius).max(0.0);
        if long <= room {
            return;
        }
        let (need, has) = (fixed(long, 2), fixed(room, 2));
        let message = format!(
            "{} needs {need} mm along its base line, the whole circle has {has} mm",
            words(text)
        );
        let help = if room > 0.0 {
            let fits = (cap * room / long * 100.0).floor() / 100.0;
            format!(
                "cap_height {} mm would go once round; or make the radius larger",
                fixed(fits, 2)
            )
        } else {
            "make the radius larger: its last line has none left".to_owned()
        };
        findings.push(
            Finding::error("arc-too-long", message).at(text.place).help(help).measured(long, room),
        );
    }
}

/// Tells of letters that stand clear on a straight line and touch on the arc.
pub(super) fn crowded(text: &Text, (straight, bent): (usize, usize), findings: &mut Findings) {
    if bent >= straight {
        return;
    }
    let message = format!("{}: letters touch on this arc", words(text));
    let help = "add `tracking: 0.1` or more, or make the radius larger";
    findings.push(Finding::warning("letters-touch", message).at(text.place).help(help));
}

impl Block {
    /// Bounds of what it takes up: its lines' boxes, or all ink where it stands on an arc.
    #[must_use]
    pub(crate) fn reach(&self) -> Rect {
        if self.on_arc { self.outline.bounds() } else { self.area() }
    }
}
