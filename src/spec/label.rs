//! One label: its keys, merged and filled in, as millimetres and choices.

use super::element::frame::FrameKeys;
use super::element::text::TextKeys;
use super::element::{self, Around, Keys, Part, PartKeys};
use super::panel::{PanelKeys, Span, Stands};
use super::printer::Printer;
use super::reader::{Least, Reader};
use super::repeat::SeriesKeys;
use super::seen::{self, Viewed, ViewedKeys, White, WhiteKeys};
use super::sheet::{Applied, Film, SheetDefaults};
use super::surfaces::Surface;
use super::wiring::MarkerOf;
use super::{Allowed, spares, thin_lines};
use crate::finding::{Place, quoted};
use crate::yaml::{AsTree, OneOrList, Placed, Scalar, Tree, keys, read};
use kurbo::Size;
use std::collections::BTreeMap;
use std::rc::Rc;

keys! {
    /// A label, or a style: what labels of a kind share.
    pub(super) struct LabelKeys {
        /// Its name; made from the text when not given.
        name: Option<Scalar>,
        /// The style it starts from.
        #[allow(dead_code, reason = "found on the tree before the label is read")]
        style: Option<AsTree<Scalar>>,
        /// Its words, a list of lines, or a map with font, height, paint and more.
        text: Option<TextKeys>,
        /// The box round them: a fill colour, or a map.
        r#box: Option<FrameKeys>,
        /// More parts, painted after the box and before the text; a clear part removes what lies under it.
        parts: Vec<Placed<PartKeys>>,
        /// The surface it goes on.
        pub(super) on: Option<Scalar>,
        /// The film it is printed on, if not the sheet's.
        film: Option<Scalar>,
        /// How many are needed.
        copies: Option<Scalar>,
        /// How many more to print: a number, or a share such as `10 %`.
        spares: Option<Scalar>,
        /// `face-up`, `face-down`, `inside-window` or `heat-transfer`.
        applied: Option<Scalar>,
        /// From where it is read: a distance, or a map.
        viewed_from: Option<ViewedKeys>,
        /// White under its ink: `under` prints it, `backing` cuts it from white film; or a map.
        white: Option<WhiteKeys>,
        /// `pair` makes a right-hand one as drawn and a left-hand one; text stays readable.
        handed: Option<Scalar>,
        /// Ink runs this far past the trim.
        bleed: Option<Scalar>,
        /// The trim runs this far outside the ink.
        film_border: Option<Scalar>,
        /// `yes` draws lines that are too thin for the printer as thin as it can print them.
        lift: Option<Scalar>,
        /// Corner radius of the trim where it does not follow a box.
        pub(super) corner: Option<Scalar>,
        /// Size of the trim, [width, height].
        pub(super) size: Option<OneOrList>,
        /// Where it may be cut in two: `words`, or distances from the left edge.
        split: Option<OneOrList>,
        /// Codes of findings you accept here.
        pub(super) allow: Option<OneOrList>,
        /// A remark for the placement list.
        note: Option<Scalar>,
        /// A table beside the job: one label for each row, `{column}` filled in.
        #[allow(dead_code, reason = "found on the tree before the label is read")]
        rows: Option<AsTree<Scalar>>,
        /// Makes it a panel: its holes, and the legends that stand at them.
        #[allow(dead_code, reason = "found on the tree before the label is read")]
        panel: Option<AsTree<PanelKeys>>,
        /// A panel's legend: the hole it stands at, a list of them, or a kind of hole; `{hole}` is its name.
        pub(super) hole: Option<OneOrList>,
        /// A panel's legend: `above`, `below`, `left`, `right` or `centre` of its hole.
        pub(super) side: Option<Scalar>,
        /// A panel's legend: from the knob, nut or hole to it.
        pub(super) gap: Option<Scalar>,
        /// A panel's legend: from the hole's middle to it, instead of the gap.
        pub(super) from_middle: Option<Scalar>,
        /// A panel's legend: where it stands, from the panel's origin; at a hole, a shift [right, down].
        pub(super) at: Option<OneOrList>,
        /// A panel's legend: 1 for positions, 2 for names, 3 for groups, 4 for a title; each a quarter larger.
        pub(super) level: Option<Scalar>,
        /// Numbers that make one label each: `201..212` fills in `{n}`; or a map of names and ranges.
        #[allow(dead_code, reason = "found on the tree before the label is read")]
        series: Option<AsTree<SeriesKeys>>,
    }
}

