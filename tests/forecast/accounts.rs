//! The two tables of heat: every part and every path is in them.

use stillhot::units::{
    Ratio, Si, celsius, hours, joules_per_kelvin, kilograms, litres, metres, millimetres, minutes, square_metres,
};
use stillhot::{
    Companion, Course, Dish, Enclosure, Forecast, Lid, Mechanism, Options, Part, PieceShape, Pieces, Place, Plan, Pot,
    Setup, Sleeve,
};

use crate::limits::{CAPACITY, at_once, exact_box, exact_pot, films, finely};
use crate::setups::in_celsius;

fn sums(forecast: &Forecast) -> (f64, f64) {
    let stored: f64 = forecast.heat_stored().iter().map(|s| s.heat.best().si()).sum();
    let lost: f64 = forecast.heat_by_path().iter().map(|p| p.heat.best().si()).sum();
    (stored, lost)
}

/// 1.5 kg of potatoes of 15 °C boil for half an hour and are in the tables; so is a reheat, also one at the very moment
/// of serving (which comes after it), and also where servings are taken out.
#[test]
fn the_tables_hold_everything() {
    let potatoes = || {
        let potato = Dish::named("potato").unwrap();
        Pieces::new(PieceShape::Sphere(millimetres(45.0)), potato, kilograms(1.5), celsius(15.0))
    };
    let pot = Pot::typical(litres(6.0)).with(Dish::named("broth-thin-soup").unwrap(), kilograms(3.0));
    let pot = pot.with_pieces(potatoes());
    let walls = Enclosure::lined("extruded-polystyrene", millimetres(50.0)).unwrap();
    let walls = walls.inside(metres(0.4), metres(0.3), metres(0.28)).lid(Lid::resting());
    let stone = Companion::new("stone", joules_per_kelvin(2000.0), celsius(150.0), square_metres(0.05));
    let setup = Setup::new(pot, walls).unwrap().with_companion(stone).unwrap();
    let plain = Plan::in_room(celsius(16.0)).simmer(minutes(30.0));
    let reheated = plain.clone().reheat_at(hours(6.0), celsius(90.0));
    for (what, plan) in [
        ("plain", plain.clone()),
        ("reheated", reheated.clone()),
        ("served at the reheat", reheated.clone().serve_after(hours(6.0))),
        ("served out of", reheated.take_out_at(hours(3.0), Ratio::from_si(0.4)).serve_after(hours(9.0))),
    ] {
        let forecast = setup.forecast(&plan).unwrap();
        let (stored, lost) = sums(&forecast);
        let size: f64 = forecast.heat_by_path().iter().map(|p| p.heat.best().si().abs()).sum();
        assert!((stored + lost).abs() < 1e-9 * size, "{what}: {stored} J stored, {lost} J lost of {size} J");
        let stored = forecast.heat_stored();
        let pieces: Vec<_> = stored.iter().filter(|s| s.part == Part::Pieces(0)).collect();
        assert_eq!(pieces.len(), 1, "{what}");
        if what == "served at the reheat" {
            // From 15 °C to near the pot's temperature just before: 3.6 kJ/(kg K) (potato, MEMORY).
            let pot = in_celsius(forecast.at(hours(5.999)).unwrap().temperature.best());
            let expected = 1.5 * 3600.0 * (pot - 15.0);
            assert!((pieces[0].heat.best().si() / expected - 1.0).abs() < 0.1, "{} J, {expected} J", pieces[0].heat);
        }
    }
}

