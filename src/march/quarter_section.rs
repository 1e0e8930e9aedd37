//! W2 and W3: a pot in the quarter cross-section of a box with a filled corner, on cells of a tensor grid.
//!
//! [0, 0.2181]² m, one metre deep. The cavity x, y < 0.15 holds one stirred body of 60 kJ/K that starts at 98 °C; the four
//! layers lie round it as angles, with 0.03 m² K/W between the first two. Where (0.15 - x) + (0.15 - y) < 0.04 at the
//! middle of a cell the corner is filled with the foam of the first layer. Film 10 W/(m² K) inside, over √2 on the
//! staircase of the filler (so that it passes what the straight face would), 8 outside to 15 °C; the wall starts at 20 °C.
//! Cells exchange heat over the resistances of their halves.

use crate::network::patch::{Coefficients, Coupling};
use crate::network::reduce::{Aim, reduce};
use crate::network::{Enthalpy, Grid, Interior, Network, Node, NodeId, Patch, Port, Signal};

use super::*;

const ZERO: f64 = 273.15;
const CAVITY: f64 = 0.15;
/// Cells over a stretch for each unit of refinement, and its length, m.
const STRETCHES: [(usize, f64); 6] = [(20, 0.11), (30, 0.04), (12, 0.009), (24, 0.05), (12, 0.009), (2, 0.0001)];
/// W/(m K), kg/m³, J/(kg K), from inside to outside.
const LAYERS: [(f64, f64, f64); 4] =
    [(0.040, 35.0, 2300.0), (0.023, 32.0, 1400.0), (0.130, 500.0, 1600.0), (0.100, 800.0, 1400.0)];
const CONTACT: f64 = 0.03;

/// What a cell is made of.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Cavity,
    Filler,
    Layer(usize),
}

struct Section {
    grid: Grid,
    couplings: Vec<Coupling>,
    capacity: Vec<f64>,
}

fn section(refinement: usize) -> Section {
    let size: Vec<f64> = STRETCHES
        .iter()
        .flat_map(|(cells, length)| std::iter::repeat_n(length / (cells * refinement) as f64, cells * refinement))
        .collect();
    // A cell inside a stretch knows its layer by its number.
    let bounds: Vec<usize> = STRETCHES
        .iter()
        .scan(0, |sum, (cells, _)| {
            *sum += cells * refinement;
            Some(*sum)
        })
        .collect();
    let mut middle = Vec::with_capacity(size.len());
    let mut edge = 0.0;
    for d in &size {
        middle.push(edge + 0.5 * d);
        edge += d;
    }
    let kind = |i: usize, j: usize| match bounds.iter().position(|b| i.max(j) < *b) {
        Some(stretch @ 2..) => Kind::Layer(stretch - 2),
        _ if (CAVITY - middle[i]) + (CAVITY - middle[j]) < 0.04 - 1e-9 => Kind::Filler,
        _ => Kind::Cavity,
    };
    let material = |kind: Kind| LAYERS[if let Kind::Layer(l) = kind { l } else { 0 }];
    let n = size.len();
    let places: Vec<[u32; 2]> = (0..n)
        .flat_map(|i| (0..n).map(move |j| [i as u32, j as u32]))
        .filter(|[i, j]| kind(*i as usize, *j as usize) != Kind::Cavity)
        .collect();
    let mut number = vec![usize::MAX; n * n];
    for (k, [i, j]) in places.iter().enumerate() {
        number[*i as usize * n + *j as usize] = k;
    }
    let (mut pairs, mut values, mut couplings, mut capacity) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for (a, [i, j]) in places.iter().enumerate() {
        let (i, j) = (*i as usize, *j as usize);
        let here = kind(i, j);
        let (k, density, heat) = material(here);
        capacity.push(density * heat * size[i] * size[j]);
        for (across, along, next) in [(size[i], size[j], (i + 1, j)), (size[j], size[i], (i, j + 1))] {
            let half = 0.5 * across / k;
            if next.0 == n || next.1 == n {
                couplings.push(Coupling { interior: a, port: 1, conductance: along / (half + 1.0 / 8.0) });
                continue;
            }
            let there = kind(next.0, next.1);
            if there == Kind::Cavity {
                continue;
            }
            let width = if next.0 > i { size[next.0] } else { size[next.1] };
            let contact = if here == Kind::Layer(0) && there == Kind::Layer(1) { CONTACT } else { 0.0 };
            pairs.push((a, number[next.0 * n + next.1]));
            values.push(along / (half + contact + 0.5 * width / material(there).0));
        }
        for (across, along, before) in
            [(size[i], size[j], (i.wrapping_sub(1), j)), (size[j], size[i], (i, j.wrapping_sub(1)))]
        {
            if before.0 < n && before.1 < n && kind(before.0, before.1) == Kind::Cavity {
                let film = if here == Kind::Filler { 10.0 / 2.0_f64.sqrt() } else { 10.0 };
                couplings.push(Coupling { interior: a, port: 0, conductance: along / (0.5 * across / k + 1.0 / film) });
            }
        }
    }
    let (mut grid, conductance_of) = Grid::new(&places, &pairs).unwrap();
    for (entry, g) in conductance_of.into_iter().zip(values) {
        grid.conductance[entry] += g;
    }
    Section { grid, couplings, capacity }
}

