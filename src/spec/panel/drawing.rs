//! Holes from the circles of a drawing, at its true size.

use super::Origin;
use super::holes::{AskedHole, Fitting};
use crate::drawing::{Page, circles, dxf};
use crate::finding::{Finding, Place, quoted};
use crate::spec::element::art;
use crate::spec::reader::{Least, Reader};
use crate::units::rounded;
use crate::yaml::{OneOrList, Scalar, keys};
use kurbo::{Point, Size, Vec2};

keys! {
    /// A drawing whose circles are holes.
    pub(super) struct DrawingKeys {
        /// The file's name, ending in `.dxf` or `.svg`.
        file: Option<Scalar>,
        /// Only circles on this layer (SVG: in the group with this id) are holes.
        layer: Option<Scalar>,
        /// Where the drawing's origin (SVG: its top left corner) lies, [x, y] from the panel's origin.
        at: Option<OneOrList>,
        /// What the names of its holes start with: `H` gives H1, H2, … row by row.
        prefix: Option<Scalar>,
    }
}

/// Circles nearer than this are one drawn twice, and rows of holes differ by more, mm.
const SAME_MM: f64 = 0.01;

/// No circle of a drawing is farther out or larger, mm: ten times the longest length a job can say.
const FARTHEST_MM: f64 = 50_000.0;

/// Decimals of a millimetre that a drawn hole is worked out to: those of any length of a job.
const NANOMETRES: i32 = 6;

/// A circle on the panel: its middle from the panel's middle, y down, and its diameter, mm.
struct DrawnHole {
    middle: Point,
    diameter: f64,
}

impl DrawnHole {
    /// Whether it is near enough to be written in figures; false for numbers that are none.
    fn is_near(&self) -> bool {
        let Point { x, y } = self.middle;
        [x, y, self.diameter].iter().all(|mm| mm.abs() <= FARTHEST_MM)
    }
}

/// The holes of a drawing; `unit_mm` is the unit, in mm, of a drawing that does not give its own.
pub(super) fn holes(
    keys: &DrawingKeys,
    unit_mm: Option<f64>,
    origin: Origin,
    size: Size,
    place: Place,
    reader: &mut Reader,
) -> Vec<AskedHole> {
    let Some(file) = &keys.file else {
        let help = "name a DXF or SVG file beside the job";
        reader.wrong("missing", place, "a drawing needs `file`", help);
        return Vec::new();
    };
    let Some(bytes) = reader.fetch("drawing-file", "drawing", file) else { return Vec::new() };
    let offset = reader.pair(&keys.at, Least::Any).unwrap_or((0.0, 0.0));
    // The offset counts the way the panel's places do.
    let up = if origin == Origin::BottomLeft { -1.0 } else { 1.0 };
    let offset = Vec2::new(offset.0, offset.1 * up);
    let is_dxf = file.trimmed().to_ascii_lowercase().ends_with(".dxf");
    let found = if is_dxf {
        of_dxf(&bytes, keys, unit_mm, size, reader)
    } else {
        of_svg(&bytes, keys, size, reader)
    };
    let mut found = found.unwrap_or_default();
    found.iter_mut().for_each(|one| one.middle += offset);
    if !found.iter().all(DrawnHole::is_near) {
        let message = format!("{} has circles too far out to be on a panel", quoted(&file.text));
        let help = "check the drawing's unit, and save it again";
        reader.wrong("bad-drawing", file.place, message, help);
        return Vec::new();
    }
    in_rows(&mut found);
    if found.is_empty() && !reader.context.findings.any_error() {
        let message = format!("{} has no circles there", quoted(&file.text));
        reader.wrong("no-holes", file.place, message, "draw holes as circles, and check `layer`");
    }
    let prefix = keys.prefix.as_ref().map_or("H", |prefix| prefix.trimmed());
    let hole = |(one, number): (DrawnHole, usize)| AskedHole {
        name: Some(Scalar { text: format!("{prefix}{number}"), place: file.place }),
        kind: None,
        at: Some(Point::new(rounded(one.middle.x, NANOMETRES), rounded(one.middle.y, NANOMETRES))),
        own: Fitting { diameter: Some(rounded(one.diameter, NANOMETRES)), ..Fitting::default() },
        has_diameter: true,
        place: file.place,
    };
    found.into_iter().zip(1_usize..).map(hole).collect()
}

