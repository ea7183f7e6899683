//! What was typed about symbols and artwork, with places; see [`super::draft`].

use super::typed::{Many, Typed};
use schemars::JsonSchema;
use serde::Deserialize;

/// A symbol of the built-in set.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct SymbolDraft {
    /// Its name: `on`, `off`, `stand-by`, `earth`, `arrow`…
    pub(super) name: Option<Typed>,
    /// Side of the square it is drawn in; without it twice the cap height of the label's text.
    pub(super) size: Option<Typed>,
    /// Width of its strokes, as thick as the letters beside it; without it a tenth of the size.
    pub(super) stroke: Option<Typed>,
    /// A colour, or `clear`; without it that of the label's text.
    pub(super) paint: Option<Typed>,
    /// Where its middle is.
    pub(super) at: Option<Many>,
    /// Degrees clockwise.
    pub(super) turned: Option<Typed>,
}

/// A drawing from an SVG file.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct ArtDraft {
    /// The SVG file beside the job.
    pub(super) file: Option<Typed>,
    /// [width, height] of the drawing's page, sides stretched to both.
    pub(super) size: Option<Many>,
    /// Width of the drawing's page; the height follows.
    pub(super) width: Option<Typed>,
    /// Height of the drawing's page; the width follows.
    pub(super) height: Option<Typed>,
    /// As large as fits into [width, height].
    pub(super) fit: Option<Many>,
    /// `own` for the drawing's colours, one colour for all of it, or `clear`.
    pub(super) paint: Option<Typed>,
    /// Where the middle of its page is.
    pub(super) at: Option<Many>,
    /// Degrees clockwise.
    pub(super) turned: Option<Typed>,
}
