//! No wall gets hotter than the hottest or colder than the coldest thing that it has met.

use crate::random_walls::random_wall;
use nalgebra::{DMatrix, DVector, SymmetricEigen};
use stillhot::Boundary;
use stillhot::conduction::{Accuracy, Matrices, Problem, Side};
use stillhot::units::{self, Si};

/// Coldest and hottest of the random walls: outside air and inside fluid, K.
const COLDEST: f64 = 5.0 + 273.15;
const HOTTEST: f64 = 95.0 + 273.15;
const SWING: f64 = HOTTEST - COLDEST;

#[test]
fn overshoot_stays_below_the_reported_error() {
    let (mut worst, mut most) = (0.0_f64, 0.0_f64);
    for (seed, jumps) in (1..=100).flat_map(|seed| [(seed, false), (seed, true)]) {
        let mut wall = random_wall(seed);
        if jumps {
            // A held temperature that jumps is what makes second-order methods ring.
            let held = |kelvin: f64| Boundary::temperature(units::kelvin(kelvin));
            let jumping = Problem::new(wall.problem.wall().clone(), held(HOTTEST), held(COLDEST)).unwrap();
            wall.problem = jumping.starting_at(units::kelvin(COLDEST)).unwrap();
            wall.times = wall.times.map(|t| 0.05 * t);
        }
        let answer = wall.problem.march(&wall.times.map(units::seconds), &Accuracy::default()).unwrap();
        for time in 0..wall.times.len() {
            let mut reported = 0.0_f64;
            for layer in 0..wall.problem.wall().layers().len() {
                for side in [Side::Inner, Side::Outer] {
                    let e = answer.face_temperature(layer, side, time).unwrap();
                    let beyond = (e.value.si() - HOTTEST).max(COLDEST - e.value.si()).max(0.0);
                    // Rounding of a temperature of 368 K.
                    assert!(
                        beyond <= e.error.si() + 1e-12 * HOTTEST,
                        "seed {seed}, jumps {jumps}: {beyond:e} K beyond"
                    );
                    worst = worst.max(beyond / (e.error.si() + 1e-12 * HOTTEST));
                    reported = reported.max(e.error.si());
                }
            }
            // Anywhere in the field, against the largest error of the faces.
            for t in answer.field(time).unwrap() {
                let beyond = (t - HOTTEST).max(COLDEST - t).max(0.0);
                assert!(
                    beyond <= reported + 1e-12 * HOTTEST,
                    "seed {seed}: {beyond:e} K beyond inside, {reported:e} reported"
                );
                most = most.max(beyond);
            }
        }
    }
    println!("overshoot: worst {worst:.2} of the error of its face, at most {most:.1e} K anywhere in a field");
}

fn matrices(problem: &Problem) -> Matrices {
    problem.matrices(&vec![3; problem.wall().layers().len()]).unwrap()
}

/// Heat conductances with the films on the diagonal, and what they bring in, W/K and W.
fn system(m: &Matrices) -> (DMatrix<f64>, DVector<f64>) {
    let n = m.capacity.len();
    let mut k = DMatrix::from_fn(n, n, |i, j| m.conductance[(i, j)]);
    let mut b = DVector::zeros(n);
    for (node, film, around) in [(0, m.film[0], HOTTEST), (n - 1, m.film[1], COLDEST)] {
        assert!(film > 0.0);
        k[(node, node)] += film;
        b[node] += film * around;
    }
    (k, b)
}

