//! Dishes that do not stir themselves: their edge is colder than their middle, and it is the edge that counts.

use std::f64::consts::PI;

use stillhot::units::{Ratio, Si, celsius, days, hours, kelvins, kilograms, metres, millimetres, minutes};
use stillhot::{Catalogue, Dish, Held, Lid, Material, Options, PieceShape, Pieces, Plan, Pot, Setup};

use crate::limits::{at_once, exact_box, films};
use crate::lines::{Lines, Stuff, box_faces};
use crate::setups::{box_round, eventful, held, in_celsius, plain, pot};

/// Bessel functions of the first kind by their power series.
fn bessel(order: i32, x: f64) -> f64 {
    let mut term = (0.5 * x).powi(order);
    let mut sum = term;
    for k in 1..40 {
        term *= -0.25 * x * x / (f64::from(k) * f64::from(k + order));
        sum += term;
    }
    sum
}

/// First root and amplitude of a long cylinder or of a slab closed on one side that cools by a film, and what its edge is
/// to its middle (Carslaw and Jaeger).
fn first_term(cylinder: bool, biot: f64) -> (f64, f64, f64) {
    let (mut low, mut high) = (0.0_f64, if cylinder { 2.404 } else { 0.5 * PI - 1e-9 });
    for _ in 0..200 {
        let z = 0.5 * (low + high);
        let over = if cylinder { z * bessel(1, z) - biot * bessel(0, z) } else { z * z.tan() - biot };
        if over < 0.0 { low = z } else { high = z }
    }
    let z = low;
    if cylinder {
        let (j0, j1) = (bessel(0, z), bessel(1, z));
        (z, 2.0 * j1 / (z * (j0 * j0 + j1 * j1)), j0)
    } else {
        (z, 4.0 * z.sin() / (2.0 * z + (2.0 * z).sin()), z.cos())
    }
}

/// Biot number 0.5: 0.9408 and 1.1143 for a cylinder, 0.6533 and 1.0701 for a wall (tables of textbooks, MEMORY).
#[test]
fn first_terms_are_those_of_tables() {
    let (round, flat) = (first_term(true, 0.5), first_term(false, 0.5));
    assert!((round.0 - 0.9408).abs() < 1e-4 && (round.1 - 1.1143).abs() < 1e-4, "{round:?}");
    assert!((flat.0 - 0.6533).abs() < 1e-4 && (flat.1 - 1.0701).abs() < 1e-4, "{flat:?}");
}

