//! A whole job: from the tree of its file to a [`Spec`].
//!
//! Each value is read where it is used, and a mistake never stops the next value, so that all mistakes
//! of a job come in one run. Labels keep what can be used of them.

use super::element::number_parts;
use super::fonts::{self, FontKeys};
use super::label::{
    GivenByPanel, JobDefaults, Label, LabelKeys, LabelKind, codes, on_it_alone, place_of,
};
use super::names::{self, RequestedName};
use super::panel::{self, Panel, PanelContext, Span, Stands};
use super::printer::{self, PrinterKeys};
use super::reader::Reader;
use super::seen::{self, ColourKeys, ViewedKeys};
use super::sheet::{self, SheetKeys};
use super::styles::{self, Styles};
use super::surfaces::{self, SurfaceKeys};
use super::wiring::{self, WiresKeys};
use super::{Profile, Spec, merge, repeat};
use crate::colour::Colour;
use crate::files::Fetch;
use crate::finding::{Finding, Findings, Place, Sources, quoted};
use crate::font::Faces;
use crate::yaml::{self, AsTree, Form, OneOrList, Placed, Scalar, Tree, keys, read as keys_of};
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::OnceLock;

/// The most distinct labels a job may have, rows and series spelt out.
const MOST_LABELS: usize = 20_000;

/// The most pieces a job may print, spares included.
const MOST_PIECES: u64 = 200_000;

/// The styles built into the program: the name messages use for them, and the file.
pub(super) const BUNDLED: (&str, &[u8]) =
    ("bundled styles", include_bytes!("../../styles/bundled.yaml"));

/// The longest name of a label, and the longest title, revision and date, bytes: they are printed in the waste.
const LONGEST_NAME: usize = 200;

keys! {
    /// A whole job file.
    pub(super) struct JobKeys {
        /// Title of the job, printed at the foot of every sheet.
        title: Option<Scalar>,
        /// Revision as you number it, printed at the foot.
        revision: Option<Scalar>,
        /// Date as you write it, printed at the foot; never the computer's clock.
        date: Option<Scalar>,
        /// Scale of the model, `1:87`; lengths that end in `prototype` are divided by it.
        scale: Option<Scalar>,
        /// Film, paper and how the sheets are filled and cut.
        sheet: Option<Placed<SheetKeys>>,
        /// The printer's class or process, and what it can do.
        printer: Option<PrinterKeys>,
        /// Colours by name: `beacon: "#ad2b24"`, or a map of how it is shown and how it is printed.
        colours: BTreeMap<String, ColourKeys>,
        /// Texts by name, used as `{name}` in any label: one change here changes all.
        words: BTreeMap<String, Scalar>,
        /// Font files beside the job, by the name labels use for them.
        fonts: BTreeMap<String, FontKeys>,
        /// What the labels go on: a colour, or a map with colour, finish and applied.
        surfaces: BTreeMap<String, Placed<SurfaceKeys>>,
        /// From where the labels are read: a distance, or a map; a surface or a label may say another.
        viewed_from: Option<ViewedKeys>,
        /// The wiring: a table or list of wires, their rails, and what their markers should be.
        wires: Option<WiresKeys>,
        /// Codes of findings about the job as a whole that you accept; labels and `wires` accept their own.
        allow: Option<OneOrList>,
        /// Styles by name: keys of a label that many labels share.
        #[allow(dead_code, reason = "laid over each other as trees")]
        styles: AsTree<BTreeMap<String, LabelKeys>>,
        /// The labels.
        #[allow(dead_code, reason = "laid over their styles as trees")]
        labels: AsTree<Vec<LabelOrWords>>,
    }
}

keys! {
    /// A label, or its words alone.
    #[schemars(extend("x-short" = "text"))]
    struct LabelOrWords(#[allow(dead_code, reason = "labels are read as trees")] LabelKeys);
}

/// What a job is read with: its fonts, its files, and where what is wrong is written down.
pub(crate) struct ReadContext<'a> {
    /// Faces labels may ask for; the job's own fonts are added.
    pub faces: &'a mut Faces,
    /// Gets the files a job names.
    pub fetch: &'a mut Fetch<'a>,
    /// The job's texts, for showing the lines findings are about.
    pub sources: &'a mut Sources,
    /// What is wrong.
    pub findings: &'a mut Findings,
}

