//! A page as a picture to look at, rendered from the very SVG that is written.

use super::MADE_BY;
use crate::spec::Film;
use resvg::tiny_skia;

/// Pixels in an inch of a preview: enough to judge 1 mm letters, small enough to open at once.
pub(crate) const PREVIEW_DPI: f64 = 200.0;

/// Side of the squares that show clear film, mm.
const CHECK_MM: f64 = 5.0;

/// The two tints of clear film in a preview; close enough to stay behind any legend.
const CLEAR_TINTS: [[u8; 3]; 2] = [[236, 240, 242], [225, 231, 234]];

/// The most pixels of a preview: A3 at 600 dpi is 70 million.
const MOST_PIXELS: u64 = 120_000_000;

/// Why there is no preview: the caller must lower its resolution, or this program is at fault.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The picture would have this many pixels across and down.
    #[error("a preview of {0} x {1} pixels is too large; lower its dpi")]
    TooLarge(u32, u32),
    /// The SVG could not be read back.
    #[error("the preview's SVG cannot be read back: {0}")]
    Unread(usvg::Error),
    /// The PNG could not be packed.
    #[error("the preview cannot be packed as PNG: {0}")]
    Unpacked(png::EncodingError),
}

/// The preview of an SVG page of ours: ink over the film, white stock as white, clear film as faint checks.
///
/// # Errors
/// [`Error`] when the picture would be too large for memory or cannot be made.
pub(crate) fn preview(svg: &str, film: Film, dpi: f64) -> Result<Vec<u8>, Error> {
    let tree = usvg::Tree::from_str(svg, &usvg::Options::default()).map_err(Error::Unread)?;
    // usvg counts 96 units to the inch (CSS); sizes are rounded to whole pixels.
    let (across, down) = (tree.size().width(), tree.size().height());
    let pixels = |units: f32| rounded(f64::from(units) / 96.0 * dpi);
    let (width, height) = (pixels(across), pixels(down));
    let fits = u64::from(width) * u64::from(height) <= MOST_PIXELS;
    let picture = fits.then(|| tiny_skia::Pixmap::new(width, height)).flatten();
    let mut picture = picture.ok_or(Error::TooLarge(width, height))?;
    lay_film(&mut picture, film, dpi);
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "a scale")]
    let scale = tiny_skia::Transform::from_scale(width as f32 / across, height as f32 / down);
    resvg::render(&tree, scale, &mut picture.as_mut());
    pack(&picture, dpi).map_err(Error::Unpacked)
}

/// Fills the picture with what the film looks like.
fn lay_film(picture: &mut tiny_skia::Pixmap, film: Film, dpi: f64) {
    picture.fill(tiny_skia::Color::WHITE);
    if film != Film::Clear {
        return;
    }
    let side = rounded(CHECK_MM / 25.4 * dpi) as usize;
    let width = picture.width() as usize;
    for (y, row) in picture.pixels_mut().chunks_mut(width.max(1)).enumerate() {
        for (x, pixel) in row.iter_mut().enumerate() {
            let [even, odd] = CLEAR_TINTS;
            let [r, g, b] = if (x / side + y / side).is_multiple_of(2) { even } else { odd };
            *pixel = tiny_skia::ColorU8::from_rgba(r, g, b, 255).premultiply();
        }
    }
}

/// The nearest whole number, at least one.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "positive; a float to integer cast stops at the largest value"
)]
fn rounded(count: f64) -> u32 {
    count.round().max(1.0) as u32
}

/// PNG bytes (ISO/IEC 15948) with the true size and our mark in them.
fn pack(picture: &tiny_skia::Pixmap, dpi: f64) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, picture.width(), picture.height());
    // Every pixel is opaque, so its colour stands as it is.
    let pixels = picture.data().as_chunks::<4>().0;
    let is_grey = pixels.iter().all(|[r, g, b, _]| r == g && g == b);
    let channels: Vec<u8> = if is_grey {
        encoder.set_color(png::ColorType::Grayscale);
        pixels.iter().map(|[grey, ..]| *grey).collect()
    } else {
        encoder.set_color(png::ColorType::Rgb);
        pixels.iter().map(|[r, g, b, _]| [*r, *g, *b]).collect::<Vec<_>>().into_flattened()
    };
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_compression(png::Compression::Fast);
    let per_metre = rounded(dpi / 0.0254);
    encoder.set_pixel_dims(Some(png::PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: png::Unit::Meter,
    }));
    encoder.add_text_chunk("Software".to_owned(), MADE_BY.to_owned())?;
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&channels)?;
    writer.finish()?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::output::{About, Page, samples, svg};

    fn sample(film: Film) -> Vec<u8> {
        let (_, designs, sheet) = samples::signal_job();
        let page = svg::write(&About::default(), &designs, &Page::of_sheet(&sheet), &[]);
        preview(&page, film, PREVIEW_DPI).unwrap()
    }

    fn read(bytes: &[u8]) -> (png::Info<'static>, Vec<u8>) {
        let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut pixels).unwrap();
        (reader.info().clone(), pixels)
    }

    #[test]
    fn is_as_large_as_the_paper_and_says_so() {
        let (info, pixels) = read(&sample(Film::White));
        // A5 is 148 x 210 mm (ISO 216): 148 / 25.4 * 200 = 1165.35, 210 / 25.4 * 200 = 1653.54.
        assert_eq!((info.width, info.height), (1165, 1654));
        let size = info.pixel_dims.unwrap();
        // 200 / 0.0254 = 7874.02 pixels a metre.
        assert_eq!((size.xppu, size.yppu), (7874, 7874));
        assert_eq!(pixels.get(..3), Some([255, 255, 255].as_slice()));
    }

    #[test]
    fn carries_our_mark() {
        let (info, _) = read(&sample(Film::White));
        let mark = info.uncompressed_latin1_text.first().unwrap();
        assert_eq!((mark.keyword.as_str(), mark.text.as_str()), ("Software", "decalwright"));
    }

    #[test]
    fn grey_pages_take_one_byte_a_pixel_and_coloured_ones_keep_their_colours() {
        let colour = |fill: &str| {
            let page = format!(
                "<svg xmlns='http://www.w3.org/2000/svg' width='96' height='96'>\
                 <rect width='96' height='96' fill='{fill}'/></svg>"
            );
            let (info, pixels) = read(&preview(&page, Film::White, 96.0).unwrap());
            assert_eq!(pixels.len(), 96 * 96 * info.color_type.samples());
            (info.color_type, pixels.first_chunk::<3>().copied().unwrap())
        };
        assert_eq!(colour("#282828"), (png::ColorType::Grayscale, [40; 3]));
        assert_eq!(colour("#28290a"), (png::ColorType::Rgb, [40, 41, 10]));
    }

    #[test]
    fn clear_film_is_told_from_white() {
        let (_, clear) = read(&sample(Film::Clear));
        let (_, white) = read(&sample(Film::White));
        assert_ne!(clear.get(..3), white.get(..3));
    }

    #[test]
    fn refuses_a_picture_beyond_memory() {
        let (_, designs, sheet) = samples::signal_job();
        let page = Page { size: kurbo::Size::new(420.0, 297.0), ..Page::of_sheet(&sheet) };
        let page = svg::write(&About::default(), &designs, &page, &[]);
        assert!(matches!(preview(&page, Film::White, 2400.0), Err(Error::TooLarge(..))));
    }
}
