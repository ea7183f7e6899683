//! How labels are seen: viewing distances, colours as shown and printed, and the white that may lie under the ink.

use super::choice::choice;
use super::printer::Printer;
use super::reader::{Least, Reader};
use crate::colour::Colour;
use crate::finding::{Place, quoted};
use crate::yaml::{OneOrList, Scalar, keys};

/// How far a backing of white film stays inside the ink, mm: a hand lays it less exactly than a printer feeds.
/// Common practice, no source.
const BACKING_CHOKE_MM: f64 = 0.30;

keys! {
    /// From where words are read.
    #[schemars(extend("x-short" = "distance"))]
    pub(super) struct ViewedKeys {
        /// From the eye to the words: `700 mm`, `8 m`.
        distance: Option<Scalar>,
        /// `panel`, `sign` or `poor-light`.
        r#as: Option<Scalar>,
    }

    /// A colour as it should look, and how to print it.
    #[schemars(extend("x-short" = "shown"))]
    pub(super) struct ColourKeys {
        /// What it should look like: "#ad2b24".
        shown: Option<Scalar>,
        /// What to send to the printer so that it looks like that, as picked from a test print.
        print: Option<Scalar>,
    }

    /// White under the ink.
    #[schemars(extend("x-short" = "as"))]
    pub(super) struct WhiteKeys {
        /// `under`: a plate of white printed under the ink; `backing`: a piece of white film laid first.
        r#as: Option<Scalar>,
        /// White printed under all `ink`, or under the whole `label`.
        area: Option<Scalar>,
        /// White printed under the ink of these colours only.
        of: Option<OneOrList>,
        /// How much of it is printed: `60 %` for a grey veil; all of it when not given.
        tint: Option<Scalar>,
        /// How far its edge stays inside the ink's.
        choke: Option<Scalar>,
    }
}

/// From where words are read, and by which rule they are judged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Viewed {
    /// From the eye to the words, mm.
    pub distance_mm: f64,
    /// What the eye has to do.
    pub reading: Reading,
}

choice! {
    /// How carefully words are read.
    pub enum Reading {
        /// At ease, in good light: a panel at arm's length.
        Panel = "panel",
        /// A few words in good light, known to be there: a sign.
        Sign = "sign",
        /// In a poor light.
        PoorLight = "poor-light",
    }
}

impl Viewed {
    /// The lowest capitals that can be read, mm.
    ///
    /// A panel: 16 arc minutes (ISO 9241-303). A sign: a three-hundredth of the distance (ANSI Z535.2, favourable
    /// light: one inch for 25 feet). In poor light: 24 arc minutes, common practice, no source.
    #[must_use]
    pub fn least_cap_mm(&self) -> f64 {
        match self.reading {
            Reading::Panel => cap_height_at(self.distance_mm, 16.0),
            Reading::Sign => self.distance_mm / 300.0,
            Reading::PoorLight => cap_height_at(self.distance_mm, 24.0),
        }
    }

    /// The lowest capitals that are read at ease, mm: 20 arc minutes (NUREG-0700, 11.4.1.5; ISO 9241-303 has
    /// 20 to 22), and 24 in poor light.
    #[must_use]
    pub fn easy_cap_mm(&self) -> f64 {
        match self.reading {
            Reading::Panel | Reading::Sign => cap_height_at(self.distance_mm, 20.0),
            Reading::PoorLight => cap_height_at(self.distance_mm, 24.0),
        }
    }
}

/// Height that a capital has when it is seen under an angle of so many arc minutes: h = 2 d tan(a / 2).
#[must_use]
pub(crate) fn cap_height_at(distance_mm: f64, arc_minutes: f64) -> f64 {
    2.0 * distance_mm * libm::tan((arc_minutes / 60.0).to_radians() / 2.0)
}

/// White that lies under a label's ink.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum White {
    /// None: the film, or what is under it, is what the ink lies on.
    #[default]
    None,
    /// A plate of white printed under the ink.
    Under(UnderPrint),
    /// A piece of white film of the same shape, laid on the part first.
    Backing {
        /// How far its edge stays inside the ink's, mm.
        choke_mm: f64,
    },
}

/// How far white stays inside the ink when the job does not say, mm: 0.15 in one pass, 0.30 when the sheet is fed
/// twice (common practice, no source). Less shows a white rim when the sheet shifts, more a dark one.
#[must_use]
pub(crate) fn usual_choke_mm(printer: &Printer) -> f64 {
    if printer.white_passes == Some(1) { 0.15 } else { 0.30 }
}

/// A plate of white printed under the ink.
#[derive(Clone, Debug, PartialEq)]
pub struct UnderPrint {
    /// What of the label it lies under.
    pub area: WhiteArea,
    /// Share of the area that is printed, above 0 and up to 1.
    pub tint: f64,
    /// How far its edge stays inside the ink's, mm.
    pub choke_mm: f64,
}

/// What of a label has white under it.
#[derive(Clone, Debug, PartialEq)]
pub enum WhiteArea {
    /// All ink.
    Ink,
    /// The whole label up to its trim, ink or not.
    Label,
    /// The ink of these colours.
    Of(Vec<Colour>),
}

