//! From text to a [`Tree`]: the only place that knows the YAML parser.

use super::slips::Slips;
use super::{DEPTH, Key, Kind, Tree, WEIGHT, wording};
use crate::finding::{Finding, Place};
use crate::finding::{quoted, shortened};
use granit_parser::{Event, Options, Parser, ScalarStyle, Span};
use std::{collections::BTreeMap, rc::Rc};

/// The tree of a file's text, or `None` when there is none; what is wrong is reported to `slips`.
pub(super) fn tree(text: &str, slips: &mut Slips) -> Option<Rc<Tree>> {
    let mut builder =
        Builder { text, slips, open: Vec::new(), named: BTreeMap::new(), weight: 0, root: None };
    for event in Parser::new_from_str_with_options(text, options()) {
        match event {
            Ok((event, span)) => match builder.take(event, span) {
                Ok(()) => {}
                Err(Stop::Finished) => break,
                Err(Stop::Refused) => return None,
            },
            Err(error) => {
                let start = error.marker().byte_offset().unwrap_or(text.len());
                let finding = wording::of(&error, text, start);
                let end = text.get(start..).map_or(start, |rest| start + word_length(rest));
                let place = builder.slips.place(start, end);
                builder.slips.push(finding.at(place));
                return None;
            }
        }
    }
    if builder.root.is_none() {
        let finding = Finding::error("empty-job", "there is nothing in this file")
            .help("a job has at least `labels:`, for instance `labels: [{text: RUN}]`");
        let place = builder.slips.place(0, 0);
        builder.slips.push(finding.at(place));
    }
    builder.root
}

fn options() -> Options {
    granit_parser::options! {
        disallow_directives: true,
        emit_unresolved_aliases: true,
        emit_comments: false,
        flow_nesting_limit: DEPTH,
        block_nesting_limit: DEPTH,
    }
}

/// Bytes of the word that stands at the start of `rest`.
fn word_length(rest: &str) -> usize {
    rest.find(|c: char| c.is_whitespace()).unwrap_or(rest.len())
}

/// Why no more events are taken.
enum Stop {
    /// The job is complete.
    Finished,
    /// There is no use in going on.
    Refused,
}

/// A list or map that has not ended yet.
struct Open {
    start: usize,
    anchor: usize,
    /// Items, or the values of a map.
    values: Vec<Rc<Tree>>,
    /// The keys of a map, one more than values while a value is awaited.
    keys: Option<Vec<Option<Key>>>,
    /// Whether it was meant as text and is no map at all.
    void: bool,
}

impl Open {
    fn new(anchor: usize, keys: Option<Vec<Option<Key>>>) -> Open {
        Open { start: 0, anchor, values: Vec::new(), keys, void: false }
    }

    fn awaits_key(&self) -> bool {
        self.keys.as_ref().is_some_and(|keys| keys.len() == self.values.len())
    }

    /// The key whose value is awaited.
    fn key(&self) -> Option<&Key> {
        self.keys.as_ref()?.last()?.as_ref()
    }
}

struct Builder<'a, 's, 'f> {
    text: &'a str,
    slips: &'s mut Slips<'f>,
    open: Vec<Open>,
    /// What aliases may repeat, by the parser's number.
    named: BTreeMap<usize, Rc<Tree>>,
    /// What all nodes so far weigh, those that aliases repeat counted each time.
    weight: u64,
    root: Option<Rc<Tree>>,
}

