//! What a plan and a setup can hold beyond pot, box and lid: each feature shows, in its direction, and the accounts close
//! with all of them on.

use stillhot::units::{
    Si, celsius, grams, hours, joules_per_kelvin, kilograms, litres, metres, millimetres, minutes, percent,
    square_metres, watts_per_square_metre_kelvin,
};
use stillhot::{
    Companion, Course, Dish, Enclosure, Fit, Forecast, Handle, Held, Knob, Lid, Material, Mechanism, Options, Part,
    PieceShape, Pieces, Place, Plan, Pot, Range, Setup,
};

use crate::setups::{in_celsius, plain};

fn pot() -> Pot {
    Pot::typical(litres(5.0)).with(Dish::named("broth-thin-soup").unwrap(), kilograms(4.0))
}

fn boards(pot: Pot) -> Setup {
    Setup::new(pot, Enclosure::lined("expanded-polystyrene-30", millimetres(40.0)).unwrap()).unwrap()
}

fn room() -> Plan {
    Plan::in_room(celsius(16.0))
}

fn best(forecast: &Forecast, h: f64) -> f64 {
    in_celsius(forecast.at(hours(h)).unwrap().temperature.best())
}

/// Best hold time above 60 °C, h.
fn held(setup: &Setup, plan: &Plan) -> f64 {
    match setup.forecast(plan).unwrap().above(celsius(60.0)).unwrap() {
        Held::Until { best, .. } => best.time().unwrap().si() / 3600.0,
        other => panic!("{other}"),
    }
}

#[test]
fn accounts_of_heat_and_water_close_with_everything_on() {
    let pieces =
        Pieces::new(PieceShape::Sphere(millimetres(40.0)), Dish::named("potato").unwrap(), grams(600.0), celsius(12.0));
    let strap =
        Handle::new(Material::named("aluminium-pure").unwrap(), millimetres(20.0), millimetres(3.0), metres(0.1));
    let pot = Pot::typical(litres(5.0))
        .with(Dish::named("broth-thin-soup").unwrap(), kilograms(3.0))
        .with_pieces(pieces)
        .with_handle(strap);
    let stone = Companion::new("stone", joules_per_kelvin(1500.0), celsius(120.0), square_metres(0.04));
    let setup = boards(pot).with_companion(stone).unwrap();
    let log = "time [min], room [°C]\n0, 16\n60, 9\n61, 14\n300, 4\n600, 12";
    let plan = Plan::in_room(Course::from_log(log, "cabin.csv").unwrap())
        .under_sky(celsius(-10.0))
        .shell_at(celsius(30.0))
        .simmer(minutes(12.0))
        .carry(minutes(3.0))
        .open_at(hours(2.0), minutes(10.0))
        .take_out_at(hours(3.0), percent(30.0))
        .reheat_at(hours(5.0), celsius(95.0))
        .serve_after(hours(7.0));
    let forecast = setup.forecast(&plan).unwrap();
    println!("heat {:e}, water {:e}", forecast.ledger_residual(), forecast.water_residual());
    assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-9);
    assert!(forecast.water_lost(hours(7.0)).unwrap().unwrap().best().si() > 1e-3);
}

#[test]
fn an_opening_shows_in_the_curve_and_in_the_account() {
    let shut = boards(pot()).forecast(&room()).unwrap();
    let opened = boards(pot()).forecast(&room().open_at(hours(2.0), minutes(10.0))).unwrap();
    assert!((best(&shut, 1.9) - best(&opened, 1.9)).abs() < 0.01);
    let drop = best(&shut, 2.2) - best(&opened, 2.2);
    assert!(drop > 0.5 && drop < 5.0, "{drop} K");
    let during = opened.heat_by_path_between(hours(2.0), hours(2.0) + minutes(10.0)).unwrap();
    assert_eq!(during[0].place, Place::Opening);
    assert!(opened.heat_by_path_between(hours(3.0), hours(4.0)).unwrap().iter().all(|p| p.place != Place::Opening));
}

#[test]
fn a_reheat_brings_the_pot_to_its_temperature_and_a_serving_shortens_the_hold() {
    let forecast = boards(pot()).forecast(&room().reheat_at(hours(5.0), celsius(95.0))).unwrap();
    assert!((best(&forecast, 5.0) - 95.0).abs() < 0.01);
    assert!(best(&forecast, 4.99) < 85.0 && best(&forecast, 5.5) < 95.0);
    assert!(held(&boards(pot()), &room().take_out_at(hours(1.0), percent(50.0))) < held(&boards(pot()), &room()) - 1.0);
}

