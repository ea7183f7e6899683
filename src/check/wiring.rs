//! Whether a table of wires can be right at all: ends, terminals, rails, colours, and what would be confused.

use super::Checked;
use crate::finding::{Finding, Findings, nearest};
use crate::spec::wiring::{End, Terminal, Wire, Wiring};
use crate::wire::Nets;
use std::collections::{BTreeMap, BTreeSet};

/// The wiring, where the job has one.
fn of(job: Checked<'_>) -> Option<&Wiring> {
    job.spec.wiring.as_ref()
}

/// Every wire of the job.
fn wires(job: Checked<'_>) -> impl Iterator<Item = &Wire> {
    of(job).into_iter().flat_map(|wiring| &wiring.wires)
}

/// The terminals given for the ends of a wire: two, unless the table lacks one.
fn ends(wire: &Wire) -> impl Iterator<Item = &Terminal> {
    wire.from.iter().chain(&wire.to)
}

/// The names of the first wires of a list.
fn names(wires: &[&Wire], most: usize) -> String {
    wires.iter().take(most).map(|wire| wire.id.as_str()).collect::<Vec<_>>().join(", ")
}

pub(super) fn same_wire(job: Checked<'_>, findings: &mut Findings) {
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    for wire in wires(job).filter(|wire| !seen.insert(&wire.id)) {
        let message = format!("two wires are called {}", wire.id);
        let finding = Finding::error("same-wire", message).at(wire.place);
        findings.push(finding.help("give every wire a name of its own"));
    }
}

pub(super) fn end_missing(job: Checked<'_>, findings: &mut Findings) {
    for wire in wires(job) {
        let id = &wire.id;
        let message = match (&wire.from, &wire.to) {
            (Some(from), Some(to)) if from.key() == to.key() => {
                format!("{id} goes from {from} back to {to}")
            }
            (Some(_), Some(_)) => continue,
            (Some(from), None) => format!("{id} comes from {from} and goes nowhere"),
            (None, Some(to)) => format!("{id} goes to {to} and comes from nowhere"),
            (None, None) => format!("{id} has no ends"),
        };
        let finding = Finding::error("end-missing", message).at(wire.place);
        findings.push(finding.help("write the terminal at each end: J2:4"));
    }
}

pub(super) fn crowded_terminal(job: Checked<'_>, findings: &mut Findings) {
    let Some(wiring) = of(job) else { return };
    let nets = Nets::of(wiring);
    let mut wires: BTreeMap<String, (&Terminal, Vec<&Wire>)> = BTreeMap::new();
    for wire in &wiring.wires {
        for terminal in ends(wire) {
            wires.entry(terminal.key()).or_insert((terminal, Vec::new())).1.push(wire);
        }
    }
    for (key, (terminal, wires)) in wires {
        let on_rail = nets.net(&key).is_some_and(|net| nets.rails(net).next().is_some());
        let usual = if on_rail { u32::MAX } else { 1 };
        let takes = wiring.takes.get(&key).copied().unwrap_or(usual);
        let Some(over) = wires.get(takes as usize) else { continue };
        let (count, names) = (wires.len(), names(&wires, wires.len()));
        let message = format!("{count} wires meet at {terminal}, which takes {takes}: {names}");
        let help = format!(
            "check the table; or declare `takes: {{\"{key}\": {count}}}`, or a rail under `rails:`"
        );
        findings.push(Finding::warning("crowded-terminal", message).at(over.place).help(help));
    }
}

