//! The faces built into the program, one row each. `fonts-free/faces.yaml` is where every number comes from.

/// One bundled face. The rows stand in the order of `faces.yaml`.
#[derive(Debug)]
pub(super) struct Row {
    /// The word a spec uses for it.
    pub(super) role: &'static str,
    /// Its family.
    pub(super) family: &'static str,
    /// Its cut within the family.
    pub(super) cut: &'static str,
    /// The font file.
    pub(super) bytes: &'static [u8],
    /// Letters and figures that look alike in it: pairs whose distinctness in the manifest is
    /// below 0.15.
    pub(super) alike: &'static [(char, char)],
}

/// Where the fallback for letters stands in [`ROWS`].
pub(super) const FALLBACK: u16 = 8;

/// Where the fallback for signs stands in [`ROWS`].
pub(super) const SYMBOLS: u16 = 9;

/// All bundled faces.
pub(super) const ROWS: [Row; 10] = [
    Row {
        role: "label",
        family: "Atkinson Hyperlegible Next",
        cut: "Medium",
        bytes: include_bytes!(
            "../../fonts-free/atkinson-hyperlegible-next/AtkinsonHyperlegibleNext-Medium.ttf"
        ),
        alike: &[],
    },
    Row {
        role: "label-reversed",
        family: "Atkinson Hyperlegible Next",
        cut: "Bold",
        bytes: include_bytes!(
            "../../fonts-free/atkinson-hyperlegible-next/AtkinsonHyperlegibleNext-Bold.ttf"
        ),
        alike: &[],
    },
    Row {
        role: "wire",
        family: "Atkinson Hyperlegible Mono",
        cut: "SemiBold",
        bytes: include_bytes!(
            "../../fonts-free/atkinson-hyperlegible-mono/AtkinsonHyperlegibleMono-SemiBold.ttf"
        ),
        alike: &[],
    },
    Row {
        role: "condensed",
        family: "Asap Condensed",
        cut: "Medium",
        bytes: include_bytes!("../../fonts-free/asap-condensed/AsapCondensed-Medium.ttf"),
        alike: &[],
    },
    Row {
        role: "wide",
        family: "Krona One",
        cut: "Regular",
        bytes: include_bytes!("../../fonts-free/krona-one/KronaOne-Regular.ttf"),
        alike: &[('I', 'l')],
    },
    Row {
        role: "stencil",
        family: "Saira Stencil One",
        cut: "Regular",
        bytes: include_bytes!("../../fonts-free/saira-stencil-one/SairaStencilOne-Regular.ttf"),
        alike: &[('0', 'O'), ('I', 'l'), ('5', 'S'), ('8', 'B'), ('6', 'G'), ('0', 'D')],
    },
    Row {
        role: "engraved",
        family: "Routed Gothic",
        cut: "Regular",
        bytes: include_bytes!("../../fonts-free/routed-gothic/RoutedGothic-Regular.ttf"),
        alike: &[('0', 'O'), ('1', 'I'), ('1', 'l'), ('I', 'l'), ('0', 'Q')],
    },
    Row {
        role: "plate",
        family: "Roboto Slab",
        cut: "Bold",
        bytes: include_bytes!("../../fonts-free/roboto-slab/RobotoSlab-Bold.otf"),
        alike: &[('I', 'l')],
    },
    Row {
        role: "fallback",
        family: "Clear Sans",
        cut: "Medium",
        bytes: include_bytes!("../../fonts-free/clear-sans/ClearSans-Medium.ttf"),
        alike: &[],
    },
    Row {
        role: "symbols",
        family: "Panel Symbols Subset",
        cut: "Regular",
        bytes: include_bytes!(
            "../../fonts-free/panel-symbols-subset/PanelSymbolsSubset-Regular.ttf"
        ),
        alike: &[],
    },
];
