//! A logged room temperature enters by its exact mean over each step, however long the step.

use stillhot::conduction::{Accuracy, Probe, Problem, Side};
use stillhot::units;
use stillhot::{Body, Boundary, Course, Layer, Material, Wall};

fn pot_behind(room: Course<units::Temperature>) -> Problem {
    let foam = Material::custom(
        "foam",
        units::watts_per_metre_kelvin(0.035),
        units::kilograms_per_cubic_metre(30.0),
        units::joules_per_kilogram_kelvin(1450.0),
    )
    .unwrap();
    let wall = Wall::planar().layer(Layer::new(foam, units::millimetres(40.0)).unwrap()).build().unwrap();
    let pot = Body::new(units::joules_per_kelvin(60_000.0), units::celsius(95.0));
    let outside = Boundary::film(units::watts_per_square_metre_kelvin(8.0), room);
    Problem::new(wall, Boundary::Body(pot), outside).unwrap()
}

#[test]
fn a_fast_zigzag_about_a_mean_acts_like_the_mean() {
    // Up and down by 10 K every minute for six hours: 360 corners. Linear conduction sees the mean, but for the ripple
    // that the wall lets through (a thousandth of a kelvin at the pot).
    let corners: Vec<_> = (0..=360)
        .map(|i| (units::minutes(f64::from(i)), units::celsius(if i % 2 == 0 { 10.0 } else { 30.0 })))
        .collect();
    let times = [units::hours(2.0), units::hours(6.0)];
    let logged = pot_behind(Course::table(&corners).unwrap()).march(&times, &Accuracy::relative(1e-3)).unwrap();
    let mean = pot_behind(units::celsius(20.0).into()).march(&times, &Accuracy::default()).unwrap();
    for k in 0..2 {
        let a = logged.read(Probe::Body(Side::Inner), k).unwrap();
        let b = mean.read(Probe::Body(Side::Inner), k).unwrap();
        println!("{} against {} K, {} steps in all marches", a.value, b.value, logged.statistics().steps);
        assert!((a.value - b.value).abs() < 2e-3 + a.error + b.error, "{a:?} {b:?}");
        assert!(logged.ledger_residual() < 1e-9);
    }
}
