//! Servings that are taken out: the dish goes, in all its parts, and the pot stays.

use stillhot::units::{
    Ratio, Si, celsius, hours, joules_per_kelvin, kilograms, litres, metres, millimetres, minutes, square_metres,
};
use stillhot::{Companion, Dish, Enclosure, Held, Lid, Options, PieceShape, Pieces, Plan, Pot, Setup};

use crate::limits::{at_once, exact_box, exact_pot, filled, films, finely};
use crate::lines::{Lines, Stuff, box_faces};
use crate::setups::{in_celsius, plain};

const WALL: (f64, f64) = (0.035, 0.04);
const INSIDE: [f64; 3] = [0.25, 0.25, 0.2];

/// Conductance of the box by another solver, W/K.
fn conductance() -> f64 {
    let (k, thickness) = WALL;
    let stuff = Stuff { k, heat: 2.5 };
    Lines { stuff, thickness, pot: 1.0, films: [9.0, 8.0], faces: box_faces(INSIDE, thickness) }.conductance()
}

fn boxed(pot: Pot) -> Setup {
    films(exact_box(pot, WALL.0, WALL.1, INSIDE), [9.0; 3], [8.0; 3])
}

fn half() -> Ratio {
    Ratio::from_si(0.5)
}

/// Half of the dish goes and all of the metal stays, so the rate afterwards is that of half the dish with all the metal:
/// here the metal is a third of the whole. With a quarter of the dish in pieces of a millimetre it is the same.
#[test]
fn the_metal_stays_and_pieces_go_with_the_dish() {
    let (room, start) = (15.0, 96.0);
    let (metal, dish) = (8.0 * 500.0, 2.0 * 4000.0);
    let food = || Dish::of(plain("dish", 0.6, 1000.0, 4000.0));
    let beads = Pieces::new(PieceShape::Sphere(millimetres(1.0)), food(), kilograms(0.5), celsius(90.0));
    let plan = at_once(room, start).take_out_at(hours(2.0), half());
    for (what, pot) in [("liquid", filled(8.0, 2.0)), ("with pieces", filled(8.0, 1.5).with_pieces(beads))] {
        let forecast = boxed(pot).forecast_with(&plan, &finely(12.0)).unwrap();
        for h in [1.0, 2.0, 4.0, 8.0, 12.0_f64] {
            let value = in_celsius(forecast.at(hours(h)).unwrap().temperature.best());
            let turns = h.min(2.0) / (metal + dish) + (h - 2.0).max(0.0) / (metal + 0.5 * dish);
            let expected = room + (start - room) * (-conductance() * 3600.0 * turns).exp();
            let off = (value - expected).abs();
            assert!(off < 1e-4 * (start - room), "{what}, {h} h: {value} instead of {expected}");
        }
        assert!(forecast.ledger_residual() < 1e-9);
    }
}

/// While ice melts at 0 °C the box lets in the conductance times the room; half of the ice left needs half the heat.
/// 333.6 kJ/kg and 4190 J/(kg K) (IAPWS, from memory).
#[test]
fn half_of_the_melting_ice_goes_too() {
    let (room, mass, share, hour) = (25.0, 3.0, 0.5, 3600.0);
    let setup = boxed(exact_pot().with_ice(Ratio::from_si(share)));
    let plan = Plan::in_room(celsius(room)).carry(minutes(0.0)).take_out_at(hours(1.0), half());
    let forecast = setup.forecast_with(&plan, &Options::horizon(hours(96.0))).unwrap();
    let power = conductance() * room;
    let melting = hour + 0.5 * (share * mass * 333.6e3 - power * hour) / power;
    let capacity = 0.5 * mass * 4000.0 + 0.5 * 500.0;
    let warming = capacity / conductance() * (room / (room - 4.0)).ln();
    let Held::Until { best, .. } = forecast.below(celsius(4.0)).unwrap() else { panic!("never 4 °C") };
    let seen = best.time().unwrap().si();
    assert!((seen / (melting + warming) - 1.0).abs() < 4e-3, "{seen} s, {melting} s and {warming} s");
    assert!(forecast.ledger_residual() < 1e-9, "{:e}", forecast.ledger_residual());
}

