//! Opening box and pot, and stirring: heat is moved, not made, and the open dish steams like a pot without a lid.

use stillhot::units::{
    Energy, Si, celsius, hours, kilograms, litres, metres, millimetres, minutes, seconds, watts_per_kelvin,
};
use stillhot::{Dish, Forecast, Lid, Mechanism, PieceShape, Pieces, Place, Plan, Pot, PotLid, Range, Setup};

use crate::limits::{exact_box, films, finely};
use crate::setups::{box_round, in_celsius, plain, pot};

fn stew_box(dish: &str, lid: PotLid) -> Setup {
    box_round(pot(6.0, dish, 5.0).covered(lid), "extruded-polystyrene", 50.0, Lid::pressed())
}

/// Heat lost while it is open: best values, by mechanism, J.
fn lost_in_the_opening(forecast: &Forecast, mechanism: Mechanism) -> f64 {
    let rows = forecast.heat_by_path();
    let of = rows.iter().filter(|row| (row.place, row.mechanism) == (Place::Opening, mechanism));
    of.map(|row| Energy::si(row.heat.best())).sum()
}

/// A still dish of 12 kJ/K in a pot of 2 kJ/K: afterwards both have the mean of what they had, weighted so, and the edge is
/// as warm as the middle.
#[test]
fn a_still_dish_is_stirred_to_one_temperature() {
    let (mass, metal) = (3.0, 4.0);
    let pot = Pot::sized(metres(0.2), metres(0.15), plain("metal", 16.0, 7900.0, 500.0), millimetres(0.5))
        .weighing(kilograms(metal))
        .with(Dish::of(plain("porridge", 0.5, 1000.0, 4000.0)).still(), kilograms(mass));
    let setup = films(exact_box(pot, 0.035, 0.03, [0.25, 0.25, 0.2]), [9.0; 3], [8.0; 3]);
    let plan = Plan::in_room(celsius(15.0)).leaving_at(celsius(95.0)).carry(minutes(0.0));
    let at = 2.0 * 3600.0;
    let forecast = setup.forecast_with(&plan.stir_at(seconds(at), minutes(1.0)), &finely(4.0)).unwrap();
    let mean = |t: f64| in_celsius(forecast.at(seconds(t)).unwrap().temperature.best());
    let edge = |t: f64| in_celsius(forecast.coldest(seconds(t)).unwrap().temperature.best());
    let middle = |t: f64| in_celsius(forecast.middle_of_dish(seconds(t)).unwrap().unwrap().best());
    let (before, after) = (at - 0.01, at + 0.01);
    assert!(middle(before) > edge(before) + 3.0, "{} in the middle, {} at the edge", middle(before), edge(before));
    let expected = (4000.0 * mass * mean(before) + 500.0 * metal * edge(before)) / (4000.0 * mass + 500.0 * metal);
    for seen in [mean(after), edge(after), middle(after)] {
        assert!((seen - expected).abs() < 2e-3, "{seen} °C instead of {expected} °C");
    }
    // It stands still again.
    assert!(middle(at + 3600.0) > edge(at + 3600.0) + 1.0);
    assert!(forecast.ledger_residual() < 1e-9, "{:e}", forecast.ledger_residual());
}

/// With heat capacities and conductivities that follow temperature, vapour, pieces and a serving: the accounts close, and
/// pieces are as warm inside as they were.
#[test]
fn accounts_close_and_pieces_keep_their_heat() {
    let potatoes = Pieces::new(
        PieceShape::Sphere(millimetres(50.0)),
        Dish::named("potato").unwrap(),
        kilograms(0.8),
        celsius(15.0),
    );
    let pot = pot(6.0, "thick-stew", 3.5).with_pieces(potatoes);
    let setup = box_round(pot, "extruded-polystyrene", 50.0, Lid::pressed());
    let at = 5400.0;
    let plan = Plan::in_room(celsius(12.0)).simmer(minutes(10.0)).stir_at(seconds(at), minutes(2.0));
    let plan = plan.take_out_at(hours(3.0), stillhot::units::Ratio::from_si(0.3)).stir_at(hours(3.0), minutes(2.0));
    let forecast = setup.forecast(&plan).unwrap();
    let middle = |t: f64| forecast.middle_at(0, seconds(t)).unwrap().temperature.best().si();
    assert!((middle(at - 0.1) - middle(at + 0.1)).abs() < 0.02);
    println!("heat {:e}, water {:e}", forecast.ledger_residual(), forecast.water_residual());
    assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-9);
}

