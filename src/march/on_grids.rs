//! Patches on a grid in the march: against a general library, against chains, subtracted, with their memory told.

use nalgebra::{DMatrix, DVector, SymmetricEigen};

use super::*;
use crate::network::patch::Coefficients;
use crate::network::patch::Coupling;
use crate::network::reduce::{Aim, Reduced, reduce};
use crate::network::shelf::Shelf;
use crate::network::{Enthalpy, Grid, Interior, Network, Node, NodeId, Patch, PatchId, Port, Signal};

/// Start temperatures of pot, wall and room, K.
const POT: f64 = 370.0;
const WALL: f64 = 293.0;
const ROOM: f64 = 285.0;

/// A wall round a corner: nodes (i, j) with i or j at least `inner` on an equal grid of `side` lines, conductances that
/// differ from link to link, films to the pot on the inner faces and to the room on the outer ones.
struct Corner {
    grid: Grid,
    couplings: Vec<Coupling>,
    capacity: Vec<f64>,
    places: Vec<[u32; 2]>,
    links: Vec<(usize, usize, f64)>,
}

fn corner(side: u32, inner: u32) -> Corner {
    let places: Vec<[u32; 2]> =
        (0..side).flat_map(|i| (0..side).map(move |j| [i, j])).filter(|[i, j]| *i >= inner || *j >= inner).collect();
    let number = |place: [u32; 2]| places.binary_search(&place).ok();
    let mut links = Vec::new();
    let mut couplings = Vec::new();
    for (a, &[i, j]) in places.iter().enumerate() {
        for next in [[i + 1, j], [i, j + 1]] {
            if let Some(b) = number(next) {
                links.push((a, b, 0.02 + 0.003 * ((5 * a + 3 * b) % 13) as f64));
            }
        }
        // Films: a node at an inner face sees the pot, one on the last lines the room.
        if (i == inner && j < inner) || (j == inner && i < inner) {
            couplings.push(Coupling { interior: a, port: 0, conductance: 0.05 });
        }
        if i == side - 1 || j == side - 1 {
            couplings.push(Coupling { interior: a, port: 1, conductance: 0.04 });
        }
    }
    let pairs: Vec<(usize, usize)> = links.iter().map(|(a, b, _)| (*a, *b)).collect();
    let (mut grid, conductance_of) = Grid::new(&places, &pairs).unwrap();
    for (entry, (.., g)) in conductance_of.into_iter().zip(&links) {
        grid.conductance[entry] += g;
    }
    let capacity = (0..places.len()).map(|k| 2.0 + (k % 7) as f64).collect();
    Corner { grid, couplings, capacity, places, links }
}

impl Corner {
    fn patch(&self, weight: f64, pot: NodeId, room: NodeId) -> Patch {
        let m = self.places.len();
        Patch {
            coefficients: Coefficients {
                interior: Interior::Grid(self.grid.clone()),
                couplings: self.couplings.clone(),
                bridges: Vec::new(),
                capacity: self.capacity.iter().copied().chain([0.0; 2]).collect(),
                heat: None,
                port_conductance: None,
            },
            ports: vec![Port { local: m, node: pot }, Port { local: m + 1, node: room }],
            weight,
            start: vec![WALL; m + 2],
            properties: None,
            error_scale: None,
            sources: Vec::new(),
        }
    }
}

/// A chain of three between the same nodes.
fn chain(pot: NodeId, room: NodeId) -> Patch {
    Patch {
        coefficients: Coefficients {
            interior: Interior::Chain(vec![0.5, 0.7]),
            couplings: vec![
                Coupling { interior: 0, port: 0, conductance: 0.4 },
                Coupling { interior: 2, port: 1, conductance: 0.3 },
            ],
            bridges: Vec::new(),
            capacity: vec![50.0, 60.0, 70.0, 0.0, 0.0],
            heat: None,
            port_conductance: None,
        },
        ports: vec![Port { local: 3, node: pot }, Port { local: 4, node: room }],
        weight: 1.0,
        start: vec![WALL; 5],
        properties: None,
        error_scale: None,
        sources: Vec::new(),
    }
}

const POT_CAPACITY: f64 = 2000.0;

/// A pot and a room with these patches between them.
fn network(patches: impl FnOnce(NodeId, NodeId) -> Vec<Patch>) -> (Network, NodeId, Vec<PatchId>) {
    let mut network = Network::default();
    let pot = network.node(Node::Free { enthalpy: Enthalpy::Capacity(POT_CAPACITY), start: POT });
    let room = network.node(Node::Reservoir(Signal::Constant(ROOM)));
    let ids = patches(pot, room).into_iter().map(|p| network.patch(p)).collect();
    (network, pot, ids)
}

