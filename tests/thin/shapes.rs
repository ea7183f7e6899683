//! Shapes made by dice with a fixed seed: strokes, necks, corners, combs, rings, serifs and heaps of parts.

use decalwright::Outline;
use kurbo::{Affine, BezPath, Ellipse, Point, Rect, Shape as _, Size};
use std::f64::consts::TAU;

/// Numbers that are the same every time (Knuth's MMIX generator).
pub(crate) struct Dice {
    state: u64,
}

impl Dice {
    pub(crate) fn new(seed: u64) -> Dice {
        let mut dice = Dice { state: seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66D };
        for _ in 0..4 {
            dice.roll();
        }
        dice
    }

    /// From 0 to 1.
    fn roll(&mut self) -> f64 {
        self.state = self
            .state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        #[allow(clippy::cast_precision_loss, reason = "32 bits")]
        let high = (self.state >> 32) as f64;
        high / 4_294_967_296.0
    }

    pub(crate) fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.roll()
    }

    /// Clearly thinner or clearly thicker than the limit.
    fn width(&mut self, limit: f64) -> f64 {
        if self.roll() < 0.6 {
            self.between(0.25, 0.85) * limit
        } else {
            self.between(1.15, 2.0) * limit
        }
    }
}

/// Curves of kurbo's shapes lie this near to the true ones, mm.
const CURVE_MM: f64 = 0.001;

fn rectangle(rect: Rect) -> Outline {
    Outline::of(&rect.to_path(CURVE_MM))
}

/// The ellipse that fills a rectangle.
fn ellipse(rect: Rect) -> Outline {
    let radii = (rect.width() / 2.0, rect.height() / 2.0);
    Outline::of(&Ellipse::new(rect.center(), radii, 0.0).to_path(CURVE_MM))
}

fn polygon(corners: &[Point]) -> Outline {
    let mut path = BezPath::new();
    path.move_to(corners[0]);
    corners[1..].iter().for_each(|corner| path.line_to(*corner));
    path.close_path();
    Outline::of(&path)
}

/// A shape and what it is called.
pub(crate) fn shape(dice: &mut Dice, limit: f64) -> (&'static str, Outline) {
    // Made for a limit a little larger, then made smaller: fewer pixels to count.
    let smaller = 0.6;
    let limit = limit / smaller;
    let turned = Affine::rotate(dice.between(0.0, TAU)) * Affine::scale(smaller);
    let (name, shape) = match dice.between(0.0, 8.0) {
        pick if pick < 1.0 => ("bar with a stub", stub(dice, limit)),
        pick if pick < 2.0 => ("neck", neck(dice, limit)),
        pick if pick < 3.0 => ("star", star(dice)),
        pick if pick < 4.0 => ("comb", comb(dice, limit)),
        pick if pick < 5.0 => ("ring", ring(dice, limit)),
        pick if pick < 6.0 => ("serif", serif(dice, limit)),
        pick if pick < 7.0 => ("window", window(dice, limit)),
        _ => ("heap", heap(dice, limit)),
    };
    (name, shape.placed(turned))
}

fn stub(dice: &mut Dice, limit: f64) -> Outline {
    let (wide, long) = (dice.width(limit), dice.between(2.0, 6.0) * limit);
    let body = rectangle(Rect::new(0.0, 0.0, 0.8, 1.0));
    let at = dice.between(0.1, 0.5);
    body.union(&rectangle(Rect::new(0.7, at, 0.8 + long, at + wide)))
}

fn neck(dice: &mut Dice, limit: f64) -> Outline {
    let (neck, long) = (dice.width(limit), dice.between(0.5, 1.0));
    let notch = |side: f64, open: f64| {
        polygon(&[
            Point::new(0.0, side * neck / 2.0),
            Point::new(open, side * 2.0),
            Point::new(-open, side * 2.0),
        ])
    };
    let body = rectangle(Rect::new(-long, -0.7, long, 0.7));
    body.minus(&notch(1.0, dice.between(1.0, 2.5))).minus(&notch(-1.0, dice.between(1.0, 2.5)))
}

fn star(dice: &mut Dice) -> Outline {
    let points = dice.between(3.0, 7.0).floor();
    let (outer, inner) = (dice.between(0.8, 1.3), dice.between(0.35, 0.6));
    let mut corners = Vec::new();
    let mut at = 0.0;
    while at < points {
        for (share, radius) in [(0.0, outer), (0.5, inner)] {
            let angle = TAU * (at + share) / points;
            corners.push(Point::new(radius * angle.cos(), radius * angle.sin()));
        }
        at += 1.0;
    }
    polygon(&corners)
}

fn comb(dice: &mut Dice, limit: f64) -> Outline {
    let mut comb = rectangle(Rect::new(0.0, 0.0, 2.0, 0.5));
    let mut x = 0.0;
    while x < 1.6 {
        let tooth = dice.width(limit);
        comb = comb.union(&rectangle(Rect::new(x, 0.4, x + tooth, dice.between(1.1, 1.5))));
        x += tooth + dice.width(limit);
    }
    comb
}

fn ring(dice: &mut Dice, limit: f64) -> Outline {
    let size = Size::new(dice.between(1.2, 2.0), dice.between(1.2, 2.0));
    let wide = dice.width(limit);
    let outer = Rect::from_center_size(Point::ORIGIN, size);
    let ring = ellipse(outer).minus(&ellipse(outer.inflate(-wide, -wide)));
    let gap = dice.width(limit);
    ring.minus(&rectangle(Rect::new(0.0, -gap / 2.0, 2.0, gap / 2.0)))
}

fn serif(dice: &mut Dice, limit: f64) -> Outline {
    let (stem, thick) = (dice.between(1.2, 2.5) * limit, dice.width(limit));
    let reach = stem / 2.0 + dice.between(1.0, 3.0) * limit;
    let stem = rectangle(Rect::new(-stem / 2.0, 0.0, stem / 2.0, 1.6));
    let foot = rectangle(Rect::new(-reach, 1.6 - thick, reach, 1.6));
    // A pointed head, as of a 1: a corner of 50 to 70 degrees.
    let flag = dice.between(0.35, 0.5);
    let head = polygon(&[Point::new(0.0, 0.0), Point::new(-0.6, flag), Point::new(0.0, 0.8)]);
    stem.union(&foot).union(&head)
}

fn window(dice: &mut Dice, limit: f64) -> Outline {
    let mut body = rectangle(Rect::new(0.0, 0.0, 2.0, 1.4));
    let mut x = dice.width(limit);
    while x < 1.5 {
        let wide = dice.width(limit);
        let hole = Rect::new(x, 0.4, x + wide, dice.between(0.8, 1.1));
        body = body.minus(&if dice.roll() < 0.3 { ellipse(hole) } else { rectangle(hole) });
        x += wide + dice.width(limit);
    }
    body
}

fn heap(dice: &mut Dice, limit: f64) -> Outline {
    let mut heap = Outline::default();
    for _ in 0..4 {
        let size = Size::new(dice.between(0.4, 1.2), dice.width(limit).max(0.04));
        let part = Rect::from_center_size(Point::ORIGIN, size);
        let by = Affine::translate((dice.between(-0.5, 0.5), dice.between(-0.5, 0.5)))
            * Affine::rotate(dice.between(0.0, TAU));
        let part = if dice.roll() < 0.3 { ellipse(part) } else { rectangle(part) };
        heap = heap.union(&part.placed(by));
    }
    heap
}
