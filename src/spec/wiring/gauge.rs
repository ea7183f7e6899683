//! Conductors, and how thick a wire is over its insulation.

use crate::spec::choice::choice;

/// A conductor's size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gauge {
    /// American wire gauge; 0 is 1/0, -3 is 4/0.
    Awg(i32),
    /// Cross-section, mm².
    Area(f64),
}

choice! {
    /// What a wire is covered with.
    pub enum Insulation {
        /// Stranded hook-up wire with a PVC wall of 0.38 mm.
        Pvc = "pvc",
        /// Soft silicone.
        Silicone = "silicone",
        /// Thin wire for wrapped posts.
        WireWrap = "wire-wrap",
    }
}

/// Diameter of a bare solid conductor, mm: 0.127 · 92^((36 − n) / 39) (ASTM B258).
fn conductor_diameter_mm(awg: i32) -> f64 {
    0.127 * libm::pow(92.0, f64::from(36 - awg) / 39.0)
}

/// Its cross-section, mm².
fn conductor_area_mm2(awg: i32) -> f64 {
    let diameter = conductor_diameter_mm(awg);
    std::f64::consts::PI * diameter * diameter / 4.0
}

/// Typical outside diameters, mm, by AWG: stranded, PVC wall of 0.38 mm (published by wire makers).
const PVC: &[(i32, f64)] = &[
    (30, 1.07),
    (28, 1.14),
    (26, 1.24),
    (24, 1.37),
    (22, 1.52),
    (20, 1.65),
    (18, 1.96),
    (16, 2.26),
    (14, 2.62),
];

/// Typical outside diameters, mm, of silicone-covered wire (from memory).
const SILICONE: &[(i32, f64)] = &[(30, 0.8), (26, 1.5), (24, 1.6), (22, 1.7), (20, 1.8), (18, 2.3)];

/// Outside diameter of 30 AWG wire for wrapped posts, mm (from memory).
const WIRE_WRAP: &[(i32, f64)] = &[(30, 0.51)];

impl Gauge {
    /// Reads `22 AWG`, `AWG22`, `1/0 AWG`, `00 AWG`, `0.5 mm²` or `0.5mm2`; `None` for anything else and
    /// for sizes that no conductor has.
    #[must_use]
    pub fn parse(text: &str) -> Option<Gauge> {
        Gauge::read(&text.trim().to_ascii_lowercase().replace(',', "."))
            .filter(|one| one.is_sound())
    }

    fn read(text: &str) -> Option<Gauge> {
        let unit =
            |unit: &str| text.strip_suffix(unit).or_else(|| text.strip_prefix(unit)).map(str::trim);
        if let Some(number) = unit("awg") {
            return awg(number.trim_start_matches('#').trim());
        }
        for area in ["mm²", "mm2", "mm^2", "sqmm", "qmm"] {
            if let Some(number) = unit(area) {
                return number.parse().ok().map(Gauge::Area);
            }
        }
        text.contains('/').then(|| awg(text)).flatten()
    }

    /// Whether such a conductor exists: 4/0 to 40 AWG, 0.005 to 120 mm².
    fn is_sound(self) -> bool {
        match self {
            Gauge::Awg(awg) => (-3..=40).contains(&awg),
            Gauge::Area(area) => (0.005..=120.0).contains(&area),
        }
    }

    /// Cross-section of the conductor, mm².
    #[must_use]
    pub fn area_mm2(self) -> f64 {
        match self {
            Gauge::Awg(awg) => conductor_area_mm2(awg),
            Gauge::Area(area) => area,
        }
    }

    /// What the outside diameter is likely to be, mm: between the two nearest sizes of the table, by the
    /// conductor's diameter; `None` outside it.
    #[must_use]
    pub fn outside_mm(self, insulation: Insulation) -> Option<f64> {
        let table = match insulation {
            Insulation::Pvc => PVC,
            Insulation::Silicone => SILICONE,
            Insulation::WireWrap => WIRE_WRAP,
        };
        let conductor = 2.0 * (self.area_mm2() / std::f64::consts::PI).sqrt();
        let at = |(awg, outside): &(i32, f64)| (conductor_diameter_mm(*awg), *outside);
        let exact = table.iter().map(at).find(|(bare, _)| (bare - conductor).abs() < 0.004);
        let between = |((a, from), (b, to)): ((f64, f64), (f64, f64))| {
            let within = (a..=b).contains(&conductor);
            within.then(|| from + (to - from) * (conductor - a) / (b - a))
        };
        let neighbours = || table.iter().map(at).zip(table.iter().skip(1).map(at));
        exact.map(|(_, outside)| outside).or_else(|| neighbours().find_map(between))
    }
}

