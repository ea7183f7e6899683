//! Drawings from files, at true size or fitted.

use super::{AnyElement, Around, Element, Keys, Paint, Part, placed};
use crate::drawing::{self, Artwork, Bitmap, Page, Read, Refused};
use crate::finding::{Finding, Place, quoted};
use crate::spec::reader::{Least, Reader};
use crate::units::fixed;
use crate::yaml::{OneOrList, Scalar, keys};
use kurbo::Size;
use std::sync::Arc;

/// Sides stretched by more than this ratio are reported; less is a rounded size.
const STRETCHED: f64 = 1.005;

/// Dots to the inch a picture should have where it is printed (common practice, no source).
const DOTS_WANTED: f64 = 300.0;

keys! {
    /// A drawing from an SVG file.
    pub(in crate::spec) struct ArtKeys {
        /// The SVG file beside the job.
        file: Option<Scalar>,
        /// [width, height] of the drawing's page, sides stretched to both.
        size: Option<OneOrList>,
        /// Width of the drawing's page; the height follows.
        width: Option<Scalar>,
        /// Height of the drawing's page; the width follows.
        height: Option<Scalar>,
        /// As large as fits into [width, height].
        fit: Option<OneOrList>,
        /// `own` for the drawing's colours, one colour for all of it, or `clear`.
        paint: Option<Scalar>,
        /// Where the middle of its page is.
        at: Option<OneOrList>,
        /// Degrees clockwise.
        turned: Option<Scalar>,
    }
}

/// A drawing on a label. Labels that use the same file share it.
#[derive(Clone, Debug, PartialEq)]
pub struct Art {
    /// The drawing.
    pub artwork: Arc<Artwork>,
    /// Width and height its page takes up on the label, mm.
    pub size: Size,
    /// One paint for all of it; `None` keeps its own colours.
    pub paint: Option<Paint>,
}

impl AnyElement for Art {
    fn paints(&self) -> Vec<Paint> {
        match self.paint {
            Some(paint) => vec![paint],
            None => self.artwork.shapes.iter().map(|shape| Paint::Ink(shape.colour)).collect(),
        }
    }

    fn ink_words(&self) -> &'static str {
        "a stroke of the drawing is"
    }

    fn gap_words(&self) -> &'static str {
        "a clear gap in the drawing is"
    }
}

impl Keys for ArtKeys {
    fn part(&self, place: Place, _: &Around, reader: &mut Reader) -> Option<Part> {
        let wanted = self.wanted(place, reader);
        let paint = match &self.paint {
            Some(paint) if paint.trimmed() != "own" => Some(reader.paint(&self.paint)?),
            _ => None,
        };
        let Some(file) = &self.file else {
            let help = "name an SVG file beside the job: `file: logo.svg`";
            reader.wrong("missing", place, "art needs `file`", help);
            return None;
        };
        let art = match drawing(file, reader)? {
            Read::Bitmap(bitmap) => {
                no_bitmap(file, bitmap, wanted?, reader);
                return None;
            }
            Read::Drawing(artwork, page) => {
                let size = size(artwork.size, page, wanted?, file, reader)?;
                if paint.is_some() && artwork.silhouette.is_none() {
                    let message = format!("the shapes of {} overlap too often", quoted(&file.text));
                    let help = "join them in the drawing, or keep their colours: `paint: own`";
                    reader.wrong("bad-art", file.place, message, help);
                    return None;
                }
                Art { artwork, size, paint }
            }
        };
        Some(placed(Element::Art(art), place, &self.at, &self.turned, reader))
    }
}

impl ArtKeys {
    /// `None`, and reported, when a size is wrong or two are given.
    fn wanted(&self, place: Place, reader: &mut Reader) -> Option<AskedSize> {
        let given =
            [self.size.is_some(), self.width.is_some(), self.height.is_some(), self.fit.is_some()];
        if given.iter().filter(|given| **given).count() > 1 {
            let help = "keep one of size, width, height and fit";
            reader.wrong("two-sizes", place, "the art's size is given twice", help);
            return None;
        }
        if !given.contains(&true) {
            return Some(AskedSize::True);
        }
        let both = reader.size(&self.size).map(AskedSize::Both);
        let fit = reader.size(&self.fit).map(AskedSize::Fit);
        let width = reader.length(&self.width, Least::Something).map(AskedSize::Width);
        let height = reader.length(&self.height, Least::Something).map(AskedSize::Height);
        both.or(fit).or(width).or(height)
    }
}

/// How large a drawing is asked for, mm.
#[derive(Clone, Copy, Debug)]
enum AskedSize {
    True,
    Width(f64),
    Height(f64),
    Fit(Size),
    Both(Size),
}

