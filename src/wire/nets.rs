//! Which terminals the wires join: what a meter would find, and what it cannot show.
//!
//! A net is a set of terminals that wires join. A beep between two terminals shows that they are on one
//! net, not that a certain wire is whole: for that, no other path may join them, so the plan takes one end off
//! of every wire that closes a loop.

use super::natural;
use crate::finding::Place;
use crate::spec::wiring::{Terminal, Wiring};
use std::collections::BTreeMap;

#[cfg(test)]
pub(super) mod tests;

/// The terminals of a wiring and the nets they form. Wires with an end missing take no part.
///
/// Nets are counted from 0 in the order of their first terminals.
#[derive(Clone, Debug)]
pub(crate) struct Nets {
    /// By device, then pin, as people count.
    terminals: Vec<Terminal>,
    /// Where a key stands in `terminals`.
    at: BTreeMap<String, usize>,
    /// By wire: where its ends stand in `terminals`.
    joints: Vec<Joint>,
    /// The net of each terminal.
    net: Vec<usize>,
    /// The terminals of each net.
    members: Vec<Vec<usize>>,
    /// In the order of declaration, each name once.
    rails: Vec<RailAt>,
    /// By wire: whether the wires before it join its ends already.
    closing: Vec<bool>,
}

/// A rail, and where to touch it.
#[derive(Clone, Debug)]
pub(super) struct RailAt {
    /// Its name.
    pub(super) name: String,
    /// By net that carries it: the terminal to touch, one that bears its name where there is one.
    pub(super) touch: BTreeMap<usize, Terminal>,
}

/// Where a terminal comes when all are counted, and the first of its device.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Counted {
    pub(super) device: usize,
    pub(super) terminal: usize,
}

/// The terminals of a wire, as places in `Nets::terminals`; `None` where an end is missing.
type Joint = Option<[usize; 2]>;

impl Nets {
    /// Finds the nets of a wiring.
    #[must_use]
    pub(crate) fn of(wiring: &Wiring) -> Nets {
        let mut found: BTreeMap<String, &Terminal> = BTreeMap::new();
        for wire in &wiring.wires {
            if let (Some(from), Some(to)) = (&wire.from, &wire.to) {
                found.entry(from.key()).or_insert(from);
                found.entry(to.key()).or_insert(to);
            }
        }
        let mut terminals: Vec<Terminal> = found.into_values().cloned().collect();
        terminals.sort_by(|a, b| {
            natural(a.device_key(), b.device_key()).then_with(|| natural(&a.pin, &b.pin))
        });
        let at: BTreeMap<String, usize> =
            terminals.iter().enumerate().map(|(at, terminal)| (terminal.key(), at)).collect();
        let joint =
            |from: &Terminal, to: &Terminal| Some([*at.get(&from.key())?, *at.get(&to.key())?]);
        let joints: Vec<Joint> =
            wiring.wires.iter().map(|wire| joint(wire.from.as_ref()?, wire.to.as_ref()?)).collect();
        let (net, closing) = join(&joints, terminals.len());
        let mut members = vec![Vec::new(); net.iter().max().map_or(0, |last| last + 1)];
        for (terminal, net) in net.iter().enumerate() {
            members.get_mut(*net).into_iter().for_each(|net: &mut Vec<usize>| net.push(terminal));
        }
        let rails = rails(wiring, &terminals, &at, &net, &joints);
        Nets { terminals, at, joints, net, members, rails, closing }
    }

    /// How many nets there are.
    #[must_use]
    pub(crate) fn count(&self) -> usize {
        self.members.len()
    }

    /// The net of a terminal, by [`Terminal::key`].
    #[must_use]
    pub(crate) fn net(&self, key: &str) -> Option<usize> {
        self.net.get(*self.at.get(key)?).copied()
    }

    /// The terminals of a net, by device and pin as people count.
    pub(crate) fn terminals(&self, net: usize) -> impl Iterator<Item = &Terminal> {
        let members = self.members.get(net).into_iter().flatten();
        members.filter_map(|terminal| self.terminals.get(*terminal))
    }

    /// The rails that a net carries: by the whole of a terminal, its pin, or a wire's function.
    pub(crate) fn rails(&self, net: usize) -> impl Iterator<Item = &str> {
        let carried = self.rails.iter().filter(move |rail| rail.touch.contains_key(&net));
        carried.map(|rail| rail.name.as_str())
    }