/// The same with published films, a body beside it and a joint that dries it: it must run, and close.
#[test]
fn servings_from_ice_close_their_accounts() {
    let pot = Pot::typical(litres(6.0)).with(Dish::named("water-liquid").unwrap(), kilograms(4.0)).with_ice(half());
    let walls = Enclosure::lined("extruded-polystyrene", millimetres(40.0)).unwrap();
    let walls = walls.inside(metres(0.4), metres(0.3), metres(0.28)).lid(Lid::resting());
    let pack = Companion::new("ice pack", joules_per_kelvin(1500.0), celsius(-18.0), square_metres(0.08));
    let setup = Setup::new(pot, walls).unwrap().with_companion(pack).unwrap();
    let plan = Plan::in_room(celsius(25.0)).take_out_at(hours(1.0), half()).take_out_at(hours(3.0), half());
    let forecast = setup.forecast(&plan).unwrap();
    let (heat, water) = (forecast.ledger_residual(), forecast.water_residual());
    assert!(heat < 1e-9 && water < 1e-9, "heat {heat:e}, water {water:e}");
    for row in forecast.curve(hours(1.0), hours(48.0)).unwrap() {
        let t = row.temperature;
        assert!(in_celsius(t.low()) > -0.3 && in_celsius(t.high()) < 25.1, "{t} at {} s", row.time.si());
    }
    // A serving is no vapour: what has evaporated by then is grams of two kilograms.
    let lost = forecast.water_lost(hours(4.0)).unwrap().unwrap();
    assert!(lost.high().si() < 0.02, "{lost}");
}

/// Heavy wet stew that is part ice: only its water freezes, and what is dry stays as it is when it is far below zero.
#[test]
fn a_dish_that_is_not_all_water_freezes_by_its_water() {
    let food = plain("dish", 0.6, 1000.0, 2500.0);
    let dish = Dish::of(food).with_water_content(Ratio::from_si(0.4));
    let pot = Pot::sized(metres(0.2), metres(0.15), plain("metal", 16.0, 7900.0, 500.0), millimetres(0.5));
    let pot = pot.weighing(kilograms(0.5)).with(dish, kilograms(3.0)).with_ice(Ratio::from_si(0.4));
    // All of its water is ice: in a room of -20 °C it cools by one time constant at once.
    let plan = Plan::in_room(celsius(-20.0)).carry(minutes(0.0));
    let forecast = boxed(pot).forecast_with(&plan, &finely(24.0)).unwrap();
    // 2500 J/(kg K) less 0.4 of the step from water to ice, 4190 to 2050 J/(kg K) (IAPWS, from memory).
    let capacity = 3.0 * (2500.0 - 0.4 * (4190.0 - 2050.0)) + 0.5 * 500.0;
    for h in [1.0, 4.0, 12.0, 24.0] {
        let value = in_celsius(forecast.at(hours(h)).unwrap().temperature.best());
        let expected = -20.0 + (20.0 - 0.05) * (-conductance() * 3600.0 * h / capacity).exp();
        assert!((value - expected).abs() < 2e-3, "{h} h: {value} instead of {expected}");
    }
}

/// A reheat to less than the dish has does nothing, at each end of the range by itself, and no heat is booked for it.
#[test]
fn reheating_cools_nothing() {
    for food in ["broth-thin-soup", "thick-stew"] {
        let setup = crate::setups::box_round(
            crate::setups::pot(5.0, food, 4.0),
            "extruded-polystyrene",
            50.0,
            stillhot::Lid::resting(),
        );
        let plan = stillhot::Plan::in_room(stillhot::units::celsius(15.0));
        let never = setup.forecast(&plan).unwrap();
        let at = stillhot::units::hours(4.0);
        let before = never.at(at).unwrap().temperature;
        for to in [before.low(), before.best(), before.high()].map(|t| crate::setups::in_celsius(t) - 0.5) {
            let forecast = setup.forecast(&plan.clone().reheat_at(at, stillhot::units::celsius(to))).unwrap();
            let after = forecast.at(at).unwrap().temperature;
            for (a, b) in [(before.low(), after.low()), (before.best(), after.best()), (before.high(), after.high())] {
                let [a, b] = [a, b].map(crate::setups::in_celsius);
                assert!((b - a.max(to)).abs() < 0.02, "{food} to {to} °C: {before}, {after}");
            }
            let put_in = forecast.heat_by_path().into_iter().find(|row| row.place == stillhot::Place::Reheat);
            let best = put_in.map_or(0.0, |row| stillhot::units::Si::si(row.heat.best()));
            assert!(if crate::setups::in_celsius(before.best()) > to { best == 0.0 } else { best < 0.0 }, "{best} J");
            assert!(forecast.ledger_residual() < 1e-9);
        }
    }
}
