//! The document as printpdf lays it out: pages, the marks where layers begin and end, placed forms.
//!
//! Only what printpdf does right is asked of it; see [`super::finish`] for the rest.

use super::POINTS_PER_MM;
use super::art::ART;
use super::forms::{Drawing, Form};
use crate::output::Page;
use kurbo::Affine;
use printpdf::{
    CurTransMat, DictItem, ExternalStream, ExternalXObject, Layer, LayerIntent, LayerInternalId,
    LayerSubtype, Mm, Op, PdfDocument, PdfPage, PdfSaveOptions, XObject, XObjectId,
    XObjectTransform, to_lopdf_doc,
};
use std::collections::BTreeMap;

/// The layers, as readers list them.
pub(super) const LAYERS: [&str; 4] = [INK, WHITE, MARKS, CUT];
/// What is printed on the labels.
const INK: &str = "ink";
/// White under or over the ink, a plate of its own.
pub(super) const WHITE: &str = "white";
/// Ticks, names, bars.
const MARKS: &str = "marks";
/// Where the knife goes: off until asked for.
pub(super) const CUT: &str = "cut";

/// Lays out the document; its forms are empty yet.
///
/// `corrections` has one for each page, from its millimetres to those that come out right.
pub(super) fn assemble(
    pages: &[Page<'_>],
    corrections: &[Affine],
    drawings: &BTreeMap<Form, Drawing>,
) -> lopdf::Document {
    let mut document = PdfDocument::new("");
    for (number, (page, corrected)) in pages.iter().zip(corrections).enumerate() {
        let ops = page_ops((number, page), *corrected, drawings);
        let [width, height] = [page.size.width, page.size.height].map(single);
        document.pages.push(PdfPage::new(Mm(width), Mm(height), ops));
    }
    let has_white = drawings.keys().any(|form| matches!(form, Form::White(_)));
    for name in LAYERS.into_iter().filter(|name| *name != WHITE || has_white) {
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
    to_lopdf_doc(&document, &options, &mut Vec::new())
}

/// A page's content: everything under one matrix, layer by layer, words outside the layers so that they
/// are found whichever are shown.
fn page_ops(
    (number, page): (usize, &Page<'_>),
    corrected: Affine,
    drawings: &BTreeMap<Form, Drawing>,
) -> Vec<Op> {
    let upwards = Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, page.size.height]);
    let [a, b, c, d, x, y] = (upwards * corrected).as_coeffs();
    let scale = POINTS_PER_MM / ART.per_mm;
    let [a, b, c, d] = [a, b, c, d].map(|share| share * scale);
    let to_points = [a, b, c, d, x * POINTS_PER_MM, y * POINTS_PER_MM];
    let to_points = CurTransMat::Raw(to_points.map(single));
    let mut ops = vec![Op::SaveGraphicsState, Op::SetTransformationMatrix { matrix: to_points }];
    // White comes after the ink, which it overprints: before it, the ink would knock it out.
    let on_layers = [
        (INK, Form::Ink(number)),
        (WHITE, Form::White(number)),
        (MARKS, Form::Marks(number)),
        (CUT, Form::Cut(number)),
    ];
    for (name, form) in on_layers {
        if drawings.contains_key(&form) {
            let layer_id = LayerInternalId(name.to_owned());
            ops.extend([Op::BeginLayer { layer_id }, place(form), Op::EndLayer]);
        }
    }
    if drawings.contains_key(&Form::Words(number)) {
        ops.push(place(Form::Words(number)));
    }
    ops.push(Op::RestoreGraphicsState);
    ops
}

fn place(form: Form) -> Op {
    let transform = XObjectTransform { no_auto_scale: true, ..XObjectTransform::default() };
    Op::UseXobject { id: XObjectId(form.to_string()), transform }
}

/// printpdf knows single precision only: 0.02 µm over a sheet, and whole to 41 m on the art grid.
#[allow(clippy::cast_possible_truncation, reason = "the loss is stated and harmless")]
fn single(value: f64) -> f32 {
    // Adding nought makes nought of -0.
    (value + 0.0) as f32
}

/// A drawing as a form; `finish` adds its content, which printpdf would copy, and the fonts and forms it uses.
fn external(drawing: &Drawing) -> XObject {
    let name = |name: &str| DictItem::Name(name.as_bytes().to_vec());
    let bounds = drawing.bounds.map(DictItem::Int).to_vec();
    let dict = BTreeMap::from([
        ("Type".to_owned(), name("XObject")),
        ("Subtype".to_owned(), name("Form")),
        ("BBox".to_owned(), DictItem::Array(bounds)),
        ("Resources".to_owned(), DictItem::Dict { map: BTreeMap::new() }),
        ("Filter".to_owned(), name("FlateDecode")),
    ]);
    let stream = ExternalStream { dict, content: Vec::new(), compress: false };
    XObject::External(ExternalXObject { stream, width: None, height: None, dpi: None })
}