/// A reheat puts in heat capacity times its rise, at its moment, and under its name.
#[test]
fn a_reheat_is_a_row_of_its_own() {
    let setup = films(exact_box(exact_pot(), 0.035, 0.04, [0.25, 0.25, 0.2]), [9.0; 3], [8.0; 3]);
    let plan = at_once(15.0, 90.0).reheat_at(hours(5.0), celsius(97.0));
    let forecast = setup.forecast_with(&plan, &finely(12.0)).unwrap();
    let before = in_celsius(forecast.at(hours(5.0 - 1e-7)).unwrap().temperature.best());
    let expected = CAPACITY * (97.0 - before);
    let between = |from: f64, to: f64| -> f64 {
        let rows = forecast.heat_by_path_between(hours(from), hours(to)).unwrap();
        rows.iter().filter(|p| p.place == Place::Reheat).map(|p| -p.heat.best().si()).sum()
    };
    assert!((between(0.0, 12.0) / expected - 1.0).abs() < 1e-4, "{} J, {expected} J", between(0.0, 12.0));
    assert_eq!((between(0.0, 5.0), between(5.0, 12.0)), (0.0, between(0.0, 12.0)));
    assert_eq!(between(5.0, 5.0 + 1e-3), between(0.0, 12.0));
    let row = *forecast.heat_by_path().iter().find(|p| p.place == Place::Reheat).unwrap();
    assert_eq!(
        (row.mechanism, format!("{}, {}", row.place, row.mechanism)),
        (Mechanism::Heating, "reheating, heating".into())
    );
    let (stored, lost) = sums(&forecast);
    assert!((stored + lost).abs() < 1e-9 * expected, "{stored} J, {lost} J");
    // Without one there is no such row.
    let none = setup.forecast_with(&at_once(15.0, 90.0), &Options::horizon(hours(12.0))).unwrap();
    assert!(none.heat_by_path().iter().all(|p| p.place != Place::Reheat));
}

/// On a stove that hardly lets its pot cool, pieces of any size and warmth: the account closes as it does elsewhere, against
/// what has moved since and a millionth of what is stored.
#[test]
fn pieces_on_the_stove_balance() {
    let mut worst = 0.0_f64;
    for (pot, liquid) in [(1.0, 0.5), (40.0, 30.0)] {
        for (mass, size, start) in [
            (0.003, 1.0, 99.9),
            (0.02, 5.0, 60.0),
            (0.1, 40.0, 99.999),
            (0.3, 20.0, 99.0),
            (0.4, 40.0, -0.5),
            (0.4, 1.0, 15.0),
        ] {
            for minutes_on in [0.5, 10.0, 600.0] {
                let potato = Dish::named("potato").unwrap();
                let pieces =
                    Pieces::new(PieceShape::Sphere(millimetres(size)), potato, kilograms(mass), celsius(start));
                let pot = Pot::typical(litres(pot)).with(Dish::named("broth-thin-soup").unwrap(), kilograms(liquid));
                let pot = pot.with_pieces(pieces);
                let walls = Enclosure::lined("extruded-polystyrene", millimetres(50.0)).unwrap();
                let walls = walls.around(&pot, millimetres(20.0)).lid(Lid::tight());
                let plan = Plan::in_room(celsius(16.0)).simmer(minutes(minutes_on));
                let plan = plan.reheat_at(hours(1.0), celsius(97.0)).reheat_at(hours(2.0), celsius(97.0));
                let options = Options::horizon(hours(4.0));
                let forecast = Setup::new(pot, walls).unwrap().forecast_with(&plan, &options).unwrap();
                worst = worst.max(forecast.ledger_residual());
            }
        }
    }
    assert!(worst < 1e-11, "{worst:e}");
}

/// Walls of nothing but foil, down to the thinnest that is accepted, pass a thousand million times more than they take up: the
/// account closes all the same, in a box and in a sleeve, in a room that swings and one that falls.
#[test]
fn walls_of_bare_foil_balance() {
    let pot = || Pot::typical(litres(7.0)).with(Dish::named("water-liquid").unwrap(), kilograms(2.0));
    let falling = Course::table(&[(hours(0.0), celsius(4.0)), (hours(0.18), celsius(-9.5))]).unwrap();
    let plans = [Plan::in_room(celsius(16.0)), Plan::in_room(falling)];
    let mut worst = 0.0_f64;
    for thickness in [0.001, 0.005, 0.015, 0.1, 1.0] {
        let walls = Enclosure::lined("aluminium-foil", millimetres(thickness)).unwrap();
        let sleeve = Sleeve::of_mat("aluminium-foil", millimetres(thickness), 1).unwrap();
        for setup in [Setup::new(pot(), walls).unwrap(), Setup::new(pot(), sleeve).unwrap()] {
            for plan in &plans {
                let forecast = setup.forecast_with(plan, &Options::horizon(hours(12.0))).unwrap();
                worst = worst.max(forecast.ledger_residual());
            }
        }
    }
    assert!(worst < 1e-11, "{worst:e}");
}