#[test]
fn hours_by_path_add_up() {
    let forecast = boards(pot()).forecast(&room().carry(minutes(0.0)).serve_after(hours(6.0))).unwrap();
    let sum = |from: f64, to: f64| -> f64 {
        let rows = forecast.heat_by_path_between(hours(from), hours(to)).unwrap();
        rows.iter().map(|p| p.heat.best().si()).sum()
    };
    let hourly: f64 = (0..6).map(|h| sum(f64::from(h), f64::from(h + 1))).sum();
    let all: f64 = forecast.heat_by_path().iter().map(|p| p.heat.best().si()).sum();
    assert!((hourly / sum(0.0, 6.0) - 1.0).abs() < 1e-9 && (hourly / all - 1.0).abs() < 1e-9);
}

#[test]
fn each_feature_moves_the_hold_its_way() {
    let base = held(&boards(pot()), &room());
    let with = |enclosure: Enclosure| held(&Setup::new(pot(), enclosure).unwrap(), &room());
    let lined = || Enclosure::lined("expanded-polystyrene-30", millimetres(40.0)).unwrap();
    let steel = || Material::named("carbon-steel").unwrap();
    let handle = Handle::new(steel(), millimetres(20.0), millimetres(4.0), metres(0.1));
    let rod = Knob::through_lid(steel(), millimetres(10.0), millimetres(20.0));
    for (what, longer, shorter) in [
        ("pressed and resting lid", with(lined().lid(Lid::pressed())), base),
        ("tight and ordinary boards", with(lined().fitted(Fit::Tight)), base),
        ("ordinary and loose boards", base, with(lined().fitted(Fit::Loose))),
        ("without and with a handle", base, held(&boards(pot().with_handle(handle)), &room())),
        ("without and with a rod through the lid", base, held(&boards(pot().with_knob(rod)), &room())),
        ("pre-warmed and cold box", held(&boards(pot()), &room().shell_at(celsius(60.0))), base),
        ("warm and frozen box", base, held(&boards(pot()), &room().shell_at(celsius(-20.0)))),
        ("still air and night sky", base, held(&boards(pot()), &room().under_sky(celsius(-20.0)))),
        ("room that warms, room that cools", held(&boards(pot()), &stepped(30.0)), held(&boards(pot()), &stepped(0.0))),
        (
            "with and without a hot stone",
            held(&boards(pot()).with_companion(stone(200.0)).unwrap(), &room()),
            held(&boards(pot()).with_companion(stone(0.0)).unwrap(), &room()),
        ),
    ] {
        println!("{what}: {longer:.2} h, {shorter:.2} h");
        assert!(longer > shorter + 0.01, "{what}: {longer} h, {shorter} h");
    }
}

fn stepped(later: f64) -> Plan {
    Plan::in_room(Course::steps(&[(hours(0.0), celsius(16.0)), (hours(1.0), celsius(later))]).unwrap())
}

fn stone(start: f64) -> Companion {
    Companion::new("stone", joules_per_kelvin(2000.0), celsius(start), square_metres(0.05))
}

/// Pot metal counts like the same heat capacity of dish, where dish and pot are one.
#[test]
fn metal_is_as_good_as_dish() {
    let exact = |metal_mass: f64, dish_mass: f64| {
        let metal = plain("metal", 16.0, 7900.0, 500.0);
        let pot = Pot::sized(metres(0.2), metres(0.15), metal, millimetres(0.5))
            .weighing(kilograms(metal_mass))
            .with(Dish::of(plain("dish", 0.6, 1000.0, 4000.0)), kilograms(dish_mass));
        let lid = Lid::tight();
        let lined = Enclosure::lined("extruded-polystyrene", millimetres(40.0)).unwrap().lid(lid);
        let film = Range::exactly(watts_per_square_metre_kelvin(5.0));
        let setup = Setup::new(pot, lined).unwrap().with_constant_films(film, film).unwrap();
        setup.forecast(&room()).unwrap()
    };
    let (heavy, light) = (exact(2.5, 3.0), exact(0.5, 3.25));
    for h in [1.0, 6.0, 24.0] {
        assert!((best(&heavy, h) - best(&light, h)).abs() < 1e-6);
    }
}

