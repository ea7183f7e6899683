//! The gate: what a drawing may hold, checked before anything of it is drawn.

use super::Refused;
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Error, Node, ParsingOptions};

/// The most nodes, as written and as drawn with every `use` spelt out.
const MOST_NODES: u32 = 200_000;

/// The deepest nesting, through `use` too: each level is a step of the stack.
const DEEPEST: u32 = 100;

/// At most this many slips of one drawing are reported.
const MOST_REPORTED: usize = 8;

const SVG: &str = "http://www.w3.org/2000/svg";
const XLINK: &str = "http://www.w3.org/1999/xlink";

/// Elements that become outlines, or that draw nothing by themselves.
const ALLOWED: &str = "svg g defs symbol use path rect circle ellipse line polyline polygon clipPath title desc \
                       linearGradient radialGradient stop";

/// Elements that are refused, and what to do about them.
const REFUSED: [(&str, &str); 14] = [
    ("text", "convert text to outlines (paths), so that no other font can stand in"),
    ("textPath", "convert text to outlines (paths)"),
    ("tspan", "convert text to outlines (paths)"),
    ("image", "trace the picture to paths, or take it out"),
    ("feImage", "take the filter out"),
    ("filter", "take the filter out: outlines are sharp"),
    ("mask", "cut the shapes with path operations instead of a mask"),
    ("pattern", "fill the shape with one plain colour"),
    ("marker", "convert strokes with markers to paths"),
    ("style", "save it with presentation attributes instead of a style sheet (plain SVG)"),
    ("script", "take the script out"),
    ("foreignObject", "take the foreign object out"),
    ("a", "take the link away, keep its shapes"),
    ("font", "convert text to outlines (paths)"),
];

/// What becomes of text that is no outlines.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Notes {
    /// Refused: another font could stand in.
    Refused,
    /// Passed over: only shapes are wanted.
    PassedOver,
}

/// The document, when nothing in it is refused.
pub(super) fn passed(text: &str, notes: Notes) -> Result<Document<'_>, Vec<Refused>> {
    let options =
        ParsingOptions { allow_dtd: false, nodes_limit: MOST_NODES, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|error| unread(&error))?;
    let root = document.root_element();
    if !root.has_tag_name((SVG, "svg")) {
        return Err(Refused::whole("it is no SVG drawing", "save the drawing as a plain SVG"));
    }
    let mut slips = Vec::new();
    look_at(root, notes, &mut slips);
    if slips.is_empty() {
        weigh(&document, &mut slips);
    }
    if slips.is_empty() { Ok(document) } else { Err(slips) }
}

fn unread(error: &Error) -> Vec<Refused> {
    match error {
        Error::DtdDetected => Refused::whole(
            "it has a document type declaration (<!DOCTYPE …>)",
            "take that line out, or save it as a plain SVG",
        ),
        Error::NodesLimitReached => {
            Refused::whole("it has more than 200,000 nodes", "simplify the drawing")
        }
        other => {
            let message = format!("it cannot be read as XML: {other}");
            let what = message.chars().take(160).collect::<String>();
            vec![Refused::new(other.pos().row, what, "save the drawing again as a plain SVG")]
        }
    }
}

fn line(node: Node<'_, '_>) -> u32 {
    node.document().text_pos_at(node.range().start).row
}

/// Whether a node draws anything: notes of drawing programs in name spaces of their own do not.
fn drawn(node: Node<'_, '_>) -> bool {
    node.is_element()
        && node.tag_name().namespace() == Some(SVG)
        && node.tag_name().name() != "metadata"
}

/// Goes through all elements without stepping down the stack.
fn look_at(root: Node<'_, '_>, notes: Notes, slips: &mut Vec<Refused>) {
    let mut waiting = vec![(root, 1)];
    while let Some((node, depth)) = waiting.pop() {
        if slips.len() >= MOST_REPORTED {
            return;
        }
        if depth > DEEPEST {
            let what = format!("it is nested deeper than {DEEPEST} levels");
            slips.push(Refused::new(0, what, "ungroup its shapes"));
            return;
        }
        if notes == Notes::PassedOver && node.tag_name().name() == "text" {
            continue;
        }
        if let Some(refused) = slip_of(node) {
            if !slips.iter().any(|slip| slip.what == refused.what) {
                slips.push(refused);
            }
            continue;
        }
        let inside: Vec<_> = node.children().filter(|child| drawn(*child)).collect();
        waiting.extend(inside.into_iter().rev().map(|child| (child, depth + 1)));
    }
}