/// A deep dish is a cylinder, a shallow one a slab; with a box that stores nothing both have closed forms: where the
/// dish conducts like rubber, like metal, and like nothing known (then it is as good as stirred, to a millionth).
#[test]
fn a_still_dish_cools_as_in_textbooks() {
    let (across, height, thickness, wall_k) = (0.7, 0.7, 0.04, 0.035);
    let (room, start) = (15.0, 95.0);
    let inside = [0.8, 0.8, 0.75];
    let stuff = Stuff { k: wall_k, heat: 2.5 };
    let lines = Lines { stuff, thickness, pot: 1.0, films: [9.0, 8.0], faces: box_faces(inside, thickness) };
    let conductance = lines.conductance();
    let base = 0.25 * PI * across * across;
    for (cylinder, depth) in [(true, 0.6), (false, 0.08)] {
        let mass = 1000.0 * base * depth;
        // Length of the way and area that heat passes: the side, or the base.
        let (way, area) = if cylinder { (0.5 * across, PI * across * depth) } else { (depth, base) };
        for (biot, allowed) in [(0.5, 1e-5), (0.02, 1e-5), (conductance * way / (2000.0 * area), 1e-6)] {
            let k = conductance * way / (area * biot);
            // Side, base and top are ways out, and the dish is computed with the side, or the base, that is worth more.
            let ways = [8.0 / (0.25 * across * across), 12.0 / (depth * depth)];
            let of_dish = k * ways[0].max(0.25 * ways[1]) / (ways[0] + ways[1]);
            let (z, amplitude, edge) = first_term(cylinder, biot);
            // Its metal holds less than a millionth of the deep dish.
            let pot = Pot::sized(metres(across), metres(height), plain("metal", 16.0, 7900.0, 50.0), millimetres(0.5));
            let dish = Dish::of(plain("dish", of_dish, 1000.0, 4000.0));
            let pot = pot.weighing(kilograms(0.01)).with(dish.still(), kilograms(mass));
            let setup = films(exact_box(pot, wall_k, thickness, inside), [9.0; 3], [8.0; 3]);
            let mut options = Options::horizon(days(10.0));
            options.step_error = kelvins(1e-4);
            options.cells = 24;
            options.steps = 1_000_000;
            let forecast = setup.forecast_with(&at_once(room, start), &options).unwrap();
            let time_of = |fourier: f64| fourier * way * way * 4e6 / k;
            // From where the first term stands alone (the second has died to 1e-7 there).
            let early = time_of(if biot < 0.01 { 30.0 } else { 1.2 });
            for t in [early, 2.0 * early, 3.0 * early].into_iter().filter(|t| *t < 10.0 * 86_400.0) {
                let middle = (start - room) * amplitude * (-z * z * t * k / (4e6 * way * way)).exp();
                let row = forecast.coldest(stillhot::units::seconds(t)).unwrap();
                let seen = in_celsius(row.temperature.best()) - room;
                let off = (seen - edge * middle).abs() / (start - room);
                // What the pot's half a joule per kelvin is to the dish.
                let metal = 0.5 / (4000.0 * mass);
                assert!(off < allowed + metal, "cylinder {cylinder}, Bi {biot}, {t} s: off {off:e}");
                let warmest = forecast.middle_of_dish(stillhot::units::seconds(t)).unwrap().unwrap();
                let off = (in_celsius(warmest.best()) - room - middle).abs() / (start - room);
                assert!(off < 1e-3, "cylinder {cylinder}, Bi {biot}, {t} s: middle off {off:e}");
                // The mean gives its heat up by the conductance of the box and the excess of the edge.
                let mean = in_celsius(forecast.at(stillhot::units::seconds(t)).unwrap().temperature.best()) - room;
                let expected = conductance * edge * middle / (4000.0 * mass * z * z * k / (4e6 * way * way));
                let off = (mean - expected).abs() / (start - room);
                assert!(off < 1e-5 + allowed + metal, "cylinder {cylinder}, Bi {biot}, {t} s: mean off {off:e}");
            }
            assert!(forecast.ledger_residual() < 1e-9);
        }
    }
}

#[test]
fn stiff_foods_are_still_and_thin_ones_stirred() {
    let is_still = |id: &str| Dish::named(id).unwrap().is_still();
    for id in ["thick-stew", "lentil-porridge", "rice-cooked", "beans-cooked", "pasta-cooked", "potato"] {
        assert!(is_still(id), "{id}");
    }
    for id in ["water-liquid", "broth-thin-soup", "milk-whole", "vegetable-oil"] {
        assert!(!is_still(id), "{id}");
        assert!(Catalogue::embedded().get(id).is_ok());
    }
    assert!(Dish::of(Material::named("thick-stew").unwrap()).is_still());
    assert!(!Dish::of(plain("own", 0.5, 1000.0, 3600.0)).is_still());
    assert!(!Dish::named("thick-stew").unwrap().stirred().is_still());
}

