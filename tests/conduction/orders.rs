//! Observed order of convergence, in space on meshes that double and in time on steps that halve.

use crate::plain::{film, held, layer, problem, slab, temperature_at};
use stillhot::conduction::{Accuracy, Convergence, ConvergenceRow, Probe, Problem, Side};
use stillhot::units::{self, Si};
use stillhot::{Boundary, Contact, Course, Wall, WallBuilder};

/// The last order whose changes stand clear of rounding (1e-11 of a swing of about 100 K, times the number of cells).
fn last_order(rows: &[ConvergenceRow]) -> f64 {
    let clear = |row: &&ConvergenceRow| row.change.is_some_and(|change| change.abs() > 1e-8);
    rows.iter().filter(clear).filter_map(|row| row.order).next_back().unwrap_or(f64::NAN)
}

fn print(title: &str, table: &Convergence) {
    let orders = |rows: &[ConvergenceRow]| {
        rows.iter().map(|r| r.order.map_or("    -".to_owned(), |o| format!("{o:5.2}"))).collect::<Vec<_>>().join(" ")
    };
    println!("{title:62} space {} | time {}", orders(&table.mesh), orders(&table.steps));
}

/// Both orders at least 1.9; rows that never stand clear of rounding fail, too.
fn check(title: &str, problem: &Problem, time: f64, probe: Probe, cells: usize) {
    let mut accuracy = Accuracy::relative(1e-3);
    accuracy.cells = cells;
    let table = problem.convergence(units::seconds(time), probe, &accuracy).unwrap();
    print(title, &table);
    for (what, rows) in [("space", &table.mesh), ("time", &table.steps)] {
        let order = last_order(rows);
        let holds = order >= 1.9;
        assert!(holds, "{title}, {what}: order {order}\n{rows:#?}");
    }
}

fn shapes() -> [(&'static str, WallBuilder); 3] {
    [
        ("plane", Wall::planar()),
        ("cylinder", Wall::cylindrical(units::metres(0.05))),
        ("sphere", Wall::spherical(units::metres(0.05))),
    ]
}

/// The inner face's coordinate.
fn inner(shape: &str) -> f64 {
    if shape == "plane" { 0.0 } else { 0.05 }
}

#[test]
fn after_the_damped_start_of_a_step() {
    for (shape, wall) in shapes() {
        let wall = wall.layer(layer(0.05, 0.035, 30.0, 1450.0)).build().unwrap();
        let problem = problem(wall, held(95.0), film(8.0, 20.0), 20.0);
        check(&format!("{shape}, step at the inner face"), &problem, 900.0, temperature_at(inner(shape) + 0.025), 16);
    }
    for (shape, wall) in
        [("cylinder", Wall::cylindrical(units::metres(0.0))), ("sphere", Wall::spherical(units::metres(0.0)))]
    {
        let wall = wall.layer(layer(0.04, 0.55, 1050.0, 3600.0)).build().unwrap();
        let problem = problem(wall, Boundary::Insulated, film(25.0, 20.0), 85.0);
        for (place, x) in [("centre", 0.0), ("half-way", 0.02), ("face", 0.04)] {
            check(&format!("solid {shape} into a film, {place}"), &problem, 1800.0, temperature_at(x), 16);
        }
    }
}

#[test]
fn with_contacts_and_jumps_of_conductivity() {
    for (shape, wall) in shapes() {
        // Conductivity 0.03 to 300 and back, with a contact on one side of the metal.
        let wall = wall
            .layer(layer(0.02, 0.03, 30.0, 1450.0))
            .layer(layer(0.004, 300.0, 2700.0, 900.0))
            .contact(Contact::Resistance(units::square_metre_kelvins_per_watt(0.02)))
            .layer(layer(0.03, 0.03, 60.0, 1450.0))
            .build()
            .unwrap();
        let problem = problem(wall, film(20.0, 95.0), film(8.0, 20.0), 20.0);
        let probes = [
            ("inner face", Probe::Face(0, Side::Inner)),
            ("inside the metal", Probe::Face(1, Side::Inner)),
            ("behind the contact", Probe::Face(2, Side::Inner)),
            ("outer face", Probe::Face(2, Side::Outer)),
        ];
        for (place, probe) in probes {
            check(&format!("{shape}, k 1 : 10 000, {place}"), &problem, 2400.0, probe, 24);
        }
    }
}

#[test]
fn on_smooth_data() {
    // The first eigenmode of a slab between two held faces.
    let eigenmode = problem(slab(0.04, 0.6, 1000.0, 4000.0), held(20.0), held(20.0), 20.0)
        .starting_from(|x| units::celsius(20.0 + 60.0 * (std::f64::consts::PI * x.si() / 0.04).sin()));
    check("plane, first eigenmode", &eigenmode, 900.0, temperature_at(0.02), 16);
    // A sine that begins from rest: its rate jumps at the start, its value does not.
    let wave = |mean: f64| Course::sine(units::celsius(mean), 30.0, units::hours(4.0), units::seconds(0.0)).unwrap();
    for (shape, wall) in shapes() {
        let wall = wall.layer(layer(0.05, 0.15, 600.0, 1600.0)).build().unwrap();
        let problem = problem(wall, Boundary::temperature(wave(20.0)), film(8.0, 20.0), 20.0);
        check(&format!("{shape}, sine at the inner face"), &problem, 7000.0, temperature_at(inner(shape) + 0.025), 16);
    }
}

/// The table itself tells a first-order sequence from a second-order one: the order is the power of two by which the
/// changes fall.
#[test]
fn the_order_is_that_of_the_changes() {
    let slab = problem(slab(0.05, 0.035, 30.0, 1450.0), held(95.0), held(20.0), 20.0);
    let table = slab.convergence(units::seconds(900.0), temperature_at(0.025), &Accuracy::relative(1e-3)).unwrap();
    for rows in [&table.mesh, &table.steps] {
        for pair in rows.windows(2) {
            assert_eq!(pair[1].count, 2 * pair[0].count);
            assert_eq!(pair[1].change, Some(pair[1].value - pair[0].value));
            if let (Some(before), Some(now), Some(order)) = (pair[0].change, pair[1].change, pair[1].order) {
                assert!((before / now - order.exp2()).abs() < 1e-9 * order.exp2());
            }
        }
    }
}
