//! One label: its merged keys, filled in, as millimetres and choices.

use super::parts::{self, Around};
use super::reader::{Least, Reader, quoted};
use super::sheet::{APPLIED, FILMS, ForAll};
use super::{Wanted, frame, lift, seen, spares, text};
use crate::finding::Place;
use crate::spec::cascade;
use crate::spec::draft::{FrameDraft, LabelDraft, TextDraft};
use crate::spec::typed::{Many, Typed};
use crate::spec::{Allowed, Applied, Edge, Film, Label, Part, Printer, Split, Surface, Viewed};
use std::collections::BTreeMap;

/// What the job says beside its labels.
pub(super) struct Job {
    pub(super) for_all: ForAll,
    pub(super) surfaces: BTreeMap<String, Surface>,
    /// How labels get onto a surface, where it says so.
    pub(super) applied: BTreeMap<String, Applied>,
    /// From where labels are read that do not say so, nor their surface.
    pub(super) viewed: Option<Viewed>,
    pub(super) printer: Printer,
}

/// The label of a draft; `None` when nothing of it can be used.
pub(super) fn label(
    Wanted { mut draft, place, panel, .. }: Wanted,
    job: &Job,
    reader: &mut Reader<'_, '_>,
) -> Option<Label> {
    let carries = panel.is_some();
    let parts = on_it(&mut draft, (place, carries), reader);
    let on = surface(draft.on.as_ref(), job, reader);
    let film = reader.choice(draft.film.as_ref(), &FILMS);
    let (film, film_place) = film
        .zip(draft.film.as_ref().map(|typed| typed.place))
        .or(job.for_all.film)
        .unwrap_or((Film::Clear, place));
    let copies = spares::copies(draft.copies.as_ref(), reader);
    let sheet_spares = job.for_all.spares.as_ref();
    let spares = spares::spares(draft.spares.as_ref(), sheet_spares, copies, reader);
    let applied = reader
        .choice(draft.applied.as_ref(), &APPLIED)
        .or_else(|| job.applied.get(on.as_ref()?).copied())
        .or(job.for_all.applied)
        .unwrap_or(Applied::FaceUp);
    let of_surface = on.as_ref().and_then(|on| job.surfaces.get(on)?.viewed);
    let viewed = seen::viewed(draft.viewed_from.as_ref(), reader).or(of_surface).or(job.viewed);
    let white = seen::white(draft.white.as_ref(), &job.printer, reader);
    let lifted = reader.yes(draft.lift.as_ref()).unwrap_or(false);
    let handed = reader.choice(draft.handed.as_ref(), &[("pair", true), ("no", false)]);
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
        edge: edge(&draft, reader),
        corner: reader.length(draft.corner.as_ref(), Least::Nought),
        size: reader.size(draft.size.as_ref()),
        split: split(draft.split.as_ref(), reader),
        allow: codes(draft.allow),
        note: draft.note.map(|note| note.text),
        overlay_of: None,
        stands: None,
        marks: None,
        parts: parts?,
    };
    if lifted {
        lift::lift(&mut label, &job.printer, reader.desk.findings);
    }
    (carries || !label.parts.is_empty()).then_some(label)
}

/// Everything on a label in painting order: the box, the parts, the text.
///
/// A panel `carries` its legends, and may have nothing else.
fn on_it(
    draft: &mut LabelDraft,
    (place, carries): (Place, bool),
    reader: &mut Reader<'_, '_>,
) -> Option<Vec<Part>> {
    let words = draft.text.take().map(cascade::text_long).unwrap_or_default();
    let boxed = draft.frame.take().and_then(cascade::frame_long);
    let more = draft.parts.take().unwrap_or_default();
    let sized = draft.size.is_some();
    let is_bare = words.text.is_none() && more.is_empty();
    if is_bare && !carries && !stands_alone(boxed.as_ref(), sized) {
        let message = "the label has nothing on it".to_owned();
        reader.wrong(
            "empty-label",
            place,
            message,
            "give it `text:`, `parts:` or a box with a size",
        );
        return None;
    }
    let mut all = Vec::with_capacity(more.len() + 2);
    if let Some(boxed) = boxed {
        all.push(frame::part(&boxed, place, reader));
    }
    all.extend(parts::parts(more, &Around { text: &words, label: place }, reader));
    all.extend(own_text(&words, place, reader));
    Some(all)
}

/// Whether a box needs nothing inside it to have a size.
fn stands_alone(boxed: Option<&FrameDraft>, sized: bool) -> bool {
    boxed.is_some_and(|boxed| sized || boxed.size.is_some() || boxed.least.is_some())
}

fn own_text(words: &TextDraft, place: Place, reader: &mut Reader<'_, '_>) -> Option<Part> {
    words.text.is_some().then(|| text::part(words, place, reader)).flatten()
}

fn surface(typed: Option<&Typed>, job: &Job, reader: &mut Reader<'_, '_>) -> Option<String> {
    let typed = typed?;
    let name = typed.text.trim();
    if job.surfaces.contains_key(name) {
        return Some(name.to_owned());
    }
    let help = match reader.nearest(name, job.surfaces.keys().map(String::as_str)) {
        Some(near) => format!("did you mean `{near}`?"),
        None => "add it under `surfaces:` with its colour".into(),
    };
    let message = format!("no surface is called {}", quoted(name));
    reader.wrong("unknown-surface", typed.place, message, help);
    None
}

fn edge(draft: &LabelDraft, reader: &mut Reader<'_, '_>) -> Edge {
    let bleed = reader.length(draft.bleed.as_ref(), Least::Nought).map(Edge::Bleed);
    let border = reader.length(draft.film_border.as_ref(), Least::Nought).map(Edge::FilmBorder);
    bleed.or(border).unwrap_or(Edge::Usual)
}

fn split(many: Option<&Many>, reader: &mut Reader<'_, '_>) -> Split {
    let Some(many) = many else { return Split::Never };
    match many.items.as_slice() {
        [only] if only.text.trim() == "words" => return Split::BetweenWords,
        [only] if ["no", "never"].contains(&only.text.trim()) => return Split::Never,
        _ => {}
    }
    let mut cuts = Vec::with_capacity(many.items.len());
    for item in &many.items {
        let Some(mm) = reader.length(Some(item), Least::Something) else { continue };
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
pub(super) fn codes(many: Option<Many>) -> Vec<Allowed> {
    let items = many.map(|many| many.items).unwrap_or_default();
    let allowed = |item: Typed| Allowed { code: item.text.trim().to_owned(), place: item.place };
    items.into_iter().map(allowed).collect()
}