impl std::fmt::Debug for ReadContext<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("ReadContext").field("findings", &self.findings).finish_non_exhaustive()
    }
}

/// What a job file holds.
pub(crate) fn form() -> &'static Form {
    static FORM: OnceLock<Form> = OnceLock::new();
    FORM.get_or_init(|| Form::of::<JobKeys>("job", "labels:", "title: Signal console"))
}

/// Reads a job: `name` is the file's name as messages show it, `bytes` what it holds.
///
/// With errors among the findings the spec holds what could still be made of it, so that later rooms can
/// report more of what is wrong; nothing may be written from it. `None` when the file is no job at all.
pub(crate) fn read(name: &str, bytes: &[u8], context: &mut ReadContext<'_>) -> Option<Spec> {
    let root = yaml::tree(name, bytes, form(), context.sources, context.findings)?;
    let (bundled, styles) = BUNDLED;
    let bundled = yaml::tree(bundled, styles, form(), context.sources, context.findings)?;
    Some(resolve(name, &root, &bundled, context))
}

/// Reads a table of wires on its own, as a job that has nothing else.
pub(crate) fn read_wires(name: &str, bytes: &[u8], context: &mut ReadContext<'_>) -> Spec {
    let mut fetch = |wanted: &str| match wanted == name {
        true => Ok(bytes.to_vec()),
        false => (context.fetch)(wanted),
    };
    let mut context = ReadContext {
        faces: context.faces,
        fetch: &mut fetch,
        sources: context.sources,
        findings: context.findings,
    };
    let start = Place::default();
    let wires = Tree::map([("table", Some(Tree::text(name, start)))], start);
    let root = Tree::map([("wires", Some(wires))], start);
    let no_styles = Tree::map([], start);
    resolve(name, &root, &no_styles, &mut context)
}

/// Reads the colours a job gives names to, and nothing else of it; `None` when it is no job at all.
pub(crate) fn read_colours(
    name: &str,
    bytes: &[u8],
    context: &mut ReadContext<'_>,
) -> Option<BTreeMap<String, Colour>> {
    let root = yaml::tree(name, bytes, form(), context.sources, context.findings)?;
    let job: JobKeys = keys_of(&root)?;
    let mut reader = Reader::new(context);
    let _ = surfaces::colours(job.colours, &mut reader);
    Some(reader.colours)
}

/// The whole job; with errors among the findings it holds what could be made of it.
fn resolve(name: &str, root: &Tree, bundled: &Tree, context: &mut ReadContext<'_>) -> Spec {
    let mut reader = Reader::new(context);
    let start = Place::default();
    let job: JobKeys = keys_of(root).unwrap_or_default();
    reader.scale = surfaces::scale(&job.scale, &mut reader);
    let own = surfaces::colours(job.colours, &mut reader);
    surfaces::words(job.words, &mut reader);
    fonts::fonts(job.fonts, &mut reader);
    let (surfaces, applied) = surfaces::surfaces(job.surfaces, &mut reader);
    let printer = printer::printer(job.printer, &mut reader);
    // What the job says of a colour wins over what was picked for any job.
    let mut printed = printer.profile.as_ref().map(Profile::picks).unwrap_or_default();
    printed.extend(own);
    let (sheet, for_all) = sheet::sheet(job.sheet, start, printer.profile.as_ref(), &mut reader);
    let own_styles = of_job(root);
    own_styles.values().for_each(|style| merge::check(style, &mut reader));
    let styles = styles::resolve(of_job(bundled), own_styles, &mut reader);
    let wiring = job.wires.as_ref().map(|keys| wiring::wires(keys, start, &mut reader));
    let labels = root.get("labels").map(|labels| labels.items()).unwrap_or_default();
    if labels.is_empty() && wiring.is_none() {
        reader.wrong("no-labels", start, "the job has no labels", "add `labels: [RUN, REST]`");
    }
    let (wanted, contexts) = wanted(labels, &styles, start, &mut reader);
    let viewed = seen::viewed(&job.viewed_from, &mut reader);
    let defaults = JobDefaults { for_all, surfaces, applied, viewed, printer };
    let (mut labels, panels) = self::labels(wanted, contexts, &defaults, &mut reader);
    number_parts(labels.iter_mut().map(|label| &mut label.parts));
    Spec {
        title: line(&job.title, &mut reader).unwrap_or_else(|| stem(name)),
        revision: line(&job.revision, &mut reader),
        date: line(&job.date, &mut reader),
        sheet,
        printer: defaults.printer,
        surfaces: defaults.surfaces,
        printed,
        panels,
        labels,
        wiring,
        allow: codes(&job.allow),
    }
}

