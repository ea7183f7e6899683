//! What was typed, with places: the types that mirror the job file.
//!
//! The doc comment of each field is what an editor shows for the key, through the schema. Nothing is
//! parsed here beyond "text", "list" or "map": lengths, colours and names are read when a job is resolved,
//! so that all mistakes come in one run.

use super::art_draft::{ArtDraft, SymbolDraft};
use super::code_draft::CodeDraft;
use super::dial_draft::{ArcDraft, ScaleDraft};
use super::panel_draft::{BracketDraft, PanelDraft};
use super::seen_draft::{ColourDraft, ViewedDraft, WhiteDraft};
use super::typed::{Many, Shorthand, Typed};
use super::wires_draft::WiresDraft;
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;

/// A whole job file.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct JobDraft {
    /// Title of the job, printed at the foot of every sheet.
    pub(super) title: Option<Typed>,
    /// Revision as you number it, printed at the foot.
    pub(super) revision: Option<Typed>,
    /// Date as you write it, printed at the foot; never the computer's clock.
    pub(super) date: Option<Typed>,
    /// Scale of the model, `1:87`; lengths that end in `prototype` are divided by it.
    pub(super) scale: Option<Typed>,
    /// Film, paper and how the sheets are filled and cut.
    pub(super) sheet: Option<SheetDraft>,
    /// The printer's class or process, and what it can do.
    pub(super) printer: Option<PrinterDraft>,
    /// Colours by name: `beacon: "#b3261e"`, or a map of how it is shown and how it is printed.
    pub(super) colours: BTreeMap<String, Shorthand<ColourDraft>>,
    /// Texts by name, used as `{name}` in any label: one change here changes all.
    pub(super) words: BTreeMap<String, Typed>,
    /// Font files beside the job, by the name labels use for them.
    pub(super) fonts: BTreeMap<String, FontDraft>,
    /// What the labels go on: a colour, or a map with colour, finish and applied.
    pub(super) surfaces: BTreeMap<String, Shorthand<SurfaceDraft>>,
    /// From where the labels are read: a distance, or a map; a surface or a label may say another.
    pub(super) viewed_from: Option<Shorthand<ViewedDraft>>,
    /// The wiring: a table or list of wires, their rails, and what their markers should be.
    pub(super) wires: Option<WiresDraft>,
    /// Codes of findings about the job as a whole that you accept; labels and `wires` accept their own.
    pub(super) allow: Option<Many>,
    /// Styles by name: keys of a label that many labels share.
    pub(super) styles: BTreeMap<String, LabelDraft>,
    /// The labels.
    pub(super) labels: Vec<Shorthand<LabelDraft>>,
}

/// Film, paper and how the sheets are filled and cut.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct SheetDraft {
    /// `clear`, `white`, `sticker` or `paper`; a label may choose another.
    pub(super) film: Option<Typed>,
    /// `A3` to `A6`, `Letter`, `Legal`, with `landscape` if lying, or [width, height].
    pub(super) paper: Option<Many>,
    /// Where nothing can be printed: one length, [top and bottom, left and right], or [top, right, bottom, left].
    pub(super) margin: Option<Many>,
    /// Least distance between the trims of neighbours.
    pub(super) gap: Option<Typed>,
    /// `free`, or `straight` for knife and ruler from edge to edge.
    pub(super) cuts: Option<Typed>,
    /// Whether labels may be laid with a quarter turn: `yes` or `no`.
    pub(super) turn: Option<Typed>,
    /// Whether names, ticks and bars are printed in the waste: `yes` or `no`.
    pub(super) guides: Option<Typed>,
    /// Spares of each label: a number, or a share such as `10 %`.
    pub(super) spares: Option<Typed>,
    /// `face-up`, `face-down`, `inside-window` or `heat-transfer`: decides what is mirrored.
    pub(super) applied: Option<Typed>,
}

