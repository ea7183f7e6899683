//! The faces built into the program: their files, and what the manifest `fonts-free/faces.yaml` says of them.

use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// One bundled face.
#[derive(Debug, Default, Deserialize)]
pub(super) struct Bundled {
    /// The word a spec uses for it.
    pub(super) role: String,
    pub(super) family: String,
    /// Its cut within the family: weight and width.
    pub(super) cut: String,
    /// Its file below `fonts-free`.
    file: String,
    /// How distinct two characters are, by `0/O`: 0 is the same outline, 1 nothing in common.
    #[serde(default)]
    distinctness: BTreeMap<String, f64>,
}

#[derive(Debug, Default, Deserialize)]
struct Manifest {
    faces: Vec<Bundled>,
}

/// Distinctness under which two characters are too alike for one code (common practice, no source).
const ALIKE_BELOW: f64 = 0.15;

/// Where the fallback for letters stands in the manifest; the faces before it are those with a role of their own.
pub(super) const FALLBACK: u16 = 8;

/// Where the fallback for signs stands in the manifest.
pub(super) const SYMBOLS: u16 = 9;

macro_rules! file {
    ($name:literal) => {
        ($name, include_bytes!(concat!("../../fonts-free/", $name)))
    };
}

const FILES: [(&str, &[u8]); 10] = [
    file!("atkinson-hyperlegible-next/AtkinsonHyperlegibleNext-Medium.ttf"),
    file!("atkinson-hyperlegible-next/AtkinsonHyperlegibleNext-Bold.ttf"),
    file!("atkinson-hyperlegible-mono/AtkinsonHyperlegibleMono-SemiBold.ttf"),
    file!("asap-condensed/AsapCondensed-Medium.ttf"),
    file!("krona-one/KronaOne-Regular.ttf"),
    file!("saira-stencil-one/SairaStencilOne-Regular.ttf"),
    file!("routed-gothic/RoutedGothic-Regular.ttf"),
    file!("roboto-slab/RobotoSlab-Bold.otf"),
    file!("clear-sans/ClearSans-Medium.ttf"),
    file!("panel-symbols-subset/PanelSymbolsSubset-Regular.ttf"),
];

/// The bundled faces, in the order of the manifest.
pub(super) fn faces() -> &'static [Bundled] {
    static MANIFEST: LazyLock<Manifest> = LazyLock::new(|| {
        let read = serde_yaml::from_str(include_str!("../../fonts-free/faces.yaml"));
        debug_assert!(read.is_ok(), "the manifest is part of the program: {read:?}");
        read.unwrap_or_default()
    });
    &MANIFEST.faces
}

impl Bundled {
    /// Its font file.
    pub(super) fn bytes(&self) -> &'static [u8] {
        FILES.iter().find(|(name, _)| *name == self.file).map_or(&[], |(_, bytes)| bytes)
    }

    /// The pairs of characters that look alike in it.
    pub(super) fn alike(&self) -> Vec<(char, char)> {
        let pairs = self.distinctness.iter().filter(|(_, distinct)| **distinct < ALIKE_BELOW);
        let pair = |(pair, _): (&String, &f64)| {
            let mut characters = pair.split('/').filter_map(|one| one.chars().next());
            characters.next().zip(characters.next())
        };
        pairs.filter_map(pair).collect()
    }
}