/// The styles a job file writes down.
fn of_job(root: &Tree) -> Styles {
    let styles = root.get("styles").map(|styles| styles.entries()).unwrap_or_default();
    styles.iter().map(|(name, style)| (name.text.to_string(), Rc::clone(style))).collect()
}

/// A line that is printed on every sheet.
pub(super) fn line(scalar: &Option<Scalar>, reader: &mut Reader) -> Option<String> {
    let scalar = scalar.as_ref()?;
    let words = scalar.trimmed();
    if words.len() > LONGEST_NAME {
        let message = format!("{} is longer than 200 bytes", quoted(words));
        reader.wrong("too-long", scalar.place, message, "shorten it");
        return None;
    }
    Some(words.to_owned())
}

/// The job's file name without folders and ending, its title when it has none.
fn stem(name: &str) -> String {
    let file = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    if stem.is_empty() { "job".into() } else { stem.to_owned() }
}

/// A label with its style under it and all filled in, not yet read.
pub(super) struct WantedLabel {
    pub(super) keys: LabelKeys,
    pub(super) place: Place,
    pub(super) name: RequestedName,
    pub(super) role: Role,
}

/// What a label is for.
#[derive(Clone, Debug)]
pub(super) enum Role {
    /// A label on its own.
    Decal,
    /// A panel's own label: which panel.
    Panel(usize),
    /// A panel's legend.
    Legend {
        /// Where it stands; `None` where that is wrong, which has been reported.
        stands: Option<Stands>,
        /// The cap height its level gives its texts, mm.
        level_cap_mm: Option<f64>,
        /// The bracket its words are the title of.
        span: Option<Span>,
    },
}

/// Every label with its style under it, rows and series spelt out and words filled in; and the panels.
fn wanted(
    labels: &[Rc<Tree>],
    styles: &Styles,
    start: Place,
    reader: &mut Reader,
) -> (Vec<WantedLabel>, Vec<PanelContext>) {
    let (mut all, mut panels) = (Vec::with_capacity(labels.len()), Vec::new());
    for own in labels {
        merge::check(own, reader);
        let place = place_of(own).unwrap_or(start);
        let mut label = Rc::clone(own);
        if let Some(style) = styles::of(own, styles, reader) {
            label = merge::over(own, style);
        }
        if label.get("panel").is_some() {
            panel::wanted(&label, place, styles, &mut panels, &mut all, reader);
        } else {
            panel::only_on_panels(&label, reader);
            all.extend(repeated(&label, place, &Role::Decal, reader));
        }
        if reader.room == 0 {
            break;
        }
        if all.len() > MOST_LABELS {
            let message = format!("the job has more than {MOST_LABELS} labels");
            reader.wrong("too-many", place, message, "make two jobs of it");
            // None of them is drawn: that would only take long to say the same.
            return (Vec::new(), Vec::new());
        }
    }
    (all, panels)
}

