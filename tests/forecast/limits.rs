//! Limits that can be worked out on paper.

use stillhot::units::{Si, celsius, hours, kilograms, metres, millimetres, minutes};
use stillhot::{Dish, Enclosure, Held, Layer, Lid, Mechanism, Options, Place, Plan, Pot, Setup, Sleeve, Wall};

use crate::claims::area_with_edges;
use crate::setups::{in_celsius, plain};

/// 3 kg of 4000 J/(kg K) in 0.5 kg of 500 J/(kg K): all exact.
const CAPACITY: f64 = 3.0 * 4000.0 + 0.5 * 500.0;
const DIAMETER: f64 = 0.2;
const HEIGHT: f64 = 0.15;

fn exact_pot() -> Pot {
    let metal = plain("metal", 16.0, 7900.0, 500.0);
    Pot::sized(metres(DIAMETER), metres(HEIGHT), metal, millimetres(0.5))
        .weighing(kilograms(0.5))
        .with(Dish::of(plain("dish", 0.6, 1000.0, 4000.0)), kilograms(3.0))
}

/// The films a forecast assumes, W/(m² K), as [`Setup::assumptions`] prints them: cautious, best, generous.
const INSIDE: [f64; 3] = [12.0, 9.0, 6.0];
const OUTSIDE: [f64; 3] = [10.0, 8.0, 6.0];
const BARE: [f64; 3] = [18.0, 13.0, 10.0];

#[test]
fn the_films_used_here_are_the_ones_assumed() {
    let wall =
        Wall::planar().layer(Layer::new(plain("wall", 0.03, 0.05, 50.0), metres(0.01)).unwrap()).build().unwrap();
    let setup = Setup::new(exact_pot(), Enclosure::of_wall(wall)).unwrap();
    let all = setup.assumptions(&Plan::in_room(celsius(20.0))).unwrap();
    for (about, values) in [("pot and liner", INSIDE), ("outside in still air", OUTSIDE), ("bare lidded pot", BARE)] {
        let found = all.iter().find(|a| a.subject.contains(about)).unwrap_or_else(|| panic!("{about} is not said"));
        let [high, best, low] = values;
        let expected = format!("{low} W/(m² K) to {high} W/(m² K) (best {best} W/(m² K))");
        assert_eq!(found.value.replace("m2", "m²"), expected, "{about}");
    }
}

/// A wall that stores nothing leaves one time constant: heat capacity over conductance. Exact for all three members.
#[test]
fn a_box_that_stores_nothing_cools_with_one_time_constant() {
    let (k, thickness, room, start) = (0.03, 0.012, 18.0, 96.0);
    let weightless = plain("wall", k, 0.05, 50.0);
    let wall = Wall::planar().layer(Layer::new(weightless, metres(thickness)).unwrap()).build().unwrap();
    let walls = Enclosure::of_wall(wall).inside(metres(0.25), metres(0.22), metres(0.2)).lid(Lid::tight());
    let setup = Setup::new(exact_pot(), walls).unwrap();
    let plan = Plan::in_room(celsius(room)).leaving_at(celsius(start)).carry(minutes(0.0));
    let forecast = setup.forecast_with(&plan, &Options::horizon(hours(24.0))).unwrap();
    let area = area_with_edges([0.25, 0.22, 0.2], thickness);
    for h in [0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 24.0] {
        let row = forecast.at(hours(h)).unwrap();
        let members = [row.temperature.low(), row.temperature.best(), row.temperature.high()].map(in_celsius);
        for (member, value) in members.iter().enumerate() {
            let conductance = area / (1.0 / INSIDE[member] + thickness / k + 1.0 / OUTSIDE[member]);
            let expected = room + (start - room) * (-conductance * h * 3600.0 / CAPACITY).exp();
            // The wall's own 0.014 J/K is a millionth; the ends carry the time error of the coarse steps.
            let allowed = if member == 1 { 1e-4 * (start - room) } else { 1e-3 * (start - room) };
            assert!((value - expected).abs() < allowed, "{h} h, member {member}: {value} instead of {expected}");
        }
    }
}