/// Pieces of a millimetre are liquid.
#[test]
fn small_pieces_are_liquid() {
    let food = || Dish::of(plain("dish", 0.6, 1000.0, 4000.0));
    let pot = |pieces: f64, liquid: f64| {
        let pot = Pot::typical(litres(5.0)).with(food(), kilograms(liquid));
        if pieces == 0.0 {
            return pot;
        }
        let shape = PieceShape::Sphere(millimetres(1.0));
        pot.with_pieces(Pieces::new(shape, food(), kilograms(pieces), celsius(20.0)))
    };
    let forecast = |pot: Pot| {
        let lined = Enclosure::lined("extruded-polystyrene", millimetres(40.0)).unwrap().lid(Lid::tight());
        Setup::new(pot, lined).unwrap().forecast(&room()).unwrap()
    };
    let (pieces, liquid) = (forecast(pot(1.0, 3.0)), forecast(pot(0.0, 4.0)));
    for h in [0.5, 2.0, 8.0] {
        assert!((best(&pieces, h) - best(&liquid, h)).abs() < 2e-3, "{h} h");
        let middle = pieces.middles(hours(h)).unwrap()[0];
        assert!((in_celsius(middle.best()) - best(&pieces, h)).abs() < 0.01);
    }
}

/// A big piece is colder in its middle than the pot when it leaves the stove, and warms in the box.
#[test]
fn the_middle_of_a_large_piece_lags() {
    let joint = Pieces::new(
        PieceShape::Cylinder(millimetres(80.0)),
        Dish::named("lean-beef").unwrap(),
        kilograms(1.0),
        celsius(8.0),
    );
    let pot =
        Pot::typical(litres(6.0)).with(Dish::named("broth-thin-soup").unwrap(), kilograms(3.5)).with_pieces(joint);
    let forecast = boards(pot).forecast(&room().simmer(minutes(20.0))).unwrap();
    let middle = |h: f64| in_celsius(forecast.middles(hours(h)).unwrap()[0].best());
    println!("middle {:.1}, {:.1}, {:.1} °C", middle(0.0), middle(1.0), middle(3.0));
    assert!(middle(0.0) < 40.0 && middle(1.0) > middle(0.0) + 20.0);
    assert!(best(&forecast, 0.0) - middle(0.0) > 40.0);
}

/// Ice holds 0 °C for the heat of melting over the loss: 3 kg of ice, 333.6 kJ/kg (IAPWS, from memory).
#[test]
fn ice_keeps_cold_for_its_heat_of_melting() {
    let pot =
        Pot::typical(litres(9.0)).with(Dish::named("water-liquid").unwrap(), kilograms(6.0)).with_ice(percent(50.0));
    let setup =
        Setup::new(pot, Enclosure::lined("expanded-polystyrene-30", millimetres(50.0)).unwrap().lid(Lid::tight()));
    let plan = Plan::in_room(celsius(25.0)).leaving_at(celsius(0.0)).carry(minutes(0.0));
    let forecast = setup.unwrap().forecast_with(&plan, &Options::horizon(hours(96.0))).unwrap();
    let Held::Until { earliest, best: held, latest, .. } = forecast.below(celsius(1.0)).unwrap() else { panic!() };
    let [earliest, held, latest] = [earliest, held, latest].map(|m| m.time().unwrap().si());
    // The loss while it melts, from the forecast's own account between the second and the twelfth hour.
    let rows = forecast.heat_by_path_between(hours(2.0), hours(12.0)).unwrap();
    let gained: f64 = rows.iter().map(|p| -p.heat.best().si()).sum::<f64>() / 36_000.0;
    let melting = 3.0 * 333.6e3 / gained;
    println!(
        "{:.1} h, {:.1} h by hand; {:.1} to {:.1} h",
        held / 3600.0,
        melting / 3600.0,
        earliest / 3600.0,
        latest / 3600.0
    );
    assert!(earliest < held && held < latest);
    assert!((held / melting - 1.0).abs() < 0.1, "{held} s, {melting} s");
    assert!(forecast.ledger_residual() < 1e-9);
}

#[test]
fn layers_know_how_hot_they_became() {
    let forecast = boards(pot()).forecast(&room()).unwrap();
    let rows = forecast.hottest();
    assert_eq!(rows.len(), 6);
    for row in &rows {
        let t = row.temperature;
        assert!(in_celsius(t.low()) > 60.0 && in_celsius(t.high()) < 100.0, "{} {t}", row.part);
        // Polystyrene: 80 °C long-term.
        assert!((in_celsius(row.limit.unwrap()) - 80.0).abs() < 1e-9);
    }
    // Exceeded where the board meets a pot off the boil; an air gap spares the rest.
    assert!(rows.iter().any(|row| in_celsius(row.temperature.best()) > 80.0));
}