impl AskedSize {
    /// The size that a drawing gets whose page is this large by itself.
    fn of(self, own: Size) -> Size {
        match self {
            AskedSize::True => own,
            AskedSize::Width(width) => own * (width / own.width),
            AskedSize::Height(height) => own * (height / own.height),
            AskedSize::Fit(room) => own * (room.width / own.width).min(room.height / own.height),
            AskedSize::Both(both) => both,
        }
    }
}

/// What a file holds; each file is read once, whatever the labels that use it.
fn drawing(file: &Scalar, reader: &mut Reader) -> Option<Read> {
    let name = file.trimmed();
    if let Some(known) = reader.drawings.get(name) {
        return known.clone();
    }
    let bytes = reader.fetch("art-file", "drawing", file);
    let read = bytes.and_then(|bytes| or_refused(drawing::read(&bytes), file, reader));
    reader.drawings.insert(name.to_owned(), read.clone());
    read
}

/// What was read of a drawing; `None`, and all that stands against it reported, when it was refused.
pub(in crate::spec) fn or_refused<T>(
    read: Result<T, Vec<Refused>>,
    file: &Scalar,
    reader: &mut Reader,
) -> Option<T> {
    let name = quoted(file.trimmed());
    let report = |slip: &Refused| {
        let message = match slip.line {
            0 => format!("{name}: {}", slip.what),
            line => format!("{name} line {line}: {}", slip.what),
        };
        reader.wrong("bad-art", file.place, message, slip.help);
    };
    read.map_err(|slips| slips.iter().for_each(report)).ok()
}

/// The size on the label, mm.
fn size(
    own: Size,
    page: Page,
    wanted: AskedSize,
    file: &Scalar,
    reader: &mut Reader,
) -> Option<Size> {
    match (wanted, page) {
        (AskedSize::True, Page::Unitless(..)) => unitless(own, file, reader),
        (AskedSize::True, Page::Open) => {
            let message = format!("{} does not say how large it is", quoted(&file.text));
            let help = "give the size it shall have: `width: 40 mm`, or `fit: [40 mm, 15 mm]`";
            reader.wrong("art-size", file.place, message, help);
            return None;
        }
        (AskedSize::Both(both), _) => stretched(both, own, file, reader),
        _ => {}
    }
    let size = wanted.of(own);
    if size.max_side() > 5000.0 || size.min_side() < 1e-3 {
        let message = format!("{} would be {}", quoted(&file.text), sides(size));
        reader.wrong("art-size", file.place, message, "give another size");
        return None;
    }
    Some(size)
}

fn sides(size: Size) -> String {
    format!("{} x {} mm", fixed(size.width, 2), fixed(size.height, 2))
}

fn unitless(own: Size, file: &Scalar, reader: &mut Reader) {
    let other = sides(own * (96.0 / 72.0));
    let message = format!(
        "{} gives its size without a unit: taken at 96 to the inch it is {}",
        quoted(&file.text),
        sides(own)
    );
    let help = format!("a program that means 72 to the inch would make it {other}; write `width:`");
    reader.note(Finding::note("art-unit", message).at(file.place).help(help));
}

/// Warns of sides that are not stretched alike.
fn stretched(to: Size, from: Size, file: &Scalar, reader: &mut Reader) {
    let ratio = (to.width / to.height) / (from.width / from.height);
    let ratio = if ratio < 1.0 { ratio.recip() } else { ratio };
    if ratio <= STRETCHED {
        return;
    }
    let message = format!("{} is stretched unequally, by {}", quoted(&file.text), fixed(ratio, 3));
    let help = "write `fit:` or `width:` to keep its shape";
    let finding = Finding::warning("art-stretched", message).help(help).measured(ratio, 1.0);
    reader.note(finding.at(file.place));
}

/// There is no plate for dots; their fineness at the size asked for tells whether tracing is worth it.
fn no_bitmap(file: &Scalar, bitmap: Bitmap, wanted: AskedSize, reader: &mut Reader) {
    let Bitmap { kind, width, height } = bitmap;
    let dots = Size::new(f64::from(width), f64::from(height));
    let mut message = format!("{} is a {kind} picture, made of dots", quoted(&file.text));
    if dots.min_side() > 0.0 {
        message = format!("{message}: {width} x {height}");
        if let AskedSize::Both(both) = wanted {
            stretched(both, dots, file, reader);
        }
        if !matches!(wanted, AskedSize::True) {
            let mm = wanted.of(dots).width;
            let fineness = dots.width / (mm / 25.4);
            message = format!(
                "{message}, {} to the inch at {} mm ({} are wanted)",
                fixed(fineness, 1),
                fixed(mm, 2),
                fixed(DOTS_WANTED, 0)
            );
        }
    }
    let help =
        "only outlines are printed: trace it to an SVG (the more dots, the better it comes out)";
    reader.wrong("bitmap", file.place, message, help);
}