/// The printer's class or process, and what it can do.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct PrinterDraft {
    /// A profile beside the job, made by `decalwright printer` from test prints; keys here win over it.
    pub(super) profile: Option<Typed>,
    /// Your own name for it, printed at the foot.
    pub(super) name: Option<Typed>,
    /// `laser` or `ink-jet`.
    pub(super) process: Option<Typed>,
    /// `laser-1200`, `laser-600`, `ink-jet`, `ink-jet-uncoated` or `white-ink`.
    pub(super) class: Option<Typed>,
    /// Thinnest line of ink it prints.
    pub(super) thinnest_ink: Option<Typed>,
    /// Thinnest clear gap it keeps open.
    pub(super) thinnest_clear: Option<Typed>,
    /// Smallest cap height it prints in ink.
    pub(super) smallest_cap: Option<Typed>,
    /// Smallest cap height it keeps clear in ink.
    pub(super) smallest_cap_reversed: Option<Typed>,
    /// Dots to the inch; codes are made of whole dots.
    pub(super) dots_per_inch: Option<Typed>,
    /// `dye`, `pigment` or `toner`: how much of what is under it the ink lets through.
    pub(super) inks: Option<Typed>,
    /// Share of its own colour that ink keeps on any ground: `20 %`.
    pub(super) opacity: Option<Typed>,
    /// The same for white ink or toner.
    pub(super) white_opacity: Option<Typed>,
    /// Thinnest line of white it prints.
    pub(super) thinnest_white: Option<Typed>,
    /// 1 when white and colours are printed in one pass, 2 when the sheet is fed twice.
    pub(super) white_passes: Option<Typed>,
}

/// A font file beside the job.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct FontDraft {
    /// The file's name.
    pub(super) file: Option<Typed>,
    /// Its SHA-256; another file is then refused.
    pub(super) sha256: Option<Typed>,
    /// Which face of a collection, from 0.
    pub(super) index: Option<Typed>,
}

/// What labels go on.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct SurfaceDraft {
    /// Its colour.
    pub(super) colour: Option<Typed>,
    /// Its finish, in your words: matt, gloss, metallic.
    pub(super) finish: Option<Typed>,
    /// How labels get onto it.
    pub(super) applied: Option<Typed>,
    /// From where it is read: a distance, or a map.
    pub(super) viewed_from: Option<Shorthand<ViewedDraft>>,
}

/// A label, or a style: what labels of a kind share.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct LabelDraft {
    /// Its name; made from the text when not given.
    pub(super) name: Option<Typed>,
    /// The style it starts from.
    pub(super) style: Option<Typed>,
    /// Its words, a list of lines, or a map with font, height, paint and more.
    pub(super) text: Option<Shorthand<TextDraft>>,
    /// The box round them: a fill colour, or a map.
    #[serde(rename = "box")]
    pub(super) frame: Option<Shorthand<FrameDraft>>,
    /// More parts, painted after the box and before the text; a clear part removes what lies under it.
    pub(super) parts: Option<Vec<PartDraft>>,
    /// The surface it goes on.
    pub(super) on: Option<Typed>,
    /// The film it is printed on, if not the sheet's.
    pub(super) film: Option<Typed>,
    /// How many are needed.
    pub(super) copies: Option<Typed>,
    /// How many more to print: a number, or a share such as `10 %`.
    pub(super) spares: Option<Typed>,
    /// `face-up`, `face-down`, `inside-window` or `heat-transfer`.
    pub(super) applied: Option<Typed>,
    /// From where it is read: a distance, or a map.
    pub(super) viewed_from: Option<Shorthand<ViewedDraft>>,
    /// White under its ink: `under` prints it, `backing` cuts it from white film; or a map.
    pub(super) white: Option<Shorthand<WhiteDraft>>,
    /// `pair` makes a right-hand one as drawn and a left-hand one; text stays readable.
    pub(super) handed: Option<Typed>,
    /// Ink runs this far past the trim.
    pub(super) bleed: Option<Typed>,
    /// The trim runs this far outside the ink.
    pub(super) film_border: Option<Typed>,
    /// `yes` draws lines that are too thin for the printer as thin as it can print them.
    pub(super) lift: Option<Typed>,
    /// Corner radius of the trim where it does not follow a box.
    pub(super) corner: Option<Typed>,
    /// Size of the trim, [width, height].
    pub(super) size: Option<Many>,
    /// Where it may be cut in two: `words`, or distances from the left edge.
    pub(super) split: Option<Many>,
    /// Codes of findings you accept here.
    pub(super) allow: Option<Many>,
    /// A remark for the placement list.
    pub(super) note: Option<Typed>,
    /// A table beside the job: one label for each row, `{column}` filled in.
    pub(super) rows: Option<Typed>,
    /// Makes it a panel: its holes, and the legends that stand at them.
    pub(super) panel: Option<Box<PanelDraft>>,
    /// A panel's legend: the hole it stands at, a list of them, or a kind of hole; `{hole}` is its name.
    pub(super) hole: Option<Many>,
    /// A panel's legend: `above`, `below`, `left`, `right` or `centre` of its hole.
    pub(super) side: Option<Typed>,
    /// A panel's legend: from the knob, nut or hole to it.
    pub(super) gap: Option<Typed>,
    /// A panel's legend: from the hole's middle to it, instead of the gap.
    pub(super) from_middle: Option<Typed>,
    /// A panel's legend: where it stands, from the panel's origin; at a hole, a shift [right, down].
    pub(super) at: Option<Many>,
    /// A panel's legend: 1 for positions, 2 for names, 3 for groups, 4 for a title; each a quarter larger.
    pub(super) level: Option<Typed>,
    /// Numbers that make one label each: `201..212` fills in `{n}`; or a map of names and ranges.
    pub(super) series: Option<Shorthand<BTreeMap<String, Typed>>>,
}