/// The same round a sleeve: side between two cylinders, ends flat, each edge half to side and end.
#[test]
fn a_sleeve_that_stores_nothing_cools_with_one_time_constant() {
    let (k, thickness, gap, room, start) = (0.04, 0.02, 0.002, 10.0, 95.0);
    let layer = Layer::new(plain("mat", k, 0.05, 50.0), metres(thickness)).unwrap();
    let sleeve = Sleeve::of_layers(vec![layer]).with_gap(metres(gap)).lid(Lid::tight());
    let plan = Plan::in_room(celsius(room)).leaving_at(celsius(start)).carry(minutes(0.0));
    let setup = Setup::new(exact_pot(), sleeve).unwrap();
    let forecast = setup.forecast_with(&plan, &Options::horizon(hours(24.0))).unwrap();
    let pi = std::f64::consts::PI;
    let (a, b) = (0.5 * DIAMETER + gap, 0.5 * DIAMETER + gap + thickness);
    let half_edge = 0.5 * (1.0 - std::f64::consts::FRAC_2_PI * std::f64::consts::LN_2) * thickness;
    let length = HEIGHT + 2.0 * gap + 2.0 * half_edge;
    let ends = 2.0 * (pi * a * a + 2.0 * pi * a * half_edge);
    let side = 2.0 * pi * length / (1.0 / (9.0 * a) + (b / a).ln() / k + 1.0 / (8.0 * b));
    let conductance = side + ends / (1.0 / 9.0 + thickness / k + 1.0 / 8.0);
    for h in [0.5, 1.0, 2.0, 4.0, 8.0, 16.0] {
        let value = in_celsius(forecast.at(hours(h)).unwrap().temperature.best());
        let expected = room + (start - room) * (-conductance * h * 3600.0 / CAPACITY).exp();
        assert!((value - expected).abs() < 1e-4 * (start - room), "{h} h: {value} instead of {expected}");
    }
}

/// Walls that let nothing through leave only what is lost while it is carried.
#[test]
fn perfect_walls_lose_only_the_carry() {
    let nothing = plain("nothing", 1e-4, 0.05, 50.0);
    let wall = Wall::planar().layer(Layer::new(nothing, metres(0.05)).unwrap()).build().unwrap();
    let setup = Setup::new(exact_pot(), Enclosure::of_wall(wall).lid(Lid::tight())).unwrap();
    let (room, start, carried) = (20.0, 95.0, 300.0);
    let plan = Plan::in_room(celsius(room)).leaving_at(celsius(start)).carry(minutes(5.0)).serve_after(minutes(30.0));
    let forecast = setup.forecast(&plan).unwrap();
    let pi = std::f64::consts::PI;
    let surface = pi * DIAMETER * HEIGHT + 0.5 * pi * DIAMETER * DIAMETER;
    let row = forecast.at(minutes(0.0)).unwrap();
    let members = [row.temperature.low(), row.temperature.best(), row.temperature.high()].map(in_celsius);
    for (member, value) in members.iter().enumerate() {
        let expected = room + (start - room) * (-BARE[member] * surface * carried / CAPACITY).exp();
        assert!((value - expected).abs() < 1e-3 * (start - room), "member {member}: {value} instead of {expected}");
    }
    let after = in_celsius(forecast.at(minutes(30.0)).unwrap().temperature.best());
    assert!((after - members[1]).abs() < 0.02, "{} at shutting, {after} half an hour later", members[1]);
    let paths = forecast.heat_by_path();
    let carry = paths.iter().find(|p| p.place == Place::Carry && p.mechanism == Mechanism::Film).unwrap();
    let all: f64 = paths.iter().map(|p| p.heat.best().si()).sum();
    assert!(carry.heat.best().si() > 0.995 * all, "{} J of {all} J", carry.heat.best().si());
    let given = CAPACITY * (start - members[1]);
    assert!((carry.heat.best().si() / given - 1.0).abs() < 1e-3, "{} J, {given} J", carry.heat.best().si());
}

#[test]
fn a_threshold_may_be_out_of_reach_on_either_side() {
    let setup = Setup::new(exact_pot(), Enclosure::lined("extruded-polystyrene", millimetres(50.0)).unwrap()).unwrap();
    let plan = Plan::in_room(celsius(20.0));
    let forecast = setup.forecast_with(&plan, &Options::horizon(hours(4.0))).unwrap();
    assert_eq!(forecast.above(celsius(100.5)).unwrap(), Held::NeverReached);
    match forecast.above(celsius(30.0)).unwrap() {
        Held::PastHorizon { horizon, margin } => {
            assert_eq!(horizon, hours(4.0));
            let low = in_celsius(forecast.at(hours(4.0)).unwrap().temperature.low());
            assert!(margin.si() > 0.0 && (margin.si() - (low - 30.0)).abs() < 1e-9, "{} K", margin.si());
        }
        other => panic!("{other:?}"),
    }
    // Between the ends at the horizon: some members cross, others do not.
    let row = forecast.at(hours(4.0)).unwrap().temperature;
    let between = 0.5 * (in_celsius(row.low()) + in_celsius(row.best()));
    match forecast.above(celsius(between)).unwrap() {
        Held::Until { earliest, best, latest, .. } => {
            assert!(earliest.time().is_some() && best.time().is_none() && latest.time().is_none());
        }
        other => panic!("{other:?}"),
    }
    // Room temperature itself is approached and never passed, at any horizon.
    let forecast = setup.forecast_with(&plan, &Options::horizon(hours(24.0 * 7.0))).unwrap();
    assert!(matches!(forecast.above(celsius(19.9)).unwrap(), Held::PastHorizon { .. }));
}
