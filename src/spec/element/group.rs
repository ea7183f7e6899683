//! Parts in a row or column.

use super::{AnyElement, Around, Element, Keys, Paint, Part, PartKeys, parts, placed};
use crate::finding::Place;
use crate::spec::choice::choice;
use crate::spec::reader::{Least, Reader};
use crate::yaml::{OneOrList, Placed, Scalar};
use schemars::JsonSchema;
use serde::Deserialize;

/// From member to member when not said, mm.
const USUAL_GAP_MM: f64 = 1.0;

/// Parts in a row or column.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(in crate::spec) struct GroupKeys {
    /// The parts, in order.
    parts: Vec<Placed<PartKeys>>,
    /// Between the bounds of neighbours.
    gap: Option<Scalar>,
    /// `start`, `centre`, `end` or `base-line`.
    align: Option<Scalar>,
    /// Where the middle of all is.
    at: Option<OneOrList>,
    /// Degrees clockwise.
    turned: Option<Scalar>,
}

/// Parts side by side.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(transparent)]
pub(in crate::spec) struct RowKeys(GroupKeys);

/// Parts one under another.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(transparent)]
pub(in crate::spec) struct ColumnKeys(GroupKeys);

/// Which way a group runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Left to right.
    Row,
    /// Top to bottom.
    Column,
}

choice! {
    /// How the members of a group line up across its direction.
    pub enum GroupAlign {
        /// By their tops (row) or left edges (column).
        Start = "start",
        /// By their middles.
        Centre = "centre",
        /// By their bottoms or right edges.
        End = "end",
        /// Texts by their base line (rows only); other parts by their bottoms.
        BaseLine = "base-line",
    }
}

/// Parts laid in a row or column, the whole centred on its own point.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Which way.
    pub direction: Direction,
    /// Between the bounds of neighbours, mm.
    pub gap: f64,
    /// How they line up.
    pub align: GroupAlign,
    /// The members; their `at` shifts them from their place in the run.
    pub parts: Vec<Part>,
}

impl AnyElement for Group {
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

impl Keys for RowKeys {
    fn part(&self, place: Place, around: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        self.0.part(Direction::Row, place, around, reader)
    }
}

impl Keys for ColumnKeys {
    fn part(&self, place: Place, around: &Around, reader: &mut Reader<'_, '_>) -> Option<Part> {
        self.0.part(Direction::Column, place, around, reader)
    }
}

impl GroupKeys {
    fn part(
        &self,
        direction: Direction,
        place: Place,
        around: &Around,
        reader: &mut Reader<'_, '_>,
    ) -> Option<Part> {
        let words = &<GroupAlign as crate::spec::Choice>::WORDS;
        let known = words
            .iter()
            .filter(|(_, align)| direction == Direction::Row || *align != GroupAlign::BaseLine);
        let known: Vec<(&'static str, GroupAlign)> = known.copied().collect();
        let align = self.align.as_ref().and_then(|align| reader.choice(align, &known));
        let gap = reader.length(&self.gap, Least::Any).unwrap_or(USUAL_GAP_MM);
        if self.parts.is_empty() {
            let message = "a row or column needs `parts`".to_owned();
            reader.wrong("missing", place, message, "list them under `parts:`");
        }
        let members = parts(&self.parts, around, reader);
        if members.is_empty() {
            return None;
        }
        let align = align.unwrap_or(GroupAlign::Centre);
        let element = Element::Group(Group { direction, gap, align, parts: members });
        Some(placed(element, place, &self.at, &self.turned, reader))
    }
}