/// What happens at the edge of a label.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Edge {
    /// Ink runs this far past the trim, mm.
    Bleed(f64),
    /// The trim runs this far outside the ink, mm.
    FilmBorder(f64),
    /// Not said: bleed where a filled box meets white film, a film border elsewhere.
    Usual,
}

/// Where a label may be cut in two when the film is too small.
#[derive(Clone, Debug, PartialEq)]
pub enum Split {
    /// Nowhere.
    Never,
    /// In the gap between two words, into the fewest pieces that fit.
    BetweenWords,
    /// At these distances from the trim's left edge, mm, rising.
    At(Vec<f64>),
}

/// One label.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Its name, unique in the job.
    pub name: String,
    /// Where it is asked for.
    pub place: Place,
    /// Film it is printed on.
    pub film: Film,
    /// Where the film was chosen.
    pub film_place: Place,
    /// The surface it goes on: a key of [`crate::Spec::surfaces`].
    pub on: Option<String>,
    /// How many are needed.
    pub copies: u32,
    /// How many more to print in case one tears.
    pub spares: u32,
    /// How it gets onto its part.
    pub applied: Applied,
    /// From where it is read, where the job says so.
    pub viewed: Option<Viewed>,
    /// White under its ink.
    pub white: White,
    /// Whether it makes a left-hand and a right-hand one.
    pub handed_pair: bool,
    /// Bleed or film border.
    pub edge: Edge,
    /// Corner radius of the trim where it does not follow a box, mm; `None`: as large as the film border.
    pub corner: Option<f64>,
    /// Fixed size of the trim, mm; `None`: as large as what is on it.
    pub size: Option<Size>,
    /// What is on it, painted in order.
    pub parts: Vec<Part>,
    /// Where it may be cut in two.
    pub split: Split,
    /// Codes of findings the user accepts here.
    pub allow: Vec<Allowed>,
    /// The user's remark, for the placement list.
    pub note: Option<String>,
    /// What it is for.
    pub kind: LabelKind,
}

/// What a label is for.
#[derive(Clone, Debug, PartialEq)]
pub enum LabelKind {
    /// A label on its own.
    Decal,
    /// The overlay of a panel, an index into [`crate::Spec::panels`].
    Overlay(usize),
    /// A panel's legend, printed on its own.
    Legend(Stands),
    /// A wire's marker.
    Marker(MarkerOf),
    /// A piece of white film to go behind another label; where on a panel, behind a legend.
    Backing(Option<Stands>),
}

impl Label {
    /// Whether the user accepts findings with this code here.
    #[must_use]
    pub fn allows(&self, code: &str) -> bool {
        self.allow.iter().any(|allowed| allowed.code == code)
    }

    /// A label with nothing on it: one copy, no spare, face up on no known surface, the usual edge.
    #[must_use]
    pub fn plain(name: String, film: Film, place: Place) -> Label {
        Label {
            name,
            place,
            film,
            film_place: place,
            on: None,
            copies: 1,
            spares: 0,
            applied: Applied::FaceUp,
            viewed: None,
            white: White::None,
            handed_pair: false,
            edge: Edge::Usual,
            corner: None,
            size: None,
            parts: Vec::new(),
            split: Split::Never,
            allow: Vec::new(),
            note: None,
            kind: LabelKind::Decal,
        }
    }

    /// The panel it is the overlay of.
    #[must_use]
    pub fn overlay_of(&self) -> Option<usize> {
        match self.kind {
            LabelKind::Overlay(panel) => Some(panel),
            _ => None,
        }
    }

    /// Where on its panel it stands, when it is a legend printed on its own, or the backing of one.
    #[must_use]
    pub fn stands(&self) -> Option<&Stands> {
        match &self.kind {
            LabelKind::Legend(stands) | LabelKind::Backing(Some(stands)) => Some(stands),
            _ => None,
        }
    }

