use super::*;
use crate::wire::nets::tests::{CONSOLE, Dice, thrown, wiring};
use petgraph::unionfind::UnionFind;
use std::collections::BTreeMap;

const RAILS: [&str; 3] = ["GND", "5V", "24V"];

/// What went wrong at the bench.
#[derive(Clone, Debug)]
enum Fault {
    None,
    /// A wire does not conduct.
    Open(usize),
    /// Two terminals touch.
    Short(String, String),
    /// Two wires' `to` ends are exchanged.
    Swapped(usize, usize),
}

/// What a meter finds on the harness as built, from the table and the fault alone: terminals are nodes of
/// petgraph's union-find, and so is the loose end at each place where a wire is left off.
struct Harness {
    nodes: BTreeMap<String, usize>,
    joined: UnionFind<usize>,
}

impl Harness {
    fn new(wiring: &Wiring, left_off: &BTreeSet<usize>, fault: &Fault) -> Harness {
        let rows = || wiring.wires.iter().enumerate();
        let place = |wire: usize| {
            let to = wiring.wires[wire].to.as_ref().unwrap().key();
            if left_off.contains(&wire) { format!("loose end {wire}") } else { to }
        };
        let keys = rows().flat_map(|(wire, row)| {
            [row.from.as_ref().unwrap().key(), row.to.as_ref().unwrap().key(), place(wire)]
        });
        let keys: BTreeSet<String> = keys.collect();
        let nodes: BTreeMap<String, usize> =
            keys.into_iter().enumerate().map(|(node, key)| (key, node)).collect();
        let mut joined = UnionFind::new(nodes.len());
        for (wire, row) in rows() {
            let put = match fault {
                Fault::Open(open) if *open == wire => continue,
                Fault::Swapped(one, other) if *one == wire => *other,
                Fault::Swapped(one, other) if *other == wire => *one,
                _ => wire,
            };
            joined.union(nodes[&row.from.as_ref().unwrap().key()], nodes[&place(put)]);
        }
        if let Fault::Short(one, other) = fault {
            joined.union(nodes[one], nodes[other]);
        }
        Harness { nodes, joined }
    }

    fn beeps(&self, one: &str, other: &str) -> bool {
        self.joined.equiv(self.nodes[one], self.nodes[other])
    }

    /// Which terminals hang together.
    fn sets(&self) -> Vec<usize> {
        let first = |node: usize| (0..node).find(|one| self.joined.equiv(*one, node));
        (0..self.nodes.len()).map(|node| first(node).unwrap_or(node)).collect()
    }
}

/// How many rows of the plan differ from what they should be.
fn failing(plan: &Plan, wiring: &Wiring, fault: &Fault) -> usize {
    let off = plan.joined.iter().filter(|row| row.one_end_off).map(|row| row.wire).collect();
    let harness = Harness::new(wiring, &off, fault);
    let silent = plan.joined.iter().filter(|row| {
        let [from, to] = row.probes.each_ref().map(Terminal::key);
        let to = if row.one_end_off { format!("loose end {}", row.wire) } else { to };
        !harness.beeps(&from, &to)
    });
    let loud = plan.apart.iter().filter(|row| {
        let [one, other] = row.probes.each_ref().map(Terminal::key);
        harness.beeps(&one, &other)
    });
    silent.count() + loud.count()
}

