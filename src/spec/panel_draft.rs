//! What was typed about panels and their holes, with places; see [`super::draft`].

use super::draft::{LabelDraft, TextDraft};
use super::typed::{Many, Shorthand, Typed};
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;

/// The holes of a panel and the legends at them.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct PanelDraft {
    /// `top-left`, `bottom-left` or `middle`: where places on the panel are counted from.
    pub(super) origin: Option<Typed>,
    /// `mm` or `in`: unit of plain numbers in the drill table and of a drawing that does not say.
    pub(super) unit: Option<Typed>,
    /// The holes one by one.
    pub(super) holes: Vec<HoleDraft>,
    /// A drill table beside the job: columns x, y, diameter, name, kind; also nut, knob, clear, keep_clear.
    pub(super) drill_table: Option<Typed>,
    /// A DXF or SVG drawing beside the job whose circles are holes.
    pub(super) drawing: Option<DrawingDraft>,
    /// Kinds of parts by name: what hole they need and what they cover.
    pub(super) fittings: BTreeMap<String, FittingDraft>,
    /// `cut`, `centre` or `none`: how holes show on an overlay.
    pub(super) mark: Option<Typed>,
    /// `overlay` for one decal, `pieces` for a small decal for each legend.
    pub(super) deliver: Option<Typed>,
    /// Between a legend and the knob, nut or hole it stands at.
    pub(super) gap: Option<Typed>,
    /// Cap height of level 1; each level above is a quarter larger.
    pub(super) cap_height: Option<Typed>,
    /// What is written on it: labels with `hole` and `side`, or `at`.
    pub(super) legends: Vec<LabelDraft>,
    /// Brackets over several holes, with a title.
    pub(super) groups: Vec<GroupingDraft>,
}

/// A round hole.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct HoleDraft {
    /// Its name, for legends to stand at.
    pub(super) name: Option<Typed>,
    /// Its middle, [x, y] from the panel's origin.
    pub(super) at: Option<Many>,
    /// The kind of part: one of `fittings`, or a usual one such as `led-5`.
    pub(super) kind: Option<Typed>,
    /// Its diameter, if not the kind's.
    pub(super) diameter: Option<Typed>,
    /// Diameter of the window without ink round it; 0 lets ink run to the hole.
    pub(super) clear: Option<Typed>,
    /// Largest diameter of the nut or washer.
    pub(super) nut: Option<Typed>,
    /// Diameter of the knob, cap or bezel.
    pub(super) knob: Option<Typed>,
    /// Diameter of a circle that nothing to be read may enter.
    pub(super) keep_clear: Option<Typed>,
}

/// What a kind of part needs and covers.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct FittingDraft {
    /// Diameter of its hole.
    pub(super) diameter: Option<Typed>,
    /// Diameter of the window without ink round it.
    pub(super) clear: Option<Typed>,
    /// Largest diameter of the nut or washer.
    pub(super) nut: Option<Typed>,
    /// Diameter of the knob, cap or bezel.
    pub(super) knob: Option<Typed>,
    /// Diameter of a circle that nothing to be read may enter.
    pub(super) keep_clear: Option<Typed>,
}

/// A drawing whose circles are holes.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct DrawingDraft {
    /// The file's name, ending in `.dxf` or `.svg`.
    pub(super) file: Option<Typed>,
    /// Only circles on this layer (SVG: in the group with this id) are holes.
    pub(super) layer: Option<Typed>,
    /// Where the drawing's origin (SVG: its top left corner) lies, [x, y] from the panel's origin.
    pub(super) at: Option<Many>,
    /// What the names of its holes start with: `H` gives H1, H2, … row by row.
    pub(super) prefix: Option<Typed>,
}

/// A bracket over several holes, with a title.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct GroupingDraft {
    /// Its words.
    pub(super) title: Option<Many>,
    /// The holes it spans.
    pub(super) holes: Option<Many>,
    /// `above` or `below` them.
    pub(super) side: Option<Typed>,
    /// From the line through the outermost holes' middles to the bracket.
    pub(super) from_middle: Option<Typed>,
    /// How far it reaches past the outermost holes' keep-out circles.
    pub(super) reach: Option<Typed>,
    /// Style of its title.
    pub(super) style: Option<Typed>,
    /// Level of its title; 3 when not said.
    pub(super) level: Option<Typed>,
    /// Width of its line.
    pub(super) width: Option<Typed>,
    /// A colour, or `clear`: of the line, and of the title unless its style says otherwise.
    pub(super) paint: Option<Typed>,
}

/// A bracket: a line with both ends bent, its title in the middle.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct BracketDraft {
    /// From end to end.
    pub(super) length: Option<Typed>,
    /// Length of the bent ends.
    pub(super) ends: Option<Typed>,
    /// `down` or `up`: which way the ends are bent.
    pub(super) bent: Option<Typed>,
    /// Width of the line.
    pub(super) width: Option<Typed>,
    /// A colour, or `clear`.
    pub(super) paint: Option<Typed>,
    /// The title that interrupts the line.
    pub(super) title: Option<Shorthand<TextDraft>>,
    /// Where the middle of the line is.
    pub(super) at: Option<Many>,
    /// Degrees clockwise.
    pub(super) turned: Option<Typed>,
}

impl HoleDraft {
    /// The keys a kind of part can fill in.
    pub(super) fn under(&mut self, kind: &FittingDraft) {
        let pairs = [
            (&mut self.diameter, &kind.diameter),
            (&mut self.clear, &kind.clear),
            (&mut self.nut, &kind.nut),
            (&mut self.knob, &kind.knob),
            (&mut self.keep_clear, &kind.keep_clear),
        ];
        for (own, under) in pairs {
            if own.is_none() {
                own.clone_from(under);
            }
        }
    }
}