/// A size in AWG: `22`, `1/0` to `4/0`, or as many noughts.
fn awg(number: &str) -> Option<Gauge> {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let noughts = match number.split_once('/') {
        Some((count, "0")) if digits(count.trim()) => count.trim().parse::<u8>().ok()?,
        Some(_) => return None,
        None if digits(number) && number.bytes().all(|byte| byte == b'0') => {
            u8::try_from(number.len()).ok()?
        }
        None if digits(number) => return Some(Gauge::Awg(number.parse().ok()?)),
        None => return None,
    };
    (1..=4).contains(&noughts).then(|| Gauge::Awg(1 - i32::from(noughts)))
}

impl std::fmt::Display for Gauge {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Gauge::Awg(awg) if *awg <= 0 => write!(f, "{}/0 AWG", 1 - awg),
            Gauge::Awg(awg) => write!(f, "{awg} AWG"),
            Gauge::Area(area) => write!(f, "{} mm²", crate::units::fixed(*area, 3)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conductors_are_as_thick_as_the_standards_table_says() {
        // ASTM B258, solid round conductors: mm and mm².
        for (awg, diameter, area) in [
            (-3, 11.684, 107.2),
            (0, 8.252, 53.49),
            (10, 2.588, 5.261),
            (12, 2.053, 3.309),
            (14, 1.628, 2.081),
            (16, 1.291, 1.309),
            (18, 1.024, 0.823),
            (20, 0.812, 0.518),
            (22, 0.644, 0.326),
            (24, 0.511, 0.205),
            (26, 0.405, 0.129),
            (28, 0.321, 0.0810),
            (30, 0.255, 0.0509),
        ] {
            assert!((conductor_diameter_mm(awg) / diameter - 1.0).abs() < 0.002, "{awg}");
            assert!((conductor_area_mm2(awg) / area - 1.0).abs() < 0.003, "{awg}");
        }
    }

    #[test]
    fn gauges_are_read_as_people_write_them() {
        for (text, gauge) in [
            ("22 AWG", Some(Gauge::Awg(22))),
            ("AWG22", Some(Gauge::Awg(22))),
            ("awg #22", Some(Gauge::Awg(22))),
            ("4/0 AWG", Some(Gauge::Awg(-3))),
            ("1/0", Some(Gauge::Awg(0))),
            ("0.5 mm²", Some(Gauge::Area(0.5))),
            ("0,5mm2", Some(Gauge::Area(0.5))),
            ("00 AWG", Some(Gauge::Awg(-1))),
            ("AWG 0000", Some(Gauge::Awg(-3))),
            ("0 AWG", Some(Gauge::Awg(0))),
            ("22", None),
            ("99 AWG", None),
            ("00000 AWG", None),
            ("5/0 AWG", None),
            ("0/0", None),
            ("-5/0", None),
            ("-2147483648/0 AWG", None),
            ("+22 AWG", None),
            ("500 mm2", None),
            ("thick", None),
        ] {
            assert_eq!(Gauge::parse(text), gauge, "{text}");
        }
    }

    #[test]
    fn outside_diameters_come_from_the_table_or_between() {
        // Published typical diameters, PVC wall 0.38 mm: 22 AWG 1.52; 0.75 mm² lies between 20 and 18 AWG.
        assert_eq!(Gauge::Awg(22).outside_mm(Insulation::Pvc), Some(1.52));
        let between = Gauge::Area(0.75).outside_mm(Insulation::Pvc).unwrap();
        assert!((1.65..1.96).contains(&between), "{between}");
        assert_eq!(Gauge::Awg(8).outside_mm(Insulation::Pvc), None);
        assert_eq!(Gauge::Awg(30).outside_mm(Insulation::WireWrap), Some(0.51));
    }
}