pub(super) fn unknown_rail(job: Checked<'_>, findings: &mut Findings) {
    let Some(wiring) = of(job) else { return };
    let nets = Nets::of(wiring);
    let mut known: BTreeSet<String> = BTreeSet::new();
    for wire in &wiring.wires {
        known.insert(wire.function.clone());
        known.extend(ends(wire).flat_map(|end| [end.pin.clone(), end.to_string()]));
    }
    known.remove("");
    let mut tell = |name: &str, place, what: &str| {
        let message = format!("{what} {name:?} names nothing in the table");
        let help = match nearest(name, known.iter().map(String::as_str)) {
            Some(near) => format!("did you mean {near}?"),
            None => "write it as in the table: a pin, a function or a terminal".to_owned(),
        };
        findings.push(Finding::warning("unknown-rail", message).at(place).help(help));
    };
    for name in nets.rails_unknown() {
        let rail = wiring.rails.iter().find(|rail| rail.name == name);
        tell(name, rail.map_or(wiring.place, |rail| rail.place), "the rail");
    }
    for key in wiring.takes.keys().filter(|key| nets.net(key).is_none()) {
        tell(key, wiring.place, "the terminal under `takes:`,");
    }
}

/// The most wires named in one message.
const MOST_NAMED: usize = 8;

pub(super) fn rails_joined(job: Checked<'_>, findings: &mut Findings) {
    let Some(wiring) = of(job) else { return };
    let nets = Nets::of(wiring);
    for net in 0..nets.count() {
        let rails: Vec<&str> = nets.rails(net).collect();
        if rails.len() < 2 {
            continue;
        }
        let on_net =
            |wire: &&Wire| wire.from.as_ref().is_some_and(|end| nets.net(&end.key()) == Some(net));
        let wires: Vec<&Wire> = wiring.wires.iter().filter(on_net).collect();
        let (rails, names) = (rails.join(", "), names(&wires, MOST_NAMED));
        let mut message = format!("the rails {rails} are joined, by way of {names}");
        if wires.len() > MOST_NAMED {
            message += &format!(" and {} more", wires.len() - MOST_NAMED);
        }
        let place = wires.first().map_or(wiring.place, |wire| wire.place);
        let finding = Finding::error("rails-joined", message).at(place);
        findings.push(finding.help("one wire of this net has a wrong end"));
    }
}

pub(super) fn earth_colour(job: Checked<'_>, findings: &mut Findings) {
    for wire in wires(job) {
        let (id, is_earth) = (&wire.id, is_earth(wire));
        let earth_coloured = wire.colour.as_ref().is_some_and(|colour| colour.is_earth());
        let (message, help) = if earth_coloured && !is_earth {
            let message =
                format!("{id} is green-and-yellow, but nothing says that it is protective earth");
            (message, "take another colour; or write `protective earth` as its function")
        } else if is_earth && wire.colour.is_some() && !earth_coloured {
            let message = format!("{id} is protective earth, but not green-and-yellow");
            (message, "use GNYE for protective earth and for nothing else")
        } else {
            continue;
        };
        findings.push(Finding::error("earth-colour", message).at(wire.place).help(help));
    }
}

/// Words that say that a wire is protective earth (IEC 60445: PE).
fn is_earth(wire: &Wire) -> bool {
    let function = wire.function.to_lowercase();
    function.contains("protective earth")
        || tokens(&function).any(|token| token == "pe")
        || ends(wire).any(|terminal| terminal.pin == "PE")
}

/// Words that say that a wire carries mains: functions of IEC 60445.
const MAINS: [&str; 7] = ["mains", "live", "neutral", "pe", "l1", "l2", "l3"];

/// Voltages of public supplies (IEC 60038 and the older ones still written on parts; from memory).
const MAINS_VOLTS: [&str; 8] = ["100", "110", "115", "120", "230", "240", "400", "415"];

