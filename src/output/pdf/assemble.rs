//! The document as printpdf lays it out: pages, the marks where layers begin and end, placed forms.
//!
//! printpdf is asked only for what it does right; see [`super::finish`] for the rest.

use super::forms::{FormId, Forms, PackedForm, PagePart};
use super::outline::ART;
use super::{Composition, POINTS_PER_MM};
use crate::output::Page;
use kurbo::Affine;
use printpdf::{
    CurTransMat, DictItem, ExternalStream, ExternalXObject, Layer, LayerIntent, LayerInternalId,
    LayerSubtype, Mm, Op, PdfDocument, PdfPage, PdfSaveOptions, XObject, XObjectId,
    XObjectTransform, to_lopdf_doc,
};
use std::collections::BTreeMap;

/// Lays out the document; its forms are empty yet.
pub(super) fn assemble(composition: &Composition<'_>, forms: &Forms) -> lopdf::Document {
    let mut document = PdfDocument::new("");
    let pages = composition.pages.iter().zip(&composition.corrections);
    for (number, (page, correction)) in pages.enumerate() {
        let [width, height] = [page.size.width, page.size.height].map(single);
        let ops = page_ops(number, page, *correction, forms);
        document.pages.push(PdfPage::new(Mm(width), Mm(height), ops));
    }
    let has_white = forms.keys().any(|form| matches!(form, FormId::OfPage(PagePart::White, _)));
    for part in PagePart::ALL.into_iter().filter(|part| *part != PagePart::White || has_white) {
        let Some(name) = part.layer().map(str::to_owned) else { continue };
        let id = LayerInternalId(name.clone());
        let (creator, intent, usage) = (String::new(), LayerIntent::Design, LayerSubtype::Artwork);
        document.resources.layers.map.insert(id, Layer { name, creator, intent, usage });
    }
    let objects =
        forms.iter().map(|(form, packed)| (XObjectId(form.to_string()), external(packed)));
    document.resources.xobjects.map.extend(objects);
    let options = PdfSaveOptions { optimize: false, ..PdfSaveOptions::default() };
    to_lopdf_doc(&document, &options, &mut Vec::new())
}

/// A page's content: its forms, layer by layer, all under one matrix.
fn page_ops(number: usize, page: &Page<'_>, correction: Affine, forms: &Forms) -> Vec<Op> {
    let upwards = Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, page.size.height]);
    let [a, b, c, d, x, y] = (upwards * correction).as_coeffs();
    let scale = POINTS_PER_MM / ART.per_mm;
    let [a, b, c, d] = [a, b, c, d].map(|share| share * scale);
    let to_points = [a, b, c, d, x * POINTS_PER_MM, y * POINTS_PER_MM];
    let matrix = CurTransMat::Raw(to_points.map(single));
    let mut ops = vec![Op::SaveGraphicsState, Op::SetTransformationMatrix { matrix }];
    for part in PagePart::ALL {
        let form = FormId::OfPage(part, number);
        if !forms.contains_key(&form) {
            continue;
        }
        match part.layer() {
            Some(layer) => {
                let layer_id = LayerInternalId(layer.to_owned());
                ops.extend([Op::BeginLayer { layer_id }, place(form), Op::EndLayer]);
            }
            None => ops.push(place(form)),
        }
    }
    ops.push(Op::RestoreGraphicsState);
    ops
}

fn place(form: FormId) -> Op {
    let transform = XObjectTransform { no_auto_scale: true, ..XObjectTransform::default() };
    Op::UseXobject { id: XObjectId(form.to_string()), transform }
}

/// printpdf knows single precision only: 0.02 µm over a sheet, and whole to 41 m on the art grid.
#[allow(clippy::cast_possible_truncation, reason = "the loss is stated and harmless")]
fn single(value: f64) -> f32 {
    // Adding nought makes nought of -0.
    (value + 0.0) as f32
}

/// A form without its content: `finish` adds that, which printpdf would copy, and the fonts and forms it uses.
fn external(form: &PackedForm) -> XObject {
    let name = |name: &str| DictItem::Name(name.as_bytes().to_vec());
    let bounds = form.bounds.map(DictItem::Int).to_vec();
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