/// Sorted as people count them, row by row from the top left, one of each place.
fn in_rows(found: &mut Vec<DrawnHole>) {
    let row = |one: &DrawnHole| (one.middle.y / SAME_MM).round();
    found.sort_by(|a, b| {
        let across = a.middle.x.total_cmp(&b.middle.x);
        row(a).total_cmp(&row(b)).then(across).then(b.diameter.total_cmp(&a.diameter))
    });
    // A hole and its countersink share a middle: the hole is the smaller one.
    found.dedup_by(|next, kept| {
        let same = (next.middle - kept.middle).hypot() < SAME_MM;
        if same {
            kept.diameter = kept.diameter.min(next.diameter);
        }
        same
    });
}

fn of_dxf(
    bytes: &[u8],
    keys: &DrawingKeys,
    unit_mm: Option<f64>,
    size: Size,
    reader: &mut Reader,
) -> Option<Vec<DrawnHole>> {
    let file = keys.file.as_ref()?;
    let read = match dxf::read(bytes) {
        Ok(read) => read,
        Err(what) => {
            let message = format!("{} {what}", quoted(&file.text));
            reader.wrong("bad-drawing", file.place, message, "save it again as a DXF in text form");
            return None;
        }
    };
    let Some(unit) = read.unit_mm.or(unit_mm) else {
        let message = format!("{} does not say its unit", quoted(&file.text));
        let help = "add `unit: mm` or `unit: in` to the panel: measure one hole to be sure";
        reader.wrong("drawing-unit", file.place, message, help);
        return None;
    };
    if read.has_blocks {
        let message = format!("{} places blocks; circles in them are not read", quoted(&file.text));
        let finding = Finding::warning("drawing-blocks", message);
        reader.note(finding.at(file.place).help("explode the blocks in the drawing"));
    }
    let layer = keys.layer.as_ref();
    if let Some(layer) = layer.filter(|layer| !read.layers.contains(layer.trimmed())) {
        let layers = read.layers.iter().map(String::as_str);
        let otherwise = "correct `layer`, or leave it out";
        let help = reader.did_you_mean(layer.trimmed(), layers, otherwise);
        let message =
            format!("{} has nothing on layer {}", quoted(&file.text), quoted(&layer.text));
        reader.wrong("drawing-layer", layer.place, message, help);
        return None;
    }
    let on_layer = |name: &str| layer.is_none_or(|layer| layer.trimmed() == name);
    let circles = read.circles.iter().filter(|circle| on_layer(&circle.layer));
    // A drawing's y runs up: its origin is the panel's bottom left corner.
    let drawn = circles.map(|circle| DrawnHole {
        middle: Origin::BottomLeft.to_panel(circle.middle.to_vec2() * unit, size),
        diameter: 2.0 * circle.radius * unit,
    });
    Some(drawn.collect())
}

fn of_svg(
    bytes: &[u8],
    keys: &DrawingKeys,
    size: Size,
    reader: &mut Reader,
) -> Option<Vec<DrawnHole>> {
    let file = keys.file.as_ref()?;
    let layer = keys.layer.as_ref().map(|layer| layer.trimmed());
    let (circles, page, _) = art::or_refused(circles(bytes, layer), file, reader)?;
    if !matches!(page, Page::Sized(..)) {
        let message = format!("{} does not say how large it is", quoted(&file.text));
        let help = "give the drawing a width and height in mm";
        reader.wrong("drawing-unit", file.place, message, help);
        return None;
    }
    let drawn = circles.iter().map(|circle| DrawnHole {
        middle: Origin::TopLeft.to_panel(circle.middle.to_vec2(), size),
        diameter: 2.0 * circle.radius,
    });
    Some(drawn.collect())
}
