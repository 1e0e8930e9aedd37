//! What a forecast says about its own numerical error, against much finer computations.

use stillhot::conduction::{Accuracy, Problem, Side};
use stillhot::units::{
    Si, Time, celsius, hours, joules_per_kelvin, kelvins, millimetres, minutes, watts_per_kelvin,
    watts_per_square_metre_kelvin,
};
use stillhot::{Body, Boundary, Layer, Lid, Options, Plan, Setup, Wall};

use crate::setups::{Case, bestiary, box_round, in_celsius, plain};

/// Four times the cells, steps that may err 200 times less.
fn finely(case: &Case) -> stillhot::Forecast {
    let mut options = Options::horizon(case.horizon);
    options.cells = 24;
    options.step_error = kelvins(1e-4);
    options.steps = 1_000_000;
    case.setup.forecast_with(&case.plan, &options).unwrap_or_else(|e| panic!("{}: {e}", case.name))
}

#[test]
fn the_numerical_error_covers_a_much_finer_run() {
    let cases = bestiary();
    assert!(cases.len() >= 12);
    let mut failures = Vec::new();
    for case in cases {
        let (forecast, fine) = (case.forecast(), finely(&case));
        let mut worst = (0.0, 0.0);
        for time in case.times().into_iter().chain([minutes(1.0), minutes(5.0), minutes(20.0)]) {
            let (row, reference) = (forecast.at(time).unwrap(), fine.at(time).unwrap());
            let off = (row.temperature.best().si() - reference.temperature.best().si()).abs();
            let ratio = (off - reference.numerical.si()).max(0.0) / row.numerical.si();
            if ratio > worst.0 {
                worst = (ratio, time.si());
            }
        }
        println!("{:24} off by {:6.3} of the reported error at worst, at {} s", case.name, worst.0, worst.1);
        if worst.0 > 1.0 {
            failures.push(format!("{}: {:.2} times the reported error at {} s", case.name, worst.0, worst.1));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// The ends carry no numerical error of their own, so it must not be what one notices about them.
#[test]
fn the_ends_of_the_range_are_as_well_computed_as_they_are_printed() {
    let mut failures = Vec::new();
    for case in bestiary() {
        let (forecast, fine) = (case.forecast(), finely(&case));
        for time in case.times().into_iter().chain([minutes(5.0), minutes(20.0)]) {
            let (row, reference) = (forecast.at(time).unwrap().temperature, fine.at(time).unwrap().temperature);
            let width = reference.high().si() - reference.low().si();
            let off =
                (row.low().si() - reference.low().si()).abs().max((row.high().si() - reference.high().si()).abs());
            // A twentieth of the range, or the tenth of a degree that is printed.
            if off > (0.05 * width).max(0.1) {
                failures.push(format!("{} at {} s: {off:.3} K of a range of {width:.2} K", case.name, time.si()));
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// A box with one wall all round is a plane wall of that area with the pot behind it: the conduction product, asked
/// for a millionth, is the reference. Its meshes, steps and updates of k(T) are its own.
#[test]
fn a_box_with_one_wall_is_a_plane_wall() {
    let pot = || {
        let metal = plain("metal", 16.0, 7900.0, 500.0);
        let dish = stillhot::Dish::of(plain("dish", 0.6, 1000.0, 4000.0));
        stillhot::Pot::sized(millimetres(240.0), millimetres(200.0), metal, millimetres(0.8))
            .weighing(stillhot::units::kilograms(1.5))
            .with(dish, stillhot::units::kilograms(8.0))
    };
    let mut failures = Vec::new();
    for (material, thickness) in
        [("rigid-polyisocyanurate-foam-foil-faced", 0.05), ("expanded-polystyrene-20", 0.03), ("sheep-wool-batt", 0.1)]
    {
        let setup: Setup = box_round(pot(), material, 1e3 * thickness, Lid::tight());
        let films = [9.0, 8.0].map(|h| Range::exactly(watts_per_square_metre_kelvin(h)));
        let setup = setup.with_constant_films(films[0], films[1]).unwrap();
        let plan = Plan::in_room(celsius(15.0)).leaving_at(celsius(98.0)).carry(minutes(0.0));
        let forecast = setup.forecast(&plan).unwrap();

        let layer = Layer::of(material, stillhot::units::metres(thickness)).unwrap();
        let wall = Wall::planar().layer(layer).build().unwrap();
        let area = area_with_edges([0.27, 0.27, 0.215], thickness);
        let capacity = (8.0 * 4000.0 + 1.5 * 500.0) / area;
        let body = Body::new(joules_per_kelvin(capacity), celsius(98.0))
            .behind_film(watts_per_square_metre_kelvin(9.0))
            .losing(watts_per_kelvin(0.0), celsius(15.0));
        let outside = Boundary::film(watts_per_square_metre_kelvin(8.0), celsius(15.0));
        let problem = Problem::new(wall, Boundary::Body(body), outside).unwrap().starting_at(celsius(15.0)).unwrap();
        let times: Vec<Time> = [0.25, 1.0, 4.0, 12.0, 24.0, 48.0].map(hours).to_vec();
        let reference = problem.march(&times, &Accuracy::relative(1e-6)).unwrap();
        for (k, time) in times.iter().enumerate() {
            let exact = reference.body_temperature(Side::Inner, k).unwrap();
            let row = forecast.at(*time).unwrap();
            let off = (row.temperature.best().si() - exact.value.si()).abs();
            println!(
                "{material} {:5} h: {:.4} °C, off {off:.1e}, reported {:.1e}",
                time.si() / 3600.0,
                in_celsius(row.temperature.best()),
                row.numerical.si()
            );
            assert!(off < 1e-3 * 83.0, "{material}: {off} K");
            if off > row.numerical.si() + exact.error.si() {
                failures.push(format!("{material} at {} s: off {off:e}, reported {:e}", time.si(), row.numerical.si()));
            }
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}

/// Conductance from pot to room of a box of one constant layer with constant films inside and outside, W/K. Each face
/// passes through its inner film what its wall and its half of four edges take: an edge as a quarter of a cylinder wall
/// whose inner radius makes it pass 1 - (2/pi) ln 2 times k and length between prescribed temperatures (exact), corners
/// as 0.3 psi²/U (fitted to three-dimensional solutions).
pub fn box_conductance(inside: [f64; 3], thickness: f64, k: f64, films: [f64; 2]) -> f64 {
    let [w, d, h] = inside;
    let edge = 1.0 - std::f64::consts::FRAC_2_PI * std::f64::consts::LN_2;
    // ln((r + t)/r) = (pi/2)/edge
    let ratio = (std::f64::consts::FRAC_PI_2 / edge).exp();
    let outer = thickness * ratio / (ratio - 1.0);
    [(w, d), (w, h), (d, h)]
        .iter()
        .map(|(a, b)| {
            let area = a * b;
            let length = 0.5 * (2.0 * (a + b) + 8.0 * 0.1 * edge * thickness);
            let face = area / (thickness / k + 1.0 / films[1]);
            let quarter = std::f64::consts::FRAC_PI_2 * length / (ratio.ln() / k + 1.0 / (films[1] * outer));
            2.0 / (1.0 / (films[0] * area) + 1.0 / (face + quarter))
        })
        .sum()
}
