//! W1 of the benchmarks, held to its exact answer: the march, and the closed form that shares nothing with it.

#[path = "../benches/cases/w1.rs"]
mod w1;

use stillhot::closed_form::{End, LayeredWall, Side as Face, Solid, StirredBody, WallLayer, WallShape};
use stillhot::conduction::{Accuracy, Side};
use stillhot::units::{Si, hours};

/// When the pot passes 75 °C, h. COMPUTED as the hourly values were.
const CROSSING: f64 = 16.883_0;

#[test]
fn hourly_temperatures_at_default_accuracy() {
    let answer = w1::problem().unwrap().march(&w1::times(), &Accuracy::default()).unwrap();
    let (off, reported) = w1::errors(&answer).unwrap();
    println!("off {off:.2e} K, reported {reported:.2e} K, {:?}", answer.statistics());
    assert!(off < w1::TARGET, "off by {off:e} K");
    assert!(off < reported, "off by {off:e} K, reported {reported:e} K");
    assert!(off < 1e-6 && reported < 1e-4, "the README says so");
    assert!(answer.ledger_residual() < 1e-9);
}

#[test]
fn hourly_temperatures_when_a_millionth_is_asked_for() {
    let answer = w1::problem().unwrap().march(&w1::times(), &Accuracy::relative(1e-6)).unwrap();
    let (off, reported) = w1::errors(&answer).unwrap();
    println!("off {off:.2e} K, reported {reported:.2e} K, {:?}", answer.statistics());
    // A millionth of the swing from 15 to 98 °C.
    assert!(off < 83e-6, "off by {off:e} K");
    assert!(off < reported, "off by {off:e} K, reported {reported:e} K");
}

#[test]
fn seventy_five_degrees_are_passed_on_time() {
    let answer = w1::problem().unwrap().march(&[hours(CROSSING)], &Accuracy::default()).unwrap();
    let pot = answer.body_temperature(Side::Inner, 0).unwrap();
    let off = (pot.value.si() - 273.15 - 75.0).abs();
    assert!(off < w1::TARGET, "off by {off:e} K");
}

#[test]
fn the_closed_form_gives_the_same_hours() {
    let layers = w1::LAYERS.into_iter().enumerate().map(|(i, (_, thickness, k, density, c))| {
        let layer = WallLayer::new(thickness * 1e-3, Solid::new(k, density, c).unwrap()).unwrap();
        if i == 0 { layer.with_outer_contact(w1::CONTACT).unwrap() } else { layer }
    });
    let pot = End::WellStirred(StirredBody::new(w1::POT, 98.0).with_film(10.0));
    let outside = End::Film { coefficient: 8.0, temperature: 15.0 };
    let wall = LayeredWall::new(WallShape::Plane, layers.collect(), 20.0, pot, outside).unwrap();
    let at = |hour: f64| wall.fluid_temperature(Face::Inner, hour * 3600.0).unwrap();
    for (hour, exact) in (1..).zip(w1::HOURLY) {
        // Half the last printed digit.
        assert!((at(f64::from(hour)) - exact).abs() < 5e-8, "{hour} h: {}", at(f64::from(hour)));
    }
    // The time is printed to 1e-4 h; the pot loses 1.2 K an hour by then.
    assert!((at(CROSSING) - 75.0).abs() < 1e-4, "{}", at(CROSSING));
}