const TIMES: [f64; 3] = [60.0, 600.0, 3600.0];

fn run(network: &Network, pace: &Pace<'_>) -> (History, Sequence) {
    let phases = [Phase { end: TIMES[2], active: Vec::new(), events: Vec::new() }];
    march(network, &March { phases: &phases, start: 0.0, snapshots: &TIMES, step_bound: 100_000 }, pace).unwrap()
}

fn steps(tolerance: f64) -> Pace<'static> {
    Pace::Adaptive { tolerance, field_tolerance: tolerance }
}

#[test]
fn a_corner_cools_as_eigenvectors_of_a_general_library_say() {
    let corner = corner(14, 6);
    let (network, pot, ids) = network(|pot, room| vec![corner.patch(1.0, pot, room)]);
    let m = corner.places.len();
    // The whole system, pot last, made symmetric by the roots of the capacities.
    let mut k = DMatrix::<f64>::zeros(m + 1, m + 1);
    let mut load = DVector::<f64>::zeros(m + 1);
    let mut link = |a: usize, b: usize, g: f64| {
        k[(a, a)] += g;
        k[(b, b)] += g;
        k[(a, b)] -= g;
        k[(b, a)] -= g;
    };
    corner.links.iter().for_each(|(a, b, g)| link(*a, *b, *g));
    corner.couplings.iter().filter(|c| c.port == 0).for_each(|c| link(c.interior, m, c.conductance));
    for c in corner.couplings.iter().filter(|c| c.port == 1) {
        k[(c.interior, c.interior)] += c.conductance;
        load[c.interior] += c.conductance * ROOM;
    }
    let root: Vec<f64> = corner.capacity.iter().copied().chain([POT_CAPACITY]).map(f64::sqrt).collect();
    let eigen = SymmetricEigen::new(DMatrix::from_fn(m + 1, m + 1, |i, j| k[(i, j)] / (root[i] * root[j])));
    let rise = DVector::from_fn(m + 1, |i, _| (if i == m { POT } else { WALL } - ROOM) * root[i]);
    let share = eigen.eigenvectors.transpose() * rise;

    let (history, _) = run(&network, &steps(1e-7));
    assert!(history.worst_residual < 1e-9, "ledger {:e}", history.worst_residual);
    for (snapshot, time) in history.snapshots.iter().zip(TIMES) {
        let decayed = DVector::from_fn(m + 1, |i, _| share[i] * (-eigen.eigenvalues[i] * time).exp());
        let exact = &eigen.eigenvectors * decayed;
        for i in 0..=m {
            let found = if i == m { snapshot.nodes[pot.0] } else { snapshot.patches[ids[0].0][i] };
            let exact = ROOM + exact[i] / root[i];
            assert!((found - exact).abs() < 3e-5, "unknown {i} at {time} s: {found}, not {exact}");
        }
    }
    // The steady state with the pot held is that of the general library, too.
    let mut held = Network::default();
    let pot = held.node(Node::Reservoir(Signal::Constant(POT)));
    let room = held.node(Node::Reservoir(Signal::Constant(ROOM)));
    held.patch(corner.patch(1.0, pot, room));
    let steady = steady(&held, 0.0, &[]).unwrap();
    let inner = k.view((0, 0), (m, m)).into_owned();
    let from_pot = DVector::from_fn(m, |i, _| load[i] - k[(i, m)] * POT);
    let exact = inner.cholesky().unwrap().solve(&from_pot);
    for i in 0..m {
        assert!((steady.patches[0][i] - exact[i]).abs() < 1e-9, "{i}: {}, not {}", steady.patches[0][i], exact[i]);
    }
}

#[test]
fn a_patch_less_itself_leaves_nothing() {
    let corner = corner(10, 4);
    let (alone, pot, _) = network(|pot, room| vec![chain(pot, room)]);
    let (with, ..) =
        network(|pot, room| vec![corner.patch(2.0, pot, room), chain(pot, room), corner.patch(-2.0, pot, room)]);
    let (expected, sequence) = run(&alone, &steps(1e-3));
    let (found, _) = run(&with, &Pace::Replay { sequence: &sequence, split: 1 });
    assert!(found.worst_residual < 1e-9, "ledger {:e}", found.worst_residual);
    for time in TIMES {
        let (a, b) = (expected.node(pot.0, time), found.node(pot.0, time));
        assert!((a - b).abs() < 1e-9, "{a} {b} at {time}");
    }
}