#[test]
fn stirring_what_stirs_itself_is_uncovering_it() {
    let setup = stew_box("broth-thin-soup", PotLid::loose());
    let plan = Plan::in_room(celsius(15.0));
    let stirred = setup.forecast(&plan.clone().stir_at(hours(2.0), minutes(3.0))).unwrap();
    let uncovered = setup.forecast(&plan.uncover_at(hours(2.0), minutes(3.0))).unwrap();
    for h in [1.0, 2.5, 8.0] {
        assert_eq!(stirred.at(hours(h)).unwrap().temperature, uncovered.at(hours(h)).unwrap().temperature);
    }
}

/// Ten minutes open after two hours: with its own lid on the dish gives off what passes the rim; without, as much as a
/// pot that never had a lid does while the box is open, at the same temperature and by the same relation.
#[test]
fn an_uncovered_pot_steams_like_one_without_a_lid() {
    let plan = Plan::in_room(celsius(15.0));
    let of = |lid: PotLid, plan: &Plan| stew_box("broth-thin-soup", lid).forecast(plan).unwrap();
    let opened = of(PotLid::loose(), &plan.clone().open_at(hours(2.0), minutes(10.0)));
    let uncovered = of(PotLid::loose(), &plan.clone().uncover_at(hours(2.0), minutes(10.0)));
    // Brought to the temperature that the covered pot has then.
    let there = uncovered.at(hours(2.0)).unwrap().temperature.best();
    let bare = of(PotLid::none(), &plan.clone().reheat_at(hours(2.0), there).open_at(hours(2.0), minutes(10.0)));
    let vapour = |forecast: &Forecast| lost_in_the_opening(forecast, Mechanism::Vapour);
    println!("vapour {:.0}, {:.0}, {:.0} J", vapour(&opened), vapour(&uncovered), vapour(&bare));
    assert!(vapour(&opened) > 0.0 && vapour(&opened) < 0.01 * vapour(&uncovered));
    assert!((vapour(&uncovered) / vapour(&bare) - 1.0).abs() < 0.03);
    // Some 200 W, a few times what air and radiation take from dish, lid and box.
    let ratio = vapour(&uncovered) / lost_in_the_opening(&uncovered, Mechanism::Film);
    assert!(ratio > 1.0 && ratio < 6.0, "{ratio}");
    let water = |f: &Forecast, h: f64| f.water_lost(hours(h)).unwrap().unwrap().best().si();
    let lost = water(&uncovered, 2.2) - water(&uncovered, 2.0);
    assert!((2.3e6 * lost / vapour(&uncovered) - 1.0).abs() < 0.05, "{lost} kg");
    // It is colder for it, before and after nothing else differs.
    let at = |f: &Forecast, h: f64| f.at(hours(h)).unwrap().temperature.best().si();
    assert!((at(&opened, 2.0) - at(&uncovered, 2.0)).abs() < 1e-3);
    assert!(at(&opened, 3.0) > at(&uncovered, 3.0) + 1.0);
    for forecast in [&opened, &uncovered, &bare] {
        assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-9);
    }
}

/// A leak that was given stands for the joints, not for the open dish.
#[test]
fn a_given_leak_does_not_keep_the_steam_in() {
    let leak = Lid::pressed().leaking(Range::exactly(watts_per_kelvin(0.02)));
    let setup = box_round(pot(6.0, "broth-thin-soup", 5.0), "extruded-polystyrene", 50.0, leak);
    let plan = Plan::in_room(celsius(15.0)).uncover_at(hours(2.0), minutes(10.0));
    let forecast = setup.forecast(&plan).unwrap();
    let through_joints = stew_box("broth-thin-soup", PotLid::loose()).forecast(&plan).unwrap();
    let [given, joints] = [&forecast, &through_joints].map(|f| lost_in_the_opening(f, Mechanism::Vapour));
    assert!((given / joints - 1.0).abs() < 0.05, "{given} and {joints} J");
    assert!(forecast.water_lost(hours(4.0)).unwrap().is_some());
}

/// Pots of every kind may be opened and stirred.
#[test]
fn every_lid_may_be_taken_off() {
    for lid in [PotLid::loose(), PotLid::sealed(), PotLid::none()] {
        for dish in ["broth-thin-soup", "thick-stew"] {
            let plan =
                Plan::in_room(celsius(15.0)).uncover_at(hours(1.0), minutes(2.0)).stir_at(hours(2.0), minutes(1.0));
            let small = Pot::typical(litres(3.0)).with(Dish::named(dish).unwrap(), kilograms(2.0)).covered(lid);
            let forecast = box_round(small, "expanded-cork-board", 40.0, Lid::resting()).forecast(&plan).unwrap();
            assert!(forecast.ledger_residual() < 1e-9, "{dish}: {:e}", forecast.ledger_residual());
        }
    }
}
