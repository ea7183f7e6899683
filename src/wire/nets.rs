//! Which terminals the wires join: what a meter would find, and what it cannot tell.
//!
//! A net is a set of terminals that wires join. A beep between two terminals says that they are on one
//! net, not that a certain wire is whole: for that, no other path may join them.

use super::natural;
use crate::finding::Place;
use crate::spec::wiring::{Terminal, Wiring};
use std::collections::{BTreeMap, VecDeque};
use std::ops::Range;

#[cfg(test)]
pub(super) mod tests;

/// The terminals of a wiring and the nets they form. Wires with an end missing take no part.
///
/// Nets are counted from 0 in the order of their first terminals.
#[derive(Clone, Debug)]
pub struct Nets {
    /// By device, then pin, as people count.
    terminals: Vec<Terminal>,
    /// Where a key stands in `terminals`.
    at: BTreeMap<String, usize>,
    /// The stretch of `terminals` that is a device's.
    devices: BTreeMap<String, Range<usize>>,
    /// By wire: where its ends stand in `terminals`.
    joints: Vec<Joint>,
    /// The net of each terminal.
    net: Vec<usize>,
    /// The terminals of each net.
    members: Vec<Vec<usize>>,
    /// How many ends of wires meet at each terminal.
    ends: Vec<usize>,
    /// In the order of declaration, each name once.
    rails: Vec<RailAt>,
    /// By wire: whether the wires before it join its ends already.
    closing: Vec<bool>,
    /// By wire: whether any other path joins its ends.
    other_path: Vec<bool>,
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
    pub fn of(wiring: &Wiring) -> Nets {
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
        let mut ends = vec![0; terminals.len()];
        for terminal in joints.iter().flatten().flatten() {
            ends.get_mut(*terminal).into_iter().for_each(|ends| *ends += 1);
        }
        let other_path = other_paths(&joints, &closing, terminals.len());
        let devices = devices(&terminals);
        let rails = rails(wiring, &terminals, &at, &net, &joints);
        Nets { terminals, at, devices, joints, net, members, ends, rails, closing, other_path }
    }