fn slip_of(node: Node<'_, '_>) -> Option<Refused> {
    let name = node.tag_name().name();
    let short: String = name.chars().take(40).collect();
    if !ALLOWED.split(' ').any(|allowed| allowed == name) {
        let known = REFUSED.iter().find(|(refused, _)| *refused == name);
        let help = known.map_or("take it out, or convert it to paths", |(_, help)| help);
        return Some(Refused::new(line(node), format!("it holds <{short}>"), help));
    }
    for attribute in node.attributes() {
        let (key, value) = (attribute.name(), attribute.value());
        if attribute.namespace().is_some_and(|space| space != XLINK) {
            continue;
        }
        if key.starts_with("on") {
            let key: String = key.chars().take(40).collect();
            let what = format!("<{short}> has a script in `{key}`");
            return Some(Refused::new(line(node), what, "take the script out"));
        }
        let outside = key == "href" && !value.trim_start().starts_with('#');
        if outside || links_out(value) {
            let what = format!("<{short}> links to something outside the drawing");
            return Some(Refused::new(line(node), what, "put what it links to into the drawing"));
        }
    }
    None
}

/// Whether a value holds a `url(…)` that is no place in the drawing itself.
fn links_out(value: &str) -> bool {
    value
        .to_ascii_lowercase()
        .split("url(")
        .skip(1)
        .any(|rest| !rest.trim_start_matches([' ', '\t', '\n', '\r', '"', '\'']).starts_with('#'))
}

/// What a node draws, with all it refers to.
#[derive(Clone, Copy)]
struct Weight {
    nodes: u32,
    depth: u32,
}

/// Counts what is drawn with every reference spelt out, each element once.
fn weigh(document: &Document<'_>, slips: &mut Vec<Refused>) {
    let ids: BTreeMap<&str, Node<'_, '_>> =
        document.descendants().filter_map(|node| Some((node.attribute("id")?, node))).collect();
    let mut scales = Scales { ids, known: BTreeMap::new() };
    match scales.weight(document.root_element(), 1) {
        Some(all) if all.nodes <= MOST_NODES && all.depth <= DEEPEST => {}
        _ => slips.push(Refused::new(
            0,
            "its parts refer to each other too often, too deeply or in a circle",
            "ungroup the copies (convert `use` to paths)",
        )),
    }
}

struct Scales<'d, 'i> {
    ids: BTreeMap<&'d str, Node<'d, 'i>>,
    /// `None` while a node is being weighed: meeting it again is a circle.
    known: BTreeMap<u32, Option<Weight>>,
}

impl<'d, 'i> Scales<'d, 'i> {
    /// `None` for what is too deep or goes round in a circle.
    fn weight(&mut self, node: Node<'d, 'i>, depth: u32) -> Option<Weight> {
        if let Some(known) = self.known.get(&node.id().get()) {
            return *known;
        }
        if depth > DEEPEST {
            return None;
        }
        self.known.insert(node.id().get(), None);
        let mut all = Weight { nodes: 1, depth: 1 };
        let inside: Vec<Node<'d, 'i>> = node.children().filter(|child| drawn(*child)).collect();
        let referred: Vec<Node<'d, 'i>> =
            references(node).filter_map(|id| self.ids.get(id).copied()).collect();
        for part in inside.into_iter().chain(referred) {
            let part = self.weight(part, depth + 1)?;
            all.nodes = all.nodes.saturating_add(part.nodes);
            all.depth = all.depth.max(part.depth + 1);
        }
        self.known.insert(node.id().get(), Some(all));
        Some(all)
    }
}

/// The ids a node refers to: `href` and every `url(#…)`.
fn references<'d>(node: Node<'d, '_>) -> impl Iterator<Item = &'d str> {
    node.attributes().flat_map(|attribute| {
        let value = attribute.value();
        let href = (attribute.name() == "href").then(|| value.trim().trim_start_matches('#'));
        let urls = value.split("url(").skip(1).filter_map(|rest| {
            let rest = rest.trim_start_matches([' ', '"', '\'']).strip_prefix('#')?;
            rest.split([')', '"', '\'']).next().map(str::trim)
        });
        href.into_iter().chain(urls).collect::<Vec<_>>()
    })
}
