//! What was read off test prints, as typed: one form for the answers a person writes down and for the
//! profile that is made of them.

use super::typed::{Many, Typed};
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;

/// What was read off the test prints of one printer on one paper.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct ProfileDraft {
    /// Your name for the printer.
    pub(super) printer: Option<Typed>,
    /// The paper of the test print: `A3` to `A6`, `Letter`, `Legal`, with `landscape` if lying.
    pub(super) paper: Option<Many>,
    /// Date as you write it, printed on corrected sheets; never the computer's clock.
    pub(super) date: Option<Typed>,
    /// `laser-1200`, `laser-600`, `ink-jet`, `ink-jet-uncoated` or `white-ink`: for what is not said here.
    pub(super) class: Option<Typed>,
    /// The bars of 100 mm as measured: [across, down].
    pub(super) bars: Option<Many>,
    /// The square of 50 mm as measured: [across, down].
    pub(super) square: Option<Many>,
    /// The square's diagonals as measured: [from top left, from top right].
    pub(super) diagonals: Option<Many>,
    /// Where the square's middle came out: [from the left edge, from the top edge].
    pub(super) middle: Option<Many>,
    /// The steps where printing stops: [top, right, bottom, left].
    pub(super) margins: Option<Many>,
    /// Thinnest line of ink you see whole.
    pub(super) thinnest_ink: Option<Typed>,
    /// Thinnest clear line you see open.
    pub(super) thinnest_clear: Option<Typed>,
    /// Smallest cap height you can read in ink.
    pub(super) smallest_cap: Option<Typed>,
    /// Smallest cap height you can read in clear.
    pub(super) smallest_cap_reversed: Option<Typed>,
    /// The step of the ladder that yellow over black looks like: `10 %`.
    pub(super) opacity: Option<Typed>,
    /// Colours picked on the part: `beacon: {shown: "#ad2b24", print: D2}`.
    pub(super) colours: BTreeMap<String, PickedDraft>,
}

/// A colour picked on the part.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct PickedDraft {
    /// The colour that was wanted, as on the head of its page.
    pub(super) shown: Option<Typed>,
    /// The patch that looks like it: its code, or its value.
    pub(super) print: Option<Typed>,
}
