//! Fixes what printpdf cannot express; removes dates and random identifiers.
//!
//! | printpdf writes | it becomes |
//! |---|---|
//! | boxes of [0 0 width height] but no bleed box | all boxes the paper |
//! | every form among every page's resources | each page's own, and one list of shared designs |
//! | layers all shown, with a dictionary about another program | cut off at first and never printed |
//! | dates, empty strings, PDF/X claims | title, subject, producer |
//! | random identifiers | a hash of the content |
//! | version 1.3, content not packed | 1.6 (layers' usage needs 1.5), deflated |
//!
//! Two objects that printpdf writes and nothing needs are reused, so that no number in the table of objects is
//! left empty.

use super::forms::{FormId, Forms, Packing, PagePart, WHITE_SPACE, WHITE_STATE};
use super::{Composition, Error, POINTS_PER_MM, metadata, words};
use crate::output::About;
use kurbo::Size;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use std::collections::BTreeMap;

/// The resource dictionaries that all pages of printpdf's document share.
#[derive(Clone, Copy)]
struct SharedResources {
    fonts: ObjectId,
    forms: ObjectId,
    states: ObjectId,
    shadings: ObjectId,
}

/// Corrects the document and fills its forms.
///
/// # Errors
/// [`Error::Structure`] when the document lacks what printpdf writes, [`Error::Write`] when packing fails.
pub(super) fn finish(
    mut document: Document,
    composition: &Composition<'_>,
    forms: Forms,
    identifier: [u8; 16],
) -> Result<Document, Error> {
    "1.6".clone_into(&mut document.version);
    let ids: Vec<ObjectId> = document.page_iter().collect();
    let shared = shared_resources(&document, ids.first().copied().unwrap_or_default())?;
    let written = document.get_dictionary(shared.forms)?.clone();
    for (form, content) in forms {
        let id = written.get(form.to_string().as_bytes())?.as_reference()?;
        document.get_object_mut(id)?.as_stream_mut()?.set_content(content.packed);
    }
    let fonts = words::add_fonts(&mut document, &composition.alphabet)?;
    document.set_object(shared.fonts, fonts);
    // One list for all pages: of a list's letters, each page uses nearly all.
    let designs = document.add_object(only(&written, composition.shared.forms()));
    let mut packing = Packing::new();
    for (number, (id, page)) in ids.iter().zip(composition.pages).enumerate() {
        let of_page = PagePart::ALL.map(|part| FormId::OfPage(part, number));
        correct_resources(&mut document, *id, only(&written, of_page), shared.fonts)?;
        correct_page(&mut document, *id, page.size, &mut packing)?;
        for (part, uses) in [
            (PagePart::Ink, dictionary! { "XObject" => designs }),
            (PagePart::White, white()),
            (PagePart::Words, dictionary! { "Font" => shared.fonts }),
        ] {
            let name = FormId::OfPage(part, number).to_string();
            if let Ok(Object::Reference(id)) = written.get(name.as_bytes()) {
                document.get_object_mut(*id)?.as_stream_mut()?.dict.set("Resources", uses);
            }
        }
    }
    correct_layers(&mut document)?;
    correct_catalog(&mut document, composition.about, shared)?;
    let information = document.trailer.get(b"Info")?.as_reference()?;
    document.set_object(information, metadata::information(composition.about));
    let id = Object::String(identifier.to_vec(), StringFormat::Hexadecimal);
    document.trailer.set("ID", vec![id.clone(), id]);
    Ok(document)
}

fn shared_resources(document: &Document, page: ObjectId) -> Result<SharedResources, Error> {
    let resources = document.get_dictionary(page)?.get(b"Resources")?.as_reference()?;
    let resources = document.get_dictionary(resources)?;
    let of = |kind: &[u8]| resources.get(kind).and_then(Object::as_reference);
    Ok(SharedResources {
        fonts: of(b"Font")?,
        forms: of(b"XObject")?,
        states: of(b"ExtGState")?,
        shadings: of(b"Shading")?,
    })
}

/// What a form of white uses: a Separation space, for a printer with white, and a state that lets what is
/// under it stand (ISO 32000-1, 8.6.6.4 and 8.6.7). A printer without white, and a screen, show it as a pale blue.
fn white() -> Dictionary {
    let shown = dictionary! {
        "FunctionType" => 2,
        "Domain" => vec![0.into(), 1.into()],
        "N" => 1,
        "C0" => vec![0.into(); 4],
        "C1" => vec![0.2.into(), 0.into(), 0.into(), 0.into()],
    };
    let space: Vec<Object> =
        vec!["Separation".into(), "White".into(), "DeviceCMYK".into(), shown.into()];
    let over = dictionary! {
        "Type" => "ExtGState", "OP" => true, "op" => true, "OPM" => 1, "BM" => "Multiply",
    };
    dictionary! {
        "ColorSpace" => dictionary! { WHITE_SPACE => space },
        "ExtGState" => dictionary! { WHITE_STATE => over },
    }
}

