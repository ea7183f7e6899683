//! The document as printpdf lays it out: pages, the marks where layers begin and end, placed forms.
//!
//! Only what printpdf does right is asked of it; see [`super::finish`] for the rest.

use super::POINTS_PER_MM;
use super::art::ART;
use super::forms::{Drawing, Form, Layout, Piece};
use crate::output::Page;
use kurbo::Affine;
use printpdf::{
    CurTransMat, DictItem, ExternalStream, ExternalXObject, Layer, LayerIntent, LayerInternalId,
    LayerSubtype, Mm, Op, PdfDocument, PdfPage, PdfSaveOptions, XObject, XObjectId,
    XObjectTransform, to_lopdf_doc,
};
use std::collections::{BTreeMap, BTreeSet};

/// The layers, as readers list them.
pub(super) const LAYERS: [&str; 3] = [INK, MARKS, CUT];
/// What is printed on the labels.
const INK: &str = "ink";
/// Ticks, names, bars.
const MARKS: &str = "marks";
/// Where the knife goes: off until asked for.
pub(super) const CUT: &str = "cut";

/// printpdf's document, and which forms each page places, by name.
#[derive(Debug)]
pub(super) struct Assembled {
    pub(super) document: lopdf::Document,
    pub(super) placed: Vec<BTreeSet<String>>,
}

/// Lays out the document.
pub(super) fn assemble(
    pages: &[Page],
    layout: &Layout,
    drawings: BTreeMap<Form, Drawing>,
) -> Assembled {
    let mut document = PdfDocument::new("");
    for (number, (page, pieces)) in pages.iter().zip(&layout.pages).enumerate() {
        let ops = page_ops(number, page, pieces, &drawings);
        let [width, height] = [page.size.width, page.size.height].map(single);
        document.pages.push(PdfPage::new(Mm(width), Mm(height), ops));
    }
    for name in LAYERS {
        let layer = Layer {
            name: name.to_owned(),
            creator: String::new(),
            intent: LayerIntent::Design,
            usage: LayerSubtype::Artwork,
        };
        document.resources.layers.map.insert(LayerInternalId(name.to_owned()), layer);
    }
    for (form, drawing) in drawings {
        let form_object = external(drawing);
        document.resources.xobjects.map.insert(XObjectId(form.to_string()), form_object);
    }
    let options = PdfSaveOptions { optimize: false, ..PdfSaveOptions::default() };
    let names = |page: &PdfPage| page.get_xobject_ids().into_iter().map(|id| id.0).collect();
    Assembled {
        placed: document.pages.iter().map(names).collect(),
        document: to_lopdf_doc(&document, &options, &mut Vec::new()),
    }
}

/// A page's content: everything under one matrix, layer by layer, words outside the layers so that they
/// are found whichever are shown.
fn page_ops(
    number: usize,
    page: &Page,
    pieces: &[Piece],
    drawings: &BTreeMap<Form, Drawing>,
) -> Vec<Op> {
    let scale = POINTS_PER_MM / ART.per_mm;
    let to_points = [scale, 0.0, 0.0, -scale, 0.0, page.size.height * POINTS_PER_MM];
    let mut ops = vec![Op::SaveGraphicsState, matrix(to_points)];
    let mut ink = Vec::new();
    for (piece, what) in pieces.iter().enumerate() {
        match what {
            Piece::Shared { design, transform } => {
                let [a, b, c, d, x, y] = transform.as_coeffs();
                let on_grid = Affine::new([a, b, c, d, on_grid(x), on_grid(y)]);
                ink.extend([Op::SaveGraphicsState, matrix(on_grid.as_coeffs())]);
                ink.push(place(Form::Design(*design)));
                ink.push(Op::RestoreGraphicsState);
            }
            Piece::Run(_) => ink.push(place(Form::Run { page: number, piece })),
        }
    }
    layer(&mut ops, INK, ink);
    for (name, form) in [(MARKS, Form::Marks(number)), (CUT, Form::Cut(number))] {
        let placed = drawings.contains_key(&form).then(|| place(form));
        layer(&mut ops, name, placed.into_iter().collect());
    }
    if drawings.contains_key(&Form::Words(number)) {
        ops.push(place(Form::Words(number)));
    }
    ops.push(Op::RestoreGraphicsState);
    ops
}

/// What lies on one layer; nothing for nothing.
fn layer(ops: &mut Vec<Op>, name: &str, shown: Vec<Op>) {
    if !shown.is_empty() {
        ops.push(Op::BeginLayer { layer_id: LayerInternalId(name.to_owned()) });
        ops.extend(shown);
        ops.push(Op::EndLayer);
    }
}

fn place(form: Form) -> Op {
    let transform = XObjectTransform { no_auto_scale: true, ..XObjectTransform::default() };
    Op::UseXobject { id: XObjectId(form.to_string()), transform }
}

fn matrix(coefficients: [f64; 6]) -> Op {
    Op::SetTransformationMatrix { matrix: CurTransMat::Raw(coefficients.map(single)) }
}

/// A length in mm as a whole number of art units.
fn on_grid(mm: f64) -> f64 {
    (mm * ART.per_mm).round()
}

/// printpdf knows single precision only: 0.02 µm over a sheet, and whole to 41 m on the art grid.
#[allow(clippy::cast_possible_truncation, reason = "the loss is stated and harmless")]
fn single(value: f64) -> f32 {
    // Adding nought makes nought of -0.
    (value + 0.0) as f32
}

/// A drawing as a form; `finish` adds the fonts to those with words.
fn external(drawing: Drawing) -> XObject {
    let name = |name: &str| DictItem::Name(name.as_bytes().to_vec());
    let bounds = drawing.bounds.map(DictItem::Int).to_vec();
    let dict = BTreeMap::from([
        ("Type".to_owned(), name("XObject")),
        ("Subtype".to_owned(), name("Form")),
        ("BBox".to_owned(), DictItem::Array(bounds)),
        ("Resources".to_owned(), DictItem::Dict { map: BTreeMap::new() }),
        ("Filter".to_owned(), name("FlateDecode")),
    ]);
    let stream = ExternalStream { dict, content: drawing.packed, compress: false };
    XObject::External(ExternalXObject { stream, width: None, height: None, dpi: None })
}