/// Words and how they are set.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct TextDraft {
    /// The words; a list is one entry a line.
    pub(super) text: Option<Many>,
    /// A role (`label`, `condensed`…), a family, or a name under `fonts`.
    pub(super) font: Option<Typed>,
    /// Height of a flat capital.
    pub(super) cap_height: Option<Typed>,
    /// Size of the font's em, instead of the cap height.
    pub(super) em: Option<Typed>,
    /// As large as fits into [width, height].
    pub(super) fit: Option<Many>,
    /// Extra space between letters, as a share of the cap height.
    pub(super) tracking: Option<Typed>,
    /// Base line to base line, as a multiple of the cap height.
    pub(super) line_pitch: Option<Typed>,
    /// `left`, `centre` or `right`.
    pub(super) align: Option<Typed>,
    /// The widest it may be; wider is an error.
    pub(super) width: Option<Typed>,
    /// Spaced out to be this wide; the letters keep their shape.
    pub(super) spread: Option<Typed>,
    /// The arc it stands on; `at` is then the arc's centre.
    pub(super) arc: Option<ArcDraft>,
    /// Figures of one width: `yes` or `no`.
    pub(super) tabular: Option<Typed>,
    /// `as-typed` or `upper`.
    pub(super) case: Option<Typed>,
    /// A colour, or `clear`.
    pub(super) paint: Option<Typed>,
    /// Where it stands: [right, down] from the middle of the label.
    pub(super) at: Option<Many>,
    /// Degrees clockwise.
    pub(super) turned: Option<Typed>,
}

/// A box, pill, circle or ellipse.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct FrameDraft {
    /// [width, height], or one length for both; without it the box goes round the other parts.
    pub(super) size: Option<Many>,
    /// Space between the box and what it holds: one length, or [across, down].
    pub(super) padding: Option<Many>,
    /// Least [width, height] when it goes round other parts.
    pub(super) least: Option<Many>,
    /// `rounded`, `pill`, `ellipse`, `slanted` or `pointed`.
    pub(super) shape: Option<Typed>,
    /// Corner radius of a rounded box.
    pub(super) radius: Option<Typed>,
    /// How far a slanted box leans right, degrees from upright.
    pub(super) slant: Option<Typed>,
    /// Length of the point of a pointed box.
    pub(super) point: Option<Typed>,
    /// A colour, `clear`, or `none`.
    pub(super) fill: Option<Typed>,
    /// The border: its width, or a map; `none` takes a style's away.
    pub(super) line: Option<Shorthand<FrameLineDraft>>,
    /// Where its middle is: [right, down] from the middle of the label.
    pub(super) at: Option<Many>,
    /// Degrees clockwise.
    pub(super) turned: Option<Typed>,
}

/// The border of a box.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct FrameLineDraft {
    /// Its width.
    pub(super) width: Option<Typed>,
    /// How far inside the box's edge it starts.
    pub(super) inset: Option<Typed>,
    /// A colour, or `clear`.
    pub(super) paint: Option<Typed>,
}

