//! Code 128 (ISO/IEC 15417): bars and spaces of one to four modules, eleven to a character.
//!
//! Printable ASCII needs sets B (all letters) and C (two figures a character); set A, with control
//! characters, is left out.

/// Widths of the bars and spaces of each value, bar first (ISO/IEC 15417, table 1; from memory, and read by an
/// outside reader in the tests). The last is the stop.
const WIDTHS: [&str; 107] = [
    "212222", "222122", "222221", "121223", "121322", "131222", "122213", "122312", "132212",
    "221213", "221312", "231212", "112232", "122132", "122231", "113222", "123122", "123221",
    "223211", "221132", "221231", "213212", "223112", "312131", "311222", "321122", "321221",
    "312212", "322112", "322211", "212123", "212321", "232121", "111323", "131123", "131321",
    "112313", "132113", "132311", "211313", "231113", "231311", "112133", "112331", "132131",
    "113123", "113321", "133121", "313121", "211331", "231131", "213113", "213311", "213131",
    "311123", "311321", "331121", "312113", "312311", "332111", "314111", "221411", "431111",
    "111224", "111422", "121124", "121421", "141122", "141221", "112214", "112412", "122114",
    "122411", "142112", "142211", "241211", "221114", "413111", "241112", "134111", "111242",
    "121142", "121241", "114212", "124112", "124211", "411212", "421112", "421211", "212141",
    "214121", "412121", "111143", "111341", "131141", "114113", "114311", "411113", "411311",
    "113141", "114131", "311141", "411131", "211412", "211214", "211232", "2331112",
];

const TO_C: u32 = 99;
const TO_B: u32 = 100;
const START_B: u32 = 104;
const START_C: u32 = 105;
const STOP: u32 = 106;

/// Modules of a character.
const CHARACTER: usize = 11;

/// The longest text: beyond it a hand-held reader no longer takes in the whole (common practice, no source).
const LONGEST: usize = 80;

/// Which set values are read in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum CodeSet {
    B,
    C,
}

/// The modules of a text, `true` for a bar; `None` when it is too long or not printable ASCII.
pub(super) fn encode(text: &str) -> Option<Vec<bool>> {
    if text.is_empty() || text.len() > LONGEST {
        return None;
    }
    let mut values = values(text.as_bytes())?;
    values.push(check_character(&values));
    values.push(STOP);
    let mut modules = Vec::with_capacity(values.len() * CHARACTER + 2);
    for value in values {
        modules.extend(bars(value));
    }
    Some(modules)
}

/// Start + Σ i·value, modulo 103 (ISO/IEC 15417, annex A).
fn check_character(values: &[u32]) -> u32 {
    (0..).zip(values).map(|(at, value)| value * u32::max(at, 1)).sum::<u32>() % 103
}

/// Start and characters, figures in pairs where that is shorter (rules of ISO/IEC 15417, annex E).
fn values(text: &[u8]) -> Option<Vec<u32>> {
    let (mut rest, mut values, mut set) = (text, Vec::new(), CodeSet::B);
    while let Some(first) = rest.first() {
        let figures = rest.iter().take_while(|letter| letter.is_ascii_digit()).count();
        let at_start = values.is_empty();
        let at_end = figures == rest.len();
        let pays = figures >= 6
            || (figures >= 4 && (at_start || at_end))
            || (figures == 2 && text.len() == 2);
        let wanted = match set {
            // An odd figure goes first in set B, so that the pairs run to the end.
            CodeSet::B if pays && figures.is_multiple_of(2) => CodeSet::C,
            CodeSet::B if pays && at_start => CodeSet::C,
            CodeSet::C if figures >= 2 => CodeSet::C,
            CodeSet::B | CodeSet::C => CodeSet::B,
        };
        if at_start {
            values.push(if wanted == CodeSet::C { START_C } else { START_B });
        } else if wanted != set {
            values.push(if wanted == CodeSet::C { TO_C } else { TO_B });
        }
        set = wanted;
        let (value, used) = match (set, rest) {
            (CodeSet::C, [tens, units, ..]) => {
                (u32::from(tens - b'0') * 10 + u32::from(units - b'0'), 2)
            }
            _ => (u32::from(first.checked_sub(b' ')?), 1),
        };
        values.push(value);
        rest = rest.get(used..)?;
    }
    Some(values)
}