/// A still stew holds its edge shorter than a stirred one holds the whole: by no more than conduction explains.
#[test]
fn stirring_lengthens_the_hold_at_the_edge() {
    let stew = |dish: Dish| {
        let pot = Pot::typical(stillhot::units::litres(6.0)).with(dish, kilograms(5.0));
        box_round(pot, "extruded-polystyrene", 50.0, Lid::pressed()).forecast(&Plan::in_room(celsius(15.0))).unwrap()
    };
    let named = || Dish::named("thick-stew").unwrap();
    let (still, stirred) = (stew(named()), stew(named().stirred()));
    let Held::Until { earliest, best, latest, .. } = still.coldest_above(celsius(65.0)).unwrap() else { panic!() };
    let (a, b) = ([earliest, best, latest].map(|m| m.time().unwrap().si()), held(&stirred, 65.0));
    // Its mean, which gives heat up by a colder edge, holds longer than the stirred one; at its cautious end, and at the
    // generous end of the edge, it stirs itself (lid and dry wall of a still dish go with the pot, those of a stirred one
    // lag a little: a per cent).
    let mean = held(&still, 65.0);
    assert!((mean[0] / b[0] - 1.0).abs() < 0.01 && mean[1] > b[1] && mean[2] > b[2], "{mean:?} s, {b:?} s");
    assert!((a[2] / b[2] - 1.0).abs() < 0.01, "{a:?} s, {b:?} s");
    assert!(a[0] < b[0] && a[1] < b[1], "{a:?} s still, {b:?} s stirred");
    // a = 0.52/(1030 · 3750) m²/s for a stew with 82 % water (composition model, MEMORY), give or take a fifth.
    let diffusivity = 0.52 / (1030.0 * 3750.0);
    let radius = 0.5 * (0.006_f64 / (0.2 * PI)).cbrt();
    let depth = 5.0 / 1030.0 / (PI * radius * radius);
    // Side, base and top together: mean over edge of a body that cools evenly is its rate over this.
    let ways = 8.0 * diffusivity / (radius * radius) + 12.0 * diffusivity / (depth * depth);
    let rate = |h: f64| {
        let at = |h: f64| in_celsius(still.coldest(hours(h)).unwrap().temperature.best());
        (at(h - 0.5) - at(h + 0.5)) / 3600.0
    };
    // When its edge has come down to 65 °C, its mean excess is 1 + d times that of its edge; it has lost heat by its edge,
    // and so 1 + d times more slowly than the stirred one, which is less far above the edge for that.
    let then = a[1] / 3600.0;
    let (first, edge) = (in_celsius(stirred.at(hours(0.0)).unwrap().temperature.best()) - 15.0, 65.0 - 15.0);
    let d = rate(then) / ways / edge;
    let expected = first * (-(1.0 + d) * (first / (edge * (1.0 + d))).ln()).exp() - edge;
    let over = in_celsius(stirred.at(hours(then)).unwrap().temperature.best()) - 65.0;
    println!("{over:.2} K above the edge, {expected:.2} K by hand");
    assert!((over / expected - 1.0).abs() < 0.3, "{over} K above the edge, {expected} K by hand");
    assert!(stirred.middle_of_dish(hours(1.0)).unwrap().is_none());
    for h in [4.0, 8.0, 16.0] {
        let edge = in_celsius(still.coldest(hours(h)).unwrap().temperature.best());
        let middle = in_celsius(still.middle_of_dish(hours(h)).unwrap().unwrap().best());
        // A long cylinder is twice as far above its edge on its axis as in the mean.
        let expected = 2.0 * rate(h) / ways;
        assert!(((middle - edge) / expected - 1.0).abs() < 0.2, "{h} h: {} K, {expected} K by hand", middle - edge);
    }
}

