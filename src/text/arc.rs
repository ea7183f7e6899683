//! Letters on an arc: each is turned about the middle of its own width, its feet on the base line's circle.

use super::{Block, SetLine, remarks::in_quotes};
use crate::finding::{Finding, Findings};
use crate::spec::Text;
use crate::spec::{Arc, Reads};
use crate::units::fixed;
use kurbo::{Affine, Point, Rect, Size, Vec2};

/// One line's arc.
#[derive(Clone, Copy, Debug)]
pub(super) struct Curve {
    /// Of the base line's circle, mm.
    radius: f64,
    /// Where the alignment point is, degrees clockwise from straight up.
    centre: f64,
    /// 1 when the letters' heads point outwards, -1 when they point inwards.
    outwards: f64,
}

impl Curve {
    /// The arc of a line that lies `drop` mm below the first.
    pub(super) fn of(arc: Arc, drop: f64) -> Curve {
        let outwards = match arc.reads {
            Reads::Outward => 1.0,
            Reads::Inward => -1.0,
        };
        Curve { radius: arc.radius - outwards * drop, centre: arc.centre, outwards }
    }

    /// Radians clockwise from straight up of a point `along` mm to the right of the alignment point.
    fn angle(self, along: f64) -> f64 {
        self.centre.to_radians() + self.outwards * (along / self.radius)
    }

    /// From the straight line to the arc, for a letter whose middle is at `middle` on the base line.
    pub(super) fn bend(self, middle: Vec2) -> Affine {
        let angle = self.angle(middle.x);
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let foot = Vec2::new(sin, -cos) * self.radius;
        let [a, b, c, d] = [cos, sin, -sin, cos].map(|share| self.outwards * share);
        let turn = Affine::new([a, b, c, d, 0.0, 0.0]);
        Affine::translate(foot) * turn * Affine::translate(-middle)
    }

    /// The line as one box, level before it is turned: as wide as the letters reach, over its middle.
    pub(super) fn line(self, text: &str, (from, to): (f64, f64), cap: f64) -> SetLine {
        let angle = self.angle(f64::midpoint(from, to));
        let half = ((to - from) / 2.0 / self.radius).min(std::f64::consts::FRAC_PI_2);
        let is_outward = self.outwards > 0.0;
        let outer = if is_outward { self.radius + cap } else { self.radius };
        let wide = (to - from).min(2.0 * outer * libm::sin(half));
        let out = self.radius + self.outwards * cap / 2.0;
        let turned = if is_outward { 0.0 } else { 180.0 };
        let middle = Point::new(libm::sin(angle) * out, -libm::cos(angle) * out);
        let area = Rect::from_center_size(middle, Size::new(wide, cap));
        SetLine { text: text.to_owned(), area, turned_deg: angle.to_degrees() + turned }
    }

    /// Reports a line that is longer than its circle, or that has no circle left; `long` and `cap` in mm.
    pub(super) fn check(self, text: &Text, long: f64, cap: f64, findings: &mut Findings) {
        let room = (2.0 * std::f64::consts::PI * self.radius).max(0.0);
        if long <= room {
            return;
        }
        let (need, has) = (fixed(long, 2), fixed(room, 2));
        let message = format!(
            "{} needs {need} mm along its base line, the whole circle has {has} mm",
            in_quotes(text)
        );
        let help = if room > 0.0 {
            let fits = fixed((cap * room / long * 100.0).floor() / 100.0, 2);
            format!("cap_height {fits} mm would go once round; or make the radius larger")
        } else {
            "make the radius larger: its last line has none left".to_owned()
        };
        let finding = Finding::error("arc-too-long", message).at(text.place).help(help);
        findings.push(finding.measured(long, room));
    }
}

/// Reports letters that stand clear on a straight line and touch on the arc: there are fewer separate ones.
pub(super) fn check_crowding(text: &Text, straight: usize, bent: usize, findings: &mut Findings) {
    if bent < straight {
        let message = format!("{}: letters touch on this arc", in_quotes(text));
        let help = "add `tracking: 0.1` or more, or make the radius larger";
        findings.push(Finding::warning("letters-touch", message).at(text.place).help(help));
    }
}

impl Block {
    /// Bounds of what it takes up: its lines' boxes, or all ink where it stands on an arc.
    #[must_use]
    pub(crate) fn reach(&self) -> Rect {
        if self.on_arc { self.outline.bounds() } else { self.area() }
    }
}
