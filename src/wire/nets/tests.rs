use super::*;
use crate::spec::samples;
use crate::spec::wiring::Wire;
use petgraph::algo::{connected_components, is_cyclic_undirected};
use petgraph::graph::UnGraph;
use petgraph::unionfind::UnionFind;
use petgraph::visit::EdgeRef;
use std::collections::BTreeSet;

/// The wires of an amateur theatre's harbour-signal console: id, from, to, function. Its ground runs in a
/// ring through three connectors, and two wires share the horn's current.
pub(in crate::wire) const CONSOLE: &str = "
    L01 U1:D2 X1:1 lever   L02 U1:D3 X1:2 lever    L03 U1:D4 X1:3 lever    L04 U1:D5 X1:4 lever
    L05 U1:D10 X1:5 lever  L06 U1:D6 X2:1 lamp     L07 U1:D7 X2:2 lamp     L08 U1:D8 X2:3 lamp
    L09 U1:D9 X2:10 lamp   L10 U1:D11 K1:IN relay  L11 U1:D12 H2:1 bell    L12 U1:A0 X3:1 tide
    L13 U1:A1 X3:2 tide    L14 U1:5V X1:6 5V       L15 U1:5V X3:3 5V       L16 U1:5V K1:VCC 5V
    L17 U1:GND X1:7 GND    L18 X1:7 X2:4 GND       L19 X2:4 X3:4 GND       L20 X3:4 U1:GND GND
    L21 U1:GND K1:GND GND  L22 PS1:24V U1:VIN 24V  L23 -PS1:GND U1:GND GND L24 PS1:24V K1:COM 24V
    L25 PS1:24V K1:COM 24V L26 K1:NO H1:1 horn     L27 H1:2 PS1:GND GND    L28 H2:2 X2:4 GND";

/// A wiring from words: id, from, to, function, and so on; `?` for an end that is missing.
pub(in crate::wire) fn wiring(wires: &str, rails: &[&str]) -> Wiring {
    let words: Vec<&str> = wires.split_whitespace().collect();
    let wire = |row: &[&str]| Wire {
        function: row[3].to_owned(),
        ..samples::wire(row[0], row[1], row[2], 1.5)
    };
    samples::wiring(words.chunks(4).map(wire).collect(), rails)
}

/// The same numbers for the same seed: the linear congruence of Knuth's MMIX (from memory).
pub(in crate::wire) struct Dice(pub(in crate::wire) u64);

impl Dice {
    pub(in crate::wire) fn below(&mut self, limit: usize) -> usize {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % limit
    }
}

/// Wires thrown between the terminals of a few devices: loops, doubled wires and wires to themselves.
pub(in crate::wire) fn thrown(dice: &mut Dice, wires: usize) -> Wiring {
    let (devices, pins) = (1 + dice.below(6), 2 + dice.below(12));
    let mut rows = String::new();
    for wire in 0..wires {
        let mut end = || format!("U{}:P{}", dice.below(devices), dice.below(pins));
        rows += &format!("W{wire} {} {} signal\n", end(), end());
    }
    wiring(&rows, &["P1", "U0:P0", "P3"])
}

/// The wiring as petgraph holds it, and the node of each terminal's key.
fn graph(wiring: &Wiring) -> (UnGraph<String, usize>, BTreeMap<String, usize>) {
    let mut graph = UnGraph::new_undirected();
    let mut nodes = BTreeMap::new();
    for (wire, row) in wiring.wires.iter().enumerate() {
        let (Some(from), Some(to)) = (&row.from, &row.to) else { continue };
        let [a, b] = [from.key(), to.key()]
            .map(|key| *nodes.entry(key.clone()).or_insert_with(|| graph.add_node(key)));
        graph.add_edge(a, b, wire);
    }
    (graph, nodes.into_iter().map(|(key, node)| (key, node.index())).collect())
}