/// A label filled in, or one for each of its rows.
pub(super) fn repeated(
    label: &Rc<Tree>,
    place: Place,
    role: &Role,
    reader: &mut Reader,
) -> Vec<WantedLabel> {
    let rows = repeat::rows(label, MOST_LABELS, reader);
    let label = &on_it_alone(label);
    let Some(rows) = rows else {
        return filled(&reader.with_words(label), place, role, reader).into_iter().collect();
    };
    let here = place_of(label);
    reader.columns.clone_from(&rows.columns);
    let mut all = Vec::with_capacity(rows.rows.len());
    for row in rows.rows.iter().take(MOST_LABELS + 1) {
        let one = repeat::filled(label, &rows.columns, row);
        let same_name = one.scalar("name") == label.scalar("name");
        let one = reader.with_words(&one);
        // Words that are a whole cell stand in the table, and so does their label.
        let there = place_of(&one).filter(|there| Some(*there) != here);
        let Some(mut one) = filled(&one, there.unwrap_or(place), role, reader) else { break };
        if let (RequestedName::Given(name, _), true) = (&one.name, same_name) {
            one.name = RequestedName::Numbered(name.clone());
        }
        all.push(one);
    }
    reader.columns.clear();
    all
}

/// A label as its keys, under the name it asks for; `None` when there is no room left.
fn filled(label: &Rc<Tree>, place: Place, role: &Role, reader: &mut Reader) -> Option<WantedLabel> {
    if !reader.make_room(label, place) {
        return None;
    }
    let keys = LabelKeys::of(&merge::parts_like_text(label))?;
    let name = requested_name(label, &keys, reader);
    Some(WantedLabel { keys, place, name, role: role.clone() })
}

/// The name a label would like.
fn requested_name(label: &Tree, keys: &LabelKeys, reader: &mut Reader) -> RequestedName {
    if let Some(name) = label.scalar("name") {
        let words = name.trimmed();
        let (code, message, help) = if words.is_empty() {
            ("empty-name", "the name is empty", "write one, or leave `name` out")
        } else if words.len() > LONGEST_NAME {
            ("too-long", "the name is longer than 200 bytes", "shorten it")
        } else {
            return RequestedName::Given(words.to_owned(), name.place);
        };
        reader.wrong(code, name.place, message.to_owned(), help);
    }
    RequestedName::Made(names::slug(&keys.words()))
}

/// The labels, each under a name of its own, and the panels they stand on.
fn labels(
    wanted: Vec<WantedLabel>,
    contexts: Vec<PanelContext>,
    job: &JobDefaults,
    reader: &mut Reader,
) -> (Vec<Label>, Vec<Panel>) {
    let requests: Vec<RequestedName> = wanted.iter().map(|wanted| wanted.name.clone()).collect();
    let names = names::resolve(&requests, reader);
    let mut labels = Vec::with_capacity(wanted.len());
    let (mut panels, mut contexts) = (Vec::new(), contexts.into_iter());
    for (WantedLabel { keys, place, role, .. }, name) in wanted.into_iter().zip(names) {
        reader.label = Some(name.clone());
        let mut by_panel = GivenByPanel::default();
        let kind = match role {
            Role::Decal => Some(LabelKind::Decal),
            Role::Panel(index) => {
                // Each panel's own label comes in the order of the panels.
                panels.extend(contexts.next().map(|context| context.panel(name, &keys, reader)));
                Some(LabelKind::Overlay(index))
            }
            Role::Legend { stands, level_cap_mm, span } => {
                by_panel = GivenByPanel { level_cap_mm, span };
                stands.map(LabelKind::Legend)
            }
        };
        let is_lost = kind.is_none();
        let label = keys.label(place, kind.unwrap_or(LabelKind::Decal), &by_panel, job, reader);
        labels.extend(label.filter(|_| !is_lost));
    }
    reader.label = None;
    let labels = panel::delivered(labels, &panels, reader);
    let pieces: u64 =
        labels.iter().map(|label| u64::from(label.copies) + u64::from(label.spares)).sum();
    if pieces > MOST_PIECES {
        let message = format!("the job prints {pieces} pieces; {MOST_PIECES} is the most");
        let finding = Finding::error("too-many", message).help("make two jobs of it");
        reader.context.findings.push(finding);
    }
    (labels, panels)
}
