//! Which labels are shown together: those of one surface, and those the job names no surface for.

use crate::colour::Colour;
use crate::design::Design;
use crate::known::item;
use crate::spec::{Spec, Surface};
use std::collections::{BTreeMap, BTreeSet};

/// A surface and what goes on it.
pub(super) struct ShownSurface<'a> {
    /// Its name and what the job says of it; `None` for labels without a surface.
    pub(super) surface: Option<(&'a str, &'a Surface)>,
    /// The designs on it, in the order of the job.
    pub(super) designs: Vec<usize>,
    /// Part of a file's name, told apart from all others.
    pub(super) stem: String,
}

impl ShownSurface<'_> {
    /// The colour shown under the labels: white where the job names no surface.
    pub(super) fn ground(&self) -> Colour {
        self.surface.map_or(Colour::WHITE, |(_, surface)| surface.colour)
    }

    pub(super) fn title(&self) -> &str {
        self.surface.map_or("No surface named", |(name, _)| name)
    }

    /// `#aeb4b8, matt`, or why the ground is white.
    pub(super) fn description(&self) -> String {
        let Some((_, surface)) = self.surface else { return "shown on white".to_owned() };
        match &surface.finish {
            Some(finish) => format!("{}, {finish}", surface.colour),
            None => surface.colour.to_string(),
        }
    }
}

/// Every surface that carries labels, by name, then the labels without one.
pub(super) fn shown_surfaces<'a>(spec: &'a Spec, designs: &[Design]) -> Vec<ShownSurface<'a>> {
    let mut on: BTreeMap<(bool, &str), Vec<usize>> = BTreeMap::new();
    for (index, design) in designs.iter().enumerate() {
        let Some(label) = item(&spec.labels, design.label) else { continue };
        // A backing lies behind its label and is not shown beside it.
        if label.is_backing() {
            continue;
        }
        let surface = label.on.as_deref().filter(|name| spec.surfaces.contains_key(*name));
        on.entry((surface.is_none(), surface.unwrap_or_default())).or_default().push(index);
    }
    let mut taken = BTreeSet::new();
    on.into_iter()
        .map(|((_, name), designs)| {
            let surface = spec.surfaces.get_key_value(name);
            let surface = surface.map(|(name, surface)| (name.as_str(), surface));
            let stem = stem(surface.map_or("no surface", |(name, _)| name), &mut taken);
            ShownSurface { surface, designs, stem }
        })
        .collect()
}

/// A name as part of a file's name: letters and figures of ASCII and dashes, told apart by a number.
fn stem(name: &str, taken: &mut BTreeSet<String>) -> String {
    const LONGEST: usize = 40;
    let words = name.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    let mut plain = words.collect::<Vec<&str>>().join("-").to_ascii_lowercase();
    plain.truncate(LONGEST);
    if plain.is_empty() {
        plain.push_str("surface");
    }
    let numbered = (2..).map(|number| format!("{plain}-{number}"));
    let mut free = std::iter::once(plain.clone()).chain(numbered);
    let stem = free.find(|stem| !taken.contains(stem)).unwrap_or(plain);
    taken.insert(stem.clone());
    stem
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_files_are_plain_and_never_the_same() {
        let mut taken = BTreeSet::new();
        for (name, stemmed) in [
            ("lamp glass", "lamp-glass"),
            ("Lamp/glass", "lamp-glass-2"),
            ("../../etc", "etc"),
            ("\u{202e}שלט", "surface"),
            ("", "surface-2"),
        ] {
            assert_eq!(stem(name, &mut taken), stemmed);
        }
    }
}