/// Nothing in the dish is ever told to be colder than the coldest spot, and stirring and serving leave the accounts whole.
#[test]
fn the_coldest_spot_is_the_coldest() {
    for case in eventful() {
        let forecast = case.forecast();
        for k in 0..=200 {
            let time = case.horizon * (f64::from(k) / 200.0);
            let (coldest, pot) = (forecast.coldest(time).unwrap(), forecast.at(time).unwrap());
            let spots = forecast.middles(time).unwrap().into_iter().chain(forecast.middle_of_dish(time).unwrap());
            for spot in spots.chain([pot.temperature]) {
                let slack = 1e-9 + coldest.numerical.si() + pot.numerical.si();
                assert!(
                    coldest.temperature.best().si() <= spot.best().si() + slack,
                    "{} at {} s: {coldest:?}, {spot}, {pot:?}",
                    case.name,
                    time.si()
                );
            }
        }
    }
    // Joint and stew start apart: the joint's middle is the coldest first, the edge of the stew in the end.
    let joint = Dish::named("lean-beef").unwrap();
    let joint = Pieces::new(PieceShape::Cylinder(millimetres(60.0)), joint, kilograms(0.8), celsius(8.0));
    let setup = box_round(pot(6.0, "thick-stew", 3.5).with_pieces(joint), "extruded-polystyrene", 50.0, Lid::pressed());
    let forecast = setup.forecast(&Plan::in_room(celsius(16.0)).simmer(minutes(20.0))).unwrap();
    let coldest = |h: f64| in_celsius(forecast.coldest(hours(h)).unwrap().temperature.best());
    let middle = |h: f64| in_celsius(forecast.middles(hours(h)).unwrap()[0].best());
    let mean = |h: f64| in_celsius(forecast.at(hours(h)).unwrap().temperature.best());
    assert!(
        (coldest(0.0) - middle(0.0)).abs() < 0.1 && middle(0.0) < mean(0.0) - 10.0,
        "{} {} {}",
        coldest(0.0),
        middle(0.0),
        mean(0.0)
    );
    assert!(coldest(12.0) < mean(12.0) - 0.5 && coldest(12.0) < middle(12.0) - 0.5);
}

/// Of a still dish half goes with a serving, and all of it is warm after a reheat.
#[test]
fn a_still_dish_is_served_and_reheated() {
    let setup: Setup = box_round(pot(6.0, "thick-stew", 4.5), "extruded-polystyrene", 50.0, Lid::resting());
    let plan =
        Plan::in_room(celsius(15.0)).take_out_at(hours(2.0), Ratio::from_si(0.5)).reheat_at(hours(6.0), celsius(95.0));
    let forecast = setup.forecast_with(&plan, &Options::horizon(hours(24.0))).unwrap();
    assert!(forecast.ledger_residual() < 1e-9 && forecast.water_residual() < 1e-12);
    let spread = |h: f64| {
        let middle = in_celsius(forecast.middle_of_dish(hours(h)).unwrap().unwrap().best());
        (middle, middle - in_celsius(forecast.coldest(hours(h)).unwrap().temperature.best()))
    };
    assert!(spread(5.9).1 > 1.0 && spread(6.0).1.abs() < 1e-6 && (spread(6.0).0 - 95.0).abs() < 1e-6);
    let never = setup.forecast_with(&Plan::in_room(celsius(15.0)), &Options::horizon(hours(24.0))).unwrap();
    // Half of it cools about twice as fast: twice as far below two hours' temperature: a little less as it nears the room, a little more as the edge falls.
    let fallen = |f: &stillhot::Forecast| {
        let at = |h: f64| in_celsius(f.at(hours(h)).unwrap().temperature.best());
        at(2.0) - at(5.5)
    };
    let ratio = fallen(&forecast) / fallen(&never);
    assert!(ratio > 1.5 && ratio < 2.2, "{ratio}");
    // What evaporates is not in it any more: over weeks of drying it still closes.
    let drying = box_round(pot(0.3, "lentil-porridge", 0.1), "corrugated-cardboard", 4.0, Lid::resting());
    let plan = Plan::in_room(celsius(55.0)).leaving_at(celsius(90.0));
    let drying = drying.forecast_with(&plan, &Options::horizon(days(60.0))).unwrap();
    let lost = drying.water_lost(days(60.0)).unwrap().unwrap();
    assert!(lost.high().si() <= 0.078 * (1.0 + 1e-9) && lost.high().si() > 0.07, "{lost}");
    assert!(drying.ledger_residual() < 1e-9 && drying.water_residual() < 1e-12);
}
