//! What was typed about codes, with places; see [`super::draft`].

use super::typed::{Many, Typed};
use schemars::JsonSchema;
use serde::Deserialize;

/// A code for machines to read.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct CodeDraft {
    /// What it says.
    pub(super) text: Option<Typed>,
    /// `qr`, `data-matrix` or `code-128`.
    pub(super) kind: Option<Typed>,
    /// Width of one module; rounded up to whole dots of the printer.
    pub(super) module: Option<Typed>,
    /// Error correction of a QR code: `L`, `M`, `Q` or `H`.
    pub(super) level: Option<Typed>,
    /// The room it may take, quiet zone and all: one length, or [width, height].
    pub(super) size: Option<Many>,
    /// Modules kept free round it, if not those the standard asks for.
    pub(super) quiet: Option<Typed>,
    /// A colour, or `clear`, of the dark modules.
    pub(super) paint: Option<Typed>,
    /// Where its middle is: [right, down] from the middle of the label.
    pub(super) at: Option<Many>,
    /// Degrees clockwise.
    pub(super) turned: Option<Typed>,
}
