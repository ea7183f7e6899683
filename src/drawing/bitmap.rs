//! Pictures made of dots, known by their first bytes: there is no plate to print them on.

/// Width and height in dots; 0 where the file does not tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Bitmap {
    pub kind: &'static str,
    pub width: u32,
    pub height: u32,
}

impl Bitmap {
    /// The picture a file holds, by its magic bytes; `None` when it is none of the usual kinds.
    pub(super) fn of(bytes: &[u8]) -> Option<Bitmap> {
        let be = |at: usize| -> Option<u32> {
            let four: [u8; 4] = bytes.get(at..at + 4)?.try_into().ok()?;
            Some(u32::from_be_bytes(four))
        };
        if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            // PNG (ISO/IEC 15948) 11.2.2: IHDR comes first, width and height in its first eight bytes.
            let (width, height) = (be(16).unwrap_or(0), be(20).unwrap_or(0));
            return Some(Bitmap { kind: "PNG", width, height });
        }
        if bytes.starts_with(&[0xff, 0xd8, 0xff]) {
            let (width, height) = jpeg_size(bytes).unwrap_or((0, 0));
            return Some(Bitmap { kind: "JPEG", width, height });
        }
        let kind = match bytes.get(..12)? {
            [b'G', b'I', b'F', b'8', ..] => "GIF",
            [b'B', b'M', ..] => "BMP",
            [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'E', b'B', b'P'] => "WebP",
            [b'I', b'I', b'*', 0, ..] | [b'M', b'M', 0, b'*', ..] => "TIFF",
            _ => return None,
        };
        Some(Bitmap { kind, width: 0, height: 0 })
    }
}

/// Size of a JPEG (ISO/IEC 10918-1, B.2.2): in the first frame header, markers C0 to CF but C4, C8 and CC.
fn jpeg_size(bytes: &[u8]) -> Option<(u32, u32)> {
    let two = |at: usize| Some((u32::from(*bytes.get(at)?) << 8) | u32::from(*bytes.get(at + 1)?));
    let mut at = 2;
    loop {
        if *bytes.get(at)? != 0xff {
            return None;
        }
        let marker = *bytes.get(at + 1)?;
        match marker {
            0xff => at += 1,
            0xc4 | 0xc8 | 0xcc => at += 2 + usize::try_from(two(at + 2)?).ok()?,
            0xc0..=0xcf => return Some((two(at + 7)?, two(at + 5)?)),
            _ => at += 2 + usize::try_from(two(at + 2)?).ok()?,
        }
    }
}