/// Those of the wanted forms that there are.
fn only(forms: &Dictionary, wanted: impl IntoIterator<Item = FormId>) -> Dictionary {
    let names = wanted.into_iter().map(|form| form.to_string());
    let found =
        names.filter_map(|name| Some((name.clone(), forms.get(name.as_bytes()).ok()?.clone())));
    found.collect()
}

/// Lists only the forms a page places among its resources, and nothing it does not use.
fn correct_resources(
    document: &mut Document,
    page: ObjectId,
    own: Dictionary,
    fonts: ObjectId,
) -> Result<(), Error> {
    let resources = document.get_dictionary(page)?.get(b"Resources")?.as_reference()?;
    let has_fonts = !document.get_dictionary(fonts)?.is_empty();
    let resources = document.get_object_mut(resources)?.as_dict_mut()?;
    resources.remove(b"ExtGState");
    resources.remove(b"Shading");
    if !has_fonts {
        resources.remove(b"Font");
    }
    resources.set("XObject", own);
    Ok(())
}

/// Boxes and content.
fn correct_page(
    document: &mut Document,
    id: ObjectId,
    size: Size,
    packing: &mut Packing,
) -> Result<(), Error> {
    let page = document.get_object_mut(id)?.as_dict_mut()?;
    page.remove(b"Annots");
    #[allow(clippy::cast_possible_truncation, reason = "0.02 µm over a sheet")]
    let [width, height] =
        [size.width, size.height].map(|mm| Object::Real((mm * POINTS_PER_MM) as f32));
    for name in ["MediaBox", "CropBox", "BleedBox", "TrimBox"] {
        page.set(name, vec![0.into(), 0.into(), width.clone(), height.clone()]);
    }
    let content = page.get(b"Contents")?.as_reference()?;
    let content = document.get_object_mut(content)?.as_stream_mut()?;
    content.dict.set("Filter", "FlateDecode");
    let packed = packing.packed(&content.content)?;
    content.set_content(packed);
    Ok(())
}

/// Layers in reading order; the cut lines off, also when a reader prints or exports.
fn correct_layers(document: &mut Document) -> Result<(), Error> {
    let layers = document.catalog()?.get(b"OCProperties")?.as_dict()?.get(b"OCGs")?.as_array()?;
    let layers = layers.iter().map(Object::as_reference).collect::<Result<Vec<_>, _>>()?;
    let mut named = BTreeMap::new();
    for id in layers {
        let layer = document.get_dictionary(id)?;
        let name = String::from_utf8_lossy(layer.get(b"Name")?.as_str()?).into_owned();
        let usage = layer.get(b"Usage")?.as_reference()?;
        let state = if Some(name.as_str()) == PagePart::Cut.layer() { "OFF" } else { "ON" };
        document.set_object(
            usage,
            dictionary! {
                "View" => dictionary! { "ViewState" => state },
                "Print" => dictionary! { "PrintState" => state },
                "Export" => dictionary! { "ExportState" => "ON" },
            },
        );
        named.insert(name, Object::Reference(id));
    }
    let of = |part: PagePart| part.layer().and_then(|name| named.get(name)).cloned();
    let order: Vec<Object> = PagePart::ALL.into_iter().filter_map(of).collect();
    let off: Vec<Object> = of(PagePart::Cut).into_iter().collect();
    let printing = dictionary! {
        "Event" => "Print",
        "Category" => vec!["Print".into()],
        "OCGs" => order.clone(),
    };
    let shown_first = dictionary! {
        "Name" => Object::string_literal("as printed"),
        "BaseState" => "ON",
        "OFF" => off,
        "Order" => order.clone(),
        "AS" => vec![printing.into()],
    };
    let layers = dictionary! { "OCGs" => order, "D" => shown_first };
    document.catalog_mut()?.set("OCProperties", layers);
    Ok(())
}

/// How to show and print: true size above all. Two objects that are not needed any more are reused for this.
fn correct_catalog(
    document: &mut Document,
    about: &About,
    unused: SharedResources,
) -> Result<(), Error> {
    document.set_object(
        unused.states,
        dictionary! {
            "PrintScaling" => "None",
            "PickTrayByPDFSize" => true,
            "DisplayDocTitle" => true,
        },
    );
    let kind = dictionary! { "Type" => "Metadata", "Subtype" => "XML" };
    document.set_object(unused.shadings, Stream::new(kind, metadata::xmp(about).into_bytes()));
    let catalog = document.catalog_mut()?;
    catalog.set("ViewerPreferences", unused.states);
    catalog.set("Metadata", unused.shadings);
    catalog.set("PageLayout", "SinglePage");
    Ok(())
}
