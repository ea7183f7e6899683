//! A table's bytes as text: UTF-8, or UTF-16 with a byte order mark; anything else is never guessed.

/// The text without its byte order mark; lone carriage returns become line feeds, so that lines can be
/// counted. The error reads on from the table's name.
pub(super) fn decode(bytes: &[u8]) -> Result<String, String> {
    let text = match bytes {
        [0xff, 0xfe, rest @ ..] => utf16(rest, u16::from_le_bytes),
        [0xfe, 0xff, rest @ ..] => utf16(rest, u16::from_be_bytes),
        [0xef, 0xbb, 0xbf, rest @ ..] => utf8(rest),
        _ => utf8(bytes),
    }?;
    if text.contains('\0') {
        return Err("is not text: it holds a zero byte".to_owned());
    }
    Ok(if text.contains('\n') { text } else { text.replace('\r', "\n") })
}

fn utf8(bytes: &[u8]) -> Result<String, String> {
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let before = bytes.iter().take(error.valid_up_to());
        let line = before.filter(|byte| **byte == b'\n').count() + 1;
        let byte = bytes.get(error.valid_up_to()).copied().unwrap_or_default();
        format!("is not UTF-8 text: there is a byte {byte:02X} in line {line}")
    })?;
    Ok(text.to_owned())
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> Result<String, String> {
    let broken = || "is not whole UTF-16 text".to_owned();
    let (pairs, rest) = bytes.as_chunks::<2>();
    if !rest.is_empty() {
        return Err(broken());
    }
    let units: Vec<u16> = pairs.iter().copied().map(unit).collect();
    String::from_utf16(&units).map_err(|_| broken())
}