    /// How many nets there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.members.len()
    }

    /// The net of a terminal, by [`Terminal::key`].
    #[must_use]
    pub fn net(&self, key: &str) -> Option<usize> {
        self.net.get(*self.at.get(key)?).copied()
    }

    /// The terminals of a net, by device and pin as people count.
    pub fn terminals(&self, net: usize) -> impl Iterator<Item = &Terminal> {
        let members = self.members.get(net).into_iter().flatten();
        members.filter_map(|terminal| self.terminals.get(*terminal))
    }

    /// Every device, by [`Terminal::device_key`], as people count.
    #[must_use]
    pub fn devices(&self) -> Vec<&str> {
        let mut devices: Vec<&str> = self.devices.keys().map(String::as_str).collect();
        devices.sort_by(|a, b| natural(a, b));
        devices
    }

    /// The terminals of a device, by [`Terminal::device_key`], as people count.
    #[must_use]
    pub fn device(&self, device: &str) -> &[Terminal] {
        let stretch = self.devices.get(device).cloned();
        stretch.and_then(|stretch| self.terminals.get(stretch)).unwrap_or_default()
    }

    /// The rails that a net carries: by the whole of a terminal, its pin, or a wire's function.
    pub fn rails(&self, net: usize) -> impl Iterator<Item = &str> {
        let carried = self.rails.iter().filter(move |rail| rail.touch.contains_key(&net));
        carried.map(|rail| rail.name.as_str())
    }

    /// How many ends of wires meet at a terminal, by [`Terminal::key`].
    #[must_use]
    pub fn wires_at(&self, key: &str) -> usize {
        self.at.get(key).and_then(|at| self.ends.get(*at)).copied().unwrap_or(0)
    }

    /// Whether the ends of a wire (its place in the table) are joined without it too, so that a beep
    /// between them proves nothing about it.
    #[must_use]
    pub fn has_another_path(&self, wire: usize) -> bool {
        self.other_path.get(wire).copied().unwrap_or(false)
    }

    /// Whether the wires before this one in the table join its ends already. Without all such wires the
    /// nets are the same, and no wire that is left has another path.
    #[must_use]
    pub fn closes_a_loop(&self, wire: usize) -> bool {
        self.closing.get(wire).copied().unwrap_or(false)
    }

    /// Where the ends of a wire come when all terminals are counted, the first in front.
    pub(super) fn ends(&self, wire: usize) -> Option<[Counted; 2]> {
        let [a, b] = self.joints.get(wire).copied().flatten()?;
        let counted = |terminal: usize| {
            let device = self.devices.get(self.terminals.get(terminal)?.device_key())?.start;
            Some(Counted { device, terminal })
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

/// From a terminal to the next on the way to the first terminal of its net.
#[derive(Clone, Copy)]
struct Step {
    up: usize,
    wire: usize,
    depth: usize,
}

/// Which wires have another path beside them: those that close a loop, and all on the way round it.
fn other_paths(joints: &[Joint], closing: &[bool], terminals: usize) -> Vec<bool> {
    let steps = steps(joints, closing, terminals);
    let mut other = closing.to_vec();
    // What lies on one loop counts as one terminal from then on, so no way is walked twice.
    let mut merged: Vec<usize> = (0..terminals).collect();
    for (joint, closing) in joints.iter().zip(closing) {
        let Some([a, b]) = joint.filter(|_| *closing) else { continue };
        let (mut a, mut b) = (root(&mut merged, a), root(&mut merged, b));
        while a != b {
            let depth = |of: usize| steps.get(of).copied().flatten().map_or(0, |step| step.depth);
            if depth(a) < depth(b) {
                std::mem::swap(&mut a, &mut b);
            }
            let Some(step) = steps.get(a).copied().flatten() else { break };
            other.get_mut(step.wire).into_iter().for_each(|other| *other = true);
            merged.get_mut(a).into_iter().for_each(|merged| *merged = step.up);
            a = root(&mut merged, step.up);
        }
    }
    other
}

/// The steps along the wires that close no loop; `None` at the first terminal of a net.
fn steps(joints: &[Joint], closing: &[bool], terminals: usize) -> Vec<Option<Step>> {
    let mut beside: Vec<Vec<(usize, usize)>> = vec![Vec::new(); terminals];
    for (wire, (joint, closing)) in joints.iter().zip(closing).enumerate() {
        let Some([a, b]) = joint.filter(|_| !closing) else { continue };
        beside.get_mut(a).into_iter().for_each(|beside| beside.push((b, wire)));
        beside.get_mut(b).into_iter().for_each(|beside| beside.push((a, wire)));
    }
    let mut steps: Vec<Option<Step>> = vec![None; terminals];
    let mut seen = vec![false; terminals];
    for first in 0..terminals {
        let mut waiting = VecDeque::from([(first, None)]);
        while let Some((terminal, step)) = waiting.pop_front() {
            let Some(seen) = seen.get_mut(terminal).filter(|seen| !**seen) else { continue };
            *seen = true;
            steps.get_mut(terminal).into_iter().for_each(|slot| *slot = step);
            let depth = step.map_or(0, |step: Step| step.depth) + 1;
            for (next, wire) in beside.get(terminal).into_iter().flatten() {
                waiting.push_back((*next, Some(Step { up: terminal, wire: *wire, depth })));
            }
        }
    }
    steps
}

fn devices(terminals: &[Terminal]) -> BTreeMap<String, Range<usize>> {
    let mut devices: BTreeMap<String, Range<usize>> = BTreeMap::new();
    for (at, terminal) in terminals.iter().enumerate() {
        let stretch = devices.entry(terminal.device_key().to_owned()).or_insert(at..at);
        stretch.end = at + 1;
    }
    devices
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