/// One part: a map with one key that names the element.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct PartDraft {
    /// Words.
    pub(super) text: Option<Shorthand<TextDraft>>,
    /// A box, pill, circle or ellipse.
    #[serde(rename = "box")]
    pub(super) frame: Option<Shorthand<FrameDraft>>,
    /// A line or stripes.
    pub(super) line: Option<LineDraft>,
    /// A ring.
    pub(super) ring: Option<RingDraft>,
    /// A disc.
    pub(super) disc: Option<DiscDraft>,
    /// Chevrons pointing right.
    pub(super) chevron: Option<ChevronDraft>,
    /// A dial: marks and numbers round a centre.
    pub(super) dial: Option<ScaleDraft>,
    /// A straight scale.
    pub(super) scale: Option<ScaleDraft>,
    /// A symbol: its name, or a map.
    pub(super) symbol: Option<Shorthand<SymbolDraft>>,
    /// A drawing from an SVG file.
    pub(super) art: Option<ArtDraft>,
    /// A code for machines to read.
    pub(super) code: Option<CodeDraft>,
    /// A bracket over a group of controls.
    pub(super) bracket: Option<BracketDraft>,
    /// Parts side by side.
    pub(super) row: Option<GroupDraft>,
    /// Parts one under another.
    pub(super) column: Option<GroupDraft>,
}

/// A straight line or a stack of stripes, level before it is turned.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct LineDraft {
    /// From end to end.
    pub(super) length: Option<Typed>,
    /// Width of each stripe.
    pub(super) width: Option<Typed>,
    /// How many stripes, one under another.
    pub(super) count: Option<Typed>,
    /// From middle to middle of neighbouring stripes.
    pub(super) pitch: Option<Typed>,
    /// `square`, `round`, `arrow` or `slant`: one for both ends, or [left, right].
    pub(super) ends: Option<Many>,
    /// Slant of the ends, degrees from square, leaning right when positive.
    pub(super) slant: Option<Typed>,
    /// Length of an arrow head in stripe widths.
    pub(super) head: Option<Typed>,
    /// A colour or `clear`; a list is taken in turn by the stripes.
    pub(super) paint: Option<Many>,
    /// Where its middle is.
    pub(super) at: Option<Many>,
    /// Degrees clockwise.
    pub(super) turned: Option<Typed>,
}

/// A ring.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct RingDraft {
    /// Outer diameter.
    pub(super) outer: Option<Typed>,
    /// Inner diameter.
    pub(super) inner: Option<Typed>,
    /// A colour, or `clear`.
    pub(super) paint: Option<Typed>,
    /// Where its middle is.
    pub(super) at: Option<Many>,
}

/// A disc.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct DiscDraft {
    /// Its diameter.
    pub(super) diameter: Option<Typed>,
    /// A colour, or `clear`.
    pub(super) paint: Option<Typed>,
    /// Where its middle is.
    pub(super) at: Option<Many>,
}

/// Chevrons pointing right, one behind another.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct ChevronDraft {
    /// How many.
    pub(super) count: Option<Typed>,
    /// Width of each band along its direction.
    pub(super) width: Option<Typed>,
    /// Between bands, along the direction.
    pub(super) gap: Option<Typed>,
    /// Overall height.
    pub(super) height: Option<Typed>,
    /// Angle between the two arms, degrees.
    pub(super) angle: Option<Typed>,
    /// A colour or `clear`; a list is taken in turn by the bands.
    pub(super) paint: Option<Many>,
    /// Where the middle of all is.
    pub(super) at: Option<Many>,
    /// Degrees clockwise.
    pub(super) turned: Option<Typed>,
}

/// Parts in a row or column.
#[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub(super) struct GroupDraft {
    /// The parts, in order.
    pub(super) parts: Vec<PartDraft>,
    /// Between the bounds of neighbours.
    pub(super) gap: Option<Typed>,
    /// `start`, `centre`, `end` or `base-line`.
    pub(super) align: Option<Typed>,
    /// Where the middle of all is.
    pub(super) at: Option<Many>,
    /// Degrees clockwise.
    pub(super) turned: Option<Typed>,
}