/// The modules of one character.
fn bars(value: u32) -> impl Iterator<Item = bool> {
    let widths = usize::try_from(value).ok().and_then(|value| WIDTHS.get(value)).copied();
    let widths = widths.unwrap_or_default().bytes().map(|width| usize::from(width - b'0'));
    widths.enumerate().flat_map(|(at, width)| std::iter::repeat_n(at % 2 == 0, width))
}

/// The text of a row of modules; `None` when start, stop, check or any character is not right.
pub(super) fn decode(modules: &[bool]) -> Option<String> {
    let (body, stop) = modules.split_at_checked(modules.len().checked_sub(CHARACTER + 2)?)?;
    if !stop.iter().copied().eq(bars(STOP)) || !body.len().is_multiple_of(CHARACTER) {
        return None;
    }
    let read: Option<Vec<u32>> = body.chunks(CHARACTER).map(value).collect();
    let read = read?;
    let (check, values) = read.split_last()?;
    let (start, characters) = values.split_first()?;
    if check_character(values) != *check {
        return None;
    }
    let mut set = match *start {
        START_B => CodeSet::B,
        START_C => CodeSet::C,
        _ => return None,
    };
    let mut text = String::new();
    for value in characters {
        match (set, *value) {
            (CodeSet::B, TO_C) => set = CodeSet::C,
            (CodeSet::C, TO_B) => set = CodeSet::B,
            (CodeSet::C, pair @ 0..=99) => text.push_str(&format!("{pair:02}")),
            (CodeSet::B, letter @ 0..=94) => text.push(char::from_u32(letter + 32)?),
            (CodeSet::B | CodeSet::C, _) => return None,
        }
    }
    (!text.is_empty()).then_some(text)
}

/// The value drawn by eleven modules.
fn value(modules: &[bool]) -> Option<u32> {
    (0..STOP).find(|value| bars(*value).eq(modules.iter().copied()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_check_character_of_the_published_example_is_54() {
        // Start A = 103 and PJJ123C in set A: check 54 (worked example in descriptions of ISO/IEC 15417).
        let values = [103, 48, 42, 42, 17, 18, 19, 35];
        assert_eq!(check_character(&values), 54);
    }

    #[test]
    fn every_character_is_eleven_modules_wide_and_unlike_any_other() {
        // ISO/IEC 15417: 11 modules, the stop 13; bars always make an even number of modules.
        for value in 0..STOP {
            let modules: Vec<bool> = bars(value).collect();
            assert_eq!(modules.len(), CHARACTER, "{value}");
            assert!(modules.iter().filter(|bar| **bar).count() % 2 == 0, "{value}");
            assert_eq!(super::value(&modules), Some(value));
        }
        assert_eq!(bars(STOP).count(), 13);
    }

    #[test]
    fn figures_are_written_in_pairs_where_that_is_shorter() {
        // Start, characters, check, stop: 8 figures take 4 characters in set C.
        for (text, characters) in
            [("20417731", 7), ("PROP", 7), ("12", 4), ("A123456", 8), ("12345", 7)]
        {
            assert_eq!(encode(text).unwrap().len(), characters * CHARACTER + 2, "{text}");
            assert_eq!(decode(&encode(text).unwrap()).as_deref(), Some(text));
        }
    }

    #[test]
    fn one_wrong_module_is_noticed() {
        let mut modules = encode("PROP-0412").unwrap();
        assert!(decode(&modules).is_some());
        modules[30] = !modules[30];
        assert_eq!(decode(&modules), None);
    }
}
