//! The exported matrices, solved by another crate's dense algebra, give the section's own answer.

use super::cases::{at, fill, junctions};
use nalgebra::{DMatrix, DVector};
use stillhot::conduction::{SectionAccuracy, SectionMatrices, SectionProblem};
use stillhot::units::{
    Si, celsius, joules_per_kelvin, seconds, square_metre_kelvins_per_watt, watts_per_cubic_metre, watts_per_kelvin,
    watts_per_square_metre, watts_per_square_metre_kelvin,
};
use stillhot::{Body, Boundary, Contact, Line, Section, Shape};

/// K as a dense matrix.
fn dense(system: &SectionMatrices) -> DMatrix<f64> {
    let n = system.capacity.len();
    let mut k = DMatrix::zeros(n, n);
    for (row, column, g) in &system.conductance {
        assert_eq!(k[(*row, *column)], 0.0, "an entry twice");
        k[(*row, *column)] = *g;
    }
    assert!((&k - k.transpose()).amax() == 0.0);
    assert!(k.column_sum().amax() < 1e-12 * k.amax());
    k
}

/// The node at a place: the first of those that share it.
fn node_at(system: &SectionMatrices, x: f64, y: f64) -> usize {
    let near = |row: &usize| (system.position[(*row, 0)] - x).hypot(system.position[(*row, 1)] - y) < 1e-9;
    (0..system.position.nrows()).find(near).unwrap()
}

#[test]
fn a_steady_state_by_dense_elimination_is_the_sections_own() {
    // A plain and a filled corner, a lid on a gap, a grain: rectangles and slanted lines, films at all ports.
    for case in junctions().into_iter().filter(|c| ["A1", "A2", "A6-gap", "A7"].contains(&c.id.as_str())) {
        let problem = case.problem(false);
        let cells = problem.lines().map(|lines| vec![1; lines.len() - 1]);
        let steady = problem.steady_on([&cells[0], &cells[1]]).unwrap();
        let fine = cells.map(|c| c.iter().map(|n| 4 * n).collect::<Vec<_>>());
        let system = problem.matrices_on([&fine[0], &fine[1]]).unwrap();
        let (nodes, k) = (system.position.nrows(), dense(&system));
        assert_eq!(system.ports.iter().map(|p| p.part.as_str()).collect::<Vec<_>>(), ["inside", "outside"]);
        let ports = DVector::from_fn(system.ports.len(), |p, _| system.start[system.ports[p].row]);
        assert!(ports[0] > ports[1] + 80.0);
        let inside = k.view((0, 0), (nodes, nodes)).clone_owned();
        let t = inside.cholesky().unwrap().solve(&(-k.view((0, nodes), (nodes, ports.len())) * &ports));
        let field = steady.field();
        let mut compared = 0;
        for ((i, j), own) in field.temperature.indexed_iter() {
            let Some(own) = own else { continue };
            let node = node_at(&system, field.first[i], field.second[j]);
            assert!((own - t[node]).abs() < 1e-9, "{}: {own} {}", case.id, t[node]);
            compared += 1;
        }
        assert_eq!(compared, nodes, "{}", case.id);
        // Heat out of the port, by its row.
        let all = DVector::from_iterator(nodes + 2, t.iter().chain(ports.iter()).copied());
        let given = (&k * all)[nodes];
        let own = steady.heat("inside").unwrap();
        assert!((own.value - given).abs() <= own.mesh_error, "{}: {own:?} {given}", case.id);
    }
}

/// Temperatures of all nodes, then of the pot, by the exact modes of the system.
fn by_modes(system: &SectionMatrices, times: &[f64]) -> Vec<DVector<f64>> {
    let (nodes, k) = (system.position.nrows(), dense(system));
    assert_eq!(system.ports.iter().map(|p| p.part.as_str()).collect::<Vec<_>>(), ["pot", "room", "floor"]);
    let [pot, room, floor] = [0, 1, 2].map(|port| &system.ports[port]);
    assert!(room.body.is_none() && floor.body.is_none());
    let body = pot.body.as_ref().unwrap();
    let (loss, to) = body.loss().unwrap();
    // The pot marches with the nodes; room and floor are given.
    let free: Vec<usize> = (0..nodes).chain([pot.row]).collect();
    let capacity = |i: usize| system.capacity[i] + if i == pot.row { body.capacity().si() } else { 0.0 };
    let given = |row: usize| [room, floor].iter().map(|p| k[(row, p.row)] * system.start[p.row]).sum::<f64>();
    let mut b = DVector::from_fn(free.len(), |i, _| system.released[free[i]] - given(free[i]));
    let mut a = DMatrix::from_fn(free.len(), free.len(), |i, j| k[(free[i], free[j])]);
    a[(nodes, nodes)] += loss.si();
    b[nodes] += loss.si() * to.at(seconds(0.0)).si();
    // C^-1/2 K C^-1/2 = Q diag(rates) Q^T.
    let root = DVector::from_fn(free.len(), |i, _| capacity(free[i]).sqrt());
    let modes = DMatrix::from_fn(free.len(), free.len(), |i, j| a[(i, j)] / (root[i] * root[j])).symmetric_eigen();
    let settled = a.cholesky().unwrap().solve(&b);
    let start = DVector::from_fn(free.len(), |i, _| system.start[free[i]]);
    assert_eq!(start[nodes], 95.0 + 273.15);
    let weights = modes.eigenvectors.transpose() * (&start - &settled).component_mul(&root);
    let at = |time: &f64| {
        let faded = DVector::from_fn(weights.len(), |m, _| weights[m] * (-modes.eigenvalues[m] * time).exp());
        &settled + (&modes.eigenvectors * faded).component_div(&root)
    };
    times.iter().map(at).collect()
}

