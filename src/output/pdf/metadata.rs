//! A PDF's metadata: title and subject for people and programs, and its identifier.
//!
//! No dates: the same job must give the same bytes tomorrow. The identifier is a hash of the content.

use super::Composition;
use super::forms::Forms;
use crate::output::{About, xml_text};
use kurbo::Affine;
use lopdf::{Dictionary, Object, StringFormat, dictionary};
use sha2::{Digest, Sha256};

/// The program that wrote the file.
const PRODUCER: &str = concat!("decalwright ", env!("CARGO_PKG_VERSION"));

/// The document information dictionary (ISO 32000-1 14.3.3).
pub(super) fn information(about: &About) -> Dictionary {
    let mut information = dictionary! {
        "Title" => text_string(&about.title),
        "Producer" => text_string(PRODUCER),
        "Creator" => text_string(PRODUCER),
    };
    if !about.subject.is_empty() {
        information.set("Subject", text_string(&about.subject));
    }
    information
}

/// A text string: ASCII as it is, all else as UTF-16 with its mark (ISO 32000-1 7.9.2.2).
fn text_string(text: &str) -> Object {
    if text.bytes().all(|byte| (0x20..0x7f).contains(&byte)) {
        return Object::String(text.as_bytes().to_vec(), StringFormat::Literal);
    }
    let units = std::iter::once(0xfeff).chain(text.encode_utf16());
    Object::String(units.flat_map(u16::to_be_bytes).collect(), StringFormat::Hexadecimal)
}

/// The same as an XMP packet (ISO 16684-1).
pub(super) fn xmp(about: &About) -> String {
    let entry = |name: &str, text: &str| {
        let text = escaped(text);
        format!(
            "<dc:{name}><rdf:Alt><rdf:li xml:lang=\"x-default\">{text}</rdf:li></rdf:Alt></dc:{name}>\n"
        )
    };
    let title = entry("title", &about.title);
    let subject =
        if about.subject.is_empty() { String::new() } else { entry("description", &about.subject) };
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n\
         <rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\">\n\
         <dc:format>application/pdf</dc:format>\n{title}{subject}\
         <xmp:CreatorTool>{PRODUCER}</xmp:CreatorTool>\n<pdf:Producer>{PRODUCER}</pdf:Producer>\n\
         </rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>"
    )
}

/// Text as XML 1.0 content (section 2.4).
fn escaped(text: &str) -> String {
    xml_text(text).replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

/// A hash of all that the document shows and says, as its identifier (ISO 32000-1 14.4).
pub(super) fn identifier(composition: &Composition<'_>, forms: &Forms) -> [u8; 16] {
    let mut hash = Sha256::new();
    let mut add = |bytes: &[u8]| {
        // The length goes first, so that moving a boundary changes the hash.
        hash.update(bytes.len().to_be_bytes());
        hash.update(bytes);
    };
    add(composition.about.title.as_bytes());
    add(composition.about.subject.as_bytes());
    for page in composition.pages {
        add(&page.size.width.to_be_bytes());
        add(&page.size.height.to_be_bytes());
    }
    let corrections = composition.corrections.iter();
    for correction in corrections.filter(|correction| **correction != Affine::IDENTITY) {
        correction.as_coeffs().iter().for_each(|number| add(&number.to_be_bytes()));
    }
    for (form, content) in forms {
        add(form.to_string().as_bytes());
        add(&content.packed);
    }
    let mut id = [0; 16];
    id.iter_mut().zip(hash.finalize()).for_each(|(byte, hashed)| *byte = hashed);
    id
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn xml_marks_and_forbidden_characters_do_no_harm() {
        // XML 1.0 sections 2.2 and 2.4.
        let text = escaped("a<b> & \"c\"\u{1}\u{ffff}\n潮");
        assert_eq!(text, "a&lt;b&gt; &amp; \"c\"\u{fffd}\u{fffd} 潮");
    }

    #[test]
    fn strings_beyond_ascii_are_utf_16_with_a_mark() {
        // ISO 32000-1 7.9.2.2: U+FEFF first, big-endian; U+1F6A2 is the pair D83D DEA2 (Unicode 3.9).
        let Object::String(bytes, _) = text_string("é\u{1f6a2}") else { panic!() };
        assert_eq!(bytes, [0xfe, 0xff, 0x00, 0xe9, 0xd8, 0x3d, 0xde, 0xa2]);
    }
}
