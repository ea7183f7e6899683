//! Escapes a job's words for HTML and XML, and hashes our own script and style.
//!
//! A job may come from anybody. Its words go into markup escaped, without signs that turn the reading direction
//! of what stands round them, and the page allows only our own script and style, by their hashes.

use crate::output::xml_text;
use base64::{Engine as _, engine::general_purpose::STANDARD as BASE64};
use sha2::{Digest as _, Sha256};

/// Text for between tags and within quoted attributes, in HTML and XML alike.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in xml_text(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // Control characters of ISO 6429, and the explicit directions of Unicode's UAX 9, section 2.
            '\u{7f}'..='\u{9f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {
                out.push('\u{fffd}');
            }
            other => out.push(other),
        }
    }
    out
}

/// A script's or style's hash as a content security policy takes it: `sha256-` and base64 (CSP Level 3).
pub(super) fn policy_hash(text: &str) -> String {
    format!("sha256-{}", BASE64.encode(Sha256::digest(text.as_bytes())))
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
    fn a_hash_is_written_as_the_policy_takes_it() {
        // CSP Level 3, section 8.2: the hash of alert('Hello, world.');
        let hashed = policy_hash("alert('Hello, world.');");
        assert_eq!(hashed, "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng=");
    }
}