#[test]
fn a_straight_wall_on_a_grid_is_the_chain() {
    // Five rows of a chain of eight, unequal cells; the rows are linked but have nothing to tell one another.
    let (long, rows) = (8_usize, 5_usize);
    let capacity: Vec<f64> = (0..long).map(|i| 20.0 + 3.0 * i as f64).collect();
    let along: Vec<f64> = (0..long - 1).map(|i| 0.3 + 0.1 * i as f64).collect();
    let at = |i: usize, r: usize| r * long + i;
    let place: Vec<[u32; 2]> = (0..rows as u32).flat_map(|r| (0..long as u32).map(move |i| [i, r])).collect();
    let mut pairs = Vec::new();
    let mut values = Vec::new();
    for r in 0..rows {
        for (i, g) in along.iter().enumerate() {
            pairs.push((at(i, r), at(i + 1, r)));
            values.push(g / rows as f64);
        }
        for i in (0..long).filter(|_| r + 1 < rows) {
            pairs.push((at(i, r + 1), at(i, r)));
            values.push(11.0);
        }
    }
    let (mut grid, conductance_of) = Grid::new(&place, &pairs).unwrap();
    for (entry, g) in conductance_of.into_iter().zip(values) {
        grid.conductance[entry] += g;
    }
    let coupling = |interior, port, conductance| Coupling { interior, port, conductance };
    let patch = |interior, couplings: Vec<Coupling>, capacity: Vec<f64>, pot, room| {
        let m = capacity.len();
        Patch {
            coefficients: Coefficients {
                interior,
                couplings,
                bridges: Vec::new(),
                capacity: capacity.into_iter().chain([3.0, 4.0]).collect(),
                heat: None,
                port_conductance: None,
            },
            ports: vec![Port { local: m, node: pot }, Port { local: m + 1, node: room }],
            weight: 1.5,
            start: vec![WALL; m + 2],
            properties: None,
            error_scale: None,
            sources: Vec::new(),
        }
    };
    let (thin, pot, _) = network(|pot, room| {
        let couplings = vec![coupling(0, 0, 0.2), coupling(long - 1, 1, 0.15)];
        vec![patch(Interior::Chain(along.clone()), couplings, capacity.clone(), pot, room)]
    });
    let (wide, ..) = network(|pot, room| {
        let n = rows as f64;
        let couplings =
            (0..rows).flat_map(|r| [coupling(at(0, r), 0, 0.2 / n), coupling(at(long - 1, r), 1, 0.15 / n)]).collect();
        let capacity = (0..rows).flat_map(|_| capacity.iter().map(|c| c / n)).collect();
        vec![patch(Interior::Grid(grid), couplings, capacity, pot, room)]
    });
    let (expected, sequence) = run(&thin, &steps(1e-3));
    let (found, _) = run(&wide, &Pace::Replay { sequence: &sequence, split: 1 });
    assert!(found.worst_residual < 1e-9, "ledger {:e}", found.worst_residual);
    for (a, b) in expected.snapshots.iter().zip(&found.snapshots) {
        assert!((a.nodes[pot.0] - b.nodes[pot.0]).abs() < 1e-9 * (POT - ROOM));
        for i in 0..long {
            for r in 0..rows {
                let (a, b) = (a.patches[0][i], b.patches[0][at(i, r)]);
                assert!((a - b).abs() < 1e-9 * (POT - ROOM), "{i}: {a} {b}");
            }
        }
    }
}

#[test]
fn grids_share_their_analysis_and_tell_their_memory() {
    let corner = corner(40, 15);
    let (network, ..) = network(|pot, room| vec![corner.patch(1.0, pot, room), corner.patch(0.5, pot, room)]);
    let (history, _) = run(&network, &steps(1e-2));
    let statistics = history.statistics;
    let one = corner.grid.factor_bytes();
    assert!(one > corner.places.len() * 8, "{one}");
    assert!(statistics.factor_bytes > 2 * one, "{statistics:?}");
    assert!(statistics.factor_bytes < statistics.factorisations * 2 * one, "{statistics:?}");
}