    /// The rails that are on no net: no terminal, pin or function bears their name.
    pub(crate) fn rails_unknown(&self) -> impl Iterator<Item = &str> {
        let nowhere = self.rails.iter().filter(|rail| rail.touch.is_empty());
        nowhere.map(|rail| rail.name.as_str())
    }

    /// Whether the wires before this one in the table join its ends already. Without all such wires the
    /// nets are the same, and no wire that is left has another path.
    #[must_use]
    pub(crate) fn closes_a_loop(&self, wire: usize) -> bool {
        self.closing.get(wire).copied().unwrap_or(false)
    }

    /// Where the ends of a wire come when all terminals are counted, the first in front.
    pub(super) fn ends(&self, wire: usize) -> Option<[Counted; 2]> {
        let [a, b] = self.joints.get(wire).copied().flatten()?;
        let counted = |terminal: usize| {
            let key = self.terminals.get(terminal)?.device_key();
            let before = |other: &Terminal| natural(other.device_key(), key).is_lt();
            Some(Counted { device: self.terminals.partition_point(before), terminal })
        };
        Some([counted(a.min(b))?, counted(a.max(b))?])
    }

    /// Terminals next to each other on one device, with their nets, in the order of all terminals.
    pub(super) fn neighbours(&self) -> impl Iterator<Item = [(&Terminal, usize); 2]> {
        let counted = || self.terminals.iter().zip(self.net.iter().copied());
        let two = counted().zip(counted().skip(1)).map(|(one, next)| [one, next]);
        two.filter(|[(one, _), (next, _)]| one.device_key() == next.device_key())
    }

    /// Every rail that is on some net.
    pub(super) fn rails_present(&self) -> Vec<&RailAt> {
        self.rails.iter().filter(|rail| !rail.touch.is_empty()).collect()
    }
}

/// The net of each terminal, and which wires close a loop.
fn join(joints: &[Joint], terminals: usize) -> (Vec<usize>, Vec<bool>) {
    let mut above: Vec<usize> = (0..terminals).collect();
    let mut closing = Vec::with_capacity(joints.len());
    for joint in joints {
        let ends = joint.map(|[a, b]| [root(&mut above, a), root(&mut above, b)]);
        closing.push(ends.is_some_and(|[a, b]| a == b));
        if let Some([a, b]) = ends {
            above.get_mut(a.max(b)).into_iter().for_each(|above| *above = a.min(b));
        }
    }
    let mut number = BTreeMap::new();
    let net = (0..terminals).map(|terminal| {
        let next = number.len();
        *number.entry(root(&mut above, terminal)).or_insert(next)
    });
    (net.collect(), closing)
}

/// The topmost terminal over `of`, shortening the way for the next time.
fn root(above: &mut [usize], mut of: usize) -> usize {
    while let Some(up) = above.get(of).copied().filter(|up| *up != of) {
        let further = above.get(up).copied().unwrap_or(up);
        above.get_mut(of).into_iter().for_each(|above| *above = further);
        of = further;
    }
    of
}

/// Where each declared rail is found.
fn rails(
    wiring: &Wiring,
    terminals: &[Terminal],
    at: &BTreeMap<String, usize>,
    net: &[usize],
    joints: &[Joint],
) -> Vec<RailAt> {
    let mut rails: Vec<RailAt> = Vec::new();
    let mut by_name: BTreeMap<&str, usize> = BTreeMap::new();
    let mut by_key: BTreeMap<String, usize> = BTreeMap::new();
    for rail in &wiring.rails {
        let name = rail.name.as_str();
        if !name.is_empty() && !by_name.contains_key(name) {
            by_name.insert(name, rails.len());
            by_key.entry(Terminal::parse(name, Place::default()).key()).or_insert(rails.len());
            rails.push(RailAt { name: name.to_owned(), touch: BTreeMap::new() });
        }
    }
    let mut touch = |rail: Option<&usize>, terminal: usize| {
        let rail = rail.and_then(|rail| rails.get_mut(*rail));
        if let (Some(rail), Some(net), Some(terminal)) =
            (rail, net.get(terminal), terminals.get(terminal))
        {
            rail.touch.entry(*net).or_insert_with(|| terminal.clone());
        }
    };
    for (key, rail) in &by_key {
        at.get(key).into_iter().for_each(|place| touch(Some(rail), *place));
    }
    for (place, terminal) in terminals.iter().enumerate() {
        touch(by_name.get(terminal.pin.as_str()), place);
    }
    for (wire, joint) in wiring.wires.iter().zip(joints) {
        if let Some([from, _]) = joint {
            touch(by_name.get(wire.function.as_str()), *from);
        }
    }
    rails
}