/// One open, one short between neighbours of different nets, or one exchange that changes the nets.
fn fault(dice: &mut Dice, wiring: &Wiring) -> Option<Fault> {
    let wires = wiring.wires.len();
    let sets = |fault: &Fault| Harness::new(wiring, &BTreeSet::new(), fault).sets();
    match dice.below(3) {
        0 => Some(Fault::Open(dice.below(wires))),
        1 => {
            let nets = Nets::of(wiring);
            let all: BTreeSet<&str> =
                nets.neighbours().map(|[one, _]| one.0.device_key()).collect();
            let device = all.iter().nth(dice.below(all.len().max(1)))?;
            let on_it = nets.neighbours().filter(|[one, _]| one.0.device_key() == *device);
            let keys: Vec<[String; 2]> =
                on_it.map(|[one, next]| [one.0.key(), next.0.key()]).collect();
            let sound = Harness::new(wiring, &BTreeSet::new(), &Fault::None);
            let differ: Vec<&[String; 2]> =
                keys.iter().filter(|[a, b]| !sound.beeps(a, b)).collect();
            let [a, b] = (!differ.is_empty()).then(|| differ[dice.below(differ.len())])?;
            Some(Fault::Short(a.clone(), b.clone()))
        }
        _ => {
            let swapped = Fault::Swapped(dice.below(wires), dice.below(wires));
            (sets(&swapped) != sets(&Fault::None)).then_some(swapped)
        }
    }
}

/// Injects so many faults, each kind among them, and shows that some row of the plan finds each.
fn finds(wiring: &Wiring, dice: &mut Dice, faults: usize) -> [usize; 3] {
    let plan = plan(wiring);
    assert_eq!(failing(&plan, wiring, &Fault::None), 0);
    let (mut kinds, mut thrown) = ([0; 3], 0);
    while kinds.iter().sum::<usize>() < faults && thrown < 20 * faults {
        thrown += 1;
        let Some(fault) = fault(dice, wiring) else { continue };
        assert!(failing(&plan, wiring, &fault) > 0, "{fault:?}");
        let kind = match fault {
            Fault::None | Fault::Open(_) => 0,
            Fault::Short(..) => 1,
            Fault::Swapped(..) => 2,
        };
        kinds[kind] += 1;
    }
    kinds
}

#[test]
fn a_thousand_faults_of_the_console_are_found() {
    let console = wiring(CONSOLE, &RAILS);
    assert!(console.wires.len() >= 24);
    let kinds = finds(&console, &mut Dice(1), 1000);
    assert_eq!(kinds.iter().sum::<usize>(), 1000);
    assert!(kinds.iter().all(|kind| *kind > 200), "{kinds:?}");
}

#[test]
fn faults_of_random_harnesses_are_found_with_all_their_loops() {
    let mut dice = Dice(2);
    let mut all = [0; 3];
    for _ in 0..100 {
        let wires = 24 + dice.below(12);
        let mut wiring = thrown(&mut dice, wires);
        // Where the table itself joins two rails the sound harness beeps.
        wiring.rails.clear();
        let kinds = finds(&wiring, &mut dice, 10);
        (0..3).for_each(|kind| all[kind] += kinds[kind]);
    }
    assert!(all.iter().all(|kind| *kind > 50), "{all:?}");
}

#[test]
fn without_any_one_row_some_fault_goes_unseen() {
    let console = wiring(CONSOLE, &RAILS);
    let whole = plan(&console);
    for row in 0..whole.joined.len() {
        let mut short = whole.clone();
        let open = Fault::Open(short.joined.remove(row).wire);
        assert_eq!(failing(&short, &console, &open), 0, "{open:?}");
        assert!(failing(&whole, &console, &open) > 0, "{open:?}");
    }
    for row in 0..whole.apart.len() {
        let mut short = whole.clone();
        let [one, other] = short.apart.remove(row).probes.map(|probe| probe.key());
        let bridge = Fault::Short(one, other);
        assert_eq!(failing(&short, &console, &bridge), 0, "{bridge:?}");
        assert_eq!(failing(&whole, &console, &bridge), 1, "{bridge:?}");
    }
}

#[test]
fn a_ring_hides_an_exchange_unless_its_last_wire_is_left_off() {
    // Two rings far apart: with every wire in place each row beeps, though the rings are now one.
    let rings = "a A:1 B:1 x  b A:1 B:1 x  c C:1 D:1 y  d C:1 D:1 y";
    let rings = wiring(rings, &[]);
    let swapped = Fault::Swapped(0, 2);
    let whole = plan(&rings);
    assert!(failing(&whole, &rings, &swapped) > 0);
    let mut careless = whole;
    careless.joined.iter_mut().for_each(|row| row.one_end_off = false);
    assert_eq!(failing(&careless, &rings, &swapped), 0);
}