/// Steam from the pot's rim reaches a tight box's liner and comes back as heat of the wall; none is lost.
#[test]
fn vapour_that_condenses_is_not_lost() {
    let fine = stillhot::Range::exactly(millimetres(0.02));
    let lined = Enclosure::lined("extruded-polystyrene", millimetres(40.0)).unwrap();
    let lined = lined.lid(Lid::gasketed().with_gap(fine)).fitted(Fit::Tight);
    let forecast = Setup::new(pot(), lined).unwrap().forecast(&room().serve_after(hours(4.0))).unwrap();
    let lost = forecast.water_lost(hours(4.0)).unwrap().unwrap().best().si();
    let vapour: f64 =
        forecast.heat_by_path().iter().filter(|p| p.mechanism == Mechanism::Vapour).map(|p| p.heat.best().si()).sum();
    println!("{:.2} g left the pot, {vapour:.0} J left the box as vapour", 1e3 * lost);
    // 2.28 MJ/kg at 90 °C: were it all lost it would be this much.
    assert!(lost > 1e-3 && vapour < 0.1 * lost * 2.28e6, "{lost} kg, {vapour} J");
    assert!(forecast.heat_stored().iter().any(|s| s.part == Part::Condensate));
}

/// A fin through the lid of the box, and one that ends under it. Between dish at 90 °C and room at 15 °C a rod of brass
/// (109 W/(m K): the catalogue) 10 mm across through 50 mm, flush with the lid, passes at most 75 K k A/d, and a fifth less by
/// the film of its end: 10 W/(m² K) on 0.8 cm² alone would let through 0.06 W, so that the length outside counts.
#[test]
fn a_knob_takes_heat_through_the_lid_and_hardly_any_under_it() {
    let brass = || Material::named("brass").unwrap();
    let boards = |knob: Option<Knob>| {
        let pot = knob.into_iter().fold(pot(), Pot::with_knob);
        let lined = Enclosure::lined("expanded-polystyrene-30", millimetres(50.0)).unwrap();
        Setup::new(pot, lined).unwrap().forecast(&room()).unwrap()
    };
    let through = |outside: f64| {
        let forecast = boards(Some(Knob::through_lid(brass(), millimetres(10.0), millimetres(outside))));
        assert!(forecast.ledger_residual() < 1e-9);
        let rows = forecast.heat_by_path_between(hours(0.0), hours(1.0)).unwrap();
        let knob = rows.iter().filter(|row| row.place == Place::Knob && row.mechanism == Mechanism::Conduction);
        knob.map(|row| row.heat.best().si()).sum::<f64>() / 3600.0
    };
    let (flush, short, long) = (through(0.0), through(30.0), through(200.0));
    println!("through the lid: flush {flush:.3} W, 30 mm {short:.3} W, 200 mm {long:.3} W");
    let (k, a, p, h) = (109.0, 7.854e-5, 0.031_416, 10.0);
    let by_fin = |outside: f64| {
        let m = f64::sqrt(h * p / (k * a));
        let fin = f64::sqrt(h * p * k * a) * (m * (outside + a / p)).tanh();
        1.0 / (0.05 / (k * a) + 1.0 / fin)
    };
    // Lid and room are 65 to 80 K apart in that hour; the catalogue's brass within a tenth.
    for (watts, outside) in [(flush, 0.0), (short, 0.03), (long, 0.2)] {
        let per_kelvin = by_fin(outside);
        assert!(watts > 60.0 * per_kelvin && watts < 82.0 * per_kelvin, "{watts} W at {per_kelvin} W/K");
    }
    // Under the lid it only helps the air across the gap: a tenth of a watt or two, on 0.045 m² of lid.
    let end = |forecast: &Forecast| forecast.at(hours(12.0)).unwrap().temperature.best().si();
    let (none, under) = (boards(None), boards(Some(Knob::inside(brass(), millimetres(40.0), millimetres(15.0)))));
    println!("after 12 h: {:.3} K colder with a knob under the lid", end(&none) - end(&under));
    assert!(end(&under) < end(&none) && end(&none) - end(&under) < 0.3);
}