/// What in a wire's function says mains: a word, or a voltage with its unit written to it or after it.
fn mains_word(function: &str) -> Option<String> {
    let said = function.to_lowercase();
    let all: Vec<&str> = tokens(&said).collect();
    let is_unit = |text: &str| ["v", "vac", "volt", "volts"].contains(&text);
    let is_supply = |text: &str| MAINS_VOLTS.contains(&text);
    let says = |at: usize, token: &str| {
        let digits = token.trim_end_matches(|letter: char| letter.is_alphabetic());
        let unit = token.get(digits.len()..).unwrap_or_default();
        let next = all.get(at + 1).copied().unwrap_or_default();
        MAINS.contains(&token)
            || (is_supply(digits) && (is_unit(unit) || (unit.is_empty() && is_unit(next))))
    };
    let mut tokens = all.iter().enumerate();
    tokens.find(|(at, token)| says(*at, token)).map(|(_, token)| (*token).to_owned())
}

pub(super) fn mains_role(job: Checked<'_>, findings: &mut Findings) {
    let Some(wiring) = of(job) else { return };
    let mut supplies: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for wire in &wiring.wires {
        for terminal in ends(wire) {
            supplies.entry(terminal.device_key()).or_default().insert(&terminal.pin);
        }
    }
    // A device with both L and N is on the mains; a lone L may be a left-hand signal.
    let on_mains = |terminal: &Terminal| {
        let pins = supplies.get(terminal.device_key());
        ["L", "N"].contains(&terminal.pin.as_str())
            && pins.is_some_and(|pins| pins.contains("L") && pins.contains("N"))
    };
    for wire in &wiring.wires {
        let by_pin = || ends(wire).find(|terminal| on_mains(terminal) || terminal.pin == "PE");
        let word = mains_word(&wire.function);
        let Some(why) = word.or_else(|| by_pin().map(Terminal::to_string)) else { continue };
        let message = format!("{} seems to carry mains ({why})", wire.id);
        let help = "these markers are no safety marking: follow the local code, leave mains to a \
                    licensed electrician where the law asks, and isolate before any test";
        findings.push(Finding::warning("mains-role", message).at(wire.place).help(help));
    }
}

fn tokens(text: &str) -> impl Iterator<Item = &str> {
    text.split(|letter: char| !letter.is_alphanumeric()).filter(|token| !token.is_empty())
}

/// Wires of one colour that run between the same two devices, and what they are called.
type Alike<'a> = BTreeMap<([&'a str; 2], String), Vec<&'a Wire>>;

pub(super) fn alike_wires(job: Checked<'_>, findings: &mut Findings) {
    let Some(wiring) = of(job) else { return };
    let mut alike: Alike<'_> = BTreeMap::new();
    for wire in &wiring.wires {
        let (Some(from), Some(to), Some(colour)) = (&wire.from, &wire.to, &wire.colour) else {
            continue;
        };
        let mut devices = [from.device_key(), to.device_key()];
        devices.sort_unstable();
        alike.entry((devices, colour.code())).or_default().push(wire);
    }
    for (([one, other], code), wires) in alike {
        let [first, _, ..] = wires.as_slice() else { continue };
        let (count, names) = (wires.len(), names(&wires, 12));
        let message = format!(
            "{count} {code} wires run between {one} and {other}: only their markers tell them apart ({names})"
        );
        let help = "mark both ends before the first is joined, or give them different colours";
        findings.push(Finding::note("alike-wires", message).at(first.place).help(help));
    }
}

pub(super) fn same_marker(job: Checked<'_>, findings: &mut Findings) {
    let Some(wiring) = of(job) else { return };
    let mut printed: BTreeMap<&[String], &Wire> = BTreeMap::new();
    let mut told = BTreeSet::new();
    for wire in &wiring.wires {
        for end in [End::From, End::To] {
            let lines = wire.text(end);
            let first = *printed.entry(lines).or_insert(wire);
            if first.id != wire.id && told.insert((&first.id, &wire.id)) {
                let (one, other, text) = (&first.id, &wire.id, lines.join(" / "));
                let message = format!("{one} and {other} have markers that read the same: {text}");
                let help = "let the text tell the wires apart: put `{wire}` into it";
                findings.push(Finding::error("same-marker", message).at(wire.place).help(help));
            }
        }
    }
}
