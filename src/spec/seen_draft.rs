//! What a job may say about how its labels are seen: distances, colours as shown and printed, white.

use super::typed::{Many, Typed};
use schemars::JsonSchema;
use serde::Deserialize;

/// From where words are read.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct ViewedDraft {
    /// From the eye to the words: `700 mm`, `8 m`.
    pub(super) distance: Option<Typed>,
    /// `panel`, `sign` or `poor-light`.
    #[serde(rename = "as")]
    pub(super) reading: Option<Typed>,
}

/// A colour as it should look, and how to print it.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct ColourDraft {
    /// What it should look like: "#ad2b24".
    pub(super) shown: Option<Typed>,
    /// What to send to the printer so that it looks like that, as picked from a test print.
    pub(super) print: Option<Typed>,
}

/// White under the ink.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct WhiteDraft {
    /// `under`: a plate of white printed under the ink; `backing`: a piece of white film laid first.
    #[serde(rename = "as")]
    pub(super) way: Option<Typed>,
    /// White printed under all `ink`, or under the whole `label`.
    pub(super) area: Option<Typed>,
    /// White printed under the ink of these colours only.
    pub(super) of: Option<Many>,
    /// How much of it is printed: `60 %` for a grey veil; all of it when not given.
    pub(super) tint: Option<Typed>,
    /// How far its edge stays inside the ink's.
    pub(super) choke: Option<Typed>,
}