impl Builder<'_, '_, '_> {
    fn take(&mut self, event: Event<'_>, span: Span) -> Result<(), Stop> {
        let place = self.place(&span);
        match event {
            Event::DocumentStart(..) if self.root.is_some() => {
                let message = "a second document starts here; one file holds one job";
                let help = "take the line `---` out, or put the second job into a file of its own";
                self.refuse("second-document", place, message, help);
                Err(Stop::Finished)
            }
            Event::Scalar(text, style, anchor, _) => self.scalar(&text, style, anchor, &span),
            Event::SequenceStart(_, anchor, tag) => {
                self.start(Open::new(anchor, None), &span, tag.is_some())
            }
            Event::MappingStart(_, anchor, tag) => {
                self.start(Open::new(anchor, Some(Vec::new())), &span, tag.is_some())
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(&span),
            Event::Alias(anchor) => self.alias(anchor, place),
            Event::UnresolvedAlias(name) => {
                let message = format!(
                    "`*{name}` repeats something marked `&{name}` above, and there is none"
                );
                let help = format!("if the star is meant as text, quote it: \"*{name}\"");
                self.refuse("quote-it", place, message, help);
                self.put(Kind::Missing, place, 0)
            }
            _ => Ok(()),
        }
    }

    fn place(&self, span: &Span) -> Place {
        let start = span.start.byte_offset().unwrap_or_default();
        self.slips.place(start, span.end.byte_offset().unwrap_or(start))
    }

    fn refuse(
        &mut self,
        code: &'static str,
        place: Place,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.slips.push(Finding::error(code, message).at(place).help(help));
    }

    fn scalar(
        &mut self,
        text: &str,
        style: ScalarStyle,
        anchor: usize,
        span: &Span,
    ) -> Result<(), Stop> {
        let place = self.place(span);
        let tagged = span.tag_start().is_some();
        let absent = style == ScalarStyle::Plain && place.start == place.end;
        if tagged {
            self.tag(span);
        }
        if self.open.last().is_some_and(Open::awaits_key) {
            let merge = style == ScalarStyle::Plain && text == "<<";
            self.key(text, place, span.start.line(), merge || absent || tagged);
            return Ok(());
        }
        if absent || tagged {
            if !tagged {
                self.absent(place);
            }
            return self.put(Kind::Missing, place, anchor);
        }
        if let Some(bad) = text.chars().find(|c| super::bytes::is_control(*c)) {
            let message = format!("this text holds the control character {:04X}", u32::from(bad));
            self.refuse("control-character", place, message, "take the escape out of the text");
            return self.put(Kind::Missing, place, anchor);
        }
        if style == ScalarStyle::Plain {
            self.cut_short(text, place);
        }
        self.put(Kind::Text(text.to_owned()), place, anchor)
    }

    /// Takes a key; an unusable one keeps its seat so that its value is dropped with it.
    fn key(&mut self, text: &str, place: Place, line: usize, unusable: bool) {
        if text == "<<" && unusable {
            let help = "put the shared keys under `styles` and name the style: `style: key`";
            self.refuse("merge-key", place, "merge keys are not read", help);
        } else if unusable && place.start == place.end {
            self.refuse("no-key", place, "there is no key before the colon", "write one");
        }
        let key = Key { text: text.into(), place, line };
        if let Some(keys) = self.open.last_mut().and_then(|open| open.keys.as_mut()) {
            keys.push((!unusable).then_some(key));
        }
    }

    /// Says what became of a value that YAML read as nothing.
    fn absent(&mut self, place: Place) {
        let Some(open) = self.open.last().filter(|_| !self.slips.full()) else { return };
        let (name, after, place) = match (&open.keys, open.key()) {
            (None, _) => {
                let after = wording::dash_before(self.text, place.start);
                let dash = Place { start: after.saturating_sub(1), end: after, ..place };
                (String::new(), after, dash)
            }
            (Some(_), Some(key)) => (format!("{}: ", key.text), key.place.end, key.place),
            (Some(_), None) => return,
        };
        let rest = self.text.get(after as usize..).unwrap_or_default();
        if rest.starts_with('}')
            && self.text.get(..place.start as usize).is_some_and(|t| t.ends_with('{'))
        {
            return self.braces(place);
        }
        let line = rest.lines().next().unwrap_or_default();
        let eaten = line.trim_start().trim_start_matches(':').trim();
        if eaten.starts_with(['#', '&']) {
            let what = if eaten.starts_with('#') { "a comment" } else { "a mark for aliases" };
            let message = format!("YAML takes {} for {what}, so nothing is left", quoted(eaten));
            let help = format!("quote it: {name}\"{}\"", shortened(eaten));
            self.refuse("quote-it", place, message, help);
        } else if name.is_empty() {
            self.refuse("no-value", place, "this entry has no value", "write one or take it out");
        } else {
            let message = format!("{} has no value", quoted(name.trim_end_matches(": ")));
            self.refuse("no-value", place, message, "write one or take the line out");
        }
    }

    /// A word in braces without quotes, as in `text: {name}`, is a map to YAML.
    fn braces(&mut self, key: Place) {
        let place = Place { start: key.start.saturating_sub(1), end: key.end + 1, ..key };
        let typed = self.text.get(place.start as usize..place.end as usize).unwrap_or_default();
        let help = format!("put the whole text in quotes: \"{}\"", shortened(typed));
        self.refuse("quote-it", place, format!("YAML takes {} for a map", quoted(typed)), help);
        if let Some(open) = self.open.last_mut() {
            open.void = true;
        }
    }

    /// Warns of a text that YAML cuts short, as in `text: DOCK #5`.
    fn cut_short(&mut self, text: &str, place: Place) {
        let rest = self.text.get(place.end as usize..).unwrap_or_default();
        // Looks no further than it must: a line may hold millions of values.
        let rest = rest.trim_start_matches([' ', '\t']);
        if !rest.starts_with('#') || self.slips.full() {
            return;
        }
        let line = rest.lines().next().unwrap_or_default().trim();
        if !line.strip_prefix('#').is_some_and(|cut| cut.starts_with(char::is_alphanumeric)) {
            return;
        }
        let message =
            format!("YAML takes {} for a comment and reads only {}", quoted(line), quoted(text));
        let help = format!(
            "quote it: \"{} {}\"; if it is a comment, put a space after the #",
            shortened(text),
            shortened(line)
        );
        self.slips.push(Finding::warning("quote-it", message).at(place).help(help));
    }

    fn tag(&mut self, span: &Span) {
        let Some(tag) = span.tag_span() else { return };
        let start = tag.start.byte_offset().unwrap_or_default();
        let end = tag.end.byte_offset().unwrap_or(start);
        let last = span.end.byte_offset().unwrap_or(end).max(end);
        let typed = self.text.get(start..last).unwrap_or_default().trim_end();
        let typed = typed.lines().next().unwrap_or_default();
        let place = self.slips.place(start, end);
        let message = "YAML takes a word that starts with `!` for a tag, and jobs have no tags";
        self.refuse("quote-it", place, message, format!("quote it: \"{}\"", shortened(typed)));
    }

    fn start(&mut self, open: Open, span: &Span, tagged: bool) -> Result<(), Stop> {
        if tagged {
            self.tag(span);
        }
        if self.open.len() >= DEPTH {
            return self.too_deep(self.place(span));
        }
        let start = span.start.byte_offset().unwrap_or_default();
        self.open.push(Open { start, ..open });
        Ok(())
    }

    fn end(&mut self, span: &Span) -> Result<(), Stop> {
        let Some(open) = self.open.pop() else { return Ok(()) };
        let end = span.end.byte_offset().unwrap_or(open.start);
        let place = self.slips.place(open.start, end);
        let kind = match open.keys {
            _ if open.void => Kind::Missing,
            None => Kind::List(open.values),
            Some(keys) => self.map(keys, open.values),
        };
        self.put(kind, place, open.anchor)
    }

    fn map(&mut self, keys: Vec<Option<Key>>, values: Vec<Rc<Tree>>) -> Kind {
        let mut lines = BTreeMap::new();
        let mut entries: Vec<(Key, Rc<Tree>)> = Vec::with_capacity(values.len());
        for (key, value) in keys.into_iter().zip(values) {
            let Some(key) = key else { continue };
            if let Some(line) = lines.get(&key.text) {
                let message = format!("{} is here twice; first on line {line}", quoted(&key.text));
                self.refuse("twice", key.place, message, "keep one of the two");
                continue;
            }
            lines.insert(key.text.clone(), key.line);
            entries.push((key, value));
        }
        Kind::Map(entries)
    }

    fn alias(&mut self, anchor: usize, place: Place) -> Result<(), Stop> {
        let Some(tree) = self.named.get(&anchor).map(Rc::clone) else {
            let message = "this repeats the very thing it stands in";
            self.refuse("alias-in-itself", place, message, "take it out");
            return self.put(Kind::Missing, place, 0);
        };
        // All that was put so far weighs less than the most, so that this goes through no more than that.
        let (weight, height) = tree.extent();
        if self.open.len() + height > DEPTH {
            return self.too_deep(place);
        }
        self.weight = self.weight.saturating_add(weight);
        self.put_shared(tree, place)
    }

    /// Puts a value where it belongs; `anchor` is the number by which aliases repeat it, 0 for none.
    fn put(&mut self, kind: Kind, place: Place, anchor: usize) -> Result<(), Stop> {
        self.weight = self.weight.saturating_add(kind.weight());
        let tree = Rc::new(Tree { kind, place });
        if anchor != 0 {
            self.named.insert(anchor, Rc::clone(&tree));
        }
        self.put_shared(tree, place)
    }

    fn put_shared(&mut self, tree: Rc<Tree>, place: Place) -> Result<(), Stop> {
        if self.weight > WEIGHT {
            let message = "the job holds too many values, counting what aliases repeat";
            let help = "split it into several jobs, or let `rows` or `series` repeat a label";
            self.refuse("too-much", place, message, help);
            return Err(Stop::Refused);
        }
        let Some(open) = self.open.last_mut() else {
            self.root = Some(tree);
            return Ok(());
        };
        if open.awaits_key() {
            if let Some(keys) = open.keys.as_mut() {
                keys.push(None);
            }
            let message = "a key must be a word, not a list, a map or an alias";
            self.refuse("bad-key", place, message, "if it is meant as text, quote it");
            return Ok(());
        }
        open.values.push(tree);
        Ok(())
    }

    fn too_deep(&mut self, place: Place) -> Result<(), Stop> {
        let message = format!("lists and maps are nested more than {DEPTH} deep here");
        self.refuse("too-deep", place, message, "a job needs about six; look for a stray bracket");
        Err(Stop::Refused)
    }
}
