//! What was typed about wires, with places; see [`super::draft`].

use super::typed::{Many, Shorthand, Typed};
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;

/// The wiring of a job.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct WiresDraft {
    /// A table beside the job, one wire a row: wire, from, to, colour, gauge or diameter, length, function, note.
    pub(super) table: Option<Typed>,
    /// Wires written here, each a map with the columns a table would have.
    pub(super) list: Vec<BTreeMap<String, Typed>>,
    /// Supplies and grounds many wires share: names of pins or functions (`GND`), or terminals (`PS1:V12`).
    pub(super) rails: Option<Many>,
    /// Terminals that take more than one wire: `K1:COM: 2`.
    pub(super) takes: BTreeMap<String, Typed>,
    /// Insulation where only the gauge is known: `pvc`, `silicone` or `wire-wrap`.
    pub(super) insulation: Option<Typed>,
    /// Lines of each marker: `{wire}`, `{local}` (this end), `{remote}` (the other), or any column.
    pub(super) text: Option<Many>,
    /// Lines at the end a wire comes from, where they are not the same.
    pub(super) text_from: Option<Many>,
    /// Lines at the end a wire goes to, where they are not the same.
    pub(super) text_to: Option<Many>,
    /// The kind of marker, or a map.
    pub(super) marker: Option<Shorthand<MarkerDraft>>,
    /// Codes of findings about the wiring you accept.
    pub(super) allow: Option<Many>,
}

/// What the markers should be.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct MarkerDraft {
    /// `auto`, `wrap`, `laminated`, `flag`, `flag-along` or `sleeve`; a column `marker` may say so for one wire.
    pub(super) kind: Option<Typed>,
    /// Another kind on thin wires.
    pub(super) thin: Option<ThinDraft>,
    /// `sticker`, `paper`, `clear` or `white`.
    pub(super) film: Option<Typed>,
    /// Thickness of that.
    pub(super) thickness: Option<Typed>,
    /// Cap height; without it the largest that fits.
    pub(super) cap_height: Option<Typed>,
    /// The font.
    pub(super) font: Option<Typed>,
    /// Length of a flag's face; without it as long as its words.
    pub(super) face: Option<Typed>,
    /// Height of a flag.
    pub(super) height: Option<Typed>,
    /// Most length along the wire of a wrap or sleeve.
    pub(super) along: Option<Typed>,
    /// Clear tail of a laminated wrap, in turns.
    pub(super) tail_turns: Option<Typed>,
    /// A mark at least every so far along wires whose length is given.
    pub(super) every: Option<Typed>,
    /// Pre-cut stickers to print on.
    pub(super) grid: Option<GridDraft>,
}

/// Another kind on thin wires.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct ThinDraft {
    /// Wires thinner than this.
    pub(super) under: Option<Typed>,
    /// The kind they get.
    pub(super) kind: Option<Typed>,
}

/// A sheet of pre-cut stickers.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct GridDraft {
    /// How many stickers side by side.
    pub(super) columns: Option<Typed>,
    /// How many one under another.
    pub(super) rows: Option<Typed>,
    /// [width, height] of a sticker.
    pub(super) size: Option<Many>,
    /// From corner to corner of neighbours, [right, down]; without it they touch.
    pub(super) pitch: Option<Many>,
    /// Top left corner of the first sticker, [right, down] from the paper's.
    pub(super) first: Option<Many>,
    /// Stickers of the first sheet that are gone, counted along the rows: `1..12`.
    pub(super) used: Option<Many>,
}