fn rows(plan: &Plan) -> Vec<String> {
    let words = plan.apart.iter().map(|row| {
        let [a, b] = &row.probes;
        format!("{a} {b}, {}", row.reason)
    });
    words.collect()
}

#[test]
fn three_rails_are_three_rows_before_all_neighbours() {
    let rows = rows(&plan(&wiring(CONSOLE, &[&RAILS[..], &["12V"]].concat())));
    assert_eq!(
        rows[..6],
        [
            "K1:GND U1:5V, rail GND to rail 5V",
            "K1:GND PS1:24V, rail GND to rail 24V",
            "U1:5V PS1:24V, rail 5V to rail 24V",
            "H1:1 H1:2, neighbours on H1",
            "H2:1 H2:2, neighbours on H2",
            "K1:GND K1:IN, neighbours on K1",
        ]
    );
    assert!(rows[6..].iter().all(|row| !row.contains("rail")));
    // Counted by hand: COM, GND, IN, NO, VCC are five nets, and COM to GND is a row of the rails.
    let relay: Vec<&String> = rows.iter().filter(|row| row.ends_with(" K1")).collect();
    assert_eq!(relay.len(), 3, "{relay:?}");
}

#[test]
fn no_two_nets_are_tested_twice() {
    let mut dice = Dice(3);
    for _ in 0..200 {
        let wires = dice.below(60);
        let wiring = thrown(&mut dice, wires);
        let (nets, plan) = (Nets::of(&wiring), plan(&wiring));
        let neighbours = |row: &&Apart| matches!(row.reason, Reason::Neighbours(_));
        let pairs = |row: &Apart| {
            let [a, b] = row.probes.each_ref().map(|probe| nets.net(&probe.key()).unwrap());
            pair(a, b)
        };
        let rails: BTreeSet<[usize; 2]> =
            plan.apart.iter().filter(|row| !neighbours(row)).map(pairs).collect();
        let others: Vec<[usize; 2]> = plan.apart.iter().filter(neighbours).map(pairs).collect();
        let distinct: BTreeSet<[usize; 2]> = others.iter().copied().collect();
        assert_eq!(distinct.len(), others.len());
        assert!(distinct.is_disjoint(&rails) && distinct.iter().all(|[a, b]| a != b));
    }
}

#[test]
fn rails_joined_by_the_table_stay_in_the_plan_so_that_the_meter_shows_it() {
    let wires = "a U1:GND U2:GND x  b U1:GND U2:5V x  c U3:5V U4:1 x";
    let plan = plan(&wiring(wires, &["GND", "5V"]));
    // The rail of 5 V is in two pieces: each is tested.
    assert_eq!(
        rows(&plan),
        ["U1:GND U2:5V, rail GND to rail 5V", "U1:GND U3:5V, rail GND to rail 5V"]
    );
}

#[test]
fn rows_between_the_same_devices_follow_each_other_by_pin() {
    let wires =
        "a U1:10 X1:1 s  b X2:1 U1:3 s  c X1:2 U1:9 s  d U1:1 X1:3 s  e U1:2 ? s  f U1:1 X2:2 s";
    let plan = plan(&wiring(wires, &[]));
    let ends: Vec<String> =
        plan.joined.iter().map(|row| format!("{} {}", row.probes[0], row.probes[1])).collect();
    assert_eq!(ends, ["U1:1 X1:3", "X1:2 U1:9", "U1:10 X1:1", "U1:1 X2:2", "X2:1 U1:3"]);
    assert_eq!(plan.joined.iter().map(|row| row.wire).collect::<Vec<_>>(), [3, 2, 0, 5, 1]);
    assert!(plan.joined.iter().all(|row| !row.one_end_off));
}