#[test]
fn every_wall_makes_an_m_matrix_and_backward_euler_never_overshoots() {
    let mut worst = 0.0_f64;
    let (mut rows, mut overshooting) = (0.0_f64, 0);
    for seed in 1..=1000 {
        let wall = random_wall(seed);
        let m = matrices(&wall.problem);
        let n = m.capacity.len();
        for i in 0..n {
            assert!(m.capacity[i] > 0.0, "seed {seed}");
            let sum: f64 = m.conductance.row(i).sum();
            rows = rows.max(sum.abs() / m.conductance[(i, i)]);
            assert!(sum.abs() <= 4.0 * f64::EPSILON * m.conductance[(i, i)], "seed {seed}, row {i}: {sum:e}");
            for j in 0..n {
                assert_eq!(m.conductance[(i, j)].to_bits(), m.conductance[(j, i)].to_bits(), "seed {seed}");
                assert!(i == j || m.conductance[(i, j)] <= 0.0, "seed {seed}");
                assert!(i.abs_diff(j) == 1 || i == j || m.conductance[(i, j)] == 0.0, "seed {seed}");
            }
        }
        let (k, b) = system(&m);
        let start = DVector::from_fn(n, |i, _| m.start[i]);
        // theta = 1 is backward Euler, 1/2 the trapezoidal rule; how far beyond coldest and hottest, K.
        let beyond = |theta: f64, step: f64| {
            let rate = DMatrix::from_diagonal(&DVector::from_fn(n, |i, _| m.capacity[i] / step));
            let right = &rate * &start - (1.0 - theta) * (&k * &start) + &b;
            let t = (rate + theta * &k).lu().solve(&right).unwrap();
            (t.max() - HOTTEST).max(COLDEST - t.min())
        };
        // The trapezoidal rule does overshoot on these very matrices: the check can fail.
        overshooting += usize::from(beyond(0.5, 1e5) > 0.01 * SWING);
        for exponent in -3..=9 {
            let step = 10.0_f64.powi(exponent);
            let beyond = beyond(1.0, step);
            worst = worst.max(beyond / SWING);
            let holds = beyond <= 1e-12 * SWING;
            assert!(holds, "seed {seed}, step {step} s: {beyond:e} K beyond");
        }
    }
    assert!(overshooting > 500, "{overshooting}");
    println!("1000 walls, 13 steps each: beyond by at most {worst:.1e} of the swing; rows sum to {rows:.1e} at most");
}

/// The exported matrices, solved exactly in time by their eigenmodes, give what the crate marches on the same mesh.
#[test]
fn matrices_are_those_that_are_marched() {
    let (mut worst, mut largest) = (0.0_f64, 0);
    for seed in 1..=60 {
        let wall = random_wall(seed);
        let cells = vec![3; wall.problem.wall().layers().len()];
        let m = matrices(&wall.problem);
        let (k, b) = system(&m);
        let n = m.capacity.len();
        largest = largest.max(n);
        let root: Vec<f64> = m.capacity.iter().map(|c| c.sqrt()).collect();
        let modes = SymmetricEigen::new(DMatrix::from_fn(n, n, |i, j| k[(i, j)] / (root[i] * root[j])));
        let steady = k.clone().lu().solve(&b).unwrap();
        let away = DVector::from_fn(n, |i, _| root[i] * (m.start[i] - steady[i]));
        let shares = modes.eigenvectors.transpose() * away;
        for fraction in [2, 4] {
            let time = wall.times[fraction];
            let fading = DVector::from_fn(n, |i, _| shares[i] * (-modes.eigenvalues[i] * time).exp());
            let exact = &modes.eigenvectors * fading;
            let single = wall.problem.march_single(&[units::seconds(time)], &cells, units::kelvins(1e-5)).unwrap();
            for layer in 0..cells.len() {
                for (side, node) in [(Side::Inner, 0), (Side::Outer, 3)] {
                    let t = single.read(stillhot::conduction::Probe::Face(layer, side), 0).unwrap();
                    // Nodes of a layer: three cells each, one more node where a contact divides two layers.
                    let before: usize = (0..layer)
                        .map(|l| 3 + usize::from(wall.problem.wall().contacts()[l] != stillhot::Contact::Perfect))
                        .sum();
                    let i = before + node;
                    let expected = steady[i] + exact[i] / root[i];
                    worst = worst.max((t - expected).abs() / SWING);
                    let holds = (t - expected).abs() < 1e-4 * SWING;
                    assert!(holds, "seed {seed}, layer {layer}, {side:?}: {t} against {expected}");
                }
            }
        }
    }
    println!("marched against eigenmodes of the matrices, up to {largest} nodes: worst {worst:.1e} of the swing");
}
