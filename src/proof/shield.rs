//! What keeps a stranger's words from doing anything but being read.
//!
//! A job may come from anybody. Its words go into markup escaped, without signs that turn the reading direction
//! of what stands round them, and the page allows only our own script and style, by their hashes.

use sha2::{Digest as _, Sha256};

/// Text for between tags and within quoted attributes, in HTML and XML alike.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            // Control characters, and the explicit directions of Unicode's UAX 9, section 2.
            '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => out.push('\u{fffd}'),
            other => out.push(other),
        }
    }
    out
}

/// A script's or style's hash as a content security policy takes it: `sha256-` and base64 (CSP Level 3).
pub(super) fn hash(text: &str) -> String {
    format!("sha256-{}", base64(&Sha256::digest(text.as_bytes())))
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let byte = |at: usize| u32::from(three.get(at).copied().unwrap_or_default());
        let bits = byte(0) << 16 | byte(1) << 8 | byte(2);
        for place in 0..4 {
            let sign = (bits >> (18 - 6 * place)) as usize & 63;
            let sign = SIGNS.get(sign).map_or('=', |sign| char::from(*sign));
            out.push(if place <= three.len() { sign } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_of_a_name_is_markup() {
        assert_eq!(escaped("</script>"), "&lt;/script&gt;");
        assert_eq!(escaped("\"x' onload=&1"), "&quot;x&#39; onload=&amp;1");
        assert_eq!(escaped("a\u{202e}b\u{2066}\u{0}\nc"), "a\u{fffd}b\u{fffd}\u{fffd} c");
        assert_eq!(escaped("שלט é"), "שלט é");
    }

    #[test]
    fn base64_matches_the_published_vectors() {
        // RFC 4648, section 10.
        for (text, coded) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(text.as_bytes()), coded);
        }
        // CSP Level 3, section 8.2: the hash of alert('Hello, world.');
        let hashed = hash("alert('Hello, world.');");
        assert_eq!(hashed, "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng=");
    }
}