fn network(section: Section, pot: Node) -> (Network, NodeId) {
    let mut network = Network::default();
    let pot = network.node(pot);
    let room = network.node(Node::Reservoir(Signal::Constant(ZERO + 15.0)));
    let m = section.capacity.len();
    network.patch(Patch {
        coefficients: Coefficients {
            interior: Interior::Grid(section.grid),
            couplings: section.couplings,
            bridges: Vec::new(),
            capacity: section.capacity.into_iter().chain([0.0; 2]).collect(),
            heat: None,
            port_conductance: None,
        },
        ports: vec![Port { local: m, node: pot }, Port { local: m + 1, node: room }],
        weight: 1.0,
        start: vec![ZERO + 20.0; m + 2],
        properties: None,
        error_scale: None,
        sources: Vec::new(),
    });
    (network, pot)
}

/// Marches W2 with at most so much error a step, K, in full or in reduced form.
fn pot_after_hours(refinement: usize, tolerance: f64, small: Option<Aim>) -> (Vec<f64>, Statistics, f64) {
    let body = Node::Free { enthalpy: Enthalpy::Capacity(60_000.0), start: ZERO + 98.0 };
    let (mut network, pot) = network(section(refinement), body);
    if let Some(aim) = small {
        network.patches[0] = reduce(&network.patches[0], aim).unwrap().0;
    }
    let times: Vec<f64> = (1..=6).map(|h| 3600.0 * f64::from(h)).collect();
    let phases = [Phase { end: 6.0 * 3600.0, active: Vec::new(), events: Vec::new() }];
    let plan = March { phases: &phases, start: 0.0, snapshots: &times, step_bound: 10_000 };
    let (history, _) =
        march(&network, &plan, &Pace::Adaptive { tolerance, field_tolerance: 10.0 * tolerance }).unwrap();
    let pots = history.snapshots.iter().map(|s| s.nodes[pot.0] - ZERO).collect();
    (pots, history.statistics, history.worst_residual)
}

/// Pot temperature after 1 to 6 h on 100, 200 and 400 cells a side, °C. COMPUTED, no printed source: another program on
/// the same cells, converged in time.
const HOURLY: [(usize, [f64; 6]); 3] = [
    (1, [96.963_448_93, 96.392_779_73, 95.833_988_43, 95.279_561_08, 94.728_976_55, 94.182_171_26]),
    (2, [96.963_565_74, 96.393_286_03, 95.834_940_62, 95.280_959_30, 94.730_815_28, 94.184_444_45]),
    (4, [96.963_658_20, 96.393_575_49, 95.835_458_46, 95.281_705_89, 94.731_787_81, 94.185_639_82]),
];

fn check(refinement: usize, tolerance: f64, small: Option<Aim>, allowed: f64) -> Statistics {
    let (pots, statistics, residual) = pot_after_hours(refinement, tolerance, small);
    assert!(residual < 1e-9, "ledger {residual:e}");
    let (_, hourly) = HOURLY.iter().find(|(r, _)| *r == refinement).unwrap();
    for (pot, exact) in pots.iter().zip(hourly) {
        assert!((pot - exact).abs() < allowed, "{pot}, not {exact}, with {statistics:?}");
    }
    statistics
}

#[test]
fn the_pot_in_the_quarter_section_cools_as_another_program_says() {
    assert_eq!(check(1, 1e-2, None, 1e-3).unknowns, 7936);
    assert_eq!(check(1, 8e-6, None, 1e-6).unknowns, 7936);
    assert_eq!(check(2, 1e-2, None, 1e-3).unknowns, 31_771);
}

#[test]
fn the_reduced_quarter_section_cools_alike_with_few_modes() {
    let aim = Aim { tolerance: 1e-3, scales: [60.0, 6.0 * 3600.0] };
    for (refinement, _) in HOURLY {
        let statistics = check(refinement, 1e-3, Some(aim), 1e-3);
        assert!(statistics.unknowns <= 1 + 16, "{statistics:?}");
    }
}

#[test]
fn the_steady_quarter_section_passes_what_another_program_says() {
    // W3 on 400 cells a side, W. COMPUTED, no printed source: another program on the same cells.
    let section = section(4);
    let couplings = section.couplings.clone();
    let (network, _) = network(section, Node::Reservoir(Signal::Constant(ZERO + 98.0)));
    let t = &steady(&network, 0.0, &[]).unwrap().patches[0];
    let through = |port: usize, outside: f64| -> f64 {
        couplings.iter().filter(|c| c.port == port).map(|c| c.conductance * (ZERO + outside - t[c.interior])).sum()
    };
    let (given, lost) = (through(0, 98.0), through(1, 15.0));
    assert!((given - 9.570_207_48).abs() < 1e-8, "{given}");
    assert!((given + lost).abs() < 1e-9 * given, "{given} {lost}");
}