choice! {
    /// How white lies under a label.
    enum WhiteIs {
        /// Printed under its ink.
        Under = "under",
        /// A piece of white film laid first.
        Backing = "backing",
        /// Not at all.
        None = "none",
    }
}

/// From where something is read; `None` when not given or wrong.
pub(super) fn viewed(keys: &Option<ViewedKeys>, reader: &mut Reader) -> Option<Viewed> {
    let ViewedKeys { distance, r#as: reading } = keys.as_ref()?;
    let reading_as = reader.word(reading).unwrap_or(Reading::Panel);
    if distance.is_none() {
        let place = reading.as_ref().map(|reading| reading.place).unwrap_or_default();
        reader.wrong("missing", place, "no distance is given", "add `distance: 700 mm`");
    }
    let distance_mm = reader.far(distance)?;
    Some(Viewed { distance_mm, reading: reading_as })
}

impl ColourKeys {
    /// A colour as it should look, and what is sent to the printer for it where that is another.
    pub(super) fn colours(
        &self,
        name: &str,
        reader: &mut Reader,
    ) -> (Option<Colour>, Option<Colour>) {
        if self.shown.is_none() {
            let message = format!("the colour {} does not say how it looks", quoted(name));
            reader.wrong("missing", self.place(), message, "add `shown: \"#ad2b24\"`");
        }
        (reader.colour(&self.shown), reader.colour(&self.print))
    }

    /// Where its name or value stands.
    pub(super) fn place(&self) -> Place {
        let given = self.shown.as_ref().or(self.print.as_ref());
        given.map(|scalar| scalar.place).unwrap_or_default()
    }

    /// Where it says what is printed for it.
    pub(super) fn print_place(&self) -> Place {
        self.print.as_ref().map(|print| print.place).unwrap_or_default()
    }
}

/// White under a label's ink.
pub(super) fn white(keys: &Option<WhiteKeys>, printer: &Printer, reader: &mut Reader) -> White {
    let Some(map) = keys else { return White::None };
    let way = reader.word(&map.r#as).unwrap_or(WhiteIs::Under);
    let choke = reader.length(&map.choke, Least::Nought);
    match way {
        WhiteIs::None => White::None,
        WhiteIs::Backing => {
            only_under(map, reader);
            White::Backing { choke_mm: choke.unwrap_or(BACKING_CHOKE_MM) }
        }
        WhiteIs::Under => {
            let tint = reader.number(&map.tint, 0.05..=1.0).unwrap_or(1.0);
            White::Under(UnderPrint {
                area: area(map, reader),
                tint,
                choke_mm: choke.unwrap_or(usual_choke_mm(printer)),
            })
        }
    }
}

fn area(map: &WhiteKeys, reader: &mut Reader) -> WhiteArea {
    let words = [("ink", false), ("label", true)];
    let whole = reader.choice(&map.area, &words);
    let Some(of) = &map.of else {
        return if whole == Some(true) { WhiteArea::Label } else { WhiteArea::Ink };
    };
    if let Some(area) = &map.area {
        let message = "`area` and `of` both say where white is printed";
        reader.wrong("two-areas", area.place, message, "keep one of them");
    }
    WhiteArea::Of(of.items.iter().filter_map(|item| reader.colour(item)).collect())
}

/// Reports keys that mean nothing for a backing.
fn only_under(map: &WhiteKeys, reader: &mut Reader) {
    let of = map.of.as_ref().and_then(|many| many.items.first());
    for (key, typed) in [("area", map.area.as_ref()), ("of", of), ("tint", map.tint.as_ref())] {
        if let Some(typed) = typed {
            let message = format!("`{key}` says what is printed; a backing is cut from white film");
            reader.wrong("bad-value", typed.place, message, "take it away, or write `as: under`");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_match_the_published_angles() {
        // h = 2 d tan(a / 2), rounded to a micrometre, as tables for 15 to 24 arc minutes give it.
        for (distance, heights) in [
            (300.0, [1.309, 1.396, 1.745, 1.920, 2.094]),
            (500.0, [2.182, 2.327, 2.909, 3.200, 3.491]),
            (700.0, [3.054, 3.258, 4.072, 4.480, 4.887]),
            (710.0, [3.098, 3.304, 4.131, 4.544, 4.957]),
            (1000.0, [4.363, 4.654, 5.818, 6.400, 6.981]),
            (2000.0, [8.727, 9.308, 11.636, 12.799, 13.963]),
        ] {
            for (angle, height) in [15.0, 16.0, 20.0, 22.0, 24.0].into_iter().zip(heights) {
                let found = cap_height_at(distance, angle);
                assert!((found - height).abs() < 0.000_6, "{distance} {angle}: {found}");
            }
        }
    }

    #[test]
    fn a_sign_is_judged_by_the_foot() {
        // ANSI Z535.2: 1 in for 25 ft, so 12 ft (3657.6 mm) need 0.48 in.
        let sign = Viewed { distance_mm: 3657.6, reading: Reading::Sign };
        assert!((sign.least_cap_mm() - 0.48 * 25.4).abs() < 1e-9);
    }
}