#[test]
fn a_reduced_grid_answers_like_the_full_one_and_serves_other_starts() {
    let corner = corner(40, 15);
    let m = corner.places.len();
    // A start field, warm towards one end.
    let field: Vec<f64> = corner.places.iter().map(|[i, j]| WALL + 0.3 * f64::from(*i) + 0.1 * f64::from(*j)).collect();
    let coefficients = corner.patch(1.0, NodeId(0), NodeId(1)).coefficients;
    let mut before = usize::MAX;
    for tolerance in [1e-6, 1e-4, 1e-2] {
        let aim = Aim { tolerance, scales: [0.05, 3600.0] };
        let reduced = Reduced::new(&coefficients, 2, &[&field], aim).unwrap();
        assert!(reduced.error <= tolerance && reduced.modes() <= before && reduced.modes() < 40, "{}", reduced.modes());
        before = reduced.modes();
        let ends = [WALL; 2];
        for start in [vec![WALL; m], field.clone()] {
            let start: Vec<f64> = start.into_iter().chain(ends).collect();
            let (full, pot, _) = network(|pot, room| {
                let mut patch = corner.patch(2.0, pot, room);
                patch.start.clone_from(&start);
                vec![patch]
            });
            let (small, ..) = network(|pot, room| vec![reduced.attach(2.0, &[pot, room], &start).unwrap()]);
            let (expected, sequence) = run(&full, &steps(1e-3));
            let (found, _) = run(&small, &Pace::Replay { sequence: &sequence, split: 1 });
            assert!(found.worst_residual < 1e-9, "ledger {:e}", found.worst_residual);
            for (a, b) in expected.snapshots.iter().zip(&found.snapshots) {
                let off = (a.nodes[pot.0] - b.nodes[pot.0]).abs();
                assert!(off < tolerance * (POT - ROOM), "{off:e} K at {tolerance:e}, {} modes", reduced.modes());
                // So does the heat that is in it.
                let off = (a.stored_in_patch[0] - b.stored_in_patch[0]).abs();
                let most = POT_CAPACITY * (POT - a.nodes[pot.0]);
                assert!(off < tolerance * most, "{off:e} J of {most:e} at {tolerance:e}");
            }
        }
        // A field that was not named is refused, not bent.
        let strange: Vec<f64> = corner.places.iter().map(|[i, _]| WALL + f64::from(*i % 3)).chain(ends).collect();
        assert!(reduced.attach(1.0, &[NodeId(0), NodeId(1)], &strange).is_err());
    }
}

#[test]
fn a_grid_between_three_ports_is_reduced_with_its_bridges() {
    let corner = corner(24, 9);
    let patch = |nodes: [NodeId; 3]| {
        let mut patch = corner.patch(1.0, nodes[0], nodes[1]);
        let m = corner.places.len();
        patch.ports.push(Port { local: m + 2, node: nodes[2] });
        patch.coefficients.couplings.push(Coupling { interior: 5, port: 2, conductance: 0.6 });
        patch.coefficients.capacity.push(3.0);
        patch.coefficients.bridges = vec![crate::network::patch::Bridge { ports: [2, 0], conductance: 0.2 }];
        patch.start.push(WALL);
        patch
    };
    let build = |small: bool| {
        let mut network = Network::default();
        let body = |capacity, start| Node::Free { enthalpy: Enthalpy::Capacity(capacity), start };
        let nodes = [
            network.node(body(POT_CAPACITY, POT)),
            network.node(Node::Reservoir(Signal::Constant(ROOM))),
            network.node(body(500.0, WALL)),
        ];
        let patch = patch(nodes);
        let aim = Aim { tolerance: 1e-5, scales: [1.0, 3600.0] };
        network.patch(if small { reduce(&patch, aim).unwrap().0 } else { patch });
        network
    };
    let (expected, sequence) = run(&build(false), &steps(1e-3));
    let (found, _) = run(&build(true), &Pace::Replay { sequence: &sequence, split: 1 });
    assert!(found.worst_residual < 1e-9, "ledger {:e}", found.worst_residual);
    for (a, b) in expected.snapshots.iter().zip(&found.snapshots) {
        for node in [0, 2] {
            assert!((a.nodes[node] - b.nodes[node]).abs() < 1e-5 * (POT - ROOM));
        }
    }
}

#[test]
fn the_shelf_keeps_what_was_made_once() {
    let corner = corner(12, 5);
    let coefficients = corner.patch(1.0, NodeId(0), NodeId(1)).coefficients;
    let shelf = Shelf::default();
    let made = std::cell::Cell::new(0);
    let get = |millimetres: u32, tolerance: f64| {
        shelf.get(format!("corner {millimetres} {tolerance:?}"), || {
            made.set(made.get() + 1);
            Reduced::new(&coefficients, 2, &[], Aim { tolerance, scales: [1.0, 3600.0] })
        })
    };
    let first = get(50, 1e-3).unwrap();
    let again = get(50, 1e-3).unwrap();
    assert!(std::sync::Arc::ptr_eq(&first, &again));
    get(60, 1e-3).unwrap();
    get(50, 1e-4).unwrap();
    assert_eq!(made.get(), 3);
    assert!(shelf.len() == 3 && shelf.bytes() >= 3 * corner.places.len() * 8);
    // What cannot be made is not kept.
    let hopeless = Aim { tolerance: 0.0, scales: [1.0, 10.0] };
    let failed = shelf.get("corner 70".into(), || Reduced::new(&coefficients, 2, &[], hopeless));
    assert!(failed.is_err());
    assert_eq!(shelf.len(), 3);
    shelf.clear();
    assert!(shelf.is_empty() && shelf.bytes() == 0);
}