fn agrees_with_petgraph(wiring: &Wiring) {
    let nets = Nets::of(wiring);
    let (graph, nodes) = graph(wiring);
    assert_eq!(nets.count(), connected_components(&graph));
    let mut sets = UnionFind::<usize>::new(nodes.len());
    for edge in graph.edge_references() {
        sets.union(edge.source().index(), edge.target().index());
    }
    let mut theirs: BTreeMap<usize, BTreeSet<String>> = BTreeMap::new();
    for (key, node) in &nodes {
        theirs.entry(sets.find(*node)).or_default().insert(key.clone());
    }
    let ours = |net| nets.terminals(net).map(Terminal::key).collect::<BTreeSet<String>>();
    let ours: BTreeSet<BTreeSet<String>> = (0..nets.count()).map(ours).collect();
    assert_eq!(ours, theirs.into_values().collect());
    for net in 0..nets.count() {
        assert!(nets.terminals(net).all(|terminal| nets.net(&terminal.key()) == Some(net)));
    }
    // Without the wires that close loops the nets are the same, and no wire is left beside another path.
    let mut tree = graph.clone();
    tree.retain_edges(|graph, edge| !nets.closes_a_loop(graph[edge]));
    assert_eq!(connected_components(&tree), nets.count());
    assert!(!is_cyclic_undirected(&tree));
}

#[test]
fn nets_and_loops_are_petgraphs() {
    // petgraph, a general graph library: connected components, and cycles.
    agrees_with_petgraph(&wiring(CONSOLE, &["GND"]));
    agrees_with_petgraph(&wiring("", &["GND"]));
    let mut dice = Dice(60_757);
    for _ in 0..300 {
        let wires = dice.below(60);
        agrees_with_petgraph(&thrown(&mut dice, wires));
    }
}

#[test]
fn the_consoles_nets_are_as_counted_by_hand() {
    let nets = Nets::of(&wiring(CONSOLE, &["GND", "5V", "24V", "12V"]));
    // 13 signals of the board (D2 to D12, A0, A1), the horn, and three supplies.
    assert_eq!(nets.count(), 17);
    let ground = nets.net("PS1:GND").unwrap();
    let keys: Vec<String> = nets.terminals(ground).map(Terminal::key).collect();
    assert_eq!(keys, ["H1:2", "H2:2", "K1:GND", "PS1:GND", "U1:GND", "X1:7", "X2:4", "X3:4"]);
    assert_eq!(nets.rails(ground).collect::<Vec<&str>>(), ["GND"]);
    assert_eq!(nets.rails(nets.net("U1:VIN").unwrap()).collect::<Vec<&str>>(), ["24V"]);
    assert_eq!(nets.rails(nets.net("U1:D2").unwrap()).count(), 0);
    assert!(nets.net("Z9:1").is_none());
    // The last wire of the ring and of the double closes a loop.
    let ids = |which: &dyn Fn(usize) -> bool| -> Vec<String> {
        (1..=28).filter(|wire| which(wire - 1)).map(|wire| format!("L{wire:02}")).collect()
    };
    assert_eq!(ids(&|wire| nets.closes_a_loop(wire)), ["L20", "L25"]);
}

#[test]
fn rails_are_found_by_terminal_pin_or_function_as_typed() {
    let wires =
        "a J1:1 J2:1 Mast  b J1:2 J2:2 x  c -Q1:+ J2:3 x  d J1:Sea ? Tide  e J1:4 J2:4 mast";
    let nets = Nets::of(&wiring(wires, &["Mast", "J2:2", "+", "Tide", "Sea", "", "Mast"]));
    let on = |key| nets.rails(nets.net(key).unwrap()).collect::<Vec<&str>>();
    assert_eq!(on("J1:1"), ["Mast"]);
    assert_eq!(on("J1:2"), ["J2:2"]);
    assert_eq!(on("Q1:+"), ["+"]);
    assert_eq!(on("J1:4"), [""; 0]);
    // A wire with an end missing takes no part.
    assert_eq!(nets.net("J1:Sea"), None);
    assert_eq!(nets.rails_present().len(), 3);
}