#[test]
fn a_march_by_exact_modes_of_the_matrices_is_the_sections_own() {
    // Two fills with a joint between, a body with a loss of its own behind a film, heat released and brought, a held edge.
    let (w, h) = (0.05, 0.03);
    let [light, heavy] = [fill("light", [0.04, 0.04], 40.0, 1400.0), fill("heavy", [0.12, 0.24], 560.0, 1600.0)];
    let joint = Contact::Resistance(square_metre_kelvins_per_watt(0.03));
    let side = |name: &str| match name {
        "pot" => Line::straight(at(0.0, 0.0), at(0.0, h)),
        "room" => Line::straight(at(w, 0.0), at(w, h)),
        "sun" => Line::straight(at(0.0, h), at(w, h)),
        _ => Line::straight(at(0.03, 0.0), at(w, 0.0)),
    };
    let mut section = Section::plane(at(0.0, 0.0), at(w, h))
        .background(heavy)
        .lay(Shape::rectangle(at(0.0, 0.0), at(0.02, h)), light.clone())
        .contact("joint", &[Line::straight(at(0.02, 0.0), at(0.02, h))], joint);
    for part in ["pot", "room", "sun", "floor"] {
        section = section.part(part, &[side(part)]);
    }
    let film = watts_per_square_metre_kelvin(9.0);
    let pot = Body::new(joules_per_kelvin(800.0), celsius(95.0))
        .behind_film(film)
        .losing(watts_per_kelvin(0.02), celsius(15.0));
    let problem = SectionProblem::new(section.build().unwrap())
        .with("pot", Boundary::Body(pot))
        .and_then(|p| p.with("room", Boundary::film(film, celsius(10.0))))
        .and_then(|p| p.with("sun", Boundary::flux(watts_per_square_metre(40.0))))
        .and_then(|p| p.with("floor", Boundary::temperature(celsius(30.0))))
        .and_then(|p| p.with_source(stillhot::conduction::SectionSource::in_fill(light, watts_per_cubic_metre(2000.0))))
        .and_then(|p| p.starting_at(celsius(20.0)))
        .unwrap();
    let cells = problem.lines().map(|lines| vec![1; lines.len() - 1]);
    let times = [60.0, 600.0, 3600.0];
    let accuracy = SectionAccuracy::relative(1e-7);
    let own = problem.march_on(&times.map(seconds), [&cells[0], &cells[1]], &accuracy).unwrap();

    let on = |parts: usize| {
        let fine = cells.each_ref().map(|c| c.iter().map(|n| parts * n).collect::<Vec<_>>());
        problem.matrices_on([&fine[0], &fine[1]]).unwrap()
    };
    let (half, system) = (on(2), on(4));
    let (coarser, exact) = (by_modes(&half, &times), by_modes(&system, &times));
    for (index, (t, coarser)) in exact.iter().zip(coarser).enumerate() {
        let reported = own.body("pot", index).unwrap();
        let off = (reported.value.si() - t[t.len() - 1]).abs();
        // The answer lies beyond the finest mesh by less than the last refinement changed.
        let admitted = (t[t.len() - 1] - coarser[coarser.len() - 1]).abs() + reported.time_error.si();
        assert!(off <= admitted, "{off:e} {admitted:e} {reported:?}");
        let field = own.field(index).unwrap();
        let mut worst = 0.0_f64;
        for ((i, j), temperature) in field.temperature.indexed_iter() {
            let on_joint = (field.first[i] - 0.02).abs() < 1e-9;
            let held = field.second[j] == 0.0 && field.first[i] > 0.03 - 1e-9;
            if let (Some(temperature), false) = (temperature, on_joint || held) {
                worst = worst.max((temperature - t[node_at(&system, field.first[i], field.second[j])]).abs());
            }
        }
        println!("{} s: field off {worst:.1e} K, pot {off:.1e} K of {admitted:.1e} K", times[index]);
        assert!(worst < 3e-3, "{worst:e}");
    }
}

#[test]
fn a_graded_mesh_is_exported_too_and_nonsense_is_refused() {
    let problem = junctions().into_iter().find(|c| c.id == "A1").unwrap().problem(false);
    let system = problem.matrices(12).unwrap();
    let (k, nodes) = (dense(&system), system.position.nrows());
    assert!(nodes < problem.matrices(24).unwrap().position.nrows());
    // Finer towards the inner corner than far from it.
    let row: Vec<f64> =
        (0..nodes).filter(|n| system.position[(*n, 1)] == 0.0).map(|n| system.position[(n, 0)]).collect();
    let step = |from: f64| row.iter().filter(|x| **x > from + 1e-12).fold(f64::INFINITY, |s, x| s.min(x - from));
    assert!(3.0 * step(0.0) < row.windows(2).map(|w| w[1] - w[0]).fold(0.0, f64::max), "{row:?}");
    assert!(k.view((0, 0), (nodes, nodes)).clone_owned().cholesky().is_some());
    for wrong in [0, 1, 10_001] {
        assert!(problem.matrices(wrong).unwrap_err().to_string().contains("cells"));
    }
    assert!(problem.matrices_on([&[1], &[1]]).is_err());
}