    /// What it marks, when it is a wire's marker.
    #[must_use]
    pub fn marker_of(&self) -> Option<&MarkerOf> {
        match &self.kind {
            LabelKind::Marker(of) => Some(of),
            _ => None,
        }
    }

    /// Whether it is a piece of white film to go behind another label.
    #[must_use]
    pub fn is_backing(&self) -> bool {
        matches!(self.kind, LabelKind::Backing(_))
    }
}

/// What the job says beside its labels.
pub(super) struct JobDefaults {
    pub(super) for_all: SheetDefaults,
    pub(super) surfaces: BTreeMap<String, Surface>,
    /// How labels get onto a surface, where it says so.
    pub(super) applied: BTreeMap<String, Applied>,
    /// From where labels are read that do not say so, nor their surface.
    pub(super) viewed: Option<Viewed>,
    pub(super) printer: Printer,
}

/// Where a label stands: its name, else its words, else its first value.
pub(super) fn place_of(label: &Tree) -> Option<Place> {
    let words = label.get("text").and_then(|text| text.get("text"));
    let first = ["name", "text", "box", "parts"].map(|key| label.get(key));
    let in_order = [first[0], words].into_iter().chain(first).flatten();
    in_order.filter_map(|value| value.first_place()).next().or_else(|| label.first_place())
}

/// A label without what says how many of it are made, and of what.
pub(super) fn on_it_alone(label: &Tree) -> Rc<Tree> {
    label.only(|key| !["style", "rows", "series", "panel"].contains(&key))
}

/// What a panel's legend is given besides its keys.
#[derive(Debug, Default)]
pub(super) struct GivenByPanel {
    /// The cap height that its level gives its texts, mm.
    pub(super) level_cap_mm: Option<f64>,
    /// The bracket that its words are the title of.
    pub(super) span: Option<Span>,
}

impl LabelKeys {
    /// The keys of a label; its style, rows, series and panel are found on the tree before.
    pub(super) fn of(label: &Tree) -> Option<LabelKeys> {
        read(&on_it_alone(label))
    }

    /// The words it is named after, and its name where it gives one.
    pub(super) fn words(&self) -> String {
        let words = self.text.iter().filter_map(|text| text.text.as_ref());
        let lines = words.flat_map(|words| &words.items).map(|item| item.text.as_str());
        lines.collect::<Vec<_>>().join(" ")
    }

    /// Whether there is a dial on it.
    pub(super) fn has_dial(&self) -> bool {
        self.parts.iter().any(|part| matches!(part.value, PartKeys::Dial(_)))
    }

    /// The label; `None` when nothing of it can be used.
    pub(super) fn label(
        self,
        place: Place,
        kind: LabelKind,
        by_panel: &GivenByPanel,
        job: &JobDefaults,
        reader: &mut Reader,
    ) -> Option<Label> {
        // A panel carries its legends, and may have nothing else.
        let carries = matches!(kind, LabelKind::Overlay(_)) || by_panel.span.is_some();
        let mut parts = self.on_it(place, carries, by_panel.level_cap_mm, reader);
        if let Some(span) = &by_panel.span {
            parts = parts.map(|parts| span.over(parts, place));
        }
        let on = surface(&self.on, job, reader);
        let film = reader.word(&self.film);
        let (film, film_place) = film
            .zip(self.film.as_ref().map(|film| film.place))
            .or(job.for_all.film)
            .unwrap_or((Film::Clear, place));
        let copies = spares::copies(self.copies.as_ref(), reader);
        let sheet_spares = job.for_all.spares.as_ref();
        let spares = spares::spares(self.spares.as_ref(), sheet_spares, copies, reader);
        let applied = reader
            .word(&self.applied)
            .or_else(|| job.applied.get(on.as_ref()?).copied())
            .or(job.for_all.applied)
            .unwrap_or(Applied::FaceUp);
        let of_surface = on.as_ref().and_then(|on| job.surfaces.get(on)?.viewed);
        let viewed = seen::viewed(&self.viewed_from, reader).or(of_surface).or(job.viewed);
        let white = seen::white(&self.white, &job.printer, reader);
        let lifted = reader.yes(&self.lift).unwrap_or(false);
        let handed = reader.choice(&self.handed, &[("pair", true), ("no", false)]);
        let mut label = Label {
            name: reader.label.clone().unwrap_or_default(),
            place,
            film,
            film_place,
            on,
            copies,
            spares,
            applied,
            viewed,
            white,
            handed_pair: handed.unwrap_or(false),
            edge: self.edge(reader),
            corner: reader.length(&self.corner, Least::Nought),
            size: reader.size(&self.size),
            split: split(&self.split, reader),
            allow: codes(&self.allow),
            note: self.note.map(|note| note.text),
            kind,
            parts: parts?,
        };
        if lifted {
            thin_lines::widen_thin_lines(&mut label, &job.printer, reader.context.findings);
        }
        (carries || !label.parts.is_empty()).then_some(label)
    }

