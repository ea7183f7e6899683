//! The list to check the work with a meter: what must beep, what must not, in an order that spares the hand.
//!
//! Wires that close a loop have their `to` end left off until the rest is done, and are touched at that
//! loose end. What stays connected then has just enough wires to hold each net together. So if every
//! row that must beep does beep, each net hangs together and no wire is left to join two of them: an
//! open and any exchange of ends are found for certain, and only foreign bridges (solder, whiskers,
//! stray strands) are left to the rows that must not beep.

use super::Nets;
use super::nets::RailAt;
use crate::spec::wiring::{Terminal, Wiring};
use std::collections::BTreeSet;
use std::fmt;

#[cfg(test)]
mod tests;

/// What to test, unpowered.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Plan {
    /// Must beep: one row for each wire with both ends, by the two devices, then by pin.
    pub joined: Vec<Joined>,
    /// Must not beep: rails first, then along each device.
    pub apart: Vec<Apart>,
}

/// A wire to test.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Joined {
    /// Its place in the table.
    pub wire: usize,
    /// Where to put the probes: its ends, from and to.
    pub probes: [Terminal; 2],
    /// Whether other wires of the plan join its ends too: its `to` end is left off until all other rows
    /// are done, and the second probe touches that loose end.
    pub one_end_off: bool,
}

/// Two terminals that must not be joined.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Apart {
    /// Where to put the probes.
    pub probes: [Terminal; 2],
    /// Why these two.
    pub reason: Reason,
}

/// Why two terminals are tested against each other.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Reason {
    /// Two rails, by name.
    Rails(String, String),
    /// They lie next to each other on a device, where solder and strands go astray.
    Neighbours(String),
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Reason::Rails(one, other) => write!(f, "rail {one} to rail {other}"),
            Reason::Neighbours(device) => write!(f, "neighbours on {device}"),
        }
    }
}

/// Plans the tests of a wiring.
#[must_use]
pub(crate) fn plan(wiring: &Wiring) -> Plan {
    let nets = Nets::of(wiring);
    let mut tested = BTreeSet::new();
    let mut apart = rails_apart(&nets, &mut tested);
    apart.extend(neighbours_apart(&nets, &mut tested));
    Plan { joined: joined(wiring, &nets), apart }
}

/// One row a wire; rows between the same two devices follow each other.
fn joined(wiring: &Wiring, nets: &Nets) -> Vec<Joined> {
    let rows = wiring.wires.iter().enumerate().filter_map(|(wire, row)| {
        let probes = [row.from.clone()?, row.to.clone()?];
        Some(Joined { wire, probes, one_end_off: nets.closes_a_loop(wire) })
    });
    let mut rows: Vec<Joined> = rows.collect();
    rows.sort_by_cached_key(|row| {
        let [one, other] = nets.ends(row.wire).unwrap_or_default();
        [one.device, other.device, one.terminal, other.terminal, row.wire]
    });
    rows
}

/// Every two rails against each other. Two rails on one net stay in: the beep shows what is wrong.
fn rails_apart(nets: &Nets, tested: &mut BTreeSet<[usize; 2]>) -> Vec<Apart> {
    let rails = nets.rails_present();
    let mut apart = Vec::new();
    for (at, one) in rails.iter().enumerate() {
        for other in rails.iter().skip(at + 1) {
            for (nth, [(net_a, a), (net_b, b)]) in pieces(one, other).into_iter().enumerate() {
                if tested.insert(pair(*net_a, *net_b)) || nth == 0 {
                    // Two rails on one net may meet in one terminal: the second probe needs another.
                    let another = || nets.terminals(*net_b).find(|end| end.key() != a.key());
                    let b = if a.key() == b.key() { another().unwrap_or(b) } else { b };
                    let reason = Reason::Rails(one.name.clone(), other.name.clone());
                    apart.push(Apart { probes: [a.clone(), b.clone()], reason });
                }
            }
        }
    }
    apart
}

/// Which nets of two rails to test, and where to touch them. Of a rail in several pieces each is tested
/// against the other rail's first, so that many pieces do not make a row for every two.
fn pieces<'a>(one: &'a RailAt, other: &'a RailAt) -> Vec<[(&'a usize, &'a Terminal); 2]> {
    let (Some(first), Some(second)) = (one.touch.iter().next(), other.touch.iter().next()) else {
        return Vec::new();
    };
    let ones = one.touch.iter().map(|piece| [piece, second]);
    ones.chain(other.touch.iter().skip(1).map(|piece| [first, piece])).collect()
}

/// Along each device, terminals next to each other whose nets were not tested against each other yet.
fn neighbours_apart(nets: &Nets, tested: &mut BTreeSet<[usize; 2]>) -> Vec<Apart> {
    let mut apart = Vec::new();
    for [(a, net_a), (b, net_b)] in nets.neighbours() {
        if net_a != net_b && tested.insert(pair(net_a, net_b)) {
            let reason = Reason::Neighbours(a.device_key().to_owned());
            apart.push(Apart { probes: [a.clone(), b.clone()], reason });
        }
    }
    apart
}

/// Two nets, whichever came first.
fn pair(a: usize, b: usize) -> [usize; 2] {
    [a.min(b), a.max(b)]
}
