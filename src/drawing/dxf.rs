//! Circles of a DXF drawing, for drill patterns: the text form, its entities section only.
//!
//! A DXF text is pairs of lines: a group code and its value. Codes used here, from memory of the published
//! reference: 0 starts an entity, 2 names a section, 9 a header variable, 8 a layer, 10 and 20 a middle, 40 a
//! radius, 67 paper space, 230 the direction it is seen from.

use kurbo::Point;
use std::collections::BTreeSet;

/// The largest drawing that is read, bytes.
const LARGEST: usize = 8 * 1024 * 1024;

/// A circle, in the drawing's own unit, y up.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Circle {
    pub layer: String,
    pub middle: Point,
    pub radius: f64,
}

/// What a drawing holds for us.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Circles {
    /// Millimetres in one of its units; `None` when it does not say.
    pub unit_mm: Option<f64>,
    pub circles: Vec<Circle>,
    /// Layers anything lies on.
    pub layers: BTreeSet<String>,
    /// Whether it places blocks, which may hold circles that are not read.
    pub has_blocks: bool,
}

/// One entity as its pairs are met.
#[derive(Default)]
struct Entity {
    kind: String,
    layer: String,
    x: f64,
    y: f64,
    radius: f64,
    on_paper: bool,
    from_behind: bool,
}

/// Reads a drawing.
///
/// # Errors
/// What is wrong with it, to follow the file's name.
pub(crate) fn read(bytes: &[u8]) -> Result<Circles, String> {
    if bytes.len() > LARGEST {
        return Err("is larger than 8 MiB".to_owned());
    }
    if bytes.contains(&0) {
        return Err("is no DXF in its text form".to_owned());
    }
    // Layer names of older drawings may be in any encoding; numbers and keywords are plain.
    let text = String::from_utf8_lossy(bytes);
    let mut found = Circles::default();
    let (mut section, mut naming, mut variable) = (String::new(), false, String::new());
    let mut entity = Entity::default();
    let mut lines = text.trim_start_matches('\u{feff}').lines().zip(1_usize..);
    let mut ended = false;
    while let Some((code, at)) = lines.next() {
        let Ok(code) = code.trim().parse::<i32>() else {
            return Err(format!("is no DXF: line {at} is not a group code"));
        };
        let Some((value, _)) = lines.next() else {
            return Err(format!("ends after line {at}, in the middle of a pair"));
        };
        let value = value.trim();
        match code {
            0 => {
                found.take(std::mem::take(&mut entity), &section)?;
                naming = value == "SECTION";
                ended = value == "EOF";
                value.clone_into(&mut entity.kind);
            }
            2 if naming => {
                value.clone_into(&mut section);
                naming = false;
            }
            9 => value.clone_into(&mut variable),
            70 if section == "HEADER" && variable == "$INSUNITS" => {
                found.unit_mm = value.parse().ok().and_then(unit_mm);
            }
            _ => entity.pair(code, value, at + 1)?,
        }
        if ended {
            return Ok(found);
        }
    }
    Err("is cut short: it has no end mark".to_owned())
}

/// Millimetres in a unit of `$INSUNITS` (from memory of the published reference); `None` for 0, unitless.
fn unit_mm(number: i32) -> Option<f64> {
    match number {
        1 => Some(25.4),
        2 => Some(304.8),
        4 => Some(1.0),
        5 => Some(10.0),
        6 => Some(1000.0),
        9 => Some(0.0254),
        13 => Some(0.001),
        14 => Some(100.0),
        _ => None,
    }
}

impl Entity {
    fn pair(&mut self, code: i32, value: &str, line: usize) -> Result<(), String> {
        let number = || {
            let number = value.parse::<f64>().ok().filter(|number| number.is_finite());
            number.ok_or_else(|| format!("line {line}: a circle needs a number here"))
        };
        match code {
            8 => value.clone_into(&mut self.layer),
            67 => self.on_paper = value == "1",
            230 => self.from_behind = value.starts_with('-'),
            10 if self.kind == "CIRCLE" => self.x = number()?,
            20 if self.kind == "CIRCLE" => self.y = number()?,
            40 if self.kind == "CIRCLE" => self.radius = number()?,
            _ => {}
        }
        Ok(())
    }
}

impl Circles {
    fn take(&mut self, entity: Entity, section: &str) -> Result<(), String> {
        if section != "ENTITIES" || entity.kind.is_empty() || entity.on_paper {
            return Ok(());
        }
        self.has_blocks |= entity.kind == "INSERT";
        if !entity.layer.is_empty() {
            self.layers.insert(entity.layer.clone());
        }
        if entity.kind != "CIRCLE" {
            return Ok(());
        }
        if entity.radius <= 0.0 {
            return Err("has a circle without a radius".to_owned());
        }
        // Seen from behind, the drawing's x runs the other way.
        let x = if entity.from_behind { -entity.x } else { entity.x };
        let middle = Point::new(x, entity.y);
        self.circles.push(Circle { layer: entity.layer, middle, radius: entity.radius });
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawing(units: &str, entities: &str) -> String {
        format!(
            "0\nSECTION\n2\nHEADER\n{units}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
        )
    }

    const CIRCLE: &str = "0\nCIRCLE\n8\nHOLES\n10\n12.5\n20\n30.0\n30\n0.0\n40\n3.25\n";

    #[test]
    fn circles_come_with_layer_and_unit() {
        // $INSUNITS 4 is millimetres, 1 inches, 0 unitless: the published DXF reference, from memory.
        for (units, mm) in [("4", Some(1.0)), ("1", Some(25.4)), ("0", None)] {
            let text = drawing(&format!("9\n$INSUNITS\n70\n{units}\n"), CIRCLE);
            let read = read(text.as_bytes()).expect("a sound drawing");
            assert_eq!(read.unit_mm, mm);
            let circle =
                Circle { layer: "HOLES".into(), middle: Point::new(12.5, 30.0), radius: 3.25 };
            assert_eq!(read.circles, [circle]);
        }
    }

    #[test]
    fn other_sections_and_paper_space_are_passed_over() {
        let entities = format!("{CIRCLE}67\n1\n0\nLINE\n8\nEDGE\n10\nx\n");
        let read = read(drawing("", &entities).replace('\n', "\r\n").as_bytes()).expect("sound");
        assert!(read.circles.is_empty());
        assert_eq!(read.layers.into_iter().collect::<Vec<_>>(), ["EDGE"]);
    }

    #[test]
    fn a_torn_file_is_refused_never_read_in_part() {
        let whole = drawing("", CIRCLE);
        for end in 1..whole.len() - 4 {
            assert!(read(&whole.as_bytes()[..end]).is_err(), "{:?}", &whole[..end]);
        }
        assert!(read(whole.replace("3.25", "wide").as_bytes()).is_err());
        assert!(read(b"\0\0").is_err());
        assert!(read(b"solid part\n").is_err());
    }
}