    /// Everything on a label in painting order: the box, the parts, the text.
    fn on_it(
        &self,
        place: Place,
        carries: bool,
        level_cap_mm: Option<f64>,
        reader: &mut Reader,
    ) -> Option<Vec<Part>> {
        let words = self.text.as_ref().filter(|text| text.text.is_some());
        let is_bare = words.is_none() && self.parts.is_empty();
        let stands_alone =
            self.r#box.as_ref().is_some_and(|frame| self.size.is_some() || frame.has_size());
        if is_bare && !carries && !stands_alone {
            let help = "give it `text:`, `parts:` or a box with a size";
            reader.wrong("empty-label", place, "the label has nothing on it", help);
            return None;
        }
        let cap_mm =
            self.text.as_ref().and_then(|text| reader.length(&text.cap_height, Least::Something));
        let around = Around { label: place, cap_mm: cap_mm.or(level_cap_mm) };
        let mut all = Vec::with_capacity(self.parts.len() + 2);
        all.extend(self.r#box.as_ref().and_then(|frame| frame.part(place, &around, reader)));
        all.extend(element::parts(&self.parts, &around, reader));
        all.extend(words.and_then(|words| words.part(place, &around, reader)));
        Some(all)
    }

    fn edge(&self, reader: &mut Reader) -> Edge {
        let bleed = reader.length(&self.bleed, Least::Nought).map(Edge::Bleed);
        let border = reader.length(&self.film_border, Least::Nought).map(Edge::FilmBorder);
        bleed.or(border).unwrap_or(Edge::Usual)
    }
}

fn surface(scalar: &Option<Scalar>, job: &JobDefaults, reader: &mut Reader) -> Option<String> {
    let scalar = scalar.as_ref()?;
    let name = scalar.trimmed();
    if job.surfaces.contains_key(name) {
        return Some(name.to_owned());
    }
    let surfaces = job.surfaces.keys().map(String::as_str);
    let help = reader.did_you_mean(name, surfaces, "add it under `surfaces:` with its colour");
    let message = format!("no surface is called {}", quoted(name));
    reader.wrong("unknown-surface", scalar.place, message, help);
    None
}

fn split(list: &Option<OneOrList>, reader: &mut Reader) -> Split {
    let Some(list) = list else { return Split::Never };
    match list.items.as_slice() {
        [only] if only.trimmed() == "words" => return Split::BetweenWords,
        [only] if ["no", "never"].contains(&only.trimmed()) => return Split::Never,
        _ => {}
    }
    let mut cuts = Vec::with_capacity(list.items.len());
    for item in &list.items {
        let Some(mm) = reader.length(item, Least::Something) else { continue };
        if cuts.last().is_some_and(|last| *last >= mm) {
            let message = format!("{} does not rise", quoted(&item.text));
            let help = "list the distances from the left edge in order";
            reader.wrong("bad-split", item.place, message, help);
            continue;
        }
        cuts.push(mm);
    }
    if cuts.is_empty() { Split::Never } else { Split::At(cuts) }
}

/// Codes of findings that are accepted.
pub(super) fn codes(list: &Option<OneOrList>) -> Vec<Allowed> {
    let items = list.as_ref().map(|list| list.items.as_slice()).unwrap_or_default();
    let allowed = |item: &Scalar| Allowed { code: item.trimmed().to_owned(), place: item.place };
    items.iter().map(allowed).collect()
}
