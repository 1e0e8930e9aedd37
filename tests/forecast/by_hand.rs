//! The default box, as an engineer would check it on the back of an envelope.

use stillhot::units::{Si, celsius, hours, kilograms, litres, millimetres};
use stillhot::{Dish, Enclosure, Lid, Mechanism, Plan, Pot, Setup};

use crate::setups::in_celsius;

/// k of foil-faced rigid polyisocyanurate foam, W/(m K), by the catalogue's table (MEMORY, see there), by hand: the
/// mean between two surface temperatures is, near enough, the value at their mean.
fn foam(mean: f64) -> f64 {
    let (below, above) = if mean < 40.0 { ((20.0, 0.0240), (40.0, 0.0262)) } else { ((40.0, 0.0262), (60.0, 0.0287)) };
    below.1 + (above.1 - below.1) * (mean - below.0) / (above.0 - below.0)
}

/// Nine litres, 8.5 kg of water, 50 mm of foam, 15 mm of room round the pot, resting lid, room 15 °C.
#[test]
fn the_late_slope_of_the_default_box() {
    let room = 15.0;
    let pot = Pot::typical(litres(9.0)).with(Dish::named("water-liquid").unwrap(), kilograms(8.5));
    let walls = Enclosure::lined("rigid-polyisocyanurate-foam-foil-faced", millimetres(50.0)).unwrap();
    let setup = Setup::new(pot.clone(), walls.around(&pot, millimetres(15.0)).lid(Lid::resting())).unwrap();
    let forecast = setup.forecast(&Plan::in_room(celsius(room))).unwrap();

    // The pot: 0.8 times as high as wide, so 0.2 pi d³ = 9 l.
    let pi = std::f64::consts::PI;
    let d = (0.009_f64 / (0.2 * pi)).cbrt();
    let (across, up) = (d + 0.03, 0.8 * d + 0.015);
    assert!((d - 0.2429).abs() < 1e-4);
    // Faces and edges, m²: 0.559 of the thickness for each metre of edge, a little for the corners.
    let area = 2.0 * across * across + 4.0 * across * up;
    let edges = 0.559 * 0.05 * (8.0 * across + 4.0 * up) + 8.0 * 0.3 * (0.559_f64 * 0.05).powi(2);
    // 0.06 W/K for a joint of 1.2 m.
    let leak = 0.06 * 4.0 * across / 1.2;

    for h in [8.0, 14.0, 20.0] {
        let at = |t: f64| in_celsius(forecast.at(hours(t)).unwrap().temperature.best());
        let pot = at(h);
        // Surfaces by the shares of the films in R = 1/9 + 0.05/k + 1/8; two rounds are enough.
        let mut k = 0.026;
        for _ in 0..2 {
            let r = 1.0 / 9.0 + 0.05 / k + 1.0 / 8.0;
            let inner = pot - (pot - room) / (9.0 * r);
            let outer = room + (pot - room) / (8.0 * r);
            k = foam(0.5 * (inner + outer));
        }
        let u = 1.0 / (1.0 / 9.0 + 0.05 / k + 1.0 / 8.0);
        let conductance = u * (area + edges) + leak;
        // Water 4.19 kJ/(kg K) hot; steel 0.8 mm over wall, base and lid, 7.9 t/m³, 0.5 kJ/(kg K); a third of the
        // walls' heat (32 kg/m³, 1.47 kJ/(kg K), a straight profile) goes down with the pot.
        let steel = (pi * d * 0.8 * d + 0.5 * pi * d * d) * 0.8e-3 * 7900.0 * 500.0;
        let foam_heat = (area + edges) * 0.05 * 32.0 * 1470.0;
        let capacity = 8.5 * 4190.0 + steel + foam_heat / 3.0;
        let rate = (at(h - 0.5) - at(h + 0.5)) / 3600.0;
        let seen = rate * capacity / (pot - room);
        println!("{h:4} h: {pot:.2} °C, by hand {conductance:.4} W/K, from the slope {seen:.4} W/K, k {k:.5}");
        assert!((seen / conductance - 1.0).abs() < 0.03, "{h} h: {seen} W/K seen, {conductance} W/K by hand");
    }

    // Shares of the loss: edges to faces as their areas, and the joint as its conductance.
    let heat = |wanted: Mechanism| -> f64 {
        forecast.heat_by_path().iter().filter(|p| p.mechanism == wanted).map(|p| p.heat.best().si()).sum()
    };
    let (faces, edge, joint) = (heat(Mechanism::Conduction), heat(Mechanism::Edge), heat(Mechanism::Leak));
    assert!((edge / faces - edges / area).abs() < 0.01 * edges / area, "{edge} J, {faces} J");
    let share = joint / (faces + edge);
    assert!((share / (leak / (0.487 * (area + edges))) - 1.0).abs() < 0.1, "{share}");
}
