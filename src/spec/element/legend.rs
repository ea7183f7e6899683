//! A panel's legend on its overlay.

use super::{AnyElement, Paint, Part};
use crate::spec::panel::Side;
use kurbo::Size;

/// Parts drawn like a label of their own, then moved to stand on one side of their point.
#[derive(Clone, Debug, PartialEq)]
pub struct Legend {
    /// The side.
    pub side: Side,
    /// What a box without a size of its own fills, when the legend has a fixed size, mm.
    pub size: Option<Size>,
    /// The parts, painted in order.
    pub parts: Vec<Part>,
}

impl AnyElement for Legend {
    fn paints(&self) -> Vec<Paint> {
        Vec::new()
    }

    fn members(&self) -> &[Part] {
        &self.parts
    }

    fn members_mut(&mut self) -> &mut [Part] {
        &mut self.parts
    }
}
